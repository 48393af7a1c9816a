// What of a look was chosen or typed and is not entered yet: it is kept in this window while other pages are seen or other things of the
// job are entered, and stands there again. It is gone once it is entered, or anything else was told of the train.

import { $, all } from "./page.js";

const reading = () => $("#reading");
const under = (form) => `${form.getAttribute("action")} ${form.elements.held?.value ?? ""}`;

/** What was chosen or typed: the names of fields and what is in them. How surely it was seen says nothing by itself. */
function chosen(form) {
  const fields = all("input[name]", form).filter(({ type, checked }) => type === "text" || (["radio", "checkbox"].includes(type) && checked));
  const told = fields.map(({ name, value }) => [name, value]).filter(([, value]) => value !== "");
  return told.some(([name]) => !name.endsWith(".sure")) ? told : [];
}

/** Keeps what is on the page that is left. */
export function putBy() {
  const form = reading();
  if (!form) return;
  const fields = chosen(form);
  if (fields.length === 0) sessionStorage.removeItem(under(form));
  else sessionStorage.setItem(under(form), JSON.stringify({ since: form.dataset.since, fields }));
}

/** Puts on the page what was kept of it. */
export function takeUp() {
  const form = reading();
  const kept = form && JSON.parse(sessionStorage.getItem(under(form)));
  if (!kept || kept.since !== form.dataset.since) return;
  const set = (field, event, how) => { how(field); field.dispatchEvent(new Event(event, { bubbles: true })); };
  const fields = all("input[name]", form);
  for (const [name, value] of kept.fields) {
    const own = fields.find((field) => field.name === name && (field.type === "text" || field.value === value));
    if (own?.type === "text") set(own, "input", (field) => { field.value = value; });
  }
  // A picture stands for itself and not for the figure that came with it.
  for (const [name, value] of kept.fields) {
    const own = fields.find((field) => field.name === name && field.type !== "text" && field.value === value);
    if (own && !own.checked) set(own, "change", (field) => { field.checked = true; });
  }
}

/** What a form sent was entered. */
export function entered(form) {
  if (form.id === "reading") sessionStorage.removeItem(under(form));
}

addEventListener("pagehide", putBy);
