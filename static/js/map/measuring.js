/** The server's figures for the drawing as it is now, shortly after each change. */

import { setText } from "./element.js";
import { swatch } from "./hatch.js";
import { SaidList } from "./said_list.js";

const PAUSE_MS = 400;
const TOTALS = ["turf", "obstacle", "no_spray", "treatable"];

/** Asks for figures and shows them. */
export class Measuring {
  #board;
  #server;
  #url;
  #waiting = 0;
  #asked = null;
  #leftOut;
  #notes;

  /**
   * @param {import("./board.js").Board} board
   * @param {import("./server.js").Server} server
   * @param {string} url
   */
  constructor(board, server, url) {
    this.#board = board;
    this.#server = server;
    this.#url = url;
    this.#leftOut = new SaidList(board.part("left-out"));
    this.#notes = new SaidList(board.part("notes"));
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
    this.#leftOut.show((measured?.left_out ?? []).map(({ text }) => text));
    this.#notes.show((measured?.notes ?? []).map(({ message }) => message));
  }
}

const NO_FIGURES = {
  "signed-out": "You are signed out, so there are no figures. Your drawing is kept on this device.",
  failed: "The server gave no figures just now. Sizes in the table are previews.",
};
