// A page that Back brought may be from before something was entered. It says so: what it advises may be done by now.

import { $ } from "./page.js";

/** How many entries each job had on the newest page of it that was seen. */
const counts = new Map();

export function newest({ dataset: { job, entries } }) {
  if (entries !== undefined) counts.set(job, entries);
}

export function earlier(main) {
  const told = $("#earlier", main);
  if (told) told.hidden = counts.get(main.dataset.job) === main.dataset.entries;
}
