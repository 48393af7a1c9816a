//! Where the arbors lie, as it is sent and kept: in figures, touched on a photograph, with what stands on the plates; and what is refused.

use crate::served::{Answer, Served, part, serve};
use std::io::Cursor;
use tasks::{CountState, Described};

/// A movement of a kind with its usual counts.
fn counted(kind: &str) -> String {
    let mut sheet = Described::begin(kind, "Hill Farm wall clock", &[]).expect("begun");
    for place in sheet.places() {
        let usual = CountState::Counted(place.usual.expect("usual"));
        sheet.count(&place.id, usual).expect("there");
    }
    sheet.text()
}

/// It lies on the bench as job 2.
pub(crate) fn on_the_bench(kind: &str) -> Served {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let sheet = counted(kind);
    let sent = [("entries", "1"), ("sheet", &*sheet)];
    assert_eq!(served.post("/job/2/movement/sheet", &sent).status, 303);
    served
}

pub(crate) const PAGE: &str = "/job/2/places";

/// Sends a form of the page with the entries that the job has now.
fn post(served: &Served, what: &str, fields: &[(&str, &str)]) -> Answer {
    let entries = served.entries(PAGE);
    let mut sent = vec![("entries", &*entries)];
    sent.extend(fields);
    served.post(&format!("{PAGE}/{what}"), &sent)
}

/// The sheet as it stands in the book.
pub(crate) fn sheet(served: &Served) -> Described {
    let page = served.get("/job/2/movement").body;
    let text = part(&page, "<textarea name=\"sheet\"", "</textarea>");
    let text = text.split_once('>').expect("a text").1;
    let text = (text.replace("&quot;", "\"").replace("&gt;", ">")).replace("&lt;", "<");
    Described::read(&text.replace("&amp;", "&")).expect("it reads")
}

/// Where an arbor is on that sheet.
pub(crate) fn place(served: &Served, arbor: &str) -> Option<[f64; 2]> {
    let text = sheet(served).text();
    let read = sheet::read(text.as_bytes()).expect("it reads").movement;
    let at = read.arbor(read.find_arbor(arbor)?).at.clone()?;
    Some([at.right, at.up].map(|mm| quantity::to_f64(&mm)))
}

#[test]
fn a_place_is_entered_told_and_taken_back() {
    let served = on_the_bench("count wheel and cam");
    assert_eq!(place(&served, "second"), None);
    let second = |right: &str, up: &str| {
        let fields = [
            ("what", "arbor.second"),
            ("by", "figures"),
            ("right", right),
            ("up", up),
        ];
        post(&served, "put", &fields)
    };
    // In figures of either unit, with a comma, of either sign.
    assert_eq!(second("-12,5", "1.6 in").status, 303);
    assert_eq!(place(&served, "second"), Some([-12.5, 40.6]));
    assert_eq!(
        place(&served, "great"),
        Some([0.0, 0.0]),
        "from where places are told"
    );
    let page = served.get(PAGE).body;
    assert!(
        page.contains("12.5\u{a0}mm to the left, 40.6\u{a0}mm up"),
        "{}",
        part(&page, "id=\"things\"", "</section>")
    );
    // What is no place stands there again, and nothing is entered.
    for (right, up) in [("left", "3"), ("", "3"), ("9000", "3"), ("0", "0.2")] {
        let answer = second(right, up);
        assert_eq!(answer.status, 422, "{right} {up}");
        assert!(answer.body.contains("class=\"refused\""));
        assert!(
            answer.body.contains(&format!("value=\"{up}\"")),
            "{up} is kept"
        );
    }
    assert_eq!(place(&served, "second"), Some([-12.5, 40.6]));
    // A page that is behind changes nothing, and keeps what was typed.
    let behind = [
        ("entries", "2"),
        ("what", "arbor.second"),
        ("by", "figures"),
        ("right", "77"),
        ("up", "7"),
    ];
    let answer = served.post("/job/2/places/put", &behind);
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("value=\"77\""));
    assert_eq!(place(&served, "second"), Some([-12.5, 40.6]));
    assert_eq!(post(&served, "undo", &[]).status, 303);
    assert_eq!(place(&served, "second"), None);
    assert_eq!(place(&served, "great"), None);
}

#[test]
fn what_stands_on_the_plates_is_put_there_and_taken_away() {
    let served = on_the_bench("rack");
    let stand = |new: &str, fields: &[(&str, &str)]| {
        let mut sent = vec![
            ("new", new),
            ("by", "figures"),
            ("right", "40"),
            ("up", "9"),
        ];
        sent.extend(fields);
        post(&served, "stand", &sent)
    };
    assert_eq!(
        stand("pillar", &[("fixing", "nut"), ("pitch", "0,5")]).status,
        303
    );
    assert_eq!(stand("square", &[]).status, 303);
    assert_eq!(stand("bell", &[("across", "3 1/2 in")]).status, 303);
    assert_eq!(
        stand("pillar", &[("fixing", "pin"), ("pitch", "many")]).status,
        422
    );
    assert_eq!(stand("door", &[]).status, 404);
    let text = sheet(&served).text();
    for written in [
        "id = \"pillar_1\"",
        "pitch_mm = 0.5",
        "kind = \"winding square\"",
        "across_mm = 88.9",
    ] {
        assert!(text.contains(written), "{written}\n{text}");
    }
    let page = served.get(PAGE).body;
    assert!(page.contains("pillar 1, with a nut"));
    for drawn in [
        "standing pillar",
        "standing winding-square",
        "standing bell",
    ] {
        assert!(page.contains(drawn), "{drawn}");
        assert!(
            served.get("/job/2").body.contains(drawn),
            "{drawn} on the bench"
        );
    }
    assert_eq!(
        post(&served, "away", &[("what", "fixture.bell_1")]).status,
        303
    );
    assert!(!sheet(&served).text().contains("bell_1"));
    assert_eq!(
        post(&served, "away", &[("what", "fixture.bell_1")]).status,
        422
    );
}

#[test]
fn a_wheel_that_does_not_reach_is_told_and_not_refused() {
    let served = on_the_bench("count wheel and cam");
    let before = sheet(&served);
    let arbors: Vec<String> = (before.places().iter())
        .map(|p| p.id.arbor.clone())
        .collect();
    for (n, arbor) in arbors.iter().enumerate() {
        let what = format!("arbor.{arbor}");
        let up = (37 * n).to_string();
        let fields = [
            ("what", &*what),
            ("by", "figures"),
            ("right", "1"),
            ("up", &up),
        ];
        assert_eq!(post(&served, "put", &fields).status, 303);
    }
    let far = [
        ("what", "arbor.fly"),
        ("by", "figures"),
        ("right", "900"),
        ("up", "900"),
    ];
    assert_eq!(post(&served, "put", &far).status, 303);
    let page = served.get(PAGE).body;
    let remarks = part(&page, "class=\"remarks\"", "</ul>");
    assert!(
        remarks.contains("fly") && remarks.contains("do not reach"),
        "{remarks}"
    );
}

/// A picture of a plate that nobody took: grey, with a dark spot at each of these places, in parts of its width.
pub(crate) fn plate_picture(spots: &[[f64; 2]]) -> Vec<u8> {
    let picture = image::RgbImage::from_fn(800, 600, |x, y| {
        let near = |spot: &[f64; 2]| {
            (f64::from(x) - 800.0 * spot[0]).hypot(f64::from(y) - 800.0 * spot[1]) < 9.0
        };
        match spots.iter().any(near) {
            true => image::Rgb([30, 30, 40]),
            false => image::Rgb([205, 190, 150]),
        }
    });
    let mut png = Cursor::new(Vec::new());
    picture
        .write_to(&mut png, image::ImageFormat::Png)
        .expect("a picture");
    png.into_inner()
}

/// Puts a picture in, and gives the number of its entry.
pub(crate) fn picture_in(served: &Served, picture: &[u8]) -> String {
    let entries = served.entries(PAGE);
    let fields = [("entries", &*entries), ("at", "places"), ("when", "during")];
    let answer = served.upload("/job/2/picture", &fields, picture);
    assert_eq!(answer.header("location"), Some("/job/2/places#photographs"));
    served.entries(PAGE)
}

#[test]
fn centres_touched_on_a_photograph_become_places_and_it_lies_under_the_drawing() {
    let served = on_the_bench("rack");
    let picture = picture_in(&served, &plate_picture(&[]));
    let on = |more: &[(&'static str, &str)], what: &str| {
        let mut sent: Vec<(&str, &str)> = vec![("picture", &picture), ("photographed", "front")];
        sent.extend(more);
        post(&served, what, &sent)
    };
    let touch = |what: &str, x: &str, y: &str| {
        on(
            &[("touch", what), ("on.x", x), ("on.y", y), ("wide", "400")],
            "touch",
        )
    };
    let page = |more: &str| {
        let page = format!("{PAGE}?picture={picture}&photographed=front{more}");
        served.get(&page).body
    };
    assert!(page("").contains("Touch the centre of the great arbor."));
    // One alone tells nothing, and is not lost.
    assert_eq!(touch("arbor.great", "200", "240").status, 303);
    assert_eq!(on(&[], "take").status, 422);
    assert!(page("").contains("Touch the centre of the pins arbor."));
    assert!(page("").contains("data-touched=\"arbor.great\""));
    for (x, y) in [("401", "20"), ("10", "301"), ("0", "0")] {
        assert_eq!(touch("arbor.pins", x, y).status, 422, "{x} {y}");
    }
    assert_eq!(touch("arbor.pins", "200", "160").status, 303);
    assert!(page("").contains("about, not measured"));
    // Touched again; then one that cannot be seen.
    assert_eq!(touch("arbor.pins", "220", "160").status, 303);
    assert!(page("").contains("Touch the centre of the pallet arbor."));
    assert_eq!(on(&[("touch", "arbor.pallet")], "unseen").status, 303);
    assert!(page("").contains("pallet arbor, cannot be seen"));
    // A distance that is known: 160 parts of 400 are 64 mm.
    assert_eq!(
        on(
            &[("touch", "rule.from"), ("left", "10"), ("top", "10")],
            "touch"
        )
        .status,
        303
    );
    assert_eq!(
        on(
            &[("touch", "rule.to"), ("left", "50"), ("top", "10")],
            "touch"
        )
        .status,
        303
    );
    assert_eq!(on(&[("distance", "none")], "distance").status, 422);
    assert_eq!(on(&[("distance", "64")], "distance").status, 303);
    assert_eq!(on(&[], "take").status, 303);
    // Of the sheet's own plate: the front. 20 and 80 parts at 0.4 mm.
    assert_eq!(place(&served, "great"), Some([0.0, 0.0]));
    assert_eq!(place(&served, "pins"), Some([8.0, 32.0]));
    assert_eq!(place(&served, "pallet"), None);
    assert!(!sheet(&served).text().contains("about"));
    // It lies under the drawing of the front plate, there and on the bench, as faded as was said.
    served.post("/job/2/view", &[("turn", "plate")]);
    let from = |page: &str| served.get(page).body;
    let lies = |body: &str| body.contains("class=\"underlay\"");
    let (one, bench) = (from(PAGE), from("/job/2"));
    served.post("/job/2/view", &[("turn", "plate")]);
    let (other, other_bench) = (from(PAGE), from("/job/2"));
    assert!(
        lies(&one) != lies(&other)
            && lies(&bench) == lies(&one)
            && lies(&other_bench) == lies(&other)
    );
    if !lies(&other) {
        served.post("/job/2/view", &[("turn", "plate")]);
    }
    assert_eq!(on(&[("shown", "25")], "shown").status, 303);
    let page = from("/job/2");
    assert!(part(&page, "class=\"underlay\"", "/>").contains("opacity=\".25\""));
    assert!(page.contains("seen from the front plate"));
    // A picture that went with what was touched on it.
    assert_eq!(
        post(
            &served,
            "take",
            &[("picture", "77"), ("photographed", "front")]
        )
        .status,
        422
    );
}
