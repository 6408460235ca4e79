/** A shape that is being drawn, in words. Its figures are previews. */

import { frameAt, pathLengthM, ringAreaM2 } from "./plane.js";
import { showArea, showLength } from "./show.js";

/**
 * Describe a sketch.
 *
 * @param {{kind: {name: string, geometries: string[]}, form: string, corners: number[][]}} sketch  Corners in degrees.
 * @param {number[]|null} aim  Where the next corner would land. [deg]
 * @param {"us"|"metric"} units
 * @returns {{title: string, count: string, edge: string, size: string, spoken: string}}
 *   `edge` is the edge to the aim, or else the last one drawn.
 */
export function sketchWords({ kind, form, corners }, aim, units) {
  const path = aim ? [...corners, aim] : corners;
  const count = `${corners.length} ${corners.length === 1 ? "corner" : "corners"}`;
  const title = kind.geometries?.length > 1 ? `${kind.name}, ${form}` : kind.name;
  if (path.length < 2) return { title, count, edge: "", size: "", spoken: `${count}.` };
  const frame = frameAt(path[0]);
  const plane = path.map(frame.toPlane);
  const edge = showLength(pathLengthM(plane.slice(-2)), units);
  const size = sizeOf(form, plane, units);
  return { title, count, edge, size, spoken: `${count}. Edge ${edge}. ${size && `${size}, preview.`}` };
}

function sizeOf(form, plane, units) {
  if (form === "area") return plane.length < 3 ? "" : showArea(ringAreaM2(plane), units);
  return form === "line" ? showLength(pathLengthM(plane), units) : "";
}
