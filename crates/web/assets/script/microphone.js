// The microphone, live: its sound is carried to the program a second at a time.

import { asked, late } from "./answers.js";
import { stayAwake } from "./awake.js";
import { $ } from "./page.js";
import { refuse, unrefused } from "./refuse.js";

const said = $("#microphone").dataset;
const [now, hearing] = [$("#listen-now"), $("#hearing")];
const AS_IT_IS = { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 };
/** So long nobody to carry it to is waited for. */
const SECONDS_HELD = 60;

/** What the program says to what is carried to it; throws where nobody is there. */
async function post(address, body, whenLate = () => {}) {
  const answer = await asked(address, { method: "POST", body }, whenLate);
  return JSON.parse(answer.text);
}

/** What is known beside the sound. */
function fields() {
  const filled = new URLSearchParams();
  for (const [name, value] of new FormData($("#recording"))) if (typeof value === "string" && value) filled.set(name, value);
  return filled;
}

function hears(yes) {
  hearing.hidden = !yes;
  now.hidden = yes;
  $(".ears").classList.toggle("hears", yes);
}

/** The sound of a microphone; nothing, and why is said, where none is to be had. */
async function opened() {
  try {
    if (!navigator.mediaDevices) { refuse(said.absent); return null; }
    return await navigator.mediaDevices.getUserMedia({ audio: AS_IT_IS });
  } catch ({ name }) {
    const why = { NotAllowedError: said.refused, SecurityError: said.refused, NotFoundError: said.absent }[name];
    refuse(why ?? said.failed);
    return null;
  }
}

async function listen() {
  const stream = await opened();
  if (!stream) return;
  const context = new AudioContext();
  let [held, carried, caught, over] = [[], 0, 0, false];
  let leftAt = null;
  let at;
  /** What is being carried; done where nothing is. */
  let carrying = null;

  const close = () => {
    over = true;
    for (const track of stream.getTracks()) track.stop();
    if (context.state !== "closed") context.close();
    hears(false);
  };
  const carryHeld = async () => {
    const parts = held;
    held = [];
    try {
      const stands = await post(`${at}?from=${carried}`, new Blob(parts));
      if (stands.refused) { close(); refuse(stands.refused); return; }
      carried = stands.samples;
      $("#so-long").textContent = stands.heard;
      if (stands.so_far && $("#so-far").textContent !== stands.so_far) $("#so-far").textContent = stands.so_far;
      if (stands.full && !over) end();
    } catch {
      // It is carried with the next, unless there is nobody to carry it to.
      held = [...parts, ...held];
      if (held.length * held[0].length > SECONDS_HELD * context.sampleRate && !over) { close(); refuse(said.gone); }
    }
  };
  const carry = async () => {
    if (carrying || !held.length) return;
    carrying = carryHeld();
    await carrying;
    carrying = null;
  };
  const end = async () => {
    if (over) return;
    close();
    now.disabled = true;
    try {
      await carrying;
      carrying = null;
      await carry();
      const filled = fields();
      if (leftAt !== null) filled.set("left-at", leftAt);
      const { on, refused } = await post(`${at}/end`, filled, () => refuse(late));
      if (on) location.assign(on);
      else refuse(refused);
    } catch { refuse(said.gone); }
    now.disabled = false;
  };

  try {
    await context.audioWorklet.addModule(new URL("ear.js", import.meta.url));
    const begun = await post(said.begin, new URLSearchParams({ rate: context.sampleRate }));
    if (begun.refused) { close(); refuse(begun.refused); return; }
    at = begun.at;
  } catch { close(); refuse(said.failed); return; }
  const ear = new AudioWorkletNode(context, "ear", { numberOfOutputs: 0, channelCount: 1, channelCountMode: "explicit" });
  ear.port.onmessage = ({ data }) => {
    if (over) return;
    caught += data.length;
    held.push(data);
    if (held.length * data.length >= context.sampleRate) carry();
  };
  context.createMediaStreamSource(stream).connect(ear);
  await context.resume();
  stream.getTracks()[0].addEventListener("ended", end);
  stayAwake();

  unrefused();
  const left = $("#left-end");
  $("#marked").textContent = "";
  const mark = () => {
    leftAt = (caught / context.sampleRate).toFixed(2);
    $("#marked").textContent = left.dataset.marked.replace("{at}", leftAt);
  };
  // As the finger comes down, not as it leaves; a key has no finger.
  left.onpointerdown = mark;
  left.onclick = ({ detail }) => { if (detail === 0) mark(); };
  $("#stop-now").onclick = end;
  hears(true);
  hearing.scrollIntoView({ block: "center" });
  $("#stop-now").focus();
}

now.addEventListener("click", async () => {
  now.disabled = true;
  try { await listen(); } finally { now.disabled = false; }
});
