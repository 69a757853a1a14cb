// Measure: the wall is the form. Tap the spot, type what the tape says; the sill moves at once.

import { blocksOf, findingsLine } from "../blocks.js";
import { h } from "../dom.js";
import { isChecked, view as viewNow } from "../follow.js";
import { askLength } from "../keypad.js";
import { glyphs, show } from "../lengths.js";
import * as queue from "../queue.js";
import { askSetup, otherReading } from "../reading_forms.js";
import { askWords, sheet } from "../sheet.js";
import { asShot, candidateFor, inches, padsNow, redraw } from "../sill.js";
import { bySpot, KINDS, keyOf, labelOf, levelSpots, SHOTS, setupsOf, spot, stationsOf, tapeSpots } from "../spots.js";
import { set, state, tell } from "../state.js";
import { drawingsOf } from "../drawings.js";
import { levelView, overview, shapeOf, sillView, tapeView } from "../wall.js";
import { showWhy } from "../why.js";
import { t } from "../words.js";

const TOOLS = ["tape", "laser", "level"];

/** Everything the screen draws from, made once a drawing. */
function caseOf(view, width) {
  const measure = state.screens.measure ?? null;
  const unit = view.document.units;
  const names = (view.document.opening ?? []).map((each) => each.name);
  const opening = names.includes(state.opening) ? state.opening : names[0] ?? null;
  const shapes = names.map((name) => shapeOf(view, measure, name));
  const setups = allSetups(view, unit);
  const setup = setups.find((each) => each.name === state.setup) ?? setups.at(-1) ?? null;
  const spots = bySpot(view.readings);
  const moved = measure?.gain ? redraw(measure, view.readings, unit) : { points: [], moved: view.readings.length > 0 };
  return { view, width, measure, unit, names, opening, shapes, setups, setup, spots, moved };
}

/** Set-ups of the job, and those just named here from which nothing was shot yet. */
function allSetups(view, unit) {
  const found = setupsOf(view);
  const made = (state.newSetups ?? []).filter((each) => each.job === state.job && !found.some((one) => one.name === each.name));
  return [...found, ...made.map((each) => ({ ...each, known: false, x_in: inches(each.x, unit) }))];
}

export function measureScreen(view, width) {
  const here = caseOf(view, width);
  if (!here.opening) return h("div", {}, h("h1", {}, t("screen.measure")), h("p.lead", {}, t("measure.noOpening")), h("a.key.main", { href: `#/j/${state.job}/edit` }, t("measure.toEdit")));
  const shape = here.shapes.find((each) => each.name === here.opening);
  const checked = isChecked("measure");
  return h("div.measure", {},
    h("h1", {}, t("screen.measure")),
    findingsLine(here.measure),
    h("div.columns", {},
      h("div.drawn", {},
        drawnBox(overview({ ...here, chosen: here.opening, onPick: (name) => set({ opening: name }) })),
        toolTabs(), closeUp(here, shape, checked),
        !checked && h("p.unchecked", { role: "status" }, t("measure.unchecked"))),
      h("div.beside", {}, conflicts(here), nextOnes(here), readingList(here), h("button.key.wide", {
        type: "button", "data-key": "other", onclick: () => otherReading(here, keepNew),
      }, t("measure.other")))),
    h("section.more", {}, here.measure?.svg?.length > 0 && h("details.drawings", {}, h("summary", {}, t("drawing.laptop", { n: here.measure.svg.length })), drawingsOf(here.measure, { onTap: showWhy })),
      blocksOf(withoutReadings(here.measure), view)));
}

/** The laptop's table of readings is the list beside the drawing, which knows more. */
const withoutReadings = (measure) => measure && { ...measure, blocks: measure.blocks.filter((block) => block.kind !== "table") };

const drawnBox = (svg) => h("div.drawing", { tabindex: -1 }, svg);

function toolTabs() {
  return h("div.choices", { role: "group", "aria-label": t("measure.tools") }, TOOLS.map((tool) => h("button.choice", {
    type: "button", "aria-pressed": String(state.tool === tool), "data-key": `tool-${tool}`, onclick: () => set({ tool }),
  }, t(`tool.${tool}`))));
}

function closeUp(here, shape, checked) {
  const read = (each) => here.spots.get(each.key) ?? [];
  const mark = (each) => markOf(here, read(each));
  const common = { width: here.width, shape, read, mark, onTap: (each) => readSpot(here, each) };
  if (state.tool === "tape") return drawnBox(tapeView({ ...common, spots: tapeSpots(here.opening) }));
  if (state.tool === "level") return drawnBox(levelView({ ...common, spots: levelSpots(here.opening) }));
  return h("div", {}, setupBar(here), here.setup && laser(here, common, checked));
}

function markOf(here, readings) {
  const worst = { "set aside": "aside", doubtful: "doubtful" };
  for (const reading of readings) {
    const found = worst[here.measure?.checked?.[reading.reading_id]?.status];
    if (found) return found;
  }
  return undefined;
}

// --- laser ---------------------------------------------------------------------------------------------------

function setupBar(here) {
  const choose = h("select", {
    "aria-label": t("measure.setup"), "data-key": "setup", onchange: (event) => set({ setup: event.target.value }),
  }, here.setups.map((each) => h("option", { value: each.name, selected: each === here.setup }, each.name)));
  return h("div.setup", {}, here.setups.length > 0 && choose,
    h("button.key", { type: "button", "data-key": "new-setup", onclick: () => newSetup(here) }, t("measure.newSetup")),
    here.setup && marksBar(here));
}

async function newSetup(here) {
  const made = await askSetup(here);
  if (!made) return;
  state.newSetups = [...(state.newSetups ?? []), { ...made, job: state.job }];
  set({ setup: made.name });
}

function marksBar(here) {
  const marks = here.view.document.mark ?? [];
  return h("div.marks", {}, marks.map((mark) => {
    const each = spot("mark", { setup: here.setup.name, place: mark.name });
    const readings = here.spots.get(each.key) ?? [];
    return h("button.key", { type: "button", "data-key": each.key, onclick: () => readSpot(here, each, { again: true }) },
      t("measure.markShots", { name: mark.name, n: readings.length }));
  }), h("button.key", { type: "button", "data-key": "new-mark", onclick: () => newMark(here) }, t("measure.newMark")));
}

async function newMark(here) {
  const count = (here.view.document.mark ?? []).length;
  const name = await askWords({ title: t("measure.newMark"), label: t("measure.markName"), text: t("measure.markAuto", { n: count + 1 }), button: t("measure.markNext") });
  if (!name) return;
  const where = await askLength({ title: t("measure.markX", { name }), unit: here.unit, signed: true, nothing: t("measure.fromMark") });
  if (where) await queue.keep(state.job, "job.add", { path: "mark", value: { name, x: where.text } });
}

function laser(here, common, checked) {
  const stations = stationsOf(here.view, here.opening, common.shape);
  const points = here.moved.points.length ? here.moved.points : asShot(here.view.readings, here.opening, here.unit);
  const lines = here.measure?.wall?.lines ?? [];
  const level = lines.find((each) => each.openings.includes(here.opening)) ?? null;
  const pads = padsNow((here.measure?.wall?.pads ?? []).filter((pad) => pad.opening === here.opening), lines, points);
  const spotAt = (station, edge) => spot("sill", { setup: here.setup.name, opening: here.opening, x: station.text, ...(edge === "inner" ? { edge } : {}) });
  const svg = sillView({
    ...common, points, line: level, pads, stations, spotAt, heads: headSpots(here, common.shape), unit: here.unit, checked,
  });
  return h("div", {}, drawnBox(svg), h("button.key.wide", {
    type: "button", "data-key": "new-station", onclick: () => newStation(here),
  }, t("measure.newStation")), padTable(here, pads));
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
    const x = near?.values.x ?? figure(from + third * [0.15, 0.5, 0.85][n], here.unit, here.unit === "mm" ? 5 : 1);
    return spot("head", { setup: here.setup.name, opening: here.opening, x: String(x) });
  });
}

const figure = (inch, unit, step) => show(inch, { unit, graduation: step });

async function newStation(here) {
  const where = await askLength({ title: t("measure.whereX", { opening: here.opening }), unit: here.unit, nothing: t("measure.fromMark") });
  if (!where) return;
  readSpot(here, spot("sill", { setup: here.setup.name, opening: here.opening, x: where.text }));
}

function padTable(here, pads) {
  if (!pads.length) return null;
  const text = (inch) => (inch === null ? "–" : glyphs(here.unit === "in" ? show(inch, { graduation: 1 / 32 }) : show(inch, { unit: "mm", graduation: 0.5 })));
  const heads = ["pad", "at", "front", "back"].map((name) => h("th", { scope: "col" }, t(`pads.${name}`)));
  return h("table.pads", {}, h("caption", {}, t(here.moved.moved ? "pads.moved" : "pads.caption")),
    h("thead", {}, h("tr", {}, heads)), h("tbody", {}, pads.map((pad) => h("tr", {},
      h("th", { scope: "row" }, h("button.why", { type: "button", onclick: () => showWhy(pad.id) }, pad.number)),
      h("td", {}, glyphs(figure(pad.x_in, here.unit, here.unit === "mm" ? 1 : 1 / 8))), h("td", {}, text(pad.front_now)), h("td", {}, text(pad.back_now))))));
}

// --- reading -------------------------------------------------------------------------------------------------

/** What the wall says a place should read, as far as it is known here. */
function expectedAt(here, each, reading) {
  const own = reading && here.measure?.checked?.[reading.reading_id];
  if (own) return { value: own.adjusted_in, sd: own.sd_in / 3, reading_sd: own.sd_in };
  const found = here.measure?.gain && candidateFor(here.measure.gain.more ?? [], each, here.unit);
  return found ? { value: found.expected_in, sd: found.expected_sd_in, reading_sd: 0.03 } : null;
}

/** Taps on a spot: the only reading there is changed, several are listed first, none is taken. */
async function readSpot(here, each, { again = false } = {}) {
  const readings = here.spots.get(each.key) ?? [];
  if (readings.length > 1 || (readings.length && again)) return chooseReading(here, each, readings);
  return readings.length ? changeReading(here, readings[0]) : takeReading(here, each);
}

async function takeReading(here, each) {
  const following = nextSpot(here, each);
  const answer = await askLength({
    title: each.label, unit: here.unit, signed: each.signed, signedWord: signedWord(each.table), note: "",
    expected: expectedAt(here, each), next: following?.label, nothing: t("keypad.start"),
  });
  if (!answer) return;
  await keepNew(here, each, answer);
  if (answer.does === "next") readSpot(caseOf(viewNow(), here.width), following);
}

const signedWord = (table) => (SHOTS.includes(table) ? t("keypad.aboveBeam") : t("keypad.otherWay"));

async function keepNew(here, each, answer) {
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
  const found = { setup_x: made?.x ?? first.setup_x, turned: made?.turned ?? first.turned, instrument: made?.instrument ?? first.instrument, again: made?.again ?? first.again };
  return Object.fromEntries(Object.entries(found).filter(([, value]) => value));
}

async function changeReading(here, reading) {
  const each = spot(reading.table, reading.values);
  const answer = await askLength({
    title: reading.label ?? each.label, unit: here.unit, text: String(reading.values.value), signed: each.signed,
    signedWord: signedWord(each.table), expected: expectedAt(here, each, reading), note: reading.values.note ?? "", drop: true,
  });
  if (!answer) return;
  const base = reading.head.length === 1 ? reading.head[0] : reading.head;
  if (answer.does === "drop") {
    await queue.keep(state.job, "reading.drop", { reading_id: reading.reading_id, base });
    return tell(t("measure.dropped", { label: each.label }));
  }
  if (answer.text === String(reading.values.value) && answer.note === (reading.values.note ?? "")) return;
  const kept = Object.fromEntries(["sd", "instrument", "by"].filter((name) => reading.values[name]).map((name) => [name, reading.values[name]]));
  const values = { ...kept, value: answer.text, ...(answer.note ? { note: answer.note } : {}) };
  await queue.keep(state.job, "reading.change", { reading_id: reading.reading_id, base, values });
  tell(t("measure.kept", { label: each.label, value: answer.text }));
}

async function chooseReading(here, each, readings) {
  const chosen = await sheet({
    title: each.label,
    fill: (close) => h("div.stack", {},
      readings.map((reading) => h("button.key.wide", { type: "button", onclick: () => close(reading) }, glyphs(String(reading.values.value)),
        reading.values.by ? ` · ${reading.values.by}` : "")),
      h("button.key.main.wide", { type: "button", onclick: () => close("again") }, t("measure.again"))),
  });
  if (chosen === "again") return takeReading(here, each);
  return chosen && changeReading(here, chosen);
}

/** The spot the hand goes to next: the next unread one of the same tool. */
function nextSpot(here, each) {
  const shape = here.shapes.find((one) => one.name === here.opening);
  const row = each.table === "sill"
    ? stationsOf(here.view, here.opening, shape).flatMap((station) => ["outer", "inner"].map((edge) =>
      spot("sill", { setup: each.values.setup, opening: here.opening, x: station.text, ...(edge === "inner" ? { edge } : {}) })))
    : Object.values(state.tool === "level" ? levelSpots(here.opening) : tapeSpots(here.opening)).flat();
  const at = row.findIndex((one) => one.key === each.key);
  return [...row.slice(at + 1), ...row.slice(0, Math.max(at, 0))].find((one) =>
    one.key !== each.key && !here.spots.has(one.key) && (each.table !== "sill" || (one.values.edge ?? "outer") === (each.values.edge ?? "outer"))) ?? null;
}

// --- beside the drawing ----------------------------------------------------------------------------------------

function conflicts(here) {
  return here.view.folded.conflicts.map((conflict) => h("section.conflict", { "aria-label": t("conflict.title") },
    h("p", {}, h("strong", {}, t("conflict.title")), " ", conflict.label),
    h("div.stack", {}, conflict.versions.map((version) => h("button.key.wide", {
      type: "button", onclick: () => resolve(here, conflict, version),
    }, version.values ? glyphs(String(version.values.value)) : t("conflict.gone"), h("span.by", {}, t("conflict.by", { device: version.device ?? "" })),
    version.in_use && h("span.by", {}, t("conflict.inUse"))))),
    h("p.hint", {}, t("conflict.hint"))));
}

async function resolve(here, conflict, version) {
  const base = conflict.versions.map((each) => each.event);
  const kind = version.values ? "reading.change" : "reading.drop";
  const names = ["value", "sd", "instrument", "by", "note"];
  const values = version.values && Object.fromEntries(names.filter((name) => version.values[name]).map((name) => [name, version.values[name]]));
  await queue.keep(state.job, kind, { reading_id: conflict.reading_id, base, ...(values ? { values } : {}) });
  tell(t("conflict.settled", { label: conflict.label }));
}

function nextOnes(here) {
  const next = here.measure?.next ?? [];
  if (!next.length) return null;
  return h("section", { "aria-labelledby": "next-title" }, h("h2", { id: "next-title" }, t("measure.next")),
    h("ul.plain", {}, next.map((each) => {
      const place = here.measure.places?.[each.place];
      return h("li", {}, h("button.key.wide", {
        type: "button", onclick: () => (place ? goTo(here, place) : each.why && showWhy(each.why)),
      }, each.text));
    })));
}

function goTo(here, place) {
  const found = spot(place.table, place.values);
  if (KINDS[place.table].needs.some((name) => !place.values[name])) return otherReading(here, keepNew, place);
  return readSpot(here, found);
}

function readingList(here) {
  const own = here.view.readings.filter((r) => r.values.opening === here.opening || !r.values.opening);
  if (!own.length) return null;
  return h("details.readings", { open: here.width > 700 }, h("summary", {}, t("measure.readings", { name: here.opening, n: own.length })),
    h("ul.plain", {}, own.map((reading) => readingLine(here, reading))));
}

function readingLine(here, reading) {
  const own = here.measure?.checked?.[reading.reading_id];
  const off = own && !reading.waiting ? -own.residual_in : null;
  const offText = off === null ? "" : t("measure.off", { off: signedFigure(off, here.unit) });
  const status = reading.waiting ? t("measure.waiting") : own && own.status !== "used" ? t(`status.${own.status.replace(" ", "_")}`) : "";
  return h("li.reading", {}, h("button", {
    type: "button", "data-key": `r-${reading.reading_id}`, onclick: () => changeReading(here, reading),
  }, h("span.label", {}, reading.label ?? labelOf(reading.table, reading.values)), h("span.value", {}, glyphs(String(reading.values.value))),
  h("span.off", {}, offText), status && h("span.status", {}, status)),
  own?.why && h("button.why", { type: "button", "aria-label": t("why.of", { label: reading.label ?? "" }), onclick: () => showWhy(own.why) }, "?"));
}

function signedFigure(inch, unit) {
  const text = unit === "in" ? show(Math.abs(inch), { graduation: 1 / 32 }) : show(Math.abs(inch), { unit: "mm", graduation: 0.5 });
  return (inch < 0 && !/^0(\.0)?$/.test(text) ? "−" : "+") + glyphs(text);
}

export { caseOf, keepNew, keyOf, readSpot };
