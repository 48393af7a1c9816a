"use strict";
// Shows the strike running: goes straight between the poses it was given, and shows every event in its order. All sums are
// made by the program; a bell is struck here only where that is asked for.

{
  const main = document.querySelector("main.strike-page");
  const find = (what) => main.querySelector(what);
  const [play, next, before, sound, seen] = ["#play", "#next", "#before", "#sound", "#seen"].map(find);
  const live = document.querySelector("#live");

  function show(table) {
    const { seconds, events, first } = table;
    // What turns: an arbor's parts by its degrees ahead, a lever arbor by its height.
    const movers = [];
    const columns = {
      arbor: (name) => table.arbors[name],
      leverArbor: (name) => table.levers[name],
      hours: (hours) => table.hours.map((at) => 360 * at / hours),
    };
    for (const part of find(".lies-hold").querySelectorAll("[data-turn]")) {
      const turn = part.querySelector(":scope > .turn");
      const kind = Object.keys(columns).find((key) => key in part.dataset);
      const column = kind && columns[kind](part.dataset[kind]);
      if (!turn || !column || column.every((at) => at === 0)) continue;
      movers.push({ turn, column, sense: Number(part.dataset.turn), at: Number(turn.dataset.at ?? 0), last: null });
    }
    const links = [...main.querySelectorAll(".strip a")];
    let now = 0;
    let pose = 0;
    let event = 0;
    let hour = -1;
    let running = false;
    let then = null;

    function place() {
      while (pose + 1 < seconds.length && seconds[pose + 1] <= now) pose++;
      while (pose > 0 && seconds[pose] > now) pose--;
      const to = Math.min(pose + 1, seconds.length - 1);
      const part = seconds[to] > seconds[pose] ? (now - seconds[pose]) / (seconds[to] - seconds[pose]) : 0;
      for (const mover of movers) {
        const { column } = mover;
        const at = column[pose] + part * (column[to] - column[pose]);
        const turned = Math.round(100 * (mover.at + mover.sense * at)) / 100;
        if (turned === mover.last) continue;
        mover.last = turned;
        mover.turn.setAttribute("transform", `rotate(${turned})`);
      }
    }

    function tell() {
      const { at, says } = events[event];
      seen.textContent = `${at}  ${says}`;
      main.dataset.event = event;
      let in_hour = 0;
      while (in_hour + 1 < links.length && first[in_hour + 1] <= event) in_hour++;
      if (in_hour !== hour) {
        links[hour]?.removeAttribute("aria-current");
        hour = in_hour;
        links[hour]?.setAttribute("aria-current", "step");
      }
    }

    /** To an event, and to its pose. */
    function come(to) {
      event = Math.max(0, Math.min(events.length - 1, to));
      pose = events[event].pose;
      now = seconds[pose];
      place();
      tell();
    }

    // One event a frame at most: where more have come, the clock waits for them.
    function frame(at) {
      if (!running) return;
      const pace = Number(find("[name=pace]:checked").value);
      const due = seconds[events[event + 1].pose];
      now = Math.min(now + pace * Math.min(at - (then ?? at), 250) / 1000, due);
      then = at;
      place();
      if (now >= due) {
        event++;
        tell();
        if (events[event].bell !== null) ring(events[event].bell);
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

    const step = (by) => {
      run(false);
      come(event + by);
      live.textContent = seen.textContent;
      if (by > 0 && events[event].bell !== null) ring(events[event].bell);
    };
    play.addEventListener("click", () => run(!running));
    next.addEventListener("click", () => step(1));
    before.addEventListener("click", () => step(-1));
    for (const link of links) link.addEventListener("click", (click) => {
      click.preventDefault();
      run(false);
      come(Number(link.dataset.first));
      live.textContent = seen.textContent;
    });
    for (const button of [play, next, before]) button.disabled = false;
    come(0);
  }

  // ---- A struck bell: five partials that die away, the higher the sooner; each bell lower than the one before it.

  let air = null;
  const bells = [];
  sound.addEventListener("click", () => {
    const on = sound.getAttribute("aria-pressed") !== "true";
    sound.setAttribute("aria-pressed", String(on));
    sound.textContent = on ? sound.dataset.quiet : sound.dataset.sound;
    if (on) air ??= new AudioContext();
    if (on) air.resume(); else air?.suspend();
  });

  function ring(bell) {
    if (sound.getAttribute("aria-pressed") !== "true") return;
    if (!bells.includes(bell)) bells.push(bell);
    const strike = 880 * 2 ** (-bells.indexOf(bell) / 6);
    for (const [of, loud, dies] of [[0.5, 0.25, 2.4], [1, 0.3, 1.8], [1.2, 0.18, 1.2], [1.5, 0.1, 0.8], [2, 0.2, 0.7]]) {
      const tone = new OscillatorNode(air, { frequency: strike * of });
      const level = new GainNode(air, { gain: 0 });
      level.gain.setValueAtTime(0.3 * loud, air.currentTime);
      level.gain.exponentialRampToValueAtTime(1e-4, air.currentTime + dies);
      tone.connect(level).connect(air.destination);
      tone.start();
      tone.stop(air.currentTime + dies);
    }
  }

  (async () => {
    try {
      const answer = await fetch(main.dataset.table);
      if (answer.ok) show(await answer.json());
      else seen.textContent = live.dataset.silent;
    } catch {
      seen.textContent = live.dataset.silent;
    }
  })();
}
