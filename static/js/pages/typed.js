/**
 * Keeps what is typed into a form until it has been accepted, so that a reload or
 * an expired sign-in loses nothing.
 *
 * What was typed is kept in this tab alone, by person and page, never a password.
 * It is forgotten when the form was sent and another page came back.
 * A hidden field with data-goes-with-typed, such as the edition that was opened, comes back
 * with the rest: so that what others kept meanwhile is seen and not written over.
 */

const PREFIX = "typed:";
const person = document.body.dataset.person;
const keyOf = (path) => `${PREFIX}${person}:${path}`;
const SENT = "typed-sent";

/** @param {HTMLFormElement} form @returns {(HTMLInputElement|HTMLSelectElement|HTMLTextAreaElement)[]} */
function fieldsOf(form) {
  return [...form.elements].filter(
    (field) =>
      field.name &&
      (!["hidden", "password", "submit", "file"].includes(field.type) || "goesWithTyped" in field.dataset),
  );
}

function typedIn(form) {
  return fieldsOf(form).map((field) => [
    field.name,
    field.type === "checkbox" ? field.checked : field.value,
  ]);
}

function fill(form, typed) {
  const wanted = new Map(typed);
  fieldsOf(form).forEach((field) => {
    if (!wanted.has(field.name)) return;
    const known = field.type === "checkbox" ? "checked" : "value";
    if (field[known] !== wanted.get(field.name)) open(field);
    field[known] = wanted.get(field.name);
  });
}

/** Open every part of the page that a field stands in, so that what came back is seen. */
function open(field) {
  for (let part = field.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
}

function forgetSent(path) {
  const sent = sessionStorage.getItem(SENT);
  const onTheWay = path.startsWith("/account/");
  if (!sent || onTheWay || sent === path) return;
  sessionStorage.removeItem(keyOf(sent));
  sessionStorage.removeItem(SENT);
}

function say(form, words) {
  const note = document.createElement("p");
  note.className = "notice";
  note.setAttribute("role", "status");
  note.textContent = words;
  form.before(note);
}

function keep(form) {
  const path = location.pathname;
  const came = JSON.stringify(typedIn(form));
  const kept = sessionStorage.getItem(keyOf(path));
  const answered =
    form.matches("[data-answered]") ||
    form.querySelector(".errorlist") ||
    document.querySelector(".notice-danger");
  if (kept && kept !== came && !answered) {
    fill(form, JSON.parse(kept));
    say(form, "What you typed here before is back. It has not been kept yet.");
  }
  if (answered && sessionStorage.getItem(SENT) === path) sessionStorage.removeItem(SENT);
  form.addEventListener("input", () => {
    sessionStorage.setItem(keyOf(path), JSON.stringify(typedIn(form)));
  });
  form.addEventListener("submit", () => {
    sessionStorage.setItem(keyOf(path), JSON.stringify(typedIn(form)));
    sessionStorage.setItem(SENT, path);
  });
}

if (person) {
  forgetSent(location.pathname);
  document.querySelectorAll("form[data-keep-typed]").forEach(keep);
}
