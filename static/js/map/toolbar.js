/** The buttons of the drawing board: which are there in which mode, and what each does. */

import { element, setText } from "./element.js";

/**
 * Let every button with a `data-do` do it.
 *
 * @param {import("./board.js").Board} board
 * @param {Record<string, (button: HTMLElement, event: Event) => void>} acts  What each `data-do` does.
 */
export function setUpButtons(board, acts) {
  board.root.addEventListener("click", (event) => {
    const button = event.target.closest("[data-do]");
    if (button) acts[button.dataset.do]?.(button, event);
  });
}

/**
 * Show the tools of the present mode, and how they stand.
 *
 * @param {import("./board.js").Board} board
 * @param {object} parts
 * @param {import("./sketch.js").Sketch} parts.sketch
 * @param {import("./handles.js").Handles} parts.handles
 */
export function showTools(board, { sketch, handles }) {
  const refresh = () => {
    showMode(board);
    showSwitches(board, sketch);
    showSteps(board, sketch);
    showCorner(board, handles);
    showReadout(board, sketch);
  };
  board.addEventListener("state", () => {
    refresh();
    showForms(board, sketch);
  });
  for (const event of ["sketch", "corner", "figures", "drag"]) board.addEventListener(event, refresh);
  board.drawing.subscribe(refresh);
  refresh();
}

function buttons(board, name) {
  return board.root.querySelectorAll(`[data-do="${name}"]`);
}

function showMode(board) {
  const selecting = ["selected", "edit", "move"].includes(board.mode);
  const now = selecting ? "selected" : board.mode;
  for (const group of board.root.querySelectorAll("[data-when]")) {
    group.hidden = !group.dataset.when.split(" ").includes(now);
  }
}

function showSwitches(board, sketch) {
  const pressed = {
    "edit-corners": board.mode === "edit",
    move: board.mode === "move",
    snap: board.snapping,
    crosshair: sketch.crosshair,
  };
  for (const [name, on] of Object.entries(pressed)) {
    for (const button of buttons(board, name)) button.setAttribute("aria-pressed", String(on));
  }
  const aiming = board.mode === "draw" && sketch.crosshair;
  board.part("crosshair").hidden = !aiming;
  for (const button of buttons(board, "drop")) button.hidden = !aiming;
}

function showSteps(board, sketch) {
  const drawing = board.mode === "draw";
  const steps = {
    undo: drawing ? "the last corner" : board.drawing.undoable,
    redo: drawing ? "a removed corner" : board.drawing.redoable,
  };
  for (const [name, what] of Object.entries(steps)) {
    for (const button of buttons(board, name)) {
      button.title = what;
      button.setAttribute("aria-disabled", String(!what && !(name === "undo" && sketch.putAway)));
    }
  }
}

function showCorner(board, handles) {
  for (const button of board.root.querySelectorAll("[data-edits]")) {
    button.hidden = board.mode !== "edit";
  }
  for (const button of buttons(board, "remove-corner")) {
    button.setAttribute("aria-disabled", String(!handles.corner));
  }
}

/** What is in hand, on the map: the sketch with its previews, or the selected shape. */
function showReadout(board, sketch) {
  const words = board.mode === "draw" ? sketch.words() : selectedWords(board);
  board.part("readout").hidden = !words;
  if (!words) return;
  setText(board.part("readout-title"), words.title);
  setText(board.part("readout-count"), words.count);
  setText(board.part("readout-edge"), words.edge && `edge ${words.edge}`);
  setText(board.part("readout-size"), words.size);
  board.part("readout-preview").hidden = !words.size || Boolean(words.told);
}

function selectedWords(board) {
  const shape = board.dragged ?? board.drawing.shape(board.selected);
  if (!shape) return null;
  const { text, preview } = board.sizeOf(shape);
  return { title: board.nameOf(shape.id), count: "", edge: "", size: text, told: !preview };
}

/** Area, line or point, as the kind allows. */
function showForms(board, sketch) {
  if (board.mode !== "draw") return;
  const { geometries } = sketch.kind;
  const choice = board.part("forms");
  choice.hidden = geometries.length < 2;
  choice.replaceChildren(
    ...geometries.map((form) =>
      element(
        "button",
        { type: "button", "data-do": "form", "data-form": form, "aria-pressed": String(form === sketch.form) },
        form[0].toUpperCase() + form.slice(1),
      ),
    ),
  );
}
