// Every text a person reads stands in words.<language>.js; nothing else in this folder holds any.

const language = document.documentElement.lang || "en";
const { default: catalogue } = await import(`./words.${language}.js`);

function find(key) {
  return key.split(".").reduce((here, step) => here?.[step], catalogue);
}

/** The text of a key such as "keypad.keep", with {names} filled in; a count n picks one or many. */
export function t(key, values = {}) {
  let text = find(key);
  if (text && typeof text === "object") text = values.n === 1 ? text.one : text.many;
  if (typeof text !== "string") throw new Error(`no words for ${key}`);
  return text.replace(/\{(\w+)\}/g, (all, name) => (name in values ? String(values[name]) : all));
}

/** The same, or what is given where the catalogue has nothing. */
export function tOr(key, otherwise) {
  const text = find(key);
  return typeof text === "string" ? text : otherwise;
}
