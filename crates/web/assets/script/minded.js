// Cautions that stood open in this window when something was entered of the job were read: where nothing else is to be minded they stand
// folded from then on, a touch away. What was not read yet stands open.

import { $, all } from "./page.js";

const minded = () => $("details.mind");
const under = () => `minded ${$("#main").dataset.job}`;
const read = () => JSON.parse(sessionStorage.getItem(under()) ?? "[]");
const told = (mind) => all("li", mind).map((caution) => caution.textContent);

/** Something is entered on the page: what stands open there was read. */
export function keepRead() {
  const mind = minded();
  if (mind?.open) sessionStorage.setItem(under(), JSON.stringify([...new Set([...read(), ...told(mind)])]));
}

/** Folds on the page what was read before. */
export function foldRead() {
  const [mind, known] = [minded(), read()];
  if (mind) mind.open = !told(mind).every((caution) => known.includes(caution));
}
