// Measure: the wall is the form. Tap the spot, type what the tape says; the sill moves at once.

import { blocksOf } from "../blocks.js";
import { h } from "../dom.js";
import { drawingsOf, drawnBox } from "../drawings.js";
import { findingsLine } from "../findings.js";
import { isChecked } from "../follow.js";
import { laser, setupBar } from "../laser.js";
import { otherReading } from "../reading_forms.js";
import { conflicts, firstOnes, nextOnes, readingList } from "../reading_list.js";
import { levelSpots, tapeSpots } from "../spots.js";
import { set, state } from "../state.js";
import { keepNew, readSpot } from "../taking.js";
import { levelView, overview, tapeView } from "../wall.js";
import { caseOf } from "../wall_case.js";
import { showWhy } from "../why.js";
import { t } from "../words.js";

const TOOLS = ["tape", "laser", "level"];

export function measureScreen(view, width) {
  const here = caseOf(view, width);
  if (!here.opening)
    return h(
      "div",
      {},
      h("h1", {}, t("screen.measure")),
      h("p.lead", {}, t("measure.noOpening")),
      h("a.key.main", { href: `#/j/${state.job}/edit` }, t("measure.toEdit")),
    );
  const shape = here.shapes.find((each) => each.name === here.opening);
  const checked = isChecked("measure");
  const first = firstOnes(here); // above the drawing: a new hand does not scroll for it
  return h(
    "div.measure",
    {},
    h("h1", {}, t("screen.measure")),
    findingsLine(here.measure),
    first,
    h(
      "div.columns",
      {},
      h(
        "div.drawn",
        {},
        drawnBox(overview({ ...here, chosen: here.opening, onPick: (name) => set({ opening: name }) })),
        toolTabs(),
        closeUp(here, shape, checked),
        !checked && h("p.unchecked", { role: "status" }, t("measure.unchecked")),
      ),
      h(
        "div.beside",
        {},
        conflicts(here),
        !first && nextOnes(here),
        readingList(here),
        h(
          "button.key.wide",
          {
            "data-key": "other",
            onclick: () => otherReading(here, keepNew),
          },
          t("measure.other"),
        ),
      ),
    ),
    h(
      "section.more",
      {},
      here.measure?.svg?.length > 0 &&
        h(
          "details.drawings",
          {},
          h("summary", {}, t("drawing.laptop", { n: here.measure.svg.length })),
          drawingsOf(here.measure, { onTap: showWhy }),
        ),
      blocksOf(withoutReadings(here.measure), view),
    ),
  );
}

/** The laptop's table of readings is the list beside the drawing, which knows more. */
const withoutReadings = (measure) =>
  measure && { ...measure, blocks: measure.blocks.filter((block) => block.kind !== "table") };

function toolTabs() {
  return h(
    "div.choices",
    { role: "group", "aria-label": t("measure.tools") },
    TOOLS.map((tool) =>
      h(
        "button.choice",
        {
          "aria-pressed": String(state.tool === tool),
          "data-key": `tool-${tool}`,
          onclick: () => set({ tool }),
        },
        t(`tool.${tool}`),
      ),
    ),
  );
}

function closeUp(here, shape, checked) {
  const read = (each) => here.spots.get(each.key) ?? [];
  const mark = (each) => markOf(here, read(each));
  const common = { width: here.width, shape, read, mark, onTap: (each) => readSpot(here, each) };
  if (state.tool === "tape") return drawnBox(tapeView({ ...common, spots: tapeSpots(here.opening) }));
  if (state.tool === "level") return drawnBox(levelView({ ...common, spots: levelSpots(here.opening) }));
  return h("div", {}, setupBar(here), here.setup && laser(here, common, checked));
}

function markOf(here, readings) {
  const worst = { "set aside": "aside", doubtful: "doubtful" };
  for (const reading of readings) {
    const found = worst[here.measure?.checked?.[reading.reading_id]?.status];
    if (found) return found;
  }
  return undefined;
}
