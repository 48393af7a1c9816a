//! The page of listening in each of its states: names and contrast by day and by night, and in longer words.

use crate::browser::{SIZES, dark, resize, shot_whole, value, with_browser};
use crate::listening::{ECCENTRIC, PAGE, TICKING, answered, mantel, open, served, struck};
use crate::names::{axe, wrong};
use crate::served::Served;
use crate::tongues::{bare_but, of_movement, speak, unfit};

/// Every state of the page that is laid out as no other, by a name.
fn states(served: &Served) -> [(&'static str, String); 5] {
    [
        ("fresh", PAGE.to_owned()),
        ("gains", answered(served, &[], &TICKING)),
        (
            "round",
            answered(served, &[("left-at", "0.3"), ("arc", "3")], &ECCENTRIC),
        ),
        (
            "hours",
            answered(served, &[], &struck(3_800, &[(0.0, 3), (1.0, 7)])),
        ),
        ("refused", format!("{PAGE}?arc=wide")),
    ]
}

#[test]
fn every_state_has_names_and_contrast_light_and_dark() {
    let Some(axe) = axe() else { return };
    with_browser(async |driver| {
        let served = served();
        let states = states(&served);
        for size in [SIZES[0], SIZES[2]] {
            resize(driver, size).await;
            for night in [false, true] {
                dark(driver, night).await;
                for (state, path) in &states {
                    open(driver, &served, path).await;
                    let so = format!("{state}, {}, dark {night}", size.name);
                    let wrong = wrong(driver, &axe).await;
                    assert!(wrong.is_empty(), "{so}:\n{}", wrong.join("\n"));
                    shot_whole(
                        driver,
                        &format!(
                            "listen-{state}-{}{}",
                            size.name,
                            if night { "-night" } else { "" }
                        ),
                    )
                    .await;
                }
            }
        }
    });
}

#[test]
fn every_state_is_whole_in_longer_words() {
    with_browser(async |driver| {
        let served = served();
        speak(driver, &served, "long.british.in").await;
        let own = of_movement(
            &sheet::read(mantel().as_bytes())
                .expect("a good sheet")
                .movement,
        );
        let mut found = Vec::new();
        for (state, path) in states(&served) {
            open(driver, &served, &path).await;
            value(driver, "for (const d of document.querySelectorAll('details')) d.open = true; document.querySelector('#hearing').hidden = false").await;
            let bare = bare_but(driver, &own).await;
            assert!(bare.is_empty(), "{state}: {bare:#?}");
            found.extend(unfit(driver, state).await);
        }
        assert!(found.is_empty(), "{}", found.join("\n"));
    });
}
