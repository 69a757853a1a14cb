// The sill as this phone knows it before the laptop has checked: the last adjustment, moved by one matrix
// product with what was read since. Pure.

import { parse } from "./lengths.js";

const inches = (text, unit) => {
  try {
    return parse(String(text), unit).value;
  } catch {
    return null;
  }
};

/**
 * Heights of the points of the last adjustment, with what was read since put in.
 * Args: measure: the laptop's screen; readings: those of the job as it stands
 * Returns { before, points: [{opening, line, edge, x, z, sd}], moved: whether anything was read since }
 */
export function redraw(measure, readings, unit) {
  const { points, rows, readings: known, read_in, more = [] } = measure.gain;
  const steps = [];
  const now = new Map(readings.map((reading) => [reading.reading_id, reading]));
  known.forEach((id, column) => {
    const value = now.has(id) ? inches(now.get(id).values.value, unit) : null;
    if (value !== null && Math.abs(value - read_in[column]) > 1e-9) {
      steps.push([value - read_in[column], (p) => rows[p][column]]);
    }
  });
  for (const [candidate, values] of fresh(readings, new Set(known), more, unit)) {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    steps.push([mean - candidate.expected_in, (p) => candidate.column[p]]);
  }
  const before = points.map(({ opening, line, edge, x_in: x, z_in: z, sd_in: sd }) => ({
    opening,
    line,
    edge,
    x,
    z,
    sd,
  }));
  const moved = before.map((point, p) => ({
    ...point,
    z: point.z + steps.reduce((sum, [delta, gain]) => sum + delta * gain(p), 0),
  }));
  const gone = known.some((id) => !now.has(id));
  const added = readings.some((reading) => !known.includes(reading.reading_id) && reading.waiting);
  return { before, points: moved, moved: steps.length > 0 || gone || added };
}

/** Readings that the last adjustment does not have, by the candidate that tells what they do. */
function fresh(readings, known, more, unit) {
  const found = new Map();
  for (const reading of readings) {
    if (known.has(reading.reading_id)) continue;
    const candidate = candidateFor(more, reading, unit);
    const value = inches(reading.values.value, unit);
    if (candidate && value !== null) found.set(candidate, [...(found.get(candidate) ?? []), value]);
  }
  return found;
}

const SAME = ["setup", "opening", "place", "edge"];
const edgeOf = (values) => values.edge || "outer";

/** What the wall says of a place that is about to be read, null where it cannot tell. */
export function candidateFor(more, { table, values }, unit) {
  return (
    more.find(
      (each) =>
        each.table === table &&
        SAME.every((name) =>
          name === "edge"
            ? edgeOf(each.values) === edgeOf(values)
            : (each.values[name] ?? "") === (values[name] ?? ""),
        ) &&
        Math.abs((inches(each.values.x || 0, unit) ?? 0) - (inches(values.x || 0, unit) ?? 0)) < 0.51,
    ) ?? null
  );
}

/** Points of one edge of an opening's sill, from left to right. */
export function edgeOfSill(points, opening, edge, line = "sill") {
  return points
    .filter((p) => p.opening === opening && p.line === line && p.edge === edge)
    .sort((a, b) => a.x - b.x);
}

/** Height of a line of points at x, level beyond its ends. */
export function heightAt(points, x) {
  if (!points.length) return null;
  const after = points.findIndex((point) => point.x >= x);
  if (after <= 0) return (after === 0 ? points[0] : points.at(-1)).z;
  const [left, right] = [points[after - 1], points[after]];
  return left.z + ((right.z - left.z) * (x - left.x)) / (right.x - left.x);
}

/** Sill points straight from the shots of one set-up, where nothing has been adjusted yet. */
export function asShot(readings, opening, unit) {
  const shots = readings.filter((r) => r.table === "sill" && r.values.opening === opening);
  const count = (name) => shots.filter((r) => r.values.setup === name).length;
  const names = [...new Set(shots.map((r) => r.values.setup))].sort((a, b) => count(b) - count(a));
  return shots
    .filter((r) => r.values.setup === names[0])
    .map((r) => ({
      opening,
      line: "sill",
      edge: edgeOf(r.values),
      sd: 0,
      x: inches(r.values.x, unit) ?? 0,
      z: -(inches(r.values.value, unit) ?? 0),
    }))
    .sort((a, b) => a.x - b.x);
}

/**
 * What goes under each pad now, front and back [in], never less than nothing: what the laptop said, less what
 * the sill has risen by since; an edge that the laptop has not seen by the line alone.
 */
export function padsNow(pads, lines, points, before) {
  return pads.map((pad) => {
    const line = lines.find((each) => each.openings.includes(pad.opening));
    const at = (where, edge) => heightAt(edgeOfSill(where, pad.opening, edge), pad.x_in);
    const gap = (edge, told) => {
      const [now, then] = [at(points, edge), at(before, edge)];
      if (told !== null && now !== null && then !== null) return Math.max(0, told + then - now);
      return told ?? (now === null || !line ? null : Math.max(0, line.z_in - now));
    };
    return { ...pad, front_now: gap("outer", pad.front_in), back_now: gap("inner", pad.back_in) };
  });
}

export { inches };
