/** Taking a shape in hand on the map: by pointing at it, or by going through them with Enter. */

import { middleOf } from "../shared/outline.js";

const HOW = "Enter takes the next shape in hand, Shift and Enter the one before. Arrow keys move the map.";

/**
 * Let shapes be picked; clicking beside them lets go.
 *
 * @param {import("./board.js").Board} board
 * @returns {(ref: string, event: L.LeafletMouseEvent) => void}  Hears which shape was pointed at.
 */
export function setUpPicking(board) {
  const { map } = board;
  const container = map.getContainer();
  const free = () => board.mode === "idle" || board.mode === "selected";
  map.on("click", () => board.mode === "selected" && board.select(null));
  container.addEventListener("focus", () => {
    if (free() && board.drawing.shapes.length > 0 && container.matches(":focus-visible")) board.say(HOW);
  });
  container.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target !== container || !free()) return;
    event.preventDefault();
    pickBeside(board, event.shiftKey ? -1 : 1);
  });
  return (ref, event) => {
    if (board.mode === "draw") return;
    L.DomEvent.stopPropagation(event);
    if (free()) pick(board, ref);
  };
}

/** Take a shape in hand and say so, for those who do not see the map. */
export function pick(board, ref) {
  board.select(ref);
  const { text } = board.sizeOf(board.drawing.shape(ref));
  board.say(`${board.nameOf(ref)} is in hand${text ? `: ${text}` : ""}.`);
}

/** The next shape in drawing order, or the one before; the map follows when it is out of sight. */
function pickBeside(board, step) {
  const { map } = board;
  const { shapes } = board.drawing;
  if (shapes.length === 0) return;
  const now = shapes.findIndex(({ id }) => id === board.selected);
  const start = now === -1 && step === -1 ? 0 : now;
  const shape = shapes.at((start + step) % shapes.length);
  pick(board, shape.id);
  const middle = middleOf(shape.geometry).toReversed();
  if (!map.getBounds().contains(middle)) map.panTo(middle, { animate: false });
}
