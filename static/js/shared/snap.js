/** The nearest corner or edge to a point, so that neighbours share their border exactly. */

/**
 * Find what to snap to. A corner within reach wins over any edge.
 *
 * @param {[number, number]} point  Where the pointer is. [px]
 * @param {{corners: number[][], closed: boolean}[]} paths  Neighbours. [deg]
 * @param {object} view
 * @param {(lonlat: number[]) => [number, number]} view.toPixels  Degrees to pixels.
 * @param {number} view.reach_px  How near counts. [px]
 * @param {[number, number, number, number]} [view.box]  West, south, east and north of
 *   what can be in reach, to pass over the rest quickly. [deg]
 * @returns {{lonlat: number[], on: "corner"|"edge"}|null}  A corner is given exactly as drawn.
 */
export function snapTo(point, paths, view) {
  const corner = nearestCorner(point, paths, view);
  if (corner) return { lonlat: corner, on: "corner" };
  const onEdge = nearestOnEdge(point, paths, view);
  return onEdge && { lonlat: onEdge, on: "edge" };
}

function nearestCorner(point, paths, { toPixels, reach_px, box }) {
  let best = null;
  let nearest_px = reach_px;
  for (const { corners } of paths) {
    for (const lonlat of corners) {
      if (box && misses(box, lonlat, lonlat)) continue;
      const away_px = distance(point, toPixels(lonlat));
      if (away_px <= nearest_px) [best, nearest_px] = [lonlat, away_px];
    }
  }
  return best;
}

function nearestOnEdge(point, paths, { toPixels, reach_px, box }) {
  let best = null;
  let nearest_px = reach_px;
  for (const [start, end] of edgesOf(paths)) {
    if (box && misses(box, start, end)) continue;
    const share = shareAlong(point, toPixels(start), toPixels(end));
    const lonlat = [start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])];
    const away_px = distance(point, toPixels(lonlat));
    if (away_px <= nearest_px) [best, nearest_px] = [lonlat, away_px];
  }
  return best;
}

function* edgesOf(paths) {
  for (const { corners, closed } of paths) {
    const last = closed ? corners.length : corners.length - 1;
    for (let i = 0; i < last; i += 1) yield [corners[i], corners[(i + 1) % corners.length]];
  }
}

function shareAlong([x, y], [x1, y1], [x2, y2]) {
  const squared = (x2 - x1) ** 2 + (y2 - y1) ** 2;
  if (squared === 0) return 0;
  const share = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / squared;
  return Math.min(1, Math.max(0, share));
}

function misses([west, south, east, north], a, b) {
  return (
    Math.max(a[0], b[0]) < west ||
    Math.min(a[0], b[0]) > east ||
    Math.max(a[1], b[1]) < south ||
    Math.min(a[1], b[1]) > north
  );
}

function distance([x1, y1], [x2, y2]) {
  return Math.hypot(x1 - x2, y1 - y2);
}
