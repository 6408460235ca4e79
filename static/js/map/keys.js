/** Keys of the drawing board. Keys typed into a box are left alone. */

const PAN_PX = 24;
const ARROWS = { ArrowUp: [0, -1], ArrowDown: [0, 1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };
const TYPING = "input, select, textarea";

/**
 * Listen for undo and redo everywhere on the board, and for drawing keys on the map.
 *
 * @param {import("./board.js").Board} board
 * @param {Record<string, () => void>} acts
 * @param {import("./sketch.js").Sketch} sketch
 */
export function setUpKeys(board, acts, sketch) {
  window.addEventListener("keydown", (event) => {
    if (event.target.closest?.(TYPING)) return;
    const act = stepKey(event);
    if (!act) return;
    event.preventDefault();
    acts[act]();
  });
  board.map.getContainer().addEventListener("keydown", (event) => {
    const onMap = event.target === board.map.getContainer();
    if (board.mode === "draw") drawingKey(event, { acts, sketch, onMap });
    else if (event.key === "Escape") acts.done();
    else if (onMap && event.key === "Delete" && board.selected) acts["delete-shape"]();
    if (onMap && ARROWS[event.key] && !event.defaultPrevented) pan(event, board.map);
  });
}

function stepKey({ key, ctrlKey, metaKey, shiftKey, altKey }) {
  if (!(ctrlKey || metaKey) || altKey) return null;
  const letter = key.toLowerCase();
  if (letter === "z") return shiftKey ? "redo" : "undo";
  return letter === "y" ? "redo" : null;
}

function drawingKey(event, { acts, sketch, onMap }) {
  const drops = onMap && sketch.crosshair;
  const act = {
    Enter: event.ctrlKey || !drops ? "finish" : "drop",
    " ": drops ? "drop" : null,
    Backspace: "remove-last",
    Delete: "remove-last",
    Escape: "cancel",
  }[event.key];
  if (!act || (event.key === "Enter" && !onMap)) return;
  event.preventDefault();
  event.stopPropagation();
  acts[act]();
}

/** Pan at once rather than gliding, so that a corner dropped next lies under the crosshair. */
function pan(event, map) {
  if (event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  event.stopPropagation();
  const share = event.shiftKey ? 5 : 1;
  const fine = event.altKey ? 0.125 : 1;
  map.panBy(
    ARROWS[event.key].map((way) => way * PAN_PX * share * fine),
    { animate: false },
  );
}
