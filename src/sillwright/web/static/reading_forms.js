// The few things about readings that no drawing can ask: where the laser stands, and readings of rare kinds.

import { h } from "./dom.js";
import { askLength } from "./keypad.js";
import { sheet } from "./sheet.js";
import { KINDS, SHOTS, spot } from "./spots.js";
import { t } from "./words.js";

/** A text field with its label. */
function field(label, attributes) {
  const id = `f-${label.replace(/\W+/g, "-")}`;
  return h(
    "div.field",
    {},
    h("label", { for: id }, label),
    h("input", { id, autocomplete: "off", ...attributes }),
  );
}

/** A choice out of a few, as a list box. */
function choice(label, options, value) {
  const id = `f-${label.replace(/\W+/g, "-")}`;
  return h(
    "div.field",
    {},
    h("label", { for: id }, label),
    h(
      "select",
      { id },
      options.map(([key, text]) => h("option", { value: key, selected: key === value }, text)),
    ),
  );
}

const valueOf = (element) => element.querySelector("input, select").value.trim();

/** Asks where the laser stands; returns { name, x, turned, instrument } or null. */
export async function askSetup(here, named = t("setup.auto", { n: here.setups.length + 1 })) {
  const lasers = (here.view.document.instrument ?? []).filter((each) => each.kind === "laser");
  return sheet({
    title: t("setup.title"),
    fill: (close) => {
      const name = field(t("setup.name"), { value: named, required: true });
      const x = field(t("setup.x", { unit: here.unit }), { required: true, inputmode: "decimal" });
      const turned = choice(
        t("setup.turned"),
        [
          ["", t("setup.unsaid")],
          ["no", t("setup.same")],
          ["yes", t("setup.round")],
        ],
        "",
      );
      const instrument =
        lasers.length > 0 &&
        choice(
          t("setup.instrument"),
          [["", t("setup.unsaid")], ...lasers.map((each) => [each.name, each.name])],
          "",
        );
      return h(
        "form.stack",
        {
          onsubmit: (event) => {
            event.preventDefault();
            close({
              name: valueOf(name),
              x: valueOf(x),
              turned: valueOf(turned),
              instrument: instrument ? valueOf(instrument) : "",
            });
          },
        },
        name,
        x,
        turned,
        instrument,
        here.view.document.mark?.length > 0 && h("p.hint", {}, t("setup.hint")),
        h("button.key.main", { type: "submit" }, t("setup.done")),
      );
    },
  });
}

/** Asks for a reading of any kind: the kind, what names its place, then the length. */
export async function otherReading(here, keepNew, start = null) {
  const table =
    start?.table ??
    (await sheet({
      title: t("other.title"),
      fill: (close) =>
        h(
          "div.stack",
          {},
          Object.keys(KINDS).map((kind) =>
            h("button.key.wide", { onclick: () => close(kind) }, t(`kind.${kind}`)),
          ),
        ),
    }));
  if (!table) return;
  const values = await askPlace(here, table, start?.values ?? {});
  if (!values) return;
  const each = spot(table, values);
  const answer = await askLength({
    title: each.label,
    unit: here.unit,
    signed: each.signed,
    note: "",
    nothing: t("keypad.start"),
  });
  if (answer) await keepNew(here, each, answer);
}

async function askPlace(here, table, known) {
  const kind = KINDS[table];
  const options = {
    opening: here.names.map((name) => [name, name]),
    setup: here.setups.map((each) => [each.name, each.name]),
    place:
      table === "mark"
        ? (here.view.document.mark ?? []).map((each) => [each.name, each.name])
        : kind.places?.map((place) => [place, t(`place.${place}`)]),
  };
  const preset = { opening: here.opening, setup: here.setup?.name, ...known };
  return sheet({
    title: t(`kind.${table}`),
    fill: (close) => {
      if (SHOTS.includes(table) && !here.setups.length) return h("p", {}, t("other.noSetup"));
      const asked = kind.needs.map((name) => [
        name,
        options[name]
          ? choice(t(`column.${name}`), options[name], preset[name])
          : field(t(`column.${name}`), {
              required: name !== "x" || table !== "point",
              value: preset[name] ?? "",
            }),
      ]);
      if (kind.edge)
        asked.push([
          "edge",
          choice(
            t("column.edge"),
            [
              ["", t("edge.outer")],
              ["inner", t("edge.inner")],
            ],
            preset.edge ?? "",
          ),
        ]);
      return h(
        "form.stack",
        {
          onsubmit: (event) => {
            event.preventDefault();
            close(
              Object.fromEntries(
                asked.map(([name, element]) => [name, valueOf(element)]).filter(([, value]) => value),
              ),
            );
          },
        },
        asked.map(([, element]) => element),
        h("button.key.main", { type: "submit" }, t("other.go")),
      );
    },
  });
}

export { choice, field, valueOf };
