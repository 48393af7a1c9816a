//! Looks at rest: what is asked and marked there, what of it is remembered, and the page in a browser.

use crate::browser::{
    PHONE, SIZES, at_step, goto, resize, shot, shot_whole, source, touch, until, value,
    with_browser, without_script,
};
use crate::names::{axe, wrong};
use crate::served::{Served, part, serve};
use crate::zoom::assert_fits;
use tasks::{CountState, Described};

const SCHOOLROOM: &str = include_str!("../../../../movements/schoolroom.toml");
const AT_REST: &str = "/job/1?look=look&held=at-rest";

fn saw(served: &Served, fields: &[(&str, &str)]) -> u16 {
    let entries = served.entries("/job/1?look");
    let mut sent = vec![("entries", entries.as_str())];
    sent.extend(fields.iter().copied());
    served.post("/job/1/saw", &sent).status
}

/// A kind of strike, counted as usual.
fn counted(kind: &str) -> String {
    let mut sheet = Described::begin(kind, "Wren Street", &[]).expect("a kind");
    for place in sheet.places() {
        let counted = CountState::Counted(place.usual.expect("usual"));
        sheet.count(&place.id, counted).expect("there");
    }
    sheet.text()
}

#[test]
fn at_rest_what_locks_is_marked_and_nothing_is_to_be_held() {
    let served = serve(&[SCHOOLROOM]);
    let drop = served.get("/job/1?look").body;
    assert!(
        drop.contains("id=\"hold-third\"") && drop.contains(">hold<"),
        "{drop}"
    );
    let rest = served.get(AT_REST).body;
    assert!(rest.contains("It is locked, and pressed lightly on. What do you see?"));
    // The pin is on the fourth, and so is what stops the train.
    assert!(
        rest.contains("id=\"hold-fourth\"") && rest.contains(">locks here<"),
        "{rest}"
    );
    assert!(
        !rest.contains(">hold<") && !rest.contains("id=\"hold-third\""),
        "{rest}"
    );
}

#[test]
fn how_the_last_look_was_held_is_remembered() {
    let served = serve(&[SCHOOLROOM]);
    let at_rest = |page: &str| page.contains("name=\"held\" value=\"at-rest\"");
    assert!(!at_rest(&served.get("/job/1?look").body));
    assert_eq!(
        saw(
            &served,
            &[
                ("held", "at-rest"),
                ("slot.deg", "0.1"),
                ("pin.notch", "10")
            ]
        ),
        303
    );
    let page = served.get("/job/1").body;
    assert!(page.contains("Seen at rest, locked"), "{page}");
    assert!(at_rest(&served.get("/job/1?look").body));
    // Asked for otherwise it is otherwise, and after such a look that is what is remembered.
    assert!(!at_rest(&served.get("/job/1?look=look&held=dropping").body));
    assert_eq!(saw(&served, &[("slot.deg", "0")]), 303);
    assert!(!at_rest(&served.get("/job/1?look").body));
    // What is being read, and how, goes along when the view is turned.
    let entries = served.entries("/job/1?look");
    let turned = served.post(
        "/job/1/view",
        &[
            ("entries", &entries),
            ("turn", "plate"),
            ("held", "at-rest"),
            ("pin.notch", "9.5"),
        ],
    );
    let to = turned.header("location").expect("a page").to_owned();
    assert!(
        to.contains("held=at-rest") && to.contains("pin.notch=9.5"),
        "{to}"
    );
}

/// How a witness looked as the page shows it beside its answer, as the log beside it words it, and as the record does.
fn worded(served: &Served, witness: &str) -> [String; 3] {
    let page = served.get("/job/1").body;
    let seen = part(&page, "class=\"seen\"", "</section>");
    let caption = seen
        .split("<figcaption>")
        .find(|one| one.starts_with(&format!("<b>{witness}</b>")))
        .expect("a caption");
    let shown = part(caption, "</svg><span>", "</span>").replace("</svg><span>", "");
    let log = part(&page, "class=\"log\"", "</section>");
    let of = |text: &str| {
        let said = text.split(&format!("{witness} ")).nth(1).expect("told");
        let end = said.find([';', '.', '(', '<']).unwrap_or(said.len());
        said[..end].trim().to_owned()
    };
    let record = served.get("/job/1/record/whole").body;
    let told = record.split("Seen at rest, locked:").nth(1).expect("told");
    [shown, of(log), of(told)]
}

#[test]
fn a_reading_is_worded_alike_on_the_page_in_its_log_and_in_the_record() {
    // At rest all stands further on than at the drop, by as much as the pin went in its notch: little here, so that the star stands ahead.
    for (star, notch) in [("9", "9.375"), ("9", "1"), ("17", "9.375"), ("4", "12")] {
        let served = serve(&[SCHOOLROOM]);
        let look = [
            ("held", "at-rest"),
            ("star.deg", star),
            ("slot.deg", "1.3"),
            ("pin.notch", notch),
        ];
        assert_eq!(saw(&served, &look), 303);
        for witness in ["star", "slot"] {
            let [shown, log, record] = worded(&served, witness);
            assert_eq!(shown, log, "{witness} {star} {notch}");
            assert_eq!(shown, record, "{witness} {star} {notch}");
        }
    }
    // Windows that are worked out stand behind the record's words too.
    let served = serve(&[&counted("count wheel and cam")]);
    let look = [("held", "at-rest"), ("tail.deg", "20"), ("slot.deg", "1.3")];
    assert_eq!(saw(&served, &look), 303);
    for witness in ["hammer tail", "locking plate slot"] {
        let said = worded(&served, witness);
        assert!(said.iter().all(|one| *one == said[0]), "{said:?}");
    }
}

#[test]
fn no_degree_is_told_before_it_is_asked_for() {
    let served = serve(&[SCHOOLROOM]);
    for page in ["/job/1?look", AT_REST] {
        let body = served.get(page).body;
        let said = body.split("aria-label=\"").skip(1);
        let said: Vec<&str> = said.filter_map(|rest| rest.split('"').next()).collect();
        assert!(said.contains(&"in, at its best"), "{said:?}");
        let told = said.iter().find(|one| {
            one.contains('°') || (one.contains("degree") && !one.starts_with("In degrees"))
        });
        assert_eq!(told, None, "{page}");
        // Where it may be typed all the same, that is folded away.
        let fold = body.matches("class=\"in-degrees\"><summary").count();
        assert_eq!(fold, body.matches("placeholder=\"±0\"").count(), "{page}");
    }
    saw(&served, &[("slot.deg", "-1.2"), ("pin.deg", "-75")]);
    let page = served.get("/job/1").body;
    let log = part(&page, "class=\"log\"", "</section>");
    assert!(
        log.contains("slot short, on the edge") && !log.contains('°'),
        "{log}"
    );
}

#[test]
fn how_it_is_held_is_minded_before_anything_is_read_and_while_places_are_altered() {
    let held = |served: &Served, page: &str, held: &str| {
        let body = served.get(page).body;
        body.contains(&format!("name=\"held\" value=\"{held}\""))
    };
    let served = serve(&[SCHOOLROOM, &counted("count wheel outside")]);
    assert!(held(&served, "/job/1", "dropping"));
    served.get(AT_REST);
    served.get("/job/1/places");
    assert!(
        held(&served, "/job/1", "at-rest"),
        "chosen, and nothing read"
    );
    let entries = served.entries("/job/1/places");
    let put = [
        ("entries", entries.as_str()),
        ("what", "arbor.great"),
        ("right", "3"),
        ("up", "4"),
    ];
    let answer = served.post("/job/1/places/put", &put);
    assert_eq!(answer.status, 303, "{}", answer.body);
    assert!(
        held(&served, "/job/1", "at-rest"),
        "after a place was altered"
    );
    // The other way too, where at rest is what comes first; and what is chosen of one job says nothing of another.
    assert!(held(&served, "/job/2", "at-rest"));
    served.get("/job/2?look=look&held=dropping");
    assert!(held(&served, "/job/2", "dropping"));
    assert!(held(&served, "/job/1", "at-rest"));
    // What moves the train ends it: the next look begins as such looks do.
    let entries = served.entries("/job/1");
    served.post(
        "/job/1/jumped",
        &[("entries", &entries), ("arbor", "fourth")],
    );
    assert!(held(&served, "/job/1", "dropping"));
}

#[test]
fn what_was_chosen_and_not_entered_stands_there_again() {
    const CHOSEN: &str = "return [...document.querySelectorAll('#reading :checked')].filter((one) => !one.name.endsWith('.sure')).map((one) => one.name + one.value).join() \
        + [...document.querySelectorAll('#reading input[type=text]')].map((one) => one.value).join('')";
    with_browser(async |driver| {
        let served = serve(&[SCHOOLROOM]);
        let at = |path: &str| format!("{}{path}", served.address());
        goto(driver, at(AT_REST)).await;
        at_step(driver, "look").await;
        let nothing = value(driver, CHOSEN).await;
        touch(driver, "#read-slot .picture:nth-child(2) input").await;
        touch(driver, "#read-pin .check:nth-child(3) input").await;
        crate::browser::read(driver, "star", "7").await;
        let chosen = value(driver, CHOSEN).await;
        assert_ne!(chosen, nothing);
        // Elsewhere by a link, elsewhere altogether, and back.
        touch(driver, "a[href='/job/1/places']").await;
        until(driver, "return location.pathname === '/job/1/places'").await;
        goto(driver, at("/settings")).await;
        goto(driver, at("/job/1")).await;
        at_step(driver, "look").await;
        until(driver, &format!("{CHOSEN} === {chosen}")).await;
        // How it is looked at the other way has its own.
        touch(driver, ".two-looks a:not([aria-current])").await;
        until(
            driver,
            "return document.querySelector('[name=held]').value === 'dropping'",
        )
        .await;
        until(driver, &format!("{CHOSEN} === {nothing}")).await;
        goto(driver, at(AT_REST)).await;
        until(driver, &format!("{CHOSEN} === {chosen}")).await;
        // Once it is entered it is gone.
        touch(driver, ".touches [data-next]").await;
        at_step(driver, "answer").await;
        goto(driver, at(AT_REST)).await;
        at_step(driver, "look").await;
        until(driver, &format!("{CHOSEN} === {nothing}")).await;
    });
}

#[test]
fn half_a_place_that_nothing_can_put_right_asks_for_no_more_looks() {
    let mut sheet = Described::begin("count wheel and cam", "Wren Street", &[]).expect("a kind");
    let pins = tasks::QuestionAnswer::Choice("pins".to_owned());
    sheet.answer("count_moved", &pins).expect("asked");
    for place in sheet.places() {
        let counted = CountState::Counted(place.usual.expect("usual"));
        sheet.count(&place.id, counted).expect("there");
    }
    let served = serve(&[&sheet.text()]);
    let half = [
        ("slot.deg", "2.3"),
        ("slot.sure", "rough"),
        ("tail.deg", "0"),
        ("pin.deg", "-72"),
    ];
    assert_eq!(saw(&served, &half), 303);
    let page = served.get("/job/1").body;
    for said in [
        "stands outside by what was read",
        "friction spring",
        "skipped",
    ] {
        assert!(page.contains(said), "{said}\n{page}");
    }
    assert!(!page.contains("Look again at"), "{page}");
    // A little out may well have been misread: that is looked at again.
    let served = serve(&[&sheet.text()]);
    let little = [half[1], ("slot.deg", "0.9"), half[2], half[3]];
    assert_eq!(saw(&served, &little), 303);
    let page = served.get("/job/1").body;
    assert!(!page.contains("stands outside by what was read"), "{page}");
}

#[test]
fn without_a_cam_it_is_looked_at_at_rest_first() {
    for (kind, first) in [
        ("count wheel outside", true),
        ("count wheel and cam", false),
    ] {
        let served = serve(&[&counted(kind)]);
        let page = served.get("/job/1?look").body;
        let at_rest = page.contains("name=\"held\" value=\"at-rest\"");
        assert_eq!(at_rest, first, "{kind}\n{page}");
    }
}

#[test]
fn of_a_rack_it_is_asked_first_whether_the_pallet_is_clear_of_it() {
    for (kind, locked) in [("rack", "tail lies on the pin"), ("quarters", "")] {
        let served = serve(&[&counted(kind)]);
        let page = served.get("/job/1?look").body;
        let form = part(&page, "id=\"reading\"", "</form>");
        let first = part(form, "<fieldset", "</fieldset>");
        assert!(
            first.contains("does the rack drop freely?"),
            "{kind}\n{first}"
        );
        assert!(first.contains(locked) && first.contains("<svg"), "{kind}");
        assert!(page.contains("name=\"held\" value=\"at-rest\""), "{kind}");
        // As the hook drops nothing is said of a lever's tip and its notch.
        let drop = served.get("/job/1?look=look&held=dropping").body;
        let panels: String = drop.split("class=\"panel\"").skip(1).collect();
        assert!(drop.contains("until the last tooth is gathered"), "{kind}");
        assert!(
            !drop.contains("lever's tip") && !panels.contains("notch"),
            "{kind}"
        );
        assert!(panels.contains("locks a rack"), "{kind}");
        // While it stands in the way nothing is entered, and nothing that was chosen is lost.
        for stands in ["touches", "fast"] {
            let fields = [
                ("entries", "0"),
                ("held", "at-rest"),
                ("pallet", stands),
                ("tail.deg", "3"),
            ];
            let answer = served.post("/job/1/saw", &fields);
            assert_eq!(answer.status, 422);
            assert!(answer.body.contains("set that right first"), "{kind}");
            assert!(
                answer.body.contains(&format!("value=\"{stands}\" checked")),
                "{kind}"
            );
            assert!(answer.body.contains("value=\"3\""), "{kind}");
            assert_eq!(served.entries("/job/1"), "0");
        }
        let free = [("held", "at-rest"), ("pallet", "free"), ("tail.deg", "3")];
        assert_eq!(saw(&served, &free), 303);
    }
    let served = serve(&[SCHOOLROOM]);
    assert!(!served.get("/job/1?look").body.contains("name=\"pallet\""));
}

#[test]
fn a_pin_is_read_in_quarters_of_the_way() {
    let served = serve(&[SCHOOLROOM]);
    let page = served.get("/job/1?look").body;
    assert!(
        page.contains("name=\"star.quarters\" value=\"-1\""),
        "{page}"
    );
    assert!(!page.contains("name=\"slot.quarters\""), "a slot has walls");
    assert_eq!(
        saw(&served, &[("pin.quarters", "-1"), ("slot.deg", "0")]),
        303
    );
    let page = served.get("/job/1").body;
    assert!(
        page.contains("the pin a quarter of the way to go"),
        "{page}"
    );
    // What is no number of quarters is not read.
    assert_eq!(saw(&served, &[("pin.quarters", "x")]), 422);
}

#[test]
fn the_page_at_rest_fits_is_named_and_goes_without_the_script() {
    with_browser(async |driver| {
        let served = serve(&[SCHOOLROOM]);
        let page = format!("{}{AT_REST}", served.address());
        for size in SIZES {
            resize(driver, size).await;
            goto(driver, &page).await;
            at_step(driver, "look").await;
            shot(driver, &format!("rest-{}", size.name)).await;
            shot_whole(driver, &format!("rest-{}-whole", size.name)).await;
            assert_fits(driver, size.name).await;
            if let Some(axe) = axe() {
                assert_eq!(
                    wrong(driver, &axe).await,
                    Vec::<String>::new(),
                    "{}",
                    size.name
                );
            }
        }
        resize(driver, PHONE).await;
        without_script(driver).await;
        goto(driver, &page).await;
        source(driver, "data-step=\"look\"").await;
        for witness in ["slot", "star"] {
            touch(
                driver,
                &format!("#read-{witness} .picture:nth-child(3) input"),
            )
            .await;
        }
        touch(driver, "#read-pin .check:nth-child(3) input").await;
        touch(driver, ".primary[data-next]").await;
        source(driver, "Seen at rest, locked").await;
    });
}

/// A look that is told in two ways at once is asked about, and nothing is entered; what was chosen stays on the page.
#[test]
fn what_is_told_in_two_ways_at_once_is_asked_about() {
    let served = serve(&[include_str!("../../../../movements/quarters.toml")]);
    let said = [
        ("entries", "0"),
        ("tail.pick", "0"),
        ("tail.quarters", "-1"),
    ];
    let answer = served.post("/job/1/saw", &said);
    assert_eq!(answer.status, 422);
    assert!(answer.body.contains("in two ways at once"));
    assert!(
        served
            .get("/job/1")
            .body
            .contains("name=\"entries\" value=\"0\"")
    );
    let answer = served.post("/job/1/saw", &[("entries", "0"), ("tail.quarters", "-1")]);
    assert_eq!(answer.status, 303);
}

#[test]
fn a_look_at_rest_stays_worded_as_it_was_when_it_was_entered() {
    let served = serve(&[SCHOOLROOM]);
    let log = || {
        let page = served.get("/job/1").body;
        let lines = page.split("Seen at rest, locked: ").skip(1);
        let lines = lines.map(|line| line.split("</li>").next().unwrap_or_default().to_owned());
        lines.collect::<Vec<_>>()
    };
    let mut then: Vec<String> = Vec::new();
    // Where the pin lay is known from the first look; the star's place as the lever drops hangs by it.
    for (n, (name, read)) in [("pin.notch", "24"), ("star.deg", "8"), ("slot.deg", "0")]
        .into_iter()
        .enumerate()
    {
        assert_eq!(saw(&served, &[("held", "at-rest"), (name, read)]), 303);
        let now = log();
        assert_eq!(now.len(), n + 1);
        assert_eq!(now[..n], then, "as they were worded");
        then = now;
    }
}
