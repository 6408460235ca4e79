/**
 * The corners of a shape, whatever its GeoJSON type. A shape is taken apart into
 * parts (a ring, a line, or loose points), each with the path to its coordinates.
 * Nothing here changes what it is given; each edit returns a new geometry.
 */

import { crossingsOf, frameAt, pathLengthM, ringAreaM2 } from "./plane.js";

const DEPTH = {
  Point: 0,
  MultiPoint: 0,
  LineString: 0,
  MultiLineString: 1,
  Polygon: 1,
  MultiPolygon: 2,
};
const FORMS = { Polygon: "area", LineString: "line", Point: "point" };

/**
 * @param {object} geometry  GeoJSON geometry.
 * @returns {"area"|"line"|"point"}  How the shape is drawn.
 */
export function formOf(geometry) {
  return FORMS[geometry.type.replace("Multi", "")];
}

/**
 * @param {"area"|"line"|"point"} form
 * @returns {number}  The fewest corners such a part can have.
 */
export function fewestCorners(form) {
  return { area: 3, line: 2, point: 1 }[form];
}

/**
 * Take a geometry apart.
 *
 * @param {object} geometry  GeoJSON geometry in degrees.
 * @returns {{at: number[], corners: number[][], form: string}[]}  Rings are not closed.
 */
export function partsOf(geometry) {
  const form = formOf(geometry);
  const gather = (coordinates, at, depth) => {
    if (depth > 0) return coordinates.flatMap((c, i) => gather(c, [...at, i], depth - 1));
    return [{ at, corners: form === "area" ? opened(coordinates) : coordinates, form }];
  };
  if (geometry.type === "Point") return [{ at: [], corners: [geometry.coordinates], form }];
  return gather(geometry.coordinates, [], DEPTH[geometry.type]);
}

/**
 * Put other corners into one part.
 *
 * @param {object} geometry  GeoJSON geometry in degrees.
 * @param {number[]} at  Path of the part, as `partsOf` gives it.
 * @param {number[][]} corners  The part's corners from now on, not closed. [deg]
 * @returns {object}  A new geometry.
 */
export function withCorners(geometry, at, corners) {
  if (geometry.type === "Point") return { ...geometry, coordinates: corners[0] };
  const written = formOf(geometry) === "area" ? [...corners, corners[0]] : corners;
  const place = (coordinates, path) => {
    if (path.length === 0) return written;
    return coordinates.with(path[0], place(coordinates[path[0]], path.slice(1)));
  };
  return { ...geometry, coordinates: place(geometry.coordinates, at) };
}

/**
 * Make a geometry of a plain list of corners. An area runs counter-clockwise, as GeoJSON
 * asks (RFC 7946, section 3.1.6), whichever way round it was drawn.
 *
 * @param {"area"|"line"|"point"} form
 * @param {number[][]} corners  Not closed. [deg]
 * @returns {object}  GeoJSON geometry.
 */
export function geometryOf(form, corners) {
  if (form === "area") {
    const ring = isClockwise(corners) ? [corners[0], ...corners.slice(1).toReversed()] : corners;
    return { type: "Polygon", coordinates: [[...ring, ring[0]]] };
  }
  if (form === "line") return { type: "LineString", coordinates: corners };
  if (corners.length === 1) return { type: "Point", coordinates: corners[0] };
  return { type: "MultiPoint", coordinates: corners };
}

/** A new geometry with one corner elsewhere. */
export function moveCorner(geometry, at, index, lonlat) {
  return withCorners(geometry, at, cornersAt(geometry, at).with(index, lonlat));
}

/** A new geometry with a corner more, before the corner that had this index. */
export function insertCorner(geometry, at, index, lonlat) {
  return withCorners(geometry, at, cornersAt(geometry, at).toSpliced(index, 0, lonlat));
}

/** A new geometry with a corner less, or null when too few would be left. */
export function removeCorner(geometry, at, index) {
  const corners = cornersAt(geometry, at);
  if (corners.length <= fewestCorners(formOf(geometry))) return null;
  return withCorners(geometry, at, corners.toSpliced(index, 1));
}

/** The corners of the part at a path. */
export function cornersAt(geometry, at) {
  return partsOf(geometry).find((part) => part.at.join() === at.join())?.corners ?? [];
}

/** Every corner of a geometry. [deg] */
export function allCorners(geometry) {
  return partsOf(geometry).flatMap((part) => part.corners);
}

/**
 * The middle of the box around a geometry.
 *
 * @returns {[number, number]}  Longitude and latitude. [deg]
 */
export function middleOf(geometry) {
  const corners = allCorners(geometry);
  const between = (axis) => {
    const [low, high] = corners.reduce(
      ([least, most], c) => [Math.min(least, c[axis]), Math.max(most, c[axis])],
      [Infinity, -Infinity],
    );
    return (low + high) / 2;
  };
  return [between(0), between(1)];
}

/**
 * Move a whole geometry over the ground, keeping its size in metres.
 *
 * @param {object} geometry  GeoJSON geometry in degrees.
 * @param {{east_m: number, north_m: number}} way  How far. [m]
 * @returns {object}  A new geometry.
 */
export function movedBy(geometry, { east_m, north_m }) {
  const here = frameAt(middleOf(geometry));
  const there = frameAt(here.toDegrees([east_m, north_m]));
  const carry = (corner) => [...there.toDegrees(here.toPlane(corner)), ...corner.slice(2)];
  return partsOf(geometry).reduce(
    (moved, part) => withCorners(moved, part.at, part.corners.map(carry)),
    geometry,
  );
}

/**
 * What a shape measures on flat ground, as a preview.
 *
 * @param {object} geometry  GeoJSON geometry in degrees.
 * @returns {{area_m2: number}|{length_m: number}|null}  Null for points. [m² or m]
 */
export function measureOf(geometry) {
  const form = formOf(geometry);
  if (form === "point") return null;
  const frame = frameAt(middleOf(geometry));
  const parts = partsOf(geometry).map((part) => ({
    at: part.at,
    path: part.corners.map(frame.toPlane),
  }));
  if (form === "line") return { length_m: parts.reduce((sum, p) => sum + pathLengthM(p.path), 0) };
  return { area_m2: parts.reduce((sum, part) => sum + signedAreaM2(part), 0) };
}

/**
 * Where the outlines of an area cross themselves.
 *
 * @returns {[number, number][]}  Longitude and latitude of each crossing. [deg]
 */
export function selfCrossings(geometry) {
  if (formOf(geometry) !== "area") return [];
  return partsOf(geometry).flatMap((part) => crossingsOf(part.corners));
}

function isClockwise(corners) {
  const [x0, y0] = corners[0];
  const twice = corners.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = corners[(i + 1) % corners.length];
    return sum + (x - x0) * (nextY - y0) - (nextX - x0) * (y - y0);
  }, 0);
  return twice < 0;
}

function signedAreaM2({ at, path }) {
  const isOutline = at.at(-1) === 0;
  return (isOutline ? 1 : -1) * ringAreaM2(path);
}

function opened(ring) {
  const [first, last] = [ring[0], ring.at(-1)];
  const closed = ring.length > 1 && first[0] === last[0] && first[1] === last[1];
  return closed ? ring.slice(0, -1) : ring;
}
