// Where things stand: nothing here touches the page. It goes between places that it is given and looks up in tables that it is
// given; all sums of the trade are made by the program.

export const clamped = (x, least, most) => Math.max(least, Math.min(most, x));

/** The same place in the one period that begins at `least`, which belongs to it. */
export const within = (x, least, period) => x - period * Math.floor((x - least) / period);

/** A number with so many places at most, and a point. */
export const written = (x, places) => String(Number(x.toFixed(places)));

/** The number that somebody typed, as people type them; null where nothing is typed, NaN where it is no number. */
export function typed(text) {
  if (text.trim() === "") return null;
  return Number(text.replace("−", "-").replace(",", ".").replace("°", ""));
}

/** The first row of a table that reaches a place: rows are [up to, …], rising, and null reaches everything. */
export const reaching = (rows, place) => rows.find(([upto]) => upto === null || place <= upto) ?? rows.at(-1);

/** The shortest way round from one angle to another, in radians: at most half a turn, either way. */
export function shortest(from, to) {
  const turned = to - from;
  return turned - 2 * Math.PI * Math.round(turned / (2 * Math.PI));
}

/** How a part moves with its place, as its drawing says: it slides by (dx, dy) for each degree, or turns about (cx, cy), with its
 *  degrees (1) or against them (-1). All that stands in a drawing is in the drawing's own units. */
export const motion = ({ dx, dy, turn, cx, cy }) =>
  dx === undefined ? { turn: Number(turn), cx: Number(cx), cy: Number(cy) } : { dx: Number(dx), dy: Number(dy) };

/** By how many degrees a hand that goes from one point to another carries the part along. */
export function carried({ dx, dy, turn, cx, cy }, from, to) {
  if (dx !== undefined) return ((to[0] - from[0]) * dx + (to[1] - from[1]) * dy) / (dx * dx + dy * dy);
  const angle = ([x, y]) => Math.atan2(y - cy, x - cx);
  return turn * shortest(angle(from), angle(to)) * 180 / Math.PI;
}

/** What moves the part, drawn at nought, to its place: the text of an SVG transform. */
export const transform = ({ dx, dy, turn, cx, cy }, place) =>
  dx === undefined ? `rotate(${turn * place} ${cx} ${cy})` : `translate(${dx * place} ${dy * place})`;

/** A point of the window in a drawing's units: `frame` is where the drawing lies in the window, `box` its own frame. */
export const inDrawing = ([x, y], frame, box) =>
  [box.x + (x - frame.left) * box.width / frame.width, box.y + (y - frame.top) * box.height / frame.height];

/** Which pose of a run stands at a time, and what part of the way to the next is gone: `seconds` never fall, and it is looked for
 *  from the pose `near`. */
export function poseAt(seconds, time, near = 0) {
  let pose = near;
  while (pose + 1 < seconds.length && seconds[pose + 1] <= time) pose++;
  while (pose > 0 && seconds[pose] > time) pose--;
  const next = seconds[pose + 1];
  return [pose, next > seconds[pose] ? (time - seconds[pose]) / (next - seconds[pose]) : 0];
}

/** Straight between a pose of a column and the next; a hundredth of a degree is finer than anything is drawn. */
export function between(column, pose, part, { at, sense }) {
  const stands = column[pose] + part * ((column[pose + 1] ?? column[pose]) - column[pose]);
  return Math.round(100 * (at + sense * stands)) / 100;
}

/** The last of some rising beginnings that lies at or before a number; the first where none does. */
export const sectionOf = (beginnings, n) => Math.max(0, beginnings.findLastIndex((begins) => begins <= n));

/** Where on a strip of sound a second lies, and its row: rows are { from, to } in seconds and { left, top, wide, high } as drawn. */
export function onStrip(rows, at) {
  const row = rows.find(({ to }) => at < to) ?? rows.at(-1);
  return [row, row.left + row.wide * (at - row.from) / (row.to - row.from)];
}

/** The second that lies at a point of such a strip, or nearest beside it. */
export function heardAt(rows, [x, y]) {
  const row = rows.find(({ top, high }) => y < top + high) ?? rows.at(-1);
  return row.from + clamped((x - row.left) / row.wide, 0, 1) * (row.to - row.from);
}

/** Seconds as minutes and seconds. */
export const minutes = (s) => `${Math.floor(s / 60)}:${String(Math.floor(s % 60)).padStart(2, "0")}`;
