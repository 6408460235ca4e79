/**
 * The page of a property's details: where it is, from this device or from a pasted pair.
 * Without this script the numbers are typed.
 */

const PAIR = /^\s*(-?\d+(?:\.\d+)?)\s*[,;\s]\s*(-?\d+(?:\.\d+)?)\s*$/;
const DIGITS = 6;
const FEET_PER_M = 1 / 0.3048;

/** Fill latitude and longitude, and let the page keep them as typed. */
function fillPlace(form, latitude, longitude) {
  form.elements.latitude.value = latitude;
  form.elements.longitude.value = longitude;
  form.elements.latitude.dispatchEvent(new Event("input", { bubbles: true }));
}

function splitPair(form) {
  form.elements.latitude.addEventListener("change", ({ target }) => {
    const found = PAIR.exec(target.value);
    if (found) fillPlace(form, found[1], found[2]);
  });
}

function offerHere(form) {
  const here = form.querySelector("[data-here]");
  if (!here || !navigator.geolocation || !window.isSecureContext) return;
  const said = here.querySelector("[role=status]");
  here.hidden = false;
  here.querySelector("button").addEventListener("click", () => {
    said.textContent = "Looking …";
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        fillPlace(form, coords.latitude.toFixed(DIGITS), coords.longitude.toFixed(DIGITS));
        said.textContent = `Good to about ${Math.round(coords.accuracy)} m (${Math.round(coords.accuracy * FEET_PER_M)} ft).`;
      },
      () => {
        said.textContent = "This device does not say where it is. Type the two numbers.";
      },
      { enableHighAccuracy: true, timeout: 15000 },
    );
  });
}

/** A first property has no other to take its time zone from: this device has one. */
function chooseTimeZone({ elements: { time_zone: zones } }) {
  if (zones.value) return;
  const own = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if ([...zones.options].some(({ value }) => value === own)) zones.value = own;
}

const form = document.querySelector("[data-place-form]");
if (form) {
  splitPair(form);
  offerHere(form);
  chooseTimeZone(form);
}
