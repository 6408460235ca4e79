/** Shapes entered by their measures or their corner coordinates, without the map. */

import { fewestCorners, geometryOf } from "./outline.js";
import { circleCorners, frameAt, rectangleCorners } from "./plane.js";
import { METRES, readNumber } from "./show.js";

const LONGEST_M = 20000;
const NAMES = { length: "Length", width: "Width", round: "The measure" };

/**
 * Make a rectangle or circle from what was typed. Every fault is told at once.
 *
 * @param {object} typed  Texts by field: shape, length, width, across, radius, unit,
 *   bearing, from, lat, lon.
 * @param {{role: string}} kind  The kind it will be.
 * @returns {{geometry?: object, faults: {field: string, message: string}[]}}
 */
export function shapeByMeasures(typed, kind) {
  const faults = [];
  const read = {
    length: (field) => readLength(typed, field, faults),
    bearing: () => readBearing(typed.bearing ?? "", faults),
  };
  const corners = typed.shape === "circle" ? circle(typed, kind, read) : rectangle(typed, read);
  const origin = readPlace(typed.lat, typed.lon, faults);
  if (faults.length > 0) return { faults };
  return { geometry: geometryOf("area", corners.map(frameAt(origin).toDegrees)), faults };
}

function rectangle(typed, read) {
  return rectangleCorners({
    length_m: read.length("length"),
    width_m: read.length("width"),
    bearing_deg: read.bearing(),
    from: typed.from,
  });
}

function circle(typed, kind, read) {
  const across_m = read.length("round");
  const radius_m = typed.roundBy === "diameter" ? across_m / 2 : across_m;
  return circleCorners({ radius_m, mustContain: kind.role === "protected" });
}

function readLength(typed, field, faults) {
  const length_m = readNumber(typed[field] ?? "") * METRES[typed.unit];
  if (length_m > 0 && length_m <= LONGEST_M) return length_m;
  const problem = lengthProblem(typed[field]?.trim() ?? "", length_m);
  faults.push({ field, message: `${NAMES[field]}${problem} Enter what you measured, such as 42.5.` });
  return NaN;
}

function lengthProblem(text, length_m) {
  if (text === "") return " is empty.";
  if (length_m > LONGEST_M) return `: “${text}” is more than 20 km.`;
  if (/^\d{1,3},\d{3}$/.test(text)) return `: “${text}” can be read in two ways. Leave the comma out.`;
  return `: “${text}” is not a number above zero.`;
}

function readBearing(text, faults) {
  const bearing_deg = text.trim() === "" ? 0 : readNumber(text);
  if (bearing_deg >= 0 && bearing_deg <= 360) return bearing_deg;
  faults.push({
    field: "bearing",
    message: `“${text.trim()}” is not a bearing from 0 to 360 degrees. North is 0, east is 90.`,
  });
  return NaN;
}

function readPlace(lat, lon, faults) {
  const read = (field, text, most, name) => {
    const degrees = readNumber(text ?? "");
    if (Math.abs(degrees) <= most) return degrees;
    faults.push({
      field,
      message: `${name} must be a number from −${most} to ${most}. Press “Use the map centre” to fill it in.`,
    });
    return NaN;
  };
  return [read("lon", lon, 180, "Longitude"), read("lat", lat, 90, "Latitude")];
}

/**
 * Read corner coordinates pasted as one "lat, lon" a line. Every bad line is told.
 *
 * @param {string} text  The pasted lines; blank lines are passed over.
 * @param {"area"|"line"|"point"} form
 * @returns {{geometry?: object, faults: {field: string, message: string}[]}}
 */
export function shapeByCorners(text, form) {
  const faults = [];
  const corners = [];
  text.split(/\r?\n/).forEach((line, i) => {
    if (line.trim() === "") return;
    const { lonlat, problem } = readLatLon(line);
    if (problem) faults.push({ field: "corners", message: `Line ${i + 1}: ${problem}` });
    else corners.push(lonlat);
  });
  const open = form === "area" ? withoutRepeatedEnd(corners) : corners;
  if (faults.length === 0 && open.length < fewestCorners(form)) {
    const needed = { area: "An area needs three corners", line: "A line needs two corners" }[form];
    faults.push({ field: "corners", message: `${needed ?? "A point needs one corner"} or more.` });
  }
  return faults.length > 0 ? { faults } : { geometry: geometryOf(form, open), faults };
}

/**
 * Read one "lat, lon"; letters N, S, E, W may stand in for signs.
 *
 * @param {string} line
 * @returns {{lonlat?: [number, number], problem?: string}}  [deg]
 */
export function readLatLon(line) {
  const match = /^\s*([-+]?[\d.]+)°?\s*([NS]?)[\s,;]+([-+]?[\d.]+)°?\s*([EW]?)\s*$/i.exec(
    line.replaceAll("−", "-"),
  );
  if (!match) return { problem: `“${line.trim()}” is not “latitude, longitude”.` };
  const lat = Number(match[1]) * (/s/i.test(match[2]) ? -1 : 1);
  const lon = Number(match[3]) * (/w/i.test(match[4]) ? -1 : 1);
  if (!(Math.abs(lat) <= 90)) {
    return { problem: `latitude ${match[1]} is not from −90 to 90. Latitude comes first.` };
  }
  if (!(Math.abs(lon) <= 180)) return { problem: `longitude ${match[3]} is not from −180 to 180.` };
  return { lonlat: [lon, lat] };
}

function withoutRepeatedEnd(corners) {
  const repeated = corners.length > 1 && corners[0].join() === corners.at(-1).join();
  return repeated ? corners.slice(0, -1) : corners;
}
