/**
 * Hue and hatch of every map class, so that a black-and-white print still reads.
 * The hues come from the style sheet; the hatches are drawn here.
 */

import { svgElement } from "./element.js";

const stroke = (d, width = 1.4) =>
  svgElement("path", { d, fill: "none", stroke: "currentColor", "stroke-width": width });
const dot = (cx, cy, r) => svgElement("circle", { cx, cy, r, fill: "currentColor" });

/**
 * For each class the size of its tile in pixels, how strong its ground is, and its marks.
 * What lies on the ground is laid on a light base, so that the zone below does not show through.
 */
const HATCHES = {
  // Tufts of grass.
  turf: { size: 18, ground: 0.16, marks: () => [stroke("M4 7v-4M2.5 6.5 1.5 4M5.5 6.5 6.5 4M13 16v-4M11.5 15.5l-1-2.5M14.5 15.5l1-2.5", 1)] },
  // Rows a sprayer would lay.
  treatable: { size: 9, ground: 0.2, marks: () => [stroke("M-2 2 2-2M0 9 9 0M7 11 11 7", 1.3)] },
  // Across the rows: a person walks here.
  hand: { size: 8, ground: 0.2, marks: () => [stroke("M0 2H8M0 6H8", 1.2)] },
  // The other slant, closer and stronger: stay out.
  "no-spray": { size: 7, ground: 0.14, marks: () => [stroke("M-2 5 2 9M0 0 7 7M5-2 9 2", 1.7)] },
  // Upright bars: not today.
  closed: { size: 8, ground: 0.2, marks: () => [stroke("M2 0V8M6 0V8", 2)] },
  // Arrowheads, as on a hill of a map.
  slopes: { size: 13, ground: 0, marks: () => [stroke("M2 5 5 2 8 5M2 9 5 6 8 9", 1.5)] },
  // Drops that fell here.
  had: { size: 12, ground: 0.1, marks: () => [stroke("M3 1.5v4M9 7.5v4", 1.8)] },
  // Stone and roof.
  obstacle: { size: 8, base: 0.75, ground: 0.3, marks: () => [stroke("M0 4H8M4 0V8", 0.8)] },
  plants: { size: 10, base: 0.75, ground: 0.16, marks: () => [dot(2.5, 2.5, 1.5), dot(7.5, 7.5, 1.5)] },
  water: { size: 14, base: 0.75, ground: 0.18, marks: () => [stroke("M0 4q3.5-4 7 0t7 0M0 11q3.5-4 7 0t7 0")] },
  people: { size: 11, base: 0.75, ground: 0.14, marks: () => [stroke("M2.5 1v5M0 3.5h5M8 6.5v5M5.5 9h5")] },
};

/**
 * The paint of a class, for the `fill` of a shape on this page.
 *
 * @param {string} look  A class such as "water".
 * @returns {string}
 */
export function hatchOf(look) {
  layHatches();
  return `url(#hatch-${look})`;
}

/**
 * A small sample of a class for tables and keys.
 *
 * @param {string} look
 * @returns {SVGElement}
 */
export function swatch(look) {
  return svgElement(
    "svg",
    { class: `swatch swatch-${look}`, viewBox: "0 0 28 28", "aria-hidden": "true", focusable: "false" },
    svgElement("rect", { x: 1.5, y: 1.5, width: 25, height: 25, rx: 3, fill: hatchOf(look) }),
  );
}

function layHatches() {
  if (document.querySelector("[data-hatches]")) return;
  const patterns = Object.entries(HATCHES).map(([look, { size, base = 0, ground, marks }]) =>
    svgElement(
      "pattern",
      { id: `hatch-${look}`, class: `hatch-${look}`, width: size, height: size, patternUnits: "userSpaceOnUse" },
      svgElement("rect", { width: size, height: size, fill: "white", "fill-opacity": base }),
      svgElement("rect", { width: size, height: size, fill: "currentColor", "fill-opacity": ground }),
      ...marks(),
    ),
  );
  document.body.append(
    svgElement(
      "svg",
      { "data-hatches": true, class: "hatches", width: 0, height: 0, "aria-hidden": "true", focusable: "false" },
      svgElement("defs", {}, ...patterns),
    ),
  );
}
