import assert from "node:assert/strict";
import { test } from "node:test";

import { measureOf } from "../../static/js/shared/outline.js";
import {
  circleCorners,
  crossingsOf,
  frameAt,
  pathLengthM,
  rectangleCorners,
  ringAreaM2,
} from "../../static/js/shared/plane.js";

const near = (actual, expected, relative) =>
  assert.ok(
    Math.abs(actual - expected) <= relative * Math.abs(expected),
    `${actual} is not within ${relative} of ${expected}`,
  );

test("a ring has the same area whichever way round it was drawn", () => {
  const lawn = [[0, 0], [30, 0], [30, 20], [0, 20]];

  assert.equal(ringAreaM2(lawn), 600);
  assert.equal(ringAreaM2(lawn.toReversed()), 600);
});

test("two corners have no area", () => {
  assert.equal(ringAreaM2([[0, 0], [5, 5]]), 0);
});

// Geodesic areas by pyproj 3.7.2 (PROJ 9.5.1), Geod(ellps="WGS84").polygon_area_perimeter.
const GEODESIC_AREAS = [
  { name: "a five-cornered field at 40° N", area_m2: 41339.503110706806, ring: [
    [-90, 40], [-89.998, 40.0001], [-89.9975, 40.0016], [-89.9992, 40.0021], [-90.0004, 40.0012],
  ] },
  { name: "a square of a thousandth of a degree at the equator", area_m2: 12309.072078994433, ring: square(0) },
  { name: "the same at 70° N", area_m2: 4260.066054940224, ring: square(70) },
];

function square(lat) {
  return [[10, lat], [10.001, lat], [10.001, lat + 0.001], [10, lat + 0.001]];
}

for (const { name, area_m2, ring } of GEODESIC_AREAS) {
  test(`the preview of ${name} is its geodesic area to one part in ten thousand`, () => {
    const { area_m2: preview } = measureOf({ type: "Polygon", coordinates: [[...ring, ring[0]]] });

    near(preview, area_m2, 1e-4);
  });
}

test("going to metres and back lands on the same degrees", () => {
  const frame = frameAt([-90, 40]);

  const [lon, lat] = frame.toDegrees(frame.toPlane([-89.9971, 40.0023]));

  near(lon, -89.9971, 1e-13);
  near(lat, 40.0023, 1e-13);
});

test("the length of a path leaves out the way back", () => {
  assert.equal(pathLengthM([[0, 0], [3, 4], [3, 10]]), 11);
});

test("a rectangle keeps its sides and area at any bearing", () => {
  for (let bearing_deg = 0; bearing_deg <= 360; bearing_deg += 7) {
    const corners = rectangleCorners({ length_m: 24, width_m: 13, bearing_deg });

    near(ringAreaM2(corners), 312, 1e-12);
    near(pathLengthM(corners.slice(0, 2)), 24, 1e-12);
  }
});

test("the length of a rectangle at bearing 90 runs east, and its width south of that", () => {
  const corners = rectangleCorners({ length_m: 10, width_m: 4, bearing_deg: 90 });

  const rounded = corners.map((corner) => corner.map((metres) => Math.round(metres * 1e9) / 1e9 + 0));
  assert.deepEqual(rounded, [[0, 0], [10, 0], [10, -4], [0, -4]]);
});

test("a rectangle around a centre has its middle there", () => {
  const corners = rectangleCorners({ length_m: 10, width_m: 4, bearing_deg: 33, from: "centre" });

  const middle = [0, 1].map((axis) => corners.reduce((sum, corner) => sum + corner[axis], 0) / 4);
  assert.ok(Math.hypot(...middle) < 1e-12);
});

test("a circle of turf has the area of the circle", () => {
  near(ringAreaM2(circleCorners({ radius_m: 7.5 })), Math.PI * 7.5 ** 2, 1e-12);
});

test("the outline of a round thing to protect is nowhere inside the circle", () => {
  const corners = circleCorners({ radius_m: 7.5, mustContain: true });

  corners.forEach(([x, y], i) => {
    const [nextX, nextY] = corners[(i + 1) % corners.length];
    assert.ok(Math.hypot((x + nextX) / 2, (y + nextY) / 2) >= 7.5 * (1 - 1e-12));
    assert.ok(Math.hypot(x, y) <= 7.5 * 1.0013);
  });
});

test("a bow-tie crosses itself in its middle", () => {
  assert.deepEqual(crossingsOf([[0, 0], [4, 4], [4, 0], [0, 4]]), [[2, 2]]);
});

test("a bow-tie that is not closed yet does not cross", () => {
  const corners = [[0, 0], [4, 0], [0, 4], [4, 4]];

  assert.equal(crossingsOf(corners).length, 1);
  assert.deepEqual(crossingsOf(corners, { closed: false }), []);
});

test("a round outline of a thousand corners does not cross itself", () => {
  const corners = Array.from({ length: 1000 }, (_, i) => [
    Math.cos((i * Math.PI) / 500),
    Math.sin((i * Math.PI) / 500),
  ]);

  assert.deepEqual(crossingsOf(corners), []);
});

test("every pair of crossing edges is found, as a plain search of all pairs finds them", () => {
  const random = seeded(7);
  for (let round = 0; round < 40; round += 1) {
    const corners = Array.from({ length: 12 }, () => [random(), random()]);

    assert.equal(crossingsOf(corners).length, plainCount(corners));
  }
});

function turn(a, b, c) {
  return Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}

function plainCount(corners) {
  const edges = corners.map((corner, i) => [corner, corners[(i + 1) % corners.length]]);
  let count = 0;
  edges.forEach(([a, b], i) => {
    edges.slice(i + 1).forEach(([c, d]) => {
      if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) count += 1;
    });
  });
  return count;
}

function seeded(state) {
  let seed = state;
  return () => {
    seed = (seed * 48271) % 2147483647;
    return seed / 2147483647;
  };
}
