"use strict";
// Before anything is painted: paper or slate, if that was chosen.
try {
  const chosen = localStorage.getItem("slate");
  if (chosen) document.documentElement.dataset.slate = chosen;
} catch { /* a browser that keeps nothing follows the machine */ }
document.documentElement.classList.add("lively");
