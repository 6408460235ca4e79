/** Adding a shape by its measures or its corner coordinates. */

import { newRef } from "../shared/kinds.js";
import { shapeByCorners, shapeByMeasures } from "../shared/measures.js";
import { kindOptions } from "./kind_picker.js";

const WAYS = ["rectangle", "circle", "corners"];

/**
 * Bring the form to life.
 *
 * @param {import("./board.js").Board} board
 * @param {(ref: string) => void} added  Called with the new shape's id.
 */
export function setUpMeasuresForm(board, added) {
  const form = board.part("measures-form");
  const field = (name) => form.elements.namedItem(name);
  field("kind").append(...kindOptions(board.kinds));
  field("unit").value = board.units === "us" ? "ft" : "m";
  const refresh = () => showWay(form, board.kind(field("kind").value));
  form.addEventListener("change", refresh);
  form.addEventListener("input", ({ target }) => clearFault(form, target.name));
  form.querySelector("[data-use-centre]").addEventListener("click", () => {
    const { lat, lng } = board.map.getCenter();
    field("lat").value = lat.toFixed(8);
    field("lon").value = lng.toFixed(8);
    clearFault(form, "lat");
    clearFault(form, "lon");
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const typed = Object.fromEntries(new FormData(form));
    const kind = board.kind(typed.kind);
    const { geometry, faults } = geometryFrom(typed, kind);
    showFaults(board, form, faults);
    if (!geometry) return;
    const properties = { kind: kind.token, ...(typed.name.trim() && { name: typed.name.trim() }) };
    const shape = { type: "Feature", id: newRef(kind.token), properties, geometry };
    board.drawing.add(shape, `add ${board.kind(kind.token).name.toLowerCase()}`);
    field("name").value = "";
    added(shape.id);
  });
  refresh();
}

function geometryFrom(typed, kind) {
  if (typed.shape === "corners") return shapeByCorners(typed.corners, typed.form ?? kind.geometries[0]);
  if (kind.geometries.includes("area")) return shapeByMeasures(typed, kind);
  const message = `${kind.name} cannot be an area. Choose “Corner coordinates”.`;
  return { faults: [{ field: "kind", message }] };
}

function showWay(form, kind) {
  const way = form.elements.namedItem("shape").value;
  for (const part of form.querySelectorAll("[data-way]")) {
    part.hidden = !part.dataset.way.split(" ").includes(way);
  }
  const forms = form.elements.namedItem("form");
  for (const option of forms.options) option.disabled = !kind.geometries.includes(option.value);
  if (forms.selectedOptions[0]?.disabled) forms.value = kind.geometries[0];
  if (!WAYS.includes(way)) form.elements.namedItem("shape").value = WAYS[0];
}

function showFaults(board, form, faults) {
  for (const fault of form.querySelectorAll("[data-fault-of]")) clearFault(form, fault.dataset.faultOf);
  const byField = Map.groupBy ? Map.groupBy(faults, (fault) => fault.field) : groupedBy(faults);
  for (const [name, found] of byField) {
    const place = form.querySelector(`[data-fault-of="${name}"]`);
    place.textContent = found.map((fault) => fault.message).join(" ");
    place.hidden = false;
    form.elements.namedItem(name).setAttribute("aria-invalid", "true");
    form.elements.namedItem(name).setAttribute("aria-describedby", place.id);
  }
  if (faults.length === 0) return;
  board.say(faults.length === 1 ? faults[0].message : `${faults.length} boxes need a look.`);
  form.querySelector('[aria-invalid="true"]').focus();
}

function groupedBy(faults) {
  const found = new Map();
  for (const fault of faults) found.set(fault.field, [...(found.get(fault.field) ?? []), fault]);
  return found;
}

function clearFault(form, name) {
  const place = form.querySelector(`[data-fault-of="${name}"]`);
  if (!place) return;
  place.hidden = true;
  place.textContent = "";
  const box = form.elements.namedItem(name);
  box.removeAttribute("aria-invalid");
  box.removeAttribute("aria-describedby");
}
