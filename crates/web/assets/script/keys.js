// A big key for an elbow or a foot: on to what comes next.

import { $, all, live } from "./page.js";

document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
  if (![" ", "Enter", "PageDown"].includes(event.key)) return;
  // What is left to be read comes first: a page down goes on only at the end of it.
  const rest = document.documentElement.scrollHeight - window.innerHeight - window.scrollY;
  if (event.key === "PageDown" && rest > 4) return;
  const on = document.activeElement;
  const taken = event.key !== "PageDown" && on?.closest("a, button, input, select, textarea, summary");
  if (taken) return;
  const next = $("[data-next]");
  if (!next) return;
  event.preventDefault();
  if ($("#main").dataset.step === "look" && !all(".close-up").some((w) => w.dataset.state !== "unread")) {
    live.textContent = live.dataset.nothing;
    $(".loupe-hold")?.focus();
    return;
  }
  next.click();
});
