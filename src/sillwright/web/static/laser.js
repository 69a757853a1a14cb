// The laser: where it stands, its marks, and the sill under its beam.

import { h } from "./dom.js";
import { askLength } from "./keypad.js";
import { glyphs, show } from "./lengths.js";
import * as queue from "./queue.js";
import { askSetup } from "./reading_forms.js";
import { drawnBox } from "./drawings.js";
import { askWords } from "./sheet.js";
import { asShot, inches, padsNow } from "./sill.js";
import { spot, stationsOf } from "./spots.js";
import { set, state } from "./state.js";
import { readSpot } from "./taking.js";
import { sillView } from "./wall.js";
import { showWhy } from "./why.js";
import { t } from "./words.js";

export function setupBar(here) {
  const choose = h(
    "select",
    {
      "aria-label": t("measure.setup"),
      "data-key": "setup",
      onchange: (event) => set({ setup: event.target.value }),
    },
    here.setups.map((each) => h("option", { value: each.name, selected: each === here.setup }, each.name)),
  );
  return h(
    "div.setup",
    {},
    here.setups.length > 0 && choose,
    h("button.key", { "data-key": "new-setup", onclick: () => newSetup(here) }, t("measure.newSetup")),
    here.setup && marksBar(here),
  );
}

async function newSetup(here) {
  const made = await askSetup(here);
  if (!made) return;
  state.newSetups = [...(state.newSetups ?? []), { ...made, job: state.job }];
  set({ setup: made.name });
}

function marksBar(here) {
  const marks = here.view.document.mark ?? [];
  return h(
    "div.marks",
    {},
    marks.map((mark) => {
      const each = spot("mark", { setup: here.setup.name, place: mark.name });
      const readings = here.spots.get(each.key) ?? [];
      return h(
        "button.key",
        { "data-key": each.key, onclick: () => readSpot(here, each, { again: true }) },
        t("measure.markShots", { name: mark.name, n: readings.length }),
      );
    }),
    h("button.key", { "data-key": "new-mark", onclick: () => newMark(here) }, t("measure.newMark")),
  );
}

async function newMark(here) {
  const count = (here.view.document.mark ?? []).length;
  const name = await askWords({
    title: t("measure.newMark"),
    label: t("measure.markName"),
    text: t("measure.markAuto", { n: count + 1 }),
    button: t("measure.markNext"),
  });
  if (!name) return;
  const where = await askLength({
    title: t("measure.markX", { name }),
    unit: here.unit,
    signed: true,
    nothing: t("measure.fromMark"),
  });
  if (where) await queue.keep(state.job, "job.add", { path: "mark", value: { name, x: where.text } });
}

export function laser(here, common, checked) {
  const stations = stationsOf(here.view, here.opening, common.shape);
  const points = here.moved.points.length
    ? here.moved.points
    : asShot(here.view.readings, here.opening, here.unit);
  const lines = here.measure?.wall?.lines ?? [];
  const level = lines.find((each) => each.openings.includes(here.opening)) ?? null;
  const pads = padsNow(
    (here.measure?.wall?.pads ?? []).filter((pad) => pad.opening === here.opening),
    lines,
    points,
    here.moved.before,
  );
  const spotAt = (station, edge) =>
    spot("sill", {
      setup: here.setup.name,
      opening: here.opening,
      x: station.text,
      ...(edge === "inner" ? { edge } : {}),
    });
  const svg = sillView({
    ...common,
    points,
    line: level,
    pads,
    stations,
    spotAt,
    heads: headSpots(here, common.shape),
    unit: here.unit,
    checked,
  });
  return h(
    "div",
    {},
    drawnBox(svg),
    h(
      "button.key.wide",
      {
        "data-key": "new-station",
        onclick: () => newStation(here),
      },
      t("measure.newStation"),
    ),
    padTable(here, pads),
  );
}

function headSpots(here, shape) {
  if (!shape.position_known) return [];
  const third = (shape.right - shape.left) / 3;
  const shot = here.view.readings.filter((r) => r.table === "head" && r.values.opening === here.opening);
  return ["left", "centre", "right"].map((place, n) => {
    const from = shape.left + n * third;
    const near = shot.find((r) => {
      const x = inches(r.values.x, here.unit);
      return x >= from && x <= from + third;
    });
    const x =
      near?.values.x ?? figure(from + third * [0.15, 0.5, 0.85][n], here.unit, here.unit === "mm" ? 5 : 1);
    return spot("head", { setup: here.setup.name, opening: here.opening, x: String(x) });
  });
}

const figure = (inch, unit, step) => show(inch, { unit, graduation: step });

async function newStation(here) {
  const where = await askLength({
    title: t("measure.whereX", { opening: here.opening }),
    unit: here.unit,
    nothing: t("measure.fromMark"),
  });
  if (!where) return;
  readSpot(here, spot("sill", { setup: here.setup.name, opening: here.opening, x: where.text }));
}

function padTable(here, pads) {
  if (!pads.length) return null;
  const text = (inch) =>
    inch === null
      ? "–"
      : glyphs(
          here.unit === "in"
            ? show(inch, { graduation: 1 / 32 })
            : show(inch, { unit: "mm", graduation: 0.5 }),
        );
  const heads = ["pad", "at", "front", "back"].map((name) => h("th", { scope: "col" }, t(`pads.${name}`)));
  return h(
    "table.pads",
    {},
    h("caption", {}, t(here.moved.moved ? "pads.moved" : "pads.caption")),
    h("thead", {}, h("tr", {}, heads)),
    h(
      "tbody",
      {},
      pads.map((pad) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, h("button.why", { onclick: () => showWhy(pad.id) }, pad.number)),
          h("td", {}, glyphs(figure(pad.x_in, here.unit, here.unit === "mm" ? 1 : 1 / 8))),
          h("td", {}, text(pad.front_now)),
          h("td", {}, text(pad.back_now)),
        ),
      ),
    ),
  );
}
