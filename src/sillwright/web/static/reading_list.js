// Readings beside the drawing: those in conflict, those worth taking next, those taken, each against the wall.

import { h } from "./dom.js";
import { glyphs, show } from "./lengths.js";
import { otherReading } from "./reading_forms.js";
import { KINDS, labelOf, spot } from "./spots.js";
import { set } from "./state.js";
import { changeReading, keepNew, readSpot, resolve } from "./taking.js";
import { showWhy } from "./why.js";
import { t } from "./words.js";

const SILL_SHOTS = 3; // two make a line, and the third tells whether the sill is one

export function conflicts(here) {
  return here.view.folded.conflicts.map((conflict) =>
    h(
      "section.conflict",
      { "aria-label": t("conflict.title") },
      h("p", {}, h("strong", {}, t("conflict.title")), " ", conflict.label),
      h(
        "div.stack",
        {},
        conflict.versions.map((version) =>
          h(
            "button.key.wide",
            {
              onclick: () => resolve(here, conflict, version),
            },
            version.values ? glyphs(String(version.values.value)) : t("conflict.gone"),
            h("span.by", {}, t("conflict.by", { device: version.device ?? "" })),
            version.in_use && h("span.by", {}, t("conflict.inUse")),
          ),
        ),
      ),
      h("p.hint", {}, t("conflict.hint")),
    ),
  );
}

/** What a first pad schedule needs of an opening: where it is, how wide, and its sill. */
export function firstOnes(here) {
  const opening = here.opening;
  const shape = here.shapes.find((each) => each.name === opening);
  const count = (table) =>
    here.view.readings.filter((each) => each.table === table && each.values.opening === opening).length;
  const missing = [
    !shape.position_known && !count("jack") && spot("jack", { opening, place: "left" }),
    !count("width") && spot("width", { opening, place: "bottom" }),
  ].filter(Boolean);
  const shots = SILL_SHOTS - count("sill");
  const keys = missing.map((each) =>
    h(
      "button.key",
      { "data-key": `first-${each.table}`, onclick: () => readSpot(here, each) },
      each.label,
    ),
  );
  if (shots > 0)
    keys.push(
      h(
        "button.key",
        { "data-key": "first-sill", onclick: () => set({ tool: "laser" }) },
        t("measure.firstSill", { opening, n: shots }),
      ),
    );
  if (!keys.length) return null;
  return h(
    "section",
    { "aria-labelledby": "first-title" },
    h("h2", { id: "first-title" }, t("measure.first")),
    h("div.row", {}, keys),
    h("p.hint", {}, t("measure.firstHint")),
  );
}

export function nextOnes(here) {
  const next = here.measure?.next ?? [];
  if (!next.length) return null;
  return h(
    "section",
    { "aria-labelledby": "next-title" },
    h("h2", { id: "next-title" }, t("measure.next")),
    h(
      "ul.plain",
      {},
      next.map((each) => {
        const place = here.measure.places?.[each.place];
        return h(
          "li",
          {},
          h(
            "button.key.wide",
            {
              onclick: () => (place ? goTo(here, place) : each.why && showWhy(each.why)),
            },
            each.text,
          ),
        );
      }),
    ),
  );
}

function goTo(here, place) {
  const found = spot(place.table, place.values);
  if (KINDS[place.table].needs.some((name) => !place.values[name])) return otherReading(here, keepNew, place);
  return readSpot(here, found);
}

export function readingList(here) {
  const own = here.view.readings.filter((r) => r.values.opening === here.opening || !r.values.opening);
  if (!own.length) return null;
  return h(
    "details.readings",
    { open: here.width > 700 },
    h("summary", {}, t("measure.readings", { name: here.opening, n: own.length })),
    h(
      "ul.plain",
      {},
      own.map((reading) => readingLine(here, reading)),
    ),
  );
}

function readingLine(here, reading) {
  const own = here.measure?.checked?.[reading.reading_id];
  const off = own && !reading.waiting ? -own.residual_in : null;
  const offText = off === null ? "" : t("measure.off", { off: signedFigure(off, here.unit) });
  const status = reading.waiting
    ? t("measure.waiting")
    : own && own.status !== "used"
      ? t(`status.${own.status.replace(" ", "_")}`)
      : "";
  return h(
    "li.reading",
    {},
    h(
      "button",
      {
        "data-key": `r-${reading.reading_id}`,
        onclick: () => changeReading(here, reading),
      },
      h("span.label", {}, reading.label ?? labelOf(reading.table, reading.values)),
      h("span.value", {}, glyphs(String(reading.values.value))),
      h("span.off", {}, offText),
      status && h("span.status", {}, status),
    ),
    own?.why &&
      h(
        "button.why",
        {
          "aria-label": t("why.of", { label: reading.label ?? "" }),
          onclick: () => showWhy(own.why),
        },
        "?",
      ),
  );
}

function signedFigure(inch, unit) {
  const text =
    unit === "in"
      ? show(Math.abs(inch), { graduation: 1 / 32 })
      : show(Math.abs(inch), { unit: "mm", graduation: 0.5 });
  return (inch < 0 && !/^0(\.0)?$/.test(text) ? "−" : "+") + glyphs(text);
}
