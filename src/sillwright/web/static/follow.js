// Follows the laptop: the open job, its screens, its answers; keeps the last of each on this phone.

import * as api from "./api.js";
import * as db from "./db.js";
import { fold } from "./fold.js";
import * as queue from "./queue.js";
import { changed, set, state } from "./state.js";

export const SCREENS = ["measure", "set", "heights", "water", "deck", "lists", "days", "proof"];

const PLANNING_MS = 30000; // a screen may have to wait for a plan

let live = null;
let running = null;
let again = false;
let wide = false; // all screens are to be asked for, not only the one that is shown

/** The open job as it stands for this phone; null before anything of it is here. */
export function view() {
  if (!state.base) return null;
  return fold(state.base, queue.pendingOf(state.job));
}

export async function loadJobs() {
  const kept = await db.noted("jobs", []);
  if (!state.jobs.length) set({ jobs: kept });
  const answer = await reach(() => api.get("/api/jobs"));
  if (!answer) return;
  set({ jobs: answer.jobs });
  await db.note("jobs", answer.jobs);
}

/** Opens a job: first what this phone has of it, then what the laptop says. */
export async function openJob(job) {
  if (state.job === job) return;
  live?.close();
  live = null;
  const kept = await db.get("jobs", job);
  const screens = {};
  for (const screen of SCREENS) {
    const known = await db.get("screens", `${job}/${screen}`);
    if (known) screens[screen] = known.body;
  }
  const whys = (await db.get("whys", job)) ?? { plan: null, answers: {} };
  set({ job, base: kept?.body ?? null, screens, whys, opening: null, setup: null, step: {} });
  await db.note("job", job);
  refresh({ all: true });
  connect();
}

export function closeJob() {
  live?.close();
  live = null;
  set({ job: null, base: null, screens: {} });
}

/** Asks the laptop for the job and what is shown of it; calls while it asks are gathered into one more round. */
export function refresh({ all = false } = {}) {
  again = true;
  wide ||= all;
  running ??= (async () => {
    try {
      while (again) {
        again = false;
        await askAll(state.job);
      }
    } finally {
      running = null;
    }
  })();
  return running;
}

async function askAll(job) {
  if (!job || !(await askJob(job))) return;
  if (SCREENS.includes(state.screen)) await askScreen(job, state.screen);
  if (!wide) return;
  for (const screen of SCREENS) {
    if (again || state.job !== job) return;
    await askScreen(job, screen);
  }
  wide = false;
  await askWhys(job);
}

async function askJob(job) {
  const body = await reach(() => api.get(api.jobPath(job)));
  if (!body || state.job !== job) return false;
  if (state.base && body.seq < state.base.seq) return true; // an answer that was overtaken
  await db.put("jobs", { job, body });
  set({ base: body });
  await queue.seenUpTo(job, body.seq);
  return true;
}

async function askScreen(job, screen) {
  if (state.screens[screen]?.seq === state.base.seq && state.screens[screen].fresh) return;
  const ask = () => api.get(api.jobPath(job, `/screens/${screen}`), PLANNING_MS);
  const body = await reach(() => ask().catch((error) => noScreen(screen, error)));
  if (!body || state.job !== job) return;
  await db.put("screens", { key: `${job}/${screen}`, body });
  set({ screens: { ...state.screens, [screen]: { ...body, fresh: true } } });
}

/** A screen that the laptop does not have for this job stays empty. */
function noScreen(screen, error) {
  if (error.status !== 404) throw error;
  return {
    screen,
    seq: state.base.seq,
    plan: state.screens.measure?.plan,
    faults: [],
    svg: [],
    blocks: [],
    next: [],
  };
}

async function askWhys(job) {
  const plan = state.screens.measure?.plan;
  if (!plan || state.whys.plan === plan) return;
  const body = await reach(() => api.get(api.jobPath(job, "/whys"), PLANNING_MS));
  if (!body || state.job !== job) return;
  const whys = { job, plan: body.plan, answers: body.whys };
  await db.put("whys", whys);
  set({ whys });
}

/** The answer to "why", from this phone if it has it. */
export async function why(ident) {
  const known = state.whys.answers[ident];
  if (known && state.whys.plan === state.screens.measure?.plan) return known;
  return (
    (await reach(() => api.get(api.jobPath(state.job, `/why/${encodeURIComponent(ident)}`)))) ?? known ?? null
  );
}

/** Asks; says in the state whether the laptop was there; null where there is no answer. */
async function reach(call) {
  try {
    const answer = await call();
    if (state.reach !== "yes") {
      set({ reach: "yes" });
      queue.flush();
    }
    return answer;
  } catch (error) {
    if (error instanceof api.Unreachable) set({ reach: "no" });
    else if (error instanceof api.NotPaired) set({ reach: "unpaired" });
    else if (!(error instanceof api.Refused)) throw error;
    return null;
  }
}

function connect() {
  live?.close();
  live = null;
  if (!state.job || document.visibilityState !== "visible") return;
  live = new EventSource(api.jobPath(state.job, `/live?after=${state.base?.seq ?? 0}`));
  live.onopen = () => reachAgain();
  live.addEventListener("taken", () => refresh());
  live.addEventListener("plan", ({ data }) => {
    const { seq, plan } = JSON.parse(data);
    for (const screen of Object.values(state.screens))
      if (screen.seq < seq || screen.plan !== plan) screen.fresh = false;
    refresh({ all: true });
  });
  live.onerror = () => {
    if (live?.readyState === EventSource.CLOSED) setTimeout(connect, 5000);
  };
}

function reachAgain() {
  if (state.reach !== "yes") {
    set({ reach: "yes" });
    refresh({ all: true });
  }
  queue.flush();
}

/** Whether a screen tells of all that this phone knows. */
export function isChecked(screen) {
  const shown = state.screens[screen];
  return Boolean(shown) && shown.seq >= (state.base?.seq ?? 0) && !queue.pendingOf(state.job).length;
}

export function start() {
  queue.whenSent(() => refresh());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") {
      connect();
      refresh({ all: true });
    } else {
      live?.close(); // a page nobody sees needs no line to the laptop
      live = null;
    }
  });
  addEventListener("online", () => refresh({ all: true }));
  changed();
}
