// Taking, changing and settling readings: from a tapped spot to the phone's disk.

import { h } from "./dom.js";
import { view as viewNow } from "./follow.js";
import { askLength } from "./keypad.js";
import { glyphs } from "./lengths.js";
import * as queue from "./queue.js";
import { sheet } from "./sheet.js";
import { candidateFor } from "./sill.js";
import { SHOTS, keyOf, levelSpots, spot, stationsOf, tapeSpots } from "./spots.js";
import { state, tell } from "./state.js";
import { caseOf } from "./wall_case.js";
import { t } from "./words.js";

const CHECKED = 0.05; // below this share of redundancy nothing else tells what a place should read

/** What the wall says a place should read without the reading that is being typed; null where it cannot tell. */
function expectedAt(here, each, reading) {
  const own = reading && here.measure?.checked?.[reading.reading_id];
  if (own) {
    const { observed_in, residual_in, sd_in } = own;
    const share = redundancyOf(own);
    if (!(share > CHECKED)) return null;
    const sd = sd_in * Math.sqrt(Math.max(0, 1 / share - 1));
    return { value: observed_in + residual_in / share, sd, reading_sd: sd_in };
  }
  const found = candidateFor(here.measure?.gain?.more ?? [], each, here.unit);
  return found
    ? { value: found.expected_in, sd: found.expected_sd_in, reading_sd: usualSd(here, each.table) }
    : null;
}

/** Share of an error that would show in its own residual, from w = v / (sd √r); 0 where nothing tells. */
function redundancyOf({ residual_in, sd_in, w }) {
  return w && Math.abs(w) > 1e-6 ? (residual_in / (w * sd_in)) ** 2 : 0;
}

/** What readings of a kind are taken to be good for, as the laptop has it. */
function usualSd(here, table) {
  const alike = here.view.readings.find((r) => r.table === table && here.measure.checked[r.reading_id]);
  return alike ? here.measure.checked[alike.reading_id].sd_in : 0;
}

/** Taps on a spot: the only reading there is changed, several are listed first, none is taken. */
export async function readSpot(here, each, { again = false } = {}) {
  const readings = here.spots.get(each.key) ?? [];
  if (readings.length > 1 || (readings.length && again)) return chooseReading(here, each, readings);
  return readings.length ? changeReading(here, readings[0]) : takeReading(here, each);
}

async function takeReading(here, asked) {
  const each = await withHeight(here, asked);
  if (!each) return;
  const following = nextSpot(here, each);
  const answer = await askLength({
    title: each.label,
    unit: here.unit,
    signed: each.signed,
    signedWord: signedWord(each.table),
    note: "",
    expected: expectedAt(here, each),
    next: following?.label,
    nothing: t("keypad.start"),
  });
  if (!answer) return;
  await keepNew(here, each, answer);
  if (answer.does === "next") readSpot(caseOf(viewNow(), here.width), following);
}

/** A lean is taken over a height: the one of this jack's other lean, else it is asked for. */
async function withHeight(here, each) {
  if (!each.table.startsWith("lean_") || each.values.at_height) return each;
  const opening = (here.view.document.opening ?? []).find((one) => one.name === each.values.opening);
  const other = here.view.readings.find(
    (r) => r.table.startsWith("lean_") && keyOf("", r.values) === keyOf("", each.values),
  );
  const known = opening?.plumb?.[each.values.place]?.over_height ?? other?.values.at_height;
  if (known !== undefined) return spot(each.table, { ...each.values, at_height: String(known) });
  const height = await askLength({ title: each.label, unit: here.unit, nothing: t("keypad.overHeight") });
  return height && spot(each.table, { ...each.values, at_height: height.text });
}

const signedWord = (table) => (SHOTS.includes(table) ? t("keypad.aboveBeam") : t("keypad.otherWay"));

export async function keepNew(here, each, answer) {
  const values = { ...each.values, value: answer.text, ...(answer.note ? { note: answer.note } : {}) };
  if (SHOTS.includes(each.table)) Object.assign(values, standing(here, each.values.setup));
  await queue.keep(state.job, "reading.add", { reading_id: queue.freshId(), table: each.table, values });
  tell(t("measure.kept", { label: each.label, value: answer.text }));
}

/** A set-up the job does not have yet goes along with its first shots. */
function standing(here, name) {
  if (here.setups.find((each) => each.name === name)?.known) return {};
  const made = (state.newSetups ?? []).find((each) => each.name === name && each.job === state.job);
  const first = here.view.readings.find((r) => r.values.setup === name)?.values ?? {};
  const found = {
    setup_x: made?.x ?? first.setup_x,
    turned: made?.turned ?? first.turned,
    instrument: made?.instrument ?? first.instrument,
    again: made?.again ?? first.again,
  };
  return Object.fromEntries(Object.entries(found).filter(([, value]) => value));
}

export async function changeReading(here, reading) {
  const each = spot(reading.table, reading.values);
  const title = reading.label ?? each.label;
  const answer = await askLength({
    title,
    unit: here.unit,
    text: String(reading.values.value),
    signed: each.signed,
    signedWord: signedWord(each.table),
    expected: expectedAt(here, each, reading),
    note: reading.values.note ?? "",
    drop: true,
  });
  if (!answer) return;
  const base = reading.head.length === 1 ? reading.head[0] : reading.head;
  if (answer.does === "drop") {
    await queue.keep(state.job, "reading.drop", { reading_id: reading.reading_id, base }, title);
    return tell(t("measure.dropped", { label: each.label }));
  }
  if (answer.text === String(reading.values.value) && answer.note === (reading.values.note ?? "")) return;
  const kept = Object.fromEntries(
    ["sd", "instrument", "by"]
      .filter((name) => reading.values[name])
      .map((name) => [name, reading.values[name]]),
  );
  const values = { ...kept, value: answer.text, ...(answer.note ? { note: answer.note } : {}) };
  const change = { reading_id: reading.reading_id, base, values };
  await queue.keep(state.job, "reading.change", change, title);
  tell(t("measure.kept", { label: each.label, value: answer.text }));
}

async function chooseReading(here, each, readings) {
  const chosen = await sheet({
    title: each.label,
    fill: (close) =>
      h(
        "div.stack",
        {},
        readings.map((reading) =>
          h(
            "button.key.wide",
            { onclick: () => close(reading) },
            glyphs(String(reading.values.value)),
            reading.values.by ? ` · ${reading.values.by}` : "",
          ),
        ),
        h("button.key.main.wide", { onclick: () => close("again") }, t("measure.again")),
      ),
  });
  if (chosen === "again") return takeReading(here, each);
  return chosen && changeReading(here, chosen);
}

/** The spot the hand goes to next: the next unread one of the same tool. */
function nextSpot(here, each) {
  const shape = here.shapes.find((one) => one.name === here.opening);
  const row =
    each.table === "sill"
      ? stationsOf(here.view, here.opening, shape).flatMap((station) =>
          ["outer", "inner"].map((edge) =>
            spot("sill", {
              setup: each.values.setup,
              opening: here.opening,
              x: station.text,
              ...(edge === "inner" ? { edge } : {}),
            }),
          ),
        )
      : Object.values(state.tool === "level" ? levelSpots(here.opening) : tapeSpots(here.opening)).flat();
  const at = row.findIndex((one) => one.key === each.key);
  return (
    [...row.slice(at + 1), ...row.slice(0, Math.max(at, 0))].find(
      (one) =>
        one.key !== each.key &&
        !here.spots.has(one.key) &&
        (each.table !== "sill" || (one.values.edge ?? "outer") === (each.values.edge ?? "outer")),
    ) ?? null
  );
}

export async function resolve(here, conflict, version) {
  const base = conflict.versions.map((each) => each.event);
  const kind = version.values ? "reading.change" : "reading.drop";
  const names = ["value", "sd", "instrument", "by", "note"];
  const values =
    version.values &&
    Object.fromEntries(
      names.filter((name) => version.values[name]).map((name) => [name, version.values[name]]),
    );
  const settled = { reading_id: conflict.reading_id, base, ...(values ? { values } : {}) };
  await queue.keep(state.job, kind, settled, conflict.label);
  tell(t("conflict.settled", { label: conflict.label }));
}
