/** The shapes of a drawing on the map, with their names where there is room. */

import { lookOf, nameOf, roleOf } from "../shared/kinds.js";
import { labelPlaces } from "../shared/labels.js";
import { hatchOf } from "./hatch.js";

const POINT_RADIUS_PX = 9;

/** Draws shapes and keeps them in step with a drawing. */
export class ShapeLayers {
  #map;
  #kinds;
  #pick;
  #drawn = new Map();
  #names = L.layerGroup();
  #waiting = 0;

  /**
   * @param {L.Map} map
   * @param {{kinds?: object[], pick?: (ref: string) => void}} options  `pick` hears which
   *   shape was clicked or tapped.
   */
  constructor(map, { kinds = [], pick = null } = {}) {
    this.#map = map;
    this.#kinds = kinds;
    this.#pick = pick;
    this.#names.addTo(map);
    map.on("zoomend resize", () => this.#placeNamesSoon());
  }

  /** Show exactly these shapes. */
  sync(shapes) {
    const refs = new Set(shapes.map((shape) => shape.id));
    for (const [ref, { layer }] of this.#drawn) {
      if (refs.has(ref)) continue;
      layer.remove();
      this.#drawn.delete(ref);
    }
    const fresh = shapes.filter((shape) => this.#drawn.get(shape.id)?.shape !== shape);
    for (const shape of fresh) this.#draw(shape);
    if (fresh.length > 0) this.#smallOnTop();
    this.#placeNamesSoon();
  }

  /** Mark one shape as selected, or none. */
  highlight(ref) {
    for (const other of this.#drawn.keys()) {
      for (const path of this.elementsOf(other)) path.classList.toggle("selected", other === ref);
    }
  }

  /** Show a shape elsewhere while it is dragged; the drawing itself is not touched. */
  preview(shape) {
    this.#draw(shape);
  }

  /** The path elements of one shape. */
  elementsOf(ref) {
    return this.#drawn.has(ref) ? pathsOf(this.#drawn.get(ref).layer) : [];
  }

  /** Bounds of one shape, or null. */
  boundsOf(ref) {
    return this.#drawn.get(ref)?.layer.getBounds() ?? null;
  }

  #draw(shape) {
    const old = this.#drawn.get(shape.id);
    if (old?.shape === shape) return;
    const selected = this.elementsOf(shape.id)[0]?.classList.contains("selected") ?? false;
    old?.layer.remove();
    const layer = L.geoJSON(shape, this.#style(shape)).addTo(this.#map);
    if (this.#pick) layer.on("click", (event) => this.#pick(shape.id, event));
    this.#drawn.set(shape.id, { shape, layer });
    if (selected) for (const path of pathsOf(layer)) path.classList.add("selected");
  }

  /** So that a bed inside a shrubbery can still be reached. */
  #smallOnTop() {
    [...this.#drawn.values()]
      .map(({ layer }) => ({ layer, across: across(layer) }))
      .toSorted((a, b) => b.across - a.across)
      .forEach(({ layer }) => layer.bringToFront());
  }

  #style({ properties: { kind } }) {
    const look = lookOf(kind);
    const style = {
      pane: roleOf(kind),
      className: `shape shape-${look}`,
      fillColor: hatchOf(look),
      fillOpacity: 1,
      weight: 2.5,
      interactive: this.#pick !== null,
      bubblingMouseEvents: true,
    };
    return {
      ...style,
      style: () => style,
      pointToLayer: (_, place) => L.circleMarker(place, { ...style, radius: POINT_RADIUS_PX }),
    };
  }

  #placeNamesSoon() {
    cancelAnimationFrame(this.#waiting);
    this.#waiting = requestAnimationFrame(() => this.placeNames());
  }

  /** Put each name where it has room at this zoom, at once. */
  placeNames() {
    this.#names.clearLayers();
    const shapes = [...this.#drawn.values()].map(({ shape }) => shape);
    const named = shapes.map((shape) => ({ shape, text: nameOf(shape, this.#kinds) }));
    const toPixels = ([lng, lat]) => {
      const { x, y } = this.#map.latLngToLayerPoint([lat, lng]);
      return [x, y];
    };
    for (const { text, lonlat: [lng, lat] } of labelPlaces(named, toPixels)) {
      this.#names.addLayer(
        L.tooltip({ permanent: true, direction: "center", className: "shape-name", interactive: false, opacity: 1 })
          .setLatLng([lat, lng])
          .setContent(document.createTextNode(text)),
      );
    }
  }
}

/** Several points are a group within the group. */
function pathsOf(layer) {
  return layer.getLayers ? layer.getLayers().flatMap(pathsOf) : [layer.getElement()].filter(Boolean);
}

function across(layer) {
  const bounds = layer.getBounds();
  return bounds.getSouthWest().distanceTo(bounds.getNorthEast());
}
