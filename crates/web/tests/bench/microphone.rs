//! Listening to a microphone: live through one that Chromium makes up from a file, refused and absent, and within bounds.

use crate::browser::{
    SIZES, dark, resize, shot, touch, until, until_within, value, with_browser, with_flags,
};
use crate::listening::{PAGE, TICKING, at_answer, kept, open, says, served};
use crate::names::{axe, wrong};
use crate::served::{Answer, ask};
use serde_json::json;
use std::path::Path;
use std::time::Duration;
use thirtyfour::WebDriver;

/// Chromium's own made-up microphone plays a file; nobody is asked whether it may.
fn fake(file: &Path) -> [String; 3] {
    [
        "--use-fake-ui-for-media-stream".to_owned(),
        "--use-fake-device-for-media-stream".to_owned(),
        format!("--use-file-for-fake-audio-capture={}", file.display()),
    ]
}

/// Listens until the sentence so far has come by itself, and marks the left end of the swing.
async fn listened(driver: &WebDriver) {
    touch(driver, "#listen-now").await;
    until(
        driver,
        "return document.querySelector('#so-long').textContent.includes('heard')",
    )
    .await;
    assert!(says(driver, "#hearing").await.contains("heard"));
    // As many seconds as it takes to hear so many beats.
    until_within(
        driver,
        "return document.querySelector('#so-far').textContent.includes('Out of beat by')",
        Duration::from_secs(60),
    )
    .await;
    touch(driver, "#left-end").await;
    assert!(
        says(driver, "#marked")
            .await
            .starts_with("Marked: left at ")
    );
}

#[test]
fn the_microphone_is_listened_to_live() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = kept(folder.path(), "microphone.wav", &TICKING);
    let flags = fake(&file);
    let flags: Vec<&str> = flags.iter().map(String::as_str).collect();
    let axe = axe();
    with_flags(&flags, async |driver| {
        let served = served();
        resize(driver, SIZES[0]).await;
        open(driver, &served, PAGE).await;
        listened(driver).await;
        for night in [false, true] {
            dark(driver, night).await;
            if let Some(axe) = &axe {
                let wrong = wrong(driver, axe).await;
                assert!(wrong.is_empty(), "{}", wrong.join("\n"));
            }
            shot(
                driver,
                &format!("listen-live-phone{}", if night { "-night" } else { "" }),
            )
            .await;
        }
        touch(driver, "#stop-now").await;
        at_answer(driver).await;
        // A browser busy with being looked over may drop some sound: what is said is asked of one left in peace.
        open(driver, &served, PAGE).await;
        listened(driver).await;
        touch(driver, "#stop-now").await;
        at_answer(driver).await;
        let said = says(driver, "h1").await;
        assert!(said.contains("Out of beat by "), "{said}");
        assert!(
            says(driver, ".to-do")
                .await
                .contains("Move the foot of the crutch to the ")
        );
        let address = driver.current_url().await.expect("an address");
        assert!(
            address
                .query()
                .is_some_and(|query| query.contains("left-at=")),
            "{address}"
        );
        until(
            driver,
            "return document.querySelector('#played').readyState >= 1",
        )
        .await;
    });
}

#[test]
fn a_microphone_that_is_refused_or_absent_is_explained() {
    // None is there, and none is made up.
    with_browser(async |driver| {
        let served = served();
        resize(driver, SIZES[0]).await;
        for (fault, told) in [
            (
                "NotAllowedError",
                "The browser was not allowed to use the microphone. Allow it for this page",
            ),
            ("NotFoundError", "No microphone was found."),
            ("NotReadableError", "The microphone could not be opened"),
        ] {
            open(driver, &served, PAGE).await;
            let script = format!(
                "navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', '{fault}'))"
            );
            value(driver, &script).await;
            touch(driver, "#listen-now").await;
            until(driver, "return document.querySelector('.refused') !== null").await;
            let said = says(driver, ".refused").await;
            assert!(
                said.starts_with(told)
                    && said.contains("record with the phone and choose the file"),
                "{said}"
            );
            shot(driver, &format!("listen-{fault}-phone")).await;
        }
    });
    // A browser that has one, and was told no.
    with_flags(&["--use-fake-device-for-media-stream"], async |driver| {
        let served = served();
        let no = json!({ "permission": { "name": "microphone" }, "setting": "denied", "origin": served.address() });
        let set = driver.cdp().send_raw("Browser.setPermission", no).await;
        set.expect("it is refused");
        open(driver, &served, PAGE).await;
        touch(driver, "#listen-now").await;
        until(driver, "return document.querySelector('.refused') !== null").await;
        let said = says(driver, ".refused").await;
        assert!(said.starts_with("The browser was not allowed"), "{said}");
        let ready = "const now = document.querySelector('#listen-now'); return !now.disabled && now.checkVisibility()";
        until(driver, ready).await;
    });
}

#[test]
fn what_a_microphone_brings_has_bounds() {
    let served = served();
    let begin = || served.post("/job/1/listen/live", &[("rate", "48000")]);
    let at = |answer: &Answer| -> String {
        let told: serde_json::Value = serde_json::from_str(&answer.body).expect("JSON");
        told["at"].as_str().expect("an address").to_owned()
    };
    assert_eq!(
        served.post("/job/1/listen/live", &[("rate", "1")]).status,
        422
    );
    let first = at(&begin());
    begin();
    assert_eq!(begin().status, 422, "a third");
    let part = |address: &str, from: u64| {
        let body = "\0".repeat(4 * 1_000);
        let request = format!(
            "POST {address}?from={from} HTTP/1.1\r\nHost: 127.0.0.1:{0}\r\nOrigin: http://127.0.0.1:{0}\r\n\
             Content-Length: {1}\r\nConnection: close\r\n\r\n{body}",
            served.port,
            body.len()
        );
        let told: serde_json::Value =
            serde_json::from_str(&ask(served.v4(), &request).body).expect("JSON");
        told["samples"].as_u64().expect("a number")
    };
    assert_eq!(part(&first, 0), 1_000);
    assert_eq!(part(&first, 0), 1_000, "not twice");
    assert_eq!(part(&first, 5_000), 1_000, "no gap");
    assert_eq!(part(&first, 1_000), 2_000);
    let end = served.post(&format!("{first}/end"), &[]);
    assert_eq!(end.status, 422);
    assert!(end.body.contains("too short"), "{}", end.body);
    assert_eq!(served.post(&format!("{first}/end"), &[]).status, 404);
    assert_eq!(begin().status, 200, "there is room again");
}
