/** The map on paper: all of the drawing, as wide as the sheet, and back again afterwards. */

import { fitTo } from "./base_map.js";

/**
 * Fit the map to the sheet while the page is printed. Its size there is set by the print
 * rules of the page, which the map cannot see in time; so it is given here, in millimetres
 * that fit A4 and US Letter with 14 mm of margin.
 *
 * @param {L.Map} map
 * @param {object} shown
 * @param {() => object} shown.collection  Gives the drawing as it is now.
 * @param {import("./shape_layers.js").ShapeLayers} shown.shapes
 * @param {string} [shown.onPaper]  How high the map is on the sheet, as its page prints it.
 */
export function fitOnPaper(map, { collection, shapes, onPaper = "150mm" }) {
  const container = map.getContainer();
  let view = null;
  const resize = ({ width, height }) => {
    Object.assign(container.style, { width, height });
    map.invalidateSize({ animate: false, pan: false });
  };
  window.addEventListener("beforeprint", () => {
    view = { centre: map.getCenter(), zoom: map.getZoom() };
    resize({ width: "180mm", height: onPaper });
    fitTo(map, collection());
    shapes.placeNames();
  });
  window.addEventListener("afterprint", () => {
    if (!view) return;
    resize({ width: "", height: "" });
    map.setView(view.centre, view.zoom, { animate: false });
    view = null;
  });
}
