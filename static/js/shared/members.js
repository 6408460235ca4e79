/** What can be told of a shape beside its outline, kind and name. */

import { METRES, readNumber, splitQuantity } from "./show.js";

/** How turf is marked that no machine may work. */
export const BY_HAND = "hand_tool";

/** How an outline can have been measured, and what that is called in a row and in its summary. */
export const MEASURED = [
  ["", "not told", ""],
  ["imagery", "drawn on a picture", "from a picture"],
  ["walked", "walked with a telephone", "walked"],
  ["tape", "by tape or wheel", "by tape"],
];

const MEMBERS = {
  turf: ["slope", "gate", "only", "turfgrasses", "measured_by"],
  obstacle: ["setback", "measured_by"],
  protected: ["setback", "downwind_setback", "measured_by"],
};
const FIELDS = new Set(["kind", "name", ...Object.values(MEMBERS).flat()]);

/**
 * The members that do not belong to a role, each blank, so that a change of kind drops them.
 *
 * @param {"turf"|"obstacle"|"protected"} role
 * @returns {Record<string, "">}
 */
export function strangersTo(role) {
  const strangers = Object.values(MEMBERS).flat().filter((member) => !MEMBERS[role].includes(member));
  return Object.fromEntries(strangers.map((member) => [member, ""]));
}

/**
 * What is rarely told, in a few words, such as "hand only, gate 4 ft".
 *
 * @param {{only?: string, gate?: string, turfgrasses?: string[], downwind_setback?: string, measured_by?: string}} properties
 * @returns {string}  Empty when nothing is told.
 */
export function rareWords({ only, gate, turfgrasses = [], downwind_setback: downwind, measured_by: how }) {
  const measured = MEASURED.find(([token]) => token === how)?.[2];
  const grows = turfgrasses.length > 0 && "its own turf";
  const words = [only === BY_HAND && "hand only", gate && `gate ${gate}`, grows, downwind && `downwind ${downwind}`, measured];
  return words.filter(Boolean).join(", ");
}

/**
 * The field of a row that a server's path speaks of.
 *
 * @param {string|undefined} path  Such as `features[0] "lawn".properties.gate`.
 * @returns {string}  "geometry" when it is none of the fields.
 */
export function fieldOf(path) {
  const last = /[a-z_]+$/.exec(path ?? "")?.[0];
  return FIELDS.has(last) ? last : "geometry";
}

/**
 * A rise and a run as one slope; nothing when both boxes are empty.
 *
 * @param {string} rise  Such as "2 ft". [ft, in, m or cm]
 * @param {string} run
 * @returns {{rise: string, run: string}|""}
 */
export function riseOverRun(rise, run) {
  return rise === "" && run === "" ? "" : { rise, run };
}

/**
 * How much larger sloping ground is than its outline on the map, for a preview.
 *
 * @param {string|{rise: string, run: string}|undefined} slope  Such as "12 %" or "5 deg".
 * @returns {number}  1 when there is no slope, or none that can be read. [-]
 */
export function surfaceFactor(slope) {
  const factor = Math.hypot(1, gradient(slope));
  return Number.isFinite(factor) ? factor : 1;
}

/** Rise over run as a share; NaN when it cannot be read. */
function gradient(slope) {
  if (typeof slope === "object") return metres(slope.rise) / metres(slope.run);
  const { number, unit } = splitQuantity(slope);
  if (unit === "deg") return Math.tan((readNumber(number) * Math.PI) / 180);
  return readNumber(number) / 100;
}

function metres(length) {
  const { number, unit } = splitQuantity(length);
  return readNumber(number) * (METRES[unit] ?? NaN);
}
