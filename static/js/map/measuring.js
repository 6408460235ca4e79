/** The server's figures for the drawing as it is now, shortly after each change. */

import { element, setText } from "./element.js";
import { swatch } from "./hatch.js";

const PAUSE_MS = 400;
const TOTALS = ["turf", "obstacle", "no_spray", "treatable"];

/** Asks for figures and shows them. */
export class Measuring {
  #board;
  #server;
  #url;
  #waiting = 0;
  #asked = null;

  /**
   * @param {import("./board.js").Board} board
   * @param {import("./server.js").Server} server
   * @param {string} url
   */
  constructor(board, server, url) {
    this.#board = board;
    this.#server = server;
    this.#url = url;
    board.addEventListener("figures", () => this.#show());
    for (const figure of board.root.querySelectorAll("[data-total]")) {
      figure.previousElementSibling.prepend(swatch(figure.dataset.total.replace("_", "-")));
    }
  }

  /** Ask soon; further changes in the meantime are asked for together. */
  soon() {
    clearTimeout(this.#waiting);
    this.#asked?.abort();
    this.#board.part("totals").classList.add("behind");
    this.#waiting = setTimeout(() => this.#ask(), PAUSE_MS);
  }

  async #ask() {
    const asked = new AbortController();
    this.#asked = asked;
    const { shapes, collection } = this.#board.drawing;
    try {
      const outcome = await this.#server.post(this.#url, { collection }, asked.signal);
      if (this.#board.drawing.shapes === shapes) this.#take(outcome);
    } catch (problem) {
      if (problem.name !== "AbortError") throw problem;
    }
  }

  #take({ is, body }) {
    if (is === "done") this.#board.setMeasured(body);
    else if (is === "faulty") this.#board.setFaults(body.faults);
    else {
      this.#board.setMeasured(null);
      setText(this.#board.part("totals-note"), NO_FIGURES[is] ?? NO_FIGURES.failed);
    }
  }

  #show() {
    const { measured } = this.#board;
    const box = this.#board.part("totals");
    box.classList.toggle("behind", false);
    box.classList.toggle("unknown", !measured);
    for (const name of TOTALS) {
      setText(box.querySelector(`[data-total="${name}"]`), measured?.totals?.[name]?.text ?? "–");
    }
    setText(this.#board.part("totals-note"), measured ? "" : "No figures until the marked places are put right.");
    fillList(this.#board.part("left-out"), measured?.left_out ?? []);
    const notes = measured?.notes ?? [];
    fillList(this.#board.part("notes"), notes.map((note) => (typeof note === "string" ? { text: note } : { text: note.message })));
  }
}

const NO_FIGURES = {
  "signed-out": "You are signed out, so there are no figures. Your drawing is kept on this device.",
  failed: "The server gave no figures just now. Sizes in the table are previews.",
};

/** Fill a list and hide the box it is in when it is empty. */
function fillList(box, lines) {
  box.hidden = lines.length === 0;
  box.querySelector("ul").replaceChildren(...lines.map(({ text }) => element("li", {}, text)));
}
