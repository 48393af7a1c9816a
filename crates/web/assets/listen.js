"use strict";
// Carries sound to the program and back: a recording that is sent, the microphone, the place at which it is played. What is heard
// in it, and every sentence, is made by the program.
{
  const main = $("#main");
  const shown = (what, yes) => { what.hidden = !yes; };

  /// Says why something was not done, where the page itself would say it.
  const refuse = (words) => {
    $(".refused", main)?.remove();
    const told = document.createElement("p");
    told.className = "refused";
    told.setAttribute("role", "alert");
    told.textContent = words;
    $("#sentence").after(told);
    told.scrollIntoView({ block: "center" });
  };

  // ---- A recording that is sent: how far it is, and a way to stop it.

  const form = $("#recording");
  const sending = $("#sending");
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const file = form.elements.recording.files[0];
    if (file?.size > Number(form.dataset.most)) { refuse(form.dataset.long); return; }
    const request = new XMLHttpRequest();
    const [progress, told] = [$("progress", sending), $("p", sending)];
    const over = () => { shown(sending, false); form.classList.remove("sends"); };
    request.upload.addEventListener("progress", ({ loaded, total }) => {
      progress.value = loaded / total;
      const far = form.dataset.far.replace("{part}", `${5 * Math.floor(20 * loaded / total)} %`);
      if (told.textContent !== far) told.textContent = far;
    });
    request.addEventListener("load", () => {
      over();
      if (request.status < 400) { location.assign(request.responseURL); return; }
      const page = new DOMParser().parseFromString(request.responseText, "text/html");
      refuse($(".refused, h1", page)?.textContent ?? form.dataset.silent);
    });
    request.addEventListener("error", () => { over(); refuse(form.dataset.silent); });
    request.addEventListener("abort", () => { over(); refuse(form.dataset.stopped); });
    $("#stop-sending").onclick = () => request.abort();
    $(".refused", main)?.remove();
    progress.value = 0;
    told.textContent = "";
    shown(sending, true);
    form.classList.add("sends");
    request.open("POST", form.action);
    request.send(new FormData(form));
    $("#stop-sending").focus();
  });

  // ---- The microphone, live.

  const microphone = $("#microphone");
  const said = microphone.dataset;
  const [now, hearing] = [$("#listen-now"), $("#hearing")];
  const AS_IT_IS = { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 };
  const SECONDS_HELD = 60;

  const post = async (address, body) => {
    const answer = await fetch(address, { method: "POST", body });
    return answer.json();
  };
  const fields = () => {
    const filled = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (typeof value === "string" && value) filled.set(name, value);
    return filled;
  };

  async function listen() {
    let stream;
    try {
      if (!navigator.mediaDevices) { refuse(said.absent); return; }
      stream = await navigator.mediaDevices.getUserMedia({ audio: AS_IT_IS });
    } catch ({ name }) {
      refuse(name === "NotAllowedError" || name === "SecurityError" ? said.refused : name === "NotFoundError" ? said.absent : said.failed);
      return;
    }
    const context = new AudioContext();
    let [held, carried, caught, over, busy] = [[], 0, 0, false, false];
    let leftAt = null;
    let at;

    const close = () => {
      over = true;
      for (const track of stream.getTracks()) track.stop();
      if (context.state !== "closed") context.close();
      shown(hearing, false);
      shown(now, true);
      $(".ears").classList.remove("hears");
    };
    const carry = async () => {
      if (busy || !held.length) return;
      busy = true;
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
      } finally { busy = false; }
    };
    const end = async () => {
      if (over) return;
      close();
      now.disabled = true;
      try {
        while (busy) await new Promise((after) => setTimeout(after, 50));
        await carry();
        const filled = fields();
        if (leftAt !== null) filled.set("left-at", leftAt);
        const { on, refused } = await post(`${at}/end`, filled);
        if (on) location.assign(on);
        else refuse(refused);
      } catch { refuse(said.gone); }
      now.disabled = false;
    };

    try {
      await context.audioWorklet.addModule("/ear.js");
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
    try { await navigator.wakeLock?.request("screen"); } catch { /* it sleeps as it always did */ }

    $(".refused", main)?.remove();
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
    shown(now, false);
    shown(hearing, true);
    $(".ears").classList.add("hears");
    hearing.scrollIntoView({ block: "center" });
    $("#stop-now").focus();
  }
  now.addEventListener("click", async () => {
    now.disabled = true;
    try { await listen(); } finally { now.disabled = false; }
  });

  // ---- The sound, played at any place.

  const strip = $("#strip");
  const played = $("#played");
  if (strip && played) {
    const rows = all(".row", strip).map(({ dataset }) => Object.fromEntries(Object.entries(dataset).map(([name, value]) => [name, Number(value)])));
    const here = $(".now", strip);
    const seconds = Number(strip.dataset.seconds);
    const svg = $("svg", strip);
    const clock = (s) => `${Math.floor(s / 60)}:${String(Math.floor(s % 60)).padStart(2, "0")}`;
    strip.setAttribute("aria-description", strip.getAttribute("aria-label"));
    strip.setAttribute("aria-label", strip.dataset.name);
    strip.setAttribute("role", "slider");
    strip.setAttribute("aria-valuemin", "0");
    strip.setAttribute("aria-valuemax", strip.dataset.seconds);
    strip.tabIndex = 0;
    const show = () => {
      const at = Math.min(played.currentTime, seconds);
      const row = rows.find(({ to }) => at < to) ?? rows[rows.length - 1];
      const x = row.left + row.wide * (at - row.from) / (row.to - row.from);
      here.setAttribute("x1", x);
      here.setAttribute("x2", x);
      here.setAttribute("y1", row.top + 1);
      here.setAttribute("y2", row.top + row.high - 1);
      strip.setAttribute("aria-valuenow", at.toFixed(1));
      strip.setAttribute("aria-valuetext", strip.dataset.place.replace("{at}", clock(at)));
    };
    const go = (at) => {
      played.currentTime = Math.max(0, Math.min(seconds - 0.05, at));
      strip.classList.add("placed");
      show();
    };
    svg.addEventListener("click", (event) => {
      const frame = svg.getBoundingClientRect();
      const box = svg.viewBox.baseVal;
      const x = (event.clientX - frame.left) * box.width / frame.width;
      const y = (event.clientY - frame.top) * box.height / frame.height;
      const row = rows.find(({ top, high }) => y < top + high) ?? rows[rows.length - 1];
      go(row.from + Math.max(0, Math.min(1, (x - row.left) / row.wide)) * (row.to - row.from));
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
    for (const what of ["timeupdate", "seeked", "play"]) played.addEventListener(what, () => { if (what === "play") strip.classList.add("placed"); show(); });
    show();
  }
}
