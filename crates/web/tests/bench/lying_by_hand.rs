//! Where the arbors lie, in a browser: dragged on the drawing, moved by keys, touched without the script, and touched on a photograph; and
//! from then on the arrow is at that wheel.

use crate::browser::{
    PHONE, SIZES, at_step, dark, goto, resize, shot, shot_whole, source, touch, until, value,
    with_browser, without_script,
};
use crate::keys::press;
use crate::lying::{PAGE, on_the_bench, picture_in, place, plate_picture, sheet};
use crate::names::{axe, wrong};
use crate::served::part;
use crate::tongues::{speak, unfit};
use crate::zoom::{HALVES, assert_fits};
use thirtyfour::prelude::*;

/// Where a point of the drawing is on the screen.
async fn on_screen(driver: &WebDriver, [x, y]: [f64; 2]) -> [i64; 2] {
    let script = format!(
        "const svg = document.querySelector('.places .spots'); const at = new DOMPoint({x}, {y}).matrixTransform(svg.getScreenCTM()); return [Math.round(at.x), Math.round(at.y)]"
    );
    let at = value(driver, &script).await;
    [0, 1].map(|n| at[n].as_i64().expect("a number"))
}

/// Where an arbor is drawn on the page.
async fn drawn(driver: &WebDriver, arbor: &str) -> [f64; 2] {
    let script = format!(
        "const {{ x, y }} = document.querySelector('.spots [data-what=\"arbor.{arbor}\"]').dataset; return [Number(x), Number(y)]"
    );
    let at = value(driver, &script).await;
    [0, 1].map(|n| at[n].as_f64().expect("a number"))
}

/// Takes an arbor and lets it go elsewhere on the drawing.
async fn drag(driver: &WebDriver, arbor: &str, to: [f64; 2]) {
    value(
        driver,
        "document.querySelector('.lies').scrollIntoView({ block: 'start' })",
    )
    .await;
    let before = value(
        driver,
        "return document.querySelector('#main').dataset.entries",
    )
    .await;
    let from = drawn(driver, arbor).await;
    let ([x, y], [u, v]) = (on_screen(driver, from).await, on_screen(driver, to).await);
    let hand = driver.action_chain();
    let hand = hand
        .move_to(x, y)
        .click_and_hold()
        .move_to(i64::midpoint(x, u), i64::midpoint(y, v));
    hand.move_to(u, v)
        .release()
        .perform()
        .await
        .expect("dragged");
    let came = format!(
        "return !document.documentElement.hasAttribute('aria-busy') && document.querySelector('#main').dataset.entries !== {before}"
    );
    until(driver, &came).await;
}

/// The arbors of the page, from the great wheel up.
async fn arbors(driver: &WebDriver) -> Vec<String> {
    let all = value(driver, "return [...document.querySelectorAll('.spots [data-what^=\"arbor.\"]')].map((one) => one.dataset.what.slice(6))").await;
    serde_json::from_value(all).expect("names")
}

#[test]
fn arbors_are_dragged_to_where_they_lie_and_the_arrow_is_at_that_wheel() {
    with_browser(async |driver| {
        for size in SIZES {
            let served = on_the_bench("count wheel and cam");
            resize(driver, size).await;
            goto(driver, format!("{}{PAGE}", served.address())).await;
            at_step(driver, "lie").await;
            shot(driver, &format!("lying-{}-none", size.name)).await;
            let all = arbors(driver).await;
            let mut touches = 0;
            for (n, arbor) in all.iter().enumerate().skip(1) {
                let [x, y] = drawn(driver, arbor).await;
                let aside = if n % 2 == 0 { 6.0 } else { -6.0 };
                drag(driver, arbor, [x + aside, y - 3.0]).await;
                touches += 1;
                let [u, v] = drawn(driver, arbor).await;
                let [right, up] = place(&served, arbor).expect("it has its place");
                // The drawing is the sheet's own once anything is placed: to the right, and down.
                assert!(
                    (u - right).abs() < 0.06 && (v + up).abs() < 0.06,
                    "{arbor}: {u} {v} {right} {up}"
                );
            }
            println!("{}: {touches} touches for {} arbors", size.name, all.len());
            assert!(touches < all.len());
            shot(driver, &format!("lying-{}-all", size.name)).await;
            shot_whole(driver, &format!("lying-{}-whole", size.name)).await;
            // One that is read out of its window, and the arrow that follows, from both plates.
            for from in ["back", "front"] {
                goto(driver, format!("{}/job/2?look", served.address())).await;
                at_step(driver, "look").await;
                let plate =
                    value(driver, "return document.querySelector('.about').innerText").await;
                if !plate.as_str().unwrap_or_default().contains(from) {
                    touch(driver, "[name=turn][value=plate]").await;
                    until(
                        driver,
                        &format!(
                            "return document.querySelector('.about').innerText.includes('{from}')"
                        ),
                    )
                    .await;
                }
                // By usual windows another look may be asked for first.
                for _ in 0..4 {
                    value(driver, "for (const two of document.querySelectorAll('.close-up .picture:nth-child(2) input')) two.click()").await;
                    touch(driver, ".touches [data-next]").await;
                    at_step(driver, "answer").await;
                    if value(driver, "return !!document.querySelector('.lies .arrow')").await
                        == true
                    {
                        break;
                    }
                    touch(driver, ".touches [data-next]").await;
                    at_step(driver, "look").await;
                }
                shot(driver, &format!("lying-{}-arrow-{from}", size.name)).await;
                let arrow = value(driver, "const { arbor, cx, cy } = document.querySelector('.lies .arrow').dataset; return [arbor, cx, cy]").await;
                let lifted = arrow[0].as_str().expect("an arbor").to_owned();
                let number = |n: usize| {
                    arrow[n]
                        .as_str()
                        .and_then(|text| text.parse::<f64>().ok())
                        .expect("a number")
                };
                let script = "const one = document.querySelector('.lies .arbor[data-arbor=great]').dataset; return [Number(one.cx), Number(one.cy)]";
                let great = value(driver, script).await;
                let great = [0, 1].map(|n| great[n].as_f64().expect("a number"));
                let at = place(&served, &lifted).expect("it has its place");
                let zero = place(&served, "great").expect("it has its place");
                let mirrored = if from == "back" { 1.0 } else { -1.0 };
                let far = [mirrored * (at[0] - zero[0]), zero[1] - at[1]];
                for n in [0, 1] {
                    let off = number(n + 1) - great[n] - far[n];
                    assert!(off.abs() < 0.05, "{from}: {lifted} off by {off}");
                }
                let entries = served.entries("/job/2");
                served.post("/job/2/undo", &[("entries", &*entries)]);
            }
        }
    });
}

#[test]
fn an_arbor_is_moved_by_keys_and_chosen_by_a_touch() {
    with_browser(async |driver| {
        resize(driver, PHONE).await;
        let served = on_the_bench("rack");
        goto(driver, format!("{}{PAGE}", served.address())).await;
        at_step(driver, "lie").await;
        let [x, y] = drawn(driver, "pins").await;
        let great = drawn(driver, "great").await;
        value(
            driver,
            "document.querySelector('.spots [data-what=\"arbor.pins\"]').focus()",
        )
        .await;
        press(driver, [Key::Right, Key::Right, Key::Up, Key::Enter]).await;
        until(
            driver,
            "return document.querySelector('#main').dataset.entries === '3'",
        )
        .await;
        let near =
            |got: [f64; 2], wanted: [f64; 2]| (got[0] - wanted[0]).hypot(got[1] - wanted[1]) < 0.1;
        let put = place(&served, "pins").expect("it has its place");
        assert!(
            near(put, [x + 2.0 - great[0], great[1] - y + 1.0]),
            "{put:?}"
        );
        // Chosen by a touch, then put where the drawing is touched.
        let at = on_screen(driver, drawn(driver, "pallet").await).await;
        let hand = driver.action_chain().move_to(at[0], at[1]).click();
        hand.perform().await.expect("touched");
        until(
            driver,
            "return document.querySelector('#put [name=what]')?.value === 'arbor.pallet'",
        )
        .await;
        let [x, y] = drawn(driver, "great").await;
        value(
            driver,
            "document.querySelector('.lies').scrollIntoView({ block: 'start' })",
        )
        .await;
        let spot = [x - 25.0, y - 6.0];
        let at = on_screen(driver, spot).await;
        let hand = driver.action_chain().move_to(at[0], at[1]).click();
        hand.perform().await.expect("touched");
        until(
            driver,
            "return document.querySelector('#main').dataset.entries === '4'",
        )
        .await;
        let put = place(&served, "pallet").expect("it has its place");
        assert!(
            (put[0] + 25.0).abs() < 0.7 && (put[1] - 6.0).abs() < 0.7,
            "{put:?}"
        );
    });
}

#[test]
fn the_same_without_the_script() {
    with_browser(async |driver| {
        resize(driver, PHONE).await;
        without_script(driver).await;
        let served = on_the_bench("rack");
        let page = format!("{}{PAGE}", served.address());
        goto(driver, &page).await;
        source(driver, "data-what=\"arbor.pins\"").await;
        goto(driver, format!("{page}?what=arbor.pins")).await;
        source(driver, "class=\"plain-touch\"").await;
        shot_whole(driver, "lying-plain").await;
        let picture = driver
            .find(By::Css(".plain-touch"))
            .await
            .expect("the drawing");
        picture.scroll_into_view().await.expect("in sight");
        picture.click().await.expect("touched");
        source(driver, "data-entries=\"3\"").await;
        // In its middle, which is between the great arbor and the top.
        let put = place(&served, "pins").expect("it has its place");
        assert!(put[1] > 5.0, "{put:?}");
        let entry = picture_in(&served, &plate_picture(&[]));
        goto(driver, format!("{page}?picture={entry}&photographed=front")).await;
        source(driver, "Touch the centre of the great arbor.").await;
        touch(driver, "input.plate-picture").await;
        source(driver, "data-touched=\"arbor.great\"").await;
        let minded = served
            .get(&format!("{PAGE}?picture={entry}&photographed=front"))
            .body;
        let cross = part(&minded, "data-touched=\"arbor.great\"", "</g>");
        assert!(
            cross.contains("M0.48") || cross.contains("M0.47"),
            "{cross}"
        );
    });
}

#[test]
fn a_photograph_is_touched_from_the_great_wheel_up_and_lies_under_the_drawing() {
    with_browser(async |driver| {
        for size in SIZES {
            resize(driver, size).await;
            let served = on_the_bench("rack");
            let spots = [
                [0.5, 0.62],
                [0.44, 0.42],
                [0.6, 0.34],
                [0.5, 0.2],
                [0.62, 0.14],
                [0.3, 0.3],
                [0.36, 0.5],
                [0.7, 0.5],
            ];
            let entry = picture_in(&served, &plate_picture(&spots));
            let page = format!("{}{PAGE}", served.address());
            goto(driver, format!("{page}?picture={entry}&photographed=front")).await;
            at_step(driver, "photograph").await;
            let mut touches = 0;
            loop {
                let next = value(
                    driver,
                    "return document.querySelector('#touch [name=touch]').value",
                )
                .await;
                let next = next.as_str().unwrap_or_default().to_owned();
                if next.is_empty() {
                    break;
                }
                let [x, y] = spots[touches % spots.len()];
                let script = format!(
                    "const picture = document.querySelector('.plate-picture'); picture.scrollIntoView({{ block: 'nearest' }}); const {{ left, top, width }} = picture.getBoundingClientRect(); return [Math.round(left + {x} * width), Math.round(top + {y} * width)]"
                );
                let at = value(driver, &script).await;
                let [u, v] = [0, 1].map(|n| at[n].as_i64().expect("a number"));
                driver
                    .action_chain()
                    .move_to(u, v)
                    .click()
                    .perform()
                    .await
                    .expect("touched");
                touches += 1;
                until(driver, &format!("return document.querySelector('#touch [name=touch]').value !== '{next}' && !document.documentElement.hasAttribute('aria-busy')")).await;
                if touches == 3 {
                    shot(driver, &format!("lying-{}-photograph", size.name)).await;
                }
            }
            let arbors = tasks::Described::read(&sheet(&served).text())
                .expect("it reads")
                .places();
            let mut ids: Vec<String> = arbors.iter().map(|place| place.id.arbor.clone()).collect();
            ids.dedup();
            println!(
                "{}: {} touches for {} arbors",
                size.name,
                touches + 1,
                ids.len()
            );
            assert_eq!(touches, ids.len(), "one touch each");
            shot_whole(driver, &format!("lying-{}-touched", size.name)).await;
            touch(driver, "form[action$='/take'] button").await;
            at_step(driver, "lie").await;
            shot(driver, &format!("lying-{}-under", size.name)).await;
            until(
                driver,
                "return document.querySelectorAll('.lies .underlay').length === 1",
            )
            .await;
            // Each cross of the drawing is on its spot of the picture.
            for (arbor, spot) in ids.iter().zip(spots) {
                let off = value(driver, &format!("const picture = document.querySelector('.underlay'), link = document.querySelector('.spots [data-what=\"arbor.{arbor}\"]'); const a = new DOMPoint({}, {}).matrixTransform(picture.getScreenCTM()), b = new DOMPoint(link.dataset.x, link.dataset.y).matrixTransform(link.getScreenCTM()); return Math.hypot(a.x - b.x, a.y - b.y)", spot[0], spot[1])).await;
                assert!(off.as_f64().expect("a number") < 2.5, "{arbor}: {off}");
            }
            // As faded as one likes, minded from then on, on the bench too.
            value(driver, "const range = document.querySelector('.fade input'); range.value = 90; range.dispatchEvent(new Event('input', { bubbles: true })); range.dispatchEvent(new Event('change', { bubbles: true }))").await;
            until(
                driver,
                "return document.querySelector('.underlay').getAttribute('opacity') === '0.9'",
            )
            .await;
            let minded = async || served.get("/job/2").body.contains("opacity=\".9\"");
            for _ in 0..100 {
                if minded().await {
                    break;
                }
                tokio::time::sleep(std::time::Duration::from_millis(50)).await;
            }
            goto(driver, format!("{}/job/2", served.address())).await;
            at_step(driver, "look").await;
            until(
                driver,
                "return document.querySelector('.underlay').getAttribute('opacity') === '.9'",
            )
            .await;
            shot(driver, &format!("lying-{}-bench", size.name)).await;
            dark(driver, true).await;
            shot(driver, &format!("lying-{}-bench-dark", size.name)).await;
            goto(driver, &page).await;
            at_step(driver, "lie").await;
            shot(driver, &format!("lying-{}-dark", size.name)).await;
            dark(driver, false).await;
        }
    });
}

#[test]
fn the_page_has_names_and_contrast_and_fits() {
    let Some(axe) = axe() else { return };
    with_browser(async |driver| {
        let served = on_the_bench("count wheel and cam");
        let entry = picture_in(&served, &plate_picture(&[[0.5, 0.5]]));
        let page = format!("{}{PAGE}", served.address());
        let photograph = format!("?picture={entry}&photographed=back");
        let states = [
            "",
            "?what=arbor.second",
            "?new=pillar",
            "?new=bell",
            &*photograph,
        ];
        for state in states {
            goto(driver, format!("{page}{state}")).await;
            until(driver, "return document.readyState === 'complete'").await;
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
            dark(driver, false).await;
            for size in HALVES {
                resize(driver, size).await;
                assert_fits(driver, &format!("{state}, {}", size.name)).await;
            }
        }
        speak(driver, &served, "long.british.mm").await;
        for state in states {
            goto(driver, format!("{page}{state}")).await;
            assert_eq!(unfit(driver, state).await, Vec::<String>::new(), "{state}");
        }
    });
}

#[test]
fn keys_move_what_was_chosen_from_the_list_and_do_not_scroll() {
    with_browser(async |driver| {
        let served = on_the_bench("count wheel and cam");
        resize(driver, PHONE).await;
        goto(driver, format!("{}{PAGE}", served.address())).await;
        at_step(driver, "lie").await;
        touch(driver, "a.button.plain[href*='what=arbor.third']").await;
        until(driver, "return document.querySelector('.spots a[aria-current]')?.dataset.what === 'arbor.third'").await;
        let before = place(&served, "third");
        let scrolled = value(driver, "return scrollY").await;
        press(driver, [Key::Right, Key::Right, Key::Down]).await;
        let to = "return document.querySelector('.spots a[aria-current]').dataset.to";
        until(driver, &format!("{to} !== undefined")).await;
        assert_eq!(value(driver, "return scrollY").await, scrolled);
        press(driver, [Key::Enter]).await;
        source(driver, "data-step=\"lie\"").await;
        for _ in 0..50 {
            if place(&served, "third") != before {
                break;
            }
            tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        }
        assert_ne!(
            place(&served, "third"),
            before,
            "entered where it was moved to"
        );
    });
}
