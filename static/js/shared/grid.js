/** The plain grid under a drawing: lines at round distances on the ground. */

import { METRES } from "./show.js";

const ROUND = [1, 2, 5].flatMap((digit) => [1, 10, 100, 1e3, 1e4, 1e5].map((ten) => digit * ten));
const STEPS = ROUND.toSorted((a, b) => a - b);
const FINE_TO_A_BOLD = 5;
const CLOSEST_PX = 14;

/**
 * Choose how far apart the lines lie, so that they neither crowd nor vanish.
 *
 * @param {number} metresPerPixel  Ground under one pixel. [m/px]
 * @param {"us"|"metric"} units
 * @returns {{fine_m: number, bold_m: number, label: string}}  Distances between the fine
 *   and between the bold lines. [m]
 */
export function gridSteps(metresPerPixel, units) {
  const unit = units === "us" ? "ft" : "m";
  const apart = (count) => (count * METRES[unit]) / metresPerPixel;
  const fine = STEPS.find((count) => apart(count) >= CLOSEST_PX) ?? STEPS.at(-1);
  const bold = fine * FINE_TO_A_BOLD;
  return {
    fine_m: fine * METRES[unit],
    bold_m: bold * METRES[unit],
    label: `Lines every ${fine.toLocaleString("en-US")} and ${bold.toLocaleString("en-US")} ${unit}`,
  };
}

/**
 * The multiples of a step inside a span.
 *
 * @param {number} from  Start of the span. [m]
 * @param {number} to  End of the span. [m]
 * @param {number} step  [m]
 * @returns {number[]}  [m]
 */
export function linesBetween(from, to, step) {
  const first = Math.ceil(from / step);
  const count = Math.max(0, Math.floor(to / step) - first + 1);
  return Array.from({ length: count }, (_, i) => (first + i) * step);
}
