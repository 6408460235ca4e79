/** The corners of a shape as latitude and longitude, to be edited without the map. */

import { readLatLon } from "../shared/measures.js";
import { fewestCorners, insertCorner, moveCorner, partsOf, removeCorner, withCorners } from "../shared/outline.js";
import { element } from "./element.js";

const SHOWN_AT_FIRST = 60;

/** The list of corners under a row; it is only built while it is open. */
export class CornerList {
  box = element("div", { class: "corner-list" });
  #board;
  #ref;
  #open = false;
  #shown = SHOWN_AT_FIRST;
  #built = null;

  /**
   * @param {import("./board.js").Board} board
   * @param {string} ref  Id of the shape.
   */
  constructor(board, ref) {
    this.#board = board;
    this.#ref = ref;
  }

  /** Open or close the list. */
  open(open) {
    this.#open = open;
    this.#built = null;
    this.refresh(this.#board.drawing.shape(this.#ref));
  }

  /** Show the corners as they are now, keeping the cursor where it was. */
  refresh(shape) {
    if (!this.#open || !shape || this.#built === shape.geometry) return;
    this.#built = shape.geometry;
    const held = document.activeElement;
    const place = this.box.contains(held) ? held.dataset.place : null;
    const parts = partsOf(shape.geometry);
    this.box.replaceChildren(...parts.map((part, i) => this.#part(part, parts.length > 1 ? i + 1 : 0)));
    if (place) this.box.querySelector(`[data-place="${place}"]`)?.focus();
  }

  #part(part, number) {
    const title = element("h3", {}, number ? `Outline ${number}` : "Corners");
    const help = element("p", { class: "help" }, "Latitude, longitude in degrees.");
    const rows = part.corners.slice(0, this.#shown).map((corner, i) => this.#corner(part, corner, i));
    const list = element("ol", {}, ...rows);
    const more = part.corners.length - this.#shown;
    if (more <= 0) return element("section", {}, title, help, list);
    const button = element("button", { type: "button", class: "minor" }, `Show ${more} more`);
    button.addEventListener("click", () => {
      this.#shown = Infinity;
      this.open(true);
    });
    return element("section", {}, title, help, list, button);
  }

  #corner(part, [lon, lat], index) {
    const place = `${part.at.join("-")}:${index}`;
    const name = `Corner ${index + 1}`;
    const faultId = `corner-fault-${this.#ref}-${part.at.join("-")}-${index}`;
    const input = element("input", {
      type: "text", value: `${lat}, ${lon}`, "aria-label": `${name}, latitude and longitude`,
      autocomplete: "off", "data-place": `${place}:box`,
    });
    const fault = element("p", { class: "fault", id: faultId, hidden: true });
    input.addEventListener("change", () => this.#typed(input, fault, part, index));
    const button = (text, label, act) => {
      const made = element("button", { type: "button", class: "minor", "aria-label": `${label} ${name.toLowerCase()}`, "data-place": `${place}:${text}` }, text);
      made.addEventListener("click", act);
      return made;
    };
    const swap = (other) => () => this.#swap(part, index, other);
    const acts = element(
      "span",
      { class: "corner-acts" },
      button("Add after", "Add a corner after", () => this.#insert(part, index)),
      button("Up", "Move up", swap(index - 1)),
      button("Down", "Move down", swap(index + 1)),
      button("Remove", "Remove", () => this.#remove(part, index)),
    );
    return element("li", {}, input, acts, fault);
  }

  #typed(input, fault, part, index) {
    const { lonlat, problem } = readLatLon(input.value);
    fault.hidden = !problem;
    fault.textContent = problem ?? "";
    if (problem) {
      input.setAttribute("aria-invalid", "true");
      input.setAttribute("aria-describedby", fault.id);
      this.#board.say(`Corner ${index + 1}: ${problem}`);
      return;
    }
    input.removeAttribute("aria-invalid");
    this.#change(moveCorner(this.#geometry, part.at, index, lonlat), "move a corner");
  }

  #insert(part, index) {
    const next = part.form === "area" ? part.corners[(index + 1) % part.corners.length] : part.corners[index + 1];
    const [a, b] = [part.corners[index], next ?? part.corners[index]];
    const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    if (this.#geometry.type === "Point") {
      this.#change({ type: "MultiPoint", coordinates: [a, a] }, "put in a corner");
      return;
    }
    this.#change(insertCorner(this.#geometry, part.at, index + 1, middle), "put in a corner");
  }

  #remove(part, index) {
    const fewer = removeCorner(this.#geometry, part.at, index);
    if (fewer) this.#change(fewer, "remove a corner");
    else this.#board.say(`A shape like this needs ${fewestCorners(part.form)} corners or more. Delete the shape instead.`);
  }

  #swap(part, index, other) {
    const { corners } = part;
    if (other < 0 || other >= corners.length) return;
    const swapped = corners.with(index, corners[other]).with(other, corners[index]);
    this.#change(withCorners(this.#geometry, part.at, swapped), "reorder the corners");
    const moved = `${part.at.join("-")}:${other}:${other < index ? "Up" : "Down"}`;
    this.box.querySelector(`[data-place="${moved}"]`)?.focus();
  }

  get #geometry() {
    return this.#board.drawing.shape(this.#ref).geometry;
  }

  #change(geometry, what) {
    this.#board.drawing.change(this.#ref, { geometry }, `${what} of ${this.#board.nameOf(this.#ref)}`);
  }
}
