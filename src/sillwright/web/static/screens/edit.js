// The job without its file: every key of the job file's form as a field, with its own words as help. The form
// is drawn from the schema, so a new key of the job needs no line here.

import * as api from "../api.js";
import * as db from "../db.js";
import { h } from "../dom.js";
import { parse } from "../lengths.js";
import { at } from "../paths.js";
import * as queue from "../queue.js";
import { askSure, askWords } from "../sheet.js";
import { changed, set, state, tell } from "../state.js";
import { t, tOr } from "../words.js";

const MEASURED = new Set(["setup", "reshoot", "answer", "sillwright"]); // read on the drawing, or not to be changed
const READINGS = new Set(["Reading", "Three", "Across", "Diagonals", "Leans", "PlumbLines", "Corners"]);

export function editScreen(view) {
  if (!state.schema) {
    loadSchema();
    return h(
      "div",
      {},
      h("h1", {}, t("screen.edit")),
      h("p.lead", {}, t(state.reach === "no" ? "plain.notHere" : "plain.asking")),
    );
  }
  const root = state.schema;
  const names = Object.keys(root.properties).filter((name) => !MEASURED.has(name));
  const simple = names.filter(
    (name) => kindOf(root.properties[name]) !== "table" && kindOf(root.properties[name]) !== "tables",
  );
  return h(
    "div.edit",
    {},
    h("h1", {}, t("screen.edit")),
    h("p.hint", {}, t(view.units === "mm" ? "edit.leadMm" : "edit.leadIn")),
    simple.map((name) => oneField(view, root.properties[name], name, name, root.required?.includes(name))),
    names
      .filter((name) => !simple.includes(name))
      .sort((a, b) => rank(a) - rank(b))
      .map((name) => section(view, root.properties[name], name, name)),
    h(
      "div.row",
      {},
      h("a.key", { href: api.jobPath(state.job, "/file"), download: true }, t("edit.export")),
      h(
        "label.key.file",
        {},
        h("input.hidden-file", {
          type: "file",
          accept: ".toml,text/plain",
          "aria-label": t("edit.import"),
          onchange: replaceFile,
        }),
        h("span", { "aria-hidden": "true" }, t("edit.import")),
      ),
    ),
  );
}

const FIRST = ["unit", "opening", "row", "kit", "wall", "mark"];
const rank = (name) => (FIRST.includes(name) ? FIRST.indexOf(name) : FIRST.length);

async function loadSchema() {
  const kept = await db.noted("schema");
  if (kept) set({ schema: kept });
  try {
    const schema = await api.get("/api/schema");
    await db.note("schema", schema);
    if (!kept) set({ schema });
  } catch (error) {
    if (error instanceof api.Unreachable) set({ reach: "no" });
    else throw error;
  }
}

function resolved(field) {
  return field?.$ref
    ? { ...state.schema.$defs[field.$ref.split("/").pop()], ...field, name: field.$ref.split("/").pop() }
    : field;
}

function kindOf(field) {
  const own = resolved(field);
  if (READINGS.has(own.name) || own.anyOf?.some((each) => READINGS.has(resolved(each).name)))
    return "reading";
  if (own.properties) return "table";
  if (own.type === "array") return resolved(own.items).properties ? "tables" : "list";
  if (own.enum) return "choice";
  if (own.type === "boolean") return "yesno";
  if (Array.isArray(own.type)) return "length";
  if (own.type === "number" || own.type === "integer") return "number";
  return "text";
}

const title = (name) => tOr(`edit.name.${name}`, name.replaceAll("_", " "));

function section(view, field, name, path) {
  const own = resolved(field);
  const isList = kindOf(field) === "tables";
  const body = isList ? entries(view, own, name, path) : fields(view, own, path);
  return h(
    "details.section",
    {},
    h(
      "summary",
      {},
      title(name),
      h("span.hint", {}, (field.description ?? own.description ?? "").split("\n")[0]),
    ),
    body,
  );
}

function entries(view, own, name, path) {
  const list = at(view.document, path) ?? [];
  const item = resolved(own.items);
  return h(
    "div",
    {},
    list.map((entry, n) =>
      h(
        "details.entry",
        {},
        h("summary", {}, entry.name ?? entry.opening ?? entry.openings?.join(" ") ?? `${n + 1}`),
        fields(view, item, `${path}[${n}]`),
        h(
          "button.key",
          {
            onclick: () => drop(`${path}[${n}]`, entry.name ?? entry.opening ?? `${title(name)} ${n + 1}`),
          },
          t("edit.drop"),
        ),
      ),
    ),
    h(
      "button.key.wide",
      { "data-key": `add-${path}`, onclick: () => add(view, item, path) },
      t("edit.add", { name: title(name) }),
    ),
  );
}

function fields(view, own, path) {
  return h(
    "div.fields",
    {},
    Object.entries(own.properties).map(([name, field]) => {
      const kind = kindOf(field);
      if (kind === "reading") return null;
      if (kind === "table" || kind === "tables") return section(view, field, name, `${path}.${name}`);
      return oneField(view, field, name, `${path}.${name}`, own.required?.includes(name));
    }),
  );
}

const drafts = new Map(); // by field: what was typed and not kept, and why not; a redrawn page shows it again

function oneField(view, field, name, path, required) {
  const own = resolved(field);
  const kind = kindOf(field);
  const id = `e-${path}`;
  const key = `${state.job}/${path}`;
  const draft = drafts.get(key);
  const common = { id, "data-key": id, "aria-describedby": `${id}-help` };
  const control = ["choice", "yesno"].includes(kind)
    ? selectField(view, own, { kind, path, required, common })
    : typedField(view, own, { kind, path, key, required, common, long: kind === "list" || name === "note" });
  return h(
    "div.field",
    {},
    h("label", { for: id }, title(name)),
    control,
    h("p.hint", { id: `${id}-help` }, own.description ?? ""),
    h("p.heard.wrong", { role: "alert" }, draft?.fault ?? ""),
  );
}

function selectField(view, own, { kind, path, required, common }) {
  const value = at(view.document, path);
  return h(
    "select",
    { ...common, onchange: (event) => change(path, value, chosen(event.target.value, kind)) },
    options(own, kind, required).map(([key, text]) =>
      h("option", { value: key, selected: key === shown(value, kind) }, text),
    ),
  );
}

function typedField(view, own, { kind, path, key, required, common, long }) {
  const value = at(view.document, path);
  const commit = async (event) => {
    const draft = drafts.get(key);
    if (!draft || !event.target.isConnected) return; // a field that is being redrawn has not been left
    try {
      const said = typed(draft.said, kind, view.units, own);
      drafts.delete(key);
      await change(path, value, said);
    } catch (error) {
      drafts.set(key, { ...draft, fault: error.message });
    }
    changed();
  };
  return h(long ? "textarea" : "input", {
    ...common,
    value: drafts.get(key)?.said ?? shown(value, kind),
    inputmode: kind === "number" ? "decimal" : undefined,
    required,
    rows: kind === "list" ? Math.max(2, (value ?? []).length + 1) : undefined,
    oninput: (event) => drafts.set(key, { said: event.target.value }),
    onblur: commit,
    onkeydown: (event) => event.key === "Enter" && !long && event.target.blur(),
  });
}

function options(own, kind, required) {
  const all =
    kind === "yesno"
      ? [
          ["true", t("edit.yes")],
          ["false", t("edit.no")],
        ]
      : own.enum.map((each) => [String(each), String(each)]);
  return required ? all : [["", t("edit.unsaid")], ...all];
}

function chosen(text, kind) {
  if (text === "") return undefined;
  return kind === "yesno" ? text === "true" : text;
}

function shown(value, kind) {
  if (value === undefined || value === null) return "";
  if (kind === "list")
    return value.map((each) => (typeof each === "object" ? JSON.stringify(each) : each)).join("\n");
  return String(value);
}

/** What was typed, as the file would have it: a plain number bare, all else as said. */
function typed(text, kind, unit, own) {
  const said = text.trim();
  if (kind === "list")
    return said
      .split("\n")
      .map((line) => line.trim())
      .filter(Boolean)
      .map((line) => entry(line, unit, own));
  if (said === "") return undefined;
  if (kind === "length") return length(said, unit);
  if (kind !== "number") return said;
  if (Number.isNaN(Number(said))) throw new Error(t("edit.number"));
  return Number(said);
}

function entry(line, unit, own) {
  if (line.startsWith("{")) return JSON.parse(line);
  const item = resolved(own.items);
  const isLength = Array.isArray(item.type) || item.anyOf?.some((each) => Array.isArray(each.type));
  return isLength ? length(line, unit) : line;
}

function length(said, unit) {
  parse(said, unit);
  return /^-?\d+(\.\d+)?$/.test(said) ? Number(said) : said;
}

async function change(path, before, value) {
  if (JSON.stringify(before) === JSON.stringify(value)) return;
  if (value === undefined) {
    if (before !== undefined) await queue.keep(state.job, "job.drop", { path });
  } else {
    await queue.keep(state.job, "job.set", { path, value });
  }
  tell(t("edit.kept"));
}

async function drop(path, name) {
  if (await askSure({ title: t("edit.drop"), text: t("edit.dropSure", { name }), yes: t("edit.drop") })) {
    await queue.keep(state.job, "job.drop", { path });
  }
}

/** A new entry: what it must have is asked for, one after the other. */
async function add(view, item, path) {
  const value = {};
  for (const name of item.required ?? []) {
    const field = item.properties[name];
    const like = (at(view.document, path) ?? []).at(-1)?.[name];
    const said = await askWords({
      title: t("edit.add", { name: title(path) }),
      label: title(name),
      text: shown(like, kindOf(field)),
      button: t("finding.next"),
      long: kindOf(field) === "list",
    });
    if (said === null) return;
    try {
      value[name] = typed(said, kindOf(field), view.units, resolved(field));
    } catch (error) {
      tell(error.message);
      return;
    }
  }
  await queue.keep(state.job, "job.add", { path, value });
  tell(t("edit.kept"));
}

async function replaceFile(event) {
  const [file] = event.target.files;
  if (!file) return;
  const text = await file.text();
  if (await askSure({ title: t("edit.import"), text: t("edit.importSure"), yes: t("edit.import") })) {
    await queue.keep(state.job, "job.file", { text });
  }
}
