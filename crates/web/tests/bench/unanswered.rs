//! A step that gets no answer: it is said where the person looks, what was typed stays, and it can be tried again.

use crate::between::{Between, Fate};
use crate::browser::{
    SIZES, at_step, dark, goto, read, resize, shot, touch, until, value, with_browser,
};
use crate::names::{axe, wrong};
use crate::served::serve;
use thirtyfour::prelude::*;

/// That nobody answers is said by what is heard too, in sight, above what is touched next, on a page that can be touched.
const SAID: &str = "const told = document.querySelector('#unanswered'); const r = told.getBoundingClientRect(); \
    return told.checkVisibility() && told.getAttribute('role') === 'alert' && r.top >= 0 && r.bottom <= innerHeight \
    && told.nextElementSibling.matches('#say .touches') && !document.documentElement.hasAttribute('aria-busy') \
    && told.querySelector('p').textContent";
const UNSAID: &str = "return !document.querySelector('#unanswered').checkVisibility()";
const TYPED: &str = "return ['slot', 'pin'].map((name) => document.querySelector(`[name=\"${name}.deg\"]`).value).join()";

async fn patient(driver: &WebDriver, milliseconds: u32) {
    let script = format!("document.querySelector('#unanswered').dataset.patience = {milliseconds}");
    value(driver, &script).await;
}

async fn says(driver: &WebDriver, what: &str) {
    let script =
        format!("const it = (() => {{ {SAID} }})(); return it !== false && it.includes('{what}')");
    until(driver, &script).await;
}

/// The first look, typed and ready to be sent.
async fn looked(driver: &WebDriver, between: &Between) {
    goto(driver, between.address()).await;
    at_step(driver, "look").await;
    for (witness, degrees) in [("slot", "-1.2"), ("pin", "-75")] {
        read(driver, witness, degrees).await;
    }
}

#[test]
fn a_step_without_an_answer_says_so_and_is_tried_again() {
    let axe = axe();
    with_browser(async |driver| {
        for size in SIZES {
            let served = serve(&[]);
            let between = Between::before(&served);
            resize(driver, size).await;
            looked(driver, &between).await;
            patient(driver, 100).await;
            between.becomes(Fate::Held);
            touch(driver, "[data-next]").await;
            says(driver, "No answer yet").await;
            for night in [false, true] {
                dark(driver, night).await;
                if let Some(axe) = &axe {
                    let wrong = wrong(driver, axe).await;
                    assert!(wrong.is_empty(), "{}:\n{}", size.name, wrong.join("\n"));
                }
            }
            dark(driver, false).await;
            shot(driver, &format!("unanswered-{}", size.name)).await;
            assert_eq!(value(driver, TYPED).await, "-1.2,-75");
            // Once more in vain, by keys: the way to try again keeps the focus.
            value(
                driver,
                "document.querySelector('#unanswered p').textContent = ''",
            )
            .await;
            let again = driver.find(By::Css("#unanswered button")).await;
            again
                .expect("a way")
                .send_keys(Key::Enter.value().to_string())
                .await
                .expect("pressed");
            says(driver, "No answer yet").await;
            let focus = "return document.activeElement.matches('#unanswered button')";
            assert_eq!(value(driver, focus).await, true);
            assert_eq!(served.entries("/job/1"), "0");
            // What was held never comes; what is asked from now on is answered.
            between.becomes(Fate::Dropped);
            until(driver, "return document.querySelector('#unanswered p').textContent.includes('Is it still running?')").await;
            between.becomes(Fate::Passed);
            touch(driver, "#unanswered button").await;
            at_step(driver, "answer").await;
            until(driver, UNSAID).await;
            assert_eq!(served.entries("/job/1"), "1");
            // Nothing of it is left on what was left.
            driver.back().await.expect("back");
            at_step(driver, "look").await;
            assert_eq!(value(driver, TYPED).await, "-1.2,-75");
            until(driver, UNSAID).await;
        }
    });
}

#[test]
fn an_answer_that_comes_late_is_shown_all_the_same() {
    with_browser(async |driver| {
        let served = serve(&[]);
        let between = Between::before(&served);
        looked(driver, &between).await;
        patient(driver, 100).await;
        between.becomes(Fate::Held);
        touch(driver, "[data-next]").await;
        says(driver, "No answer yet").await;
        between.becomes(Fate::Passed);
        at_step(driver, "answer").await;
        until(driver, UNSAID).await;
        assert_eq!(served.entries("/job/1"), "1");
    });
}

#[test]
fn a_bench_that_is_gone_is_told_at_once() {
    with_browser(async |driver| {
        let served = serve(&[]);
        let mut between = Between::before(&served);
        looked(driver, &between).await;
        // By patience alone it would be said long after this test has given up.
        patient(driver, 600_000).await;
        between.goes();
        touch(driver, "[data-next]").await;
        says(driver, "Is it still running?").await;
        assert_eq!(value(driver, TYPED).await, "-1.2,-75");
        between.comes();
        touch(driver, "#unanswered button").await;
        at_step(driver, "answer").await;
        assert_eq!(served.entries("/job/1"), "1");
    });
}

#[test]
fn a_run_that_does_not_come_is_asked_for_again() {
    with_browser(async |driver| {
        let served = serve(&[]);
        let mut between = Between::before(&served);
        let address = format!("{}/job/1/strike", between.address());
        goto(driver, address).await;
        let ready = "return document.querySelector('#next').disabled === false";
        until(driver, ready).await;
        between.goes();
        // As if it were loaded anew, without what it needs.
        value(driver, "import('/script/answers.js').then(({ ask }) => ask('/job/1/strike/table', {}, ({ ok }) => { document.querySelector('#seen').textContent = ok; }))").await;
        let said = "const told = document.querySelector('#unanswered'); return told.checkVisibility() && told.nextElementSibling.matches('.player .touches')";
        until(driver, said).await;
        between.comes();
        touch(driver, "#unanswered button").await;
        until(
            driver,
            "return document.querySelector('#seen').textContent === 'true'",
        )
        .await;
    });
}
