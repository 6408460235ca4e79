/**
 * Asks every two seconds how far a piece of work is. Without this script the page has a link
 * that does the same. When the work comes to another standing the whole page is asked again,
 * since its buttons change too.
 */
const EVERY_MS = 2000;

/** @param {HTMLElement} box  The part of the page about one piece of work. */
async function look(box) {
  const answer = await fetch(box.dataset.errand, { headers: { Accept: "text/html" } });
  if (!answer.ok) return location.reload();
  const fresh = document.createElement("template");
  fresh.innerHTML = await answer.text();
  const [before, after] = [box, fresh.content].map((part) => part.querySelector("[data-standing]"));
  if (before.dataset.standing !== after.dataset.standing) return location.reload();
  before.replaceWith(after);
  return later(box);
}

/** @param {HTMLElement} box */
function later(box) {
  // A network that is away for a moment is asked again at the next turn.
  setTimeout(() => look(box).catch(() => later(box)), EVERY_MS);
}

document.querySelectorAll("[data-errand]").forEach(later);
