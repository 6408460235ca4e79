/** The buttons of the drawing board: which are there in which mode, and what each does. */

import { element, setText } from "./element.js";

/**
 * Bring the tools to life.
 *
 * @param {import("./board.js").Board} board
 * @param {Record<string, (button?: HTMLElement, event?: Event) => void>} acts  What each
 *   `data-do` does.
 * @param {object} parts
 * @param {import("./sketch.js").Sketch} parts.sketch
 * @param {import("./handles.js").Handles} parts.handles
 */
export function setUpToolbar(board, acts, { sketch, handles }) {
  board.root.addEventListener("click", (event) => {
    const button = event.target.closest("[data-do]");
    if (button && board.root.contains(button)) acts[button.dataset.do]?.(button, event);
  });
  const refresh = () => {
    showMode(board);
    showSwitches(board, sketch);
    showSteps(board, sketch);
    showCorner(board, handles);
  };
  board.addEventListener("state", () => {
    refresh();
    showForms(board, sketch);
  });
  board.addEventListener("sketch", () => {
    showSketch(board, sketch);
    refresh();
  });
  board.addEventListener("corner", refresh);
  board.drawing.subscribe(refresh);
  refresh();
}

function buttons(board, name) {
  return board.root.querySelectorAll(`[data-do="${name}"]`);
}

function showMode(board) {
  const selecting = ["selected", "edit", "move"].includes(board.mode);
  const shown = { idle: board.mode === "idle", draw: board.mode === "draw", selected: selecting };
  for (const group of board.root.querySelectorAll("[data-when]")) {
    group.hidden = !shown[group.dataset.when];
  }
  if (selecting) setText(board.part("selected-name"), board.nameOf(board.selected));
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

function showSketch(board, sketch) {
  const words = sketch.words();
  setText(board.part("sketch-title"), words.title);
  setText(board.part("sketch-count"), words.count);
  setText(board.part("readout-edge"), words.edge && `Edge ${words.edge}`);
  setText(board.part("readout-size"), words.size);
  board.part("readout").hidden = !words.edge;
  board.part("readout-preview").hidden = !words.size;
}

/** Area, line or point, as the kind allows. */
function showForms(board, sketch) {
  if (board.mode !== "draw") {
    board.part("readout").hidden = true;
    return;
  }
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
