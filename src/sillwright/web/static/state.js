// One state, one way to hear of its changes.

export const state = {
  screen: "jobs", // jobs, pair, a screen of the job, edit, sync
  job: null, // id of the open job
  jobs: [], // list of jobs as last heard
  base: null, // the open job as the laptop last said it
  screens: {}, // its screens as last heard
  whys: { plan: null, answers: {} },
  outbox: [],
  reach: "unknown", // yes, no, unpaired
  me: null,
  code: "", // as it is typed where the phone is paired
  name: "",
  opening: null,
  tool: "tape",
  setup: null,
  step: {}, // step shown, by screen
  drawing: {}, // drawing shown, by screen
  said: "", // for the status line
  newShell: false,
};

const GATHER_MS = 8; // far below what an eye sees; many changes then cost one drawing
const listeners = new Set();
let asked = false;

export function listen(call) {
  listeners.add(call);
}

export function changed() {
  if (asked) return;
  asked = true;
  setTimeout(() => {
    asked = false;
    for (const call of listeners) call();
  }, GATHER_MS);
}

export function set(values) {
  Object.assign(state, values);
  changed();
}

const SAID_MS = 6000;
let silence = null;

/** Says something once, where screen readers and eyes find it, and clears the place again. */
export function tell(text) {
  clearTimeout(silence);
  silence = setTimeout(() => set({ said: "" }), SAID_MS);
  set({ said: text });
}
