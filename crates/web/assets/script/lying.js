// Where arbors lie: one is taken and let go where it lies, by hand or by keys; a picture is touched; it is seen as faded as one likes.

import { asked } from "./answers.js";
import { $, all, live } from "./page.js";
import { clamped, written } from "./places.js";

/** So far a hand goes astray, in CSS pixels, that only touches. */
const ASTRAY = 5;
/** One touch of an arrow key, in millimetres; with Shift the lesser. */
const STEPS = [1, 0.1];
/** Figures after the point: of millimetres, and of inches. */
const PLACES = { mm: 2, in: 4 };

let held = null;
/** The end of a drag is no touch of what lies there. */
let dragged = false;

const spots = () => $(".places .spots");
const busy = () => document.documentElement.hasAttribute("aria-busy");
const at = (link) => [Number(link.dataset.x), Number(link.dataset.y)];
/** Where it lies now: keys may have moved it already. */
const lies = (link) => link.dataset.to?.split(" ").map(Number) ?? at(link);

/** A point of the window in the drawing's units. */
function drawn(svg, { clientX, clientY }) {
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(svg.getScreenCTM().inverse());
  return [x, y];
}

/** The place on the plate of a point of the drawing, in the page's unit: a straight function each way, as the drawing says. */
function place(svg, [x, y]) {
  const { right, rightBy, up, upBy, mm, unit } = svg.dataset;
  const side = (nought, by, along) => written((Number(nought) + Number(by) * along) / Number(mm), PLACES[unit]);
  return { right: side(right, rightBy, x), up: side(up, upBy, y) };
}

function shift(link, [x, y]) {
  const [from, down] = at(link);
  link.setAttribute("transform", `translate(${x - from} ${y - down})`);
  const { right, up } = place(spots(), [x, y]);
  const form = $("#put");
  if (form?.elements.what?.value === link.dataset.what) {
    form.elements.right.value = right;
    form.elements.up.value = up;
  }
  live.textContent = `${link.dataset.name}: ${right}, ${up} ${spots().dataset.unit}`;
}

/** Lets something go where it lies now: that is entered. */
function letGo(what, point) {
  const form = $("#let-go");
  const { right, up } = place(spots(), point);
  form.elements.what.value = what;
  form.elements.right.value = right;
  form.elements.up.value = up;
  form.requestSubmit();
}

/** What is chosen, or what is new, stands where the drawing is touched. */
function putHere(point) {
  const form = $("#put");
  const { right, up } = place(spots(), point);
  form.elements.right.value = right;
  form.elements.up.value = up;
  const by = document.createElement("input");
  Object.assign(by, { type: "hidden", name: "by", value: "touch" });
  form.append(by);
  form.requestSubmit();
  by.remove();
}

/** Of those that the hand may mean, the nearest. */
function nearest(svg, point) {
  const far = (link) => Math.hypot(at(link)[0] - point[0], at(link)[1] - point[1]);
  const reach = (link) => Number($("circle", link).getAttribute("r"));
  const near = all("a", svg).filter((link) => far(link) <= reach(link)).sort((a, b) => far(a) - far(b));
  return near[0] ?? null;
}

document.addEventListener("pointerdown", (event) => {
  dragged = false;
  const svg = event.target.closest?.(".places .spots");
  if (!svg || event.button !== 0 || busy() || held) return;
  const point = drawn(svg, event);
  const link = nearest(svg, point);
  if (!link) return;
  const [right, down] = lies(link);
  held = { id: event.pointerId, svg, link, from: [event.clientX, event.clientY], off: [right - point[0], down - point[1]], to: null };
  svg.setPointerCapture(event.pointerId);
});

document.addEventListener("pointermove", (event) => {
  if (event.pointerId !== held?.id) return;
  const [x, y] = held.from;
  const point = drawn(held.svg, event);
  const to = [point[0] + held.off[0], point[1] + held.off[1]];
  if (held.to || Math.hypot(event.clientX - x, event.clientY - y) >= ASTRAY) held.to = to;
  held.link.classList.add("held");
  // It goes with the hand from the first, so that it never jumps after it.
  shift(held.link, to);
});

for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, (event) => {
  if (event.pointerId !== held?.id) return;
  const { link, to } = held;
  held = null;
  link.classList.remove("held");
  if (!to) {
    if (link.hasAttribute("transform")) shift(link, lies(link));
    dragged = event.type === "pointerup" ? link : false;
    return;
  }
  dragged = true;
  if (event.type === "pointercancel") { link.removeAttribute("transform"); return; }
  letGo(link.dataset.what, to);
});

document.addEventListener("click", (event) => {
  const picture = event.target.closest?.(".places input.plate-picture");
  // The browser tells where in its own pixels; a picture is as wide as there is room.
  if (picture) {
    const { clientX, clientY, detail } = event;
    const hair = picture.form.dataset.hair;
    if (detail === 0 && hair === undefined) { event.preventDefault(); return; }
    const { left, top, width } = picture.getBoundingClientRect();
    const [x, y] = detail === 0 ? hair.split(" ").map(Number) : [(clientX - left) / width, (clientY - top) / width];
    event.preventDefault();
    if (busy()) return;
    touchAt(picture.form, [x, y]);
    return;
  }
  const svg = event.target.closest?.(".places .spots");
  if (!svg) return;
  const was = dragged;
  dragged = false;
  if (was === true) { event.preventDefault(); event.stopImmediatePropagation(); return; }
  // From the keyboard a click has no place.
  if (event.detail === 0) return;
  const link = was || nearest(svg, drawn(svg, event));
  const chosen = $("a[aria-current]", svg);
  if ($("#put") && (!link || link === chosen)) {
    if (!link) putHere(drawn(svg, event));
    event.preventDefault();
    event.stopImmediatePropagation();
    return;
  }
  // What was captured went to the drawing as a whole: the link under the hand is meant.
  if (link && !event.target.closest("a")) { event.preventDefault(); link.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true })); }
}, true);

/** Sends a touch of a picture, in hundredths of its width. */
function touchAt(form, [x, y]) {
  const fields = [["left", 100 * x], ["top", 100 * y]].map(([name, value]) => {
    const field = document.createElement("input");
    Object.assign(field, { type: "hidden", name, value: written(value, 4) });
    form.append(field);
    return field;
  });
  form.requestSubmit();
  for (const field of fields) field.remove();
}

const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** What keys move: what has the focus on the drawing; else what is chosen, wherever that was done, unless the keys mean a field. */
function meant({ target, key }) {
  const own = target.closest?.(".places .spots a");
  if (own || target.closest?.("input, select, textarea, button, summary, [popover]")) return own;
  return key === "Enter" && target.closest?.("a") ? null : $(".places .spots a[aria-current]");
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  const way = WAYS[event.key];
  const link = meant(event);
  if (link) {
    const step = STEPS[event.shiftKey ? 1 : 0];
    const to = lies(link);
    if (way) {
      const next = [to[0] + step * way[0], to[1] + step * way[1]];
      link.dataset.to = next.join(" ");
      shift(link, next);
    } else if (event.key === "Enter" && link.dataset.to) {
      if (!busy()) letGo(link.dataset.what, to);
    } else if (event.key === "Escape" && link.dataset.to) {
      delete link.dataset.to;
      link.removeAttribute("transform");
    } else return;
    event.preventDefault();
    event.stopImmediatePropagation();
    return;
  }
  const picture = event.target.closest?.(".places input.plate-picture");
  if (!picture || !way) return;
  const { form } = picture;
  const high = picture.height / picture.width;
  const step = event.shiftKey ? 0.002 : 0.02;
  const [x, y] = (form.dataset.hair ?? `0.5 ${high / 2}`).split(" ").map(Number);
  const to = [clamped(x + step * way[0], 0, 1), clamped(y + step * way[1], 0, high)];
  form.dataset.hair = to.join(" ");
  $(".hair", form).setAttribute("d", `M${to[0] - 1} ${to[1]}H${to[0] + 1}M${to[0]} ${to[1] - 1}V${to[1] + 1}`);
  event.preventDefault();
}, true);

const shade = ({ target }) => target.matches?.(".fade input[type=range]") && target;

document.addEventListener("input", (event) => {
  const range = shade(event);
  if (!range) return;
  for (const picture of all(".underlay")) picture.setAttribute("opacity", range.value / 100);
});

// The page stays as it is, with all that is typed on it.
document.addEventListener("change", (event) => {
  const range = shade(event);
  if (!range) return;
  const own = range.closest(".fade");
  const fields = new URLSearchParams({ entries: $("#main").dataset.entries });
  for (const field of all("input", own)) fields.set(field.name, field.value);
  asked(own.dataset.action, { method: "POST", body: fields }, () => {});
});
