// Acts by number: tick when done, open for why, photo, note; what a tap on a drawing opens.

import { h } from "./dom.js";
import { icon } from "./icons.js";
import { text } from "./lengths.js";
import { addNote, addPhoto, photosAt } from "./photos.js";
import * as queue from "./queue.js";
import { sheet } from "./sheet.js";
import { state, tell } from "./state.js";
import { showWhy } from "./why.js";
import { t } from "./words.js";

/** How an act stands for this phone. */
function standing(act, view, blocks) {
  const here = view.folded.acts[act.act];
  const state_ = here?.waiting
    ? "done"
    : act.state === "open" && here
      ? "done"
      : act.state !== "open" && !here
        ? "open"
        : act.state;
  const holds = blocks.filter((block) => block.kind === "hold");
  const open = (act.blocked_by ?? []).filter((id) => !view.folded.holds[id]);
  return {
    done: state_ !== "open",
    changed: state_ === "changed",
    waiting: here?.waiting,
    open: open.map((id) => holds.find((each) => each.hold === id)?.title ?? id),
  };
}

export function acts(block, view, blocks) {
  const done = block.acts.filter((act) => standing(act, view, blocks).done).length;
  return h(
    "article.block.acts",
    { "aria-label": block.title },
    h(
      "div.acts-head",
      {},
      h("h2", {}, text(block.title)),
      h("span.count", {}, t("acts.done", { done, of: block.acts.length })),
    ),
    h("progress", {
      max: block.acts.length || 1,
      value: done,
      "aria-label": t("acts.done", { done, of: block.acts.length }),
    }),
    h(
      "ol.plain",
      {},
      block.acts.map((act) => actLine(act, view, blocks)),
    ),
  );
}

function actLine(act, view, blocks) {
  const now = standing(act, view, blocks);
  const tick = h(
    "button.tickbox",
    {
      role: "checkbox",
      "aria-checked": String(now.done),
      "aria-disabled": now.open.length ? "true" : null,
      "data-key": `tick-${act.act}`,
      "aria-label": t("acts.tick", { number: act.number ?? "", text: act.text }),
      onclick: () =>
        now.open.length ? tell(t("acts.blocked", { hold: now.open.join(", ") })) : tickAct(act, now),
    },
    now.done && icon("tick"),
  );
  return h(
    "li",
    { class: ["act", now.done && "done", now.waiting && "waiting"], "data-place": act.ref ?? act.act },
    h("span.balloon", { "aria-hidden": "true" }, act.number ?? "·"),
    h(
      "button.act-text",
      { "data-key": `act-${act.act}`, onclick: () => openAct(act, view, blocks) },
      text(act.text),
      now.changed && h("span.changed", {}, t("acts.changed", { was: act.done_text ?? "" })),
      now.open.length > 0 && h("span.changed", {}, t("acts.blocked", { hold: now.open.join(", ") })),
    ),
    tick,
  );
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
    title: t("acts.title", { number: act.number ?? "" }),
    kind: "act-sheet",
    fill: (close) =>
      h(
        "div.stack",
        {},
        h("p.act-big", {}, text(act.text)),
        now.open.length > 0
          ? h("p.changed", {}, t("acts.blocked", { hold: now.open.join(", ") }))
          : h(
              "button.key.main.wide",
              {
                onclick: () => {
                  tickAct(act, now);
                  close();
                },
              },
              t(now.done ? "acts.undo" : "acts.do"),
            ),
        act.what === "pad" &&
          reshoot &&
          h(
            "button.key.wide",
            {
              onclick: () => {
                close();
                reshoot(act);
              },
            },
            t("acts.reshoot"),
          ),
        h(
          "div.row",
          {},
          act.why && h("button.key", { onclick: () => showWhy(act.why) }, t("why.ask")),
          addPhoto(place, ""),
          addNote(place),
        ),
        notesAt(view, place),
        photosAt(view, place),
      ),
  });
}

let reshoot = null;
export function whenReshot(call) {
  reshoot = call;
}

export function notesAt(view, place) {
  const notes = view.folded.notes.filter((note) => note.place === place);
  return (
    notes.length > 0 &&
    h(
      "ul.plain",
      {},
      notes.map((note) => h("li.noted", {}, note.text)),
    )
  );
}

/** What a tap on a drawing opens: the act with that mark, else why. */
export function openRef(ref, screen, view) {
  const blocks = screen?.blocks ?? [];
  const act = blocks
    .filter((block) => block.kind === "acts")
    .flatMap((block) => block.acts)
    .find((each) => each.ref === ref || each.act === ref);
  return act ? openAct(act, view, blocks) : showWhy(ref);
}
