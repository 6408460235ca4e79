/** One shape as a row of the table: everything about it can be read and changed here. */

import { lookOf } from "../shared/kinds.js";
import { fieldOf, strangersTo } from "../shared/members.js";
import { formOf, partsOf } from "../shared/outline.js";
import { CornerList } from "./corner_list.js";
import { element, fill, setText } from "./element.js";
import { swatch } from "./hatch.js";
import { kindOptions } from "./kind_picker.js";
import { lengthUnits, QuantityBox } from "./quantity_box.js";
import { RareMembers } from "./rare_members.js";
import { SlopeBox } from "./slope_box.js";

/** A row and, when asked for, what is seldom told and the list of its corners beneath. */
export class ShapeRow {
  #board;
  #ref;
  #parts;
  #corners;
  #distance;
  #slope;
  #rare;
  body;

  /**
   * @param {import("./board.js").Board} board
   * @param {string} ref  Id of the shape.
   */
  constructor(board, ref) {
    this.#board = board;
    this.#ref = ref;
    this.#corners = new CornerList(board, ref);
    this.#distance = new QuantityBox((setback) => this.#change({ setback }, "distance to keep"));
    this.#slope = new SlopeBox(board.units, (slope) => this.#change({ slope }, "slope"));
    this.#rare = new RareMembers(ref, board, (properties, word) => this.#change(properties, word));
    this.#parts = this.#build();
    const { row, cornerRow } = this.#parts;
    this.body = element("tbody", { class: "shape-entry", "data-shape": ref }, row, this.#rare.row, cornerRow);
  }

  /** Show the shape as it is now. */
  refresh(shape, faults) {
    const { kind, name = "" } = shape.properties;
    const parts = this.#parts;
    const { role } = this.#board.kind(kind);
    const called = this.#board.nameOf(this.#ref);
    this.showHand(this.#board.selected === this.#ref);
    parts.swatch.replaceChildren(swatch(lookOf(kind)));
    fill(parts.name, name);
    parts.name.placeholder = this.#board.kind(kind).name;
    fill(parts.kind, kind);
    this.#allowKinds(formOf(shape.geometry));
    this.showSize(shape);
    this.#showMembers(shape, role);
    for (const button of parts.buttons) {
      button.setAttribute("aria-label", `${button.textContent}: ${called}`);
    }
    parts.name.setAttribute("aria-label", `Name of ${called}`);
    parts.kind.setAttribute("aria-label", `Kind of ${called}`);
    this.#showFaults(faults);
    this.#corners.refresh(shape);
  }

  /** Mark the row as the shape in hand, or no longer. */
  showHand(on) {
    this.body.classList.toggle("in-hand", on);
    if (on) this.#parts.row.setAttribute("aria-current", "true");
    else this.#parts.row.removeAttribute("aria-current");
  }

  /** Show how large the shape is, on the way to another form too. */
  showSize(shape) {
    const { size, preview } = this.#parts;
    const shown = this.#board.sizeOf(shape);
    const points = partsOf(shape.geometry).flatMap((part) => part.corners).length;
    setText(size, shown.text || (points === 1 ? "one point" : `${points} points`));
    preview.hidden = !shown.preview;
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
    const named = fieldOf(field);
    const rare = this.#rare.boxOf(named);
    if (rare) this.#rare.open(true);
    (rare ?? this.#boxes[named]?.[0] ?? this.#parts.name).focus();
    this.body.scrollIntoView({ block: "nearest" });
  }

  /** The boxes of the row by field, the one to put right first leading. */
  get #boxes() {
    const { name, kind } = this.#parts;
    return { name: [name], kind: [kind], setback: [this.#distance.number], slope: this.#slope.boxes };
  }

  #build() {
    const parts = {
      swatch: element("span", { class: "shape-swatch" }),
      name: element("input", { type: "text", class: "shape-name-box", maxlength: 80, autocomplete: "off" }),
      kind: element("select", {}, ...kindOptions(this.#board.kinds)),
      size: element("span", { class: "figure" }),
      preview: element("span", { class: "preview-word" }, "preview"),
      faults: element("ul", { class: "faults", hidden: true, id: `faults-${this.#ref}` }),
    };
    parts.cornersButton = this.#button("Corners", "open-corners");
    parts.cornersButton.setAttribute("aria-expanded", "false");
    const { editable } = this.#board;
    parts.buttons = [this.#button("Find", "find")];
    if (editable) parts.buttons.push(parts.cornersButton, this.#button("Delete", "delete-row"));
    parts.buttons.push(this.#rare.button);
    for (const box of [parts.name, parts.kind]) box.disabled = !editable;
    for (const told of [this.#distance, this.#slope, this.#rare]) told.editable = editable;
    parts.name.addEventListener("change", () => this.#change({ name: parts.name.value.trim() }, "name"));
    parts.kind.addEventListener("change", () => this.#changeKind(parts.kind.value));
    const sizeCell = element("td", { class: "shape-size" }, parts.size, " ", parts.preview);
    const shapeCell = element("th", { scope: "row", class: "shape-what" }, parts.swatch, parts.name);
    const actions = element("td", { class: "shape-acts" }, parts.faults, ...parts.buttons, this.#rare.words);
    const kindCell = element("td", { class: "shape-kind" }, parts.kind);
    const moreCell = element("td", { class: "shape-more" }, this.#distance.box, this.#slope.box, this.#slope.lengths);
    parts.row = element("tr", {}, shapeCell, sizeCell, kindCell, moreCell, actions);
    parts.cornerRow = element("tr", { class: "corner-row", hidden: true }, element("td", { colspan: 5 }, this.#corners.box));
    return parts;
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

  /** Turf has a slope; anything else a distance to keep. */
  #showMembers({ properties }, role) {
    const isTurf = role === "turf";
    const name = this.#board.nameOf(this.#ref);
    this.#distance.box.hidden = isTurf;
    this.#slope.box.hidden = !isTurf;
    this.#distance.show(properties.setback, lengthUnits(this.#board.units));
    this.#distance.call({
      word: "Distance",
      number: `Distance to keep from ${name}`,
      unit: `Unit of the distance, ${name}`,
      blank: role === "obstacle" ? "none" : "usual",
    });
    this.#slope.refresh(properties.slope, name);
    this.#parts.row.classList.toggle("by-rise", isTurf && this.#slope.byRise);
    this.#rare.refresh(properties, { role, name });
  }

  #showFaults(faults) {
    const { faults: list } = this.#parts;
    const others = this.#rare.takeFaults(faults);
    list.hidden = others.length === 0;
    list.replaceChildren(...others.map(({ message }) => element("li", {}, message)));
    const faulty = new Set(others.map(({ field }) => fieldOf(field)));
    for (const [field, boxes] of Object.entries(this.#boxes)) {
      for (const box of boxes) markFaulty(box, faulty.has(field) && !box.closest("[hidden]"), list.id);
    }
  }

  #change(properties, word) {
    const name = this.#board.nameOf(this.#ref);
    this.#board.drawing.change(this.#ref, { properties }, `change the ${word} of ${name}`);
  }

  /** What does not belong to the new kind goes with the old one, in the same step. */
  #changeKind(kind) {
    this.#change({ kind, ...strangersTo(this.#board.kind(kind).role) }, "kind");
  }
}

function markFaulty(box, on, listId) {
  if (on) {
    box.setAttribute("aria-invalid", "true");
    box.setAttribute("aria-describedby", listId);
  } else {
    box.removeAttribute("aria-invalid");
    box.removeAttribute("aria-describedby");
  }
}
