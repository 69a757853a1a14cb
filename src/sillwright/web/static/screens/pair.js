// Pairing: the code the laptop shows lets this phone write.

import * as api from "../api.js";
import { h } from "../dom.js";
import { loadJobs } from "../follow.js";
import * as queue from "../queue.js";
import { field, valueOf } from "../reading_forms.js";
import { set, state } from "../state.js";
import { t } from "../words.js";

export function pairScreen() {
  const code = field(t("pair.code"), {
    required: true,
    value: state.code ?? "",
    autocapitalize: "characters",
    "data-key": "pair-code",
    oninput: (event) => (state.code = event.target.value), // the page may be drawn anew while it is typed
  });
  const name = field(t("pair.name"), {
    required: true,
    maxlength: 40,
    value: state.name ?? "",
    placeholder: t("pair.nameHint"),
    "data-key": "pair-name",
    oninput: (event) => (state.name = event.target.value),
  });
  return h(
    "div.pair",
    {},
    h("h1", {}, t("screen.pair")),
    h("p.lead", {}, t("pair.lead")),
    h(
      "form.stack",
      {
        onsubmit: (event) => {
          event.preventDefault();
          pair(valueOf(code), valueOf(name));
        },
      },
      code,
      name,
      h("p.heard.wrong", { role: "alert" }, state.pairFault ?? ""),
      h("button.key.main", { type: "submit", "data-key": "pair" }, t("pair.do")),
    ),
  );
}

async function pair(code, name) {
  try {
    const me = await api.post("/api/pair", { code, name });
    set({ me, reach: "yes", pairFault: null, code: null });
    if (location.hash === "#/") dispatchEvent(new Event("hashchange"));
    else location.hash = "#/";
    queue.flush();
    loadJobs();
  } catch (error) {
    set({ code, pairFault: error.faults ? error.message : t("pair.unreachable") });
  }
}
