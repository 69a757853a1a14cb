// What is on this phone only: unsent readings as text, refused ones with the reason, and who may write.

import * as api from "../api.js";
import { h } from "../dom.js";
import { keepPosition, keepsPosition } from "../photos.js";
import * as queue from "../queue.js";
import { askSure } from "../sheet.js";
import { labelOf } from "../spots.js";
import { changed, set, state, tell } from "../state.js";
import { t, tOr } from "../words.js";

/** One thing done, as a line of text a person can read or type again. */
export function lineOf(item) {
  if (item.what === "photo") return t("sync.photo");
  const { kind, payload } = item.event;
  if (kind === "reading.add") {
    const { setup, value } = payload.values;
    return `${setup ? `${setup}, ` : ""}${labelOf(payload.table, payload.values)}: ${value}`;
  }
  if (kind === "reading.change")
    return t("sync.change", { label: item.label ?? "", value: payload.values.value });
  if (kind === "reading.drop") return t("sync.drop", { label: item.label ?? "" });
  return t("sync.event", {
    what: tOr(`event.${kind.replace(".", "_")}`, kind),
    text: payload.text ?? payload.act ?? payload.path ?? "",
  });
}

export function syncScreen() {
  const waiting = queue.waiting();
  const refused = queue.refused();
  return h(
    "div.sync",
    {},
    h("h1", {}, t("screen.sync")),
    h("p.lead", { role: "status" }, statusText()),
    !window.isSecureContext && h("p.unchecked", {}, t("sync.keepOpen")),
    waiting.length > 0 && unsent(waiting),
    refused.length > 0 &&
      h("section", {}, h("h2", {}, t("sync.refused")), h("ul.plain", {}, refused.map(refusedLine))),
    h("button.key.wide", { "data-key": "try", onclick: () => queue.flush() }, t("sync.try")),
    devices(),
    phone(),
  );
}

export function statusText() {
  const waiting = queue.waiting().length;
  const refused = queue.refused().length;
  if (refused) return t("sync.someRefused", { n: refused });
  if (state.reach === "unpaired") return t("sync.unpaired");
  if (waiting) return t(state.reach === "no" ? "sync.waitingNo" : "sync.waiting", { n: waiting });
  return t(state.reach === "no" ? "sync.noLaptop" : state.reach === "yes" ? "sync.all" : "sync.asking");
}

function unsent(waiting) {
  const text = waiting.map(lineOf).join("\n");
  const box = h("textarea", {
    readonly: true,
    rows: Math.min(12, waiting.length + 1),
    "aria-label": t("sync.unsent"),
    value: text,
  });
  return h(
    "section",
    {},
    h("h2", {}, t("sync.unsent")),
    box,
    h(
      "div.row",
      {},
      h("button.key", { "data-key": "copy", onclick: () => copy(box) }, t("sync.copy")),
      navigator.share &&
        h("button.key", { onclick: () => navigator.share({ text }).catch(() => {}) }, t("sync.share")),
    ),
  );
}

async function copy(box) {
  box.select();
  if (navigator.clipboard && window.isSecureContext) await navigator.clipboard.writeText(box.value);
  else document.execCommand("copy"); // the only way on a page the phone does not trust
  tell(t("sync.copied"));
}

function refusedLine(item) {
  return h(
    "li.block.finding.fix",
    {},
    h(
      "div.stack",
      {},
      h("p.message", {}, lineOf(item)),
      item.faults.map((fault) => h("p.advice", {}, `${fault.what} ${fault.fix ?? ""}`)),
      h(
        "button.key",
        {
          onclick: async () => {
            if (await askSure({ title: t("sync.throwTitle"), text: lineOf(item), yes: t("sync.throw") }))
              queue.forget([item.n]);
          },
        },
        t("sync.throw"),
      ),
    ),
  );
}

function devices() {
  if (!state.devices) return h("button.key.wide", { onclick: loadDevices }, t("devices.show"));
  return h(
    "section",
    {},
    h("h2", {}, t("devices.title")),
    h(
      "ul.plain",
      {},
      state.devices
        .filter((each) => !each.revoked_at)
        .map((each) =>
          h(
            "li.row",
            {},
            h("span", {}, each.name, each.this ? ` (${t("devices.this")})` : ""),
            !each.this &&
              h(
                "button.key",
                {
                  onclick: () =>
                    api.remove(`/api/devices/${each.device}`).then(loadDevices, () => set({ reach: "no" })),
                },
                t("devices.revoke"),
              ),
          ),
        ),
    ),
  );
}

async function loadDevices() {
  try {
    set({ devices: (await api.get("/api/devices")).devices });
  } catch {
    set({ reach: "no" });
  }
}

function phone() {
  const theme = localStorage.getItem("theme") ?? "auto";
  return h(
    "section",
    {},
    choices(
      "theme",
      t("theme.title"),
      ["auto", "light", "dark"].map((each) => [each, t(`theme.${each}`)]),
      theme,
      setTheme,
    ),
    choices(
      "position",
      t("position.title"),
      ["leave", "keep"].map((each) => [each, t(`position.${each}`)]),
      keepsPosition() ? "keep" : "leave",
      (each) => keepPosition(each === "keep"),
    ),
    h("p.hint", {}, t("position.hint")),
  );
}

/** A few ways, one of them in use. */
function choices(name, title, ways, used, use) {
  return [
    h("h2", {}, title),
    h(
      "div.choices",
      { role: "group", "aria-label": title },
      ways.map(([each, words]) =>
        h(
          "button.choice",
          {
            "aria-pressed": String(each === used),
            "data-key": `${name}-${each}`,
            onclick: () => {
              use(each);
              changed();
            },
          },
          words,
        ),
      ),
    ),
  ];
}

/** Light, dark, or as the phone has it; kept for the next time. */
export function setTheme(theme) {
  const asked = { auto: "(prefers-color-scheme: dark)", light: "not all", dark: "all" };
  document.querySelector("#dark").media = asked[theme];
  localStorage.setItem("theme", theme);
}
