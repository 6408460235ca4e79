/** Field-book paper under the drawing: it needs no picture, no tiles and no internet. */

import { gridSteps, linesBetween } from "../shared/grid.js";
import { frameAt } from "../shared/plane.js";

const CORNERS_APART_PX = 256;

/**
 * A layer of lines at round distances east and north of a place.
 *
 * @param {L.Map} map
 * @param {object} options
 * @param {[number, number]} options.origin  Latitude and longitude the lines count from. [deg]
 * @param {"us"|"metric"} options.units
 * @returns {L.GridLayer}
 */
export function paperGrid(map, { origin: [lat, lon], units }) {
  const frame = frameAt([lon, lat]);
  const Paper = L.GridLayer.extend({
    createTile(coords) {
      const sheet = document.createElement("canvas");
      const sharpness = window.devicePixelRatio || 1;
      sheet.width = CORNERS_APART_PX * sharpness;
      sheet.height = CORNERS_APART_PX * sharpness;
      const pen = sheet.getContext("2d");
      pen.scale(sharpness, sharpness);
      rule(pen, coords);
      return sheet;
    },
  });

  const rule = (pen, coords) => {
    const topLeft = coords.scaleBy(L.point(CORNERS_APART_PX, CORNERS_APART_PX));
    const toPlane = (point) => {
      const place = map.unproject(point, coords.z);
      return frame.toPlane([place.lng, place.lat]);
    };
    const toPixel = (metres) => {
      const [lng, latitude] = frame.toDegrees(metres);
      return map.project([latitude, lng], coords.z).subtract(topLeft);
    };
    const [west, north] = toPlane(topLeft);
    const [east, south] = toPlane(topLeft.add([CORNERS_APART_PX, CORNERS_APART_PX]));
    const ink = getComputedStyle(map.getContainer());
    const { fine_m, bold_m } = gridSteps((east - west) / CORNERS_APART_PX, units);
    for (const [step_m, colour] of [[fine_m, "--grid-fine"], [bold_m, "--grid-bold"]]) {
      pen.strokeStyle = ink.getPropertyValue(colour);
      pen.beginPath();
      for (const x of linesBetween(west, east, step_m)) {
        const at = Math.round(toPixel([x, north]).x) + 0.5;
        pen.moveTo(at, 0);
        pen.lineTo(at, CORNERS_APART_PX);
      }
      for (const y of linesBetween(south, north, step_m)) {
        const at = Math.round(toPixel([west, y]).y) + 0.5;
        pen.moveTo(0, at);
        pen.lineTo(CORNERS_APART_PX, at);
      }
      pen.stroke();
    }
  };
  return new Paper({ maxZoom: 24, className: "paper-grid", tileSize: CORNERS_APART_PX });
}

/**
 * What the lines mean at the map's present zoom.
 *
 * @param {L.Map} map
 * @param {"us"|"metric"} units
 * @returns {string}  Such as "Lines every 10 and 50 ft".
 */
export function gridLegend(map, units) {
  const middle = map.getSize().divideBy(2);
  const metres = map.distance(
    map.containerPointToLatLng(middle),
    map.containerPointToLatLng(middle.add([100, 0])),
  );
  return gridSteps(metres / 100, units).label;
}
