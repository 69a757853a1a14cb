// The blocks a screen is told in: findings, tables, acts, holds, steps, words. One function a kind.

import { h, s } from "./dom.js";
import { drawingBox } from "./drawings.js";
import { icon } from "./icons.js";
import { glyphs } from "./lengths.js";
import { addNote, addPhoto, photosAt } from "./photos.js";
import * as queue from "./queue.js";
import { askSure, askWords, sheet } from "./sheet.js";
import { set, state, tell } from "./state.js";
import { showWhy } from "./why.js";
import { t } from "./words.js";
import { workButton } from "./work.js";

/** A stamp: the word in a frame whose shape says the same. */
export function stamp(severity) {
  const [width, shape] = FRAMES[severity];
  const word = t(`stamp.${severity}`);
  return h("span", { class: ["stamp", severity] }, s("svg", { viewBox: `-1.5 -1.5 ${width + 3} 29`, height: 26, role: "img", "aria-label": word },
    s("path", { d: shape }), s("text", { x: width / 2, y: 18.5, "text-anchor": "middle" }, word)));
}

// cut corners, a plain frame, a gable: told apart without colour
const FRAMES = {
  stop: [56, "M7 0H49L56 7V19L49 26H7L0 19V7Z"],
  fix: [42, "M0 0H42V26H0Z"],
  watch: [70, "M0 26V5L35 -1L70 5V26Z"],
};

/** How many findings of each kind a screen has, in one line that leads to them. */
export function findingsLine(screen) {
  const faults = screen?.faults ?? [];
  const findings = (screen?.blocks ?? []).filter((block) => block.kind === "finding" && !block.answer);
  const counts = ["stop", "fix", "watch"].map((severity) => [severity, findings.filter((each) => each.severity === severity).length]);
  const shown = counts.filter(([, n]) => n);
  return h("div.findings-line", {},
    faults.length > 0 && h("ul.faults", { role: "alert" }, faults.map((fault) => h("li", {}, `${fault.what} ${fault.fix ?? ""}`))),
    shown.length > 0 && h("button.stamps", {
      type: "button", "aria-label": t("findings.jump", { n: findings.length }),
      onclick: () => document.querySelector(".block.finding")?.scrollIntoView({ block: "center" }),
    }, shown.map(([severity, n]) => [stamp(severity), h("span.count", {}, n)])));
}

export function blocksOf(screen, view) {
  const blocks = screen?.blocks ?? [];
  return blocks.map((block, n) => (MAKE[block.kind] ?? unknown)(block, view, blocks, n));
}

const unknown = (block) => h("p.block", {}, block.text ?? block.title ?? "");
const text = (words) => glyphs(String(words ?? ""));

function answers(words, why, label = words) {
  if (!why) return text(words);
  return h("button.why-value", { type: "button", "aria-label": t("why.of", { label }), onclick: () => showWhy(why) }, text(words));
}

const MAKE = {
  heading: (block) => h("h2.block", {}, text(block.text)),
  words: (block) => h("p.block", { class: block.style ?? "plain" }, text(block.text)),
  finding,
  card: (block) => h("div.block.card", {}, h("p.card-title", {}, text(block.title)),
    h("p.card-value", {}, answers(block.value, block.why, `${block.title}: ${block.value}`)), block.note && h("p.hint", {}, text(block.note))),
  table,
  acts: (block, view, blocks) => acts(block, view, blocks),
  hold,
  step: () => null, // shown one at a time by the screen itself
  conflict: () => null, // shown where it can be settled
  note: (block) => h("p.block.noted", {}, text(block.text), h("span.by", {}, [block.place, block.device, block.at].filter(Boolean).join(" · "))),
  weather: (block) => h("p.block.noted", {}, t("weather.was", { text: block.text }), h("span.by", {}, [block.device, block.at].filter(Boolean).join(" · "))),
  photo: (block) => h("div.block", {}, photosAt({ folded: { photos: [block] } }, block.place)),
  sign: (block) => h("p.block.noted", {}, t("sign.was", block), h("span.by", {}, block.at ?? "")),
  work: (block) => workButton(block),
};

function finding(block) {
  return h("article", { class: ["block", "finding", block.severity], "data-place": block.place || null },
    stamp(block.severity),
    h("div", {}, h("p.message", {}, text(block.text)), block.advice && h("p.advice", {}, text(block.advice)),
      block.value && h("p.hint", {}, block.limit ? t("finding.limit", { value: text(block.value), limit: text(block.limit) }) : text(block.value)),
      block.answer && h("p.hint", {}, text(block.answer)),
      h("p.source", {}, block.source),
      h("div.row", {}, block.why && h("button.link", { type: "button", onclick: () => showWhy(block.why) }, t("why.ask")),
        !block.answer && block.id && block.severity !== "watch" && h("button.link", { type: "button", onclick: () => answerFinding(block) }, t("finding.answer")))));
}

async function answerFinding(block) {
  const by = await askWords({ title: t("finding.answer"), label: t("finding.by"), button: t("finding.next") });
  if (!by) return;
  const note = await askWords({ title: t("finding.answer"), label: t("finding.note"), button: t("finding.done"), long: true });
  if (!note) return;
  await queue.keep(state.job, "answer.add", { finding: block.id, by, date: today(), note });
  tell(t("finding.kept"));
}

const today = () => {
  const now = new Date();
  return [now.getFullYear(), String(now.getMonth() + 1).padStart(2, "0"), String(now.getDate()).padStart(2, "0")].join("-");
};

function table(block) {
  const align = (n) => block.columns[n]?.align ?? "left";
  return h("div.block.table", { tabindex: 0, role: "group", "aria-label": block.title ?? "" },
    h("table", {}, block.title && h("caption", {}, text(block.title)),
      h("thead", {}, h("tr", {}, block.columns.map((column, n) => h("th", { scope: "col", class: align(n) }, text(column.head))))),
      h("tbody", {}, block.rows.map((row) => h("tr", { class: row.marked ? "marked" : null }, row.cells.map((cell, n) => {
        const style = block.columns[n]?.style;
        return h("td", { class: [align(n), style] }, style === "ring" ? h("span.ring", {}, answers(cell.text, cell.why)) : answers(cell.text, cell.why));
      }))))),
    block.note && h("p.hint", {}, text(block.note)));
}

// --- acts -----------------------------------------------------------------------------------------------------

/** How an act stands for this phone. */
function standing(act, view, blocks) {
  const here = view.folded.acts[act.act];
  const state_ = here?.waiting ? "done" : act.state === "open" && here ? "done" : act.state !== "open" && !here ? "open" : act.state;
  const holds = blocks.filter((block) => block.kind === "hold");
  const open = (act.blocked_by ?? []).filter((id) => !view.folded.holds[id]);
  return { done: state_ !== "open", changed: state_ === "changed", waiting: here?.waiting, open: open.map((id) => holds.find((each) => each.hold === id)?.title ?? id) };
}

function acts(block, view, blocks) {
  const done = block.acts.filter((act) => standing(act, view, blocks).done).length;
  return h("section.block.acts", { "aria-label": block.title },
    h("div.acts-head", {}, h("h2", {}, text(block.title)), h("span.count", {}, t("acts.done", { done, of: block.acts.length }))),
    h("progress", { max: block.acts.length || 1, value: done, "aria-label": t("acts.done", { done, of: block.acts.length }) }),
    h("ol.plain", {}, block.acts.map((act) => actLine(act, view, blocks))));
}

function actLine(act, view, blocks) {
  const now = standing(act, view, blocks);
  const tick = h("button.tickbox", {
    type: "button", role: "checkbox", "aria-checked": String(now.done), "aria-disabled": now.open.length ? "true" : null,
    "data-key": `tick-${act.act}`, "aria-label": t("acts.tick", { number: act.number ?? "", text: act.text }),
    onclick: () => (now.open.length ? tell(t("acts.blocked", { hold: now.open.join(", ") })) : tickAct(act, now)),
  }, now.done && icon("tick"));
  return h("li", { class: ["act", now.done && "done", now.waiting && "waiting"], "data-place": act.ref ?? act.act },
    h("span.balloon", { "aria-hidden": "true" }, act.number ?? "·"),
    h("button.act-text", { type: "button", "data-key": `act-${act.act}`, onclick: () => openAct(act, view, blocks) }, text(act.text),
      now.changed && h("span.changed", {}, t("acts.changed", { was: act.done_text ?? "" })),
      now.open.length > 0 && h("span.changed", {}, t("acts.blocked", { hold: now.open.join(", ") }))),
    tick);
}

async function tickAct(act, now) {
  if (now.done) await queue.keep(state.job, "act.undone", { act: act.act });
  else await queue.keep(state.job, "act.done", { act: act.act, text: act.text });
  tell(now.done ? t("acts.undone", { text: act.text }) : t("acts.kept", { text: act.text }));
}

/** An act on a sheet of its own: tick, why, photo, note; a pad can be shot again. */
export function openAct(act, view, blocks) {
  const now = standing(act, view, blocks);
  const place = act.ref || act.act;
  return sheet({
    title: t("acts.title", { number: act.number ?? "" }), kind: "act-sheet",
    fill: (close) => h("div.stack", {},
      h("p.act-big", {}, text(act.text)),
      now.open.length > 0 ? h("p.changed", {}, t("acts.blocked", { hold: now.open.join(", ") })) : h("button.key.main.wide", {
        type: "button", onclick: () => { tickAct(act, now); close(); },
      }, t(now.done ? "acts.undo" : "acts.do")),
      act.what === "pad" && reshoot && h("button.key.wide", { type: "button", onclick: () => { close(); reshoot(act); } }, t("acts.reshoot")),
      h("div.row", {}, act.why && h("button.key", { type: "button", onclick: () => showWhy(act.why) }, t("why.ask")),
        addPhoto(place, ""), addNote(place)),
      notesAt(view, place), photosAt(view, place)),
  });
}

let reshoot = null;
export function whenReshot(call) {
  reshoot = call;
}

function notesAt(view, place) {
  const notes = view.folded.notes.filter((note) => note.place === place);
  return notes.length > 0 && h("ul.plain", {}, notes.map((note) => h("li.noted", {}, note.text)));
}

/** What a tap on a drawing opens: the act with that mark, else why. */
export function openRef(ref, screen, view) {
  const blocks = screen?.blocks ?? [];
  const act = blocks.filter((block) => block.kind === "acts").flatMap((block) => block.acts).find((each) => each.ref === ref || each.act === ref);
  return act ? openAct(act, view, blocks) : showWhy(ref);
}

// --- holds ----------------------------------------------------------------------------------------------------

function hold(block, view) {
  const closed = view.folded.holds[block.hold] ?? null;
  return h("section", { class: ["block", "hold", closed ? "closed" : "open"], "aria-label": block.title, "data-place": block.hold },
    stamp(closed ? "watch" : "stop"),
    h("div.stack", {}, h("h2", {}, text(block.title)), h("p", {}, text(block.text)),
      block.photo && !closed && h("p.hint", {}, t("hold.photo")), photosAt(view, block.hold),
      closed && h("p.noted", {}, t(closed.how === "override" ? "hold.overridden" : "hold.ticked", { reason: closed.reason ?? "", device: closed.device ?? "" })),
      block.source && h("p.source", {}, block.source),
      h("div.row", {}, addPhoto(block.hold, ""), ...(closed
        ? [h("button.key", { type: "button", onclick: () => queue.keep(state.job, "hold.undo", { hold: block.hold }) }, t("hold.undo"))]
        : [h("button.key.main", { type: "button", "data-key": `hold-${block.hold}`, onclick: () => tickHold(block, view) }, t("hold.tick")),
          h("button.key", { type: "button", onclick: () => override(block) }, t("hold.override"))]))));
}

async function tickHold(block, view) {
  const photo = view.folded.photos.findLast?.((each) => each.place === block.hold)?.photo;
  if (block.photo && !photo && !(await askSure({ title: block.title, text: t("hold.noPhoto"), yes: t("hold.tick") }))) return;
  await queue.keep(state.job, "hold.tick", { hold: block.hold, ...(photo ? { photo } : {}) });
  tell(t("hold.kept", { title: block.title }));
}

async function override(block) {
  const reason = await askWords({ title: t("hold.override"), label: t("hold.why"), button: t("hold.override"), long: true });
  if (reason) await queue.keep(state.job, "hold.override", { hold: block.hold, reason });
}

// --- steps ----------------------------------------------------------------------------------------------------

/** Steps one at a time, with a big picture and two big buttons. */
export function stepsOf(screen, view) {
  const steps = (screen?.blocks ?? []).filter((block) => block.kind === "step");
  if (!steps.length) return null;
  const at = Math.min(state.step[screen.screen] ?? 0, steps.length - 1);
  const go = (n) => set({ step: { ...state.step, [screen.screen]: n } });
  const step = steps[at];
  const picture = (screen.svg ?? []).find((each) => each.id === step.svg);
  const done = view.folded.acts[step.act];
  return h("section.block.step", { "aria-label": t("step.of", { n: at + 1, of: steps.length }), "aria-live": "polite" },
    h("p.step-count", {}, t("step.of", { n: at + 1, of: steps.length })),
    h("h2", {}, text(step.title)),
    picture && drawingBox(picture, (ref) => openRef(ref, screen, view)),
    h("ul.step-lines", {}, (step.lines ?? []).map((line) => h("li", {}, text(line)))),
    step.why && h("button.link", { type: "button", onclick: () => showWhy(step.why) }, t("why.ask")),
    h("div.row", {}, addPhoto(step.act, step.act), addNote(step.act)), notesAt(view, step.act), photosAt(view, step.act),
    h("button", {
      type: "button", class: ["key", "wide", done ? "" : "main"], "data-key": "step-done", "aria-pressed": String(Boolean(done)),
      onclick: () => stepDone(step, done, () => !done && at + 1 < steps.length && go(at + 1)),
    }, t(done ? "step.undo" : "step.done")),
    h("div.ends", {}, h("button.key", { type: "button", "data-key": "step-back", disabled: at === 0, onclick: () => go(at - 1) }, t("step.back")),
      h("button.key", { type: "button", "data-key": "step-next", disabled: at === steps.length - 1, onclick: () => go(at + 1) }, t("step.next"))));
}

async function stepDone(step, done, after) {
  await queue.keep(state.job, done ? "act.undone" : "act.done", done ? { act: step.act } : { act: step.act, text: step.title });
  after();
}
