/** How a shape looks while it is being drawn. */

import { lookOf } from "../shared/kinds.js";
import { crossingsOf } from "../shared/plane.js";
import { hatchOf } from "./hatch.js";

const toPlaces = (corners) => corners.map(([lng, lat]) => [lat, lng]);

/** The corners so far, the edge to the pointer, and where the outline crosses itself. */
export class SketchLayers {
  #group;

  /** @param {L.Map} map */
  constructor(map) {
    this.#group = L.layerGroup().addTo(map);
  }

  /** Take everything off the map. */
  clear() {
    this.#group.clearLayers();
  }

  /**
   * Show the sketch.
   *
   * @param {{kind: object, form: string, corners: number[][]}} sketch
   * @param {number[]|null} aim  Where the next corner would land. [deg]
   */
  show({ kind, form, corners }, aim) {
    this.clear();
    const path = aim ? [...corners, aim] : corners;
    const look = lookOf(kind.token);
    const common = { pane: "sketch", interactive: false, weight: 2.5 };
    if (form === "area" && path.length >= 3) {
      const fill = { stroke: false, fillColor: hatchOf(look), fillOpacity: 1 };
      this.#add(L.polygon(toPlaces(path), { ...common, ...fill, className: "sketch-area" }));
      const closing = [path.at(-1), path[0]];
      this.#add(L.polyline(toPlaces(closing), { ...common, className: "sketch-closing", dashArray: "2 7" }));
    }
    this.#add(L.polyline(toPlaces(path), { ...common, className: `sketch-edge sketch-${look}` }));
    corners.forEach((corner, i) => this.#corner(corner, i === 0 && corners.length >= 3));
    if (form === "area") this.#crossings(corners);
  }

  #corner([lng, lat], closes) {
    const className = closes ? "sketch-corner closes" : "sketch-corner";
    const style = { pane: "sketch", interactive: false, radius: closes ? 9 : 5, className };
    this.#add(L.circleMarker([lat, lng], style));
  }

  #crossings(corners) {
    for (const [lng, lat] of crossingsOf(corners, { closed: false })) {
      const icon = L.divIcon({ className: "fault-mark", iconSize: null, html: "!" });
      this.#add(L.marker([lat, lng], { icon, keyboard: false, interactive: false }));
    }
  }

  #add(layer) {
    this.#group.addLayer(layer);
  }
}
