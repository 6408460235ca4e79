/** Choosing what to draw: every kind under what it means for spraying. */

import { grouped, lookOf } from "../shared/kinds.js";
import { element } from "./element.js";
import { swatch } from "./hatch.js";

/**
 * Fill the list of kinds and open and close it.
 *
 * @param {import("./board.js").Board} board
 * @param {(kind: object, byKeyboard: boolean) => void} choose
 * @returns {{toggle: () => void}}
 */
export function setUpKindPicker(board, choose) {
  const list = board.part("kind-list");
  const opener = board.root.querySelector('[data-do="choose-kind"]');
  const open = (on) => {
    list.hidden = !on;
    opener.setAttribute("aria-expanded", String(on));
  };
  list.replaceChildren(...grouped(board.kinds).map((group) => section(group)));
  list.addEventListener("click", (event) => {
    const button = event.target.closest("[data-kind]");
    if (!button) return;
    open(false);
    choose(board.kind(button.dataset.kind), event.detail === 0);
  });
  list.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    open(false);
    opener.focus();
  });
  document.addEventListener("pointerdown", (event) => {
    if (!list.contains(event.target) && !opener.contains(event.target)) open(false);
  });
  board.addEventListener("state", () => open(false));
  return {
    toggle: () => {
      open(list.hidden);
      if (!list.hidden) list.querySelector("button")?.focus();
    },
  };
}

/**
 * A choice of kinds for a form, grouped the same way.
 *
 * @param {object[]} kinds
 * @returns {HTMLElement[]}  Option groups.
 */
export function kindOptions(kinds) {
  return grouped(kinds).map(({ title, kinds: members }) =>
    element(
      "optgroup",
      { label: title },
      ...members.map(({ token, name }) => element("option", { value: token }, name)),
    ),
  );
}

function section({ title, kinds }) {
  const items = kinds.map(({ token, name }) =>
    element(
      "li",
      {},
      element("button", { type: "button", class: "kind", "data-kind": token }, swatch(lookOf(token)), name),
    ),
  );
  return element("div", { class: "kind-group" }, element("h2", {}, title), element("ul", { role: "list" }, ...items));
}
