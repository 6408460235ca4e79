/** The history of a property: both drawings on one map. The table says the same without it. */

import { showCompared } from "../map/compared.js";

const container = document.querySelector("[data-compared-map]");
if (container) {
  const compared = showCompared(container);
  for (const button of document.querySelectorAll("[data-show-shape]")) {
    button.hidden = false;
    button.addEventListener("click", () => compared.show(button.dataset.showShape));
  }
}
