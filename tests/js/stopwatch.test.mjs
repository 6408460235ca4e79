import assert from "node:assert/strict";
import { test } from "node:test";

import { meanOf, nextEmpty, secondsOf, tenths } from "../../static/js/shared/stopwatch.js";

test("a stopwatch that stands shows nothing", () => {
  assert.equal(secondsOf(null, 5000), 0);
});

test("it counts from its start, also over a reload", () => {
  assert.equal(tenths(secondsOf(1000, 35250)), "34.3");
});

test("a clock that was set back never gives a time below zero", () => {
  assert.equal(secondsOf(5000, 1000), 0);
});

test("the next box is the first that is empty", () => {
  assert.equal(nextEmpty(["34.1", " ", "33.9"]), 1);
  assert.equal(nextEmpty(["34.1"]), -1);
});

test("the mean leaves out what is empty or no time", () => {
  assert.equal(meanOf(["77", "79", "", "78", "x", "0"]), 78);
  assert.equal(meanOf(["", "x"]), null);
});
