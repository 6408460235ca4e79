/**
 * Handles of the shape whose corners are edited: drag, arrow keys and Delete on each
 * corner, and one between each two that puts a corner in.
 */

import { insertCorner, moveCorner, partsOf, removeCorner } from "../shared/outline.js";
import { frameAt } from "../shared/plane.js";

const MOST_HANDLES = 250;
const FINE_M = 0.1;
const COARSE_M = 1;
const ARROWS = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };

/** The handles on the map, kept in step with the drawing. */
export class Handles {
  corner = null;
  #board;
  #snapper;
  #layers;
  #shown = L.layerGroup();
  #dragging = false;

  /**
   * @param {import("./board.js").Board} board
   * @param {import("./snapping.js").Snapper} snapper
   * @param {import("./shape_layers.js").ShapeLayers} layers
   */
  constructor(board, snapper, layers) {
    this.#board = board;
    this.#snapper = snapper;
    this.#layers = layers;
    this.#shown.addTo(board.map);
    board.drawing.subscribe(() => this.#rebuild());
    board.addEventListener("state", () => {
      if (board.mode !== "edit") this.corner = null;
      this.#rebuild();
    });
    board.map.on("moveend zoomend", () => this.#rebuild());
  }

  /** Delete the corner in hand. */
  removeCorner() {
    if (!this.corner) return;
    const { at, index } = this.corner;
    const { drawing, selected } = this.#board;
    const fewer = removeCorner(drawing.shape(selected).geometry, at, index);
    if (!fewer) return void this.#board.say("The shape would have too few corners. Delete the shape instead.");
    const left = partsOf(fewer).find((part) => part.at.join() === at.join()).corners.length;
    this.corner = { at, index: Math.min(index, left - 1) };
    drawing.change(selected, { geometry: fewer }, `remove a corner of ${this.#board.nameOf(selected)}`);
    this.#focusCorner();
    this.#board.say(`Corner removed, ${left} left.`);
  }

  get #shape() {
    return this.#board.mode === "edit" ? this.#board.drawing.shape(this.#board.selected) : null;
  }

  #rebuild() {
    if (this.#dragging) return;
    const held = document.activeElement?.closest?.(".corner-handle") !== null;
    this.#shown.clearLayers();
    const shape = this.#shape;
    if (!shape) return;
    const view = this.#board.map.getBounds().pad(0.1);
    const near = partsOf(shape.geometry).flatMap((part) =>
      part.corners.map((corner, index) => ({ part, corner, index })),
    ).filter(({ corner: [lng, lat] }) => view.contains([lat, lng]));
    if (near.length > MOST_HANDLES) {
      this.#board.say(`${near.length} corners here. Zoom in until there are fewer than ${MOST_HANDLES} to edit them.`);
      return;
    }
    for (const { part, corner, index } of near) this.#cornerHandle(part, corner, index);
    for (const { part, index } of near) this.#middleHandle(part, index);
    if (held) this.#focusCorner();
  }

  #cornerHandle(part, [lng, lat], index) {
    const inHand = this.corner?.at.join() === part.at.join() && this.corner.index === index;
    const className = inHand ? "corner-handle in-hand" : "corner-handle";
    const marker = this.#handle([lat, lng], className, `Corner ${index + 1} of ${part.corners.length}`);
    const { geometry } = this.#shape;
    const move = (lonlat) => moveCorner(geometry, part.at, index, lonlat);
    this.#draggable(marker, { part, index, change: move, what: "move a corner" });
    const hold = () => {
      if (this.corner?.index === index && this.corner.at.join() === part.at.join()) return;
      this.corner = { at: part.at, index };
      for (const other of this.#shown.getLayers()) {
        other.getElement()?.classList.toggle("in-hand", other === marker);
      }
      this.#board.dispatchEvent(new Event("corner"));
    };
    const icon = marker.getElement();
    icon.addEventListener("focus", hold);
    marker.on("click dragstart", hold);
    icon.addEventListener("keydown", (event) => this.#cornerKey(event, part, index));
    icon.addEventListener("keyup", () => this.#board.drawing.rest());
    icon.dataset.corner = `${part.at.join()}:${index}`;
  }

  #middleHandle(part, index) {
    const next = index + 1;
    if (part.form === "point" || (part.form === "line" && next === part.corners.length)) return;
    const [a, b] = [part.corners[index], part.corners[next % part.corners.length]];
    const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    if (this.#pixelsApart(a, b) < 34) return;
    const marker = this.#handle(middle.toReversed(), "middle-handle", `Put a corner in after corner ${next}`);
    const { geometry } = this.#shape;
    const insert = (lonlat) => insertCorner(geometry, part.at, next, lonlat);
    this.#draggable(marker, { part, index: next, change: insert, what: "put in a corner" });
    const putIn = () => this.#commit(insert(middle), { part, index: next, what: "put in a corner" });
    marker.on("click", putIn);
    marker.getElement().addEventListener("keydown", (event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      event.stopPropagation();
      putIn();
    });
  }

  #handle(place, className, name) {
    const icon = L.divIcon({ className, iconSize: null });
    const marker = L.marker(place, { icon, draggable: true, keyboard: true, autoPan: true, title: name });
    this.#shown.addLayer(marker);
    marker.getElement().setAttribute("aria-label", name);
    return marker;
  }

  #draggable(marker, { part, index, change, what }) {
    let landed = null;
    const others = (other, shape) => {
      if (shape.id !== this.#board.selected) return { corners: other.corners, closed: other.form === "area" };
      const isSame = other.at.join() === part.at.join();
      return isSame ? null : { corners: other.corners, closed: other.form === "area" };
    };
    marker.on("dragstart", () => {
      this.#dragging = true;
    });
    marker.on("drag", () => {
      landed = this.#snapper.land(marker.getLatLng(), { without: others }).lonlat;
      marker.setLatLng(landed.toReversed());
      const shape = { ...this.#shape, geometry: change(landed) };
      this.#layers.preview(shape);
      this.#board.drag(shape);
    });
    marker.on("dragend", () => {
      this.#dragging = false;
      this.#snapper.hide();
      this.#board.drag(null);
      if (landed) this.#commit(change(landed), { part, index, what });
    });
  }

  #commit(geometry, { part, index, what }) {
    const { drawing, selected } = this.#board;
    this.corner = { at: part.at, index };
    drawing.change(selected, { geometry }, `${what} of ${this.#board.nameOf(selected)}`);
    this.#board.dispatchEvent(new Event("corner"));
    this.#focusCorner();
  }

  #cornerKey(event, part, index) {
    if (event.key === "Delete" || event.key === "Backspace") {
      event.preventDefault();
      event.stopPropagation();
      this.removeCorner();
    }
    const way = ARROWS[event.key];
    if (!way) return;
    event.preventDefault();
    event.stopPropagation();
    const step_m = event.shiftKey ? COARSE_M : FINE_M;
    const frame = frameAt(part.corners[index]);
    const there = frame.toDegrees(way.map((share) => share * step_m));
    const { drawing, selected } = this.#board;
    drawing.change(
      selected,
      { geometry: moveCorner(this.#shape.geometry, part.at, index, there) },
      `move a corner of ${this.#board.nameOf(selected)}`,
      `corner ${part.at.join()}:${index}`,
    );
  }

  #focusCorner() {
    if (!this.corner) return;
    const name = `${this.corner.at.join()}:${this.corner.index}`;
    this.#board.root.querySelector(`[data-corner="${name}"]`)?.focus({ preventScroll: true });
  }

  #pixelsApart([lon1, lat1], [lon2, lat2]) {
    const { map } = this.#board;
    return map.latLngToLayerPoint([lat1, lon1]).distanceTo(map.latLngToLayerPoint([lat2, lon2]));
  }
}
