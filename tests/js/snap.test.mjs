import assert from "node:assert/strict";
import { test } from "node:test";

import { snapTo } from "../../static/js/shared/snap.js";

const toPixels = ([x, y]) => [x * 100, y * 100];
const bed = { corners: [[1.23456789, 1], [2, 1], [2, 2]], closed: true };
const snap = (point, reach_px = 15, more = {}) => snapTo(point, [bed], { toPixels, reach_px, ...more });

test("a corner within reach is given with exactly the neighbour's coordinates", () => {
  const snapped = snap([120, 108]);

  assert.equal(snapped.on, "corner");
  assert.equal(snapped.lonlat, bed.corners[0]);
});

test("a corner wins over an edge that is nearer", () => {
  assert.equal(snap([190, 101]).on, "corner");
});

test("away from corners the nearest place on the edge is taken", () => {
  const { lonlat, on } = snap([160, 105]);

  assert.equal(on, "edge");
  assert.ok(Math.abs(lonlat[0] - 1.6) < 1e-12);
  assert.equal(lonlat[1], 1);
});

test("the closing edge of an outline counts, that of a line does not", () => {
  const middle = [161, 150];

  assert.equal(snap(middle).on, "edge");
  assert.equal(snapTo(middle, [{ ...bed, closed: false }], { toPixels, reach_px: 15 }), null);
});

test("nothing is snapped to beyond reach", () => {
  assert.equal(snap([160, 84]), null);
  assert.equal(snap([160, 84], 30).on, "edge");
});

test("shapes outside the box are passed over", () => {
  assert.equal(snap([120, 108], 15, { box: [5, 5, 6, 6] }), null);
  assert.equal(snap([120, 108], 15, { box: [1, 0.9, 1.4, 1.2] }).on, "corner");
});
