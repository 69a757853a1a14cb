// Local first: whatever is typed is on this phone's disk before the screen says so, and goes to the laptop
// when it can. Each has an id made here, so that sending twice does no harm. Order is that of making; no clock
// is trusted.

import * as api from "./api.js";
import * as db from "./db.js";
import { changed, state } from "./state.js";

const BATCH = 50;
const TAKING_MS = 20000;
const EVERY_MS = 15000;
const neighbours = "BroadcastChannel" in window ? new BroadcastChannel("sillwright") : null;

/** 128 bits from this phone, as hexadecimal digits. */
export function freshId() {
  return [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("");
}

/**
 * Keeps one thing that was done; resolves when it is on the disk, before anything is sent. The label says
 * for people what it was done to, where the event itself has only a name for machines.
 */
export async function keep(job, kind, payload, label = "") {
  const event = { id: freshId(), kind, made_at: new Date().toISOString(), payload };
  await store({ job, what: "event", event, label, state: "waiting" });
  return event;
}

/** Keeps a photo and says where it belongs. */
export async function keepPhoto(job, blob, { place, step, position = false }) {
  const photo = freshId();
  await store({ job, what: "photo", photo, blob, position, state: "waiting" });
  await keep(job, "photo.add", { photo, place, step });
  return photo;
}

async function store(item) {
  item.n = await db.add("outbox", item);
  state.outbox = [...state.outbox, item];
  changed();
  neighbours?.postMessage("outbox");
  flush();
}

export async function load() {
  state.outbox = await db.all("outbox");
}

export const waiting = () => state.outbox.filter((item) => item.state === "waiting");
export const refused = () => state.outbox.filter((item) => item.state === "refused");

/** Events of a job that the base does not have yet, in order. */
export const pendingOf = (job) =>
  state.outbox
    .filter((item) => item.job === job && item.what === "event" && item.state !== "refused")
    .map((item) => item.event);

let flushing = null;
let more = false;

/** Sends what waits, in order; stops at the first failure and keeps the rest. */
export function flush() {
  more = true;
  flushing ??= (async () => {
    try {
      while (more) {
        more = false;
        await sendAll();
      }
    } finally {
      flushing = null;
    }
  })();
  return flushing;
}

async function sendAll() {
  let sent = false;
  try {
    for (let items = waiting(); items.length; items = waiting()) {
      await (items[0].what === "photo" ? sendPhoto(items[0]) : sendEvents(items));
      sent = true;
    }
    if (sent) state.reach = "yes";
  } catch (error) {
    if (error instanceof api.NotPaired) state.reach = "unpaired";
    else if (error instanceof api.Unreachable) state.reach = "no";
    else throw error;
  }
  changed();
  if (sent) onSent();
}

let onSent = () => {};
export function whenSent(call) {
  onSent = call;
}

async function sendEvents(items) {
  const [{ job }] = items;
  const end = items.findIndex((item) => item.job !== job || item.what !== "event");
  const batch = items.slice(0, Math.min(end < 0 ? items.length : end, BATCH));
  let answer;
  try {
    answer = await api.post(
      api.jobPath(job, "/events"),
      { events: batch.map((item) => item.event) },
      TAKING_MS,
    );
  } catch (error) {
    if (!(error instanceof api.Refused)) throw error;
    if (error.status === 429) throw new api.Unreachable("429");
    if (batch.length > 1) return sendEvents(batch.slice(0, 1)); // find the one that spoils the batch
    return settle(batch, () => ({ state: "refused", faults: error.faults }));
  }
  const has = new Set([...answer.taken, ...answer.had]);
  const faults = new Map(answer.refused.map((each) => [each.id, each.faults]));
  const known = batch.filter((item) => has.has(item.event.id) || faults.has(item.event.id));
  if (!known.length) throw new api.Unreachable("unanswered");
  return settle(known, (item) =>
    faults.has(item.event.id)
      ? { state: "refused", faults: faults.get(item.event.id) }
      : { state: "sent", seq: answer.seq },
  );
}

async function sendPhoto(item) {
  const form = new FormData();
  form.append("photo", item.photo);
  form.append("keep_position", item.position ? "yes" : "no");
  form.append("file", item.blob, `${item.photo}.jpg`);
  try {
    await api.upload(api.jobPath(item.job, "/photos"), form);
  } catch (error) {
    if (!(error instanceof api.Refused)) throw error;
    return settle([item], () => ({ state: "refused", faults: error.faults }));
  }
  await forget([item.n]);
}

async function settle(items, outcome) {
  const settled = new Map(items.map((item) => [item.n, { ...item, ...outcome(item) }]));
  await db.putMany("outbox", [...settled.values()]);
  state.outbox = state.outbox.map((item) => settled.get(item.n) ?? item);
  changed();
  neighbours?.postMessage("outbox");
}

/** Lets go of what the laptop has shown back. */
export async function seenUpTo(job, seq) {
  await forget(
    state.outbox
      .filter((item) => item.job === job && item.state === "sent" && item.seq <= seq)
      .map((item) => item.n),
  );
}

/** Throws away what the person no longer wants sent. */
export async function forget(numbers) {
  if (!numbers.length) return;
  await db.removeMany("outbox", numbers);
  state.outbox = state.outbox.filter((item) => !numbers.includes(item.n));
  changed();
  neighbours?.postMessage("outbox");
}

export function start() {
  addEventListener("online", flush);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && flush());
  setInterval(() => waiting().length && flush(), EVERY_MS);
  neighbours?.addEventListener("message", async () => {
    await load();
    changed();
  });
}
