// Says why something was not done, where the page itself would say it.

import { $ } from "./page.js";

export const unrefused = () => $("#main .refused")?.remove();

export function refuse(words) {
  unrefused();
  const told = document.createElement("p");
  told.className = "refused";
  told.setAttribute("role", "alert");
  told.textContent = words;
  $("#sentence").after(told);
  told.scrollIntoView({ block: "center" });
}
