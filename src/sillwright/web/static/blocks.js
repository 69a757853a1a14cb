// The blocks a screen is told in: findings, tables, acts, holds, steps, words. One function a kind.

import { acts } from "./acts.js";
import { h } from "./dom.js";
import { finding } from "./findings.js";
import { hold } from "./holds.js";
import { text } from "./lengths.js";
import { photosAt } from "./photos.js";
import { showWhy } from "./why.js";
import { t } from "./words.js";
import { workButton } from "./work.js";

export function blocksOf(screen, view) {
  const blocks = screen?.blocks ?? [];
  return blocks.map((block, n) => (MAKE[block.kind] ?? unknown)(block, view, blocks, n));
}

const unknown = (block) => h("p.block", {}, block.text ?? block.title ?? "");

function answers(words, why, label = words) {
  if (!why) return text(words);
  return h(
    "button.why-value",
    { "aria-label": t("why.of", { label }), onclick: () => showWhy(why) },
    text(words),
  );
}

const MAKE = {
  heading: (block) => h("h2.block", {}, text(block.text)),
  words: (block) => h("p.block", { class: block.style ?? "plain" }, text(block.text)),
  finding,
  card: (block) =>
    h(
      "div.block.card",
      {},
      h("p.card-title", {}, text(block.title)),
      h("p.card-value", {}, answers(block.value, block.why, `${block.title}: ${block.value}`)),
      block.note && h("p.hint", {}, text(block.note)),
    ),
  table,
  acts: (block, view, blocks) => acts(block, view, blocks),
  hold,
  step: () => null, // shown one at a time by the screen itself
  conflict: () => null, // shown where it can be settled
  note: (block) =>
    h(
      "p.block.noted",
      {},
      text(block.text),
      h("span.by", {}, [block.place, block.device, block.at].filter(Boolean).join(" · ")),
    ),
  weather: (block) =>
    h(
      "p.block.noted",
      {},
      t("weather.was", { text: block.text }),
      h("span.by", {}, [block.device, block.at].filter(Boolean).join(" · ")),
    ),
  photo: (block) => h("div.block", {}, photosAt({ folded: { photos: [block] } }, block.place)),
  sign: (block) => h("p.block.noted", {}, t("sign.was", block), h("span.by", {}, block.at ?? "")),
  work: (block) => workButton(block),
};

export const LONG = 24; // characters from which a cell may break its line

function table(block) {
  const align = (n) => block.columns[n]?.align ?? "left";
  return h(
    "div.block.table",
    { tabindex: 0, role: "group", "aria-label": block.title ?? "" },
    h(
      "table",
      {},
      block.title && h("caption", {}, text(block.title)),
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          block.columns.map((column, n) => h("th", { scope: "col", class: align(n) }, text(column.head))),
        ),
      ),
      h(
        "tbody",
        {},
        block.rows.map((row) =>
          h(
            "tr",
            { class: row.marked ? "marked" : null },
            row.cells.map((cell, n) => {
              const style = block.columns[n]?.style;
              return h(
                "td",
                { class: [align(n), style && `cell-${style}`, cell.text.length > LONG && "long"] },
                style === "ring"
                  ? h("span.ring", {}, answers(cell.text, cell.why))
                  : answers(cell.text, cell.why),
              );
            }),
          ),
        ),
      ),
    ),
    block.note && h("p.hint", {}, text(block.note)),
  );
}
