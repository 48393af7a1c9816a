//! What hands do with a screen: a finger that drags, a voice that is asked for, a screen that must not sleep.

use crate::browser::{SIZES, at_step, goto, resize, shot, touch, until, value, with_browser};
use crate::served::serve;
use serde_json::json;
use thirtyfour::prelude::*;

/// A finger on the screen, as the browser hears of it from the machine.
async fn finger(driver: &WebDriver, what: &str, at: Option<(f64, f64)>) {
    let points: Vec<_> = at.iter().map(|(x, y)| json!({ "x": x, "y": y })).collect();
    driver
        .cdp()
        .send_raw(
            "Input.dispatchTouchEvent",
            json!({ "type": what, "touchPoints": points }),
        )
        .await
        .expect("touched");
}

async fn middle(driver: &WebDriver, selector: &str) -> (f64, f64, f64) {
    let script = format!(
        "const e = document.querySelector('{selector}'); e.scrollIntoView({{ block: 'center' }}); \
         const r = e.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2, r.width]"
    );
    let got = value(driver, &script).await;
    let number = |i: usize| got[i].as_f64().expect("a number");
    (number(0), number(1), number(2))
}

/// A finger that drags in a close-up moves what is drawn there as far as it went, and the page does not scroll away.
#[test]
fn a_finger_drags_what_is_seen() {
    with_browser(async |driver| {
        let served = serve(&[]);
        resize(driver, SIZES[0]).await;
        let touching = json!({ "enabled": true, "maxTouchPoints": 1 });
        driver
            .cdp()
            .send_raw("Emulation.setTouchEmulationEnabled", touching)
            .await
            .expect("touched");
        goto(driver, served.address()).await;
        at_step(driver, "look").await;
        let (x, y, wide) = middle(driver, "#loupe-slot").await;
        let before = value(driver, "return scrollY").await;
        let went = 24.0;
        finger(driver, "touchStart", Some((x, y))).await;
        for step in 1..=6 {
            let at = x - went * f64::from(step) / 6.0;
            finger(driver, "touchMove", Some((at, y))).await;
        }
        finger(driver, "touchEnd", None).await;
        until(
            driver,
            "return document.querySelector('#read-slot').dataset.state !== 'unread'",
        )
        .await;
        // As far on the screen as the finger: read from the drawing's own units, and from what a degree is in it.
        let script = "const hold = document.querySelector('#loupe-slot'); const box = hold.querySelector('svg').viewBox.baseVal; \
            return [Number(hold.getAttribute('aria-valuenow')), Number(hold.querySelector('.moving').dataset.dx), box.width]";
        let got = value(driver, script).await;
        let number = |i: usize| got[i].as_f64().expect("a number");
        let moved = number(0) * number(1) * wide / number(2);
        // A browser lets a finger slip a little before it takes it for a drag.
        assert!(
            moved < -went + 16.0 && moved > -went - 1.0,
            "the finger went {went}, the slot {moved}"
        );
        assert_eq!(value(driver, "return scrollY").await, before);

        // Across the close-up, up and down, the page still scrolls.
        finger(driver, "touchStart", Some((x, y))).await;
        for step in 1..=12 {
            finger(driver, "touchMove", Some((x, y - 10.0 * f64::from(step)))).await;
        }
        finger(driver, "touchEnd", None).await;
        let scrolled = format!("return scrollY > {before} + 40");
        until(driver, &scrolled).await;
        shot(driver, "phone-8-dragged").await;
    });
}

/// Told on every page before its own script: what it asks of the machine is written down here.
const WRITTEN: &str = "window.asked = []; \
    navigator.wakeLock.request = (what) => { asked.push('awake: ' + what); return Promise.resolve({}); }; \
    speechSynthesis.speak = (said) => asked.push('aloud (' + said.lang + '): ' + said.text); ";

#[test]
fn the_answer_is_read_aloud_and_the_screen_stays_awake() {
    with_browser(async |driver| {
        let served = serve(&[]);
        resize(driver, SIZES[0]).await;
        driver
            .cdp()
            .send_raw(
                "Page.addScriptToEvaluateOnNewDocument",
                json!({ "source": WRITTEN }),
            )
            .await
            .expect("written down");
        goto(driver, format!("{}/jobs", served.address())).await;
        until(driver, "return document.readyState === 'complete'").await;
        assert_eq!(
            value(driver, "return asked").await,
            json!([]),
            "nothing is open"
        );
        assert_eq!(
            value(
                driver,
                "return document.querySelector('#aloud').checkVisibility()"
            )
            .await,
            false
        );
        served.post(
            "/job/1/saw",
            &[
                ("entries", "0"),
                ("slot.deg", "-1.2"),
                ("star.deg", "-10"),
                ("pin.deg", "-75"),
            ],
        );
        goto(driver, served.address()).await;
        at_step(driver, "answer").await;
        until(driver, "return asked.includes('awake: screen')").await;
        assert_eq!(
            value(
                driver,
                "return asked.filter(a => a.startsWith('aloud')).length"
            )
            .await,
            0,
            "only on request"
        );
        touch(driver, "#aloud").await;
        let said = value(driver, "return asked[asked.length - 1]").await;
        let said = said.as_str().expect("said");
        assert!(
            said.starts_with("aloud (en-US): Lift the second arbor. Two teeth counterclockwise")
                && said.contains("Hold the third arbor still"),
            "{said}"
        );
        // Away and back again: awake once more.
        let back = "asked.length = 0; document.dispatchEvent(new Event('visibilitychange'))";
        value(driver, back).await;
        until(driver, "return asked.includes('awake: screen')").await;
    });
}

/// Where the machine grants nothing of it, the page goes on.
#[test]
fn a_machine_that_refuses_to_stay_awake_hinders_nothing() {
    with_browser(async |driver| {
        let served = serve(&[]);
        let refuse = "navigator.wakeLock.request = () => Promise.reject(new DOMException('no', 'NotAllowedError')); \
            window.failed = []; addEventListener('unhandledrejection', (e) => failed.push('' + e.reason)); addEventListener('error', (e) => failed.push(e.message));";
        driver
            .cdp()
            .send_raw(
                "Page.addScriptToEvaluateOnNewDocument",
                json!({ "source": refuse }),
            )
            .await
            .expect("refused");
        goto(driver, served.address()).await;
        at_step(driver, "look").await;
        touch(driver, "#read-slot .picture:nth-child(2)").await;
        until(
            driver,
            "return document.querySelector('#read-slot').dataset.state !== 'unread'",
        )
        .await;
        assert_eq!(value(driver, "return failed").await, json!([]));
    });
}
