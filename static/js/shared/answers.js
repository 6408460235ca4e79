/** What an answer of the server means for the person who draws. */

const KEPT = "Your drawing is kept on this device.";

/**
 * Sort an answer to a save or a measurement.
 *
 * @param {number} status  HTTP status; 0 when nothing came back.
 * @param {object|null} body  The JSON, or null when the answer was not JSON.
 * @param {boolean} [redirected]  Whether the request was led to another page.
 * @returns {{is: "done"|"faulty"|"outdated"|"signed-out"|"failed", message: string,
 *            body: object}}  `message` is a sentence for the person.
 */
export function outcomeOf(status, body, redirected = false) {
  const said = body?.message ? `${body.message} ` : "";
  if (status === 0) return failed("The server cannot be reached. Check the connection, then save again.");
  if (status === 200 && body && !redirected) return { is: "done", message: "", body };
  if (status === 422 && body?.faults) return { is: "faulty", message: faultyMessage(body), body };
  if (status === 409) return { is: "outdated", message: `${said || OUTDATED}${KEPT}`, body: {} };
  if (status === 401 || status === 403 || redirected) {
    return { is: "signed-out", message: `${said || SIGNED_OUT}${KEPT}`, body: {} };
  }
  if (status === 413) return failed("The drawing is too large to send in one piece.");
  return failed(`${said || `The server had a problem (${status}). `}Try again in a minute.`);
}

const OUTDATED = "Someone has saved this drawing since you opened it. ";
const SIGNED_OUT = "You are signed out. ";

function failed(problem) {
  return { is: "failed", message: `Not saved. ${problem} ${KEPT}`, body: {} };
}

function faultyMessage({ faults }) {
  const count = faults.length === 1 ? "one thing needs" : `${faults.length} things need`;
  return `Not saved: ${count} a look. ${KEPT}`;
}
