/**
 * Two drawings on one map. What stayed is quiet, what is gone is dashed, what is new is
 * strong, and a changed shape shows both; each says in its name which it is.
 */

import { createMap, fitTo } from "./base_map.js";
import { readJson } from "./element.js";
import { ShapeLayers } from "./shape_layers.js";

/**
 * Draw a comparison into its place on the page.
 *
 * @param {HTMLElement} container  Names the json_script that holds {collection, kinds, …}.
 * @returns {{show: (ref: string) => void}}  `show` brings a shape, in both its states, into view.
 */
export function showCompared(container) {
  const view = readJson(container.dataset.comparedMap);
  const { collection, kinds } = view;
  container.replaceChildren();
  container.setAttribute("role", "region");
  const map = createMap(container, { units: container.dataset.units ?? "us", layers: view });
  map.scrollWheelZoom.disable();
  const shapes = new ShapeLayers(map, { kinds });
  shapes.sync(collection.features);
  for (const { id, properties } of collection.features) {
    for (const path of shapes.elementsOf(id)) path.classList.add(`change-${properties.change}`);
  }
  fitTo(map, collection);
  return { show: (ref) => bringIntoView(map, shapes, statesOf(collection, ref)) };
}

function statesOf({ features }, ref) {
  return features.filter(({ properties }) => properties.ref === ref && properties.change !== "same");
}

function bringIntoView(map, shapes, states) {
  const bounds = states
    .map(({ id }) => shapes.boundsOf(id))
    .filter(Boolean)
    .reduce((all, one) => all.extend(one), L.latLngBounds([]));
  if (!bounds.isValid()) return;
  map.fitBounds(bounds.pad(0.5), { maxZoom: 21 });
  map.getContainer().scrollIntoView({ block: "nearest" });
}
