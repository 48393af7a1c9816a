//! The strike shown running: every event in its order, what a frame moves, and the page on all sizes and in other words.

use crate::browser::{SIZES, dark, goto, resize, shot, touch, until, value, with_browser};
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
use crate::tongues::{bare, speak, unfit};
use serde_json::Value;
use thirtyfour::prelude::*;

const PAGE: &str = "/job/1/strike";
const READY: &str = "return document.querySelector('#next')?.disabled === false";

async fn open(driver: &WebDriver, served: &Served, query: &str) {
    let address = format!("{}{PAGE}{query}", served.address());
    goto(driver, address).await;
    until(driver, READY).await;
}

/// Time goes a quarter of a second a frame, as often as the browser can; what is shown is kept.
const HURRIED: &str = r"
const done = arguments[0];
const main = document.querySelector('main'), seen = document.querySelector('#seen');
const shown = [[Number(main.dataset.event), seen.textContent]];
new MutationObserver(() => shown.push([Number(main.dataset.event), seen.textContent]))
  .observe(main, { attributes: true, attributeFilter: ['data-event'] });
let at = 0, hushed;
window.requestAnimationFrame = (frame) => { clearTimeout(hushed); hushed = setTimeout(() => done(shown), 1500); queueMicrotask(() => 0); const c = new MessageChannel(); c.port1.onmessage = () => frame(at += 250); c.port2.postMessage(0); };
document.querySelector('[name=pace][value=\x221\x22]').click();
document.querySelector('#play').click();
";

#[test]
fn every_event_is_shown_in_its_order() {
    with_browser(async |driver| {
        let served = serve(&[]);
        let sheet = include_bytes!("../../../../movements/schoolroom.toml");
        for (query, wrongs) in [
            ("", tasks::Wrongs::default()),
            (
                "?missing=pins&missing-n=1",
                tasks::Wrongs {
                    missing: vec!["pins:1".to_owned()],
                    ..tasks::Wrongs::default()
                },
            ),
        ] {
            open(driver, &served, query).await;
            let proved = tasks::strike(sheet, &wrongs, true).expect("it runs");
            let locale = report::Locale::default();
            let told: Vec<(usize, String)> = (proved.struck.events.iter().enumerate())
                .map(|(n, event)| {
                    let at = report::page::struck::clock(&event.pose.hours);
                    let seen =
                        report::page::struck::seen(&locale, &proved.sheet.movement, &event.seen);
                    (n, format!("{at}  {seen}"))
                })
                .collect();
            assert!(told.len() > 250, "{}", told.len());
            let shown = driver.execute_async(HURRIED, Vec::<Value>::new()).await;
            let shown = shown.expect("it ran").json().clone();
            let shown: Vec<(usize, String)> = serde_json::from_value(shown).expect("events");
            assert_eq!(shown.len(), told.len(), "{query}");
            assert_eq!(shown, told, "{query}");
        }
    });
}

/// Some seconds of a strike, a frame at a time: of each frame the most often that one part was moved in it, and of all together how
/// many parts were moved.
const FRAMES: &str = r"
const done = arguments[0];
const count = new MutationObserver(() => {});
count.observe(document.querySelector('.lies-hold'), { attributes: true, attributeFilter: ['transform'], subtree: true });
let at = 0, frames = 0, most = 0, moved = 0;
document.querySelector('[name=pace][value=\x221\x22]').click();
document.querySelectorAll('.strip a')[4].click();
count.takeRecords();
window.requestAnimationFrame = (frame) => queueMicrotask(() => {
  frame(at += 50 / 3);
  const times = new Map();
  for (const { target } of count.takeRecords()) times.set(target, (times.get(target) ?? 0) + 1);
  most = Math.max(most, ...times.values());
  moved += times.size;
  if (++frames === 480) { document.querySelector('#play').click(); done([most, moved]); }
});
document.querySelector('#play').click();
";

#[test]
fn in_a_frame_of_running_each_part_is_moved_once_at_most() {
    with_browser(async |driver| {
        let served = serve(&[]);
        open(driver, &served, "").await;
        let parts = value(
            driver,
            "return document.querySelectorAll('.lies-hold [data-turn]').length",
        )
        .await;
        let got = driver.execute_async(FRAMES, Vec::<Value>::new()).await;
        let [most, moved]: [u64; 2] =
            serde_json::from_value(got.expect("it ran").json().clone()).expect("counts");
        assert_eq!(most, 1);
        // What stands still is left alone: a strike is eight seconds of a train, and most of its levers wait.
        assert!(moved > 480, "{moved}");
        assert!(moved < 480 * parts.as_u64().expect("a number"), "{moved}");
        let event = value(
            driver,
            "return Number(document.querySelector('main').dataset.event)",
        )
        .await;
        assert!(event.as_u64() > Some(20), "it ran on to {event}");
    });
}

#[test]
fn it_can_be_used_by_everyone() {
    let axe = axe();
    with_browser(async |driver| {
        let served = serve(&[]);
        for size in SIZES {
            for night in [false, true] {
                resize(driver, size).await;
                dark(driver, night).await;
                let shade = if night { "dark" } else { "light" };
                for (state, query) in [
                    ("sound", ""),
                    (
                        "wrong",
                        "?shift=second.count_pinion%3Acount.wheel&shift-by=1&worn=slots&worn-by=0.4",
                    ),
                    ("refused", ""),
                ] {
                    if state == "refused" {
                        let address =
                            format!("{}{PAGE}?bend=hammer&bend-by=much", served.address());
                        goto(driver, address).await;
                    } else {
                        open(driver, &served, query).await;
                        for _ in 0..9 {
                            touch(driver, "#next").await;
                        }
                        value(driver, "scrollTo(0, 0)").await;
                    }
                    shot(driver, &format!("strike-{}-{shade}-{state}", size.name)).await;
                    if let Some(axe) = &axe {
                        let wrong = wrong(driver, axe).await;
                        assert!(
                            wrong.is_empty(),
                            "{state}, {}:\n{}",
                            size.name,
                            wrong.join("\n")
                        );
                    }
                    let over = value(driver, "return document.documentElement.scrollWidth - document.documentElement.clientWidth").await;
                    assert_eq!(over, 0, "{state}, {}", size.name);
                }
            }
        }
    });
}

#[test]
fn it_is_said_in_other_words_and_from_either_plate() {
    with_browser(async |driver| {
        let served = serve(&[]);
        speak(driver, &served, "long.british.mm").await;
        open(driver, &served, "?bend=hammer&bend-by=1").await;
        value(
            driver,
            "for (const d of document.querySelectorAll('details')) d.open = true",
        )
        .await;
        let bare = bare(driver).await;
        assert!(bare.is_empty(), "{bare:#?}");
        let unfit = unfit(driver, "running").await;
        assert!(unfit.is_empty(), "{}", unfit.join("\n"));
        resize(driver, SIZES[0]).await;
        shot(driver, "long-strike").await;
        speak(driver, &served, "en.british.mm").await;
        // What was put in is kept as it is turned over.
        open(driver, &served, "?bend=hammer&bend-by=1").await;
        for name in ["plate", "over"] {
            for button in driver
                .find_all(By::Css(".lies button"))
                .await
                .expect("buttons")
            {
                if button.attr("value").await.expect("read").as_deref()
                    == (if name == "plate" {
                        Some("plate")
                    } else {
                        Some("over")
                    })
                {
                    button.click().await.expect("turned");
                    break;
                }
            }
            until(driver, READY).await;
            let address = driver.current_url().await.expect("an address");
            assert_eq!(address.query(), Some("bend=hammer&bend-by=1"));
            resize(driver, SIZES[2]).await;
            shot(driver, &format!("strike-turned-{name}")).await;
        }
    });
}

#[test]
fn without_the_script_it_is_a_list() {
    let served = serve(&[]);
    let page = served.get(PAGE);
    assert_eq!(page.status, 200);
    for said in [
        "78 blows, of 78.",
        "It ends as it began.",
        "What is seen until 12:00",
        "locked: the locking pin against the locking arm",
        "name=\"worn-by\"",
    ] {
        assert!(page.body.contains(said), "{said}");
    }
    let way = served.get("/job/1/way?stage=prove");
    assert!(way.body.contains("/job/1/strike"), "a way to it");
    let short = served.get(&format!("{PAGE}?missing=pins&missing-n=1"));
    assert!(short.body.contains("data-state=\"wrong\""));
    assert!(!short.body.contains("78 blows, of 78."));
    let refused = served.get(&format!("{PAGE}?bend=hammer&bend-by=much"));
    assert_eq!(refused.status, 422);
    assert!(
        refused
            .body
            .contains("`hammer=much` has no plain decimal number of degrees")
    );
    assert_eq!(served.get("/job/9/strike").status, 404);
    let table: Value = serde_json::from_str(&served.get("/job/1/strike/table").body).expect("JSON");
    let seconds = table["seconds"].as_array().expect("seconds");
    assert!(
        seconds
            .windows(2)
            .all(|pair| pair[0].as_f64() <= pair[1].as_f64())
    );
    for columns in ["arbors", "levers"] {
        for (name, column) in table[columns].as_object().expect("columns") {
            assert_eq!(
                column.as_array().map(Vec::len),
                Some(seconds.len()),
                "{name}"
            );
        }
    }
}
