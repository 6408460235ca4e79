/** Where the names of shapes can stand on a map without covering each other. */

import { formOf, middleOf, partsOf } from "./outline.js";

const LETTER_PX = 7;
const LINE_PX = 18;
const MOST_SHAPES = 300;
const MOST_EDGES = 4000;
const TRIES = 14;
const LEAST_ROOM_PX = 5;

/**
 * Choose the names that have room and where they stand: larger shapes first, each name
 * where it is furthest from every outline, so that the name of a lawn does not lie on
 * the house in its middle.
 *
 * @param {{shape: object, text: string}[]} named  Shapes with their names.
 * @param {(lonlat: number[]) => [number, number]} toPixels  Degrees to pixels.
 * @returns {{text: string, lonlat: [number, number]}[]}
 */
export function labelPlaces(named, toPixels) {
  if (named.length > MOST_SHAPES) return [];
  const outlines = named.map(({ shape, text }) => ({ shape, text, ...drawn(shape, toPixels) }));
  const edges = outlines.flatMap((outline) => outline.edges);
  const taken = [];
  return outlines
    .toSorted((a, b) => size(b.box) - size(a.box))
    .flatMap((outline) => {
      const place = placeOf(outline, edges.length > MOST_EDGES ? outline.edges : edges);
      const label = labelBox(place.pixel, outline.text);
      const shown = label.every(Number.isFinite);
      if (!shown || !hasRoom(outline, place, label) || taken.some((other) => overlap(label, other))) return [];
      taken.push(label);
      return [{ text: outline.text, lonlat: place.lonlat }];
    });
}

/** A name needs an area or a line about as wide as itself, and some air above and below. */
function hasRoom({ form, box }, { room = Infinity }, label) {
  return form === "point" || (width(box) > 0.7 * width(label) && room > LEAST_ROOM_PX);
}

function drawn(shape, toPixels) {
  const edges = [];
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { corners, form } of partsOf(shape.geometry)) {
    const pixels = corners.map(toPixels);
    pixels.forEach(([x, y], i) => {
      box[0] = Math.min(box[0], x);
      box[1] = Math.min(box[1], y);
      box[2] = Math.max(box[2], x);
      box[3] = Math.max(box[3], y);
      if (i > 0 || form === "area") edges.push([pixels.at(i - 1), [x, y]]);
    });
  }
  return { edges, box, form: formOf(shape.geometry), ...ways(shape, toPixels, box) };
}

/** From pixels back to degrees, straight enough inside one shape. */
function ways(shape, toPixels) {
  const [lon, lat] = middleOf(shape.geometry);
  const [x, y] = toPixels([lon, lat]);
  const step = 1e-4;
  const [perLon, perLat] = [toPixels([lon + step, lat])[0] - x, toPixels([lon, lat + step])[1] - y];
  return {
    middle: { pixel: [x, y], lonlat: [lon, lat] },
    toDegrees: ([px, py]) => [lon + ((px - x) / perLon) * step, lat + ((py - y) / perLat) * step],
  };
}

function placeOf({ form, edges: own, box, middle, toDegrees }, edges) {
  if (form === "point") {
    const above = [middle.pixel[0], middle.pixel[1] - LINE_PX];
    return { pixel: above, lonlat: toDegrees(above) };
  }
  if (form === "line") {
    const [[x1, y1], [x2, y2]] = own[Math.floor(own.length / 2)] ?? [middle.pixel, middle.pixel];
    const pixel = [(x1 + x2) / 2, (y1 + y2) / 2];
    return { pixel, lonlat: toDegrees(pixel) };
  }
  const near = edges.filter(([a, b]) => overlap(box, spanOf(a, b)));
  let best = { pixel: middle.pixel, room: 0, worth: -Infinity };
  for (let i = 1; i < TRIES; i += 1) {
    for (let j = 1; j < TRIES; j += 1) {
      const pixel = [
        box[0] + (i / TRIES) * (box[2] - box[0]),
        box[1] + (j / TRIES) * (box[3] - box[1]),
      ];
      if (!inside(pixel, own)) continue;
      const room = roomAt(pixel, near);
      const worth = room - distance(pixel, middle.pixel) / 20;
      if (worth > best.worth) best = { pixel, room, worth };
    }
  }
  return { ...best, lonlat: toDegrees(best.pixel) };
}

/** A name is wide and low, so distance across counts for less than distance up and down. */
function roomAt([x, y], edges) {
  return edges.reduce((least, [[x1, y1], [x2, y2]]) => {
    const [dx, dy] = [(x2 - x1) / 3, y2 - y1];
    const squared = dx * dx + dy * dy;
    const along = squared === 0 ? 0 : (((x - x1) / 3) * dx + (y - y1) * dy) / squared;
    const share = Math.min(1, Math.max(0, along));
    return Math.min(least, Math.hypot((x - x1) / 3 - share * dx, y - y1 - share * dy));
  }, Infinity);
}

function distance([x1, y1], [x2, y2]) {
  return Math.hypot(x1 - x2, y1 - y2);
}

function inside([x, y], edges) {
  const crossed = edges.filter(
    ([[x1, y1], [x2, y2]]) => y1 > y !== y2 > y && x < x1 + ((y - y1) / (y2 - y1)) * (x2 - x1),
  );
  return crossed.length % 2 === 1;
}

function labelBox([x, y], text) {
  const half = (text.length * LETTER_PX) / 2 + 4;
  return [x - half, y - LINE_PX / 2, x + half, y + LINE_PX / 2];
}

function spanOf([x1, y1], [x2, y2]) {
  return [Math.min(x1, x2), Math.min(y1, y2), Math.max(x1, x2), Math.max(y1, y2)];
}

function overlap(a, b) {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}

function width(box) {
  return box[2] - box[0];
}

function size(box) {
  return width(box) * (box[3] - box[1]);
}
