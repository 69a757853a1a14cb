// Every number answers "why?": formula, what went into it, source.

import { h, refill } from "./dom.js";
import { why } from "./follow.js";
import { sheet } from "./sheet.js";
import { glyphs } from "./lengths.js";
import { t } from "./words.js";

/** Shows why a number is what it is; follows what it leads on to. */
export function showWhy(ident) {
  return sheet({
    title: t("why.title"),
    kind: "why-sheet",
    fill: () => {
      const body = h("div", { "aria-live": "polite" });
      const go = async (id) => {
        refill(body, h("p", {}, t("why.asking")));
        const found = await why(id);
        refill(body, found ? answer(found, go) : h("p", {}, t("why.none")));
      };
      go(ident);
      return body;
    },
  });
}

function answer(found, go) {
  return h(
    "div.why-body",
    {},
    h("p.why-head", {}, glyphs(found.title)),
    found.lines.map((line) => h("p", {}, glyphs(line))),
    found.formula && h("p.formula", {}, found.formula),
    found.given?.length > 0 &&
      h(
        "dl",
        {},
        found.given.map((each) => [
          h("dt", {}, each.name),
          h(
            "dd",
            {},
            each.why
              ? h("button.link", { onclick: () => go(each.why) }, glyphs(each.value))
              : glyphs(each.value),
          ),
        ]),
      ),
    h("p.source", {}, t("why.source", { source: found.source })),
    found.see?.length > 0 &&
      h(
        "p",
        {},
        t("why.see"),
        " ",
        found.see.map((id) => h("button.link", { onclick: () => go(id) }, id)),
      ),
  );
}
