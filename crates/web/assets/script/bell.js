// A struck bell, where it is asked for: five partials that die away, the higher the sooner; each bell lower than the one before it.

import { $ } from "./page.js";

const sound = $("#sound");
const isOn = () => sound.getAttribute("aria-pressed") === "true";
/** Each partial: of the note struck, how loud, and after how many seconds it is gone. */
const PARTIALS = [[0.5, 0.25, 2.4], [1, 0.3, 1.8], [1.2, 0.18, 1.2], [1.5, 0.1, 0.8], [2, 0.2, 0.7]];
let air = null;
const bells = [];

sound.addEventListener("click", () => {
  const on = !isOn();
  sound.setAttribute("aria-pressed", String(on));
  sound.textContent = on ? sound.dataset.quiet : sound.dataset.sound;
  if (on) air ??= new AudioContext();
  if (on) air.resume(); else air?.suspend();
});

export function ring(bell) {
  if (!isOn()) return;
  if (!bells.includes(bell)) bells.push(bell);
  const strike = 880 * 2 ** (-bells.indexOf(bell) / 6);
  for (const [of, loud, dies] of PARTIALS) {
    const tone = new OscillatorNode(air, { frequency: strike * of });
    const level = new GainNode(air, { gain: 0 });
    level.gain.setValueAtTime(0.3 * loud, air.currentTime);
    level.gain.exponentialRampToValueAtTime(1e-4, air.currentTime + dies);
    tone.connect(level).connect(air.destination);
    tone.start();
    tone.stop(air.currentTime + dies);
  }
}
