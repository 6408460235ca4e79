/** Building parts of a page without markup in strings. */

const SVG = "http://www.w3.org/2000/svg";

/**
 * Make an element.
 *
 * @param {string} tag
 * @param {Record<string, string|number|boolean|null>} [attributes]  `true` sets an empty
 *   attribute; `false`, null and undefined leave it out.
 * @param {...(Node|string)} children
 * @returns {HTMLElement}
 */
export function element(tag, attributes = {}, ...children) {
  return filled(document.createElement(tag), attributes, children);
}

/** The same for a part of a drawing in SVG. */
export function svgElement(tag, attributes = {}, ...children) {
  return filled(document.createElementNS(SVG, tag), attributes, children);
}

/** Replace what an element holds, only if the text differs, so that nothing is read out twice. */
export function setText(target, text) {
  if (target.textContent !== text) target.textContent = text;
}

/** Show a value in a box without taking away what is being typed. */
export function fill(box, value) {
  const typing = document.activeElement === box && box.tagName === "INPUT" && box.value !== value;
  if (typing && box.dataset.shown === value) return;
  box.value = value;
  box.dataset.shown = value;
}

/** What a json_script holds, or the given value when the page has none. */
export function readJson(id, otherwise = null) {
  const script = document.getElementById(id);
  return script ? JSON.parse(script.textContent) : otherwise;
}

function filled(made, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...children);
  return made;
}
