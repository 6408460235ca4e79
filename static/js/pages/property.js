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
import { pick, setUpPicking } from "../map/picking.js";
import { fitOnPaper } from "../map/printing.js";
import { Saving } from "../map/saving.js";
import { Server } from "../map/server.js";
import { ShapeLayers } from "../map/shape_layers.js";
import { ShapeTable } from "../map/shape_table.js";
import { Sketch } from "../map/sketch.js";
import { Snapper } from "../map/snapping.js";
import { setUpButtons, showTools } from "../map/toolbar.js";
import { Drawing } from "../shared/drawing.js";

const SHOW_ALL = {
  type: "button",
  class: "show-all",
  "data-do": "fit-all",
  "aria-label": "Show all shapes",
};

const HOW_TO_EDIT =
  "Drag a corner; a plus puts one in. By keyboard: Tab to a corner, arrow keys move it, Delete removes it.";
const HOW_TO_MOVE = "Drag the shape or its handle, or use the arrow keys.";

function setUp(root) {
  const { collection, number, measured } = readJson("drawing-data");
  const { units } = root.dataset;
  const layers = readJson("base-layers-data", {});
  const map = createMap(root.querySelector("[data-map]"), { units, layers });
  const drawing = new Drawing(collection);
  const board = new Board({ root, map, drawing, kinds: readJson("kinds-data", []), units });
  const shapes = new ShapeLayers(map, { kinds: board.kinds, pick: setUpPicking(board) });
  const table = new ShapeTable(board);
  const server = new Server(root);
  const measuring = new Measuring(board, server, root.dataset.measureUrl);
  showInStep({ board, shapes, table });
  corner("topleft", element("button", SHOW_ALL, "All")).addTo(map);
  if (board.editable) setUpEditing({ board, server, number, shapes, table, measuring });
  else setUpButtons(board, lookingActs({ board, shapes }));
  fitTo(map, collection);
  fitOnPaper(map, { collection: () => drawing.collection, shapes });
  if (measured) board.setMeasured(measured);
  else if (collection.features.length > 0) measuring.soon();
}

function setUpEditing({ board, server, number, shapes, table, measuring }) {
  const { drawing, map } = board;
  const snapper = new Snapper(board);
  const sketch = new Sketch(board, snapper);
  const handles = new Handles(board, snapper, shapes);
  const saving = new Saving(board, server, number);
  const moving = new Moving(board, shapes);
  moving.listen();
  const acts = { ...lookingActs({ board, shapes }), ...editingActs({ board, sketch, handles, table, saving }) };
  const kinds = setUpKindPicker(board, (kind, byKeyboard) => {
    if (byKeyboard) sketch.crosshair = true;
    sketch.start(kind, "area");
    map.getContainer().focus({ preventScroll: true });
    bringMapIntoView(board);
  });
  acts["choose-kind"] = kinds.toggle;
  setUpButtons(board, acts);
  showTools(board, { sketch, handles });
  setUpKeys(board, acts, sketch);
  setUpMeasuresForm(board, (ref) => {
    acts.find({ dataset: { ref } });
    board.say(`${board.nameOf(ref)} added.`);
  });
  drawing.subscribe(({ what, how }) => {
    if (how === "step") board.say(`Done: ${what}.`);
    if (how === "undo") board.say(`Undone: ${what}.`);
    if (how === "redo") board.say(`Done again: ${what}.`);
    if (how === "saved") return;
    sketch.forget();
    measuring.soon();
  });
  board.say(
    drawing.shapes.length > 0
      ? "Choose a shape on the map or in the table, or draw one."
      : "Nothing is drawn yet. Press “Draw a shape” and begin with the turf.",
  );
  board.root.addEventListener("drawing-saved", tellSavedNow);
  saving.offerDraft();
}

/** Below the board, say that the list of saved drawings lacks the one saved just now. */
function tellSavedNow({ detail: { number } }) {
  const now = document.querySelector("[data-saved-now]");
  now.querySelector("[data-saved-number]").textContent = number;
  now.hidden = false;
  document.querySelector("[data-none-saved]")?.remove();
}

/** What is seen follows the drawing, the selection and the server's answers. */
function showInStep({ board, shapes, table }) {
  const overlays = new Overlays(board.map);
  const redraw = () => {
    shapes.sync(board.drawing.shapes);
    shapes.highlight(board.selected);
  };
  board.drawing.subscribe(redraw);
  board.addEventListener("state", () => shapes.highlight(board.selected));
  board.addEventListener("figures", () => overlays.showGround(board.measured));
  board.addEventListener("faults", () => overlays.showFaults(board.faults));
  redraw();
  table.refresh();
}

function lookingActs({ board, shapes }) {
  const { drawing, map } = board;
  return {
    "fit-all": () => fitTo(map, drawing.collection),
    find: (button) => {
      const bounds = shapes.boundsOf(button.dataset.ref);
      pick(board, button.dataset.ref);
      if (bounds) map.fitBounds(bounds.pad(0.4), { maxZoom: 21 });
      bringMapIntoView(board);
    },
  };
}

/** Scroll only if some of the map is out of sight or under the tools. */
function bringMapIntoView({ map, root }) {
  const frame = map.getContainer().getBoundingClientRect();
  const tools = root.querySelector(".board-tools")?.getBoundingClientRect();
  const below = tools && tools.top > frame.top ? tools.top : window.innerHeight;
  if (frame.top < 0 || frame.bottom > below) map.getContainer().scrollIntoView({ block: "start" });
}

function editingActs({ board, sketch, handles, table, saving }) {
  const { drawing } = board;
  const remove = (ref) => {
    const name = board.nameOf(ref);
    drawing.remove(ref, `delete ${name}`);
    board.say(`${name} deleted. Undo brings it back.`);
  };
  const toggle = (mode, how, handle) => (_, event) => {
    board.enter(board.mode === mode ? "selected" : mode);
    if (board.mode !== mode) return;
    board.say(how);
    const byKeyboard = event?.detail === 0;
    if (byKeyboard) board.root.querySelector(handle)?.focus({ preventScroll: true });
  };
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
    "edit-corners": toggle("edit", HOW_TO_EDIT, ".corner-handle"),
    move: toggle("move", HOW_TO_MOVE, ".move-handle"),
    "remove-corner": () => handles.removeCorner(),
    "delete-shape": () => remove(board.selected),
    "delete-row": (button) => remove(button.dataset.ref),
    done: () => board.select(null),
    "open-corners": (button) => {
      const { ref } = button.dataset;
      const open = table.toggleCorners(ref);
      board.select(ref);
      board.enter(open ? "edit" : "selected");
    },
    save: () => {
      saving.save();
      board.part("save-form").scrollIntoView({ block: "center" });
    },
    "continue-draft": () => {
      const unfinished = saving.continueDraft();
      if (unfinished) sketch.restore(unfinished);
    },
    "discard-draft": () => saving.discardDraft(),
  };
}

const root = document.querySelector("[data-drawing-board]");
if (root) {
  setUp(root);
  // Until here a press would have been lost without a word.
  root.inert = false;
}
