//! The whole round: look, answer, do, look again; on each size, from both plates, upside down.

use crate::browser::{SIZES, Size, at_step, goto, resize, shot, touch, until, value, with_browser};
use crate::served::{Served, serve};
use thirtyfour::prelude::*;

/// The way the arrow goes as it is drawn, by its own points: more than 0 is clockwise, as y grows downward.
const ARROW: &str = "const a = document.querySelector('.lies g.arrow').dataset; \
    return Math.sign((a.x0 - a.cx) * (a.y1 - a.cy) - (a.y0 - a.cy) * (a.x1 - a.cx))";

async fn sentence(driver: &WebDriver) -> String {
    let text = value(
        driver,
        "return document.querySelector('#sentence').innerText",
    )
    .await;
    text.as_str().unwrap_or_default().replace('\n', " ")
}

async fn typed(driver: &WebDriver, witness: &str, degrees: &str) {
    let script = format!(
        "const n = document.querySelector('[name=\"{witness}.deg\"]'); n.value = '{degrees}'; n.dispatchEvent(new Event('input', {{ bubbles: true }}))"
    );
    value(driver, &script).await;
    touch(driver, &format!("#read-{witness} .sure label:first-child")).await;
}

#[test]
fn from_a_fresh_page_to_the_answer_and_round_again() {
    with_browser(async |driver| {
        for size in SIZES {
            let served = serve(&[]);
            resize(driver, size).await;
            touches(driver, &served, size).await;
            answers(driver, size).await;
            round(driver, size).await;
        }
    });
}

/// Counts what is touched from a fresh page to the first answer: a picture for each witness, and the question.
async fn touches(driver: &WebDriver, served: &Served, size: Size) {
    goto(driver, served.address()).await;
    at_step(driver, "look").await;
    shot(driver, &format!("{}-1-look", size.name)).await;
    let mut count = 0;
    for (witness, picture) in [("slot", 2), ("star", 2), ("pin", 3)] {
        touch(
            driver,
            &format!("#read-{witness} .picture:nth-child({picture})"),
        )
        .await;
        count += 1;
    }
    shot(driver, &format!("{}-2-pictures", size.name)).await;
    touch(driver, "[data-next]").await;
    count += 1;
    at_step(driver, "answer").await;
    shot(driver, &format!("{}-3-by-pictures", size.name)).await;
    let said = sentence(driver).await;
    println!("{}: {count} touches to: {said}", size.name);
    assert!(count <= 6);
    assert!(
        said.starts_with("Lift the second arbor. Two teeth counterclockwise"),
        "{said}"
    );
    // Taken back, for what follows.
    touch(driver, "form[action$='/undo'] button").await;
    at_step(driver, "look").await;
}

/// The answer from careful readings: the same shift seen from both plates and both ways up.
async fn answers(driver: &WebDriver, size: Size) {
    for (witness, degrees) in [("slot", "-1.2"), ("star", "-10"), ("pin", "-75")] {
        typed(driver, witness, degrees).await;
    }
    let looks = value(
        driver,
        "return document.querySelector('#read-slot .words').textContent",
    )
    .await;
    assert_eq!(looks, "short, on the edge");
    let place = value(
        driver,
        "return document.querySelector('#loupe-slot').getAttribute('aria-valuetext')",
    )
    .await;
    assert_eq!(place, "short, on the edge");
    touch(driver, "[data-next]").await;
    at_step(driver, "answer").await;
    let mut seen = Vec::new();
    for (view, turn) in [
        ("back", None),
        ("front", Some("plate")),
        ("front-over", Some("over")),
        ("back-over", Some("plate")),
    ] {
        if let Some(turn) = turn {
            let about = value(
                driver,
                "return document.querySelector('.about').textContent",
            )
            .await;
            // It is in sight where it stands: nothing is scrolled to come at it.
            let turned = format!("document.querySelector('.lies [value={turn}]').click()");
            value(driver, &turned).await;
            until(
                driver,
                &format!("return document.querySelector('.about').textContent !== {about}"),
            )
            .await;
            at_step(driver, "answer").await;
        }
        let said = sentence(driver).await;
        let front = view.starts_with("front");
        // Worked from the counts by hand: two teeth counterclockwise from the back, the other way from the front;
        // upside down nothing turns the other way.
        let way = if front {
            "Two teeth clockwise"
        } else {
            "Two teeth counterclockwise"
        };
        assert!(
            said.starts_with("Lift the second arbor.") && said.contains(way),
            "{view}: {said}"
        );
        let drawn = value(driver, ARROW).await.as_f64().expect("an arrow");
        assert!((drawn > 0.0) == front, "{view}: drawn {drawn}");
        let label = value(
            driver,
            "return document.querySelector('.lies-hold').getAttribute('aria-label')",
        )
        .await;
        assert!(label.as_str().is_some_and(|l| l.contains(way)), "{label}");
        let counted = value(driver, "return [...document.querySelectorAll('.lies g.arrow text.count')].map(t => t.textContent).join()").await;
        assert_eq!(counted, "1,2");
        shot(driver, &format!("{}-4-answer-{view}", size.name)).await;
        seen.push(said);
        assert!(
            in_sight(driver).await,
            "{view} on a {}: the answer is in sight",
            size.name
        );
    }
    assert_eq!(seen[0], seen[3]);
    // Back as it was.
    touch(driver, ".lies [value=over]").await;
    until(
        driver,
        "return document.querySelector('.about').textContent === 'from the back plate'",
    )
    .await;
    at_step(driver, "answer").await;
    if size.wide < 900 {
        value(driver, "scrollTo(0, document.documentElement.scrollHeight)").await;
        assert!(in_sight(driver).await, "at the page's end");
        value(driver, "scrollTo(0, 0)").await;
    }
}

/// Whether the sentence lies wholly within the window.
async fn in_sight(driver: &WebDriver) -> bool {
    value(driver, "const r = document.querySelector('#sentence').getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight && r.height > 0").await
        == serde_json::Value::Bool(true)
}

/// The other way, a jump, undo; then done, looked at, and closed up.
async fn round(driver: &WebDriver, size: Size) {
    touch(driver, "form[action$='/other-way'] button").await;
    at_step(driver, "look").await;
    let log = "return document.querySelector('.log').innerText";
    assert!(
        value(driver, log)
            .await
            .as_str()
            .is_some_and(|l| l.contains("went the other way"))
    );
    touch(driver, "form[action$='/undo'] button").await;
    until(
        driver,
        "return document.querySelectorAll('.log li.back').length === 2",
    )
    .await;
    touch(driver, "form[action$='/undo'] button").await;
    at_step(driver, "answer").await;
    touch(driver, ".touches a[href$=jumped]").await;
    at_step(driver, "jumped").await;
    shot(driver, &format!("{}-5-jumped", size.name)).await;
    // On the drawing: the fourth wheel, by its rim.
    let script = "const r = document.querySelector('#part-fourth-wheel').getBoundingClientRect(); \
        const at = document.elementFromPoint(r.left + r.width / 2, r.top + 3 * r.height / 32) ?? document.querySelector('#part-fourth-wheel'); \
        at.dispatchEvent(new MouseEvent('click', { bubbles: true }))";
    value(driver, script).await;
    at_step(driver, "look").await;
    assert!(
        value(driver, log)
            .await
            .as_str()
            .is_some_and(|l| l.contains("The fourth arbor jumped out"))
    );
    touch(driver, "form[action$='/undo'] button").await;
    at_step(driver, "answer").await;
    touch(driver, "form[action$='/done'] button").await;
    at_step(driver, "look").await;
    shot(driver, &format!("{}-6-done", size.name)).await;
    assert!(
        value(
            driver,
            "return document.querySelectorAll('.reading .ghost').length"
        )
        .await
        .as_u64()
            > Some(0),
        "what should be seen is dotted"
    );
    for (witness, degrees) in [("slot", "0"), ("star", "0.4"), ("pin", "-74")] {
        typed(driver, witness, degrees).await;
    }
    touch(driver, "[data-next]").await;
    at_step(driver, "answer").await;
    shot(driver, &format!("{}-7-in-window", size.name)).await;
    let said = sentence(driver).await;
    assert!(said.starts_with("All is in its window"), "{said}");
}
