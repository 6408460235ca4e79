/** The drawing board of a property page. */

import { Board } from "../map/board.js";
import { corner, createMap, fitTo } from "../map/base_map.js";
import { element, readJson } from "../map/element.js";
import { Handles } from "../map/handles.js";
import { setUpKeys } from "../map/keys.js";
import { setUpKindPicker } from "../map/kind_picker.js";
import { setUpMeasuresForm } from "../map/measures_form.js";
import { Measuring } from "../map/measuring.js";
import { Moving } from "../map/moving.js";
import { Overlays } from "../map/overlays.js";
import { Saving } from "../map/saving.js";
import { Server } from "../map/server.js";
import { ShapeLayers } from "../map/shape_layers.js";
import { ShapeTable } from "../map/shape_table.js";
import { Sketch } from "../map/sketch.js";
import { Snapper } from "../map/snapping.js";
import { setUpToolbar } from "../map/toolbar.js";
import { Drawing } from "../shared/drawing.js";

const SHOW_ALL = {
  type: "button",
  class: "show-all",
  "data-do": "fit-all",
  "aria-label": "Show all shapes",
};

function setUp(root) {
  const { collection, number, measured } = readJson("drawing-data");
  const { units } = root.dataset;
  const layers = readJson("base-layers-data", {});
  const map = createMap(root.querySelector("[data-map]"), { units, layers });
  const drawing = new Drawing(collection);
  const board = new Board({ root, map, drawing, kinds: readJson("kinds-data", []), units });
  const snapper = new Snapper(board);
  const sketch = new Sketch(board, snapper);
  const shapes = new ShapeLayers(map, { kinds: board.kinds, pick: picker(board) });
  const handles = new Handles(board, snapper, shapes);
  const table = new ShapeTable(board);
  const server = new Server(root);
  const saving = new Saving(board, server, number);
  const measuring = new Measuring(board, server, root.dataset.measureUrl);
  new Moving(board, shapes);
  const acts = actsOf({ board, sketch, handles, table, shapes, saving });
  const kinds = setUpKindPicker(board, (kind, byKeyboard) => {
    if (byKeyboard) sketch.crosshair = true;
    sketch.start(kind, "area");
    map.getContainer().focus({ preventScroll: true });
    map.getContainer().scrollIntoView({ block: "nearest" });
  });
  acts["choose-kind"] = kinds.toggle;
  setUpToolbar(board, acts, { sketch, handles });
  setUpKeys(board, acts, sketch);
  setUpMeasuresForm(board, (ref) => {
    board.select(ref);
    acts.find({ dataset: { ref } });
    board.say(`${board.nameOf(ref)} added.`);
  });
  keepInStep({ board, shapes, sketch, measuring, table });
  corner("topleft", element("button", SHOW_ALL, "All")).addTo(map);
  fitTo(map, collection);
  if (measured) board.setMeasured(measured);
  else if (collection.features.length > 0) measuring.soon();
  saving.offerDraft();
  root.classList.add("ready");
}

/** Clicking a shape takes it in hand; clicking beside it lets go. */
function picker(board) {
  board.map.on("click", () => board.mode === "selected" && board.select(null));
  return (ref, event) => {
    if (board.mode === "draw") return;
    L.DomEvent.stopPropagation(event);
    if (board.mode !== "edit" && board.mode !== "move") board.select(ref);
  };
}

function keepInStep({ board, shapes, sketch, measuring, table }) {
  const overlays = new Overlays(board.map);
  const redraw = () => {
    shapes.sync(board.drawing.shapes);
    shapes.highlight(board.selected);
  };
  board.drawing.subscribe(({ what, how }) => {
    redraw();
    if (how === "undo") board.say(`Undone: ${what}.`);
    if (how === "redo") board.say(`Done again: ${what}.`);
    if (how === "saved") return;
    sketch.forget();
    measuring.soon();
  });
  board.addEventListener("state", () => shapes.highlight(board.selected));
  board.addEventListener("figures", () => overlays.showGround(board.measured));
  board.addEventListener("faults", () => overlays.showFaults(board.faults));
  redraw();
  table.refresh();
}

function actsOf({ board, sketch, handles, table, shapes, saving }) {
  const { drawing, map } = board;
  const remove = (ref) => {
    const name = board.nameOf(ref);
    drawing.remove(ref, `delete ${name}`);
    board.say(`${name} deleted. Undo brings it back.`);
  };
  const toggle = (mode) => () => board.enter(board.mode === mode ? "selected" : mode);
  return {
    undo: () => {
      if (board.mode === "draw") sketch.removeLast();
      else if (!sketch.resume() && drawing.undo() === null) board.say("There is nothing to undo.");
    },
    redo: () => {
      if (board.mode === "draw") sketch.putBack();
      else if (drawing.redo() === null) board.say("There is nothing to do again.");
    },
    drop: () => sketch.dropAtCentre(),
    finish: () => sketch.finish(),
    cancel: () => sketch.cancel(),
    "remove-last": () => sketch.removeLast(),
    crosshair: () => sketch.toggleCrosshair(),
    form: (button) => {
      sketch.as(button.dataset.form);
      board.enter("draw");
    },
    snap: () => board.toggleSnapping(),
    "edit-corners": toggle("edit"),
    move: toggle("move"),
    "remove-corner": () => handles.removeCorner(),
    "delete-shape": () => remove(board.selected),
    "delete-row": (button) => remove(button.dataset.ref),
    done: () => board.select(null),
    "fit-all": () => fitTo(map, drawing.collection),
    find: (button) => {
      const bounds = shapes.boundsOf(button.dataset.ref);
      board.select(button.dataset.ref);
      if (bounds) map.fitBounds(bounds.pad(0.4), { maxZoom: 21 });
      map.getContainer().scrollIntoView({ block: "nearest" });
    },
    "open-corners": (button) => {
      const { ref } = button.dataset;
      const open = table.toggleCorners(ref);
      board.select(ref);
      board.enter(open ? "edit" : "selected");
    },
    "continue-draft": () => saving.continueDraft(),
    "discard-draft": () => saving.discardDraft(),
  };
}

const root = document.querySelector("[data-drawing-board]");
if (root) setUp(root);
