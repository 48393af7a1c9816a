// A page that Back brought may be from before something was entered. It says so: what it advises may be done by now. One that only asks
// is asked anew, and what was typed on it and not sent stays.

import { $, all } from "./page.js";

/** How many entries each job had on the newest page of it that was seen. */
const counts = new Map();

export function newest({ dataset: { job, entries } }) {
  if (entries !== undefined) counts.set(job, entries);
}

export const isEarlier = ({ dataset: { job, entries } }) => counts.get(job) !== entries;

export function earlier(main) {
  const told = $("#earlier", main);
  if (told) told.hidden = !isEarlier(main);
}

const typed = (what, within) => all(what, within).filter(({ value, defaultValue }) => value !== defaultValue);

/** Whether it asks something that can be asked anew: not while a whole sheet is being written on it. */
export const isAskedAnew = (main) => "again" in main.dataset && isEarlier(main) && typed("textarea", main).length === 0;

/** What a form of a page that is asked anew sent is typed no more: it was taken. */
export function sent(form) {
  if (!form.closest("[data-again]")) return;
  for (const field of all("input[type=text], textarea", form)) field.defaultValue = field.value;
}

/** What was typed and not sent on a page that was left is typed on the one in its place too. */
export function carriedOver(from, to) {
  const action = ({ form }) => form?.getAttribute("action");
  for (const field of typed("input[type=text]", from)) {
    const own = all("input[type=text]", to).find((one) => one.name === field.name && action(one) === action(field));
    if (!own) continue;
    own.value = field.value;
    own.dispatchEvent(new Event("input", { bubbles: true }));
  }
}
