//! What a drag costs, counted: whatever the hand does between two frames, a part is moved once in each, where the drawing lies is
//! asked once, and what nobody reads while it moves is written when the hand leaves. How long that takes is for a benchmark.

use crate::browser::{PHONE, at_step, goto, resize, value, with_browser};
use crate::served::serve;
use serde_json::{Value, json};

/// Carries what moves a quarter turn on about its middle, or along its slide, three moves to a frame. The browser's timers stand
/// still meanwhile: to them the hand never rests.
const DRAG: &str = r"
const [witness, done] = arguments;
const FRAMES = 60;
const hold = document.querySelector('#loupe-' + witness);
hold.scrollIntoView({ block: 'center' });
const svg = hold.querySelector('svg'), moving = hold.querySelector('.moving');
const field = hold.closest('.close-up'), number = field.querySelector('.number input');
const onPlate = document.querySelector(`#witness-${witness} .turn`);
const motion = Object.fromEntries(Object.entries(moving.dataset).map(([name, text]) => [name, Number(text)]));
const slides = motion.dx !== undefined;
const inWindow = (x, y) => new DOMPoint(x, y).matrixTransform(svg.getScreenCTM());
const hand = (part) => {
  if (slides) return inWindow(part * motion.dx * 9, part * motion.dy * 9);
  const turned = part * motion.turn * Math.PI / 2;
  return inWindow(motion.cx + 40 * Math.cos(turned), motion.cy + 40 * Math.sin(turned));
};
let asked = 0;
const frameOf = svg.getBoundingClientRect.bind(svg);
svg.getBoundingClientRect = () => { asked++; return frameOf(); };
hold.setPointerCapture = () => {};
const tell = (type, part) => { const { x, y } = hand(part); hold.dispatchEvent(new PointerEvent(type, { pointerId: 1, button: type === 'pointermove' ? -1 : 0, clientX: x, clientY: y, bubbles: true })); };
const counts = { moved: 0, plate: 0, told: 0, written: 0 };
const count = new MutationObserver((changes) => {
  for (const { target, attributeName: name } of changes) {
    if (target === moving && name === 'transform') counts.moved++;
    if (target === onPlate && name === 'transform') counts.plate++;
    if (name === 'aria-valuenow' || name === 'aria-valuetext') counts.told++;
  }
});
count.observe(document.querySelector('#main'), { attributes: true, subtree: true });
const timers = [window.setTimeout, window.clearTimeout];
window.setTimeout = () => 0;
window.clearTimeout = () => {};
const from = Number(hold.dataset.place), empty = number.value;
let frame = 0;
tell('pointerdown', 0);
function next() {
  for (const third of [1, 2, 3]) tell('pointermove', (frame + third / 3) / FRAMES);
  if (number.value !== empty) counts.written++;
  requestAnimationFrame(() => {
    if (++frame < FRAMES) { next(); return; }
    const during = { ...counts };
    for (const { target, attributeName: name } of count.takeRecords()) if (target === moving && name === 'transform') during.moved++;
    tell('pointerup', 1);
    [window.setTimeout, window.clearTimeout] = timers;
    const [, least, most] = [0, hold.dataset.least, hold.dataset.most].map(Number);
    done({ ...during, asked, frames: FRAMES, carried: slides ? 9 : 90, from, least, most, number: Number(number.value), now: Number(hold.getAttribute('aria-valuenow')), turns: onPlate !== null });
  });
}
next();
";

#[test]
fn in_a_frame_of_dragging_a_part_is_moved_once_and_nothing_is_written() {
    with_browser(async |driver| {
        let served = serve(&[]);
        resize(driver, PHONE).await;
        goto(driver, served.address()).await;
        at_step(driver, "look").await;
        for witness in ["slot", "star", "pin"] {
            let got = driver.execute_async(DRAG, vec![json!(witness)]).await;
            let got = got.expect("dragged").json().clone();
            let of = |name: &str| {
                got[name]
                    .as_f64()
                    .unwrap_or_else(|| panic!("{name}: {got}"))
            };
            // The last move may be counted a frame late.
            assert!(
                of("moved") >= of("frames") - 1.0 && of("moved") <= of("frames"),
                "{witness}: {got}"
            );
            assert!(of("plate") <= of("frames"), "{witness}: {got}");
            assert_eq!(
                (&got["told"], &got["written"]),
                (&json!(0), &json!(0)),
                "{witness}: {got}"
            );
            assert_eq!(got["asked"], 1, "{witness}: {got}");
            // As far as the hand went about it, in the one period that is shown; to the figures that are written.
            let period = of("most") - of("least");
            let stands =
                of("least") + (of("from") + of("carried") - of("least")).rem_euclid(period);
            assert!(
                (of("number") - stands).abs() < 0.5,
                "{witness} stands at {stands}: {got}"
            );
            assert_eq!(got["number"], got["now"], "{witness}");
            let state = format!(
                "return document.querySelector('#loupe-{witness}').closest('.close-up').dataset.state"
            );
            assert_ne!(value(driver, &state).await, Value::from("unread"));
        }
    });
}
