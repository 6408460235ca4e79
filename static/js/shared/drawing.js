/**
 * The drawing a person works on: its shapes, every step back and forward, and
 * whether it differs from what is saved. Shapes are GeoJSON features in degrees and
 * are never changed in place, so that a step is only a list of references.
 */

const STEPS_KEPT = 500;

/** A drawing with whole-drawing undo and redo. */
export class Drawing {
  #past = [];
  #future = [];
  #present;
  #saved;
  #listeners = new Set();
  #joining = null;

  /** @param {{features: object[]}} collection  The saved drawing it starts from. */
  constructor(collection) {
    this.#present = { shapes: collection.features, what: "" };
    this.#saved = this.#present.shapes;
  }

  /** The shapes, in drawing order. */
  get shapes() {
    return this.#present.shapes;
  }

  /** The step that undo would take back, in words; empty when there is none. */
  get undoable() {
    return this.#past.length > 0 ? this.#present.what : "";
  }

  /** The step that redo would bring again, in words; empty when there is none. */
  get redoable() {
    return this.#future.at(-1)?.what ?? "";
  }

  /** Whether anything differs from the saved drawing. */
  get dirty() {
    if (this.shapes === this.#saved) return false;
    return !sameShapes(this.shapes, this.#saved);
  }

  /** The drawing as a GeoJSON FeatureCollection, coordinates untouched. */
  get collection() {
    return { type: "FeatureCollection", features: this.shapes };
  }

  /** The shape with this id, or undefined. */
  shape(ref) {
    return this.shapes.find((shape) => shape.id === ref);
  }

  /** Call back after every step, with `{what, how}`; how is "step", "undo", "redo" or "saved". */
  subscribe(listener) {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Add a shape. */
  add(shape, what = "add a shape") {
    this.#step([...this.shapes, shape], what);
  }

  /** Take a shape out. */
  remove(ref, what = "delete a shape") {
    this.#step(
      this.shapes.filter((shape) => shape.id !== ref),
      what,
    );
  }

  /**
   * Change one shape's geometry or properties. A property of value undefined or "" goes.
   *
   * @param {string} ref  Id of the shape.
   * @param {{geometry?: object, properties?: object}} change  What is new.
   * @param {string} what  The step in words, as undo will name it.
   * @param {string} [joins]  Steps in a row with the same key count as one, until `rest`.
   */
  change(ref, change, what, joins = "") {
    const old = this.shape(ref);
    if (!old) return;
    const changed = {
      ...old,
      geometry: change.geometry ?? old.geometry,
      properties: withoutBlanks({ ...old.properties, ...change.properties }),
    };
    if (JSON.stringify(changed) === JSON.stringify(old)) return;
    this.#step(
      this.shapes.map((shape) => (shape === old ? changed : shape)),
      what,
      joins,
    );
  }

  /** Put another drawing in place of this one, as one step. */
  replaceAll(collection, what) {
    this.#step(collection.features, what);
  }

  /** End a run of joined steps. */
  rest() {
    this.#joining = null;
  }

  /** Take the last step back; returns it in words, or null. */
  undo() {
    if (this.#past.length === 0) return null;
    const { what } = this.#present;
    this.#future.push(this.#present);
    this.#present = this.#past.pop();
    return this.#tell(what, "undo");
  }

  /** Bring a step that was taken back again; returns it in words, or null. */
  redo() {
    if (this.#future.length === 0) return null;
    this.#past.push(this.#present);
    this.#present = this.#future.pop();
    return this.#tell(this.#present.what, "redo");
  }

  /**
   * Note what is saved now. If the server mended an outline and nobody has drawn on
   * since it was sent, the mended drawing comes in as one step; a tidier spelling, such
   * as "7.5 ft" for "7.50 ft", is taken over without one.
   *
   * @param {object[]} sent  The shapes as they were sent.
   * @param {{features: object[]}} stored  The drawing as the server keeps it.
   */
  saved(sent, stored) {
    const same = sameShapes(sent, stored.features);
    this.#saved = same ? sent : stored.features;
    if (!same && this.shapes === sent) this.#takeOver(sent, stored.features);
    this.rest();
    this.#tell("save", "saved");
  }

  #takeOver(sent, stored) {
    if (sameShapes(outlinesOf(sent), outlinesOf(stored))) this.#present.shapes = stored;
    else this.#step(stored, "mend the drawing on saving");
  }

  #step(shapes, what, joins = "") {
    const joined = joins !== "" && joins === this.#joining;
    if (!joined) this.#past.push(this.#present);
    if (this.#past.length > STEPS_KEPT) this.#past.shift();
    this.#present = { shapes, what };
    this.#future = [];
    this.#tell(what, "step");
    this.#joining = joins || null;
  }

  #tell(what, how) {
    this.#joining = null;
    for (const listener of this.#listeners) listener({ what, how });
    return what;
  }
}

/**
 * Whether two lists of shapes say the same, in whatever order their properties are written.
 *
 * @param {object[]} some  GeoJSON features.
 * @param {object[]} others
 * @returns {boolean}
 */
export function sameShapes(some, others) {
  if (some.length !== others.length) return false;
  return some.every((shape, i) => shape === others[i] || written(shape) === written(others[i]));
}

function written(shape) {
  return JSON.stringify(shape, sorted);
}

function sorted(_, value) {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return value;
  return Object.fromEntries(Object.keys(value).toSorted().map((key) => [key, value[key]]));
}

function outlinesOf(shapes) {
  return shapes.map(({ id, geometry }) => ({ id, geometry }));
}

function withoutBlanks(properties) {
  return Object.fromEntries(
    Object.entries(properties).filter(([, value]) => value !== undefined && value !== ""),
  );
}
