/** A stopwatch as plain data: it only knows when it was started. */

/**
 * @param {number|null} startedAt  When it was started, null when it stands. [ms]
 * @param {number} now  [ms]
 * @returns {number}  Time since the start, never below zero. [s]
 */
export function secondsOf(startedAt, now) {
  return startedAt === null ? 0 : Math.max(0, (now - startedAt) / 1000);
}

/**
 * @param {number} seconds
 * @returns {string}  To a tenth, as somebody can press a button.
 */
export function tenths(seconds) {
  return seconds.toFixed(1);
}

/**
 * @param {string[]} values  What stands in the boxes, in their order.
 * @returns {number}  The first empty box, −1 where all are filled.
 */
export function nextEmpty(values) {
  return values.findIndex((value) => value.trim() === "");
}

/**
 * @param {string[]} values  What stands in the boxes of the times.
 * @returns {number|null}  Mean of the numbers among them, null where there are none. [s]
 */
export function meanOf(values) {
  const times = values
    .filter((value) => value.trim() !== "")
    .map(Number)
    .filter((time) => Number.isFinite(time) && time > 0);
  return times.length ? times.reduce((sum, time) => sum + time, 0) / times.length : null;
}
