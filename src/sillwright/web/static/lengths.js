// Lengths as the trade says, writes and reads them: the same rules, words and refusals as sillwright.lengths,
// and tested on the same vectors. Inside, lengths are inches; millimetres are met here and nowhere else.

import { t } from "./words.js";

export const LARGEST = 120000; // 10,000 ft: above this, what was typed is no length on a house
const LONGEST_TEXT = 60;
const LONGEST_QUOTE = 40;
const say = (key, values) => t(`lengths.${key}`, values);
const examples = () => say("examples");
const TAPE_DIVISIONS = [2, 4, 8, 16, 32, 64];

const VULGAR = { "½": [1, 2], "¼": [1, 4], "¾": [3, 4], "⅛": [1, 8], "⅜": [3, 8], "⅝": [5, 8], "⅞": [7, 8] };
const NOT_ON_A_TAPE = {
  "⅓": 1 / 3,
  "⅔": 2 / 3,
  "⅕": 1 / 5,
  "⅖": 2 / 5,
  "⅗": 3 / 5,
  "⅘": 4 / 5,
  "⅙": 1 / 6,
  "⅚": 5 / 6,
};
const STRONG = ["strong", "full", "heavy", "just over", "+"];
const MARKS = { '"': "in", "''": "in", "in.": "in", inch: "in", inches: "in" };
const POWER_OF_TEN = { mm: 0, cm: 1, m: 3 };
const SUPERSCRIPT = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const SUBSCRIPT = "₀₁₂₃₄₅₆₇₈₉";
const FRACTION_SLASH = "\u2044";
const QUALIFIER_SHARE = { in: 1 / 2, mm: 1 / 4 }; // of a graduation. Common practice, no source.
const GRADUATIONS = { in: [1 / 16, 1 / 8, 1 / 32, 1 / 64, 1 / 4, 1 / 2, 1], mm: [1, 0.5, 0.1, 5, 10] };

const PLAIN = new Map();
for (const [signs, plain] of [
  ["\u2018\u2019\u201b\u2032\u00b4`", "'"],
  ["\u201c\u201d\u201f\u2033", '"'],
  ["\u2010\u2011\u2012\u2013\u2014\u2212\ufe63\uff0d", "-"],
  ["\u2044\u2215", "/"],
  ["\u00a0\u2007\u2009\u200a\u202f\u2002\u2003", " "],
])
  for (const sign of signs) PLAIN.set(sign, plain);

const FRACTIONS = Object.keys(VULGAR).join("") + Object.keys(NOT_ON_A_TAPE).join("");
const S = "[ \\t\\n\\r\\f\\v]";
const WORDS = `strong|full|heavy|shy|scant|light|just${S}+over|just${S}+under`;
const fraction = (n) =>
  `(?:(?<vulgar${n}>[${FRACTIONS}])` +
  `|(?<top${n}>[0-9]+|[${SUPERSCRIPT}]+)/(?<bottom${n}>[0-9]+|[${SUBSCRIPT}]+))`;

// Every part may be absent, so it always matches and stops at the first character that cannot go on.
const READING = new RegExp(
  `${S}*(?:(?<before>${WORDS})(?![a-z])${S}*)?` +
    `(?<sign>[+-])?${S}*` +
    `(?:(?<feet>[0-9]*[.,][0-9]+|[0-9]+)${S}*(?:'(?!')|(?:ft\\.?|feet|foot)(?![a-z]))` +
    `(?:${S}*-?${S}*(?=[0-9.,${FRACTIONS}${SUPERSCRIPT}]))?)?` +
    `(?:(?<decimal>[0-9]*[.,][0-9]+)` +
    `|(?<whole>[0-9]+(?![0-9/]|[.,][0-9]))(?:(?:${S}+|-)?${fraction(1)})?` +
    `|${fraction(2)}?)` +
    `(?:${S}*(?<mark>"|''|in\\.(?![a-z])|(?:inches|inch|in|mm|cm|m)(?![a-z])))?` +
    `(?:${S}*(?<after>[+-]|(?:${WORDS})(?![a-z])))?` +
    `${S}*`,
  "diy",
);

/** A reading that cannot be used: what is wrong, and what to do. */
export class BadReading extends Error {
  constructor(what, advice) {
    super(`${what} ${advice}`);
    this.what = what;
    this.advice = advice;
  }
}

const plain = (text) => [...text].map((sign) => PLAIN.get(sign) ?? sign).join("");
const points = (text) => [...text].length;

function shorten(text) {
  const shown = [...text].map((c) => (/[\p{C}\p{Zl}\p{Zp}]|(?! )\p{Zs}/u.test(c) ? "\ufffd" : c));
  return shown.length <= LONGEST_QUOTE ? shown.join("") : shown.slice(0, LONGEST_QUOTE - 1).join("") + "…";
}

function refuse(text, at, part, advice) {
  const place = part ? say("at", { n_th: points(text.slice(0, at)) + 1, part: shorten(part) }) : say("atEnd");
  throw new BadReading(say("noReading", { text: shorten(text), place }), advice);
}

function refuseValue(text, what, advice) {
  throw new BadReading(say(what, { text: shorten(text) }), advice);
}

const refuseSize = (text) => refuseValue(text, "tooLarge", say("tooLargeDo"));

function mixed(whole, top, bottom) {
  whole += Math.floor(top / bottom);
  top %= bottom;
  while (top && top % 2 === 0 && bottom % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  if (!top) return String(whole);
  return whole ? `${whole} ${top}/${bottom}` : `${top}/${bottom}`;
}

function nearestOnTape(whole, top, bottom) {
  if (!(0 < top && top < bottom)) return "";
  for (const division of [16, 32, 64]) {
    if (Math.abs(division - bottom) <= 2 && top < division) return mixed(whole, top, division);
  }
  const sixteenths = roundHalfEven((16 * top) / bottom);
  return sixteenths ? mixed(whole, sixteenths, 16) : "";
}

export function roundHalfEven(value) {
  const low = Math.floor(value);
  const rest = value - low;
  const up = rest > 0.5 || (rest === 0.5 && low % 2 !== 0);
  return up ? low + 1 : low;
}

export const toUnit = (inches, unit) => (unit === "in" ? inches : (inches * 127) / 5);
export const fromUnit = (value, unit) => (unit === "in" ? value : (value * 5) / 127);

function takeApart(text) {
  if (points(text) > LONGEST_TEXT) {
    refuseValue(text, "tooLong", say("tooLongDo"));
  }
  if (!text.trim()) refuseValue(text, "empty", examples());
  READING.lastIndex = 0;
  const found = READING.exec(plain(text));
  const named = found.groups;
  const two = ["vulgar", "top", "bottom"];
  const groupOf = (name) =>
    two.includes(name) && named[`${name}1`] === undefined && named[`${name}2`] !== undefined
      ? `${name}2`
      : two.includes(name)
        ? `${name}1`
        : name;
  const typed = { text };
  for (const name of ["before", "sign", "feet", "decimal", "whole", "mark", "after", ...two]) {
    typed[name] = named[groupOf(name)];
  }
  typed.hasFraction = Boolean(typed.top || typed.vulgar);
  typed.hasInches = Boolean(typed.decimal || typed.whole || typed.hasFraction);
  typed.refuse = (first, advice, last = first) => {
    const [start] = found.indices.groups[groupOf(first)];
    const [, end] = found.indices.groups[groupOf(last)];
    refuse(text, start, text.slice(start, end), advice);
  };
  const end = found[0].length;
  if (!typed.hasInches && !typed.feet) refuse(text, end, wordAt(text, end), examples());
  if (end < text.length) {
    const part = wordAt(text, end);
    refuse(text, end, part, adviceOnRest(typed, part));
  }
  return typed;
}

function wordAt(text, at) {
  const rest = text.slice(at);
  if (!rest || /^\s/u.test(rest)) return [...rest][0] ?? "";
  return rest.split(/[\s\x1c-\x1f\x85]/u)[0] || [...rest][0];
}

function adviceOnRest(typed, part) {
  if (typed.after === "-") {
    return say("dash");
  }
  if (typed.after) return say("wordLast");
  if (/^(f|')/i.test(part)) return say("feetFirst");
  if (/^[\p{Nd}⁰¹²³⁴-⁹₀-₉]/u.test(part) && !typed.hasFraction && typed.mark === undefined) {
    return say("space");
  }
  return say("one");
}

/** Returns { value [in], spread [in], graduation [in] or null }; throws BadReading. */
export function parse(said, unit = "in") {
  if (typeof said === "number") return fromNumber(said, unit);
  if (typeof said !== "string") refuseValue(String(said), "notLength", examples());
  const typed = takeApart(said);
  const written = (typed.mark ?? "").toLowerCase();
  const mark = MARKS[written] ?? written;
  const isMetric = mark in POWER_OF_TEN || (unit === "mm" && !mark && !typed.feet);
  const tape = isMetric ? "mm" : "in";
  let [size, graduation] = isMetric ? metric(typed, mark || "mm") : imperial(typed);
  const direction = directionOf(typed);
  const offset = direction ? QUALIFIER_SHARE[tape] * (graduation || tapeGraduation(tape)) : 0;
  size += direction * offset;
  const value = bounded(typed.sign === "-" ? -size : size, said);
  return { value, spread: offset / Math.sqrt(3), graduation };
}

function fromNumber(number, unit) {
  if (!(Math.abs(number) <= 30 * LARGEST)) refuseSize(String(number));
  const value = bounded(fromUnit(number, unit), String(number));
  return { value, spread: 0, graduation: Number.isInteger(number) ? tapeGraduation(unit) : null };
}

const tapeGraduation = (unit) => (unit === "in" ? 1 / 16 : fromUnit(1, "mm"));

function directionOf(typed) {
  if (typed.before && typed.after) typed.refuse("after", say("once"));
  const said = (typed.before || typed.after || "")
    .toLowerCase()
    .split(/[ \t\n\r\f\v]+/)
    .join(" ");
  return said ? (STRONG.includes(said) ? 1 : -1) : 0;
}

function bounded(value, text) {
  if (!(Math.abs(value) <= LARGEST)) refuseSize(text);
  return value + 0; // no -0
}

function metric(typed, unit) {
  if (typed.hasFraction) {
    const [first, last] = typed.vulgar ? ["vulgar", "vulgar"] : ["top", "bottom"];
    typed.refuse(first, typed.mark ? say("metricFraction") : say("inchMark"), last);
  }
  if (typed.feet) typed.refuse("mark", say("feetOrMetric"));
  const name = typed.decimal ? "decimal" : "whole";
  const decimals = ((typed[name] ?? "").replace(",", ".").split(".")[1] ?? "").length;
  const graduation = decimals <= POWER_OF_TEN[unit] ? tapeGraduation("mm") : null;
  return [fromUnit(numberOf(typed, name, POWER_OF_TEN[unit]), "mm"), graduation];
}

function imperial(typed) {
  const [inches, graduation] = inchesOf(typed);
  if (typed.feet === undefined) return [inches, graduation];
  const wholeFeet = /^[0-9]+$/.test(typed.feet);
  if (typed.hasInches && !wholeFeet) typed.refuse("feet", say("wholeFeet"));
  if (typed.mark && !typed.hasInches) typed.refuse("mark", say("noInches"));
  if (inches >= 12) typed.refuse(typed.decimal ? "decimal" : "whole", say("below12"));
  return [12 * numberOf(typed, "feet") + inches, wholeFeet ? graduation : null];
}

function numberOf(typed, name, powerOfTen = 0) {
  const digits = typed[name] ?? "";
  const [before, behind] = digits.split(",");
  if (behind?.length === 3 && before.length >= 1 && before.length <= 3 && before[0] !== "0") {
    typed.refuse(name, say("comma", { whole: `${before}${behind}`, decimal: `${before}.${behind}` }));
  }
  return Number(`${digits.replace(",", ".")}e${powerOfTen}`);
}

function inchesOf(typed) {
  if (typed.decimal) return [numberOf(typed, "decimal"), null];
  const whole = Number(typed.whole || 0);
  if (whole > LARGEST) refuseSize(typed.text);
  const [top, bottom] = typed.hasFraction ? fractionOf(typed, whole) : [0, 1];
  return [whole + top / bottom, Math.min(1 / bottom, 1 / 16)];
}

const digitsOf = (text) =>
  Number(
    [...text]
      .map((c) =>
        SUPERSCRIPT.includes(c) ? SUPERSCRIPT.indexOf(c) : SUBSCRIPT.includes(c) ? SUBSCRIPT.indexOf(c) : c,
      )
      .join(""),
  );

function fractionOf(typed, whole) {
  const sign = typed.vulgar;
  if (sign in NOT_ON_A_TAPE) {
    const meant = mixed(whole, roundHalfEven(16 * NOT_ON_A_TAPE[sign]), 16);
    typed.refuse("vulgar", say("meant", { meant }));
  }
  if (sign) return VULGAR[sign];
  const both = (advice) => typed.refuse("top", advice, "bottom");
  if (typed.top.length > 4 || typed.bottom.length > 4) both(say("divisions"));
  const [top, bottom] = [digitsOf(typed.top), digitsOf(typed.bottom)];
  if (!TAPE_DIVISIONS.includes(bottom)) {
    const meant = nearestOnTape(whole, top, bottom);
    typed.refuse("bottom", meant ? say("meant", { meant }) : say("divisions"));
  }
  if (top === 0) both(say("nothing", { whole }));
  if (top >= bottom) both(say("topHeavy", { better: mixed(whole, top, bottom) }));
  return [top, bottom];
}

/** A length [in] as read off a tape: 27 3/8, or 695 in millimetres. Ties go to the even graduation. */
export function show(inches, { unit = "in", graduation = GRADUATIONS[unit][0], mark = false } = {}) {
  const count = countOf(inches, unit, graduation);
  const sign = count < 0 ? "-" : "";
  if (unit === "in") return sign + mixed(0, Math.abs(count), Math.round(1 / graduation)) + (mark ? '"' : "");
  return sign + (Math.abs(count) * graduation).toFixed(graduation >= 1 ? 0 : 1) + (mark ? " mm" : "");
}

/** A length [in] in feet and inches: 4' 3 1/2"; below a foot, inches only. */
export function showFeet(inches, graduation = 1 / 16) {
  const count = countOf(inches, "in", graduation);
  const perInch = Math.round(1 / graduation);
  const [feet, rest] = [Math.floor(Math.abs(count) / (12 * perInch)), Math.abs(count) % (12 * perInch)];
  return (count < 0 ? "-" : "") + (feet ? `${feet}' ` : "") + mixed(0, rest, perInch) + '"';
}

function countOf(inches, unit, graduation) {
  if (!GRADUATIONS[unit].includes(graduation))
    throw new RangeError(`no tape is marked every ${graduation} ${unit}`);
  if (!(Math.abs(inches) <= 1e9)) throw new RangeError(`a length of ${inches} in cannot be shown`);
  if (unit === "in") return roundHalfEven(inches / graduation) + 0;
  return roundHalfEven(Number((toUnit(inches, unit) / graduation).toFixed(6))) + 0;
}

const RAISED = (digits) => [...digits].map((d) => SUPERSCRIPT[d]).join("");
const LOWERED = (digits) => [...digits].map((d) => SUBSCRIPT[d]).join("");

/** Words for a page, tape fractions set small and kept on a line with their inches; nothing for nothing. */
export const text = (words) => glyphs(String(words ?? "")).replace(/(\d) (?=\S+⁄)/g, "$1\u00a0");

/** Tape fractions set small: 5/16 becomes ⁵⁄₁₆; dates and chains stay as they are. */
export function glyphs(text) {
  return text.replace(
    /(^|[^\d/.,])(\d+)\/(2|4|8|16|32|64)(?![\d/.])/g,
    (all, before, top, bottom) => before + RAISED(top) + FRACTION_SLASH + LOWERED(bottom),
  );
}
