// Jobs: open one, start one, bring one in.

import * as api from "../api.js";
import { stamp } from "../findings.js";
import { h } from "../dom.js";
import { loadJobs } from "../follow.js";
import { BadReading, parse } from "../lengths.js";
import * as queue from "../queue.js";
import { choice, field, valueOf } from "../reading_forms.js";
import { sheet } from "../sheet.js";
import { state } from "../state.js";
import { t } from "../words.js";

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

export function jobsScreen() {
  return h(
    "div.jobs",
    {},
    h("h1", {}, t("screen.jobs")),
    h(
      "ul.plain",
      {},
      state.jobs.map((job) =>
        h(
          "li",
          {},
          h(
            "a.job",
            { href: `#/j/${job.job}/measure`, "data-key": `job-${job.job}` },
            h("strong", {}, job.title),
            h(
              "span.hint",
              {},
              job.invented ? t("jobs.invented") : "",
              job.units === "mm" ? t("jobs.mm") : t("jobs.in"),
            ),
            job.findings &&
              h(
                "span.stamps",
                {},
                ["stop", "fix", "watch"]
                  .filter((each) => job.findings[each])
                  .map((each) => [stamp(each), h("span.count", {}, job.findings[each])]),
              ),
          ),
        ),
      ),
    ),
    !state.jobs.length && h("p.lead", {}, t("jobs.none")),
    h(
      "div.stack",
      {},
      h("button.key.main.wide", { "data-key": "new-wall", onclick: newWall }, t("jobs.new")),
      h(
        "button.key.wide",
        {
          "data-key": "example",
          onclick: () =>
            make({ starter: "example", units: "in", title: t("jobs.exampleTitle"), openings: ["A"] }),
        },
        t("jobs.example"),
      ),
      h(
        "label.key.wide.file",
        {},
        h("input.hidden-file", {
          type: "file",
          accept: ".toml,text/plain",
          "aria-label": t("jobs.import"),
          onchange: bringIn,
        }),
        h("span", { "aria-hidden": "true" }, t("jobs.import")),
      ),
    ),
    h("p.hint", {}, t("jobs.caution")),
  );
}

async function newWall() {
  const asked = await sheet({
    title: t("jobs.new"),
    fill: (close) => {
      const title = field(t("jobs.title"), { required: true, maxlength: 120 });
      const units = choice(
        t("jobs.units"),
        [
          ["in", t("jobs.in")],
          ["mm", t("jobs.mm")],
        ],
        "in",
      );
      const count = field(t("jobs.count"), { type: "number", min: 1, max: 26, value: 1, required: true });
      const wide = field(t("jobs.wide"), {});
      const high = field(t("jobs.high"), {});
      const wrong = h("p.heard.wrong", { role: "alert" });
      const submit = (event) => {
        event.preventDefault();
        try {
          for (const each of [wide, high]) if (valueOf(each)) parse(valueOf(each), valueOf(units));
          close({
            title: valueOf(title),
            units: valueOf(units),
            count: Number(valueOf(count)),
            wide: valueOf(wide),
            high: valueOf(high),
          });
        } catch (error) {
          if (!(error instanceof BadReading)) throw error;
          wrong.textContent = error.message;
        }
      };
      return h(
        "form.stack",
        { onsubmit: submit },
        title,
        units,
        count,
        wide,
        high,
        h("p.hint", {}, t("jobs.sizeHint")),
        wrong,
        h("button.key.main", { type: "submit", "data-key": "make" }, t("jobs.make")),
      );
    },
  });
  if (!asked) return;
  const openings = [...LETTERS.slice(0, asked.count)];
  const job = await make({ starter: "blank", units: asked.units, title: asked.title, openings });
  if (!job) return;
  for (const n of openings.keys()) {
    if (asked.wide) await queue.keep(job, "job.set", { path: `unit[${n}].frame_width`, value: asked.wide });
    if (asked.high) await queue.keep(job, "job.set", { path: `unit[${n}].frame_height`, value: asked.high });
  }
}

async function make(wanted) {
  try {
    const { job } = await api.post("/api/jobs", { job: queue.freshId(), ...wanted });
    await loadJobs();
    location.hash = `#/j/${job}/measure`;
    return job;
  } catch (error) {
    tellWhatFailed(error);
    return null;
  }
}

async function bringIn(event) {
  const [file] = event.target.files;
  if (file) await make({ text: await file.text() });
}

function tellWhatFailed(error) {
  const faults = error.faults ?? [{ what: t("jobs.unreachable") }];
  sheet({
    title: t("jobs.failed"),
    fill: () =>
      h(
        "ul.faults",
        {},
        faults.map((fault) =>
          h("li", {}, h("strong", {}, fault.place), " ", fault.what, " ", fault.fix ?? ""),
        ),
      ),
  });
}
