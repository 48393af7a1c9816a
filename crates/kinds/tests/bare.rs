//! A bare train, built arbor by arbor under names of its own, that is told to strike like a kind.

use kinds::{CountState, DescribeFault, Described, Kind, PlaceId};
use quantity::Teeth;

fn place(name: &str) -> PlaceId {
    let (arbor, part) = name.split_once('.').expect("ARBOR.PART");
    PlaceId {
        arbor: arbor.to_owned(),
        part: part.to_owned(),
    }
}

/// A train as it is counted: meshes with their counts, each from a part that is there to one that is new.
fn bare(meshes: &[(&str, i64, &str, i64)]) -> Described {
    let first = place(meshes[0].0);
    let mut train = Described::bare("Wren Street", &first).expect("begun");
    let mut counts: Vec<(PlaceId, i64)> = Vec::new();
    for (driver, teeth, driven, leaves) in meshes {
        for (part, count) in [(driver, teeth), (driven, leaves)] {
            let id = place(part);
            if counts.iter().any(|(known, _)| *known == id) {
                continue;
            }
            let here = train
                .counts()
                .iter()
                .any(|known| known.id.arbor == id.arbor);
            if !here {
                train.add_arbor(&id.arbor).expect("an arbor");
            }
            if id != first {
                train.add_part(&id).expect("a part");
            }
            counts.push((id, *count));
        }
        train
            .add_mesh(&place(driver), &place(driven))
            .expect("a mesh");
    }
    for (id, count) in counts {
        let teeth = Teeth::new(count).expect("teeth");
        train
            .count(&id, CountState::Counted(teeth))
            .expect("counted");
    }
    train
}

/// Five arbors up and a count wheel beside them, under names that no sample has.
const FIVE: [(&str, i64, &str, i64); 5] = [
    ("hauptrad.rim", 84, "pins.trundle", 7),
    ("pins.rim", 64, "hoop.leaf", 8),
    ("hoop.rim", 54, "warner.leaf", 6),
    ("warner.rim", 48, "fan.leaf", 6),
    ("pins.little", 8, "plate.rim", 78),
];

/// Whether it strikes right, and what is read on it can be judged.
fn is_right(train: &Described) -> bool {
    let sheet = sheet::read(train.text().as_bytes()).expect("a sheet");
    let windows = strike::windows(&sheet.movement);
    assert!(sheet.movement.unjudged().len() > 1, "{}", train.text());
    windows.is_ok()
        && strike::strike(&sheet.movement, &[], false).is_ok_and(|struck| struck.is_right())
}

#[test]
fn a_bare_train_strikes_like_a_kind_once_that_is_said() {
    for kind in ["count wheel and cam", "count wheel outside"] {
        let mut train = bare(&FIVE);
        assert!(train.works().is_empty() && train.questions().is_empty());
        train.strike_like(kind).expect(kind);
        assert_eq!(train.kind().map(|kind| kind.id.as_str()), Some(kind));
        assert!(!train.questions().is_empty());
        assert!(
            sheet::read(train.text().as_bytes()).is_ok(),
            "{kind}: {}",
            train.text()
        );
    }
    let mut cam = bare(&FIVE);
    cam.strike_like("count wheel and cam").expect("laid");
    cam.answer("lifters", &kinds::QuestionAnswer::Count(8))
        .expect("eight pins");
    assert!(is_right(&cam), "{}", cam.text());
}

#[test]
fn a_rack_train_too_and_one_of_six_arbors() {
    let mut rack = bare(&FIVE[..4]);
    rack.strike_like("rack").expect("laid");
    rack.answer("lifters", &kinds::QuestionAnswer::Count(8))
        .expect("eight pins");
    assert!(is_right(&rack), "{}", rack.text());
    // A month's train has one wheel more below: where the pins are is asked, and told.
    let mut six = vec![("barrel.rim", 96, "hauptrad.leaf", 12)];
    six.extend(FIVE);
    let mut six = bare(&six);
    six.strike_like("count wheel and cam").expect("laid");
    six.answer(
        "lifting_wheel",
        &kinds::QuestionAnswer::Arbor("pins".to_owned()),
    )
    .expect("moved");
    six.answer(
        "cam_arbor",
        &kinds::QuestionAnswer::Arbor("hoop".to_owned()),
    )
    .expect("moved");
    six.answer(
        "locking_wheel",
        &kinds::QuestionAnswer::Arbor("warner".to_owned()),
    )
    .expect("moved");
    six.answer("lifters", &kinds::QuestionAnswer::Count(8))
        .expect("eight pins");
    assert!(is_right(&six), "{}", six.text());
}

#[test]
fn a_train_of_a_kind_or_a_chime_is_refused_and_stands_as_it_stood() {
    let mut train = bare(&FIVE);
    let before = train.text();
    for kind in ["quarters", "no such kind"] {
        let refused = train.strike_like(kind);
        assert!(matches!(refused, Err(DescribeFault::NoKind { .. })));
        assert_eq!(
            (train.text(), train.kind().is_none()),
            (before.clone(), true)
        );
    }
    assert!(
        !Kind::find("quarters")
            .expect("it is there")
            .is_of_one_train()
    );
}
