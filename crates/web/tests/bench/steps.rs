//! Back and Forward: after every step what stood there before and after, as it stood, without another entry of the browser's
//! history and without sending a form again.

use crate::browser::{
    PHONE, at_step, goto, in_degrees, resize, shot, source, touch, until, value, with_browser,
};
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
use crate::told::is_counted;
use serde_json::Value;
use thirtyfour::prelude::*;

/// What somebody at the bench has before them: the address, the sentence, which way it lies, the log, what is typed, how far
/// down it is scrolled.
const SEEN: &str = "const text = (what) => document.querySelector(what)?.innerText; \
    return [location.pathname + location.search, document.title, text('#sentence'), text('#beneath'), text('.about'), text('.log'), \
    [...document.querySelectorAll('.number input')].map((field) => field.value), \
    [...document.querySelectorAll('.close-up .words')].map((words) => words.textContent), \
    [...document.querySelectorAll('.sure input:checked')].map((chosen) => chosen.value), Math.round(scrollY)]";

const LENGTH: &str = "return history.length";
const SETTLED: &str = "return !document.documentElement.hasAttribute('aria-busy')";
/// That it is a page from before is in sight, wherever the page is scrolled to.
const EARLIER: &str = "const told = document.querySelector('#earlier'), r = told.getBoundingClientRect(); \
    return told.checkVisibility() && r.top >= 0 && r.bottom <= innerHeight";

async fn typed(driver: &WebDriver, witness: &str, degrees: &str) {
    in_degrees(driver, witness).await;
    let field = driver.find(By::Name(format!("{witness}.deg"))).await;
    let field = field.expect("a field");
    field.clear().await.expect("emptied");
    field.send_keys(degrees).await.expect("typed");
}

/// Goes on by a touch, and gives what stood there just before it.
async fn on(driver: &WebDriver, touched: &str, step: &str) -> Value {
    let entries = "return document.querySelector('main').dataset.step + history.length";
    let before = value(driver, entries).await;
    // In sight already when it is counted how far down the page is.
    let sight =
        format!("document.querySelector(\"{touched}\").scrollIntoView({{ block: 'center' }})");
    value(driver, &sight).await;
    let stood = value(driver, SEEN).await;
    value(
        driver,
        &format!("document.querySelector(\"{touched}\").click()"),
    )
    .await;
    until(
        driver,
        &format!(
            "return document.querySelector('main').dataset.step + history.length !== {before}"
        ),
    )
    .await;
    at_step(driver, step).await;
    stood
}

/// The round with two jumps of the hand: what stood at each step, the last of them included.
async fn round(driver: &WebDriver, served: &Served) -> Vec<Value> {
    goto(driver, served.address()).await;
    at_step(driver, "look").await;
    touch(driver, "#read-slot .picture:nth-child(2)").await;
    typed(driver, "star", "-10").await;
    typed(driver, "pin", "-75").await;
    touch(driver, "#read-pin .sure label:first-child").await;
    let stood = [
        on(driver, ".touches [data-next]", "answer").await,
        on(driver, ".lies [value=plate]", "answer").await,
        on(driver, ".touches a[href$=jumped]", "jumped").await,
        on(driver, "#which button[value=fourth]", "look").await,
        on(driver, "form[action$='/undo'] button", "answer").await,
        on(driver, "form[action$='/done'] button", "look").await,
    ];
    let last = value(driver, SEEN).await;
    stood.into_iter().chain([last]).collect()
}

async fn is_before_them(driver: &WebDriver, stood: &Value, which: usize) {
    let address = stood[0].as_str().expect("an address");
    let sentence = &stood[2];
    until(driver, &format!("return location.pathname + location.search === '{address}' && document.querySelector('#sentence').innerText === {sentence} && !document.documentElement.hasAttribute('aria-busy')")).await;
    assert_eq!(&value(driver, SEEN).await, stood, "page {which}");
    let focus = value(driver, "return document.activeElement.id").await;
    assert_eq!(focus, "sentence", "page {which}");
}

#[test]
fn back_and_forward_go_over_the_steps_as_they_stood() {
    let axe = axe();
    with_browser(async |driver| {
        let served = serve(&[]);
        resize(driver, PHONE).await;
        let stood = round(driver, &served).await;
        for (one, next) in stood.iter().zip(&stood[1..]) {
            assert_ne!(one, next, "each step shows something else");
        }
        let (long, entries) = (value(driver, LENGTH).await, served.entries("/job/1"));
        let last = stood.len() - 1;
        for which in (0..last).rev() {
            driver.back().await.expect("back");
            is_before_them(driver, &stood[which], which).await;
            // Before the last entry: what it advises was done by now, and it says so.
            assert_eq!(value(driver, EARLIER).await, true, "page {which}");
        }
        shot(driver, "steps-earlier-phone").await;
        if let Some(axe) = &axe {
            let wrong = wrong(driver, axe).await;
            assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        }
        for (which, stood) in stood.iter().enumerate().skip(1) {
            driver.forward().await.expect("forward");
            is_before_them(driver, stood, which).await;
            assert_eq!(value(driver, EARLIER).await, which != last, "page {which}");
        }
        assert_eq!(value(driver, LENGTH).await, long, "no entry more");
        assert_eq!(served.entries("/job/1"), entries, "nothing sent again");
    });
}

#[test]
fn what_stood_before_enters_nothing_and_leads_to_how_it_stands() {
    with_browser(async |driver| {
        let served = serve(&[]);
        let stood = round(driver, &served).await;
        let entries = served.entries("/job/1");
        for which in (1..stood.len() - 1).rev() {
            driver.back().await.expect("back");
            is_before_them(driver, &stood[which], which).await;
        }
        let long = value(driver, LENGTH).await;
        // An old advice, told as done.
        touch(driver, "form[action$='/done'] button").await;
        source(driver, "The log has moved on since this page was drawn").await;
        assert_eq!(served.entries("/job/1"), entries);
        assert_eq!(
            value(driver, LENGTH).await,
            long,
            "what is refused is no step"
        );
        assert_eq!(value(driver, EARLIER).await, false, "it is how it stands");
        driver.back().await.expect("back");
        is_before_them(driver, &stood[0], 0).await;
        touch(driver, "#earlier a").await;
        until(
            driver,
            "return document.querySelector('.log').innerText.includes('Done: second')",
        )
        .await;
        assert_eq!(value(driver, EARLIER).await, false);
        // The way on was cut off behind it, as ever when another way is taken.
        assert_eq!(
            value(driver, LENGTH).await,
            3,
            "a new window's own, the first page, and this"
        );
    });
}

#[test]
fn what_is_no_longer_at_hand_is_asked_for_again() {
    with_browser(async |driver| {
        let served = serve(&[]);
        round(driver, &served).await;
        let (long, entries) = (value(driver, LENGTH).await, served.entries("/job/1"));
        driver.refresh().await.expect("loaded anew");
        at_step(driver, "look").await;
        // Back over the way the arbor jumped, by its address; then over a place on the same page, which is no step.
        for step in ["answer", "look", "jumped"] {
            driver.back().await.expect("back");
            until(driver, SETTLED).await;
            if step == "jumped" {
                at_step(driver, step).await;
            }
        }
        assert_eq!(value(driver, LENGTH).await, long);
        assert_eq!(served.entries("/job/1"), entries);
        value(driver, "document.querySelector('a.skip').click()").await;
        until(driver, "return location.hash === '#sentence' && document.querySelector('main').dataset.step === 'jumped'").await;
        driver.back().await.expect("back");
        until(driver, "return location.hash === '' && document.querySelector('main').dataset.step === 'jumped'").await;
        assert_eq!(served.entries("/job/1"), entries);
    });
}

#[test]
fn stages_are_gone_over_too() {
    with_browser(async |driver| {
        let served = serve(&[]);
        goto(driver, served.address()).await;
        at_step(driver, "look").await;
        typed(driver, "slot", "-1.2").await;
        touch(driver, "p.whole a.button").await;
        until(driver, "return location.pathname === '/job/1/way'").await;
        let way = value(driver, "return document.querySelector('h1').innerText").await;
        driver.back().await.expect("back");
        at_step(driver, "look").await;
        let kept = "return document.querySelector('[name=\"slot.deg\"]').value";
        assert_eq!(value(driver, kept).await, "-1.2", "what was typed stays");
        driver.forward().await.expect("forward");
        until(driver, "return location.pathname === '/job/1/way'").await;
        assert_eq!(
            value(driver, "return document.querySelector('h1').innerText").await,
            way
        );
        let long = value(driver, LENGTH).await.as_u64().expect("a number");
        // From stage to stage pages are loaded whole: the browser goes over them by itself.
        let at = |stage: &str| {
            format!(
                "return document.readyState === 'complete' && location.search.startsWith('?stage={stage}')"
            )
        };
        for stage in ["prove", "rate"] {
            touch(driver, &format!("a[href*='stage={stage}']")).await;
            until(driver, &at(stage)).await;
        }
        driver.back().await.expect("back");
        until(driver, &at("prove")).await;
        driver.back().await.expect("back");
        until(
            driver,
            "return location.pathname === '/job/1/way' && location.search === ''",
        )
        .await;
        driver.back().await.expect("back");
        at_step(driver, "look").await;
        for _ in 0..3 {
            driver.forward().await.expect("forward");
            until(driver, SETTLED).await;
        }
        until(driver, &at("rate")).await;
        assert_eq!(value(driver, LENGTH).await, long + 2);
        assert_eq!(served.entries("/job/1"), "0");
    });
}

/// A rack of one's own, at the first of its counts.
async fn counting_begins(driver: &WebDriver) -> Served {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    is_counted(&served, "rack");
    goto(driver, format!("{}/job/2/movement", served.address())).await;
    at_step(driver, "count").await;
    served
}

#[test]
fn a_count_that_is_entered_takes_one_request_and_stands_where_it_leads_to() {
    with_browser(async |driver| {
        let served = counting_begins(driver).await;
        let counted = async |count: &str| {
            let at = "return document.querySelector('[name=at]').value";
            let before = value(driver, at).await;
            value(driver, "performance.clearResourceTimings()").await;
            let typed = format!(
                "document.querySelector('#count').value = {count}; document.querySelector('[data-next]').click()"
            );
            value(driver, &typed).await;
            until(
                driver,
                &format!("return document.querySelector('[name=at]').value !== {before}"),
            )
            .await;
            until(driver, SETTLED).await;
            before
        };
        let asked = "return performance.getEntriesByType('resource').map((one) => new URL(one.name).pathname)";
        let here = "return location.pathname + location.search";
        let first = counted("96").await;
        assert_eq!(
            value(driver, asked).await,
            serde_json::json!(["/job/2/movement/count"])
        );
        let place = format!("/job/2/movement?from={}", first.as_str().expect("a part"));
        assert_eq!(value(driver, here).await, place.as_str());
        // Loaded anew it is asked for where it stands, and nothing is sent again.
        let (entries, seen) = (served.entries("/job/2/movement"), value(driver, SEEN).await);
        driver.refresh().await.expect("loaded anew");
        at_step(driver, "count").await;
        assert_eq!(value(driver, SEEN).await, seen);
        assert_eq!(served.entries("/job/2/movement"), entries);
    });
}

#[test]
fn a_count_that_back_brought_is_altered_and_what_was_typed_is_still_there() {
    with_browser(async |driver| {
        let served = counting_begins(driver).await;
        let asks = async |part: &str| {
            let at = format!("return document.querySelector('[name=at]')?.value === '{part}'");
            until(driver, &at).await;
            until(driver, SETTLED).await;
        };
        let figure = async |figure: &str| touch(driver, &format!("[data-digit='{figure}']")).await;
        let field = "return document.querySelector('#count').value + ' ' + document.querySelector('#asked-figure').textContent";
        asks("great.wheel").await;
        figure("8").await;
        figure("9").await;
        touch(driver, "[data-next]").await;
        asks("pins.pinion").await;
        // Typed, and not entered.
        figure("7").await;
        driver.back().await.expect("back");
        asks("great.wheel").await;
        assert_eq!(value(driver, field).await, "89 89", "as it was counted");
        figure("9").await;
        figure("6").await;
        assert_eq!(value(driver, field).await, "96 96", "typed anew");
        touch(driver, "[data-next]").await;
        asks("pins.pinion").await;
        assert_eq!(
            value(driver, "return !!document.querySelector('.refused')").await,
            false
        );
        assert!(served.get("/job/2/movement").body.contains("= 96"));
        // Back over what was counted since, and to where something was typed before.
        driver.back().await.expect("back");
        asks("great.wheel").await;
        figure("5").await;
        driver.forward().await.expect("forward");
        asks("pins.pinion").await;
        figure("8").await;
        touch(driver, "[data-next]").await;
        asks("pins.wheel").await;
        for _ in 0..2 {
            driver.back().await.expect("back");
            until(driver, SETTLED).await;
        }
        asks("great.wheel").await;
        assert_eq!(value(driver, field).await, "5 5", "what was typed stays");
    });
}
