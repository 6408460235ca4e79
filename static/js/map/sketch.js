/**
 * Drawing a new shape corner by corner: by clicks and taps, or with a crosshair in the
 * middle of the map under which the ground is moved.
 */

import { newRef } from "../shared/kinds.js";
import { fewestCorners, geometryOf } from "../shared/outline.js";
import { crossingsOf } from "../shared/plane.js";
import { sketchWords } from "../shared/sketch_words.js";
import { SketchLayers } from "./sketch_layers.js";

const SAME_PLACE_PX = 3;

/** The shape being drawn. */
export class Sketch {
  kind = null;
  form = "area";
  corners = [];
  crosshair = window.matchMedia("(pointer: coarse)").matches;
  #aside = [];
  #dropped = null;
  #board;
  #snapper;
  #layers;
  #aim = null;

  /**
   * @param {import("./board.js").Board} board
   * @param {import("./snapping.js").Snapper} snapper
   */
  constructor(board, snapper) {
    this.#board = board;
    this.#snapper = snapper;
    this.#layers = new SketchLayers(board.map);
    const { map } = board;
    map.on("mousemove", ({ latlng }) => this.#drawing && !this.crosshair && this.#point(latlng));
    map.on("move zoomend", () => this.#drawing && this.crosshair && this.#point(map.getCenter()));
    map.on("click", ({ latlng }) => this.#drawing && this.#clicked(latlng));
    map.on("dblclick", () => this.#drawing && !this.crosshair && this.finish());
  }

  #sayHow() {
    const how = this.crosshair
      ? "move the map until the crosshair is over a corner, then drop it."
      : "click or tap each corner in turn.";
    this.#board.say(`${this.kind.name}: ${how}`);
  }

  get #drawing() {
    return this.#board.mode === "draw";
  }

  /** Begin a shape of a kind. */
  start(kind, form) {
    this.#begin(kind, kind.geometries.includes(form) ? form : kind.geometries[0], []);
    this.#sayHow();
  }

  /** Draw an area, a line or a point instead, keeping the corners. */
  as(form) {
    this.form = form;
    if (form === "point") this.corners = [];
    this.#refresh();
  }

  /** Switch the crosshair on or off. */
  toggleCrosshair() {
    this.crosshair = !this.crosshair;
    this.#aim = null;
    this.#refresh();
    if (this.crosshair) this.#point(this.#board.map.getCenter());
    this.#sayHow();
  }

  /** Drop a corner where the crosshair is. */
  dropAtCentre() {
    this.#drop(this.#board.map.getCenter());
  }

  /** Take the last corner back. */
  removeLast() {
    const corner = this.corners.at(-1);
    if (!corner) return this.#board.say("There is no corner to remove.");
    this.#aside.push(corner);
    this.corners = this.corners.slice(0, -1);
    this.#refresh();
    return this.#board.say(`Corner removed. ${this.words().count}.`);
  }

  /** Bring back a corner that was taken back. */
  putBack() {
    const corner = this.#aside.pop();
    if (!corner) return;
    this.corners = [...this.corners, corner];
    this.#refresh();
  }

  /** Make the shape part of the drawing, if it can be one. */
  finish() {
    const problem = this.#problem();
    if (problem) return this.#board.say(problem);
    const { drawing } = this.#board;
    const shape = {
      type: "Feature",
      id: newRef(this.kind.token),
      properties: { kind: this.kind.token },
      geometry: geometryOf(this.form, this.corners),
    };
    const { kind } = this;
    this.#end();
    this.#board.enter("idle");
    drawing.add(shape, `add ${kind.name.toLowerCase()}`);
    this.#board.select(shape.id);
    return this.#board.say(`${kind.name} added. Give it a name in the table if you like.`);
  }

  /** Stop drawing. Undo brings the sketch back. */
  cancel() {
    this.#dropped = this.corners.length > 0 ? [this.kind, this.form, this.corners] : null;
    this.#end();
    this.#board.enter("idle");
    this.#board.say(this.#dropped ? "Sketch put away. Undo brings it back." : "Nothing drawn.");
  }

  /** Bring back the sketch that was put away, if there is one. */
  resume() {
    if (!this.#dropped) return false;
    this.#begin(...this.#dropped);
    this.#board.say(`Sketch is back. ${this.words().count}.`);
    return true;
  }

  /** Go on with a sketch that a draft kept. */
  restore({ kind, form, corners }) {
    this.#begin(this.#board.kind(kind), form, corners);
    this.#board.say(`Your sketch is back. ${this.words().count}.`);
  }

  /** Whether a sketch was put away that undo would bring back. */
  get putAway() {
    return this.#dropped !== null;
  }

  /** Forget the sketch that was put away, because the drawing went on. */
  forget() {
    this.#dropped = null;
  }

  /** The sketch in words: title, count, last edge and area, marked as a preview. */
  words() {
    return sketchWords(this, this.#aim, this.#board.units);
  }

  #begin(kind, form, corners) {
    Object.assign(this, { kind, form, corners });
    this.#aside = [];
    this.#aim = null;
    this.#dropped = null;
    this.#board.selected = null;
    this.#board.map.doubleClickZoom.disable();
    this.#board.enter("draw");
    this.#refresh();
    if (this.crosshair) this.#point(this.#board.map.getCenter());
  }

  #end() {
    this.corners = [];
    this.#board.unfinished = null;
    this.#aim = null;
    this.#snapper.hide();
    this.#layers.clear();
    this.#board.map.doubleClickZoom.enable();
  }

  #point(place) {
    this.#aim = this.#land(place).lonlat;
    this.#refresh();
  }

  #clicked(place) {
    if (this.crosshair) this.#board.map.panTo(place);
    else this.#drop(place);
  }

  #drop(place) {
    const { lonlat } = this.#land(place);
    if (this.#closes(lonlat)) return this.finish();
    if (this.#isAgain(lonlat)) return this.#board.say("There is a corner here already.");
    this.corners = [...this.corners, lonlat];
    this.#aside = [];
    this.#aim = null;
    this.#refresh();
    if (this.form === "point") return this.finish();
    return this.#board.say(this.#crossed() ? CROSSED : this.words().spoken);
  }

  #land(place) {
    const own = this.corners.length >= 3 ? [{ corners: [this.corners[0]], closed: false }] : [];
    const first = own.length > 0 && this.form === "area" && this.#near(place, this.corners[0]);
    if (first) return { lonlat: this.corners[0], on: "corner" };
    return this.#snapper.land(place, { more: own });
  }

  #closes(lonlat) {
    return this.form === "area" && this.corners.length >= 3 && lonlat === this.corners[0];
  }

  #isAgain(lonlat) {
    const last = this.corners.at(-1);
    return last !== undefined && this.#pixelsApart(lonlat, last) <= SAME_PLACE_PX;
  }

  #near(place, lonlat) {
    return this.#pixelsApart([place.lng, place.lat], lonlat) <= this.#snapper.reach_px;
  }

  #pixelsApart([lon1, lat1], [lon2, lat2]) {
    const { map } = this.#board;
    return map.latLngToLayerPoint([lat1, lon1]).distanceTo(map.latLngToLayerPoint([lat2, lon2]));
  }

  #crossed() {
    return this.form === "area" && crossingsOf(this.corners, { closed: false }).length > 0;
  }

  #problem() {
    const fewest = fewestCorners(this.form);
    if (this.corners.length < fewest) {
      const what = { area: "An area needs three corners", line: "A line needs two corners" };
      return `${what[this.form] ?? "A point needs a place"}. ${this.words().count} so far.`;
    }
    const crossed = this.form === "area" && crossingsOf(this.corners).length > 0;
    return crossed ? CROSSED : "";
  }

  #refresh() {
    if (!this.#drawing) return;
    const { kind, form, corners } = this;
    this.#board.unfinished = corners.length > 0 ? { kind: kind.token, form, corners } : null;
    this.#layers.show(this, this.#aim);
    this.#board.dispatchEvent(new Event("sketch"));
  }
}

const CROSSED =
  "The outline crosses itself at the mark. Remove the last corner, or go on and put it right before you finish.";
