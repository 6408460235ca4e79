/** Snapping on the map: where the pointer would land, and a mark that shows it. */

import { partsOf } from "../shared/outline.js";
import { snapTo } from "../shared/snap.js";

const REACH_PX = { mouse: 15, pen: 20, touch: 30 };

/** Finds neighbouring corners and edges around a place on the map. */
export class Snapper {
  #board;
  #pointer = window.matchMedia("(pointer: coarse)").matches ? "touch" : "mouse";
  #heldOff = false;
  #mark = L.circleMarker([0, 0], {
    pane: "sketch",
    radius: 11,
    className: "snap-mark",
    interactive: false,
    fill: false,
  });

  /** @param {import("./board.js").Board} board */
  constructor(board) {
    this.#board = board;
    const noted = (event) => {
      this.#pointer = event.pointerType || this.#pointer;
    };
    board.map.getContainer().addEventListener("pointerdown", noted, { capture: true });
    board.map.getContainer().addEventListener("pointermove", noted, { capture: true });
    const held = (event) => {
      this.#heldOff = event.altKey;
    };
    window.addEventListener("keydown", held);
    window.addEventListener("keyup", held);
    window.addEventListener("blur", () => {
      this.#heldOff = false;
    });
  }

  /** How near counts, by what is pointed with. [px] */
  get reach_px() {
    return REACH_PX[this.#pointer] ?? REACH_PX.mouse;
  }

  /**
   * Where a pointer at this place lands: on a neighbour if one is in reach, else just there.
   *
   * @param {L.LatLng} place
   * @param {{corners: number[][], closed: boolean}[]} [more]  Further paths to snap to. [deg]
   * @param {(part: object, shape: object) => object|null} [without]  Gives the path to use
   *   for a part of a shape, or null to pass over it.
   * @returns {{lonlat: [number, number], on: "corner"|"edge"|null}}  [deg]
   */
  land(place, { more = [], without = asPath } = {}) {
    const free = { lonlat: [place.lng, place.lat], on: null };
    if (!this.#board.snapping || this.#heldOff) return this.#marked(free);
    const { map, drawing } = this.#board;
    const pixel = map.latLngToLayerPoint(place);
    const paths = drawing.shapes.flatMap((shape) =>
      partsOf(shape.geometry).map((part) => without(part, shape)),
    );
    const toPixels = ([lng, lat]) => {
      const { x, y } = map.latLngToLayerPoint([lat, lng]);
      return [x, y];
    };
    const view = { toPixels, reach_px: this.reach_px, box: this.#boxAround(pixel) };
    const found = snapTo([pixel.x, pixel.y], [...paths.filter(Boolean), ...more], view);
    return this.#marked(found ?? free);
  }

  /** Take the mark off the map. */
  hide() {
    this.#mark.remove();
  }

  #marked(landing) {
    if (!landing.on) this.hide();
    else {
      this.#mark.setLatLng(landing.lonlat.toReversed()).addTo(this.#board.map);
      this.#mark.getElement()?.classList.toggle("on-edge", landing.on === "edge");
    }
    return landing;
  }

  #boxAround(pixel) {
    const reach = [this.reach_px, this.reach_px];
    const a = this.#board.map.layerPointToLatLng(pixel.subtract(reach));
    const b = this.#board.map.layerPointToLatLng(pixel.add(reach));
    return [a.lng, b.lat, b.lng, a.lat];
  }
}

function asPath(part) {
  return { corners: part.corners, closed: part.form === "area" };
}
