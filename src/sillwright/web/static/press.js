// A finger on the glass: what it presses must not be drawn anew before it is lifted, or the tap is lost.

const LONGEST_MS = 700; // whoever lifts it outside the window does not stop the page
const CLICK_MS = 30; // a touch is told as a click a moment after the finger is lifted
const AGAIN_MS = 10;

let since = 0; // when it came down; 0: it is not

export function watch() {
  const lifted = ({ pointerType }) => setTimeout(() => (since = 0), pointerType === "mouse" ? 0 : CLICK_MS);
  addEventListener("pointerdown", () => (since = performance.now()), true);
  addEventListener("pointerup", lifted, true);
  addEventListener("pointercancel", lifted, true);
}

/** The same call, put off while something is pressed; many calls meanwhile are one. */
export function afterPress(call) {
  let waits = false;
  const attempt = () => {
    waits = since > 0 && performance.now() - since < LONGEST_MS;
    if (waits) setTimeout(attempt, AGAIN_MS);
    else call();
  };
  return () => waits || attempt();
}
