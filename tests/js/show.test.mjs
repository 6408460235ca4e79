import assert from "node:assert/strict";
import { test } from "node:test";

import { gridSteps, linesBetween } from "../../static/js/shared/grid.js";
import { joinQuantity, readNumber, showArea, showLength, splitQuantity } from "../../static/js/shared/show.js";

test("an acre reads 43,560 sq ft", () => {
  // NIST Handbook 44, Appendix C: 1 acre = 43 560 ft² = 4046.856 422 4 m² (international foot).
  assert.equal(showArea(4046.8564224, "us"), "43,560 sq ft");
  assert.equal(showArea(4046.8564224, "metric"), "4,047 m²");
});

test("a small area keeps a decimal", () => {
  assert.equal(showArea(0.836127, "us"), "9.0 sq ft");
  assert.equal(showArea(7.26, "metric"), "7.3 m²");
});

test("a length of 30.48 m is 100 ft", () => {
  assert.equal(showLength(30.48, "us"), "100.0 ft");
  assert.equal(showLength(30.48, "metric"), "30.48 m");
});

const NUMBERS = [
  ["12.5", 12.5], [" 7 ", 7], [".5", 0.5], ["-90.25", -90.25], ["12,5", 12.5], ["1,250.5", 1250.5],
  ["1,250", NaN], ["12 ft", NaN], ["", NaN], ["1e5", NaN], ["--3", NaN],
];

for (const [text, expected] of NUMBERS) {
  test(`“${text}” is read as ${expected}`, () => {
    assert.equal(readNumber(text), expected);
  });
}

test("a quantity is taken apart and put together as it was typed", () => {
  assert.deepEqual(splitQuantity("6.50 ft"), { number: "6.50", unit: "ft" });
  assert.deepEqual(splitQuantity("12 %"), { number: "12", unit: "%" });
  assert.deepEqual(splitQuantity("about 6 ft"), { number: "about 6", unit: "ft" });
  assert.deepEqual(splitQuantity("6 parsnips"), { number: "6 parsnips", unit: "" });
  assert.deepEqual(splitQuantity(undefined), { number: "", unit: "" });
  assert.equal(joinQuantity("6.50", "ft"), "6.50 ft");
  assert.equal(joinQuantity(" ", "ft"), "");
});

test("from a close look to a county, fine lines lie 14 to 36 pixels apart", () => {
  for (let metresPerPixel = 0.08; metresPerPixel < 2000; metresPerPixel *= 1.3) {
    for (const units of ["us", "metric"]) {
      const apart_px = gridSteps(metresPerPixel, units).fine_m / metresPerPixel;
      assert.ok(apart_px >= 14 && apart_px <= 36, `${apart_px} px at ${metresPerPixel} m/px`);
    }
  }
});

test("every fifth line is bold", () => {
  const { fine_m, bold_m } = gridSteps(0.2, "metric");

  assert.equal(bold_m, 5 * fine_m);
});

test("grid distances are round in the person's units", () => {
  assert.deepEqual(gridSteps(0.15, "us").label, "Lines every 10 and 50 ft");
  assert.deepEqual(gridSteps(0.15, "metric").label, "Lines every 5 and 25 m");
});

test("the lines of a span are the multiples of the step inside it", () => {
  assert.deepEqual(linesBetween(-7, 11, 5), [-5, 0, 5, 10]);
  assert.deepEqual(linesBetween(1, 4, 5), []);
});
