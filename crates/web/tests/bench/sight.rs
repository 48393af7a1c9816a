//! What must be seen together without scrolling: of an answer the drawing, the sentence, its arrow and the next touch, be it one shift or
//! two; and cautions that were read stand folded.

use crate::browser::{
    PHONE, SIZES, Size, at_step, dark, goto, resize, shot, touch, until, value, with_browser,
};
use crate::served::serve;
use serde_json::json;

/// A usual laptop: lower than the others are wide.
const LAPTOP: Size = Size {
    name: "low-laptop",
    wide: 1366,
    high: 768,
};

/// What was read, and how many shifts that asks for.
const READ: [(usize, [(&str, &str); 3]); 2] = [
    (
        1,
        [("slot.deg", "0"), ("star.deg", "0"), ("pin.deg", "-23.6")],
    ),
    (
        2,
        [
            ("slot.deg", "1.15"),
            ("star.deg", "10"),
            ("pin.deg", "-23.6"),
        ],
    ),
];

/// Of each of these the part that is in the window and under nothing else, from 0 to 1, by points spread over its box.
const SEEN: &str = "const seen = (e) => {
    const b = e.getBoundingClientRect();
    let all = 0, free = 0;
    for (let i = 1; i < 10; i++) for (let j = 1; j < 10; j++) {
        const [x, y] = [b.left + b.width * i / 10, b.top + b.height * j / 10];
        all += 1;
        const top = x >= 0 && y >= 0 && x < innerWidth && y < innerHeight ? document.elementFromPoint(x, y) : null;
        // The paper between the lines of a drawing is the drawing's.
        if (top && (e.contains(top) || top.contains(e) || e.closest('svg')?.contains(top))) free += 1;
    }
    return free / all;
};
const of = (what) => [...document.querySelectorAll(what)].map(seen);
return { sentence: of('#sentence'), next: of('[data-next]'), arrows: of('.lies g.arrow'), drawing: of('.lies-hold > svg') };";

#[test]
fn an_answer_is_in_sight_with_its_drawing_arrows_and_next_touch() {
    with_browser(async |driver| {
        for size in [PHONE, SIZES[1], LAPTOP] {
            for (shifts, read) in READ {
                for night in [false, true] {
                    let served = serve(&[]);
                    let fields = [&[("entries", "0")][..], &read[..]].concat();
                    assert_eq!(served.post("/job/1/saw", &fields).status, 303);
                    resize(driver, size).await;
                    dark(driver, night).await;
                    goto(driver, served.address()).await;
                    at_step(driver, "answer").await;
                    let of = format!(
                        "{}-{shifts}{}",
                        size.name,
                        if night { "-night" } else { "" }
                    );
                    shot(driver, &format!("sight-{of}")).await;
                    let seen = value(driver, SEEN).await;
                    let least = |what: &str| {
                        let each = seen[what].as_array().expect("a list").iter();
                        let each: Vec<f64> = each.filter_map(serde_json::Value::as_f64).collect();
                        assert!(!each.is_empty(), "{of}: no {what}");
                        each.into_iter().fold(1.0, f64::min)
                    };
                    assert!(least("sentence") > 0.99, "{of}: {seen}");
                    assert!(least("next") > 0.99, "{of}: {seen}");
                    assert!(least("arrows") > 0.99, "{of}: {seen}");
                    // A great wheel may run on beneath what is said.
                    assert!(least("drawing") > 0.6, "{of}: {seen}");
                    assert_eq!(seen["arrows"].as_array().map(Vec::len), Some(shifts));
                }
            }
        }
        // What is pushed out of sight is found out.
        value(
            driver,
            "document.querySelector('#say').style.marginTop = '600px'",
        )
        .await;
        let seen = value(driver, SEEN).await;
        assert!(seen["next"][0].as_f64() < Some(0.5), "{seen}");
        dark(driver, false).await;
    });
}

#[test]
fn cautions_that_were_read_stand_folded_and_new_ones_open() {
    with_browser(async |driver| {
        let served = serve(&[]);
        let fields = [&[("entries", "0")][..], &READ[0].1[..]].concat();
        assert_eq!(served.post("/job/1/saw", &fields).status, 303);
        resize(driver, LAPTOP).await;
        goto(driver, served.address()).await;
        at_step(driver, "answer").await;
        let open = "return document.querySelector('details.mind').open";
        assert_eq!(value(driver, open).await, json!(true));
        // Seen again without anything done they are not taken for read.
        goto(driver, served.address()).await;
        at_step(driver, "answer").await;
        assert_eq!(value(driver, open).await, json!(true));
        touch(driver, ".primary[data-next]").await;
        at_step(driver, "look").await;
        // Undone, the same is to be minded again.
        touch(driver, "form[action$='/undo'] button").await;
        at_step(driver, "answer").await;
        assert_eq!(value(driver, open).await, json!(false));
        let said = value(
            driver,
            "return document.querySelector('details.mind').innerText",
        )
        .await;
        assert!(
            said.as_str()
                .is_some_and(|said| said.contains("read before")),
            "{said}"
        );
        // A touch opens them, and a caution that was not read yet opens all.
        touch(driver, "details.mind summary").await;
        until(driver, open).await;
        let fewer = "for (const k of Object.keys(sessionStorage)) if (k.startsWith('minded')) \
            sessionStorage.setItem(k, JSON.stringify(JSON.parse(sessionStorage.getItem(k)).slice(1)));";
        value(driver, fewer).await;
        goto(driver, served.address()).await;
        at_step(driver, "answer").await;
        assert_eq!(value(driver, open).await, json!(true));
    });
}
