/** The plain grid under a drawing: lines at round distances on the ground. */

import { METRES } from "./show.js";

const ROUND = [1, 5, 10, 50, 100, 500, 1000, 5000, 10000, 50000, 100000, 500000, 1000000];
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
  const found = ROUND.findIndex((count) => apart(count) >= CLOSEST_PX);
  const at = Math.min(found < 0 ? ROUND.length : found, ROUND.length - 2);
  const [fine, bold] = [ROUND[at], ROUND[at + 1]];
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
