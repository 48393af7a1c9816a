//! Two shifts at once: numbered, each with its own hold, and one touch for each thing that may have happened to them.

use crate::served::serve;

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
