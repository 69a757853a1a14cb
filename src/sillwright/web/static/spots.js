// The places of a wall that can be read, in the words of the reading form: kind of reading and its columns.

import { t } from "./words.js";
import { inches } from "./sill.js";

export const SHOTS = ["mark", "sill", "head", "point", "pad"];

/** Every kind of reading: which columns name its place, and whether it may lie the other way. */
export const KINDS = {
  width: { needs: ["opening", "place"], places: ["bottom", "middle", "top"], edge: true },
  height: { needs: ["opening", "place"], places: ["left", "centre", "right"], edge: true },
  diagonal: { needs: ["opening", "place"], places: ["bottom_left_to_top_right", "bottom_right_to_top_left"] },
  jack: { needs: ["opening", "place"], places: ["left", "right"], signed: true },
  lean_right: { needs: ["opening", "place", "at_height"], places: ["left", "right"], signed: true },
  lean_in: { needs: ["opening", "place", "at_height"], places: ["left", "right"], signed: true },
  plumb_line: { needs: ["opening", "place", "at_height"], places: ["left", "right"], signed: true },
  string_gap: { needs: ["opening"], signed: true },
  thickness: {
    needs: ["opening", "place"],
    places: ["top_left", "top_right", "bottom_left", "bottom_right"],
  },
  wall_string: { needs: ["x"], signed: true },
  sill: { needs: ["setup", "opening", "x"], edge: true, signed: true },
  head: { needs: ["setup", "opening", "x"], edge: true, signed: true },
  mark: { needs: ["setup", "place"], signed: true },
  point: { needs: ["setup", "place", "x"], signed: true },
  pad: { needs: ["setup", "place"], edge: true, signed: true },
};

/** A spot is a kind and the columns that name its place. */
export function spot(table, values) {
  return {
    table,
    values,
    key: keyOf(table, values),
    label: labelOf(table, values),
    signed: KINDS[table].signed,
  };
}

/** The name of a place, as the laptop names it too. */
export function keyOf(table, values) {
  const edge = KINDS[table]?.edge ? values.edge || "outer" : "";
  return [table, values.setup, values.opening, values.place, edge, values.x]
    .map((part) => String(part ?? ""))
    .join("|");
}

export function labelOf(table, values) {
  const place = values.place && KINDS[table].places ? t(`place.${values.place}`) : (values.place ?? "");
  const inner = KINDS[table].edge && values.edge === "inner" ? t("spot.inner") : "";
  return t(`spot.${table}`, { ...values, opening: values.opening ?? "", place, inner })
    .replace(/\s+/g, " ")
    .trim();
}

/** Readings by the spot they were taken at. */
export function bySpot(readings) {
  const found = new Map();
  for (const reading of readings) {
    const key = keyOf(reading.table, reading.values);
    found.set(key, [...(found.get(key) ?? []), reading]);
  }
  return found;
}

export function tapeSpots(opening) {
  const all = (table) => KINDS[table].places.map((place) => spot(table, { opening, place }));
  return { widths: all("width"), heights: all("height"), diagonals: all("diagonal"), jacks: all("jack") };
}

export function levelSpots(opening) {
  const all = (table) => KINDS[table].places.map((place) => spot(table, { opening, place }));
  return {
    right: all("lean_right"),
    inward: all("lean_in"),
    strings: [spot("string_gap", { opening })],
    thick: all("thickness"),
  };
}

/** Set-ups of the job and those first named by a reading, in order. */
export function setupsOf(view) {
  const unit = view.units;
  const found = [...(view.document.setup ?? []), ...(view.document.reshoot ?? [])].map((each) => ({
    name: each.name,
    x: String(each.x),
    turned: each.turned ?? null,
    known: true,
  }));
  for (const { table, values } of view.readings) {
    if (SHOTS.includes(table) && !found.some((each) => each.name === values.setup)) {
      found.push({
        name: values.setup,
        x: values.setup_x ?? "",
        turned: values.turned ?? null,
        known: false,
      });
    }
  }
  return found.map((each) => ({ ...each, x_in: inches(each.x, unit) }));
}

/** Where along the wall an opening's sill is worth shooting: where it was, else from jack to jack. */
export function stationsOf(view, opening, shape) {
  const unit = view.units;
  const shot = view.readings
    .filter((r) => r.table === "sill" && r.values.opening === opening)
    .map((r) => ({ text: String(r.values.x), x: inches(r.values.x, unit) }));
  const found = new Map(shot.filter(({ x }) => x !== null).map((each) => [each.x.toFixed(2), each]));
  if (shape.position_known) {
    const step = unit === "mm" ? 400 / 25.4 : 16;
    const inside = unit === "mm" ? 50 / 25.4 : 2;
    const [from, to] = [shape.left + inside, shape.right - inside];
    const count = Math.max(1, Math.ceil((to - from) / step));
    for (let n = 0; n <= count; n += 1) {
      const x = from + ((to - from) * n) / count;
      const text = unit === "mm" ? String(Math.round((x * 25.4) / 5) * 5) : String(Math.round(x));
      const place = inches(text, unit);
      if (![...found.values()].some((each) => Math.abs(each.x - place) < step * 0.45)) {
        found.set(place.toFixed(2), { text, x: place });
      }
    }
  }
  return [...found.values()].sort((a, b) => a.x - b.x);
}
