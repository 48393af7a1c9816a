// A part of a close-up under the finger: every move of the hand carries it along.

import { $ } from "./page.js";
import { carried, inDrawing } from "./places.js";

/** Nearer to the middle than this, in the drawing's units, the hand goes round what it moves. */
const ROUND = 60;

/** `part.stands()` tells the place where the hand takes hold; `part.read(place, by)` is told each place it is carried to. */
export function dragged(hold, moves, part) {
  const svg = $("svg", hold);
  let held = null;
  const at = ({ clientX, clientY }) => inDrawing([clientX, clientY], held.frame, svg.viewBox.baseVal);
  if (moves.dx === undefined && Math.hypot(moves.cx, moves.cy) < ROUND) hold.classList.add("round");

  hold.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    held = { id: event.pointerId, frame: svg.getBoundingClientRect(), place: part.stands() };
    held.last = at(event);
    hold.setPointerCapture(event.pointerId);
    hold.classList.add("held");
  });
  hold.addEventListener("pointermove", (event) => {
    if (event.pointerId !== held?.id) return;
    const now = at(event);
    held.place += carried(moves, held.last, now);
    held.last = now;
    part.read(held.place, "drag");
  });
  const release = (event) => {
    if (event.pointerId !== held?.id) return;
    // A touch without a move says: it looks as it is drawn.
    if (event.type === "pointerup") part.read(held.place, "hand");
    held = null;
    hold.classList.remove("held");
  };
  for (const end of ["pointerup", "pointercancel"]) hold.addEventListener(end, release);
}
