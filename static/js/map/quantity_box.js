/** A number beside its unit, for one member of a shape. */

import { joinQuantity, splitQuantity } from "../shared/show.js";
import { element, fill, setText } from "./element.js";

const LENGTHS = { us: ["ft", "in", "m"], metric: ["m", "cm", "ft"] };

/** The units a length is offered in: the person's own first. */
export function lengthUnits(units) {
  return LENGTHS[units] ?? LENGTHS.metric;
}

/** Two boxes that hold one quantity, such as "4" and "ft". */
export class QuantityBox {
  word = element("span", { class: "more-word" });
  number = element("input", { type: "text", inputmode: "decimal", class: "short", autocomplete: "off" });
  unit = element("select", {});
  box = element("span", { class: "more-box" }, this.word, this.number, this.unit);

  /** @param {(text: string) => void} changed  Hears the quantity as typed; empty when it is blank. */
  constructor(changed) {
    this.number.addEventListener("change", () => changed(this.text));
    this.unit.addEventListener("change", () => this.number.value.trim() && changed(this.text));
  }

  /** The quantity as typed. A unit typed into the number box counts before the one beside it. */
  get text() {
    const { number, unit } = splitQuantity(this.number.value);
    return joinQuantity(number, unit || this.unit.value);
  }

  /**
   * Show a quantity. A unit picked before its number stays picked.
   *
   * @param {string|undefined} text
   * @param {(string|[string, string])[]} units  Units to offer, or pairs of unit and what to call it.
   */
  show(text, units) {
    const { number, unit } = splitQuantity(text);
    const offered = units.map((one) => [one].flat());
    if (unit && !offered.some(([value]) => value === unit)) offered.push([unit]);
    this.#offer(offered);
    fill(this.number, number);
    if (unit) this.unit.value = unit;
  }

  /** Name both boxes to a reader of the screen, and the number to everybody. */
  call({ word, number, unit, blank }) {
    setText(this.word, word);
    this.number.setAttribute("aria-label", number);
    this.unit.setAttribute("aria-label", unit);
    this.number.placeholder = blank;
  }

  /** Let it be changed, or only read. */
  set editable(on) {
    this.number.disabled = !on;
    this.unit.disabled = !on;
  }

  #offer(offered) {
    const values = offered.map(([value]) => value);
    if (values.join() === [...this.unit.options].map((option) => option.value).join()) return;
    const picked = this.unit.value;
    this.unit.replaceChildren(...offered.map(([value, name = value]) => element("option", { value }, name)));
    if (values.includes(picked)) this.unit.value = picked;
  }
}
