import assert from "node:assert/strict";
import { test } from "node:test";

import { Board } from "../../static/js/map/board.js";
import { Drawing } from "../../static/js/shared/drawing.js";
import { moveCorner } from "../../static/js/shared/outline.js";

const MEASURED = { shapes: { lawn: { text: "17,466 sq ft" } } };

function measuredBoard() {
  const lawn = {
    type: "Feature",
    id: "lawn",
    properties: { kind: "turf" },
    geometry: { type: "Polygon", coordinates: [[[-92, 41], [-91.9995, 41], [-91.9995, 41.0004], [-92, 41.0004], [-92, 41]]] },
  };
  const drawing = new Drawing({ features: [lawn] });
  const board = new Board({ root: { dataset: {} }, map: null, drawing, kinds: [], units: "us" });
  board.setMeasured(MEASURED);
  return board;
}

const size = (board) => board.sizeOf(board.drawing.shape("lawn"));

function dragCorner(board) {
  const { geometry } = board.drawing.shape("lawn");
  board.drawing.change("lawn", { geometry: moveCorner(geometry, [0], 2, [-91.999, 41.0005]) }, "move a corner");
}

test("a shape that was measured shows the server's figure", () => {
  assert.deepEqual(size(measuredBoard()), { text: "17,466 sq ft", preview: false });
});

test("a figure is a preview as soon as a corner lies elsewhere, without waiting for the server", () => {
  const board = measuredBoard();

  dragCorner(board);

  assert.equal(size(board).preview, true);
  assert.notEqual(size(board).text, "17,466 sq ft");
});

test("undo brings the server's figure back", () => {
  const board = measuredBoard();
  dragCorner(board);

  board.drawing.undo();

  assert.deepEqual(size(board), { text: "17,466 sq ft", preview: false });
});

test("another slope makes a preview, another name does not", () => {
  const board = measuredBoard();

  board.drawing.change("lawn", { properties: { name: "Lawn" } }, "name");
  assert.equal(size(board).preview, false);
  board.drawing.change("lawn", { properties: { slope: "12 %" } }, "slope");
  assert.equal(size(board).preview, true);
});

test("the same outline read from a draft is the ground that was measured", () => {
  const board = measuredBoard();

  board.drawing.replaceAll({ features: structuredClone(board.drawing.shapes) }, "continue");

  assert.equal(size(board).preview, false);
});
