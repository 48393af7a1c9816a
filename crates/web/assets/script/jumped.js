// Which arbor is meant (it jumped out, or carries what is asked about): touched on the drawing, or pointed at there and in the list
// alike.

import { all } from "./page.js";

const PARTS = ":is([data-step=jumped], [data-step=ask]) .lies [data-arbor]";

document.addEventListener("click", ({ target }) => {
  const part = target.closest?.(PARTS);
  if (part) all("#which button").find((button) => button.value === part.dataset.arbor)?.click();
});

document.addEventListener("pointerover", ({ target }) => {
  const part = target.closest?.(`${PARTS}, #which button`);
  const arbor = part && (part.dataset.arbor ?? part.value);
  for (const other of all(PARTS)) other.classList.toggle("pointed", other.dataset.arbor === arbor);
});
