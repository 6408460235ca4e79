/**
 * What a place has had: its map, on which a tap asks about the spot. Without this script the
 * turf is chosen from a list.
 */
import { swatch } from "../map/hatch.js";
import { showMaps } from "../map/viewer.js";

const DIGITS = 8;

for (const sample of document.querySelectorAll("[data-swatch]")) {
  sample.replaceChildren(swatch(sample.dataset.swatch));
}
showMaps();

const form = document.querySelector("[data-ground-form]");
if (form) {
  document.addEventListener("map-tap", ({ detail: { lat, lon } }) => {
    form.elements.lat.value = lat.toFixed(DIGITS);
    form.elements.lon.value = lon.toFixed(DIGITS);
    form.elements.lawn.value = "";
    form.requestSubmit();
  });
  // A turf that is chosen is meant, and not the spot that was tapped before.
  form.elements.lawn.addEventListener("change", () => {
    form.elements.lat.value = "";
    form.elements.lon.value = "";
  });
}
