//! A repairer puts their own movement on the bench from the page alone: three dialogues from an empty book, by touch, by keys, without
//! the script, and with what cannot be.

use crate::browser::{
    PHONE, SIZES, Size, at_step, dark, goto, resize, shot, source, touch, until, value,
    with_browser, without_script,
};
use crate::keys::press;
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
use crate::told::is_counted;
use crate::tongues::{speak, unfit};
use crate::zoom::{HALVES, assert_fits};
use thirtyfour::prelude::*;

/// What somebody has before them: how it strikes, what they count from the great wheel up, and what they answer; the rest is as
/// usual.
struct Dialogue {
    kind: &'static str,
    counts: &'static [u16],
    answers: &'static [(&'static str, &'static str)],
    follows: &'static str,
}

/// The trains are invented, of the three commonest forms (shares and forms from memory).
const DIALOGUES: [Dialogue; 3] = [
    Dialogue {
        kind: "count wheel and cam",
        counts: &[84, 12, 80, 10, 64, 8, 54, 7, 8, 78],
        answers: &[
            ("halves", "none"),
            ("lifting_wheel", "second"),
            ("lifters", "8"),
            ("runs", "clockwise"),
            ("notches", "one"),
        ],
        follows: "80 over 10, with 8 pins: one turn of the third a blow. Right.",
    },
    Dialogue {
        kind: "count wheel outside",
        counts: &[],
        answers: &[
            ("halves", "halves"),
            ("runs", "clockwise"),
            ("locking_pins", "one"),
        ],
        follows: "Right.",
    },
    Dialogue {
        kind: "rack",
        counts: &[],
        answers: &[
            ("runs", "clockwise"),
            ("lifters", "8"),
            ("rack_teeth", "14"),
        ],
        follows: "Right.",
    },
];

/// A telephone, a tablet and a laptop at a bench.
const BENCHES: [Size; 3] = [
    PHONE,
    SIZES[1],
    Size {
        name: "low-laptop",
        wide: 1366,
        high: 768,
    },
];

/// More touches than this, the digits apart, are too many.
const MOST_TOUCHES: usize = 25;

/// Touches that are counted.
struct Hand<'d> {
    driver: &'d WebDriver,
    touches: std::cell::Cell<usize>,
}

impl Hand<'_> {
    async fn touch(&self, selector: &str) {
        let before = value(
            self.driver,
            "return document.querySelector('#main').dataset.entries + location.href",
        )
        .await;
        touch(self.driver, selector).await;
        self.touches.set(self.touches.get() + 1);
        let came = format!(
            "return !document.documentElement.hasAttribute('aria-busy') && (document.querySelector('#main')?.dataset.entries + location.href) !== {before}"
        );
        until(self.driver, &came).await;
    }

    async fn figures(&self, count: &str) {
        for figure in count.chars() {
            touch(self.driver, &format!("[data-digit='{figure}']")).await;
        }
    }
}

async fn step(driver: &WebDriver) -> String {
    let step = value(
        driver,
        "return document.querySelector('#main').dataset.step",
    )
    .await;
    step.as_str().unwrap_or_default().to_owned()
}

async fn text(driver: &WebDriver, script: &str) -> String {
    let got = value(driver, script).await;
    got.as_str().unwrap_or_default().to_owned()
}

/// The usual counts of a kind, in the order in which they are asked for.
fn usual(kind: &str) -> Vec<u16> {
    let begun = tasks::Described::begin(kind, "a clock", &[]).expect("a kind");
    let usual = begun
        .places()
        .into_iter()
        .map(|place| place.usual.expect("usual").get());
    usual.collect()
}

/// A clock comes in by its name.
async fn comes_in(driver: &WebDriver, served: &Served, hand: &Hand<'_>) {
    goto(driver, format!("{}/jobs", served.address())).await;
    touch(driver, ".begin:has(form[action='/jobs']) > summary").await;
    let name = driver
        .find(By::Css("form[action='/jobs'] [name=clock]"))
        .await;
    name.expect("a field")
        .send_keys("Hill Farm wall clock")
        .await
        .expect("typed");
    touch(driver, "form[action='/jobs'] button.primary").await;
    at_step(driver, "kind").await;
    hand.touches.set(0);
}

#[test]
fn three_dialogues_put_a_movement_on_the_bench_with_few_touches() {
    with_browser(async |driver| {
        let each = |one| BENCHES.map(|size| (one, size));
        for (dialogue, size) in DIALOGUES.iter().flat_map(each) {
            let served = serve(&[]);
            resize(driver, size).await;
            let hand = Hand {
                driver,
                touches: std::cell::Cell::new(0),
            };
            comes_in(driver, &served, &hand).await;
            let job = text(driver, "return document.querySelector('#main').dataset.job").await;
            let name = dialogue.kind.replace(' ', "-");
            shot(driver, &format!("describing-{}-kinds", size.name)).await;
            hand.touch(&format!("button[value='{}']", dialogue.kind))
                .await;
            let counts = match dialogue.counts {
                [] => usual(dialogue.kind),
                counts => counts.to_vec(),
            };
            let mut counts = counts.into_iter();
            let mut followed = false;
            loop {
                let here = step(driver).await;
                followed |= text(driver, "return document.querySelector('#main').innerText")
                    .await
                    .contains(dialogue.follows);
                match here.as_str() {
                    "count" => {
                        let count = counts.next().expect("no more is asked for than is there");
                        hand.figures(&count.to_string()).await;
                        let shown = text(
                            driver,
                            "return document.querySelector('#asked-figure').textContent",
                        )
                        .await;
                        assert_eq!(shown, count.to_string(), "it stands on its wheel");
                        shot(
                            driver,
                            &format!("describing-{}-{name}-{}", size.name, counts.len()),
                        )
                        .await;
                        hand.touch("[data-next]").await;
                    }
                    "ask" => {
                        let id = text(
                            driver,
                            "return document.querySelector('[name=question]').value",
                        )
                        .await;
                        shot(driver, &format!("describing-{}-{name}-{id}", size.name)).await;
                        match dialogue.answers.iter().find(|(own, _)| *own == id) {
                            Some((_, figures)) if figures.parse::<u16>().is_ok() => {
                                hand.figures(figures).await;
                                hand.touch("[data-next]").await;
                            }
                            Some((_, answer)) => {
                                hand.touch(&format!("button[value='{answer}']")).await;
                            }
                            // All that is to be told was told.
                            None if dialogue
                                .answers
                                .iter()
                                .all(|(own, _)| !later(dialogue.kind, own, &id)) =>
                            {
                                hand.touch("button[formaction$='/rest']").await;
                            }
                            None => hand.touch("button[value=usual]").await,
                        }
                    }
                    _ => break,
                }
            }
            assert_eq!(step(driver).await, "told", "{name}");
            assert!(counts.next().is_none(), "every count was asked for");
            assert!(followed, "{name}: what follows was said");
            shot(driver, &format!("describing-{}-{name}-told", size.name)).await;
            is_timed(driver, &hand, &format!("{}-{name}", size.name)).await;
            let touches = hand.touches.get();
            println!("{name}: {touches} touches");
            assert!(touches <= MOST_TOUCHES, "{name}: {touches} touches");
            let page = served.get(&format!("/job/{job}/movement"));
            let counted = dialogue
                .counts
                .iter()
                .all(|count| page.body.contains(&format!("= {count}")));
            assert!(counted, "{name}: every count is in the book\n{}", page.body);
        }
    });
}

/// From the bench to the first shift: every witness that is asked about read by one touch of a picture that is not as it should
/// be, and the arrow on the drawing.
async fn is_timed(driver: &WebDriver, hand: &Hand<'_>, name: &str) {
    hand.touch("[data-next]").await;
    at_step(driver, "look").await;
    let asked = value(
        driver,
        "return [...document.querySelectorAll('.close-up:has(.pictures)')].map((one) => one.id)",
    )
    .await;
    let asked: Vec<String> = serde_json::from_value(asked).expect("names");
    assert!(!asked.is_empty(), "{name}: something is read");
    shot(driver, &format!("describing-{name}-look")).await;
    for witness in &asked {
        let called = text(
            driver,
            &format!("return document.querySelector('#{witness} legend').innerText"),
        )
        .await;
        let id = witness.trim_start_matches("read-");
        assert!(!called.contains(id) || called.contains(' '), "{called}");
        assert!(
            !called.contains('(') && !called.contains('_'),
            "{name}: {called} is read as a person says it"
        );
        touch(driver, &format!("#{witness} .picture:nth-child(2)")).await;
        hand.touches.set(hand.touches.get() + 1);
    }
    hand.touch(".touches [data-next]").await;
    at_step(driver, "answer").await;
    let arrows = value(
        driver,
        "return document.querySelectorAll('.lies .arrow, .lies use').length",
    )
    .await;
    shot(driver, &format!("describing-{name}-answer")).await;
    assert!(arrows.as_u64() > Some(0), "{name}: the arrow is drawn");
}

/// Whether a question is asked after another.
fn later(kind: &str, own: &str, now: &str) -> bool {
    let kind = tasks::Kind::find(kind).expect("a kind");
    let place = |id: &str| kind.questions.iter().position(|question| question.id == id);
    place(own) > place(now)
}

#[test]
fn the_same_is_told_without_the_script() {
    with_browser(async |driver| {
        resize(driver, PHONE).await;
        without_script(driver).await;
        let served = serve(&[]);
        served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
        let page = format!("{}/job/2/movement", served.address());
        goto(driver, &page).await;
        touch(driver, "button[value=rack]").await;
        source(driver, "name=\"question\" value=\"locked_by\"").await;
        touch(driver, "button[value=usual]").await;
        for count in usual("rack") {
            source(driver, "name=\"at\"").await;
            let field = driver.find(By::Id("count")).await.expect("a field");
            field.send_keys(count.to_string()).await.expect("typed");
            let had = text_of(driver, "name=\"entries\" value=\"").await;
            touch(driver, "button.primary[value=next]").await;
            for _ in 0..100 {
                if text_of(driver, "name=\"entries\" value=\"").await != had {
                    break;
                }
                tokio::time::sleep(std::time::Duration::from_millis(50)).await;
            }
        }
        shot(driver, "describing-plain").await;
        touch(driver, "button[formaction$='/rest']").await;
        source(driver, "It is on the bench.").await;
    });
}

/// What stands behind some words of the page, up to the next quotation mark.
async fn text_of(driver: &WebDriver, before: &str) -> String {
    let page = driver.source().await.unwrap_or_default();
    let after = page.split(before).nth(1).unwrap_or_default();
    after.split('"').next().unwrap_or_default().to_owned()
}

#[test]
fn counts_are_typed_on_a_keyboard_and_a_wheel_that_is_touched_keeps_what_was_typed() {
    with_browser(async |driver| {
        resize(
            driver,
            Size {
                name: "laptop",
                wide: 1366,
                high: 768,
            },
        )
        .await;
        let served = serve(&[]);
        served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
        is_counted(&served, "rack");
        goto(driver, format!("{}/job/2/movement", served.address())).await;
        at_step(driver, "count").await;
        let first = text(driver, "return document.querySelector('[name=at]').value").await;
        type_keys(driver, "965").await;
        press(driver, [Key::Backspace]).await;
        until(
            driver,
            "return document.querySelector('#asked-figure').textContent === '96'",
        )
        .await;
        press(driver, [Key::Enter]).await;
        until(
            driver,
            &format!("return document.querySelector('[name=at]').value !== '{first}'"),
        )
        .await;
        // A wheel that is touched with a count typed but not sent: it is sent first.
        let second = text(driver, "return document.querySelector('[name=at]').value").await;
        type_keys(driver, "8").await;
        value(driver, &format!("document.querySelector('.spots a[href$=\"{first}\"] circle').dispatchEvent(new MouseEvent('click', {{ bubbles: true, cancelable: true }}))")).await;
        until(
            driver,
            &format!("return document.querySelector('[name=at]').value === '{first}'"),
        )
        .await;
        let page = served.get("/job/2/movement").body;
        let (arbor, part) = second.split_once('.').expect("a part");
        let table = page
            .split(&format!("[arbor.{arbor}]"))
            .nth(1)
            .expect("its table");
        assert!(table.contains(&format!("{part} = 8")), "{table}");
    });
}

async fn type_keys(driver: &WebDriver, text: &str) {
    let on = driver
        .active_element()
        .await
        .expect("something has the focus");
    on.send_keys(text).await.expect("typed");
}

#[test]
fn every_step_has_names_and_contrast_and_fits() {
    let Some(axe) = axe() else { return };
    with_browser(async |driver| {
        let served = serve(&[]);
        served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
        let page = format!("{}/job/2/movement", served.address());
        let look = async |state: &str| {
            for size in SIZES {
                resize(driver, size).await;
                for night in [false, true] {
                    dark(driver, night).await;
                    assert_eq!(
                        wrong(driver, &axe).await,
                        Vec::<String>::new(),
                        "{state}, {}",
                        size.name
                    );
                }
            }
            for size in HALVES {
                resize(driver, size).await;
                assert_fits(driver, &format!("{state}, {}", size.name)).await;
            }
        };
        goto(driver, &page).await;
        at_step(driver, "kind").await;
        look("kinds").await;
        served.post(
            "/job/2/movement/kind",
            &[("entries", "1"), ("kind", "count wheel and cam")],
        );
        let kind = tasks::Kind::find("count wheel and cam").expect("a kind");
        for question in &kind.questions {
            goto(driver, format!("{page}?ask={}", question.id)).await;
            at_step(driver, "ask").await;
            look(&question.id).await;
        }
        for place in ["great.wheel", "third.pinion"] {
            goto(driver, format!("{page}?at={place}&from=great.wheel")).await;
            at_step(driver, "count").await;
            look(place).await;
        }
        // Longer words.
        speak(driver, &served, "long.british.mm").await;
        for state in [
            "?ask=stopped_by",
            "?ask=lifting_wheel",
            "?at=third.pinion&from=great.wheel",
            "?kind",
        ] {
            goto(driver, format!("{page}{state}")).await;
            assert_eq!(unfit(driver, state).await, Vec::<String>::new());
        }
    });
}
