//! With keys alone: what a keyboard, an elbow or a foot pedal can do.

use crate::browser::{Size, at_step, goto, resize, until, value, with_browser};
use crate::served::serve;
use thirtyfour::prelude::*;

pub(crate) async fn press(driver: &WebDriver, keys: impl IntoIterator<Item = Key>) {
    for key in keys {
        driver
            .active_element()
            .await
            .expect("something has the focus")
            .send_keys(key.value().to_string())
            .await
            .expect("pressed");
    }
}

#[test]
fn the_round_is_gone_by_keys_alone() {
    with_browser(async |driver| {
        let served = serve(&[]);
        resize(
            driver,
            Size {
                name: "laptop",
                wide: 1280,
                high: 960,
            },
        )
        .await;
        goto(driver, served.address()).await;
        at_step(driver, "look").await;
        // On, with nothing read: the first close-up has the focus, and it is said why.
        press(driver, [Key::PageDown]).await;
        until(driver, "return document.activeElement.id === 'loupe-slot' && document.querySelector('#live').textContent.includes('Nothing is read')").await;
        press(driver, std::iter::repeat_n(Key::Left, 12)).await;
        until(driver, "return document.querySelector('#loupe-slot').getAttribute('aria-valuetext') === 'short, on the edge'").await;
        // Tab leads to everything that can be touched, in the order of the page.
        let mut stops = Vec::new();
        for _ in 0..14 {
            press(driver, [Key::Tab]).await;
            let on = value(
                driver,
                "const a = document.activeElement; return a.id || a.name || a.textContent.trim()",
            )
            .await;
            stops.push(on.as_str().unwrap_or_default().to_owned());
        }
        for wanted in ["slot.pick", "slot.sure", "In degrees", "loupe-star"] {
            assert!(stops.iter().any(|s| s == wanted), "{wanted} in {stops:?}");
        }
        press(driver, [Key::PageDown]).await;
        at_step(driver, "answer").await;
        until(driver, "return document.activeElement.id === 'sentence'").await;
        let shift = value(
            driver,
            "return document.querySelector('#sentence').innerText.includes('arbor')",
        )
        .await;
        press(driver, [Key::Enter]).await;
        at_step(driver, "look").await;
        let entries = if shift == true { "2" } else { "1" };
        assert_eq!(served.entries("/job/1"), entries);
    });
}
