"use strict";
// Moves what the page was given: looks up in its tables, goes between its places. All sums are made by the program.

const $ = (what, within = document) => within.querySelector(what);
const all = (what, within = document) => [...within.querySelectorAll(what)];
const live = $("#live");
// Numbers that are to be written as soon as the hand rests: they cost more than all that moves, and no eye follows them.
const unwritten = new Set();
const write = () => { for (const number of [...unwritten]) number(); };
const REST = 120;

// ---- The loupe: what is drawn at one place is moved to another, by what the drawing says a degree does.

function loupe(hold) {
  const data = hold.dataset;
  const field = hold.closest(".close-up");
  const moving = all(".moving", hold)[0];
  const motion = moving.dataset;
  const looks = JSON.parse(data.looks);
  const [short, ahead, none] = JSON.parse(data.degrees);
  const [least, most, step, places] = [data.least, data.most, data.step, data.places].map(Number);
  const period = most - least;
  const words = $(".looks .words", field);
  const number = $(".number input", field);
  const clear = $(".clear", field);
  const picks = all(".picture input", field);
  const onPlate = document.getElementById("witness-" + data.witness);
  const plateTurn = onPlate && $(".turn", onPlate);
  const slides = motion.dx !== undefined;
  const round = !slides && Math.hypot(motion.cx, motion.cy) < 60;
  let place = Number(data.place);
  let due = false;
  let rest = 0;

  const within = (x) => x - period * Math.floor((x - least) / period);
  const written = (x) => String(Number(x.toFixed(places)));
  const shown = (x) => written(x).replace(".", data.point);

  function describe() {
    const look = looks.find(([upto]) => upto === null || place <= upto) ?? looks[looks.length - 1];
    const off = shown(Math.abs(place));
    const by = off === "0" ? none : (place < 0 ? short : ahead).replace("{}", off);
    return { words: look[1], inside: look[2], all: data.reading.replace("{look}", look[1]).replace("{by}", by) };
  }

  function move() {
    due = false;
    moving.setAttribute("transform", slides
      ? `translate(${motion.dx * place} ${motion.dy * place})`
      : `rotate(${motion.turn * place} ${motion.cx} ${motion.cy})`);
    if (plateTurn) {
      const at = Number(plateTurn.dataset.at) + onPlate.dataset.turn * (place - onPlate.dataset.place);
      plateTurn.setAttribute("transform", `rotate(${at})`);
    }
    const told = describe();
    if (words.textContent !== told.words) words.textContent = told.words;
    const state = told.inside ? "in" : "out";
    if (field.dataset.state !== state) field.dataset.state = state;
  }

  function settle() {
    clearTimeout(rest);
    unwritten.delete(settle);
    // Not under the hands of whoever types in it.
    if (document.activeElement !== number) number.value = shown(place);
    hold.setAttribute("aria-valuenow", written(place));
    hold.setAttribute("aria-valuetext", describe().all);
  }

  function read(to, by) {
    place = within(to);
    onPlate?.classList.remove("unread");
    clear.hidden = false;
    if (by !== "picture") for (const pick of picks) if (pick.checked) pick.checked = false;
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
    onPlate?.classList.add("unread");
    number.value = "";
    clear.hidden = true;
    for (const pick of picks) pick.checked = false;
  }

  hold.setAttribute("role", "slider");
  hold.tabIndex = 0;
  hold.setAttribute("aria-label", data.name);
  hold.setAttribute("aria-valuemin", data.least);
  hold.setAttribute("aria-valuemax", data.most);
  hold.setAttribute("aria-valuenow", data.place);
  hold.setAttribute("aria-valuetext", field.dataset.state === "unread" ? data.unread : describe().all);
  if (round) hold.classList.add("round");
  clear.hidden = field.dataset.state === "unread";
  if (field.dataset.state !== "unread") { onPlate?.classList.remove("unread"); move(); settle(); }

  // Where a pointer is, in the drawing's own units.
  const svg = $("svg", hold);
  const box = svg.viewBox.baseVal;
  let from = null;
  const at = (event) => {
    const x = box.x + (event.clientX - from.frame.left) * box.width / from.frame.width;
    const y = box.y + (event.clientY - from.frame.top) * box.height / from.frame.height;
    return slides ? [x, y] : Math.atan2(y - motion.cy, x - motion.cx);
  };

  hold.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    from = { id: event.pointerId, frame: svg.getBoundingClientRect(), place };
    from.last = at(event);
    hold.setPointerCapture(event.pointerId);
    hold.classList.add("held");
  });
  hold.addEventListener("pointermove", (event) => {
    if (!from || event.pointerId !== from.id) return;
    const now = at(event);
    if (slides) {
      const [dx, dy] = [Number(motion.dx), Number(motion.dy)];
      from.place += ((now[0] - from.last[0]) * dx + (now[1] - from.last[1]) * dy) / (dx * dx + dy * dy);
    } else {
      const turned = now - from.last;
      const short = turned - 2 * Math.PI * Math.round(turned / (2 * Math.PI));
      from.place += motion.turn * short * 180 / Math.PI;
    }
    from.last = now;
    read(from.place, "drag");
  });
  const release = (event) => {
    if (!from || event.pointerId !== from.id) return;
    // A touch without a move says: it looks as it is drawn.
    if (event.type === "pointerup") read(from.place, "hand");
    from = null;
    hold.classList.remove("held");
  };
  for (const end of ["pointerup", "pointercancel"]) hold.addEventListener(end, release);

  hold.addEventListener("keydown", (event) => {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    const to = by !== undefined ? place + by * step * (event.shiftKey ? 10 : 1)
      : event.key === "Home" ? least : event.key === "End" ? most - step : null;
    if (to === null) return;
    event.preventDefault();
    read(to, "hand");
  });
  number.addEventListener("input", () => {
    const typed = Number(number.value.replace("−", "-").replace(",", ".").replace("°", ""));
    if (number.value.trim() === "") unread();
    else if (Number.isFinite(typed)) read(typed, "typed");
  });
  for (const pick of picks) pick.addEventListener("change", () => read(Number(pick.value), "picture"));
  clear.addEventListener("click", () => { unread(); hold.focus(); });
}

// ---- One touch: the form goes off, the page that comes back takes this one's place.

let busy = false;

async function go(address, options, keep) {
  if (busy) return;
  busy = true;
  document.documentElement.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(address, options);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const main = $("#main", page);
    if (!main) { location.assign(answer.url); return; }
    const step = $("#main").dataset.step;
    $("#main").replaceWith(document.adoptNode(main));
    $(".top .name").replaceWith(document.adoptNode($(".top .name", page)));
    $(".top .about")?.replaceWith(document.adoptNode($(".top .about", page)));
    document.title = page.title;
    if (answer.ok) history.pushState(null, "", answer.url);
    dress();
    if (!keep) {
      if (step !== main.dataset.step) scrollTo(0, 0);
      $("#sentence")?.focus({ preventScroll: true });
    }
    live.textContent = $(".refused")?.textContent ?? $("#beneath")?.textContent ?? "";
  } catch {
    live.textContent = live.dataset.silent;
    const told = document.createElement("p");
    told.className = "refused";
    told.textContent = live.dataset.silent;
    $(".refused")?.remove();
    $("#main").prepend(told);
  } finally {
    busy = false;
    document.documentElement.removeAttribute("aria-busy");
  }
}

document.addEventListener("submit", (event) => {
  const { target: form, submitter } = event;
  if (form.method !== "post" || "whole" in form.dataset) return;
  write();
  event.preventDefault();
  const fields = new URLSearchParams(new FormData(form, submitter));
  const address = submitter?.hasAttribute("formaction") ? submitter.formAction : form.action;
  const turned = fields.has("turn");
  const focus = turned && [...all(".lies figcaption button")].indexOf(submitter);
  go(address, { method: "POST", body: fields }, turned).then(() => {
    if (turned) all(".lies figcaption button")[focus]?.focus();
  });
});

document.addEventListener("click", (event) => {
  const link = event.target.closest?.("main.job a.button");
  if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    go(link.href);
    return;
  }
  // Which arbor jumped out: touched on the drawing.
  const part = event.target.closest?.("[data-step=jumped] .lies [data-arbor]");
  if (part) all("#which button").find((button) => button.value === part.dataset.arbor)?.click();
});

document.addEventListener("pointerover", (event) => {
  const part = event.target.closest?.("[data-step=jumped] .lies [data-arbor], #which button");
  const arbor = part && (part.dataset.arbor ?? part.value);
  for (const other of all("[data-step=jumped] .lies [data-arbor]")) other.classList.toggle("pointed", other.dataset.arbor === arbor);
});

addEventListener("popstate", () => go(location.href, undefined, true));

// ---- A big key for an elbow or a foot: on to what comes next.

document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
  if (![" ", "Enter", "PageDown"].includes(event.key)) return;
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

// ---- Aloud, on request, in the browser's own voice; and awake while a job is open.

const aloud = $("#aloud");
if ("speechSynthesis" in window) {
  aloud.addEventListener("click", () => {
    speechSynthesis.cancel();
    const text = ["#sentence", "#beneath"].map((what) => $(what)?.innerText).filter(Boolean).join(" ");
    const said = new SpeechSynthesisUtterance(text);
    said.lang = document.documentElement.lang;
    speechSynthesis.speak(said);
  });
}

async function stayAwake() {
  if (document.visibilityState !== "visible" || !$("main.job")) return;
  try { await navigator.wakeLock?.request("screen"); } catch { /* it sleeps as it always did */ }
}
document.addEventListener("visibilitychange", stayAwake);

// ---- Paper or slate.

const slate = $("#slate");
const dark = () => (document.documentElement.dataset.slate ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "slate" : "paper")) === "slate";
const nameSlate = () => { slate.textContent = dark() ? slate.dataset.paper : slate.dataset.slate; };
slate.addEventListener("click", () => {
  const chosen = dark() ? "paper" : "slate";
  document.documentElement.dataset.slate = chosen;
  try { localStorage.setItem("slate", chosen); } catch { /* until it is closed, then */ }
  nameSlate();
});
slate.hidden = false;
nameSlate();

function dress() {
  for (const hold of all(".loupe-hold")) loupe(hold);
  aloud.hidden = !("speechSynthesis" in window) || !$("main.job");
}
dress();
stayAwake();
