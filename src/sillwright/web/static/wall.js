// The wall as it is drawn for tapping: from outside, from numbers alone, so that it works with no signal.
// Widths are to scale; where heights are not, the drawing says how much they are stretched.

import { s } from "./dom.js";
import { glyphs, show } from "./lengths.js";
import { edgeOfSill, heightAt, inches } from "./sill.js";
import { t } from "./words.js";

const CHIP = { width: 74, height: 40 };
const TAP = 48; // least size of anything a glove must hit
const GAP = 6;
const EDGE = CHIP.width / 2 + 8;
const NARROWEST = 250; // three cards side by side
const TALLEST = 480;

const line = (x1, y1, x2, y2, kind) => s(`line.${kind}`, { x1, y1, x2, y2 });
const words = (x, y, text, kind = "name", anchor = "middle") =>
  s(`text.${kind}`, { x, y, "text-anchor": anchor }, text);
const path = (points, kind) => s(`polyline.${kind}`, { points: points.map((p) => p.join(",")).join(" ") });

/** The shape of an opening as far as it is known [in]; what is not known is taken from its unit. */
export function shapeOf(view, measure, name) {
  const known = measure?.wall?.openings.find((each) => each.name === name);
  const unit = view.units;
  const own = (view.document.unit ?? []).find((each) => each.opening === name) ?? {};
  const width = (inches(own.frame_width, unit) ?? 36) + 2 * (inches(own.least_side_clearance, unit) ?? 0.25);
  const height = (inches(own.frame_height, unit) ?? 48) + 0.75;
  const read = (table, place) => {
    const found = view.readings.find(
      (r) => r.table === table && r.values.opening === name && r.values.place === place,
    );
    return found ? inches(found.values.value, unit) : null;
  };
  const left = read("jack", "left") ?? (known?.position_known ? known.left_in : null);
  const wide =
    read("width", "bottom") ?? read("width", "middle") ?? (known?.right_in - known?.left_in || width);
  const right = read("jack", "right") ?? (left !== null ? left + wide : null);
  const sill = known?.sill?.length ? known.sill : [];
  const head = known?.head?.length ? known.head : [];
  const bottom = known?.level_known && sill.length ? sill[0][1] : 0;
  return {
    name,
    left: left ?? (right !== null ? right - wide : 0),
    right: right ?? wide,
    position_known: left !== null || right !== null,
    level_known: Boolean(known?.level_known),
    bottom,
    height:
      read("height", "centre") ??
      read("height", "left") ??
      (head.length && sill.length ? head[0][1] - sill[0][1] : height),
  };
}

/** A place that can be tapped: a card with the reading on it. */
export function chip({ x, y, spot, readings, mark, onTap, width = CHIP.width }) {
  const last = readings.at(-1);
  const text = last ? glyphs(String(last.values.value)) : "+";
  const count = readings.length > 1 ? ` ×${readings.length}` : "";
  const state = !last ? "empty" : readings.some((r) => r.waiting) ? "waiting" : (mark ?? "read");
  const said = last
    ? t("wall.read", { label: spot.label, value: last.values.value })
    : t("wall.unread", { label: spot.label });
  const long = text.length + count.length;
  const tap = (event) => {
    if (event.type === "keydown" && !["Enter", " "].includes(event.key)) return;
    event.preventDefault();
    onTap(spot, readings);
  };
  return s(
    "g.spot",
    {
      class: state,
      role: "button",
      tabindex: 0,
      "data-ref": spot.key,
      "data-key": spot.key,
      "aria-label": state === "waiting" ? `${said}. ${t("wall.waiting")}` : said,
      onclick: tap,
      onkeydown: tap,
      transform: `translate(${x} ${y})`,
    },
    s("rect.hit", { x: -Math.max(width, TAP) / 2, y: -TAP / 2, width: Math.max(width, TAP), height: TAP }),
    s("rect.card", { x: -width / 2, y: -CHIP.height / 2, width, height: CHIP.height, rx: 4 }),
    s(
      "text",
      { "text-anchor": "middle", y: 6, class: long > 11 ? "tiny" : long > 8 ? "small" : "" },
      text,
      count,
    ),
    state === "waiting" && s("circle.dot", { cx: width / 2 - 7, cy: -CHIP.height / 2 + 7, r: 4 }),
    ["doubtful", "aside"].includes(mark) &&
      s("path.strike", {
        d: `M${-width / 2 + 6} ${CHIP.height / 2 - 6}L${width / 2 - 6} ${-CHIP.height / 2 + 6}`,
      }),
  );
}

function drawing(width, height, label, ...marks) {
  return s(
    "svg.wall",
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: "group",
      "aria-label": label,
    },
    hatch(),
    marks,
  );
}

function hatch() {
  return s(
    "defs",
    {},
    s(
      "pattern",
      {
        id: "pad-hatch",
        patternUnits: "userSpaceOnUse",
        width: 5,
        height: 5,
        patternTransform: "rotate(45)",
      },
      s("line.hatch", { x1: 0, y1: 2.5, x2: 5, y2: 2.5 }),
    ),
  );
}

/** The whole wall, to scale; a tap chooses an opening. */
export function overview({ width, view, measure, shapes, chosen, onPick }) {
  const lines = measure?.wall?.lines ?? [];
  const placed = layout(shapes);
  const low = Math.min(...placed.map((o) => o.bottom), ...lines.map((l) => l.z_in)) - 4;
  const high = Math.max(...placed.map((o) => o.bottom + o.height)) + 4;
  const from = Math.min(0, ...placed.map((o) => o.left)) - 2;
  const to = Math.max(...placed.map((o) => o.right)) + 4;
  const scale = Math.min((width - 16) / (to - from), 150 / (high - low));
  const x = (inch) => 8 + (inch - from) * scale;
  const y = (inch) => 24 + (high - inch) * scale;
  const height = y(low) + 8;
  const marks = [
    line(x(0), 18, x(0), y(low), "chalk"),
    words(Math.max(x(0), 4), 13, t("wall.mark"), "chalk-name", "start"),
  ];
  for (const each of lines) {
    const own = placed.filter((o) => each.openings.includes(o.name));
    if (own.length) {
      marks.push(
        line(
          x(Math.min(...own.map((o) => o.left))) - 6,
          y(each.z_in),
          x(Math.max(...own.map((o) => o.right))) + 6,
          y(each.z_in),
          "chalk",
        ),
      );
    }
  }
  for (const each of placed) {
    const [left, right, top, bottom] = [
      x(each.left),
      x(each.right),
      y(each.bottom + each.height),
      y(each.bottom),
    ];
    const wide = Math.max(right - left, TAP);
    const high_ = Math.max(bottom - top, TAP);
    const pick = (event) => {
      if (event.type === "keydown" && !["Enter", " "].includes(event.key)) return;
      event.preventDefault();
      onPick(each.name);
    };
    marks.push(
      s(
        "g.pick",
        {
          class: each.name === chosen ? "chosen" : "",
          role: "button",
          tabindex: 0,
          "data-ref": `opening.${each.name}`,
          "data-key": `opening.${each.name}`,
          "aria-pressed": String(each.name === chosen),
          "aria-label": t("wall.opening", { name: each.name }),
          onclick: pick,
          onkeydown: pick,
        },
        s("rect.hit", {
          x: (left + right - wide) / 2,
          y: (top + bottom - high_) / 2,
          width: wide,
          height: high_,
        }),
        s("rect.opening", {
          x: left,
          y: top,
          width: right - left,
          height: bottom - top,
          class: each.position_known ? "" : "unknown",
        }),
        words((left + right) / 2, (top + bottom) / 2 + 7, each.name),
      ),
    );
  }
  return drawing(width, height, t("wall.overview", { title: view.title ?? "" }), marks);
}

/** Openings whose place is not known stand one beside another, so that they can be tapped. */
function layout(shapes) {
  let free = Math.max(0, ...shapes.filter((o) => o.position_known).map((o) => o.right)) + 16;
  return shapes.map((each) => {
    if (each.position_known) return each;
    const wide = each.right - each.left;
    const left = free;
    free += wide + 16;
    return { ...each, left, right: left + wide };
  });
}

/** An opening large, with every place the tape goes. */
export function tapeView({ width, shape, spots, read, mark, onTap }) {
  const { place, box, foot, note } = openingBox(width, shape, 320);
  const at = (across, up) => [box.left + across * box.width, box.bottom - up * box.height];
  const marks = [s("rect.opening", { x: box.left, y: box.top, width: box.width, height: box.height })];
  const chips = [];
  const add = (spot, x, y) => chips.push(chip({ x, y, spot, readings: read(spot), mark: mark(spot), onTap }));
  const levels = { bottom: 0.09, middle: 0.5, top: 0.91 };
  for (const spot of spots.widths) {
    const [x, y] = at(0.5, levels[spot.values.place]);
    marks.push(dimension(box.left, y, box.right, y));
    add(spot, x, y);
  }
  const sides = { left: 0.14, centre: 0.5, right: 0.86 };
  for (const spot of spots.heights) {
    const [x, y] = at(sides[spot.values.place], 0.705);
    marks.push(dimension(x, box.top, x, box.bottom));
    add(spot, x, y);
  }
  for (const spot of spots.diagonals) {
    const rising = spot.values.place === "bottom_left_to_top_right";
    marks.push(
      line(rising ? box.left : box.right, box.bottom, rising ? box.right : box.left, box.top, "string"),
    );
    add(spot, ...at(rising ? 0.27 : 0.73, 0.27));
  }
  marks.push(line(place.mark, box.top - 10, place.mark, foot + 108, "chalk"));
  spots.jacks.forEach((spot, n) => {
    const y = foot + 30 + n * 52;
    const x = spot.values.place === "left" ? box.left : box.right;
    marks.push(line(x, box.bottom, x, y + 6, "thin"), dimension(place.mark, y, x, y));
    add(spot, n ? (place.mark + x) / 2 : Math.max(place.mark + CHIP.width / 2 + 8, (place.mark + x) / 2), y);
  });
  marks.push(words(place.mark + 4, foot + 124, t("wall.fromMark"), "chalk-name", "start"));
  return drawing(width, foot + 132, t("wall.tape", { name: shape.name }), note, marks, chips);
}

/** An opening large, with leans, strings and thicknesses. */
export function levelView({ width, shape, spots, read, mark, onTap }) {
  const { box, foot, note } = openingBox(width, shape, 330);
  const marks = [
    s("rect.opening", { x: box.left, y: box.top, width: box.width, height: box.height }),
    line(box.left, box.bottom, box.right, box.top, "string"),
    line(box.right, box.bottom, box.left, box.top, "string"),
  ];
  const chips = [];
  const add = (spot, x, up, caption) => {
    const y = box.bottom - up * box.height;
    chips.push(
      words(x, y - CHIP.height / 2 - 5, caption, "caption"),
      chip({ x, y, spot, readings: read(spot), mark: mark(spot), onTap }),
    );
  };
  const side = (place) =>
    place.includes("left") ? box.left + CHIP.width / 2 + GAP : box.right - CHIP.width / 2 - GAP;
  for (const spot of spots.thick)
    add(spot, side(spot.values.place), spot.values.place.startsWith("top") ? 0.86 : 0.09, t("wall.thick"));
  for (const spot of spots.right) add(spot, side(spot.values.place), 0.61, t("wall.leansRight"));
  for (const spot of spots.inward) add(spot, side(spot.values.place), 0.35, t("wall.leansIn"));
  for (const spot of spots.strings) add(spot, (box.left + box.right) / 2, 0.47, t("wall.strings"));
  return drawing(width, foot + 12, t("wall.level", { name: shape.name }), note, marks, chips);
}

function dimension(x1, y1, x2, y2) {
  const tick = (x, y) => s("line.thin", { x1: x - 4, y1: y + 4, x2: x + 4, y2: y - 4 });
  return s("g.dimension", {}, line(x1, y1, x2, y2, "thin"), tick(x1, y1), tick(x2, y2));
}

/** Where an opening goes on the paper: as wide as there is room, as high as its cards need. */
function openingBox(width, shape, least) {
  const margin = 26;
  const room = Math.min(width - margin - 14, 560);
  const slender = shape.height / (shape.right - shape.left);
  const wide = Math.min(room, Math.max(NARROWEST, TALLEST / slender));
  const high = Math.min(Math.max(wide * slender, least), TALLEST);
  const stretch = high / (wide * slender);
  const left = margin + (width - margin - 14 - wide) / 2;
  const box = { left, right: left + wide, top: 26, bottom: 26 + high, width: wide, height: high };
  const note = words(
    left,
    15,
    Math.abs(stretch - 1) < 0.02 ? t("wall.toScale") : t("wall.stretched", { n: stretch.toFixed(1) }),
    "caption",
    "start",
  );
  return { box, foot: box.bottom, place: { mark: left - 18 }, note };
}

/** The sill of an opening under the laser: heights stretched, a card for every place, front and back. */
export function sillView({
  width,
  shape,
  points,
  line: level,
  pads,
  stations,
  spotAt,
  heads,
  read,
  mark,
  onTap,
  unit,
  checked,
}) {
  const edges = {
    outer: goneOn(edgeOfSill(points, shape.name, "outer"), pads, level),
    inner: edgeOfSill(points, shape.name, "inner"),
  };
  const count = Math.max(stations.length, 1);
  const whole = Math.max(width, 2 * EDGE + (count - 1) * (CHIP.width + GAP));
  const from = shape.position_known ? shape.left : Math.min(...stations.map((each) => each.x), 0);
  const to = shape.position_known ? shape.right : Math.max(...stations.map((each) => each.x), from + 30);
  const x = (inch) => EDGE + ((inch - from) / (to - from || 1)) * (whole - 2 * EDGE);
  const scale = (whole - 2 * EDGE) / (to - from || 1);
  const zs = [...edges.outer, ...edges.inner].map((point) => point.z);
  if (level) zs.push(level.z_in);
  const [low, high] = zs.length ? [Math.min(...zs), Math.max(...zs)] : [0, 0];
  const stretch = zs.length
    ? Math.min(100, Math.max(1, Math.floor(70 / (Math.max(high - low, 0.3) * scale))))
    : 1;
  const top = heads.length ? 112 : 52;
  const y = (z) => top + 26 + (high - z) * scale * stretch;
  const floor = y(low) + 34;
  const marks = [];
  if (edges.outer.length) {
    const sill = [
      [x(from), y(edges.outer[0].z)],
      ...edges.outer.map((p) => [x(p.x), y(p.z)]),
      [x(to), y(edges.outer.at(-1).z)],
    ];
    marks.push(
      s("polygon.wood", {
        points: [[x(from), floor], ...sill, [x(to), floor]].map((p) => p.join(",")).join(" "),
      }),
    );
    marks.push(...pads.map((pad) => padMark(pad, level, x, y, unit)));
    if (edges.inner.length > 1)
      marks.push(
        path(
          edges.inner.map((p) => [x(p.x), y(p.z)]),
          "back",
        ),
      );
    marks.push(path(sill, checked ? "sill" : "sill unchecked"));
  }
  marks.push(line(x(from), top - 26, x(from), floor, "jack"), line(x(to), top - 26, x(to), floor, "jack"));
  if (level) {
    marks.push(
      line(x(from) - 8, y(level.z_in), x(to) + 8, y(level.z_in), "chalk"),
      words(4, y(level.z_in) - 5, t("wall.level_line"), "chalk-name", "start"),
    );
  }
  const note = [
    words(8, 15, zs.length ? t("wall.stretched", { n: stretch }) : t("wall.noShots"), "caption", "start"),
    !checked && words(Math.min(width, whole) - 8, 15, t("wall.unchecked"), "crayon-name", "end"),
  ];
  return drawing(
    whole,
    floor + 128,
    t("wall.laser", { name: shape.name }),
    note,
    headCards(heads, whole, read, mark, onTap),
    marks,
    stationCards({ stations, whole, x, floor, edges, y, spotAt, read, mark, onTap }),
  );
}

/** The sill beyond its last shots, as the pads there say: the laptop goes on along it. */
function goneOn(shot, pads, level) {
  if (!shot.length || !level) return shot;
  const beyond = pads
    .filter((pad) => pad.front_now > 0 && (pad.x_in < shot[0].x || pad.x_in > shot.at(-1).x))
    .map((pad) => ({ ...shot[0], x: pad.x_in, z: level.z_in - pad.front_now }));
  return [...shot, ...beyond].sort((one, other) => one.x - other.x);
}

function padMark(pad, level, x, y, unit) {
  const front = pad.front_now ?? 0;
  if (!level || front <= 0) return null;
  const [left, right] = [x(pad.x_in) - 9, x(pad.x_in) + 9];
  const top = y(level.z_in);
  const bottom = y(level.z_in - front);
  const text =
    unit === "in" ? glyphs(show(front, { graduation: 1 / 32 })) : show(front, { unit, graduation: 0.5 });
  return s(
    "g.pad",
    { "data-ref": pad.id },
    s("rect.padfill", { x: left, y: top, width: right - left, height: Math.max(bottom - top, 1) }),
    words(x(pad.x_in), top - 6, text, "crayon-name"),
  );
}

function headCards(heads, whole, read, mark, onTap) {
  if (!heads.length) return [];
  const places = [EDGE, whole / 2, whole - EDGE];
  return [
    words(8, 36, t("wall.head"), "caption", "start"),
    ...heads.map((spot, n) =>
      chip({ x: places[n], y: 62, spot, readings: read(spot), mark: mark(spot), onTap }),
    ),
  ];
}

function stationCards({ stations, whole, x, floor, edges, y, spotAt, read, mark, onTap }) {
  const found = [];
  const places = apart(
    stations.map((each) => x(each.x)),
    CHIP.width + GAP,
    EDGE,
    whole - EDGE,
  );
  stations.forEach((each, n) => {
    const z = heightAt(edges.outer, each.x);
    const foot = z === null ? floor - 10 : y(z);
    found.push(
      path(
        [
          [x(each.x), foot],
          [x(each.x), floor + 2],
          [places[n], floor + 10],
        ],
        "thin",
      ),
    );
    if (z !== null)
      found.push(
        s("path.foot", {
          d: `M${x(each.x) - 5} ${foot - 11}L${x(each.x)} ${foot}L${x(each.x) + 5} ${foot - 11}`,
        }),
      );
    for (const [edge, drop] of [
      ["outer", 40],
      ["inner", 98],
    ]) {
      const spot = spotAt(each, edge);
      found.push(
        chip({ x: places[n], y: floor + drop, spot, readings: read(spot), mark: mark(spot), onTap }),
      );
    }
  });
  return [
    ...found,
    words(4, floor + 16, t("wall.front"), "caption", "start"),
    words(4, floor + 74, t("wall.back"), "caption", "start"),
  ];
}

/** Places moved as little as need be to stand at least `step` apart, between two ends. */
export function apart(places, step, low, high) {
  const found = [...places];
  for (let n = 0; n < found.length; n += 1) found[n] = Math.max(found[n], n ? found[n - 1] + step : low);
  for (let n = found.length - 1; n >= 0; n -= 1)
    found[n] = Math.min(found[n], n + 1 < found.length ? found[n + 1] - step : high);
  return found;
}
