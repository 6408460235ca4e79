/** The slope of turf: in percent, in degrees, or as the rise and run that were measured. */

import { riseOverRun } from "../shared/members.js";
import { element } from "./element.js";
import { lengthUnits, QuantityBox } from "./quantity_box.js";

const RISE = "rise";
const WAYS = ["%", "deg", [RISE, "rise over run"]];

/** The slope in the row, and two lengths beneath it when it is told by them. */
export class SlopeBox {
  #units;
  #changed;
  #plain = new QuantityBox(() => this.#tell());
  #rise = new QuantityBox(() => this.#tell());
  #run = new QuantityBox(() => this.#tell());
  box = this.#plain.box;
  lengths = element("span", { class: "rise-run", hidden: true }, this.#rise.box, this.#run.box);

  /**
   * @param {"us"|"metric"} units
   * @param {(slope: string|{rise: string, run: string}) => void} changed
   */
  constructor(units, changed) {
    this.#units = units;
    this.#changed = changed;
    // A number in percent is no rise: with another way of telling, the boxes begin empty.
    this.#plain.unit.addEventListener("change", () => {
      this.#show(this.byRise);
      this.#tell();
    });
  }

  /** Whether it is told by its rise and run. */
  get byRise() {
    return this.#plain.unit.value === RISE;
  }

  /** Show the slope of the shape of this name. */
  refresh(slope, name) {
    const lengths = typeof slope === "object" ? slope : null;
    this.#plain.show(lengths ? "" : slope, WAYS);
    if (lengths) this.#plain.unit.value = RISE;
    const offered = lengthUnits(this.#units);
    this.#rise.show(lengths?.rise, offered);
    this.#run.show(lengths?.run, offered);
    this.#show(this.byRise);
    this.#plain.call({ word: "Slope", number: `Slope of ${name}`, unit: `Unit of the slope, ${name}`, blank: "flat" });
    this.#rise.call({ word: "Rise", number: `Rise of ${name}`, unit: `Unit of the rise, ${name}`, blank: "up" });
    this.#run.call({ word: "Run", number: `Run of ${name}`, unit: `Unit of the run, ${name}`, blank: "level" });
  }

  /** The number boxes; one in use without a number leads, then the others in use. */
  get boxes() {
    const numbers = [this.#plain, this.#rise, this.#run].map(({ number }) => number);
    return numbers.toSorted((a, b) => turn(a) - turn(b));
  }

  /** Let it be changed, or only read. */
  set editable(on) {
    for (const box of [this.#plain, this.#rise, this.#run]) box.editable = on;
  }

  #show(byRise) {
    this.#plain.number.hidden = byRise;
    this.lengths.hidden = !byRise;
  }

  #tell() {
    this.#changed(this.byRise ? riseOverRun(this.#rise.text, this.#run.text) : this.#plain.text);
  }
}

function turn(box) {
  if (box.closest("[hidden]")) return 2;
  return box.value === "" ? 0 : 1;
}
