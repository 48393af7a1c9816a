// Counting: what is typed stands on the wheel that is asked for as soon as it is typed; on keys shown, on a keyboard, or in the field.

import { $, live } from "./page.js";

/** A count has at most so many figures. */
const MOST = 4;

const field = () => $(".describing #count");

/** The count as it is typed so far. */
function typed(text) {
  const count = field();
  count.value = text.slice(0, MOST);
  shown();
}

/** Puts it on the drawing. */
function shown() {
  const figure = $("#asked-figure");
  if (figure) figure.textContent = field().value || "?";
  live.textContent = field().value;
}

function key(digit) {
  const count = field();
  // What stood there before is typed over by the first figure.
  const before = count.dataset.fresh === undefined ? "" : count.value;
  count.dataset.fresh = "no";
  typed(digit === "back" ? count.value.slice(0, -1) : before + digit);
}

document.addEventListener("click", (event) => {
  const button = event.target.closest?.("[data-digit]");
  if (button && field()) { key(button.dataset.digit); return; }
  // What was typed is not lost by going elsewhere: it is entered first.
  const spot = event.target.closest?.("[data-step=count] .spots a");
  if (!spot || !field()?.dataset.fresh || field().value === "" || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  const form = field().form;
  form.elements.then.value = new URL(spot.href.baseVal, location.href).searchParams.get("at");
  form.requestSubmit($("[data-next]", form));
}, true);

document.addEventListener("input", ({ target }) => {
  if (target !== field()) return;
  target.dataset.fresh = "no";
  shown();
});

document.addEventListener("keydown", (event) => {
  if (!field() || event.ctrlKey || event.altKey || event.metaKey) return;
  const on = event.target;
  if (on.closest?.("input:not([type=radio]), select, textarea, summary")) return;
  if (/^[0-9]$/.test(event.key)) key(event.key);
  else if (event.key === "Backspace") key("back");
  // On a figure's key Enter would type that figure again.
  else if (event.key === "Enter" && on.closest?.("[data-digit]")) $("[data-next]").click();
  else return;
  event.preventDefault();
}, true);
