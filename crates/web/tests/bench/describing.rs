//! A repairer puts their own movement on the bench from the page alone: three dialogues from an empty book, by touch, by keys, without
//! the script, and with what cannot be.

use crate::browser::{
    PHONE, SIZES, Size, at_step, dark, resize, shot, source, touch, until, value, with_browser,
    without_script,
};
use crate::keys::press;
use crate::names::{axe, wrong};
use crate::served::{Served, part, serve};
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
    driver
        .goto(format!("{}/jobs", served.address()))
        .await
        .expect("opened");
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
        driver.goto(&page).await.expect("opened");
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

/// A movement of some kind is begun, and what it does as a whole is as usual, so that it is counted next: how many entries it took.
fn is_counted(served: &Served, kind: &str) -> usize {
    served.post("/job/2/movement/kind", &[("entries", "1"), ("kind", kind)]);
    loop {
        let page = served.get("/job/2/movement").body;
        let entries = text_in(&page, "name=\"entries\" value=\"");
        let question = text_in(&page, "name=\"question\" value=\"");
        if question.is_empty() {
            return entries.parse().expect("a number");
        }
        let sent = [
            ("entries", &*entries),
            ("question", &*question),
            ("answer", "usual"),
        ];
        assert_eq!(served.post("/job/2/movement/answer", &sent).status, 303);
    }
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
        driver
            .goto(format!("{}/job/2/movement", served.address()))
            .await
            .expect("opened");
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
fn what_cannot_be_is_said_and_nothing_typed_is_lost() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    served.post(
        "/job/2/movement/kind",
        &[("entries", "1"), ("kind", "count wheel and cam")],
    );
    for odd in ["0", "1001", "3", "x", "7.5", ""] {
        let sent = [
            ("entries", "2"),
            ("at", "great.wheel"),
            ("how", "next"),
            ("count", odd),
        ];
        let answer = served.post("/job/2/movement/count", &sent);
        assert_eq!(answer.status, 422, "{odd}");
        assert!(answer.body.contains("class=\"refused\""), "{odd}");
        if !odd.is_empty() {
            assert!(
                answer.body.contains(&format!("value=\"{odd}\"")),
                "{odd} is still there"
            );
        }
        assert!(
            answer.body.contains("great</b> arbor"),
            "{odd}: it is asked again"
        );
    }
    // Of two that have the page before them, the slower is told.
    let sent = [
        ("entries", "2"),
        ("at", "great.wheel"),
        ("how", "next"),
        ("count", "84"),
    ];
    assert_eq!(served.post("/job/2/movement/count", &sent).status, 303);
    assert_eq!(served.post("/job/2/movement/count", &sent).status, 409);
    // The text: two arbors of one name, a wheel that meshes with nothing that is there.
    let page = served.get("/job/2/movement").body;
    let kept = page.split("spellcheck=\"false\"").nth(1).expect("the text");
    assert!(kept.contains("wheel = 84"), "it is in the text");
    for (odd, line) in [
        (
            "sheet = 1\nname = \"x\"\nseen_from = \"back\"\n[arbor.a]\nruns = \"clockwise\"\nwheel = 60\n[arbor.a]\npinion = 8\n",
            "7:",
        ),
        (
            "sheet = 1\nname = \"x\"\nseen_from = \"back\"\n[arbor.a]\nruns = \"clockwise\"\nwheel = 60\n[[mesh]]\ndriver = \"a.wheel\"\ndriven = \"b.pinion\"\n",
            "9:",
        ),
    ] {
        let answer = served.post("/job/2/movement/sheet", &[("entries", "3"), ("sheet", odd)]);
        assert_eq!(answer.status, 422);
        assert!(answer.body.contains(line), "{line}");
        assert!(
            answer.body.contains("seen_from = &quot;back&quot;")
                || answer.body.contains("seen_from = \"back\"")
        );
    }
}

#[test]
fn a_flaw_is_told_by_what_was_typed_and_not_by_lines_of_the_sheet() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let kind = [("entries", "1"), ("kind", "count wheel and cam")];
    served.post("/job/2/movement/kind", &kind);
    let mut entries = 2;
    let begun = tasks::Described::begin("count wheel and cam", "a clock", &[]).expect("a kind");
    for place in begun.places() {
        let (at, count) = (
            format!("{}.{}", place.id.arbor, place.id.part),
            place.usual.expect("usual").get().to_string(),
        );
        let n = entries.to_string();
        let sent = [
            ("entries", n.as_str()),
            ("at", &at),
            ("how", "next"),
            ("count", &count),
        ];
        assert_eq!(served.post("/job/2/movement/count", &sent).status, 303);
        entries += 1;
    }
    // A slot wider than a place.
    let n = entries.to_string();
    let sent = [
        ("entries", n.as_str()),
        ("question", "slot"),
        ("answer", ""),
        ("wide", "20"),
        ("across", "30"),
    ];
    let answer = served.post("/job/2/movement/answer", &sent);
    assert_eq!(answer.status, 422);
    let told = part(&answer.body, "class=\"refused\"", "</p>");
    assert!(
        told.contains("How wide is a slot of the count wheel"),
        "{told}"
    );
    let spots = told
        .split(' ')
        .any(|word| word.ends_with(':') && word.contains(char::is_numeric));
    assert!(
        !spots && !told.contains('°') && !told.contains("deg"),
        "{told}"
    );
    assert!(
        answer.body.contains("value=\"20\""),
        "what was typed is there"
    );
}

#[test]
fn how_the_count_wheel_is_moved_is_asked_before_what_drives_it_is_counted() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let kind = [("entries", "1"), ("kind", "count wheel and cam")];
    served.post("/job/2/movement/kind", &kind);
    // What it does as a whole is asked first.
    let mut n = 2;
    let tell = |n: &mut usize, to: &str, fields: &[(&str, &str)]| {
        let entries = n.to_string();
        let mut sent = vec![("entries", entries.as_str())];
        sent.extend_from_slice(fields);
        assert_eq!(
            served.post(&format!("/job/2/movement/{to}"), &sent).status,
            303,
            "{to}"
        );
        *n += 1;
    };
    loop {
        let page = served.get("/job/2/movement").body;
        if page.contains("name=\"question\" value=\"count_moved\"") {
            break;
        }
        match page.split("name=\"at\" value=\"").nth(1) {
            Some(at) => {
                let at = at.split('"').next().expect("an end");
                assert!(
                    !at.contains("count"),
                    "{at} before it is told how it is moved"
                );
                tell(&mut n, "count", &[("at", at), ("how", "lost")]);
            }
            None => {
                let asked = page
                    .split("name=\"question\" value=\"")
                    .nth(1)
                    .expect("a question");
                let asked = asked.split('"').next().expect("an end").to_owned();
                tell(
                    &mut n,
                    "answer",
                    &[("question", &asked), ("answer", "usual")],
                );
            }
        }
        assert!(n < 30, "it is asked in the end");
    }
    // Moved by pins there is no such pinion to count.
    tell(
        &mut n,
        "answer",
        &[("question", "count_moved"), ("answer", "pins")],
    );
    let page = served.get("/job/2/movement").body;
    assert!(!page.contains("value=\"second.count_pinion\""), "{page}");
}

#[test]
fn lost_and_doubtful_counts_are_kept_and_the_last_touch_is_taken_back() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let begun = is_counted(&served, "rack");
    let place = text_in(&served.get("/job/2/movement").body, "name=\"at\" value=\"");
    let send = |later: usize, how: &str, count: &str| {
        let sent = [
            ("entries", &*(begun + later).to_string()),
            ("at", &*place),
            ("how", how),
            ("count", count),
        ];
        served.post("/job/2/movement/count", &sent).status
    };
    assert_eq!(send(0, "unsure", "72"), 303);
    assert!(served.get("/job/2/movement").body.contains("72?"));
    assert_eq!(send(1, "lost", ""), 303);
    assert!(served.get("/job/2/movement").body.contains("lost = ["));
    assert_eq!(
        served
            .post(
                "/job/2/movement/undo",
                &[("entries", &*(begun + 2).to_string())]
            )
            .status,
        303
    );
    let page = served.get("/job/2/movement").body;
    assert!(page.contains("72?") && !page.contains("lost = ["));
}

fn text_in(page: &str, before: &str) -> String {
    let after = page.split(before).nth(1).unwrap_or_default();
    after.split('"').next().unwrap_or_default().to_owned()
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
        driver.goto(&page).await.expect("opened");
        at_step(driver, "kind").await;
        look("kinds").await;
        served.post(
            "/job/2/movement/kind",
            &[("entries", "1"), ("kind", "count wheel and cam")],
        );
        let kind = tasks::Kind::find("count wheel and cam").expect("a kind");
        for question in &kind.questions {
            driver
                .goto(format!("{page}?ask={}", question.id))
                .await
                .expect("opened");
            at_step(driver, "ask").await;
            look(&question.id).await;
        }
        for place in ["great.wheel", "third.pinion"] {
            driver
                .goto(format!("{page}?at={place}&from=great.wheel"))
                .await
                .expect("opened");
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
            driver.goto(format!("{page}{state}")).await.expect("opened");
            assert_eq!(unfit(driver, state).await, Vec::<String>::new());
        }
    });
}

#[test]
fn every_kind_is_offered_with_its_picture_and_every_choice_that_names_one_has_it() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let page = served.get("/job/2/movement").body;
    let mut pictures = 0;
    for kind in tasks::Kind::all() {
        let button = page.split(&format!("value=\"{}\">", kind.id)).nth(1);
        let button = button.and_then(|rest| rest.split("</button>").next());
        let button = button.unwrap_or_else(|| panic!("{} is offered", kind.id));
        assert!(button.contains("class=\"drawing pictured\""), "{}", kind.id);
        for question in &kind.questions {
            let tasks::AskedFor::Choice { choices, .. } = &question.asks else {
                continue;
            };
            for picture in choices
                .iter()
                .filter_map(|choice| choice.picture.as_deref())
            {
                pictures += 1;
                let drawn = draw::pictured(picture).is_some();
                assert!(drawn, "{}, {}: {picture}", kind.id, question.id);
            }
        }
    }
    assert!(pictures > 0);
}

#[test]
fn a_train_of_no_kind_is_put_together_arbor_by_arbor() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm turret clock")]);
    let page = || served.get("/job/2/movement").body;
    let post = |what: &str, fields: &[(&str, &str)]| {
        let entries = text_in(&page(), "name=\"entries\" value=\"");
        let mut sent = vec![("entries", &*entries)];
        sent.extend(fields);
        served.post(&format!("/job/2/movement/{what}"), &sent)
    };
    assert!(page().contains("arbor by arbor"));
    assert_eq!(post("bare", &[]).status, 303);
    let arbor = |name: &str, has: &str, meshes: &str| {
        let fields = [
            ("adding", "arbor"),
            ("name", name),
            ("has", has),
            ("meshes", meshes),
        ];
        post("add", &fields)
    };
    assert_eq!(arbor("Upper one", "lantern", "great.wheel").status, 303);
    let wheel = [("adding", "part"), ("arbor", "upper_one"), ("has", "wheel")];
    assert_eq!(post("add", &wheel).status, 303);
    assert_eq!(arbor("fly", "pinion", "upper_one.wheel").status, 303);
    for (at, count) in [
        ("great.wheel", "96"),
        ("second.pinion", "8"),
        ("upper_one.pinion", "12"),
        ("upper_one.wheel", "72"),
        ("fly.pinion", "9"),
    ] {
        assert_eq!(
            post("count", &[("at", at), ("how", "next"), ("count", count)]).status,
            303
        );
    }
    let told = page();
    assert!(told.contains("data-step=\"told\""));
    assert!(told.contains("wheel = 72"));
    // What cannot be is said in the form that it was typed into, and stands there still.
    let ring = [
        ("adding", "part"),
        ("arbor", "great"),
        ("has", "pinion"),
        ("meshes", "fly.pinion"),
    ];
    for (answer, kept) in [
        (
            arbor("Upper one", "pinion", "great.wheel"),
            "value=\"Upper one\"",
        ),
        (arbor("7", "pinion", "great.wheel"), "value=\"7\""),
        (post("add", &ring), "value=\"great\" selected"),
    ] {
        assert_eq!(answer.status, 422);
        let form = answer.body.split("class=\"refused\"").nth(1).expect("said");
        assert!(answer.body.matches("class=\"refused\"").count() == 1);
        assert!(
            form.split("</form>").next().expect("it").contains(kept),
            "{form}"
        );
    }
    // An arbor goes with what is on it and the meshes of that.
    assert_eq!(
        post("away", &[("adding", "away"), ("what", "fly")]).status,
        303
    );
    assert!(!page().contains("fly.pinion"));
}

#[test]
fn a_movement_is_begun_from_one_that_was_here() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    assert!(
        served
            .get("/job/2/movement")
            .body
            .contains("Like one that was here")
    );
    let like = [("entries", "1"), ("like", "1")];
    assert_eq!(served.post("/job/2/movement/like", &like).status, 303);
    let page = served.get("/job/2/movement").body;
    assert!(page.contains("Hill Farm wall clock"));
    assert!(
        page.contains("?&quot;") || page.contains("?\"\n"),
        "its counts are in doubt"
    );
    assert!(
        served
            .get("/job/2/way")
            .body
            .contains("href=\"/job/2/movement\"")
    );
}

#[test]
fn how_fast_it_strikes_is_asked_and_stands_on_the_sheet() {
    let begun = tasks::Described::begin("count wheel and cam", "Wren Street", &[]);
    let served = serve(&[&begun.expect("a kind").text()]);
    let page = served.get("/job/1/movement?ask=pace").body;
    assert!(page.contains("How fast does it strike?"), "{page}");
    assert!(!page.contains("value=\"heard\""), "nothing was heard");
    let told = |blows: &str, seconds: &str, fall: &str, answer: &str| {
        let entries = served.entries("/job/1/movement");
        let fields = [
            ("entries", &*entries),
            ("question", "pace"),
            ("answer", answer),
            ("blows", blows),
            ("seconds", seconds),
            ("fall", fall),
        ];
        served.post("/job/1/movement/answer", &fields)
    };
    for (blows, seconds, fall) in [
        ("1", "13", ""),
        ("12", "", ""),
        ("12", "0", ""),
        ("", "13", ""),
        ("12", "13", "long"),
        ("12", "4000", ""),
    ] {
        let came = told(blows, seconds, fall, "");
        assert_eq!(came.status, 422, "{blows} {seconds} {fall}");
        assert!(came.body.contains(&format!("value=\"{seconds}\"")), "kept");
    }
    assert_eq!(told("12", "13,2", "0.08 0.09 0.10", "").status, 303);
    let sheet = served.get("/job/1/movement").body;
    for line in ["pace_s = 1.2", "fall_s = 0.09"] {
        assert!(sheet.contains(line), "{line}: {sheet}");
    }
    assert_eq!(told("", "", "", "?").status, 303);
    let sheet = served.get("/job/1/movement").body;
    assert!(!sheet.contains("pace_s"), "{sheet}");
    assert_eq!(told("", "", "", "heard").status, 404);
}

/// Without the script Enter takes the first button of a form: the count that was typed, and not that it is lost.
#[test]
fn enter_by_itself_takes_the_count() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    served.post(
        "/job/2/movement/kind",
        &[("entries", "1"), ("kind", "count wheel and cam")],
    );
    let halves = [
        ("entries", "2"),
        ("question", "halves"),
        ("answer", "usual"),
    ];
    served.post("/job/2/movement/answer", &halves);
    let page = served.get("/job/2/movement").body;
    let form = part(&page, "class=\"counting-form\"", "</form>");
    let first = form.split("<button").nth(1).expect("a button");
    assert!(first.contains("value=\"next\""), "{first}");
}
