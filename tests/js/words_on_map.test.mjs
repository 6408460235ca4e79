import assert from "node:assert/strict";
import { test } from "node:test";

import { labelPlaces } from "../../static/js/shared/labels.js";
import { geometryOf } from "../../static/js/shared/outline.js";
import { sketchWords } from "../../static/js/shared/sketch_words.js";

// A map where a ten-thousandth of a degree is 100 pixels, north up.
const toPixels = ([lon, lat]) => [lon * 1e6, -lat * 1e6];
const nowhere = () => [NaN, NaN];
const box = (x, y, width, height) =>
  geometryOf(
    "area",
    [[x, y], [x + width, y], [x + width, y + height], [x, y + height]].map((c) => c.map((px) => px / 1e6)),
  );
const named = (text, geometry) => ({ text, shape: { geometry } });
const pixelOf = ({ lonlat }) => toPixels(lonlat);

test("a name stands inside its shape", () => {
  const [label] = labelPlaces([named("Lawn", box(0, 0, 400, 300))], toPixels);

  const [x, y] = pixelOf(label);
  assert.ok(x > 0 && x < 400 && y < 0 && y > -300);
});

test("the name of a lawn does not lie on the house in its middle", () => {
  const lawn = named("Lawn", box(0, 0, 400, 300));
  const house = named("House", box(120, 80, 160, 140));

  const label = labelPlaces([lawn, house], toPixels).find(({ text }) => text === "Lawn");

  const [x, y] = pixelOf(label);
  assert.ok(x < 120 || x > 280 || -y < 80 || -y > 220, `${x}, ${-y} is on the house`);
});

test("two names never cover each other: the larger shape keeps its name", () => {
  const small = named("A shed with a long name", box(150, 100, 200, 40));
  const large = named("A lawn with a long name", box(0, 0, 500, 240));
  const same = named("The same place again", box(0, 0, 499, 239));

  const shown = labelPlaces([small, large, same], toPixels);

  const boxes = shown.map((label) => ({ at: pixelOf(label), half: label.text.length * 3.5 }));
  boxes.forEach((a, i) => {
    boxes.slice(i + 1).forEach((b) => {
      const apart = Math.abs(a.at[0] - b.at[0]) >= a.half + b.half || Math.abs(a.at[1] - b.at[1]) >= 18;
      assert.ok(apart);
    });
  });
  assert.equal(shown[0].text, "A lawn with a long name");
});

test("a shape narrower than its name goes without", () => {
  assert.deepEqual(labelPlaces([named("Kitchen garden", box(0, 0, 40, 200))], toPixels), []);
});

test("a shape that cannot be placed on the map is passed over", () => {
  assert.deepEqual(labelPlaces([named("Lawn", box(0, 0, 400, 300))], nowhere), []);
});

const TURF = { name: "Turf", geometries: ["area"] };
const BED = { name: "Flower bed", geometries: ["area", "line", "point"] };
// 1/3600 of a degree of latitude at 40° N is 30.843 m (one second of the meridian: 111 035 m / 3600).
const SECOND = 1 / 3600;
const CORNERS = [[-90, 40], [-90, 40 + SECOND], [-90 + SECOND, 40 + SECOND]];

test("a sketch tells its corners, its last edge and its area, and says that it is a preview", () => {
  const words = sketchWords({ kind: TURF, form: "area", corners: CORNERS }, null, "metric");

  assert.equal(words.count, "3 corners");
  assert.equal(words.edge, "23.72 m"); // 85 394 m / 3600, a degree of longitude there
  assert.match(words.size, /^366 m²$/); // half of 30.843 m by 23.721 m
  assert.match(words.spoken, /preview/);
});

test("the place the pointer is at counts as the next corner", () => {
  const drawn = sketchWords({ kind: TURF, form: "area", corners: CORNERS }, null, "us");
  const aimed = sketchWords({ kind: TURF, form: "area", corners: CORNERS.slice(0, 2) }, CORNERS[2], "us");

  assert.equal(aimed.size, drawn.size);
  assert.equal(aimed.count, "2 corners");
});

test("one corner has no edge and no area yet", () => {
  const words = sketchWords({ kind: TURF, form: "area", corners: CORNERS.slice(0, 1) }, null, "us");

  assert.deepEqual([words.count, words.edge, words.size], ["1 corner", "", ""]);
});

test("the form is told only where there is a choice", () => {
  assert.equal(sketchWords({ kind: TURF, form: "area", corners: [] }, null, "us").title, "Turf");
  assert.equal(sketchWords({ kind: BED, form: "line", corners: [] }, null, "us").title, "Flower bed, line");
});
