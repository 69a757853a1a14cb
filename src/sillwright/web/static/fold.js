// What a job is: what the laptop last said, with everything on top that this phone made and has not seen back.

import { parsePath } from "./paths.js";

/** Returns the job as it stands for this phone. Pure: base is not changed. */
export function fold(base, events) {
  const view = structuredClone(base);
  view.waiting = events.length;
  for (const event of events) (DO[event.kind] ?? (() => {}))(view, event.payload, event);
  return view;
}

const DO = {
  "reading.add": (view, { reading_id, table, values }, event) => {
    if (!readingOf(view, reading_id)) {
      view.readings.push({ reading_id, table, values, head: [event.id], state: "ok", waiting: true });
    }
  },
  "reading.change": (view, { reading_id, values }, event) => {
    const reading = readingOf(view, reading_id);
    if (!reading) return;
    const kept = Object.fromEntries(
      Object.entries(reading.values).filter(
        ([name]) => !["value", "sd", "instrument", "by", "note"].includes(name),
      ),
    );
    Object.assign(reading, { values: { ...kept, ...values }, head: [event.id], waiting: true, state: "ok" });
    view.folded.conflicts = view.folded.conflicts.filter((conflict) => conflict.reading_id !== reading_id);
  },
  "reading.drop": (view, { reading_id }) => {
    view.readings = view.readings.filter((reading) => reading.reading_id !== reading_id);
  },
  "job.set": (view, { path, value }) => {
    setAt(view.document, path, value);
    if (path === "units" || path === "title") view[path] = value;
  },
  "job.add": (view, { path, value }) => {
    const steps = parsePath(path);
    const last = steps.pop();
    const around = reach(view.document, steps);
    if (around) (around[last] ??= []).push(value);
  },
  "job.drop": (view, { path }) => {
    const steps = parsePath(path);
    const last = steps.pop();
    const around = reach(view.document, steps);
    if (Array.isArray(around)) around.splice(last, 1);
    else if (around) delete around[last];
  },
  "act.done": (view, { act, text }, event) => {
    view.folded.acts[act] = mine(event, { text });
  },
  "act.undone": (view, { act }) => {
    delete view.folded.acts[act];
  },
  "note.add": (view, { place, text }, event) => {
    view.folded.notes.push(mine(event, { place, text }));
  },
  "weather.note": (view, { text }, event) => {
    view.folded.weather.push(mine(event, { text }));
  },
  "photo.add": (view, payload, event) => {
    view.folded.photos.push(mine(event, payload));
  },
  "hold.tick": (view, { hold, photo }, event) => {
    view.folded.holds[hold] = mine(event, { how: "tick", photo });
  },
  "hold.override": (view, { hold, reason }, event) => {
    view.folded.holds[hold] = mine(event, { how: "override", reason });
  },
  "hold.undo": (view, { hold }) => {
    delete view.folded.holds[hold];
  },
  sign: (view, payload, event) => {
    view.folded.signs.push(mine(event, payload));
  },
  "answer.add": (view, payload, event) => {
    view.folded.answers.push(mine(event, payload));
  },
};

const mine = (event, payload) => ({ ...payload, event: event.id, at: event.made_at, waiting: true });

export function readingOf(view, id) {
  return view.readings.find((reading) => reading.reading_id === id);
}

function reach(document, steps) {
  let here = document;
  for (const [n, step] of steps.entries()) {
    if (here[step] === undefined) here[step] = typeof steps[n + 1] === "number" ? [] : {};
    here = here[step];
    if (here === null || typeof here !== "object") return null;
  }
  return here;
}

function setAt(document, path, value) {
  const steps = parsePath(path);
  const last = steps.pop();
  const around = reach(document, steps);
  if (around) around[last] = value;
}
