import assert from "node:assert/strict";
import { test } from "node:test";

import {
  allCorners,
  geometryOf,
  insertCorner,
  measureOf,
  movedBy,
  moveCorner,
  partsOf,
  removeCorner,
  selfCrossings,
  withCorners,
} from "../../static/js/shared/outline.js";

const ring = [[0, 0], [4, 0], [4, 4], [0, 4]];
const hole = [[1, 1], [2, 1], [2, 2]];
const closed = (corners) => [...corners, corners[0]];
const GEOMETRIES = {
  Point: [1, 2],
  MultiPoint: ring,
  LineString: ring,
  MultiLineString: [ring, hole],
  Polygon: [closed(ring), closed(hole)],
  MultiPolygon: [[closed(ring), closed(hole)], [closed([[9, 9], [9.5, 9], [9, 9.5]])]],
};

for (const [type, coordinates] of Object.entries(GEOMETRIES)) {
  const geometry = { type, coordinates };

  test(`a ${type} taken apart and put together is the same`, () => {
    const again = partsOf(geometry).reduce(
      (built, part) => withCorners(built, part.at, part.corners),
      geometry,
    );

    assert.deepEqual(again, geometry);
  });

  test(`moving a corner of a ${type} moves that corner alone and leaves the old shape`, () => {
    const before = structuredClone(geometry);
    const { at } = partsOf(geometry).at(-1);

    const moved = moveCorner(geometry, at, 0, [1.5, 1.25]);

    assert.deepEqual(geometry, before);
    const [old, fresh] = [allCorners(geometry), allCorners(moved)];
    const differing = fresh.filter((corner, i) => corner.join() !== old[i].join());
    assert.deepEqual(differing, [[1.5, 1.25]]);
  });
}

test("a ring stays closed when its first corner moves", () => {
  const moved = moveCorner(geometryOf("area", ring), [0], 0, [-1, -1]);

  assert.deepEqual(moved.coordinates[0][0], [-1, -1]);
  assert.deepEqual(moved.coordinates[0].at(-1), [-1, -1]);
});

test("a corner put in and taken out again leaves the shape as it was", () => {
  const area = geometryOf("area", ring);

  assert.deepEqual(removeCorner(insertCorner(area, [0], 2, [5, 2]), [0], 2), area);
});

test("an area runs counter-clockwise whichever way round it was drawn", () => {
  const drawn = geometryOf("area", ring);

  assert.deepEqual(drawn.coordinates[0], closed(ring));
  assert.deepEqual(geometryOf("area", [ring[0], ...ring.slice(1).toReversed()]), drawn);
});

test("the last corners a shape needs cannot be removed", () => {
  assert.equal(removeCorner(geometryOf("area", hole), [0], 0), null);
  assert.equal(removeCorner(geometryOf("line", ring.slice(0, 2)), [], 0), null);
  assert.equal(removeCorner(geometryOf("point", [[1, 1]]), [], 0), null);
});

test("a hole is taken off the area and a second part is added", () => {
  const { area_m2 } = measureOf({ type: "MultiPolygon", coordinates: GEOMETRIES.MultiPolygon });
  const whole = measureOf(geometryOf("area", ring)).area_m2;

  // In square degrees: 16 − 0.5 + 0.125; the frame's stretch is the same for all near 5°.
  assert.ok(Math.abs(area_m2 / whole - 15.625 / 16) < 0.01);
});

test("a shape moved over the ground keeps its area", () => {
  const lawn = geometryOf("area", [[-90, 40], [-89.999, 40], [-89.999, 40.001], [-90, 40.001]]);

  const moved = movedBy(lawn, { east_m: 120, north_m: 900 });

  const [before, after] = [measureOf(lawn).area_m2, measureOf(moved).area_m2];
  assert.ok(Math.abs(after / before - 1) < 1e-9);
});

test("an outline that crosses itself says where; a line is free to", () => {
  const corners = [[0, 0], [4, 4], [4, 0], [0, 4]];

  assert.deepEqual(selfCrossings(geometryOf("area", corners)), [[2, 2]]);
  assert.deepEqual(selfCrossings(geometryOf("line", corners)), []);
});
