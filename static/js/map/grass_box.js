/** What grows in a piece of turf, ticked in a list that opens; nothing ticked is as the property says. */

import { element, setText } from "./element.js";

/** A list of turfgrasses behind a line that says what is ticked. */
export class GrassBox {
  #grasses;
  #boxes;
  #told = element("summary");
  box;

  /**
   * @param {[string, string][]} grasses  Word and name of each.
   * @param {(words: string[]|"") => void} changed  Hears what grows there; "" where nothing is ticked.
   */
  constructor(grasses, changed) {
    this.#grasses = grasses;
    this.#boxes = grasses.map(([word]) => element("input", { type: "checkbox", value: word }));
    const ticked = () => this.#boxes.filter((box) => box.checked).map((box) => box.value);
    for (const box of this.#boxes) box.addEventListener("change", () => changed(ticked().length ? ticked() : ""));
    const lines = grasses.map(([, name], n) => element("label", { class: "by-hand" }, this.#boxes[n], name));
    this.box = element("details", { class: "grasses" }, this.#told, ...lines);
  }

  /** The first box, where a fault is told. */
  get input() {
    return this.#boxes[0];
  }

  /** Show what grows in the turf of this name. */
  show(words, name) {
    for (const box of this.#boxes) box.checked = words.includes(box.value);
    const names = this.#grasses.filter(([word]) => words.includes(word)).map(([, called]) => called);
    setText(this.#told, `Turf here: ${names.join(", ") || "as the property says"}`);
    this.#told.setAttribute("aria-label", `Turfgrasses of ${name}: ${names.join(", ") || "as the property says"}`);
  }

  /** Let it be changed, or only read. */
  set editable(on) {
    for (const box of this.#boxes) box.disabled = !on;
  }
}
