/**
 * The timer of the calibration workshop. It asks nothing of the server: a stop fills the
 * next empty box, and a start survives a reload.
 *
 * A timer that fills no boxes counts for a catch, and says when the mean time of the runs is up.
 */

import { meanOf, nextEmpty, secondsOf, tenths } from "../shared/stopwatch.js";

const form = document.querySelector("form[data-keep-typed]");
const boxesOf = (name) =>
  [...form.elements].filter((box) => new RegExp(`^${name}_\\d+$`).test(box.name ?? ""));
const valuesOf = (name) => boxesOf(name).map((box) => box.value);

function stored(key) {
  const at = Number(sessionStorage.getItem(key));
  return at > 0 ? at : null;
}

function attach(timer, position) {
  const [time, button, said] = ["time", "button", "said"].map((part) =>
    timer.querySelector(`[data-timer-${part}]`),
  );
  const key = `timer:${location.pathname}:${position}`;
  const fills = timer.dataset.timer;
  let startedAt = stored(key);
  let rang = false;

  function show() {
    const seconds = secondsOf(startedAt, Date.now());
    time.textContent = `${tenths(seconds)} s`;
    timer.classList.toggle("timer-running", startedAt !== null);
    button.textContent = startedAt === null ? "Start" : "Stop";
    if (startedAt === null) return;
    ring(seconds);
    requestAnimationFrame(show);
  }

  function ring(seconds) {
    const until = fills ? null : meanOf(valuesOf("run"));
    if (until === null || rang || seconds < until) return;
    rang = true;
    said.textContent = `Stop: ${tenths(until)} s are up.`;
    navigator.vibrate?.(400);
  }

  function stop() {
    const seconds = tenths(secondsOf(startedAt, Date.now()));
    startedAt = null;
    sessionStorage.removeItem(key);
    show();
    time.textContent = `${seconds} s`;
    if (fills) fill(seconds);
  }

  function fill(seconds) {
    const boxes = boxesOf(fills);
    const box = boxes[nextEmpty(boxes.map((each) => each.value))];
    if (!box) {
      said.textContent = `${seconds} s. Every box is filled: empty the one that is to be replaced.`;
      return;
    }
    box.value = seconds;
    box.dispatchEvent(new Event("input", { bubbles: true }));
    said.textContent = `${seconds} s written down. Empty its box to take it back.`;
  }

  button.addEventListener("click", () => {
    if (startedAt !== null) {
      stop();
      return;
    }
    startedAt = Date.now();
    rang = false;
    sessionStorage.setItem(key, String(startedAt));
    const until = fills ? null : meanOf(valuesOf("run"));
    said.textContent = until === null ? "Running." : `Catch for ${tenths(until)} s.`;
    show();
  });
  timer.hidden = false;
  show();
}

if (form) document.querySelectorAll("[data-timer]").forEach(attach);
