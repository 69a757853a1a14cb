// The way to the laptop. Three things can go wrong, and each is told apart: it cannot be reached, it does not
// know this phone, it refuses what was sent.

const PATIENCE_MS = 8000; // a half-dead Wi-Fi never answers; waiting longer helps nobody at the wall

export class Unreachable extends Error {}
export class NotPaired extends Error {}
export class Refused extends Error {
  constructor(status, faults) {
    super(faults.map((fault) => `${fault.what} ${fault.fix ?? ""}`.trim()).join(" "));
    this.status = status;
    this.faults = faults;
  }
}

async function ask(path, options = {}, patience = PATIENCE_MS) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), patience);
  try {
    const answer = await fetch(path, { ...options, signal: stop.signal, credentials: "same-origin" });
    if (answer.status >= 500) throw new Unreachable(`${answer.status}`);
    const body = options.as === "text" ? await answer.text() : await readJson(answer);
    if (answer.ok) return body;
    const faults = body?.faults ?? [{ place: "", what: `${answer.status}`, fix: "" }];
    if (answer.status === 401) throw new NotPaired(faults[0].what);
    throw new Refused(answer.status, faults);
  } catch (error) {
    if (error instanceof Unreachable || error instanceof NotPaired || error instanceof Refused) throw error;
    throw new Unreachable(error.message);
  } finally {
    clearTimeout(timer);
  }
}

async function readJson(answer) {
  const text = await answer.text();
  return text ? JSON.parse(text) : null;
}

const UNSAFE = { "X-Sillwright": "1" };

export const get = (path, patience) => ask(path, {}, patience);
export const text = (path) => ask(path, { as: "text" });
export const post = (path, body, patience) =>
  ask(
    path,
    {
      method: "POST",
      headers: { ...UNSAFE, "Content-Type": "application/json" },
      body: JSON.stringify(body),
    },
    patience,
  );
export const remove = (path) => ask(path, { method: "DELETE", headers: UNSAFE });
export const upload = (path, form) => ask(path, { method: "POST", headers: UNSAFE, body: form }, 60000);

export const jobPath = (job, rest = "") => `/api/jobs/${encodeURIComponent(job)}${rest}`;
