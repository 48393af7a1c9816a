// Paper or slate.

import { $ } from "./page.js";

const slate = $("#slate");
const dark = () => (document.documentElement.dataset.slate ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "slate" : "paper")) === "slate";
const name = () => { slate.textContent = dark() ? slate.dataset.paper : slate.dataset.slate; };
slate.addEventListener("click", () => {
  const chosen = dark() ? "paper" : "slate";
  document.documentElement.dataset.slate = chosen;
  try { localStorage.setItem("slate", chosen); } catch { /* until it is closed, then */ }
  name();
});
slate.hidden = false;
name();
