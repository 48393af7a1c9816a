//! At 200 % zoom a window has half its width and height in the page's own measure: nothing may run out of it sideways, and
//! what is to be touched stays 48 of those wide or high.

use crate::browser::{Size, at_step, goto, resize, shot, value, with_browser};
use crate::served::serve;

pub(crate) const HALVES: [Size; 3] = [
    Size {
        name: "phone-200",
        wide: 195,
        high: 422,
    },
    Size {
        name: "tablet-200",
        wide: 410,
        high: 590,
    },
    Size {
        name: "laptop-200",
        wide: 640,
        high: 480,
    },
];

#[test]
fn nothing_runs_out_sideways_at_twice_the_size() {
    with_browser(async |driver| {
        for size in HALVES {
            let served = serve(&[]);
            resize(driver, size).await;
            goto(driver, served.address()).await;
            at_step(driver, "look").await;
            shot(driver, &format!("{}-look", size.name)).await;
            assert_fits(driver, size.name).await;
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
            shot(driver, &format!("{}-answer", size.name)).await;
            assert_fits(driver, size.name).await;
        }
    });
}

pub(crate) async fn assert_fits(driver: &thirtyfour::WebDriver, name: &str) {
    let over = value(
        driver,
        "return document.documentElement.scrollWidth - document.documentElement.clientWidth",
    )
    .await;
    assert_eq!(over, 0, "{name} runs over by {over}");
    let small = value(
        driver,
        "return [...document.querySelectorAll('main button, main a.button, main summary, .loupe-hold, .sure label, .number input')] \
         .filter(e => e.checkVisibility()).map(e => [e, e.getBoundingClientRect()]) \
         .filter(([, r]) => r.width && r.height < 47.5).map(([e, r]) => e.outerHTML.slice(0, 80) + ' ' + r.height)",
    )
    .await;
    assert_eq!(small, serde_json::json!([]), "{name}");
}
