// Pads shot again after they were fixed: one stand, both marks, every pad.

import { h } from "../dom.js";
import { view as viewNow } from "../follow.js";
import { glyphs } from "../lengths.js";
import { askSetup } from "../reading_forms.js";
import { spot } from "../spots.js";
import { set, state } from "../state.js";
import { t } from "../words.js";
import { readSpot } from "../taking.js";
import { caseOf } from "../wall_case.js";

/** Set-ups that pads were, or are about to be, shot again from. */
function stands(here) {
  const filed = (here.view.document.reshoot ?? []).map((each) => each.name);
  const shot = here.view.readings
    .filter((reading) => reading.table === "pad")
    .map((reading) => reading.values.setup);
  const made = (state.newSetups ?? [])
    .filter((each) => each.job === state.job && each.again)
    .map((each) => each.name);
  return [...new Set([...filed, ...shot, ...made])];
}

/** The pads as big buttons under the stand of the laser. */
export function reshootPanel(view, screen) {
  const pads = (screen.blocks ?? [])
    .filter((block) => block.kind === "acts")
    .flatMap((block) => block.acts)
    .filter((act) => act.what === "pad");
  if (!pads.length) return null;
  const here = caseOf(view, 360);
  const names = stands(here);
  const name = names.includes(state.again) ? state.again : names.at(-1);
  const button = (each, label) => {
    const readings = here.spots.get(each.key) ?? [];
    return h(
      "button.key.pad-key",
      {
        "data-key": each.key,
        "data-ref": each.key,
        onclick: () => readSpot(caseOf(viewNow(), 360), each),
      },
      h("span", {}, label),
      h("span.value", {}, readings.length ? glyphs(String(readings.at(-1).values.value)) : "+"),
    );
  };
  const marks = name
    ? (view.document.mark ?? []).map((mark) =>
        button(spot("mark", { setup: name, place: mark.name }), mark.name),
      )
    : [];
  return h(
    "article.block",
    { "aria-label": t("again.title") },
    h("h2", {}, t("again.title")),
    h("p.hint", {}, t("again.lead")),
    names.length > 1 &&
      h(
        "select",
        {
          "aria-label": t("measure.setup"),
          "data-key": "again",
          onchange: (event) => set({ again: event.target.value }),
        },
        names.map((each) => h("option", { value: each, selected: each === name }, each)),
      ),
    name &&
      h(
        "div.pad-keys",
        {},
        marks,
        pads.map((act) =>
          button(spot("pad", { setup: name, place: String(act.number) }), t("again.pad", { n: act.number })),
        ),
      ),
    h("button.key.wide", { "data-key": "new-again", onclick: newStand }, t("measure.newSetup")),
  );
}

async function newStand() {
  const here = caseOf(viewNow(), 360);
  const made = await askSetup(here, t("setup.again", { n: stands(here).length + 1 }));
  if (!made) return null;
  state.newSetups = [...(state.newSetups ?? []), { ...made, again: "yes", job: state.job }];
  set({ again: made.name });
  return made.name;
}

/** Asks what the laser reads down to one pad. */
export async function reshootPad(act) {
  const names = stands(caseOf(viewNow(), 360));
  const name = names.includes(state.again) ? state.again : (names.at(-1) ?? (await newStand()));
  if (name) readSpot(caseOf(viewNow(), 360), spot("pad", { setup: name, place: String(act.number) }));
}
