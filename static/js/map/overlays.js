/** What the server made of a drawing, on the map: treatable ground, no-spray zones, faults. */

import { hatchOf } from "./hatch.js";

/** Ground to treat, ground to leave, and places that need a look. */
export class Overlays {
  #map;
  #ground = L.layerGroup();
  #faults = L.layerGroup();

  /** @param {L.Map} map */
  constructor(map) {
    this.#map = map;
    this.#ground.addTo(map);
    this.#faults.addTo(map);
  }

  /**
   * Show treatable ground, the part of it that is done by hand, slopes, ground that is closed
   * or has had something, and no-spray zones; null takes them away.
   *
   * @param {{treatable?: object, hand?: object, slopes?: object[], had?: object[], closed?: object[],
   *   passes?: object[], no_spray?: object}|null} measured
   */
  showGround(measured) {
    this.#ground.clearLayers();
    const treatable = measured?.treatable;
    const shown = Boolean(treatable && (treatable.coordinates?.length ?? 1) > 0);
    this.#map.getContainer().classList.toggle("has-treatable", shown);
    if (shown) this.#ground.addLayer(L.geoJSON(treatable, styleOf("treatable")));
    for (const look of ["slopes", "had", "closed"]) {
      for (const area of measured?.[look] ?? []) this.#ground.addLayer(L.geoJSON(area, styleOf(look)));
    }
    if (measured?.hand) this.#ground.addLayer(L.geoJSON(measured.hand, styleOf("hand")));
    for (const lines of measured?.passes ?? []) {
      this.#ground.addLayer(L.geoJSON(lines, { pane: "no_spray", className: "pass-line", weight: 1.5, dashArray: "9 5", interactive: false }));
    }
    if (measured?.no_spray) {
      this.#ground.addLayer(L.geoJSON(measured.no_spray, styleOf("no-spray")));
    }
  }

  /** Mark the spot that was asked about, if one was. @param {[number, number]|null} spot */
  showSpot(spot) {
    if (spot) L.circleMarker(spot, { pane: "protected", className: "asked-spot", radius: 8, interactive: false }).addTo(this.#map);
  }

  /**
   * Mark places that need a look.
   *
   * @param {{message: string, at: [number, number]|null}[]} faults  Places as lon, lat. [deg]
   */
  showFaults(faults) {
    this.#faults.clearLayers();
    for (const { message, at } of faults) {
      if (!at) continue;
      const icon = L.divIcon({ className: "fault-mark", iconSize: null, html: "!" });
      const mark = L.marker([at[1], at[0]], { icon, keyboard: false, interactive: true, zIndexOffset: -500 });
      const words = document.createElement("span");
      words.textContent = message;
      this.#faults.addLayer(mark.bindTooltip(words, { className: "fault-tip", direction: "top", offset: [0, -30] }));
      mark.getElement()?.setAttribute("aria-hidden", "true");
    }
  }
}

function styleOf(look) {
  const style = {
    pane: look === "no-spray" ? "no_spray" : "treatable",
    className: `ground-${look}`,
    fillColor: hatchOf(look),
    fillOpacity: 1,
    weight: 2,
    dashArray: look === "no-spray" ? "7 5" : null,
    interactive: false,
  };
  return { ...style, style: () => style };
}
