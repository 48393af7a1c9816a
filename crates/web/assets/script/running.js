// Shows the strike running: goes straight between the poses it was given, and shows every event in its order. All sums are
// made by the program; a bell is struck here only where that is asked for.

import { ask, silent } from "./answers.js";
import { ring } from "./bell.js";
import { $, all, live } from "./page.js";
import { between, clamped, poseAt, sectionOf } from "./places.js";

const main = $("main.strike-page");
const [play, next, before, seen] = ["#play", "#next", "#before", "#seen"].map((what) => $(what, main));
/** After a pause of the browser's own, in milliseconds, the strike goes on where it was and makes up for nothing. */
const LONGEST_FRAME = 250;

/** What turns on the drawing, each with its column of the table: an arbor's parts by its degrees ahead, a lever arbor by its height. */
function turning({ arbors, levers, hours }) {
  const columns = {
    arbor: (name) => arbors[name],
    leverArbor: (name) => levers[name],
    hours: (of) => hours.map((at) => 360 * at / of),
  };
  const movers = [];
  for (const part of all(".lies-hold [data-turn]", main)) {
    const turn = $(":scope > .turn", part);
    const kind = Object.keys(columns).find((key) => key in part.dataset);
    const column = kind && columns[kind](part.dataset[kind]);
    if (!turn || !column || column.every((at) => at === 0)) continue;
    movers.push({ turn, column, stands: { at: Number(turn.dataset.at ?? 0), sense: Number(part.dataset.turn) }, last: null });
  }
  return movers;
}

function show(table) {
  const { seconds, events, first } = table;
  const movers = turning(table);
  const links = all(".strip a", main);
  const hours = first.slice(0, links.length);
  let now = 0;
  let pose = 0;
  let event = 0;
  let hour = -1;
  let running = false;
  let then = null;

  function place() {
    let part;
    [pose, part] = poseAt(seconds, now, pose);
    for (const mover of movers) {
      const turned = between(mover.column, pose, part, mover.stands);
      if (turned === mover.last) continue;
      mover.last = turned;
      mover.turn.setAttribute("transform", `rotate(${turned})`);
    }
  }

  function tell() {
    const { at, says } = events[event];
    seen.textContent = `${at}  ${says}`;
    main.dataset.event = event;
    const of = sectionOf(hours, event);
    if (of !== hour) {
      links[hour]?.removeAttribute("aria-current");
      hour = of;
      links[hour]?.setAttribute("aria-current", "step");
    }
  }

  /** To an event, and to its pose. */
  function come(to) {
    event = clamped(to, 0, events.length - 1);
    pose = events[event].pose;
    now = seconds[pose];
    place();
    tell();
  }

  function sound() {
    const { bell } = events[event];
    if (bell !== null) ring(bell);
  }

  // One event a frame at most: where more have come, the clock waits for them.
  function frame(at) {
    if (!running) return;
    const pace = Number($("[name=pace]:checked", main).value);
    const due = seconds[events[event + 1].pose];
    now = Math.min(now + pace * Math.min(at - (then ?? at), LONGEST_FRAME) / 1000, due);
    then = at;
    place();
    if (now >= due) {
      event++;
      tell();
      sound();
    }
    if (event + 1 === events.length) run(false);
    else requestAnimationFrame(frame);
  }

  function run(on) {
    running = on;
    then = null;
    play.textContent = on ? play.dataset.pause : play.dataset.play;
    if (!on) { live.textContent = seen.textContent; return; }
    if (event + 1 === events.length) come(0);
    requestAnimationFrame(frame);
  }

  /** Stops, and goes to an event. */
  function go(to) {
    run(false);
    come(to);
    live.textContent = seen.textContent;
  }
  play.addEventListener("click", () => run(!running));
  next.addEventListener("click", () => { go(event + 1); sound(); });
  before.addEventListener("click", () => go(event - 1));
  for (const link of links) link.addEventListener("click", (click) => {
    click.preventDefault();
    go(Number(link.dataset.first));
  });
  for (const button of [play, next, before]) button.disabled = false;
  come(0);
}

ask(main.dataset.table, {}, (answer) => {
  if (answer.ok) show(JSON.parse(answer.text));
  else seen.textContent = silent;
});
