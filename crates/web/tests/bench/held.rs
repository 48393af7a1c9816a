//! A part that is to be turned on its arbor: its sentence, its arrow, and one touch for what was done.

use crate::served::{Served, serve};

const SCHOOLROOM: &str = include_str!("../../../../movements/schoolroom.toml");

fn tell(served: &Served, what: &str, fields: &[(&str, &str)]) {
    let entries = served.entries("/job/1");
    let fields: Vec<_> = std::iter::once(("entries", entries.as_str()))
        .chain(fields.iter().copied())
        .collect();
    let answer = served.post(&format!("/job/1/{what}"), &fields);
    assert_eq!(answer.status, 303, "{what}: {}", answer.body);
}

#[test]
fn one_touch_says_which_way_it_was_turned() {
    let head = "[arbor.count]\n";
    let sheet = SCHOOLROOM.replace(head, &format!("{head}held_by = \"friction\"\n"));
    for (touch, then) in [("turned", "0"), ("turned-other-way", "1.015")] {
        let served = serve(&[&sheet]);
        tell(
            &served,
            "saw",
            &[("slot.deg", "-1.8"), ("star.deg", "0"), ("pin.deg", "-75")],
        );
        let body = served.get("/job/1").body;
        assert!(body.contains("class=\"turned-arrow\""), "{body}");
        assert!(body.contains("1.8° clockwise"), "{body}");
        // On the drawing too, at the part that is turned: as it goes from where one looks.
        let arrow =
            |way: &str| format!("id=\"turn-count\" data-arbor=\"count\" data-way=\"{way}\"");
        assert!(body.contains(&arrow("clockwise")), "{body}");
        tell(&served, "view", &[("turn", "plate"), ("step", "answer")]);
        let over = served.get("/job/1").body;
        assert!(over.contains(&arrow("counterclockwise")), "{over}");
        tell(&served, "view", &[("turn", "plate"), ("step", "answer")]);
        assert!(
            body.contains("Before a part is pulled off its square"),
            "{body}"
        );
        let turn = "name=\"moved\" value=\"";
        let at = body.find(turn).expect("what is turned") + turn.len();
        let turn = &body[at..at + body[at..].find('"').expect("an end")];
        let hands = "from another hour than the hands show";
        assert!(body.contains(hands), "{body}");
        tell(&served, touch, &[("moved", turn)]);
        // It is read again before anything else is said of it.
        let body = served.get("/job/1").body;
        assert!(body.contains("data-step=\"look\""), "{body}");
        let told = if touch == "turned" {
            "slot by 1.8°"
        } else {
            "slot by -1.8°"
        };
        assert!(body.contains(told), "{body}");
        tell(
            &served,
            "saw",
            &[("slot.deg", then), ("star.deg", "0"), ("pin.deg", "-75")],
        );
        let body = served.get("/job/1").body;
        // Before it is closed up it is said once more.
        assert!(touch != "turned" || body.contains(hands), "{body}");
        assert_eq!(
            body.contains("All is in its window"),
            touch == "turned",
            "{body}"
        );
    }
    // A touch that says nothing of what was turned tells nothing.
    let served = serve(&[&sheet]);
    let entries = served.entries("/job/1");
    let answer = served.post("/job/1/turned", &[("entries", entries.as_str())]);
    assert_ne!(answer.status, 303);
}
