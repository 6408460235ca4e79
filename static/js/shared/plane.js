/**
 * Plane geometry around one place, for the numbers that move while a person draws.
 * The figures that are planned with come from the server.
 *
 * Degrees are `[lon, lat]` on WGS 84; plane coordinates are `[east, north]` in metres.
 */

const EQUATOR_RADIUS_M = 6378137;
const ECCENTRICITY_SQUARED = 0.00669437999014;
const RADIANS = Math.PI / 180;
const CIRCLE_CORNERS = 64;

/**
 * A local frame: metres east and north of an origin, scaled by the two radii of
 * curvature of the ellipsoid there. Good to about one part in ten thousand within
 * half a kilometre.
 *
 * @param {[number, number]} origin  Longitude and latitude of the origin. [deg]
 * @returns {{toPlane: (lonlat: number[]) => [number, number],
 *            toDegrees: (metres: number[]) => [number, number]}}
 */
export function frameAt([lon0, lat0]) {
  const sine = Math.sin(lat0 * RADIANS);
  const flattening = 1 - ECCENTRICITY_SQUARED * sine * sine;
  const alongMeridianM = (EQUATOR_RADIUS_M * (1 - ECCENTRICITY_SQUARED)) / flattening ** 1.5;
  const acrossMeridianM = EQUATOR_RADIUS_M / Math.sqrt(flattening);
  const metresPerLat = alongMeridianM * RADIANS;
  const metresPerLon = acrossMeridianM * Math.cos(lat0 * RADIANS) * RADIANS;
  return {
    toPlane: ([lon, lat]) => [(lon - lon0) * metresPerLon, (lat - lat0) * metresPerLat],
    toDegrees: ([east, north]) => [lon0 + east / metresPerLon, lat0 + north / metresPerLat],
  };
}

/**
 * Plane area of a ring.
 *
 * @param {number[][]} ring  Corners in metres, not closed.
 * @returns {number}  Area, never negative. [m²]
 */
export function ringAreaM2(ring) {
  if (ring.length < 3) return 0;
  const [x0, y0] = ring[0];
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length];
    twice += (x - x0) * (nextY - y0) - (nextX - x0) * (y - y0);
  });
  return Math.abs(twice) / 2;
}

/**
 * Length of a path.
 *
 * @param {number[][]} path  Corners in metres.
 * @returns {number}  Length from the first corner to the last. [m]
 */
export function pathLengthM(path) {
  return path
    .slice(1)
    .reduce((sum, [x, y], i) => sum + Math.hypot(x - path[i][0], y - path[i][1]), 0);
}

/**
 * A rectangle whose length runs along a bearing and whose width lies to the right of it.
 *
 * @param {object} measures
 * @param {number} measures.length_m  Length along the bearing. [m]
 * @param {number} measures.width_m  Width, to the right of the bearing. [m]
 * @param {number} [measures.bearing_deg]  Clockwise from north. [deg]
 * @param {"corner"|"centre"} [measures.from]  What lies at the origin.
 * @returns {[number, number][]}  Four corners around the origin, not closed. [m]
 */
export function rectangleCorners({ length_m, width_m, bearing_deg = 0, from = "corner" }) {
  const [sine, cosine] = [Math.sin(bearing_deg * RADIANS), Math.cos(bearing_deg * RADIANS)];
  const [back, left] = from === "centre" ? [-length_m / 2, -width_m / 2] : [0, 0];
  return [
    [back, left],
    [back + length_m, left],
    [back + length_m, left + width_m],
    [back, left + width_m],
  ].map(([along, right]) => [along * sine + right * cosine, along * cosine - right * sine]);
}

/**
 * A circle as 64 corners. A circle of turf or of an obstacle has exactly the area of
 * the circle; one that must be kept clear lies wholly inside its outline, so that no
 * part of the feature is left out (the outline is then 0.12 % wider at its corners).
 *
 * @param {object} measures
 * @param {number} measures.radius_m  Radius. [m]
 * @param {boolean} [measures.mustContain]  Enclose the whole circle.
 * @returns {[number, number][]}  Corners around the centre, not closed. [m]
 */
export function circleCorners({ radius_m, mustContain = false }) {
  const turn = (2 * Math.PI) / CIRCLE_CORNERS;
  const reach = mustContain ? 1 / Math.cos(turn / 2) : Math.sqrt(turn / Math.sin(turn));
  return Array.from({ length: CIRCLE_CORNERS }, (_, i) => [
    radius_m * reach * Math.sin(i * turn),
    radius_m * reach * Math.cos(i * turn),
  ]);
}

/**
 * Where the edges of a ring cross each other. Edges that only touch are not reported:
 * whether a touch matters is for the server to say.
 *
 * @param {number[][]} corners  Corners in any plane unit, not closed.
 * @param {{closed?: boolean}} [options]  `closed: false` leaves out the closing edge.
 * @returns {[number, number][]}  The crossing points, in the unit of the corners.
 */
export function crossingsOf(corners, { closed = true } = {}) {
  const edges = edgesFromWest(corners, closed);
  const found = [];
  for (let i = 0; i < edges.length; i += 1) {
    for (let j = i + 1; j < edges.length && edges[j].west <= edges[i].east; j += 1) {
      const point = crossing(edges[i], edges[j]);
      if (point) found.push(point);
    }
  }
  return found;
}

function edgesFromWest(corners, closed) {
  const last = closed ? corners.length : corners.length - 1;
  return corners
    .slice(0, last)
    .map((start, i) => {
      const end = corners[(i + 1) % corners.length];
      return { start, end, west: Math.min(start[0], end[0]), east: Math.max(start[0], end[0]) };
    })
    .toSorted((a, b) => a.west - b.west);
}

function crossing(a, b) {
  const fromA = side(a, b.start);
  const toA = side(a, b.end);
  if (fromA * toA >= 0 || side(b, a.start) * side(b, a.end) >= 0) return null;
  const share = fromA / (fromA - toA);
  return [
    b.start[0] + share * (b.end[0] - b.start[0]),
    b.start[1] + share * (b.end[1] - b.start[1]),
  ];
}

function side({ start, end }, [x, y]) {
  return (end[0] - start[0]) * (y - start[1]) - (end[1] - start[1]) * (x - start[0]);
}
