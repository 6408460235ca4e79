/** Talking to the server about a drawing. */

import { outcomeOf } from "../shared/answers.js";

/** Sends JSON with the page's token, and gets a new token after a sign-in elsewhere. */
export class Server {
  #root;
  #stale = false;

  /** @param {HTMLElement} root  Holds the token of the page. */
  constructor(root) {
    this.#root = root;
  }

  /**
   * Post JSON and sort the answer.
   *
   * @param {string} url
   * @param {object} body
   * @param {AbortSignal} [signal]
   * @returns {Promise<{is: string, message: string, body: object}>}
   */
  async post(url, body, signal) {
    if (this.#stale) await this.#renew();
    try {
      const response = await fetch(url, {
        method: "POST",
        credentials: "same-origin",
        headers: { "Content-Type": "application/json", "X-CSRFToken": this.#token.value, Accept: "application/json" },
        body: JSON.stringify(body),
        signal,
      });
      const outcome = outcomeOf(response.status, await jsonOf(response), response.redirected);
      if (outcome.is === "signed-out") this.#stale = true;
      return outcome;
    } catch (problem) {
      if (problem.name === "AbortError") throw problem;
      return outcomeOf(0, null);
    }
  }

  get #token() {
    return this.#root.querySelector('input[name="csrfmiddlewaretoken"]');
  }

  /** Signing in again changes the token: read the new one from a fresh copy of this page. */
  async #renew() {
    try {
      const page = await fetch(window.location.href, { credentials: "same-origin" });
      if (!page.ok || page.redirected) return;
      const fresh = new DOMParser().parseFromString(await page.text(), "text/html");
      const token = fresh.querySelector('input[name="csrfmiddlewaretoken"]')?.value;
      if (!token) return;
      this.#token.value = token;
      this.#stale = false;
    } catch {
      // The post that follows says what is wrong.
    }
  }
}

async function jsonOf(response) {
  if (!response.headers.get("Content-Type")?.includes("json")) return null;
  try {
    return await response.json();
  } catch {
    return null;
  }
}
