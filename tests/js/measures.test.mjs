import assert from "node:assert/strict";
import { test } from "node:test";

import { readLatLon, shapeByCorners, shapeByMeasures } from "../../static/js/shared/measures.js";
import { measureOf } from "../../static/js/shared/outline.js";

const TURF = { role: "turf" };
const rectangle = {
  shape: "rectangle", length: "80", width: "45", unit: "ft", bearing: "90", from: "corner",
  lat: "40", lon: "-90",
};

test("80 ft by 45 ft is 3,600 sq ft", () => {
  const { geometry, faults } = shapeByMeasures(rectangle, TURF);

  assert.deepEqual(faults, []);
  assert.ok(Math.abs(measureOf(geometry).area_m2 / 0.3048 ** 2 - 3600) < 0.01);
});

test("a circle may be given by its radius or its diameter", () => {
  const typed = { shape: "circle", round: "12", unit: "m", lat: "40", lon: "-90" };

  const area = (roundBy) => measureOf(shapeByMeasures({ ...typed, roundBy }, TURF).geometry).area_m2;

  assert.ok(Math.abs(area("radius") - Math.PI * 144) < 0.01);
  assert.ok(Math.abs(area("diameter") - Math.PI * 36) < 0.01);
});

test("every fault of a form is told at once", () => {
  const typed = { ...rectangle, length: "0", width: "", bearing: "400", lat: "95", lon: "x" };

  const { geometry, faults } = shapeByMeasures(typed, TURF);

  assert.equal(geometry, undefined);
  assert.deepEqual(
    faults.map((fault) => fault.field).toSorted(),
    ["bearing", "lat", "length", "lon", "width"],
  );
});

const LENGTH_PROBLEMS = [
  ["", /Length is empty/],
  ["0", /“0” is not a number above zero/],
  ["-4", /“-4” is not a number above zero/],
  ["1,250", /can be read in two ways/],
  ["99999999", /more than 20 km/],
];

for (const [length, message] of LENGTH_PROBLEMS) {
  test(`a length typed as “${length}” is refused in words that fit`, () => {
    const { faults } = shapeByMeasures({ ...rectangle, length }, TURF);

    assert.deepEqual(faults.map((fault) => fault.field), ["length"]);
    assert.match(faults[0].message, message);
  });
}

test("pasted corners are read as latitude, longitude", () => {
  const { geometry } = shapeByCorners("40.0, -90.0\n40.0, -89.9\n\n40.1, -89.9\n40.0, -90.0\n", "area");

  assert.deepEqual(geometry.coordinates, [[[-90, 40], [-89.9, 40], [-89.9, 40.1], [-90, 40]]]);
});

test("each line that cannot be read is named", () => {
  const { faults } = shapeByCorners("40, -90\nforty\n140, -90\n40 -200", "area");

  assert.deepEqual(faults.map((fault) => fault.message.slice(0, 7)), ["Line 2:", "Line 3:", "Line 4:"]);
});

test("too few corners are refused with the number needed", () => {
  assert.match(shapeByCorners("40, -90\n40, -89", "area").faults[0].message, /three corners/);
  assert.match(shapeByCorners("40, -90", "line").faults[0].message, /two corners/);
  assert.match(shapeByCorners("", "point").faults[0].message, /one corner/);
});

test("letters stand in for signs", () => {
  assert.deepEqual(readLatLon("33.5° S, 70.25° W").lonlat, [-70.25, -33.5]);
  assert.deepEqual(readLatLon("40.5 −90.25").lonlat, [-90.25, 40.5]);
});
