// A close-up that is set as it looks on the clock: dragged, by keys, by a picture or by a number. What is drawn at one place is moved
// to another, by what the drawing says a degree does; what a place looks like stands in a table that came with the page.

import { dragged } from "./drag.js";
import { $, all } from "./page.js";
import { motion, reaching, transform, typed, within, written } from "./places.js";

// Numbers that are to be written as soon as the hand rests: they cost more than all that moves, and no eye follows them.
const unwritten = new Set();
const REST = 120;

// Whatever is sent is sent as it stands.
document.addEventListener("submit", () => { for (const number of [...unwritten]) number(); }, true);

/** A witness on the drawing of the whole, which goes along: that it is unread, and where it stands. */
function onPlate(name) {
  const part = document.getElementById("witness-" + name);
  const turn = part && $(".turn", part);
  return {
    unread: (yes) => part?.classList.toggle("unread", yes),
    stands(place) {
      if (turn) turn.setAttribute("transform", `rotate(${Number(turn.dataset.at) + part.dataset.turn * (place - part.dataset.place)})`);
    },
  };
}

export function closeUp(hold) {
  const data = hold.dataset;
  const field = hold.closest(".close-up");
  const moving = $(".moving", hold);
  const moves = motion(moving.dataset);
  const looks = JSON.parse(data.looks);
  const [least, most, step, places] = [data.least, data.most, data.step, data.places].map(Number);
  const words = $(".looks .words", field);
  const number = $(".number input", field);
  const clear = $(".clear", field);
  const picks = all(".picture input", field);
  const quarters = all(".in-quarters input", field);
  const plate = onPlate(data.witness);
  let place = Number(data.place);
  let due = false;
  let rest = 0;

  const shown = (x) => written(x, places).replace(".", data.point);
  const isUnread = () => field.dataset.state === "unread";

  function describe() {
    const [, look, inside] = reaching(looks, place);
    return { look, inside };
  }

  function move() {
    due = false;
    moving.setAttribute("transform", transform(moves, place));
    plate.stands(place);
    const { look, inside } = describe();
    if (words.textContent !== look) words.textContent = look;
    const state = inside ? "in" : "out";
    if (field.dataset.state !== state) field.dataset.state = state;
  }

  function settle() {
    clearTimeout(rest);
    unwritten.delete(settle);
    // Not under the hands of whoever types in it.
    if (document.activeElement !== number) number.value = shown(place);
    hold.setAttribute("aria-valuenow", written(place, places));
    hold.setAttribute("aria-valuetext", describe().look);
  }

  function read(to, by) {
    place = within(to, least, most - least);
    plate.unread(false);
    clear.hidden = false;
    if (by !== "picture") for (const pick of picks) if (pick.checked) pick.checked = false;
    for (const quarter of quarters) quarter.checked = false;
    if (!due) { due = true; requestAnimationFrame(move); }
    clearTimeout(rest);
    if (by === "drag") {
      unwritten.add(settle);
      rest = setTimeout(settle, REST);
    } else settle();
  }

  function unread() {
    place = Number(data.place);
    move();
    settle();
    field.dataset.state = "unread";
    words.textContent = data.unread;
    hold.setAttribute("aria-valuetext", data.unread);
    plate.unread(true);
    number.value = "";
    clear.hidden = true;
    for (const one of [...picks, ...quarters]) one.checked = false;
  }

  // What is told in quarters stands for itself: the glass is not moved to it.
  function inQuarters(quarter) {
    unread();
    quarter.checked = true;
    words.textContent = quarter.closest("label").textContent.trim();
    clear.hidden = false;
  }

  hold.setAttribute("role", "slider");
  hold.tabIndex = 0;
  hold.setAttribute("aria-label", data.name);
  hold.setAttribute("aria-valuemin", data.least);
  hold.setAttribute("aria-valuemax", data.most);
  hold.setAttribute("aria-valuenow", data.place);
  hold.setAttribute("aria-valuetext", isUnread() ? data.unread : describe().look);
  clear.hidden = isUnread();
  if (!isUnread()) { plate.unread(false); move(); settle(); }

  dragged(hold, moves, { stands: () => place, read });

  hold.addEventListener("keydown", (event) => {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    const to = by !== undefined ? place + by * step * (event.shiftKey ? 10 : 1)
      : event.key === "Home" ? least : event.key === "End" ? most - step : null;
    if (to === null) return;
    event.preventDefault();
    read(to, "hand");
  });
  number.addEventListener("input", () => {
    const to = typed(number.value);
    if (to === null) unread();
    else if (Number.isFinite(to)) read(to, "typed");
  });
  for (const pick of picks) pick.addEventListener("change", () => read(Number(pick.value), "picture"));
  for (const quarter of quarters) quarter.addEventListener("change", () => inQuarters(quarter));
  clear.addEventListener("click", () => { unread(); hold.focus(); });
}
