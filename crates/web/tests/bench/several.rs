//! Two shifts at once: numbered, each with its own hold, and one touch for each thing that may have happened to them.

use crate::served::{part, serve};

/// A look that wants two shifts: the second arbor two teeth on, the fourth one tooth.
const LOOK: [(&str, &str); 4] = [
    ("entries", "0"),
    ("slot.deg", "-1.2"),
    ("star.deg", "-10"),
    ("pin.deg", "-30"),
];

#[test]
fn two_shifts_are_told_apart() {
    let served = serve(&[]);
    let empty = served.get("/job/1").body;
    assert!(!empty.contains("/job/1/undo"), "nothing to undo yet");
    served.post("/job/1/saw", &LOOK);
    let page = served.get("/job/1").body;
    for said in [
        "1. Lift the <b class=\"moved\">second</b> arbor.",
        "2. Then lift the <b class=\"moved\">fourth</b> arbor.",
        "<p>1. Hold the third arbor still.",
        "<p>2. Hold the third arbor still.",
        "Both done as said",
        "Only 1 (second) done",
        "Only 2 (fourth) done",
        "1 (second) went the other way",
        "2 (fourth) went the other way",
        "/job/1/undo",
    ] {
        assert!(page.contains(said), "{said}");
    }

    // Only the first: the pin is expected where it was.
    served.post("/job/1/done", &[("entries", "1"), ("which", "1")]);
    let page = served.get("/job/1").body;
    assert!(page.contains("Done: second, two teeth counterclockwise."));
    let expected = "If it went as said, slot and star stand at their best; pin stands ahead";
    assert!(page.contains(expected));
    served.post("/job/1/undo", &[("entries", "2")]);

    // The second the other way, in one touch; the first may still be said to have gone so too.
    served.post("/job/1/other-way", &[("entries", "3"), ("which", "2")]);
    let page = served.get("/job/1").body;
    assert!(page.contains("Of number 4 the fourth arbor went the other way."));
    assert!(page.contains("After that, slot and star stand at their best; pin stands ahead"));
    assert!(page.contains("1 (second) went the other way"));
    assert!(!page.contains("2 (fourth) went the other way"));

    // Both, as one of old.
    served.post("/job/1/undo", &[("entries", "5")]);
    served.post("/job/1/undo", &[("entries", "6")]);
    served.post("/job/1/done", &[("entries", "7")]);
    let page = served.get("/job/1").body;
    assert!(page.contains("two teeth counterclockwise; then fourth, one tooth clockwise"));
    assert!(page.contains("If it went as said, slot, star and pin stand at their best: dotted."));
}

#[test]
fn one_shift_is_told_as_ever() {
    let served = serve(&[]);
    served.post(
        "/job/1/saw",
        &[
            ("entries", "0"),
            ("slot.deg", "-1.2"),
            ("star.deg", "-10"),
            ("pin.deg", "-75"),
        ],
    );
    let page = served.get("/job/1").body;
    assert!(
        page.contains(">Done as said</button>") && page.contains(">It went the other way</button>")
    );
    assert!(!page.contains("1. ") && !page.contains("name=\"which\""));
}

#[test]
fn each_shift_has_its_own_glass_way_and_hold_from_both_plates() {
    let served = serve(&[]);
    served.post("/job/1/saw", &LOOK);
    for (plate, ways) in [
        ("back", ["counterclockwise", "clockwise"]),
        ("front", ["clockwise", "counterclockwise"]),
    ] {
        let page = served.get("/job/1").body;
        for ((n, way), (lifted, mesh)) in (1..).zip(ways).zip([
            ("second", "second.wheel>third.pinion"),
            ("fourth", "third.wheel>fourth.pinion"),
        ]) {
            // The arrow has a group of its own, and a glass that shows it and no other.
            let arrow = part(&page, &format!("<g id=\"whole-{n}\""), "</g>");
            let told = [
                format!("data-arbor=\"{lifted}\""),
                format!("data-way=\"{way}\""),
                format!("data-mesh=\"{mesh}\""),
            ];
            for said in told {
                assert!(arrow.contains(&said), "{plate} {n}: {said} in {arrow}");
            }
            let clip = format!("<clipPath id=\"glass-over-arrow-{n}\"");
            let glass = part(&page, &clip, "</svg>");
            assert!(glass.contains("href=\"#whole\""), "{glass}");
            assert!(glass.contains(&format!("href=\"#whole-{n}\"")), "{glass}");
            assert_eq!(glass.matches("href=\"#whole-").count(), 1, "{glass}");
            assert!(page.contains(&format!(">{n}. {lifted}</text>")), "{plate}");
        }
        let whole = part(&page, "<g id=\"whole\"", "<g id=\"whole-1\"");
        assert!(!whole.contains("class=\"arrow\""), "{plate}");
        assert_eq!(page.matches("id=\"hold-third\"").count(), 1, "{plate}");
        assert!(page.contains(">hold for 1 and 2</text>"), "{plate}");
        // Whoever cannot see the drawing is told each with what to hold.
        let told = part(
            &page,
            "class=\"lies-hold\" role=\"img\" aria-label=\"",
            "\">",
        );
        let [first, second] = ways;
        for said in [
            format!(
                "1. Lift the second arbor. Two teeth {first}, as you look at it now. Hold the third arbor still."
            ),
            format!(
                "2. Then lift the fourth arbor. One tooth {second}. Hold the third arbor still."
            ),
        ] {
            assert!(told.contains(&said), "{plate}: {said} in {told}");
        }
        served.post("/job/1/view", &[("turn", "plate"), ("step", "answer")]);
    }
}

#[test]
fn what_is_held_for_one_shift_only_says_for_which() {
    let served = serve(&[]);
    let look = [
        ("entries", "0"),
        ("slot.deg", "1.156"),
        ("slot.sure", "sure"),
        ("star.deg", "-10"),
        ("star.sure", "sure"),
        ("pin.deg", "-75"),
        ("pin.sure", "sure"),
    ];
    served.post("/job/1/saw", &look);
    let page = served.get("/job/1").body;
    assert!(
        page.contains("1. Lift the <b class=\"moved\">second</b> arbor."),
        "{page}"
    );
    assert!(page.contains("2. Then lift the <b class=\"moved\">count</b> arbor."));
    for (held, says) in [("third", "hold for 1"), ("second", "hold for 2")] {
        let hold = part(&page, &format!("id=\"hold-{held}\""), "</text>");
        assert!(hold.ends_with(&format!(">{says}")), "{hold}");
    }
}

#[test]
fn shifts_entered_one_by_one_are_numbered_since_the_last_look() {
    let served = serve(&[]);
    served.post("/job/1/saw", &LOOK);
    served.post("/job/1/done", &[("entries", "1"), ("which", "1")]);
    let fields = [
        ("entries", "2"),
        ("mesh", "third.wheel>fourth.pinion"),
        ("teeth", "-1"),
    ];
    assert_eq!(served.post("/job/1/did", &fields).status, 303);
    let page = served.get("/job/1").body;
    for said in [
        "1 (second) went the other way",
        "2 (fourth) went the other way",
    ] {
        assert!(page.contains(said), "{said}");
    }
    // The first of them, though it is not the last entry.
    served.post("/job/1/other-way", &[("entries", "3"), ("which", "1")]);
    let page = served.get("/job/1").body;
    assert!(page.contains("Number 2 went the other way."), "{page}");
    assert!(!page.contains("1 (second) went the other way"));
    assert!(page.contains("2 (fourth) went the other way"));
}
