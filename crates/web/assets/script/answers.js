// What the page asks of the program, one thing at a time; and what is said where no answer comes.

import { $ } from "./page.js";

const told = $("#unanswered");
const { silent, late, asking } = told.dataset;
let again = null;
$("button", told).addEventListener("click", () => again());

/** What is asked for now: { late, stops }. */
let flight = null;

/** Whether an answer is waited for, and nobody was told yet that none comes. */
const isWaiting = () => flight !== null && !flight.late;

function busy(yes) {
  if (yes) document.documentElement.setAttribute("aria-busy", "true");
  else document.documentElement.removeAttribute("aria-busy");
}

/** Asks, and reads the answer to its end: { ok, url, text }, or nothing where nobody is there. `whenLate` is called once if it takes
 *  longer than anybody waits without a word; the answer may come all the same. */
export async function asked(address, options, whenLate) {
  const waits = setTimeout(whenLate, Number(told.dataset.patience));
  try {
    const answer = await fetch(address, options);
    // What a form led to says itself where it has its place.
    const { href: url } = new URL(answer.headers.get("Content-Location") ?? "", answer.url);
    return { ok: answer.ok, url, text: await answer.text() };
  } catch {
    return null;
  } finally {
    clearTimeout(waits);
  }
}

/** Says it beside what is touched next. */
function say(words) {
  const touches = $("#say .touches, .player .touches");
  // What is in its place stays there, and keeps the focus.
  if (touches && touches.previousElementSibling !== told) touches.before(told);
  if (!touches && $("#main").firstElementChild !== told) $("#main").prepend(told);
  told.hidden = false;
  $("p", told).textContent = words;
  told.scrollIntoView({ block: "nearest" });
}

function unsaid() {
  told.hidden = true;
  document.body.append(told);
}

/** Nothing is waited for any longer. */
export function stop() {
  flight?.stops.abort();
  flight = null;
  busy(false);
  unsaid();
}

/** Asks, and has the answer `arrive`. Where none comes that is said, and the same may be asked again. While one is waited for the
 *  hand is taken to have touched twice; once that was said, whatever is touched is asked instead. */
export async function ask(address, options, arrive) {
  if (isWaiting()) return;
  flight?.stops.abort();
  const own = flight = { late: false, stops: new AbortController() };
  again = () => ask(address, options, arrive);
  if (!told.hidden) say(asking);
  busy(true);
  const answer = await asked(address, { ...options, signal: own.stops.signal }, () => {
    own.late = true;
    busy(false);
    say(late);
  });
  if (flight !== own) return;
  flight = null;
  busy(false);
  if (!answer) { say(silent); return; }
  unsaid();
  arrive(answer);
}

/** The same words, for what is told elsewhere. */
export { late, silent };
