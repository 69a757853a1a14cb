// Long work on the laptop: started with a button, watched by a bar, stopped at any time.

import * as api from "./api.js";
import { h } from "./dom.js";
import { changed, state } from "./state.js";
import { t } from "./words.js";

const running = new Map(); // by job and kind: what the laptop last said

export function workButton(block) {
  const key = `${state.job}/${block.work}`;
  const work = running.get(key);
  const busy = work && ["waiting", "running"].includes(work.state);
  return h(
    "article.block.work",
    { "aria-label": block.title },
    h("h2", {}, block.title),
    block.text && h("p", {}, block.text),
    busy
      ? bar(key, work)
      : h(
          "button.key",
          { "data-key": `work-${block.work}`, onclick: () => begin(key, block.work) },
          t("work.start", { title: block.title }),
        ),
    work?.state === "done" &&
      work.file &&
      h(
        "p",
        {},
        h(
          "a.key.main",
          { href: `/api/works/${work.work}/file`, download: work.file.name },
          t("work.file", { name: work.file.name }),
        ),
      ),
    work?.state === "cancelled" && h("p.hint", {}, t("work.cancelled")),
    work?.state === "failed" &&
      h(
        "ul.faults",
        { role: "alert" },
        work.faults.map((fault) => h("li", {}, `${fault.what} ${fault.fix ?? ""}`)),
      ),
  );
}

function bar(key, work) {
  return h(
    "div.bar",
    {},
    h("progress", {
      max: work.of || null,
      value: work.of ? work.done : null,
      "aria-label": work.step || t("work.running"),
    }),
    h("p", { role: "status" }, work.step || t("work.running"), work.of ? ` ${work.done} / ${work.of}` : ""),
    h(
      "button.key",
      {
        "data-key": `stop-${key}`,
        onclick: () => api.remove(`/api/works/${work.work}`).catch(() => {}),
      },
      t("work.cancel"),
    ),
  );
}

async function begin(key, kind) {
  try {
    const { work } = await api.post(api.jobPath(state.job, "/work"), { kind });
    running.set(key, { work, state: "waiting", done: 0, of: 0, faults: [] });
    changed();
    watch(key, work);
  } catch (error) {
    const faults = error.faults ?? [{ what: t("work.unreachable") }];
    running.set(key, { state: "failed", faults });
    changed();
  }
}

async function watch(key, work) {
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, 400));
    try {
      const now = await api.get(`/api/works/${work}`);
      running.set(key, now);
      changed();
      if (!["waiting", "running"].includes(now.state)) return;
    } catch (error) {
      if (error instanceof api.Refused) return void running.delete(key);
    }
  }
}
