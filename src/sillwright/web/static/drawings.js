// Drawings from the laptop: true SVG, dressed by our own style sheet, panned by scrolling, tapped by data-ref.

import { h } from "./dom.js";
import { icon } from "./icons.js";
import { set, state } from "./state.js";
import { t } from "./words.js";

const NEAR_PX = 28; // a gloved finger rarely hits a hairline
const parsed = new Map();
const zooms = new Map();

/** A drawing's text as an element; scripts, styles and outside links are left behind. */
function imported(text) {
  if (!parsed.has(text)) {
    if (parsed.size > 60) parsed.clear();
    const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
    for (const element of root.querySelectorAll("script, style, foreignObject, image, a")) element.remove();
    for (const element of [root, ...root.querySelectorAll("*")]) {
      for (const { name } of [...element.attributes])
        if (/^on|^style$|href$/.test(name)) element.removeAttribute(name);
    }
    parsed.set(text, root);
  }
  return document.importNode(parsed.get(text), true);
}

/** The element with a ref that was tapped, or the nearest one within reach of a finger. */
function refAt(svg, event) {
  const hit = event.target.closest("[data-ref]");
  if (hit) return hit.dataset.ref;
  let [best, least] = [null, NEAR_PX];
  for (const element of svg.querySelectorAll("[data-ref]")) {
    const box = element.getBoundingClientRect();
    const dx = Math.max(box.left - event.clientX, 0, event.clientX - box.right);
    const dy = Math.max(box.top - event.clientY, 0, event.clientY - box.bottom);
    const far = Math.hypot(dx, dy);
    if (far < least) [best, least] = [element.dataset.ref, far];
  }
  return best;
}

const LEGIBLE = 1.2; // pixels a point, from which the figures in a drawing can be read

/** The whole drawing where it can be read whole, or else large enough to read. */
function usual(wide, high) {
  const room = innerWidth > 900 ? 0.6 * innerWidth : innerWidth - 44; // as the columns of app.css
  return Math.min(room / wide, (0.78 * innerHeight) / high) < LEGIBLE ? 1.25 : 0;
}

/** One drawing in a box that can be panned, with buttons for its size. */
export function drawingBox({ id, title, alt, svg: text }, onTap, heading = title) {
  const svg = imported(text);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", alt || title);
  const [, , wide, high] = (svg.getAttribute("viewBox") ?? "0 0 600 400").split(/\s+/).map(Number);
  const box = h("div.drawing", {
    tabindex: 0,
    role: "group",
    "aria-label": t("drawing.pan", { title }),
    "data-scroll": id,
  });
  const size = () => {
    const zoom = zooms.get(id) ?? usual(wide, high);
    box.classList.toggle("whole", zoom === 0);
    svg.setAttribute("width", String((wide * 4 * (zoom || 1)) / 3));
    svg.setAttribute("height", String((high * 4 * (zoom || 1)) / 3));
  };
  const to = (change) => {
    const zoom = zooms.get(id) ?? usual(wide, high);
    zooms.set(id, change === 0 ? 0 : Math.min(4, Math.max(0.6, (zoom || 0.8) * change)));
    size();
  };
  if (onTap) {
    svg.addEventListener("click", (event) => {
      const ref = refAt(svg, event);
      if (ref) onTap(ref);
    });
  }
  size();
  box.append(svg);
  const key = (name, sign, change) =>
    h(
      "button.key.small",
      {
        "aria-label": t(`drawing.${name}`, { title }),
        onclick: () => to(change),
      },
      sign,
    );
  return h(
    "figure",
    {},
    h(
      "figcaption",
      {},
      h("span", {}, heading),
      h(
        "span.zoom",
        {},
        key("whole", t("drawing.all"), 0),
        key("smaller", icon("smaller"), 0.8),
        key("larger", icon("larger"), 1.25),
      ),
    ),
    box,
  );
}

/** A drawing of our own in a box that can be panned. */
export const drawnBox = (svg) => h("div.drawing", { tabindex: -1 }, svg);

/** The drawings of a screen, one at a time; which one is chosen above it. */
export function drawingsOf(screen, { onTap = null } = {}) {
  const list = screen?.svg ?? [];
  if (!list.length) return null;
  const chosen = list.find((each) => each.id === state.drawing[screen.screen]) ?? list[0];
  const which =
    list.length > 1 &&
    h(
      "select",
      {
        "aria-label": t("drawing.which"),
        "data-key": "which-drawing",
        onchange: (event) => set({ drawing: { ...state.drawing, [screen.screen]: event.target.value } }),
      },
      list.map((each) => h("option", { value: each.id, selected: each === chosen }, each.title)),
    );
  return h("div.drawings", {}, drawingBox(chosen, onTap, which || undefined));
}
