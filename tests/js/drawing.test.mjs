import assert from "node:assert/strict";
import { test } from "node:test";

import { Drawing } from "../../static/js/shared/drawing.js";
import { insertCorner, moveCorner, movedBy, partsOf, removeCorner } from "../../static/js/shared/outline.js";

const lawn = (id = "turf-a", east = 0) => ({
  type: "Feature",
  id,
  properties: { kind: "turf", name: "Back lawn" },
  geometry: {
    type: "Polygon",
    coordinates: [[[east, 0], [east + 2, 0], [east + 2, 1], [east, 1], [east, 0]]],
  },
});
const drawingOf = (...features) => new Drawing({ type: "FeatureCollection", features });

test("undo takes a new shape out and redo brings it back", () => {
  const drawing = drawingOf(lawn());
  drawing.add(lawn("turf-b", 5), "add Side lawn");

  assert.equal(drawing.undo(), "add Side lawn");
  assert.deepEqual(drawing.shapes.map((shape) => shape.id), ["turf-a"]);
  assert.equal(drawing.redo(), "add Side lawn");
  assert.deepEqual(drawing.shapes.map((shape) => shape.id), ["turf-a", "turf-b"]);
});

test("a change that changes nothing is no step", () => {
  const drawing = drawingOf(lawn());

  drawing.change("turf-a", { properties: { name: "Back lawn" } }, "rename");

  assert.equal(drawing.undo(), null);
});

test("a new step after undo closes the way forward", () => {
  const drawing = drawingOf(lawn());
  drawing.remove("turf-a", "delete");
  drawing.undo();

  drawing.change("turf-a", { properties: { slope: "12 %" } }, "slope");

  assert.equal(drawing.redo(), null);
  assert.equal(drawing.shape("turf-a").properties.slope, "12 %");
});

test("a property set to nothing is left out of what is sent", () => {
  const drawing = drawingOf(lawn());

  drawing.change("turf-a", { properties: { name: "" } }, "name");

  assert.deepEqual(drawing.collection.features[0].properties, { kind: "turf" });
});

test("a held arrow key is one step, and the next press another", () => {
  const drawing = drawingOf(lawn());
  const nudge = (lat) =>
    drawing.change("turf-a", { geometry: moveCorner(drawing.shape("turf-a").geometry, [0], 0, [0, lat]) }, "move", "corner 0");
  nudge(0.1);
  nudge(0.2);
  drawing.rest();
  nudge(0.3);

  drawing.undo();
  assert.deepEqual(drawing.shape("turf-a").geometry.coordinates[0][0], [0, 0.2]);
  drawing.undo();
  assert.deepEqual(drawing.shape("turf-a").geometry, lawn().geometry);
});

test("a drawing is clean again after undo and after saving", () => {
  const drawing = drawingOf(lawn());
  assert.equal(drawing.dirty, false);
  drawing.add(lawn("turf-b", 5));
  assert.equal(drawing.dirty, true);
  drawing.undo();
  assert.equal(drawing.dirty, false);

  drawing.redo();
  drawing.saved(drawing.shapes, structuredClone(drawing.collection));
  assert.equal(drawing.dirty, false);
});

test("the order in which the server writes properties is no change", () => {
  const drawing = drawingOf(lawn());
  const { type, id, properties, geometry } = lawn();
  drawing.change(id, { properties: { slope: "8 %" } }, "slope");
  const written = { geometry, properties: { slope: "8 %", ...properties }, id, type };

  drawing.saved(drawing.shapes, { features: [written] });

  assert.equal(drawing.dirty, false);
  assert.equal(drawing.undo(), "slope");
  assert.equal(drawing.dirty, true);
});

test("a tidier spelling from the server is no step of its own", () => {
  const drawing = drawingOf(lawn());
  drawing.change("turf-a", { properties: { slope: "8.0 %" } }, "slope");
  const stored = structuredClone(drawing.collection);
  stored.features[0].properties.slope = "8 %";

  drawing.saved(drawing.shapes, stored);

  assert.equal(drawing.shape("turf-a").properties.slope, "8 %");
  assert.equal(drawing.dirty, false);
  assert.equal(drawing.undo(), "slope");
});

test("what the server mended on saving comes in as one step that can be taken back", () => {
  const drawing = drawingOf(lawn());
  const tidied = { type: "FeatureCollection", features: [lawn("turf-a", 1)] };

  drawing.saved(drawing.shapes, tidied);

  assert.deepEqual(drawing.collection, tidied);
  assert.equal(drawing.dirty, false);
  drawing.undo();
  assert.deepEqual(drawing.shapes, [lawn()]);
  assert.equal(drawing.dirty, true);
});

test("what was drawn while a save was under way is kept, and still counts as not saved", () => {
  const drawing = drawingOf(lawn());
  const sent = drawing.shapes;
  drawing.add(lawn("turf-b", 5));

  drawing.saved(sent, { features: [lawn("turf-a", 1)] });

  assert.equal(drawing.shapes.length, 2);
  assert.equal(drawing.dirty, true);
});

test("listeners hear each step, undo and redo", () => {
  const drawing = drawingOf(lawn());
  const heard = [];
  drawing.subscribe(({ how }) => heard.push(how));

  drawing.remove("turf-a");
  drawing.undo();
  drawing.redo();

  assert.deepEqual(heard, ["step", "undo", "redo"]);
});

test("after any run of changes, undoing all is the start and redoing all is the end", () => {
  for (let seed = 1; seed <= 60; seed += 1) {
    const random = seeded(seed);
    const start = [lawn("turf-0"), lawn("turf-1", 5)];
    const drawing = new Drawing({ features: structuredClone(start) });
    const states = [JSON.stringify(drawing.shapes)];
    drawing.subscribe(({ how }) => how === "step" && states.push(JSON.stringify(drawing.shapes)));

    for (let i = 0; i < 40; i += 1) randomChange(drawing, random, i);
    const end = JSON.stringify(drawing.shapes);

    for (let i = states.length - 1; i >= 0; i -= 1) {
      assert.equal(JSON.stringify(drawing.shapes), states[i]);
      assert.equal(drawing.undo() === null, i === 0);
    }
    assert.deepEqual(drawing.shapes, start);
    while (drawing.redo() !== null);
    assert.equal(JSON.stringify(drawing.shapes), end);
  }
});

function randomChange(drawing, random, i) {
  const pick = (list) => list[Math.floor(random() * list.length)];
  const shape = pick(drawing.shapes);
  if (!shape || random() < 0.2) {
    drawing.add(lawn(`turf-new-${i}`, random() * 50));
    return;
  }
  const { at, corners } = pick(partsOf(shape.geometry));
  const index = Math.floor(random() * corners.length);
  const place = [random(), random()];
  const changes = [
    () => ({ geometry: moveCorner(shape.geometry, at, index, place) }),
    () => ({ geometry: insertCorner(shape.geometry, at, index, place) }),
    () => ({ geometry: removeCorner(shape.geometry, at, index) ?? undefined }),
    () => ({ geometry: movedBy(shape.geometry, { east_m: random() * 9, north_m: random() * 9 }) }),
    () => ({ properties: { kind: pick(["patio", "pond", "turf"]) } }),
    () => ({ properties: { name: pick(["", "Front", "Side"]) } }),
    () => ({ properties: { setback: pick(["", "6 ft", "2 m"]) } }),
    () => ({ properties: { slope: pick(["", "12 %", "5 deg"]) } }),
    null,
  ];
  const change = pick(changes);
  if (change) drawing.change(shape.id, change(), "change");
  else drawing.remove(shape.id, "delete");
}

function seeded(state) {
  let seed = state;
  return () => {
    seed = (seed * 48271) % 2147483647;
    return seed / 2147483647;
  };
}
