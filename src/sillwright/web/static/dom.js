// Elements from data: text goes in as text, never as markup.

const SVG = "http://www.w3.org/2000/svg";

function build(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "class") element.setAttribute("class", [value].flat().filter(Boolean).join(" "));
    else if (name === "value" && "value" in element && !(element instanceof HTMLLIElement))
      element.value = value;
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  put(element, children);
  return element;
}

function put(element, children) {
  for (const child of children.flat(Infinity)) {
    if (child === undefined || child === null || child === false || child === "") continue;
    element.append(child instanceof Node ? child : document.createTextNode(String(child)));
  }
}

/** h("button.big", { onclick }, "Keep"): an HTML element. */
export function h(name, attributes, ...children) {
  const [tag, ...classes] = name.split(".");
  const both = {
    ...(tag === "button" ? { type: "button" } : {}),
    ...attributes,
    class: [...classes, attributes?.class].flat().filter(Boolean),
  };
  if (!both.class.length) delete both.class;
  return build(document.createElement(tag), both, children);
}

/** The same for SVG. */
export function s(name, attributes, ...children) {
  const [tag, ...classes] = name.split(".");
  const both = { ...attributes, class: [...classes, attributes?.class].flat().filter(Boolean) };
  if (!both.class.length) delete both.class;
  return build(document.createElementNS(SVG, tag), both, children);
}

/** Replaces what an element holds; the element with the same data-key has the focus again, and the cursor. */
export function refill(element, ...children) {
  const active = element.contains(document.activeElement) ? document.activeElement : null;
  const key = active?.dataset?.key;
  const cursor =
    key && active.matches("input, textarea") ? [active.selectionStart, active.selectionEnd] : null;
  element.replaceChildren();
  put(element, children);
  const again = key && element.querySelector(`[data-key="${CSS.escape(key)}"]`);
  again?.focus({ preventScroll: true });
  if (cursor && again?.matches("input, textarea")) again.setSelectionRange(...cursor);
}
