// The site app: what is drawn follows from the state, and the state from what was tapped and heard.

import * as api from "./api.js";
import { whenReshot } from "./acts.js";
import * as db from "./db.js";
import { h, refill } from "./dom.js";
import * as follow from "./follow.js";
import { icon } from "./icons.js";
import * as press from "./press.js";
import * as queue from "./queue.js";
import { reshootPad } from "./screens/reshoot.js";
import { editScreen } from "./screens/edit.js";
import { jobsScreen } from "./screens/jobs.js";
import { measureScreen } from "./screens/measure.js";
import { pairScreen } from "./screens/pair.js";
import { plainScreen } from "./screens/plain.js";
import { setTheme, statusText, syncScreen } from "./screens/sync.js";
import { changed, listen, set, state } from "./state.js";
import { t } from "./words.js";

const header = document.querySelector("header");
const nav = document.querySelector("nav");
const main = document.querySelector("main");
const status = document.querySelector("#said");
const scrolls = new Map();

// --- where we are ----------------------------------------------------------------------------------------------

async function route() {
  const hash = location.hash;
  const pairing = /^#pair=(.+)$/.exec(hash);
  if (pairing) {
    history.replaceState(null, "", "/"); // the code is for once
    return set({ screen: "pair", code: decodeURIComponent(pairing[1]) });
  }
  const [, job, screen] = /^#\/j\/([^/]+)\/(\w+)$/.exec(hash) ?? [];
  if (job) {
    await follow.openJob(decodeURIComponent(job));
    set({ screen: [...follow.SCREENS, "edit"].includes(screen) ? screen : "measure" });
    follow.refresh();
    if (follow.SCREENS.includes(screen)) db.note("screen", screen);
  } else if (hash === "#/sync") {
    set({ screen: "sync" });
  } else {
    follow.closeJob();
    set({ screen: "jobs" });
    follow.loadJobs();
  }
  scrollTo(0, 0);
}

async function start() {
  setTheme(localStorage.getItem("theme") ?? "auto");
  await queue.load();
  const job = await db.noted("job");
  if (!location.hash && job) {
    const screen = await db.noted("screen", "measure");
    history.replaceState(null, "", `#/j/${encodeURIComponent(job)}/${screen}`); // where the work stopped
  }
  press.watch();
  listen(press.afterPress(draw));
  addEventListener("hashchange", route);
  addEventListener("resize", changed);
  whenReshot(reshootPad);
  queue.start();
  follow.start();
  await route();
  introduce();
  queue.flush();
  if ("serviceWorker" in navigator) registerShell();
}

async function introduce() {
  try {
    set({ me: await api.get("/api/me"), reach: "yes" });
  } catch (error) {
    if (error instanceof api.NotPaired && !state.me) set({ reach: "unpaired", screen: "pair" });
    else if (error instanceof api.Unreachable) set({ reach: "no" });
  }
}

async function registerShell() {
  const registration = await navigator.serviceWorker.register("/sw.js").catch(() => null);
  const waiting = () => registration.waiting && navigator.serviceWorker.controller && set({ newShell: true });
  registration?.addEventListener("updatefound", () =>
    registration.installing?.addEventListener("statechange", waiting),
  );
  if (registration) waiting();
}

async function takeNewShell() {
  const registration = await navigator.serviceWorker.getRegistration();
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
  registration?.waiting?.postMessage("take over");
}

// --- drawing -----------------------------------------------------------------------------------------------------

function draw() {
  const view = follow.view();
  refill(header, ...head(view));
  drawTabs();
  for (const box of main.querySelectorAll("[data-scroll]"))
    scrolls.set(box.dataset.scroll, [box.scrollLeft, box.scrollTop]);
  const open = new Map([...main.querySelectorAll("details")].map((each, n) => [n, each.open]));
  const before = main.dataset.screen;
  main.dataset.screen = `${state.screen}/${state.job}`;
  refill(main, body(view));
  if (before === main.dataset.screen) {
    [...main.querySelectorAll("details")].forEach((each, n) => {
      if (open.has(n)) each.open = open.get(n);
    });
  }
  for (const box of main.querySelectorAll("[data-scroll]")) {
    const at = scrolls.get(box.dataset.scroll);
    if (at) [box.scrollLeft, box.scrollTop] = at;
  }
  if (state.toStep) {
    state.toStep = false;
    main.querySelector(".step")?.scrollIntoView(); // the next picture, not the buttons that led to it
  }
  if (status.textContent !== state.said) status.textContent = state.said;
  document.title = view && state.job ? `${view.title} · Sillwright` : "Sillwright";
}

function head(view) {
  const inJob = state.job && view;
  const level = queue.refused().length
    ? "refused"
    : queue.waiting().length
      ? "waiting"
      : state.reach === "yes"
        ? "all"
        : state.reach === "unpaired"
          ? "unpaired"
          : "away";
  return [
    h("a.home", { href: "#/", "data-key": "home", "aria-label": t("head.jobs") }, icon("jobs")),
    h("p.title", {}, inJob ? view.title : t("head.name")),
    inJob &&
      h(
        "a.edit",
        { href: `#/j/${state.job}/edit`, "data-key": "edit", "aria-label": t("head.edit") },
        icon("edit"),
      ),
    h(
      "a.sync",
      { href: "#/sync", class: level, "data-key": "sync", "aria-label": statusText() },
      h(
        "span.sign",
        { "aria-hidden": "true" },
        { all: icon("tick"), waiting: String(queue.waiting().length), refused: "!", away: "–", unpaired: "?" }[level],
      ),
      h("span", { "aria-hidden": "true" }, t(`sync.short.${level}`)),
    ),
  ];
}

/** The row of screens stays as it is, so that it keeps where it was scrolled to. */
function drawTabs() {
  if (nav.dataset.job !== (state.job ?? "")) {
    nav.dataset.job = state.job ?? "";
    nav.setAttribute("aria-label", t("head.nav"));
    refill(
      nav,
      state.job &&
        h(
          "ul",
          {},
          follow.SCREENS.map((screen) =>
            h(
              "li",
              {},
              h(
                "a",
                {
                  href: `#/j/${state.job}/${screen}`,
                  "data-screen": screen,
                },
                t(`screen.${screen}`),
              ),
            ),
          ),
        ),
    );
  }
  for (const tab of nav.querySelectorAll("a")) {
    const here = tab.dataset.screen === state.screen;
    if (here === tab.hasAttribute("aria-current")) continue;
    tab.toggleAttribute("aria-current", here);
    if (here) {
      tab.setAttribute("aria-current", "page");
      tab.scrollIntoView({ inline: "center", block: "nearest" });
    }
  }
}

function body(view) {
  const style = getComputedStyle(main);
  const room = main.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
  const column = innerWidth >= 1000 ? (room - 24) * 0.6 : room; // as the columns of app.css
  const width = Math.max(320, Math.floor(column) - 2);
  return [
    state.newShell &&
      h("p.unchecked", {}, t("shell.new"), " ", h("button.link", { onclick: takeNewShell }, t("shell.take"))),
    !window.isSecureContext && state.screen !== "sync" && h("p.keep-open", {}, t("sync.keepOpen")),
    screenOf(view, width),
  ];
}

function screenOf(view, width) {
  if (state.screen === "pair" || (state.reach === "unpaired" && !state.base)) return pairScreen();
  if (state.screen === "jobs") return jobsScreen();
  if (state.screen === "sync") return syncScreen();
  if (!view) return h("p.lead", {}, t(state.reach === "no" ? "plain.notHere" : "plain.asking"));
  if (state.screen === "edit") return editScreen(view);
  if (state.screen === "measure") return measureScreen(view, width);
  return plainScreen(state.screen, view);
}

start();
