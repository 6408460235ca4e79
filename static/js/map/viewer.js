/**
 * Maps that are only looked at: each `<div data-map-viewer="id">` shows the drawing that
 * the json_script of that id holds, in the same dress as the drawing board. A map is made
 * when it comes near the screen, so that a long list of them stays quick.
 *
 * The script holds {collection, treatable?, closed?, had?, spot?, no_spray?, picture?, tiles?,
 * centre?, zoom?, kinds?}. A map with a `spot` is asked by a tap: it tells "map-tap" with the
 * latitude and longitude.
 */

import { middleOf } from "../shared/outline.js";
import { createMap, fitTo } from "./base_map.js";
import { readJson } from "./element.js";
import { Overlays } from "./overlays.js";
import { fitOnPaper } from "./printing.js";
import { ShapeLayers } from "./shape_layers.js";

function show(container) {
  const view = readJson(container.dataset.mapViewer);
  if (!view) return;
  const { collection, kinds } = view;
  const layers = { ...view, centre: view.centre ?? startOf(collection) };
  const map = createMap(container, { units: container.dataset.units ?? "us", layers });
  map.scrollWheelZoom.disable();
  container.setAttribute("role", "region");
  if (!container.hasAttribute("aria-label")) container.setAttribute("aria-label", "Map");
  const overlays = new Overlays(map);
  overlays.showGround(view);
  if (view.spot !== undefined) {
    overlays.showSpot(view.spot);
    map.on("click", ({ latlng }) => {
      const detail = { lat: latlng.lat, lon: latlng.lng };
      container.dispatchEvent(new CustomEvent("map-tap", { bubbles: true, detail }));
    });
  }
  const shapes = new ShapeLayers(map, { kinds });
  shapes.sync(collection.features);
  fitTo(map, collection);
  fitOnPaper(map, { collection: () => collection, shapes, onPaper: "70mm" });
  map.on("resize", () => fitTo(map, collection));
}

function startOf({ features }) {
  if (features.length === 0) return [0, 0];
  return middleOf(features[0].geometry).toReversed();
}

/**
 * Make the maps under a part of the page.
 *
 * @param {ParentNode} [under]
 */
export function showMaps(under = document) {
  const waiting = new Set(under.querySelectorAll("[data-map-viewer]"));
  const make = (container) => {
    if (!waiting.delete(container)) return;
    near.unobserve(container);
    show(container);
  };
  const near = new IntersectionObserver(
    (entries) => entries.filter((entry) => entry.isIntersecting).forEach(({ target }) => make(target)),
    { rootMargin: "300px" },
  );
  for (const container of waiting) {
    container.classList.add("field-map");
    near.observe(container);
  }
  window.addEventListener("beforeprint", () => [...waiting].forEach(make));
}
