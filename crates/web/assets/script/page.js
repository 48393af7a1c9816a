// What stands on the page, found by its selectors.

export const $ = (what, within = document) => within.querySelector(what);
export const all = (what, within = document) => [...within.querySelectorAll(what)];

/** Where whoever does not look is told what came; its words for what may come lie beside it. */
export const live = $("#live");
