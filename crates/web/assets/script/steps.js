// One touch: a form goes off or a link is followed, and the page that comes back takes this one's place. Back and Forward bring what
// stood there before and after, as it stood: what is still at hand is not asked for again, and no form is sent again.

import { ask, stop } from "./answers.js";
import { carriedOver, earlier, isAskedAnew, newest, sent } from "./earlier.js";
import { keepRead } from "./minded.js";
import { $, all, live } from "./page.js";
import { entered, putBy } from "./unentered.js";

/** Pages that were left, by their numbers. */
const kept = new Map();
/** A page weighs some hundred kilobytes; what was left before so many is asked for again, and comes as the job stands by then. */
const MOST_KEPT = 24;

/** The number of the page that is shown; along the history they rise. */
let shown = history.state?.page ?? 0;
let highest = shown;
let dress;

const OWN = ".top > :not(.tools)";
const parts = (page) => ({ title: page.title, main: $("#main", page), own: all(OWN, page) });
const read = ({ text }) => parts(new DOMParser().parseFromString(text, "text/html"));

/** Keeps what is shown, and how far it was scrolled. */
function keep() {
  kept.delete(shown);
  kept.set(shown, { ...parts(document), left: [scrollX, scrollY] });
  if (kept.size > MOST_KEPT) kept.delete(kept.keys().next().value);
}

function show({ title, main, own }) {
  document.title = title;
  $("#main").replaceWith(main);
  for (const part of all(OWN)) part.remove();
  $(".top").prepend(...own);
}

/** Shows a page that never was shown before. */
function showFresh(page) {
  newest(page.main);
  show(page);
  dress(true);
}

/** The sentence is what is read next. */
function say() {
  $("#sentence")?.focus({ preventScroll: true });
  const first = ["#earlier:not([hidden]) p", ".refused", "#beneath"].map((what) => $(what)?.textContent);
  live.textContent = first.find(Boolean) ?? "";
}

/** One step on, by a form or a link. Where the same page is only seen in another way nothing is scrolled, and `seen` has the hand stay
 *  where it was. */
function step(address, options, seen, form) {
  const { hash } = new URL(address);
  if (form) keepRead();
  putBy();
  ask(address, options, (answer) => {
    const page = read(answer);
    if (!page.main) { location.assign(answer.url); return; }
    const before = $("#main").dataset.step;
    if (answer.ok) {
      if (form?.action === address) entered(form);
      if (form) sent(form);
      // From here on places are gone to by what is kept, and not by what the browser remembers.
      history.scrollRestoration = "manual";
      keep();
      shown = ++highest;
      history.pushState({ page: shown }, "", answer.url + hash);
    }
    showFresh(page);
    if (seen) { seen(); return; }
    if (before !== page.main.dataset.step) scrollTo(0, 0);
    say();
    if (hash) document.getElementById(hash.slice(1))?.scrollIntoView();
  });
}

/** Back or forward, to the page of a number. */
function come(to) {
  stop();
  if (to === shown) return;
  putBy();
  const arrive = (page, show) => {
    keep();
    shown = to;
    show(page);
    earlier(page.main);
    scrollTo(...page.left ?? [0, 0]);
    say();
  };
  const again = kept.get(to);
  // What asks for a count or an answer asks it anew as the job stands by now, so that one simply goes on.
  const anew = again && isAskedAnew(again.main) ? again.main.dataset.again : undefined;
  if (again && !anew) { arrive(again, (page) => { show(page); dress(false); }); return; }
  ask(anew ?? location.href, {}, (answer) => {
    const page = read(answer);
    if (!page.main) { location.replace(answer.url); return; }
    if (anew) {
      history.replaceState({ page: to }, "", anew);
      page.left = again.left;
    }
    arrive(page, showFresh);
    if (anew) carriedOver(again.main, page.main);
  });
}

addEventListener("popstate", ({ state }) => {
  // A place on the page that is shown already.
  if (!state) history.replaceState({ page: shown }, "");
  else come(state.page);
});

document.addEventListener("submit", (event) => {
  const { target: form, submitter } = event;
  if (form.method !== "post" || "whole" in form.dataset) return;
  event.preventDefault();
  const fields = new URLSearchParams(new FormData(form, submitter));
  const address = submitter?.hasAttribute("formaction") ? submitter.formAction : form.action;
  const views = () => all(".lies figcaption button");
  const nth = views().indexOf(submitter);
  // What the form leads to is answered at once, and not only where it is to be found.
  const headers = { "Trundle-In-Place": "yes" };
  step(address, { method: "POST", body: fields, headers }, fields.has("turn") && (() => views()[nth]?.focus()), form);
});

document.addEventListener("click", (event) => {
  const link = event.target.closest?.("main.job a.button, main.job .spots a");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  // In a drawing an address is an object of its own.
  step(new URL(link.href.baseVal ?? link.href, location.href).href, {}, null);
});

/** `how(fresh)` is called for each page that is shown, and for the first now: fresh where it never was shown before. */
export function begin(how) {
  dress = how;
  history.replaceState({ page: shown }, "");
  newest($("#main"));
  dress(true);
}
