// The keypad made for tapes: whole number, then the sixteenth on a drawn blade, then strong or shy. One text
// is the truth; buttons and keyboard both write it.

import { h, refill, s } from "./dom.js";
import { icon } from "./icons.js";
import { glyphs, parse, show } from "./lengths.js";
import { sheet } from "./sheet.js";
import { t } from "./words.js";

const SIMPLE =
  /^(?<sign>-)?(?:(?<feet>\d+)' ?)?(?<whole>\d+(?:\.\d*)?)?(?: ?(?<top>\d+)\/(?<bottom>\d+))?(?: (?<word>strong|shy))?$/;

function taken(text) {
  const parts = SIMPLE.exec(text.trim())?.groups;
  if (!parts) return null;
  return {
    sign: parts.sign ?? "",
    feet: parts.feet ?? "",
    whole: parts.whole ?? "",
    top: Number(parts.top ?? 0),
    bottom: Number(parts.bottom ?? 1),
    word: parts.word ?? "",
  };
}

function written({ sign, feet, whole, top, bottom, word }) {
  const fraction = top ? `${top}/${bottom}` : "";
  const inches = [whole, fraction].filter(Boolean).join(" ");
  return [sign + [feet && `${feet}'`, inches].filter(Boolean).join(" "), word].filter(Boolean).join(" ");
}

/** Every sixteenth of an inch once, a quarter inch of blade a row, ticks as long as on a tape. */
function blade(chosen, press) {
  const rows = [0, 4, 8, 12].map((first) =>
    h(
      "div.blade-row",
      {},
      [0, 1, 2, 3].map((n) => {
        const sixteenth = first + n;
        const text = show(sixteenth / 16);
        return h(
          "button.tick",
          {
            "data-key": `tick-${sixteenth}`,
            "aria-pressed": String(chosen === sixteenth),
            "aria-label": sixteenth ? text : t("keypad.word.even"),
            onclick: () => press(sixteenth),
          },
          tickMark(sixteenth),
          h("span", {}, sixteenth ? glyphs(text) : "0"),
        );
      }),
    ),
  );
  return h("div.blade", { role: "group", "aria-label": t("keypad.blade") }, rows);
}

function tickMark(sixteenth) {
  const long =
    sixteenth % 16 === 0
      ? 22
      : sixteenth % 8 === 0
        ? 18
        : sixteenth % 4 === 0
          ? 14
          : sixteenth % 2 === 0
            ? 10
            : 6;
  const mark = s("svg.tickmark", { viewBox: "0 0 40 22", "aria-hidden": "true" });
  for (const [x, length] of [
    [20, long],
    [0, 4],
    [40, 4],
  ]) {
    mark.append(s("line", { x1: x, y1: 0, x2: x, y2: length, "stroke-width": x === 20 ? 2 : 1 }));
  }
  return mark;
}

/**
 * Asks for one length.
 * Args: title; unit; text to start from; signed: may lie the other way; signedWord: what the sign says;
 *       expected: { value, sd } [in] of the wall, if it is known; next: label of the reading that would follow;
 *       drop: offer to take the reading away; note: text of its note, or null for a length without one
 * Returns { does: "keep" | "next" | "drop", text, note }, or null when it was put away.
 */
export function askLength(asked) {
  return sheet({
    title: asked.title,
    kind: "keypad",
    fill: (close) => new Keypad(asked, close).element,
  });
}

class Keypad {
  constructor(asked, close) {
    this.asked = asked;
    this.close = close;
    this.unit = asked.unit;
    this.note = asked.note ?? "";
    this.untouched = Boolean(asked.text);
    this.input = h("input.said", {
      value: asked.text ?? "",
      inputmode: "none",
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      "aria-label": t("keypad.said"),
      "aria-describedby": "keypad-heard",
      "data-key": "said",
      oninput: () => {
        this.untouched = false;
        this.draw();
      },
      onkeydown: (event) => {
        if (event.key === "Enter") {
          event.preventDefault();
          this.done("keep");
        }
      },
    });
    this.heard = h("p.heard", { id: "keypad-heard", role: "status" });
    this.keys = h("div.keys");
    this.element = h(
      "form.keypad-body",
      {
        onsubmit: (event) => {
          event.preventDefault();
          this.done("keep");
        },
      },
      this.display(),
      this.keys,
      this.more(),
    );
    this.draw();
    queueMicrotask(() => this.input.focus());
  }

  display() {
    const typing = h(
      "button.key.typing",
      {
        "aria-label": t("keypad.type"),
        title: t("keypad.type"),
        onclick: () => {
          this.input.inputMode = this.input.inputMode === "none" ? "text" : "none";
          this.input.blur();
          this.input.focus();
        },
      },
      icon("keyboard"),
    );
    return h(
      "div.display",
      {},
      this.input,
      h("span.unit", { "aria-hidden": "true" }, this.unit),
      typing,
      this.heard,
    );
  }

  more() {
    if (this.asked.note === null || this.asked.note === undefined) return null;
    const box = h("input", {
      value: this.note,
      "aria-label": t("keypad.note"),
      placeholder: t("keypad.note"),
      maxlength: 200,
      oninput: () => {
        this.note = box.value;
      },
    });
    return h(
      "div.keypad-more",
      {},
      box,
      this.asked.drop &&
        h(
          "button.key.away",
          {
            onclick: () => this.close({ does: "drop" }),
          },
          t("keypad.drop"),
        ),
    );
  }

  /** A button changes one part of the reading and leaves the others. */
  change(edit) {
    const before = this.untouched ? "" : this.input.value; // the first digit starts a reading anew
    const parts = taken(before) ?? taken("");
    edit(parts);
    this.untouched = false;
    this.input.value = written(parts);
    this.draw();
  }

  /** Fraction, strong and shy amend a reading that is there already. */
  amend(edit) {
    this.untouched = false;
    this.change(edit);
  }

  digit(digit) {
    this.change((parts) => {
      if (parts.whole.length < 6) parts.whole = parts.whole === "0" ? digit : parts.whole + digit;
    });
  }

  back() {
    this.untouched = false;
    this.change((parts) => {
      if (parts.word) parts.word = "";
      else if (parts.top) Object.assign(parts, { top: 0, bottom: 1 });
      else if (parts.whole) parts.whole = parts.whole.slice(0, -1);
      else if (parts.feet) Object.assign(parts, { whole: parts.feet, feet: "" });
      else parts.sign = "";
    });
  }

  draw() {
    const parts = taken(this.input.value) ?? {};
    refill(
      this.keys,
      this.digits(parts),
      this.unit === "in" && this.fractions(parts),
      this.qualifier(parts),
      this.ends(),
    );
    this.listen();
  }

  digits(parts) {
    const key = (label, press, extra = {}, face = label) =>
      h(
        "button.key",
        {
          "data-key": `key-${label}`,
          onclick: press,
          ...extra,
        },
        face,
      );
    const numbers = "1234567890".split("").map((digit) => key(digit, () => this.digit(digit)));
    const last = this.asked.signed
      ? key(
          "−",
          () =>
            this.amend((p) => {
              p.sign = p.sign ? "" : "-";
            }),
          {
            "aria-label": this.asked.signedWord ?? t("keypad.minus"),
            "aria-pressed": String(Boolean(parts.sign)),
          },
        )
      : this.unit === "in"
        ? key(
            "ft",
            () =>
              this.amend((p) => {
                if (p.whole && !p.feet) Object.assign(p, { feet: p.whole, whole: "" });
              }),
            { "aria-label": t("keypad.feet") },
          )
        : key(
            ".",
            () =>
              this.amend((p) => {
                if (p.whole && !p.whole.includes(".")) p.whole += ".";
              }),
            { "aria-label": t("keypad.point") },
          );
    numbers.splice(
      5,
      0,
      key("back", () => this.back(), { "aria-label": t("keypad.back") }, icon("back")),
    );
    return h("div.digits", { role: "group", "aria-label": t("keypad.whole") }, numbers, last);
  }

  fractions(parts) {
    const sixteenth = parts.bottom ? (16 * parts.top) / parts.bottom : 0;
    return blade(this.input.value ? sixteenth : -1, (n) =>
      this.amend((p) => {
        const [top, bottom] = n
          ? show(n / 16)
              .split("/")
              .map(Number)
          : [0, 1];
        Object.assign(p, { top, bottom });
        if (!n && !p.whole) p.whole = "0";
      }),
    );
  }

  qualifier(parts) {
    const word = (name) =>
      h(
        "button.key",
        {
          "data-key": `word-${name}`,
          "aria-pressed": String((parts.word ?? "") === name),
          onclick: () =>
            this.amend((p) => {
              p.word = name;
            }),
        },
        t(`keypad.word.${name || "even"}`),
      );
    return h(
      "div.qualifier",
      { role: "group", "aria-label": t("keypad.qualifier") },
      word("shy"),
      word(""),
      word("strong"),
    );
  }

  ends() {
    const keep = h("button.key.main", { type: "submit", "data-key": "keep" }, t("keypad.keep"));
    const next =
      this.asked.next &&
      h(
        "button.key.main",
        {
          "data-key": "next",
          onclick: () => this.done("next"),
        },
        t("keypad.next", { place: this.asked.next }),
      );
    return h("div.ends", {}, keep, next);
  }

  /** Says what was heard, and how it stands to the wall. */
  listen() {
    const { expected, nothing } = this.asked;
    this.heard.className = "heard";
    if (!this.input.value.trim()) {
      this.heard.textContent = expected ? t("keypad.wallSays", this.wall(expected)) : (nothing ?? "");
      return;
    }
    try {
      const said = parse(this.input.value, this.unit);
      this.heard.textContent = expected ? this.against(said, expected) : "";
    } catch (error) {
      this.heard.classList.add("wrong");
      this.heard.textContent = error.advice ?? error.message;
    }
  }

  wall({ value, sd }) {
    return { value: glyphs(this.figure(value)), about: glyphs(this.figure(1.96 * sd)) };
  }

  figure(inches) {
    return this.unit === "in" ? show(inches) : show(inches, { unit: "mm" });
  }

  against(said, expected) {
    const off = said.value - expected.value;
    const figure = glyphs(this.figure(Math.abs(off)));
    const far = Math.abs(off) > 3.29 * Math.hypot(expected.sd, expected.reading_sd ?? 0, said.spread);
    if (far) this.heard.classList.add("far");
    if (figure === "0") return t("keypad.asWall", this.wall(expected));
    const key = far
      ? off > 0
        ? "keypad.farMore"
        : "keypad.farLess"
      : off > 0
        ? "keypad.more"
        : "keypad.less";
    return t(key, { off: figure, ...this.wall(expected) });
  }

  done(does) {
    const text = this.input.value.trim();
    try {
      parse(text, this.unit);
    } catch (error) {
      this.heard.className = "heard wrong";
      this.heard.textContent = text ? error.advice : t("keypad.empty");
      this.input.focus();
      return;
    }
    this.close({ does, text, note: this.note.trim() });
  }
}
