/** Moving a whole shape: by dragging it, by its handle, or by arrow keys. */

import { middleOf, movedBy } from "../shared/outline.js";
import { frameAt } from "../shared/plane.js";

const FINE_M = 0.1;
const COARSE_M = 1;
const ARROWS = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };

/** The handle in the middle of the shape that is being moved. */
export class Moving {
  #board;
  #layers;
  #handle = null;
  #dragging = false;

  /**
   * @param {import("./board.js").Board} board
   * @param {import("./shape_layers.js").ShapeLayers} layers
   */
  constructor(board, layers) {
    this.#board = board;
    this.#layers = layers;
  }

  /** Show and hide the handle as the board's mode changes, and follow a dragged shape. */
  listen() {
    const board = this.#board;
    board.addEventListener("state", () => this.#refresh());
    board.drawing.subscribe(() => this.#refresh());
    board.map.getContainer().addEventListener("pointerdown", (event) => this.#grab(event), { capture: true });
  }

  get #shape() {
    return this.#board.mode === "move" ? this.#board.drawing.shape(this.#board.selected) : null;
  }

  #refresh() {
    if (this.#dragging) return;
    const held = this.#handle?.getElement() === document.activeElement;
    this.#handle?.remove();
    this.#handle = null;
    const shape = this.#shape;
    if (!shape) return;
    const icon = L.divIcon({ className: "move-handle", iconSize: null });
    const place = middleOf(shape.geometry).toReversed();
    const name = `Move ${this.#board.nameOf(shape.id)}: drag, or use the arrow keys`;
    this.#handle = L.marker(place, { icon, draggable: true, autoPan: true, title: name, zIndexOffset: 500 });
    this.#handle.addTo(this.#board.map);
    const element = this.#handle.getElement();
    element.setAttribute("aria-label", name);
    element.addEventListener("keydown", (event) => this.#key(event));
    element.addEventListener("keyup", () => this.#board.drawing.rest());
    this.#handle.on("dragstart", () => {
      this.#dragging = true;
    });
    this.#handle.on("drag", () => this.#preview(this.#way(place, this.#handle.getLatLng())));
    this.#handle.on("dragend", () => this.#drop(this.#way(place, this.#handle.getLatLng())));
    if (held) element.focus({ preventScroll: true });
  }

  /** Dragging the shape itself, with the map held still meanwhile. */
  #grab(event) {
    const shape = this.#shape;
    if (!shape || !this.#layers.elementsOf(shape.id).includes(event.target)) return;
    const { map } = this.#board;
    const from = map.mouseEventToLatLng(event);
    const way = (moved) => this.#way([from.lat, from.lng], map.mouseEventToLatLng(moved));
    map.dragging.disable();
    this.#dragging = true;
    const follow = (moved) => moved.pointerId === event.pointerId && this.#preview(way(moved));
    const stop = (last) => {
      if (last.pointerId !== event.pointerId) return;
      window.removeEventListener("pointermove", follow);
      window.removeEventListener("pointerup", stop);
      window.removeEventListener("pointercancel", stop);
      map.dragging.enable();
      this.#drop(way(last));
    };
    window.addEventListener("pointermove", follow);
    window.addEventListener("pointerup", stop);
    window.addEventListener("pointercancel", stop);
  }

  #way([lat, lng], there) {
    const [east_m, north_m] = frameAt([lng, lat]).toPlane([there.lng, there.lat]);
    return { east_m, north_m };
  }

  #preview(way) {
    const shape = this.#shape;
    this.#layers.preview({ ...shape, geometry: movedBy(shape.geometry, way) });
  }

  #drop(way) {
    this.#dragging = false;
    this.#move(way);
    this.#refresh();
  }

  #move(way, joins = "") {
    const { drawing, selected } = this.#board;
    const { geometry } = this.#shape;
    const still = way.east_m === 0 && way.north_m === 0;
    if (still) return;
    drawing.change(
      selected,
      { geometry: movedBy(geometry, way) },
      `move ${this.#board.nameOf(selected)}`,
      joins,
    );
  }

  #key(event) {
    const way = ARROWS[event.key];
    if (!way) return;
    event.preventDefault();
    event.stopPropagation();
    const step_m = event.shiftKey ? COARSE_M : FINE_M;
    this.#move({ east_m: way[0] * step_m, north_m: way[1] * step_m }, "arrows");
  }
}
