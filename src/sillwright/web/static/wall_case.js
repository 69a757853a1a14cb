// Everything the measuring screens draw from, gathered once a drawing.

import { inches, redraw } from "./sill.js";
import { bySpot, setupsOf } from "./spots.js";
import { state } from "./state.js";
import { shapeOf } from "./wall.js";

/** Everything the screen draws from, made once a drawing. */
export function caseOf(view, width) {
  const measure = state.screens.measure ?? null;
  const unit = view.units;
  const names = (view.document.opening ?? []).map((each) => each.name);
  const opening = names.includes(state.opening) ? state.opening : (names[0] ?? null);
  const shapes = names.map((name) => shapeOf(view, measure, name));
  const setups = allSetups(view, unit);
  const setup = setups.find((each) => each.name === state.setup) ?? setups.at(-1) ?? null;
  const spots = bySpot(view.readings);
  const moved = measure?.gain
    ? redraw(measure, view.readings, unit)
    : { before: [], points: [], moved: view.readings.length > 0 };
  return { view, width, measure, unit, names, opening, shapes, setups, setup, spots, moved };
}

/** Set-ups of the job, and those just named here from which nothing was shot yet. */
function allSetups(view, unit) {
  const found = setupsOf(view);
  const made = (state.newSetups ?? []).filter(
    (each) => each.job === state.job && !found.some((one) => one.name === each.name),
  );
  return [...found, ...made.map((each) => ({ ...each, known: false, x_in: inches(each.x, unit) }))];
}
