// Steps one at a time, with a big picture and big buttons.

import { notesAt, openRef } from "./acts.js";
import { text } from "./lengths.js";
import { h } from "./dom.js";
import { drawingBox } from "./drawings.js";
import { addNote, addPhoto, photosAt } from "./photos.js";
import * as queue from "./queue.js";
import { set, state } from "./state.js";
import { showWhy } from "./why.js";
import { t } from "./words.js";

/** Steps one at a time, with a big picture and two big buttons. */
export function stepsOf(screen, view) {
  const steps = (screen?.blocks ?? []).filter((block) => block.kind === "step");
  if (!steps.length) return null;
  const at = Math.min(state.step[screen.screen] ?? 0, steps.length - 1);
  const go = (n) => set({ step: { ...state.step, [screen.screen]: n }, toStep: true });
  const step = steps[at];
  const picture = (screen.svg ?? []).find((each) => each.id === step.svg);
  const done = view.folded.acts[step.act];
  return h(
    "article.block.step",
    { "aria-label": t("step.of", { n: at + 1, of: steps.length }), "aria-live": "polite" },
    h("p.step-count", {}, t("step.of", { n: at + 1, of: steps.length })),
    h("h2", {}, text(step.title)),
    h(
      "div.step-body",
      {},
      picture && drawingBox(picture, (ref) => openRef(ref, screen, view), ""),
      h("div", {}, told(step, steps, at, done, go, view)),
    ),
  );
}

/** What a step says, what was noted at it, and the way on. */
function told(step, steps, at, done, go, view) {
  return [
    h(
      "ul.step-lines",
      {},
      (step.lines ?? []).map((line) => h("li", {}, text(line))),
    ),
    step.why && h("button.link", { onclick: () => showWhy(step.why) }, t("why.ask")),
    h("div.row", {}, addPhoto(step.act, step.act), addNote(step.act)),
    notesAt(view, step.act),
    photosAt(view, step.act),
    h(
      "button",
      {
        class: ["key", "wide", done ? "" : "main"],
        "data-key": "step-done",
        "aria-pressed": String(Boolean(done)),
        onclick: () => stepDone(step, done, () => !done && at + 1 < steps.length && go(at + 1)),
      },
      t(done ? "step.undo" : "step.done"),
    ),
    h(
      "div.ends",
      {},
      h(
        "button.key",
        { "data-key": "step-back", disabled: at === 0, onclick: () => go(at - 1) },
        t("step.back"),
      ),
      h(
        "button.key",
        {
          "data-key": "step-next",
          disabled: at === steps.length - 1,
          onclick: () => go(at + 1),
        },
        t("step.next"),
      ),
    ),
  ];
}

async function stepDone(step, done, after) {
  await queue.keep(
    state.job,
    done ? "act.undone" : "act.done",
    done ? { act: step.act } : { act: step.act, text: step.title },
  );
  after();
}
