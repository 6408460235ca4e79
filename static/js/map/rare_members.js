/** What is seldom told of a shape: behind a button of its row, and in a few words beside it. */

import { BY_HAND, fieldOf, MEASURED, rareWords } from "../shared/members.js";
import { element, setText } from "./element.js";
import { GrassBox } from "./grass_box.js";
import { lengthUnits, QuantityBox } from "./quantity_box.js";

/** The seldom members of one shape; what can be told depends on what the shape is for. */
export class RareMembers {
  button;
  words = element("span", { class: "rare-words" });
  row;
  #units;
  #members;
  #hand = element("input", { type: "checkbox" });
  #grasses;
  #measured = element("select", {}, ...MEASURED.map(([value, words]) => element("option", { value }, words)));

  /**
   * @param {string} ref  Id of the shape.
   * @param {{units: "us"|"metric", kinds: object[]}} board
   * @param {(properties: object, word: string) => void} changed  Hears what is new, and what to call it.
   */
  constructor(ref, { units, kinds }, changed) {
    this.#units = units;
    const known = kinds.find(({ turfgrasses }) => turfgrasses)?.turfgrasses ?? [];
    this.#grasses = new GrassBox(known, (turfgrasses) => changed({ turfgrasses }, "turfgrasses"));
    const gate = new QuantityBox((text) => changed({ gate: text }, "gate"));
    const downwind = new QuantityBox((text) => changed({ downwind_setback: text }, "downwind distance"));
    this.#hand.addEventListener("change", () => changed({ only: this.#hand.checked ? BY_HAND : "" }, "hand work"));
    this.#measured.addEventListener("change", () => changed({ measured_by: this.#measured.value }, "way of measuring"));
    const measured = element("label", { class: "measured-by" }, "Measured ", this.#measured);
    const byHand = element("label", { class: "by-hand" }, this.#hand, "By hand only");
    this.#members = {
      only: { role: "turf", input: this.#hand, ...line(`only-${ref}`, byHand, "No machine may go here.") },
      gate: { role: "turf", quantity: gate, input: gate.number, ...line(`gate-${ref}`, gate.box, "The narrowest way in.") },
      turfgrasses: {
        role: "turf",
        input: this.#grasses.input,
        ...line(`grasses-${ref}`, this.#grasses.box, "A label may allow a product on some turf only."),
      },
      downwind_setback: {
        role: "protected",
        quantity: downwind,
        input: downwind.number,
        ...line(`downwind-${ref}`, downwind.box, "Kept on the side that the wind comes from."),
      },
      measured_by: { input: this.#measured, ...line(`measured-${ref}`, measured, "From it comes the ± of an area.") },
    };
    const lines = Object.values(this.#members).map((member) => member.line);
    const id = `more-${ref}`;
    this.row = element("tr", { class: "rare-row", id, hidden: true }, element("td", { colspan: 5 }, ...lines));
    this.button = element("button", { type: "button", class: "minor", "aria-expanded": "false", "aria-controls": id }, "More");
    this.button.addEventListener("click", () => this.open(this.row.hidden));
  }

  /** Open or close it. */
  open(on) {
    this.row.hidden = !on;
    this.button.setAttribute("aria-expanded", String(on));
  }

  /** Show what is told of the shape of this name. */
  refresh(properties, { role, name }) {
    const lengths = lengthUnits(this.#units);
    const { gate, downwind_setback: downwind } = this.#members;
    for (const member of Object.values(this.#members)) member.line.hidden = ![role, undefined].includes(member.role);
    this.#grasses.show(properties.turfgrasses ?? [], name);
    this.#measured.value = properties.measured_by ?? "";
    this.#measured.setAttribute("aria-label", `How ${name} was measured`);
    this.#hand.checked = properties.only === BY_HAND;
    this.#hand.setAttribute("aria-label", `By hand only: ${name}`);
    gate.quantity.show(properties.gate, lengths);
    downwind.quantity.show(properties.downwind_setback, lengths);
    gate.quantity.call({ word: "Gate", number: `Gate to ${name}`, unit: `Unit of the gate, ${name}`, blank: "none" });
    downwind.quantity.call({
      word: "Downwind",
      number: `Downwind distance of ${name}`,
      unit: `Unit of the downwind distance, ${name}`,
      blank: "usual",
    });
    setText(this.words, rareWords(properties));
  }

  /**
   * Show the faults that are told of these members, each under its box.
   *
   * @param {{field: string, message: string}[]} faults
   * @returns {{field: string, message: string}[]}  The others.
   */
  takeFaults(faults) {
    const others = faults.filter(({ field }) => !this.boxOf(fieldOf(field)));
    for (const [field, { input, fault }] of Object.entries(this.#members)) {
      const own = faults.filter((one) => fieldOf(one.field) === field && !others.includes(one));
      setText(fault, own.map(({ message }) => message).join(" "));
      fault.hidden = own.length === 0;
      if (own.length > 0) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
    }
    if (others.length < faults.length) this.open(true);
    return others;
  }

  /** The box of a member that can be told now, or null. */
  boxOf(field) {
    const member = this.#members[field];
    return member && !member.line.hidden ? member.input : null;
  }

  /** Let it be changed, or only read. */
  set editable(on) {
    this.#hand.disabled = !on;
    this.#measured.disabled = !on;
    this.#grasses.editable = on;
    for (const { quantity } of Object.values(this.#members)) if (quantity) quantity.editable = on;
  }
}

/** A member with what it means and, beneath, what is wrong with it; both are read out with its box. */
function line(id, box, meaning) {
  const help = element("span", { class: "help", id: `${id}-help` }, meaning);
  const fault = element("p", { class: "fault", id: `${id}-fault`, hidden: true });
  const input = box.querySelector("input, select");
  input.setAttribute("aria-describedby", `${help.id} ${fault.id}`);
  return { line: element("div", { class: "rare-line" }, box, help, fault), fault };
}
