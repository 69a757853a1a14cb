// Findings: stamped STOP, FIX or WATCH, each with its source, each to be answered.

import { text } from "./lengths.js";
import { h, s } from "./dom.js";
import * as queue from "./queue.js";
import { askWords } from "./sheet.js";
import { state, tell } from "./state.js";
import { showWhy } from "./why.js";
import { t } from "./words.js";

/** A stamp: the word in a frame whose shape says the same. */
export function stamp(severity) {
  const [width, shape] = FRAMES[severity];
  const word = t(`stamp.${severity}`);
  return h(
    "span",
    { class: ["stamp", severity] },
    s(
      "svg",
      { viewBox: `-1.5 -1.5 ${width + 3} 29`, height: 26, role: "img", "aria-label": word },
      s("path", { d: shape }),
      s("text", { x: width / 2, y: 18.5, "text-anchor": "middle" }, word),
    ),
  );
}

// cut corners, a plain frame, a gable: told apart without colour
const FRAMES = {
  stop: [56, "M7 0H49L56 7V19L49 26H7L0 19V7Z"],
  fix: [42, "M0 0H42V26H0Z"],
  watch: [70, "M0 26V5L35 -1L70 5V26Z"],
};

/** How many findings of each kind a screen has, in one line that leads to them. */
export function findingsLine(screen) {
  const faults = screen?.faults ?? [];
  const findings = (screen?.blocks ?? []).filter((block) => block.kind === "finding" && !block.answer);
  const counts = ["stop", "fix", "watch"].map((severity) => [
    severity,
    findings.filter((each) => each.severity === severity).length,
  ]);
  const shown = counts.filter(([, n]) => n);
  return h(
    "div.findings-line",
    {},
    faults.length > 0 &&
      h(
        "ul.faults",
        { role: "alert" },
        faults.map((fault) => h("li", {}, `${fault.what} ${fault.fix ?? ""}`)),
      ),
    shown.length > 0 &&
      h(
        "button.stamps",
        {
          "aria-label": t("findings.jump", { n: findings.length }),
          onclick: () => document.querySelector(".block.finding")?.scrollIntoView({ block: "center" }),
        },
        shown.map(([severity, n]) => [stamp(severity), h("span.count", {}, n)]),
      ),
  );
}

export function finding(block) {
  return h(
    "article",
    { class: ["block", "finding", block.severity], "data-place": block.place || null },
    stamp(block.severity),
    h(
      "div",
      {},
      h("p.message", {}, text(block.text)),
      block.advice && h("p.advice", {}, text(block.advice)),
      block.value &&
        h(
          "p.hint",
          {},
          block.limit
            ? t("finding.limit", { value: text(block.value), limit: text(block.limit) })
            : text(block.value),
        ),
      block.answer && h("p.hint", {}, text(block.answer)),
      h("p.source", {}, block.source),
      h(
        "div.row",
        {},
        block.why && h("button.link", { onclick: () => showWhy(block.why) }, t("why.ask")),
        !block.answer &&
          block.id &&
          block.severity !== "watch" &&
          h("button.link", { onclick: () => answerFinding(block) }, t("finding.answer")),
      ),
    ),
  );
}

async function answerFinding(block) {
  const by = await askWords({
    title: t("finding.answer"),
    label: t("finding.by"),
    button: t("finding.next"),
  });
  if (!by) return;
  const note = await askWords({
    title: t("finding.answer"),
    label: t("finding.note"),
    button: t("finding.done"),
    long: true,
  });
  if (!note) return;
  await queue.keep(state.job, "answer.add", { finding: block.id, by, date: today(), note });
  tell(t("finding.kept"));
}

const today = () => {
  const now = new Date();
  return [
    now.getFullYear(),
    String(now.getMonth() + 1).padStart(2, "0"),
    String(now.getDate()).padStart(2, "0"),
  ].join("-");
};
