import assert from "node:assert/strict";
import { test } from "node:test";

import { fieldOf, rareWords, riseOverRun, strangersTo, surfaceFactor } from "../../static/js/shared/members.js";

// A right triangle of 3, 4 and 5: over 4 of level ground there are 5 of slope.
const THREE_IN_FOUR = ["75 %", "75,0 %", { rise: "3 ft", run: "4 ft" }, { rise: "9 in", run: "1 ft" }, { rise: "75 cm", run: "1 m" }];

for (const slope of THREE_IN_FOUR) {
  test(`a slope of ${JSON.stringify(slope)} has five fourths of the ground on the map`, () => {
    assert.ok(Math.abs(surfaceFactor(slope) - 1.25) < 1e-12);
  });
}

test("at 60 degrees the ground is twice what the map shows", () => {
  assert.ok(Math.abs(surfaceFactor("60 deg") - 2) < 1e-12);
});

for (const slope of [undefined, "", "steep %", "0 %", { rise: "2 ft", run: "" }, { rise: "2 ft", run: "0 ft" }]) {
  test(`${JSON.stringify(slope)} makes a preview no larger`, () => {
    assert.equal(surfaceFactor(slope), 1);
  });
}

test("what is seldom told is said in a few words, in one order", () => {
  assert.equal(rareWords({ kind: "turf", gate: "4 ft", only: "hand_tool" }), "hand only, gate 4 ft");
  assert.equal(rareWords({ kind: "pond", setback: "10 ft", downwind_setback: "25 ft" }), "downwind 25 ft");
  assert.equal(rareWords({ kind: "turf", slope: "12 %" }), "");
});

test("a fault's path names its field, and a downwind distance is no distance to keep", () => {
  assert.equal(fieldOf('features[3] "pond".properties.downwind_setback'), "downwind_setback");
  assert.equal(fieldOf('features[3] "pond".properties.setback'), "setback");
  assert.equal(fieldOf('features[0] "gate"'), "geometry");
  assert.equal(fieldOf('features[0] "lawn".geometry'), "geometry");
  assert.equal(fieldOf(undefined), "geometry");
});

test("turf that becomes a pond loses slope, gate and hand work, and a pond that becomes turf its distances", () => {
  assert.deepEqual(Object.keys(strangersTo("protected")).toSorted(), ["gate", "only", "slope", "turfgrasses"]);
  assert.deepEqual(Object.keys(strangersTo("turf")).toSorted(), ["downwind_setback", "setback"]);
  assert.deepEqual(Object.keys(strangersTo("obstacle")).toSorted(), ["downwind_setback", "gate", "only", "slope", "turfgrasses"]);
});

test("a rise without a run is kept as it is, and neither is no slope", () => {
  assert.deepEqual(riseOverRun("2 ft", ""), { rise: "2 ft", run: "" });
  assert.equal(riseOverRun("", ""), "");
});

test("turf that tells what grows in it says so in its summary", () => {
  assert.equal(rareWords({ kind: "turf", turfgrasses: ["zoysiagrass"], gate: "4 ft" }), "gate 4 ft, its own turf");
  assert.equal(rareWords({ kind: "turf", turfgrasses: [] }), "");
});

test("how a shape was measured stands in its summary", () => {
  assert.equal(rareWords({ measured_by: "tape", gate: "4 ft" }), "gate 4 ft, by tape");
  assert.equal(rareWords({ measured_by: "" }), "");
});
