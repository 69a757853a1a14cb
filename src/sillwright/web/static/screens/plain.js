// Set, heights, water, deck, lists, days, proof: drawing first, then what the laptop tells, in blocks.

import { openRef } from "../acts.js";
import { blocksOf } from "../blocks.js";
import { findingsLine } from "../findings.js";
import { stepsOf } from "../steps.js";
import { h } from "../dom.js";
import { drawingsOf } from "../drawings.js";
import { isChecked } from "../follow.js";
import { addNote } from "../photos.js";
import * as queue from "../queue.js";
import { field, valueOf } from "../reading_forms.js";
import { askWords, sheet } from "../sheet.js";
import { state, tell } from "../state.js";
import { reshootPanel } from "./reshoot.js";
import { t } from "../words.js";

const WIDE = ["heights", "deck"]; // drawings with much to read on them: the room of the whole page, then the words

export function plainScreen(name, view) {
  const screen = state.screens[name];
  if (!screen)
    return h(
      "div",
      {},
      h("h1", {}, t(`screen.${name}`)),
      h("p.lead", {}, t(state.reach === "no" ? "plain.notHere" : "plain.asking")),
    );
  const pictures = new Set(
    (screen.blocks ?? []).filter((block) => block.kind === "step").map((block) => block.svg),
  );
  if (!screen.blocks.length && !screen.svg.length && !screen.faults.length)
    return h("div", {}, h("h1", {}, t(`screen.${name}`)), h("p.lead", {}, t("plain.nothing")));
  const drawings = { ...screen, svg: (screen.svg ?? []).filter((each) => !pictures.has(each.id)) };
  return h(
    "div",
    {},
    h("h1", {}, t(`screen.${name}`)),
    !isChecked(name) && h("p.unchecked", { role: "status" }, t("plain.unchecked")),
    findingsLine(screen),
    stepsOf(screen, view),
    h(
      "div.columns",
      { class: WIDE.includes(name) ? "over" : null },
      h("div.drawn", {}, drawingsOf(drawings, { onTap: (ref) => openRef(ref, screen, view) })),
      h("div.beside", {}, blocksOf(inOrder(screen), view), also(name, view)),
    ),
  );
}

/** What stops the work first, then the work, then what else to know. */
function inOrder(screen) {
  const isSet = screen.screen === "set"; // there the acts are what a hand reaches for
  const rank = ({ kind, severity, answer }) => {
    if (kind === "finding") return severity === "stop" && !answer ? 0 : 4;
    return isSet && kind === "hold" ? 3 : isSet && kind !== "acts" ? 2 : 1;
  };
  return { ...screen, blocks: [...screen.blocks].sort((one, other) => rank(one) - rank(other)) };
}

/** What a screen lets you add besides ticks. */
function also(name, view) {
  if (name === "set") return reshootPanel(view, state.screens.set);
  if (name === "days")
    return h(
      "div.row",
      {},
      h("button.key", { "data-key": "weather", onclick: weather }, t("weather.add")),
      addNote(""),
    );
  if (name === "proof")
    return h(
      "div.row",
      {},
      h("button.key", { "data-key": "sign", onclick: () => signOff(view) }, t("sign.add")),
    );
  return null;
}

async function weather() {
  const text = await askWords({ title: t("weather.add"), label: t("weather.label"), button: t("note.done") });
  if (!text) return;
  await queue.keep(state.job, "weather.note", { text });
  tell(t("note.kept"));
}

async function signOff() {
  const signed = await sheet({
    title: t("sign.add"),
    fill: (close) => {
      const parts = ["name", "role", "what"].map((each) =>
        field(t(`sign.${each}`), { required: true, maxlength: 120 }),
      );
      return h(
        "form.stack",
        {
          onsubmit: (event) => {
            event.preventDefault();
            const [name, role, what] = parts.map(valueOf);
            close({ name, role, what });
          },
        },
        parts,
        h("button.key.main", { type: "submit" }, t("sign.done")),
      );
    },
  });
  if (!signed) return;
  await queue.keep(state.job, "sign", signed);
  tell(t("sign.kept", signed));
}
