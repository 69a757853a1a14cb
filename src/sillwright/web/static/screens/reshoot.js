// A pad shot again after it was fixed.

import { view as viewNow } from "../follow.js";
import { keepNew, caseOf } from "./measure.js";
import { askLength } from "../keypad.js";
import { askSetup } from "../reading_forms.js";
import { spot } from "../spots.js";
import { set, state } from "../state.js";
import { t } from "../words.js";

/** Asks what the laser reads down to a pad, from a set-up of its own. */
export async function reshootPad(act) {
  let here = caseOf(viewNow(), 360);
  const name = state.again ?? (await newStand(here));
  if (!name) return;
  here = caseOf(viewNow(), 360);
  const each = spot("pad", { setup: name, place: String(act.number) });
  const answer = await askLength({ title: each.label, unit: here.unit, signed: true, signedWord: t("keypad.aboveBeam"), note: "", nothing: t("keypad.start") });
  if (answer) await keepNew(here, each, answer);
}

async function newStand(here) {
  const made = await askSetup(here, t("setup.again", { n: here.setups.length + 1 }));
  if (!made) return null;
  state.newSetups = [...(state.newSetups ?? []), { ...made, job: state.job }];
  set({ again: made.name });
  return made.name;
}
