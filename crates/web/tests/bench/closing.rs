//! What a job's page says, and what its black button does, where it may not be closed up yet.

use crate::served::{Served, serve};

/// Counts that come out at no whole number of places; a made-up train.
const OTHER: &str = include_str!("another_train.toml");

fn tell(served: &Served, page: &str, what: &str, fields: &[(&str, &str)]) {
    let entries = served.entries(page);
    let fields: Vec<_> = std::iter::once(("entries", entries.as_str()))
        .chain(fields.iter().copied())
        .collect();
    let answer = served.post(&format!("{page}/{what}"), &fields);
    assert_eq!(answer.status, 303, "{what}: {}", answer.body);
}

/// What stands between one mark and another.
fn between<'a>(body: &'a str, from: &str, to: &str) -> &'a str {
    let start = body
        .find(from)
        .unwrap_or_else(|| panic!("no {from} in {body}"))
        + from.len();
    &body[start..start + body[start..].find(to).expect("an end")]
}

fn headline(body: &str) -> &str {
    between(body, "<h1 id=\"sentence\" tabindex=\"-1\">", "</h1>")
}

/// What the black button says.
fn black(body: &str) -> &str {
    let primary = between(body, "primary", "</");
    primary.rsplit('>').next().unwrap_or_default()
}

/// The page, which nowhere tells to close up.
fn not_closed(served: &Served, page: &str) -> String {
    let body = served.get(page).body;
    assert!(!body.contains("Close up"), "{body}");
    body
}

const BEST: [(&str, &str); 3] = [("slot.deg", "0"), ("star.deg", "0"), ("pin.deg", "-75")];

#[test]
fn what_was_good_before_an_arbor_came_out_is_not() {
    let served = serve(&[]);
    let page = "/job/1";
    tell(&served, page, "saw", &BEST);
    let body = served.get(page).body;
    assert!(
        headline(&body).starts_with("All is in its window"),
        "{body}"
    );
    assert_eq!(black(&body), "Close up, and go on to prove it");
    for arbor in ["great", "fourth"] {
        tell(&served, page, "out", &[("arbor", arbor)]);
        let body = not_closed(&served, page);
        assert!(
            headline(&body).starts_with(&format!("Put the {arbor} arbor in")),
            "{body}"
        );
        assert_eq!(black(&body), format!("The {arbor} arbor is in"));
        // The black button says so, and then everything is looked at afresh.
        tell(&served, page, "in", &[("arbor", arbor)]);
        let body = not_closed(&served, page);
        assert!(body.contains("data-step=\"look\""), "{body}");
        tell(&served, page, "saw", &BEST);
        assert!(served.get(page).body.contains("Close up"));
    }
    tell(&served, page, "saw", &[("star.deg", "-10")]);
    not_closed(&served, page);
}

#[test]
fn on_a_fresh_job_a_lever_that_is_likelier_bent_is_the_headline() {
    let served = serve(&[OTHER]);
    let page = "/job/1";
    let odd = [("slot.deg", "2"), ("star.deg", "0"), ("pin.deg", "-75")];
    tell(&served, page, "saw", &odd);
    let body = not_closed(&served, page);
    assert!(headline(&body).contains("bent lever"), "{body}");
    assert_eq!(black(&body), "It is set right: look afresh");
    assert!(
        body.contains("ahead, on the rim") || body.contains("ahead"),
        "{body}"
    );
    // Told so, it is looked at again.
    tell(&served, page, "set-right", &[("witness", "slot")]);
    let body = not_closed(&served, page);
    assert!(body.contains("data-step=\"look\""), "{body}");
}

#[test]
fn a_lever_set_right_by_eye_is_looked_at_and_done() {
    let served = serve(&[]);
    let page = "/job/1";
    for _ in 0..2 {
        let odd = [("slot.deg", "1.15"), ("star.deg", "0"), ("pin.deg", "-75")];
        tell(&served, page, "saw", &odd);
    }
    assert!(headline(&not_closed(&served, page)).contains("bent lever"));
    tell(&served, page, "set-right", &[("witness", "slot")]);
    tell(&served, page, "saw", &BEST);
    let body = served.get(page).body;
    assert!(
        headline(&body).starts_with("All is in its window"),
        "{body}"
    );
    let refused = served.post(
        "/job/1/set-right",
        &[("entries", &served.entries(page)), ("witness", "slut")],
    );
    assert_eq!(refused.status, 422, "{}", refused.body);
}

#[test]
fn where_the_hold_keeps_it_down_it_is_closed_finger_tight_only() {
    let served = serve(&[include_str!("../../../../movements/lattice.toml")]);
    let page = "/job/1";
    tell(&served, page, "saw", &[("stop.deg", "0")]);
    let body = served.get(page).body;
    assert_eq!(black(&body), "Close up finger-tight, and go on to prove it");
    assert!(headline(&body).contains("finger-tight"), "{body}");
    assert!(!body.contains("Close up,"), "{body}");
}
