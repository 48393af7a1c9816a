// The sound, played at any place of its strip.

import { $, all } from "./page.js";
import { clamped, heardAt, inDrawing, minutes, onStrip } from "./places.js";

const strip = $("#strip");
const played = $("#played");

/** The last moment at which there is still something to play, before the end: in seconds. */
const BEFORE_THE_END = 0.05;

function placed() {
  const rows = all(".row", strip).map(({ dataset }) => Object.fromEntries(Object.entries(dataset).map(([name, value]) => [name, Number(value)])));
  const here = $(".now", strip);
  const seconds = Number(strip.dataset.seconds);
  const svg = $("svg", strip);
  strip.setAttribute("aria-description", strip.getAttribute("aria-label"));
  strip.setAttribute("aria-label", strip.dataset.name);
  strip.setAttribute("role", "slider");
  strip.setAttribute("aria-valuemin", "0");
  strip.setAttribute("aria-valuemax", strip.dataset.seconds);
  strip.tabIndex = 0;

  const show = () => {
    const at = Math.min(played.currentTime, seconds);
    const [row, x] = onStrip(rows, at);
    here.setAttribute("x1", x);
    here.setAttribute("x2", x);
    here.setAttribute("y1", row.top + 1);
    here.setAttribute("y2", row.top + row.high - 1);
    strip.setAttribute("aria-valuenow", at.toFixed(1));
    strip.setAttribute("aria-valuetext", strip.dataset.place.replace("{at}", minutes(at)));
  };
  const go = (at) => {
    played.currentTime = clamped(at, 0, seconds - BEFORE_THE_END);
    strip.classList.add("placed");
    show();
  };
  svg.addEventListener("click", ({ clientX, clientY }) => {
    go(heardAt(rows, inDrawing([clientX, clientY], svg.getBoundingClientRect(), svg.viewBox.baseVal)));
    played.play();
  });
  strip.addEventListener("keydown", (event) => {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    if (event.key === " " || event.key === "Enter") {
      if (played.paused) played.play(); else played.pause();
    } else if (event.key === "Home") go(0);
    else if (event.key === "End") go(seconds);
    else if (by) go(played.currentTime + by * (event.shiftKey ? 10 : 1));
    else return;
    event.preventDefault();
  });
  played.addEventListener("play", () => strip.classList.add("placed"));
  for (const what of ["timeupdate", "seeked", "play"]) played.addEventListener(what, show);
  show();
}

if (strip && played) placed();
