/** How figures are written and read on the drawing board. */

export const SQUARE_FEET_PER_M2 = 1 / 0.3048 ** 2; // 1 ft = 0.3048 m exactly
export const METRES = { ft: 0.3048, in: 0.0254, yd: 0.9144, m: 1, cm: 0.01 };

/**
 * @param {number} area_m2  Area. [m²]
 * @param {"us"|"metric"} units
 * @returns {string}  Such as "8,420 sq ft" or "782 m²".
 */
export function showArea(area_m2, units) {
  const shown = units === "us" ? area_m2 * SQUARE_FEET_PER_M2 : area_m2;
  return `${grouped(shown, shown < 100 ? 1 : 0)} ${units === "us" ? "sq ft" : "m²"}`;
}

/**
 * @param {number} length_m  Length. [m]
 * @param {"us"|"metric"} units
 * @returns {string}  Such as "42.5 ft" or "12.95 m".
 */
export function showLength(length_m, units) {
  if (units === "us") {
    const feet = length_m / METRES.ft;
    return `${grouped(feet, feet < 1000 ? 1 : 0)} ft`;
  }
  return `${grouped(length_m, length_m < 100 ? 2 : 1)} m`;
}

/**
 * A preview measure in words, always marked as one.
 *
 * @param {{area_m2?: number, length_m?: number}|null} measure  As `measureOf` gives it.
 * @param {"us"|"metric"} units
 * @returns {string}  Empty for a point.
 */
export function showMeasure(measure, units) {
  if (!measure) return "";
  if (measure.area_m2 !== undefined) return showArea(measure.area_m2, units);
  return showLength(measure.length_m, units);
}

/**
 * Take a written quantity apart, keeping what stands before the unit as it was typed.
 *
 * @param {string|undefined} text  Such as "6 ft" or "12 %".
 * @returns {{number: string, unit: string}}
 */
export function splitQuantity(text) {
  const match = /^(.*[\d\s.,])(ft|in|yd|m|cm|mm|%|deg)$/.exec((text ?? "").trim());
  if (!match) return { number: (text ?? "").trim(), unit: "" };
  return { number: match[1].trim(), unit: match[2] };
}

/** Put a quantity together; a blank number is no quantity. */
export function joinQuantity(number, unit) {
  return number.trim() === "" ? "" : `${number.trim()} ${unit}`;
}

/**
 * Read a number a person typed: "12.5", "12,5" or "1,250.5". A text that can be read
 * in two ways, such as "1,250", is not guessed at.
 *
 * @param {string} text
 * @returns {number}  NaN when it is not a number or not clear.
 */
export function readNumber(text) {
  const typed = text.trim();
  if (/^[-+]?(\d+\.?\d*|\.\d+)$/.test(typed)) return Number(typed);
  if (/^[-+]?\d{1,3}(,\d{3})+\.\d+$/.test(typed)) return Number(typed.replaceAll(",", ""));
  if (/^[-+]?\d+,\d+$/.test(typed) && !/,\d{3}$/.test(typed)) {
    return Number(typed.replace(",", "."));
  }
  return NaN;
}

function grouped(value, digits) {
  return value.toLocaleString("en-US", {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  });
}
