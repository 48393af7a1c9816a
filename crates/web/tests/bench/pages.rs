//! Every page of a whole job, of records, search and lessons: names and contrast light and dark on three sizes, and the test
//! language, in which every string is in brackets and nothing runs over on six.

use crate::browser::{SIZES, Size, dark, goto, resize, shot, until, value, with_browser};
use crate::lessons::told;
use crate::names::{axe, contrast, wrong};
use crate::served::{Served, serve_on};
use crate::tongues::{of_the_sheet, outside, speak, strings, unfit};
use crate::whole::{SHEET, dial};
use entries::{Day, Stage};
use movement::Plate;
use std::cell::RefCell;
use std::collections::BTreeSet;
use thirtyfour::prelude::*;

/// Written by whoever works at the bench: never translated.
const OWN: [&str; 7] = [
    "new wires",
    "Mill Lane bracket clock",
    "Weigh the bob",
    "heard it strike",
    "strikes two",
    "7. third.pinion worn",
    "Lesson: Wren Street schoolroom clock",
];

fn serve() -> Served {
    serve_on(&[], || Day::parse("2026-11-26"))
}

pub(crate) fn png() -> Vec<u8> {
    let mut png = std::io::Cursor::new(Vec::new());
    dial(120)
        .write_to(&mut png, image::ImageFormat::Png)
        .expect("a picture");
    png.into_inner()
}

/// Enters something into the second job.
fn enter(served: &Served, what: &str, fields: &[(&str, &str)]) {
    let entries = served.entries("/job/2/way");
    let fields: Vec<_> = std::iter::once(("entries", entries.as_str()))
        .chain(fields.iter().copied())
        .collect();
    let answer = served.post(&format!("/job/2/{what}"), &fields);
    assert_eq!(answer.status, 303, "{what}: {}", answer.body);
}

fn picture(served: &Served, when: &str) {
    let entries = served.entries("/job/2/way");
    let answer = served.upload(
        "/job/2/picture",
        &[("entries", &entries), ("when", when)],
        &png(),
    );
    assert_eq!(answer.status, 303, "{}", answer.body);
}

/// A whole job's entries after it was counted.
pub(crate) fn work(served: &Served) {
    enter(served, "sheet", &[("sheet", SHEET)]);
    picture(served, "before");
    picture(served, "after");
    enter(served, "own", &[("stage", "down"), ("says", OWN[2])]);
    enter(
        served,
        "enter",
        &[
            ("kind", "check"),
            ("stage", "in"),
            ("item", "kept together"),
        ],
    );
    enter(
        served,
        "enter",
        &[
            ("kind", "measurement"),
            ("what", "third.pinion outside"),
            ("value", "8.20"),
            ("unit", "mm"),
            ("spread", "0.05"),
        ],
    );
    enter(
        served,
        "enter",
        &[
            ("kind", "found"),
            ("part", "third.pinion"),
            ("says", "worn"),
        ],
    );
    enter(
        served,
        "enter",
        &[
            ("kind", "fitted"),
            ("part", "third.pinion"),
            ("says", OWN[0]),
        ],
    );
    enter(served, "enter", &[("kind", "note"), ("says", OWN[3])]);
    for (hours, rate) in [("24", "40"), ("30", "-12"), ("48", "3.5")] {
        enter(
            served,
            "enter",
            &[
                ("kind", "trial-run"),
                ("hours", hours),
                ("rate", rate),
                ("beat", "4"),
                ("arc", "3"),
                ("struck", "right"),
            ],
        );
    }
    enter(
        served,
        "enter",
        &[("kind", "oil"), ("place", "pivots"), ("oil", "clock oil")],
    );
}

fn comes_in(served: &Served) {
    let fields = [
        ("clock", OWN[1]),
        ("complaint", OWN[4]),
        ("owner", "Ada Invented"),
        ("promised", "2026-12-24"),
    ];
    assert_eq!(served.post("/jobs", &fields).status, 303);
}

/// Goes through every page and state there is, and has each looked at.
async fn every_state(driver: &WebDriver, served: &Served, look: impl AsyncFn(&str)) {
    let unfolded = async |path: &str, state: &str| {
        goto(driver, format!("{}{path}", served.address())).await;
        value(
            driver,
            "for (const d of document.querySelectorAll('details')) d.open = true",
        )
        .await;
        look(state).await;
    };
    unfolded("/jobs", "the list").await;
    comes_in(served);
    unfolded("/job/2/way", "no sheet").await;
    // A figure that is none.
    let send = "const f = document.querySelector('form:has([name=kind][value=measurement])'); f.what.value = 'x'; f.value.value = 'high'; f.submit()";
    value(driver, send).await;
    until(driver, "return document.querySelector('.refused') !== null").await;
    look("refused").await;
    work(served);
    for stage in Stage::ALL {
        unfolded(
            &format!("/job/2/way?stage={}", stage.word()),
            &format!("stage {}", stage.word()),
        )
        .await;
    }
    unfolded("/job/2/way?right=8", "put right").await;
    unfolded("/job/2/way?by=2026-11-26", "as it stood").await;
    enter(
        served,
        "enter",
        &[
            ("kind", "handed-back"),
            ("to", "Ada Invented"),
            ("sure", "yes"),
        ],
    );
    unfolded("/jobs?home", "gone home").await;
    unfolded("/search?for=worn", "found").await;
    unfolded("/search?for=nowhere", "not found").await;
    unfolded("/job/2/record", "the owner's record").await;
    unfolded("/job/2/record/whole", "the whole record").await;
    unfolded("/job/2/remove", "before a removal").await;
    enter(served, "remove", &[("sure", "yes")]);
    unfolded("/job/2/way", "removed").await;
    unfolded("/job/2/remove", "after a removal").await;
    let begun = served.post("/lessons", &[("job", "1"), ("wheels", "2")]);
    let lesson = begun.header("location").expect("a lesson").to_owned();
    unfolded(&lesson, "a lesson").await;
    let id = lesson.split('/').nth(2).expect("its number");
    let tell = |wrong: bool, entries: &str| {
        let mut fields = vec![("entries".to_owned(), entries.to_owned())];
        for (i, turn) in told(served, id).iter().enumerate() {
            let n = i + 1;
            fields.push((format!("mesh.{n}"), turn.mesh.clone()));
            fields.push((format!("teeth.{n}"), turn.teeth.to_string()));
            fields.push((format!("way.{n}"), turn.way(Plate::Back, wrong).to_owned()));
        }
        let fields: Vec<_> = fields
            .iter()
            .map(|(n, v)| (n.as_str(), v.as_str()))
            .collect();
        assert_eq!(served.post(&lesson, &fields).status, 303);
    };
    tell(true, "1");
    unfolded(&format!("{lesson}?solution"), "not yet").await;
    tell(false, "2");
    unfolded(&lesson, "right").await;
}

/// States that are dressed as no other before them is: what is dressed alike needs no second look by night.
const DRESSED: [&str; 10] = [
    "the list",
    "no sheet",
    "refused",
    "stage in",
    "put right",
    "as it stood",
    "found",
    "the owner's record",
    "not yet",
    "right",
];

/// Names and contrast on one size, by day or by night. By night only the colours are others.
fn named(size: Size, night: bool) {
    let Some(axe) = axe() else { return };
    with_browser(async |driver| {
        let served = serve();
        resize(driver, size).await;
        dark(driver, night).await;
        every_state(driver, &served, async |state| {
            let dressed = DRESSED.contains(&state);
            if night && !dressed {
                return;
            }
            let wrong = if night {
                contrast(driver, &axe).await
            } else {
                small(driver, state).await;
                wrong(driver, &axe).await
            };
            assert!(
                wrong.is_empty(),
                "{state}, {}, dark {night}:\n{}",
                size.name,
                wrong.join("\n")
            );
            if dressed {
                let light = if night { "-dark" } else { "" };
                let kept = state.replace([' ', '\''], "-");
                shot(driver, &format!("page-{}{light}-{kept}", size.name)).await;
            }
        })
        .await;
    });
}

/// What is to be touched is 48 wide or high; a link within a line of text is not.
async fn small(driver: &WebDriver, state: &str) {
    let small = "return [...document.querySelectorAll('main button, main a.button, main summary, main input:not([type=hidden], [type=radio], [type=checkbox]), main select, .stages a, .jobs a, .hits a, label.check')] \
        .filter(e => e.checkVisibility()).map(e => [e, e.getBoundingClientRect()]) \
        .filter(([, r]) => r.width && r.height < 47.5).map(([e, r]) => e.outerHTML.slice(0, 90) + ' ' + r.height)";
    assert_eq!(value(driver, small).await, serde_json::json!([]), "{state}");
}

#[test]
fn every_page_has_names_and_contrast_on_a_phone() {
    named(SIZES[0], false);
}

#[test]
fn every_page_has_contrast_by_night_on_a_phone() {
    named(SIZES[0], true);
}

#[test]
fn every_page_has_names_and_contrast_on_a_tablet() {
    named(SIZES[1], false);
}

#[test]
fn every_page_has_contrast_by_night_on_a_tablet() {
    named(SIZES[1], true);
}

#[test]
fn every_page_has_names_and_contrast_on_a_laptop() {
    named(SIZES[2], false);
}

#[test]
fn every_page_has_contrast_by_night_on_a_laptop() {
    named(SIZES[2], true);
}

#[test]
fn every_string_of_a_job_is_in_brackets_and_runs_over_nothing() {
    with_browser(async |driver| {
        let served = serve();
        speak(driver, &served, "long.british.mm").await;
        let mut own: BTreeSet<String> = of_the_sheet();
        own.extend(OWN.map(str::to_owned));
        // Symbols of units, and days.
        own.extend(["mm", "in", "µm", "g", "N", "N mm", "s"].map(str::to_owned));
        let found = RefCell::new(Vec::new());
        every_state(driver, &served, async |state| {
            let bare: Vec<String> = (strings(driver).await.iter())
                .map(|(text, depth)| outside(text, *depth))
                .filter(|text| {
                    !text.is_empty() && !own.contains(text) && !SHEET.contains(text.as_str())
                })
                .collect();
            if !bare.is_empty() {
                found.borrow_mut().push(format!("{state}: {bare:?}"));
            }
            let unfit = unfit(driver, state).await;
            found.borrow_mut().extend(unfit);
            resize(driver, SIZES[0]).await;
            shot(driver, &format!("long-{}", state.replace([' ', '\''], "-"))).await;
        })
        .await;
        let found = found.into_inner();
        assert!(found.is_empty(), "{}", found.join("\n"));
    });
}
