/**
 * What the parts of the drawing board share: the drawing, the map, which shape is in
 * hand and what is being done with it. Parts talk through events, never to each other:
 * `state` (mode, selection or a switch), `figures` and `faults` (from the server or found
 * here), `drag` (the shape in hand while it is pulled into another form), besides the
 * steps of the drawing itself.
 */

import { nameOf, roleOf } from "../shared/kinds.js";
import { surfaceFactor } from "../shared/members.js";
import { formOf, measureOf, selfCrossings } from "../shared/outline.js";
import { showMeasure } from "../shared/show.js";
import { setText } from "./element.js";

/** The shared state of one drawing board. */
export class Board extends EventTarget {
  mode = "idle";
  selected = null;
  snapping = true;
  measured = null;
  /** The sketch under way as {kind, form, corners}, so that the draft can keep it too. */
  unfinished = null;
  /** The shape in hand as it would be if the drag ended now, or null. */
  dragged = null;
  #measuredShapes = new Map();
  #serverFaults = [];
  #crossings = new WeakMap();

  /**
   * @param {object} parts
   * @param {HTMLElement} parts.root
   * @param {L.Map} parts.map
   * @param {import("../shared/drawing.js").Drawing} parts.drawing
   * @param {object[]} parts.kinds
   * @param {"us"|"metric"} parts.units
   */
  constructor({ root, map, drawing, kinds, units }) {
    super();
    Object.assign(this, { root, map, drawing, kinds, units });
    drawing.subscribe(({ how }) => {
      if (this.selected && !drawing.shape(this.selected)) this.select(null);
      if (how !== "saved") this.#tell("faults");
    });
  }

  /** Whether this person may change the drawing. */
  get editable() {
    return this.root.dataset.editable === "true";
  }

  /** The part of the page that carries this data attribute, such as "status". */
  part(name) {
    return this.root.querySelector(`[data-${name}]`);
  }

  /** Say something to the person, on the page and to a screen reader. */
  say(text) {
    setText(this.part("status"), text);
  }

  /** What a shape is called. */
  nameOf(ref) {
    const shape = this.drawing.shape(ref);
    return shape ? nameOf(shape, this.kinds) : "";
  }

  /**
   * How large a shape is: the server's figure while it is the ground that was measured,
   * else a preview.
   *
   * @returns {{text: string, preview: boolean}}
   */
  sizeOf(shape) {
    const told = this.measured?.shapes?.[shape.id]?.text;
    const isArea = formOf(shape.geometry) === "area";
    if (told && isArea && sameGround(shape, this.#measuredShapes.get(shape.id))) return { text: told, preview: false };
    const measure = measureOf(shape.geometry);
    if (isArea) measure.area_m2 *= surfaceFactor(shape.properties.slope);
    const text = showMeasure(measure, this.units);
    return { text, preview: text !== "" };
  }

  /** A kind by its token. */
  kind(token) {
    const known = this.kinds.find((kind) => kind.token === token);
    return known ?? { token, role: roleOf(token), name: token, geometries: ["area", "line", "point"] };
  }

  /** Take a shape in hand, or none. */
  select(ref) {
    if (ref === this.selected && this.mode !== "draw") return;
    this.selected = ref;
    this.enter(ref ? "selected" : "idle");
  }

  /** Begin to do something: "idle", "draw", "selected", "edit" or "move". */
  enter(mode) {
    this.mode = mode;
    this.root.dataset.mode = mode;
    this.drawing.rest();
    this.#tell("state");
  }

  /** Turn snapping on or off. */
  toggleSnapping() {
    this.snapping = !this.snapping;
    this.#tell("state");
  }

  /** Show a shape on its way to another form; null when the drag is over. */
  drag(shape) {
    this.dragged = shape;
    this.#tell("drag");
  }

  /** Keep the server's figures for the drawing as it is now. */
  setMeasured(measured) {
    this.measured = measured;
    this.#measuredShapes = new Map(this.drawing.shapes.map((shape) => [shape.id, shape]));
    this.#serverFaults = [];
    this.#tell("figures");
    this.#tell("faults");
  }

  /** Keep the server's faults; figures of an earlier drawing go. */
  setFaults(faults) {
    this.measured = null;
    this.#serverFaults = faults;
    this.#tell("figures");
    this.#tell("faults");
  }

  /** Everything that needs a look before the drawing can be planned with. */
  get faults() {
    const here = this.drawing.shapes.flatMap((shape) => this.#crossingFault(shape));
    const known = new Set(here.map((fault) => fault.shape));
    const told = this.#serverFaults.filter(({ shape }) => !shape || this.drawing.shape(shape));
    return [...here, ...told.filter(({ shape, at }) => !(known.has(shape) && at))];
  }

  /** Turf whose outline crosses itself: found here at once, without asking the server. */
  #crossingFault(shape) {
    if (shape.properties.kind !== "turf") return [];
    if (!this.#crossings.has(shape)) this.#crossings.set(shape, selfCrossings(shape.geometry));
    const found = this.#crossings.get(shape);
    if (found.length === 0) return [];
    const name = nameOf(shape, this.kinds);
    const message = `The outline of ${name} crosses itself at the mark. Move a corner beside the mark, or undo.`;
    return [{ shape: shape.id, field: "geometry", message, at: found[0], local: true }];
  }

  #tell(what) {
    this.dispatchEvent(new Event(what));
  }
}

/** Whether two shapes have the same area: one outline, one slope. */
function sameGround(shape, other) {
  if (!other) return false;
  if (JSON.stringify(shape.properties.slope) !== JSON.stringify(other.properties.slope)) return false;
  return shape.geometry === other.geometry || JSON.stringify(shape.geometry) === JSON.stringify(other.geometry);
}
