/** Saving, and the draft that keeps what is not saved. */

import { draftIn, draftNotice } from "../shared/draft.js";
import { sameShapes } from "../shared/drawing.js";
import { element, setText } from "./element.js";

const PAUSE_MS = 300;

/** Saves the drawing, keeps its draft, and says how both went. */
export class Saving {
  #board;
  #server;
  #draft;
  #number;
  #waiting = 0;
  #found = null;
  #busy = false;

  /**
   * @param {import("./board.js").Board} board
   * @param {import("./server.js").Server} server
   * @param {number} number  Version of the saved drawing the page shows.
   */
  constructor(board, server, number) {
    this.#board = board;
    this.#server = server;
    this.#number = number;
    this.#draft = draftIn(storage(), board.root.dataset.draftKey);
    board.drawing.subscribe(() => this.#changed());
    board.part("save-form").addEventListener("submit", (event) => {
      event.preventDefault();
      this.save();
    });
    this.#why.addEventListener("input", () => this.#changed());
    for (const event of ["sketch", "state"]) board.addEventListener(event, () => this.#keepSoon());
    window.addEventListener("pagehide", () => this.#keep());
    document.addEventListener("visibilitychange", () => this.#keep());
    this.#showState();
  }

  /** Offer a draft that an earlier visit left behind; true when there is one. */
  offerDraft() {
    const found = this.#draft.read();
    if (!found || (!found.sketch && sameShapes(found.collection.features, this.#board.drawing.shapes))) return false;
    this.#found = found;
    setText(this.#board.part("draft-notice"), draftNotice(found, this.#number, new Date()));
    this.#showOffer(true);
    return true;
  }

  /**
   * Go on with the draft. It is one step, so undo shows the saved drawing.
   *
   * @returns {object|null}  The sketch that was under way, if any.
   */
  continueDraft() {
    const { collection, why = "", sketch } = this.#found;
    this.#found = null;
    this.#why.value = why;
    this.#showOffer(false);
    const same = sameShapes(collection.features, this.#board.drawing.shapes);
    if (!same) this.#board.drawing.replaceAll(collection, "continue with the kept drawing");
    this.#board.say("The drawing that was not saved is back.");
    return sketch ?? null;
  }

  /** Put the draft away; it can be brought back until the page is left. */
  discardDraft() {
    const discarded = this.#found;
    this.#found = null;
    this.#draft.clear();
    this.#showOffer(false);
    const back = element("button", { type: "button", class: "minor" }, "Bring it back");
    back.addEventListener("click", () => {
      this.#found = discarded;
      this.#tell("");
      this.#board.root.querySelector('[data-do="continue-draft"]').click();
    });
    this.#tell("The drawing that was not saved is discarded.", "said", back);
  }

  /** Save the drawing as it is now. */
  async save() {
    if (this.#busy) return;
    const { drawing, faults } = this.#board;
    const crossed = faults.find((fault) => fault.local);
    if (crossed) {
      this.#tell(`Not saved. ${crossed.message}`, "failed");
      this.#board.part("fault-summary").focus();
      return;
    }
    this.#keep();
    this.#setBusy(true);
    this.#tell("Saving…");
    const sent = drawing.shapes;
    const request = { base: this.#number, why: this.#why.value.trim(), collection: drawing.collection };
    const outcome = await this.#server.post(this.#board.root.dataset.saveUrl, request);
    this.#setBusy(false);
    if (outcome.is === "done") this.#saved(sent, outcome.body);
    else this.#failed(outcome);
  }

  get #why() {
    return this.#board.part("why");
  }

  #saved(sent, body) {
    this.#number = body.number;
    this.#board.root.dataset.number = body.number;
    this.#why.value = "";
    this.#board.drawing.saved(sent, body.collection ?? { features: sent });
    this.#keep();
    if (body.measured && !this.#board.drawing.dirty) this.#board.setMeasured(body.measured);
    const notes = (body.notes ?? []).map(({ message }) => message).join(" ");
    this.#tell(`Saved as drawing ${body.number}. ${notes}`.trim(), "done");
    this.#board.root.dispatchEvent(new CustomEvent("drawing-saved", { detail: body, bubbles: true }));
  }

  #failed({ is, message, body }) {
    const extra = {
      outdated: () => link("See the newer drawing", window.location.href),
      "signed-out": () => link("Sign in again in a new tab, then save", this.#board.root.dataset.signInUrl || window.location.href),
    }[is];
    if (is === "faulty") this.#board.setFaults(body.faults);
    this.#tell(message, "failed", extra?.());
    if (is === "faulty") this.#board.part("fault-summary").focus();
  }

  #changed() {
    this.#showState();
    this.#keepSoon();
  }

  #keepSoon() {
    if (this.#waiting === 0) this.#waiting = setTimeout(() => this.#keep(), PAUSE_MS);
  }

  /** Keep or clear the draft; an offered one is left alone until it is decided on. */
  #keep() {
    clearTimeout(this.#waiting);
    this.#waiting = 0;
    if (this.#found) return;
    const { drawing, unfinished } = this.#board;
    if (!drawing.dirty && !unfinished) {
      this.#draft.clear();
      return;
    }
    const draft = {
      base: this.#number,
      at: new Date().toISOString(),
      collection: drawing.collection,
      why: this.#why.value,
      sketch: unfinished,
    };
    const kept = this.#draft.write(draft);
    this.#board.part("no-draft").hidden = kept;
  }

  #showState() {
    const { dirty } = this.#board.drawing;
    this.#board.root.classList.toggle("unsaved", dirty);
    const state = dirty ? "Not saved yet" : this.#number ? `Saved: drawing ${this.#number}` : "Nothing saved yet";
    setText(this.#board.part("save-state"), state);
    for (const button of this.#board.root.querySelectorAll("[data-saves]")) {
      button.setAttribute("aria-disabled", String(!dirty));
    }
  }

  #setBusy(busy) {
    this.#busy = busy;
    this.#board.root.classList.toggle("saving", busy);
  }

  #showOffer(on) {
    this.#board.part("draft-bar").hidden = !on;
    this.#board.part("work").inert = on;
  }

  #tell(message, how = "said", extra = null) {
    const box = this.#board.part("save-said");
    box.className = `save-said ${how}`;
    box.replaceChildren(message, ...(extra ? [" ", extra] : []));
  }
}

function link(text, href) {
  return element("a", { href, target: "_blank", rel: "noopener" }, text);
}

function storage() {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}
