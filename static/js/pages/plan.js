/**
 * The plan page: its map, and an answer that follows the wind as it is typed. Everything on
 * it is worked out by the server; without this script the form asks by its button.
 */
import { swatch } from "../map/hatch.js";
import { showMaps } from "../map/viewer.js";

const PAUSE_MS = 250;
const UNREACHED =
  "The plan below is for what was asked before: the server could not be reached, or you are signed out. Press Plan again to try once more.";

/** Make what a fresh answer needs: maps and samples of their classes. */
function dress(answer) {
  for (const sample of answer.querySelectorAll("[data-swatch]")) {
    sample.replaceChildren(swatch(sample.dataset.swatch));
  }
  showMaps(answer);
}

/** Open on paper what says more when it is pressed, and close it again afterwards. */
function openOnPaper() {
  const opened = new Set();
  window.addEventListener("beforeprint", () => {
    const appendix = document.querySelector("[data-print-all]:checked") ? ", .plan-working details:not([open])" : "";
    for (const more of document.querySelectorAll(`details[data-open-on-paper]:not([open])${appendix}`)) {
      more.open = true;
      opened.add(more);
    }
  });
  window.addEventListener("afterprint", () => {
    for (const more of opened) more.open = false;
    opened.clear();
  });
}

/**
 * Ask again whenever something in the form changes, and put the new answer in place.
 *
 * @param {HTMLFormElement} form
 * @param {HTMLElement} answer
 */
function followForm(form, answer) {
  const said = document.querySelector("[data-plan-said]");
  const say = (words, look) => {
    said.textContent = words;
    said.className = look;
  };
  let waiting = 0;
  let asking = null;

  const ask = async () => {
    asking?.abort();
    asking = new AbortController();
    const question = new URLSearchParams(new FormData(form)).toString();
    const address = `${location.pathname}?${question}`;
    answer.setAttribute("aria-busy", "true");
    try {
      const response = await fetch(address, { signal: asking.signal });
      if (response.redirected) throw new Error("signed out");
      const page = new DOMParser().parseFromString(await response.text(), "text/html");
      const fresh = page.querySelector("[data-plan-answer]");
      if (!fresh) throw new Error("no answer");
      answer.replaceChildren(...fresh.childNodes);
      // What it says and where its buttons lead belongs to the question too.
      document.querySelector("[data-plan-head]").replaceWith(page.querySelector("[data-plan-head]"));
      replaceTankFields(form, page);
      history.replaceState(null, "", address);
      dress(answer);
      say(page.querySelector("[data-plan-said]").textContent, "only-read");
    } catch (problem) {
      if (problem.name === "AbortError") return;
      say(UNREACHED, "notice notice-danger");
    }
    answer.removeAttribute("aria-busy");
  };

  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(ask, PAUSE_MS);
  });
}

/** Another mix has other products to ask about; what was typed for the same ones stays. */
function replaceTankFields(form, page) {
  const [now, fresh] = [form, page].map((where) => where.querySelector("[data-tank-fields]"));
  if (now && fresh && namesIn(now) !== namesIn(fresh)) now.replaceChildren(...fresh.childNodes);
}

function namesIn(part) {
  return [...part.querySelectorAll("[name]")].map((field) => field.name).join();
}

const answer = document.querySelector("[data-plan-answer]") ?? document;
const form = document.querySelector("[data-plan-form]");
dress(answer);
openOnPaper();
if (form) followForm(form, answer);
