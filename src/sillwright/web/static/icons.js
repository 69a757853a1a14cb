// Small signs drawn as lines, so that they look alike on every phone.

import { s } from "./dom.js";

const LINES = {
  jobs: "M4 6H20M4 12H20M4 18H20",
  edit: "M4 20L5 15L16 4L20 8L9 19L4 20M14 6L18 10",
  close: "M5 5L19 19M19 5L5 19",
  back: "M9 5H21V19H9L3 12ZM12 9L18 15M18 9L12 15",
  tick: "M4 13L9 18L20 6",
  keyboard: "M2 6H22V18H2ZM5 10H6M9 10H10M13 10H14M17 10H18M7 14H17",
  smaller: "M5 12H19",
  larger: "M5 12H19M12 5V19",
};

export function icon(name) {
  return s("svg.icon", { viewBox: "0 0 24 24", "aria-hidden": "true" }, s("path", { d: LINES[name] }));
}
