// A sheet that comes up over the page: the native dialog, so focus stays in it and Escape puts it away.

import { h } from "./dom.js";
import { icon } from "./icons.js";
import { t } from "./words.js";

/**
 * Shows a sheet; resolves with what it is closed with, null when it was put away.
 * Args: title; kind: class of the sheet; fill(close): what stands in it
 */
let count = 0;

export function sheet({ title, kind = "plain", fill }) {
  return new Promise((resolve) => {
    let answer = null;
    const before = document.activeElement;
    const close = (value = null) => {
      answer = value;
      dialog.close();
    };
    const id = `sheet-${++count}`;
    const heading = h("h2", { id }, title);
    const dialog = h(
      "dialog",
      { class: ["sheet", kind], "aria-labelledby": id },
      h(
        "div.sheet-head",
        {},
        heading,
        h("button.close", { "aria-label": t("sheet.close"), onclick: () => close() }, icon("close")),
      ),
    );
    dialog.addEventListener("close", () => {
      dialog.remove();
      focusAgain(before);
      resolve(answer);
    });
    dialog.addEventListener("click", (event) => {
      if (event.target === dialog) close();
    });
    document.body.append(dialog);
    dialog.append(fill(close));
    dialog.showModal();
  });
}

/** The focus goes back to where it was, also where the page was drawn anew in the meantime. */
function focusAgain(before) {
  const key = before?.dataset?.key;
  const there = before?.isConnected
    ? before
    : key && document.querySelector(`[data-key="${CSS.escape(key)}"]`);
  there?.focus?.({ preventScroll: true });
}

/** Asks for words; resolves with them, null when put away or empty. */
export function askWords({ title, label, text = "", button, long = false }) {
  return sheet({
    title,
    fill: (close) => {
      const box = h(long ? "textarea" : "input", {
        value: text,
        id: "words",
        rows: long ? 4 : undefined,
        maxlength: 2000,
      });
      queueMicrotask(() => box.focus());
      return h(
        "form.words",
        {
          onsubmit: (event) => {
            event.preventDefault();
            close(box.value.trim() || null);
          },
        },
        h("label", { for: "words" }, label),
        box,
        h("button.key.main", { type: "submit" }, button),
      );
    },
  });
}

/** Asks yes or no before something cannot be undone. */
export function askSure({ title, text, yes }) {
  return sheet({
    title,
    fill: (close) =>
      h(
        "div",
        {},
        h("p", {}, text),
        h(
          "div.ends",
          {},
          h("button.key", { onclick: () => close(false) }, t("sheet.no")),
          h("button.key.main", { onclick: () => close(true) }, yes),
        ),
      ),
  });
}
