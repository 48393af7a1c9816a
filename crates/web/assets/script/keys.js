// A big key for an elbow or a foot: on to what comes next.

import { $, all, live } from "./page.js";

document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
  if (![" ", "Enter", "PageDown"].includes(event.key)) return;
  // What is done is entered by going on from an answer: with a page down only at its end, as that is how one reads on.
  const rest = document.documentElement.scrollHeight - window.innerHeight - window.scrollY;
  if (event.key === "PageDown" && $("#main").dataset.step === "answer" && rest > 4) return;
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
