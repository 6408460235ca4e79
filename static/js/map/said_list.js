/** A list of what the server said: long ones show their first lines until asked for more. */

import { element } from "./element.js";

const AT_FIRST = 6;

/** One list in its box; the box goes when there is nothing to say. */
export class SaidList {
  #box;
  #list;
  #button;
  #open = false;

  /** @param {HTMLElement} box  Holds a heading and the list. */
  constructor(box) {
    this.#box = box;
    this.#list = box.querySelector("ul");
    this.#button = element("button", { type: "button", class: "minor more-lines", hidden: true });
    this.#button.addEventListener("click", () => {
      this.#open = !this.#open;
      this.#fold();
    });
    box.append(this.#button);
  }

  /** Show these lines. Whether all are seen stays as it was. */
  show(lines) {
    this.#box.hidden = lines.length === 0;
    this.#list.replaceChildren(...lines.map((text) => element("li", {}, text)));
    this.#fold();
  }

  /** One line more is shown rather than “1 more”. Paper shows them all. */
  #fold() {
    const lines = [...this.#list.children];
    const isLong = lines.length > AT_FIRST + 1;
    const folded = isLong && !this.#open;
    lines.forEach((line, i) => line.classList.toggle("later", folded && i >= AT_FIRST));
    this.#button.hidden = !isLong;
    this.#button.setAttribute("aria-expanded", String(!folded));
    this.#button.textContent = folded ? `${lines.length - AT_FIRST} more` : "Show fewer";
  }
}
