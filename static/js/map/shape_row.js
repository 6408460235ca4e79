/** One shape as a row of the table: everything about it can be read and changed here. */

import { lookOf } from "../shared/kinds.js";
import { formOf, partsOf } from "../shared/outline.js";
import { joinQuantity, splitQuantity } from "../shared/show.js";
import { CornerList } from "./corner_list.js";
import { element, setText } from "./element.js";
import { swatch } from "./hatch.js";
import { kindOptions } from "./kind_picker.js";

/** A row and, when asked for, the list of its corners beneath. */
export class ShapeRow {
  #board;
  #ref;
  #parts;
  #corners;
  body;

  /**
   * @param {import("./board.js").Board} board
   * @param {string} ref  Id of the shape.
   */
  constructor(board, ref) {
    this.#board = board;
    this.#ref = ref;
    this.#corners = new CornerList(board, ref);
    this.#parts = this.#build();
    const { row, cornerRow } = this.#parts;
    this.body = element("tbody", { class: "shape-entry", "data-shape": ref }, row, cornerRow);
  }

  /** Show the shape as it is now. */
  refresh(shape, faults) {
    const { kind, name = "" } = shape.properties;
    const parts = this.#parts;
    const { role } = this.#board.kind(kind);
    const called = this.#board.nameOf(this.#ref);
    this.body.classList.toggle("in-hand", this.#board.selected === this.#ref);
    parts.swatch.replaceChildren(swatch(lookOf(kind)));
    fill(parts.name, name);
    parts.name.placeholder = this.#board.kind(kind).name;
    fill(parts.kind, kind);
    this.#allowKinds(formOf(shape.geometry));
    this.#showSize(shape);
    this.#showMore(shape, role);
    for (const button of parts.buttons) {
      button.setAttribute("aria-label", `${button.textContent}: ${called}`);
    }
    parts.name.setAttribute("aria-label", `Name of ${called}`);
    parts.kind.setAttribute("aria-label", `Kind of ${called}`);
    this.#showFaults(faults);
    this.#corners.refresh(shape);
  }

  /** Open or close the list of corners. */
  openCorners(open) {
    const { cornerRow, cornersButton } = this.#parts;
    cornerRow.hidden = !open;
    cornersButton.setAttribute("aria-expanded", String(open));
    this.#corners.open(open);
  }

  /** Put the cursor where a fault is. */
  focusOn(field) {
    const { more, name, kind } = this.#parts;
    const target = { setback: more.number, slope: more.number, kind }[fieldOf(field)] ?? name;
    target.focus();
    this.body.scrollIntoView({ block: "nearest" });
  }

  #build() {
    const parts = {
      swatch: element("span", { class: "shape-swatch" }),
      name: element("input", { type: "text", class: "shape-name-box", maxlength: 80, autocomplete: "off" }),
      kind: element("select", {}, ...kindOptions(this.#board.kinds)),
      size: element("span", { class: "figure" }),
      preview: element("span", { class: "preview-word" }, "preview"),
      faults: element("ul", { class: "faults", hidden: true, id: `faults-${this.#ref}` }),
      more: this.#buildMore(),
    };
    parts.cornersButton = this.#button("Corners", "open-corners");
    parts.cornersButton.setAttribute("aria-expanded", "false");
    parts.buttons = [this.#button("Find", "find")];
    if (this.#board.editable) parts.buttons.push(parts.cornersButton, this.#button("Delete", "delete-row"));
    for (const box of [parts.name, parts.kind, parts.more.number, parts.more.unit]) {
      box.disabled = !this.#board.editable;
    }
    parts.name.addEventListener("change", () => this.#change({ name: parts.name.value.trim() }, "name"));
    parts.kind.addEventListener("change", () => this.#changeKind(parts.kind.value));
    const sizeCell = element("td", { class: "shape-size" }, parts.size, " ", parts.preview);
    const shapeCell = element("th", { scope: "row", class: "shape-what" }, parts.swatch, parts.name);
    const actions = element("td", { class: "shape-acts" }, parts.faults, ...parts.buttons);
    const kindCell = element("td", { class: "shape-kind" }, parts.kind);
    const moreCell = element("td", { class: "shape-more" }, parts.more.box);
    parts.row = element("tr", {}, shapeCell, sizeCell, kindCell, moreCell, actions);
    parts.cornerRow = element("tr", { class: "corner-row", hidden: true }, element("td", { colspan: 5 }, this.#corners.box));
    return parts;
  }

  #buildMore() {
    const word = element("span", { class: "more-word" });
    const number = element("input", { type: "text", inputmode: "decimal", class: "short", autocomplete: "off" });
    const unit = element("select", {});
    const box = element("span", { class: "more-box" }, word, number, unit);
    const changed = () => this.#changeMore(number.value, unit.value);
    number.addEventListener("change", changed);
    unit.addEventListener("change", () => number.value.trim() && changed());
    return { box, word, number, unit, field: "" };
  }

  #button(text, act) {
    return element("button", { type: "button", class: "minor", "data-do": act, "data-ref": this.#ref }, text);
  }

  /** A kind that cannot be drawn in this form is not offered. */
  #allowKinds(form) {
    for (const option of this.#parts.kind.options) {
      option.disabled = !this.#board.kind(option.value).geometries.includes(form);
    }
  }

  #showSize(shape) {
    const { size, preview } = this.#parts;
    const shown = this.#board.sizeOf(shape);
    const points = partsOf(shape.geometry).flatMap((part) => part.corners).length;
    setText(size, shown.text || (points === 1 ? "one point" : `${points} points`));
    preview.hidden = !shown.preview;
  }

  /** Turf has a slope; anything else a distance to keep. */
  #showMore(shape, role) {
    const { more } = this.#parts;
    const field = role === "turf" ? "slope" : "setback";
    const units = field === "slope" ? ["%", "deg"] : lengthUnits(this.#board.units);
    const { number, unit } = splitQuantity(shape.properties[field]);
    const offered = units.includes(unit) || !unit ? units : [...units, unit];
    if (more.field !== field || more.unit.options.length !== offered.length) {
      more.unit.replaceChildren(...offered.map((one) => element("option", { value: one }, one)));
      more.field = field;
    }
    setText(more.word, field === "slope" ? "Slope" : "Distance");
    const name = this.#board.nameOf(this.#ref);
    more.number.setAttribute("aria-label", field === "slope" ? `Slope of ${name}` : `Distance to keep from ${name}`);
    more.unit.setAttribute("aria-label", `Unit of ${field === "slope" ? "the slope" : "the distance"}, ${name}`);
    more.number.placeholder = { turf: "flat", obstacle: "none", protected: "usual" }[role];
    fill(more.number, number);
    fill(more.unit, unit || units[0]);
  }

  #showFaults(faults) {
    const { faults: list, name, kind, more } = this.#parts;
    list.hidden = faults.length === 0;
    list.replaceChildren(...faults.map(({ message }) => element("li", {}, message)));
    const faulty = new Set(faults.map(({ field }) => fieldOf(field)));
    const boxes = { name, kind, setback: more.number, slope: more.number };
    for (const box of new Set(Object.values(boxes))) {
      const wrong = Object.entries(boxes).some(([field, one]) => one === box && faulty.has(field));
      box.toggleAttribute("aria-invalid", wrong);
      if (wrong) box.setAttribute("aria-invalid", "true");
      if (wrong) box.setAttribute("aria-describedby", list.id);
      else box.removeAttribute("aria-describedby");
    }
  }

  #change(properties, word) {
    const name = this.#board.nameOf(this.#ref);
    this.#board.drawing.change(this.#ref, { properties }, `change the ${word} of ${name}`);
  }

  /** What does not belong to the new kind goes with the old one, in the same step. */
  #changeKind(kind) {
    const isTurf = this.#board.kind(kind).role === "turf";
    this.#change({ kind, ...(isTurf ? { setback: "" } : { slope: "" }) }, "kind");
  }

  #changeMore(number, unit) {
    const { field } = this.#parts.more;
    const words = { slope: "slope", setback: "distance to keep" };
    const typed = splitQuantity(number);
    this.#change({ [field]: joinQuantity(typed.number, typed.unit || unit) }, words[field]);
  }
}

/** The field of a row that a server's path speaks of. */
function fieldOf(path) {
  return ["setback", "slope", "kind", "name"].find((field) => String(path ?? "").endsWith(field)) ?? "geometry";
}

function lengthUnits(units) {
  return units === "us" ? ["ft", "m"] : ["m", "ft"];
}

/** Show a value without taking away what is being typed. */
function fill(box, value) {
  if (document.activeElement === box && box.tagName === "INPUT" && box.value !== value) {
    if (box.dataset.shown === value) return;
  }
  box.value = value;
  box.dataset.shown = value;
}
