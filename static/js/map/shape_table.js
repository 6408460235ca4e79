/** The table beside the map: every shape, and whatever needs a look. */

import { element, setText } from "./element.js";
import { ShapeRow } from "./shape_row.js";

/** The table stands beside the map, as css/pages/property.css lays it out. */
const BESIDE = window.matchMedia("(min-width: 70rem)");

/** Keeps the table in step with the drawing. */
export class ShapeTable {
  #board;
  #rows = new Map();
  #shown = null;

  /** @param {import("./board.js").Board} board */
  constructor(board) {
    this.#board = board;
    for (const event of ["figures", "faults"]) board.addEventListener(event, () => this.refresh());
    board.addEventListener("state", () => this.#showHand());
    board.addEventListener("drag", () => board.dragged && this.#row(board.dragged.id).showSize(board.dragged));
  }

  /** Show the drawing as it is now. */
  refresh() {
    const { drawing } = this.#board;
    const { faults } = this.#board;
    const table = this.#board.part("shape-table");
    const refs = new Set(drawing.shapes.map((shape) => shape.id));
    for (const [ref, row] of this.#rows) {
      if (refs.has(ref)) continue;
      row.body.remove();
      this.#rows.delete(ref);
    }
    let before = table.querySelector("thead");
    for (const shape of drawing.shapes) {
      const row = this.#row(shape.id);
      if (before.nextElementSibling !== row.body) before.after(row.body);
      before = row.body;
      row.refresh(shape, faults.filter((fault) => fault.shape === shape.id));
    }
    table.hidden = drawing.shapes.length === 0;
    this.#board.part("no-shapes").hidden = drawing.shapes.length > 0;
    setText(this.#board.part("shape-count"), String(drawing.shapes.length));
    this.#showSummary(faults);
  }

  /** Open or close the corners of a shape. */
  toggleCorners(ref) {
    const open = this.#rows.get(ref).body.querySelector(".corner-row").hidden;
    this.#rows.get(ref).openCorners(open);
    return open;
  }

  /** Put the cursor into a shape's row. */
  focus(ref, field = "name") {
    this.#rows.get(ref)?.focusOn(field);
  }

  #row(ref) {
    if (!this.#rows.has(ref)) this.#rows.set(ref, new ShapeRow(this.#board, ref));
    return this.#rows.get(ref);
  }

  #showHand() {
    const { selected } = this.#board;
    for (const [ref, row] of this.#rows) row.showHand(ref === selected);
    if (this.#shown === selected) return;
    this.#shown = selected;
    // Beside the map the row can be brought into view; below it, the map would go out of sight.
    if (BESIDE.matches) this.#rows.get(selected)?.body.scrollIntoView({ block: "nearest" });
  }

  #showSummary(faults) {
    const summary = this.#board.part("fault-summary");
    summary.hidden = faults.length === 0;
    const count = faults.length === 1 ? "One thing needs" : `${faults.length} things need`;
    setText(this.#board.part("fault-count"), faults.length > 0 ? `${count} a look before the drawing can be planned with.` : "");
    this.#board.part("fault-list").replaceChildren(...faults.map((fault) => this.#summaryLine(fault)));
  }

  #summaryLine({ shape, field, message }) {
    if (!shape) return element("li", {}, message);
    const button = element("button", { type: "button", class: "link" }, message);
    button.addEventListener("click", () => {
      this.#board.select(shape);
      this.focus(shape, field);
    });
    return element("li", {}, button);
  }
}
