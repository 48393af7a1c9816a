// Aloud, on request, in the browser's own voice.

import { $ } from "./page.js";

const aloud = $("#aloud");
const speaks = "speechSynthesis" in window;
if (speaks) aloud.addEventListener("click", () => {
  speechSynthesis.cancel();
  const text = ["#sentence", "#beneath"].map((what) => $(what)?.innerText).filter(Boolean).join(" ");
  const said = new SpeechSynthesisUtterance(text);
  said.lang = document.documentElement.lang;
  speechSynthesis.speak(said);
});

/** Where there is something to be said. */
export const offerAloud = () => { aloud.hidden = !speaks || !$("main.job"); };
