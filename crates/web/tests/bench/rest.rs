//! Looks at rest: what is asked and marked there, what of it is remembered, and the page in a browser.

use crate::browser::{
    PHONE, SIZES, at_step, resize, shot, shot_whole, source, touch, with_browser, without_script,
};
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
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
    assert!(page.contains("-1 quarters of the way"), "{page}");
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
            driver.goto(&page).await.expect("opened");
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
        driver.goto(&page).await.expect("opened");
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
