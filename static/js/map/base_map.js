/** The map itself: paper, aerial picture or tiles, scale, north and the choice between them. */

import { element, setText, svgElement } from "./element.js";
import { gridLegend, paperGrid } from "./paper_grid.js";

const MOST_ZOOM = 23;
const NARROW_PX = 560;

/** Room for the buttons and the scale in the corners of the map. [px] */
const CLEAR = { paddingTopLeft: [70, 16], paddingBottomRight: [16, 36] };

/** Panes from the ground up: a bed lies on its zone, and the zone on the lawn. */
const PANES = { turf: 402, treatable: 404, no_spray: 405, obstacle: 406, protected: 408, sketch: 420 };

/**
 * Make the map.
 *
 * @param {HTMLElement} container
 * @param {object} options
 * @param {"us"|"metric"} options.units
 * @param {{picture?: object, tiles?: object[], centre?: number[], zoom?: number}} options.layers
 * @returns {L.Map}
 */
export function createMap(container, { units, layers }) {
  const still = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
  const centre = layers.centre ?? [0, 0];
  const map = L.map(container, {
    attributionControl: false,
    center: centre,
    zoom: layers.zoom ?? 19,
    maxZoom: MOST_ZOOM,
    zoomSnap: 0.25,
    wheelPxPerZoomLevel: 90,
    zoomAnimation: !still,
    fadeAnimation: false,
    inertia: !still,
    markerZoomAnimation: !still,
    bounceAtZoomLimits: false,
  });
  for (const [name, height] of Object.entries(PANES)) {
    map.createPane(name).style.zIndex = String(height);
  }
  L.control.attribution({ prefix: false }).addTo(map);
  const maxWidth = container.clientWidth < NARROW_PX ? 80 : 140;
  L.control.scale({ imperial: units === "us", metric: units !== "us", maxWidth }).addTo(map);
  namedZoomButtons(map);
  new ResizeObserver(() => map.invalidateSize({ animate: false })).observe(container);
  corner("topleft", northArrow()).addTo(map);
  addBackgrounds(map, { units, layers, centre });
  return map;
}

/**
 * Show all of a collection, or stay where the map is when there is nothing to show.
 *
 * @param {L.Map} map
 * @param {{features: object[]}} collection
 */
export function fitTo(map, collection) {
  if (collection.features.length === 0) return;
  const { x, y } = map.getSize();
  if (x === 0 || y === 0) {
    map.once("resize", () => fitTo(map, collection));
    return;
  }
  const bounds = L.geoJSON(collection).getBounds();
  if (bounds.isValid()) map.fitBounds(bounds.pad(0.02), { ...CLEAR, maxZoom: 21, animate: false });
}

/**
 * Put a piece of the page into a corner of the map.
 *
 * @param {string} position  A corner by Leaflet's name, such as "topright".
 * @param {HTMLElement} content
 * @returns {L.Control}
 */
export function corner(position, content) {
  const control = L.control({ position });
  control.onAdd = () => {
    L.DomEvent.disableClickPropagation(content);
    L.DomEvent.disableScrollPropagation(content);
    return content;
  };
  return control;
}

function namedZoomButtons(map) {
  const container = map.zoomControl.getContainer();
  container.setAttribute("role", "group");
  container.setAttribute("aria-label", "Zoom");
}

function northArrow() {
  const arrow = svgElement(
    "svg",
    { viewBox: "0 0 24 36", width: 24, height: 36, role: "img", "aria-label": "North is up" },
    svgElement("path", { class: "north-needle", d: "M12 1 18 17 12 13.5 6 17Z" }),
    svgElement("path", { class: "north-letter", d: "M8 34V23L16 34V23" }),
  );
  return element("div", { class: "north-arrow" }, arrow);
}

function addBackgrounds(map, { units, layers, centre }) {
  const choices = backgrounds(map, { units, layers, centre });
  const container = map.getContainer();
  const legend = element("p", { class: "grid-legend" });
  const name = `background-${L.Util.stamp(map)}`;
  const fade = element("button", { type: "button", class: "fade", "aria-pressed": "false" }, "Fade");
  let shown = null;

  const show = (choice) => {
    shown?.layer.remove();
    shown = choice;
    choice.layer.addTo(map);
    container.classList.toggle("on-picture", choice.pictured);
    fade.hidden = !choice.pictured;
    legend.hidden = choice.pictured;
    tellLegend();
  };
  const tellLegend = () => setText(legend, shown.pictured ? "" : gridLegend(map, units));
  fade.addEventListener("click", () => {
    const faded = container.classList.toggle("faded");
    fade.setAttribute("aria-pressed", String(faded));
  });
  map.on("zoomend viewreset resize", tellLegend);
  corner("bottomleft", legend).addTo(map);
  corner(container.clientWidth < NARROW_PX ? "bottomright" : "topright", chooser(choices, { name, show, fade, container })).addTo(map);
  map.whenReady(() => show(choices.find((choice) => choice.first) ?? choices[0]));
}

function backgrounds(map, { units, layers: { picture, tiles = [] }, centre }) {
  const found = [{ name: "Plain grid", layer: paperGrid(map, { origin: centre, units }), pictured: false }];
  if (picture?.url) {
    const options = { attribution: plainText(picture.credit), alt: "", className: "aerial-picture" };
    const layer = L.imageOverlay(picture.url, picture.bounds, { pane: "tilePane", ...options });
    found.push({ name: picture.name || "Aerial picture", layer, pictured: true, first: true });
  }
  for (const tile of tiles) {
    const options = { maxZoom: MOST_ZOOM, maxNativeZoom: tile.max_native_zoom ?? 19 };
    const layer = L.tileLayer(tile.url, { ...options, attribution: plainText(tile.credit) });
    found.push({ name: tile.name, layer, pictured: true });
  }
  return found;
}

/** Leaflet puts credits into the page as markup; ours are only ever text. */
function plainText(text) {
  return element("span", {}, text ?? "").innerHTML;
}

function chooser(choices, { name, show, fade, container }) {
  const options = choices.map((choice, i) => {
    const first = choice.first || (i === 0 && !choices.some((other) => other.first));
    const radio = element("input", { type: "radio", name, value: i, checked: first });
    radio.addEventListener("change", () => show(choice));
    return element("label", {}, radio, choice.name);
  });
  const legend = element("legend", {}, "Background");
  const ground = element("input", { type: "checkbox", checked: true });
  ground.addEventListener("change", () => container.classList.toggle("without-ground", !ground.checked));
  const groundLabel = element("label", {}, ground, "Treatable and no-spray ground");
  const list = element("fieldset", { class: "background-list" }, legend, ...options, fade, groundLabel);
  const summary = element("summary", {}, "Background");
  return element("details", { class: "background-chooser" }, summary, list);
}
