//! Names, roles and contrast by axe-core, on every state, light and dark. <https://github.com/dequelabs/axe-core>

use crate::browser::{SIZES, at_step, dark, goto, resize, root, touch, until, value, with_browser};
use crate::served::serve;
use serde_json::Value;
use thirtyfour::prelude::*;

pub(crate) fn axe() -> Option<String> {
    let file = root().join("target/outside/node_modules/axe-core/axe.min.js");
    let read = std::fs::read_to_string(&file);
    if read.is_err() {
        assert!(
            std::env::var_os("TRUNDLE_PROVE").is_none(),
            "{} is needed: npm ci, as ./prove does",
            file.display()
        );
        println!("no axe-core under target/outside: not tried");
    }
    read.ok()
}

/// What axe finds wrong, a line each.
pub(crate) async fn wrong(driver: &WebDriver, axe: &str) -> Vec<String> {
    wrong_by(driver, axe, "{ resultTypes: ['violations'] }").await
}

/// What axe finds wrong with colours alone.
pub(crate) async fn contrast(driver: &WebDriver, axe: &str) -> Vec<String> {
    let rules = "{ resultTypes: ['violations'], runOnly: ['color-contrast'] }";
    wrong_by(driver, axe, rules).await
}

async fn wrong_by(driver: &WebDriver, axe: &str, rules: &str) -> Vec<String> {
    // Given to the page from without, as its own policy would refuse it.
    if value(driver, "return window.axe === undefined").await == Value::Bool(true) {
        value(driver, axe).await;
    }
    let run = format!(
        "const done = arguments[0]; axe.run(document, {rules}).then(r => done( \
        r.violations.flatMap(v => v.nodes.map(n => v.id + ': ' + n.target.join(' ') + ' — ' + n.failureSummary))), e => done(['' + e]))"
    );
    let got = driver
        .execute_async(run, Vec::<Value>::new())
        .await
        .expect("it ran");
    let lines = got.json().as_array().cloned().unwrap_or_default();
    lines
        .iter()
        .filter_map(|l| l.as_str().map(str::to_owned))
        .collect()
}

#[test]
fn every_state_has_names_and_contrast_light_and_dark() {
    let Some(axe) = axe() else { return };
    with_browser(async |driver| {
        let each = SIZES
            .iter()
            .flat_map(|size| [(*size, false), (*size, true)]);
        for (size, night) in each {
            let served = serve(&[]);
            resize(driver, size).await;
            dark(driver, night).await;
            let check = async |state: &str| {
                let wrong = wrong(driver, &axe).await;
                assert!(
                    wrong.is_empty(),
                    "{state}, {}, dark {night}:\n{}",
                    size.name,
                    wrong.join("\n")
                );
            };
            goto(driver, served.address()).await;
            at_step(driver, "look").await;
            check("fresh").await;
            value(
                driver,
                "for (const d of document.querySelectorAll('details')) d.open = true",
            )
            .await;
            check("all unfolded").await;
            touch(driver, ".how").await;
            check("how to look").await;
            touch(driver, ".panel:popover-open button").await;
            for (witness, picture) in [("slot", 2), ("star", 2), ("pin", 3)] {
                touch(
                    driver,
                    &format!("#read-{witness} .picture:nth-child({picture})"),
                )
                .await;
            }
            check("read").await;
            served.post(
                "/job/1/saw",
                &[
                    ("entries", "0"),
                    ("slot.deg", "-1.2"),
                    ("slot.sure", "sure"),
                    ("star.deg", "-10"),
                    ("star.sure", "sure"),
                    ("pin.deg", "-75"),
                ],
            );
            goto(driver, served.address()).await;
            at_step(driver, "answer").await;
            check("answer").await;
            touch(driver, ".touches a[href$=jumped]").await;
            at_step(driver, "jumped").await;
            check("jumped").await;
            served.post("/job/1/done", &[("entries", "1")]);
            goto(driver, served.address()).await;
            at_step(driver, "look").await;
            check("done").await;
            served.post("/job/1/out", &[("entries", "2"), ("arbor", "fly")]);
            goto(driver, served.address()).await;
            at_step(driver, "answer").await;
            check("an arbor out").await;
            // It goes in first; what is in can be looked at all the same.
            touch(driver, ".touches a[href$=look]").await;
            at_step(driver, "look").await;
            value(
                driver,
                "document.querySelector('#read-slot .number input').value = 'about here'",
            )
            .await;
            touch(driver, "[data-next]").await;
            until(
                driver,
                "return document.querySelector('.refused') !== null && !document.documentElement.hasAttribute('aria-busy')",
            )
            .await;
            check("refused").await;
            served.post("/job/1/in", &[("entries", "3"), ("arbor", "fly")]);
            served.post(
                "/job/1/saw",
                &[
                    ("entries", "4"),
                    ("slot.deg", "0"),
                    ("star.deg", "0"),
                    ("pin.deg", "-74"),
                ],
            );
            goto(driver, served.address()).await;
            at_step(driver, "answer").await;
            check("all in its window").await;
            goto(driver, format!("{}/jobs", served.address())).await;
            check("the list").await;
            goto(driver, format!("{}/nowhere", served.address())).await;
            check("nothing there").await;
        }
    });
}

#[test]
fn a_planted_fault_is_found() {
    let Some(axe) = axe() else { return };
    with_browser(async |driver| {
        let served = serve(&[]);
        goto(driver, served.address()).await;
        at_step(driver, "look").await;
        let plant = "const b = document.createElement('button'); b.id = 'planted'; document.querySelector('main').append(b)";
        value(driver, plant).await;
        let found = wrong(driver, &axe).await;
        assert!(
            found
                .iter()
                .any(|l| l.starts_with("button-name") && l.contains("#planted")),
            "{found:?}"
        );
    });
}
