// Hold points: the work waits until somebody has looked, or has said why it goes on without.

import { text } from "./lengths.js";
import { h } from "./dom.js";
import { stamp } from "./findings.js";
import { addPhoto, photosAt } from "./photos.js";
import * as queue from "./queue.js";
import { askSure, askWords } from "./sheet.js";
import { state, tell } from "./state.js";
import { t } from "./words.js";

export function hold(block, view) {
  const closed = view.folded.holds[block.hold] ?? null;
  return h(
    "article",
    {
      class: ["block", "hold", closed ? "closed" : "open"],
      "aria-label": block.title,
      "data-place": block.hold,
    },
    stamp(closed ? "watch" : "stop"),
    h(
      "div.stack",
      {},
      h("h2", {}, text(block.title)),
      h("p", {}, text(block.text)),
      block.photo && !closed && h("p.hint", {}, t("hold.photo")),
      photosAt(view, block.hold),
      closed &&
        h(
          "p.noted",
          {},
          t(closed.how === "override" ? "hold.overridden" : "hold.ticked", {
            reason: closed.reason ?? "",
            device: closed.device ?? "",
          }),
        ),
      block.source && h("p.source", {}, block.source),
      h(
        "div.row",
        {},
        addPhoto(block.hold, ""),
        ...(closed
          ? [
              h(
                "button.key",
                { onclick: () => queue.keep(state.job, "hold.undo", { hold: block.hold }) },
                t("hold.undo"),
              ),
            ]
          : [
              h(
                "button.key.main",
                { "data-key": `hold-${block.hold}`, onclick: () => tickHold(block, view) },
                t("hold.tick"),
              ),
              h("button.key", { onclick: () => override(block) }, t("hold.override")),
            ]),
      ),
    ),
  );
}

async function tickHold(block, view) {
  const photo = view.folded.photos.findLast?.((each) => each.place === block.hold)?.photo;
  if (
    block.photo &&
    !photo &&
    !(await askSure({ title: block.title, text: t("hold.noPhoto"), yes: t("hold.tick") }))
  )
    return;
  await queue.keep(state.job, "hold.tick", { hold: block.hold, ...(photo ? { photo } : {}) });
  tell(t("hold.kept", { title: block.title }));
}

async function override(block) {
  const reason = await askWords({
    title: t("hold.override"),
    label: t("hold.why"),
    button: t("hold.override"),
    long: true,
  });
  if (reason) await queue.keep(state.job, "hold.override", { hold: block.hold, reason });
}
