//! Trains that no pattern has: more arbors, other names, a ring with its teeth inside, lanterns, and counts by chance. Each strikes,
//! and every hour is good by the seven points (common practice, no source).

use crate::made::{counted_as_usual, good, place, teeth};
use kinds::{CountState, Described, PartLook, PlaceId, QuestionAnswer};
use movement::ToothForm;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use sheet::SheetTable;
use sheet::edit::{CountWritten, EditFault, SheetText, SheetValue, TableAt};

const CAM: &str = "count wheel and cam";

fn begun(kind: &str, answers: &[(&str, &str)]) -> Described {
    let answers: Vec<(&str, QuestionAnswer)> = (answers.iter())
        .map(|(id, choice)| (*id, QuestionAnswer::Choice((*choice).to_owned())))
        .collect();
    Described::begin(kind, "Wren Street test", &answers).expect("begun")
}

/// Puts an arbor between two that mesh.
fn between(
    text: &mut SheetText,
    driver: [&str; 2],
    driven: [&str; 2],
    name: &str,
) -> Result<(), EditFault> {
    let joined = |side: [&str; 2]| side.join(".");
    text.remove_mesh(&joined(driver), &joined(driven))?;
    text.add_arbor(name)?;
    text.add_part(name, "leaves", CountWritten::Blank)?;
    text.add_part(name, "teeth_of_it", CountWritten::Blank)?;
    text.add_mesh(driver, [name, "leaves"])?;
    text.add_mesh([name, "teeth_of_it"], driven)
}

/// Seven arbors and more: one below the hammer's pins, one below the fly.
#[test]
fn with_arbors_that_the_pattern_has_not() {
    let mut described = begun(CAM, &[]);
    described
        .edit(|text| {
            between(text, ["great", "wheel"], ["second", "pinion"], "between")?;
            between(text, ["fourth", "wheel"], ["fly", "pinion"], "upper")
        })
        .expect("edited");
    let names = [
        "great", "between", "second", "third", "fourth", "upper", "fly", "count",
    ];
    let arbors: Vec<String> = described.counts().into_iter().map(|p| p.id.arbor).collect();
    assert!(
        names
            .iter()
            .all(|name| arbors.iter().any(|arbor| arbor == name))
    );
    counted_as_usual(&mut described);
    good(&described);
}

#[test]
fn with_a_ring_and_lanterns_everywhere() {
    for kind in [CAM, "count wheel outside", "rack", "ships bell"] {
        let mut described = begun(kind, &[]);
        described
            .edit(|text| {
                let first = TableAt::Nth(SheetTable::Mesh, 0);
                text.set(&first, "internal", &SheetValue::YesNo(true))
            })
            .expect("edited");
        for pinion in described
            .counts()
            .into_iter()
            .filter(|p| p.look == PartLook::Pinion)
        {
            described
                .form(&pinion.id, ToothForm::Lantern)
                .expect("there");
        }
        counted_as_usual(&mut described);
        let pinions = described.counts().into_iter();
        assert!(pinions.clone().all(|p| p.look != PartLook::Pinion));
        assert!(pinions.filter(|p| p.look == PartLook::Lantern).count() > 3);
        good(&described);
    }
}

/// The count wheel on a pinion of its own, moved by a pin, and on an arbor of the train, each struck with halves and without.
#[test]
fn however_the_count_wheel_is_moved() {
    for moved in ["pinion", "great", "pins", "train"] {
        for halves in ["halves", "none"] {
            let mut described = begun(CAM, &[("count_moved", moved), ("halves", halves)]);
            counted_as_usual(&mut described);
            good(&described);
        }
    }
}

/// A count wheel that sits on the arbor of the pins, where it was on one of its own: that one is gone.
#[test]
fn the_count_wheel_is_put_on_an_arbor_of_the_train() {
    let mut described = begun(CAM, &[("halves", "none")]);
    let on = QuestionAnswer::Choice("train".to_owned());
    described.answer("count_moved", &on).expect("answered");
    let arbors: Vec<String> = described.counts().into_iter().map(|p| p.id.arbor).collect();
    assert!(!arbors.iter().any(|arbor| arbor == "count"), "{arbors:?}");
    counted_as_usual(&mut described);
    good(&described);
    // And back again.
    let by = QuestionAnswer::Choice("pinion".to_owned());
    described.answer("count_moved", &by).expect("answered");
    counted_as_usual(&mut described);
    for at in described.counts() {
        described
            .count(&at.id, CountState::NotCounted)
            .expect("there");
    }
    counted_as_usual(&mut described);
    good(&described);
}

#[test]
fn two_pins_on_the_locking_wheel_and_halves() {
    let mut described = begun(
        "count wheel outside",
        &[("locking_pins", "two"), ("voices", "bellows")],
    );
    described
        .count(&place("pins.wheel"), CountState::Counted(teeth(70)))
        .expect("there");
    counted_as_usual(&mut described);
    good(&described);
}

/// Some counts by chance, the rest as is usual with them.
#[test]
fn with_counts_by_chance() {
    const KINDS: [(&str, &[(&str, &str)]); 6] = [
        (CAM, &[("halves", "none")]),
        (CAM, &[("halves", "halves"), ("notches", "two")]),
        ("count wheel outside", &[]),
        ("rack", &[("locked_by", "hook")]),
        ("quarters", &[]),
        ("tower", &[("ring", "inside")]),
    ];
    let mut dice = Pcg64Mcg::seed_from_u64(78);
    let mut came_out = 0;
    for round in 0..18 {
        let (kind, answers) = KINDS[round % KINDS.len()];
        let mut described = begun(kind, answers);
        let pins = QuestionAnswer::Count(dice.random_range(7..=14));
        described.answer("lifters", &pins).expect("answered");
        let places = described.places();
        for _ in 0..2 {
            let chosen = &places[dice.random_range(0..places.len())];
            let usual = i64::from(chosen.usual.expect("usual").get());
            let off: i64 = dice.random_range(-1..=1) * if usual > 20 { 6 } else { 1 };
            let count = CountState::Counted(quantity::Teeth::new(usual + off).expect("teeth"));
            described.count(&chosen.id, count).expect("there");
        }
        counted_as_usual(&mut described);
        if described.follows().iter().all(|follow| follow.right) {
            came_out += 1;
            good(&described);
        }
    }
    // Two that were counted may be such that nothing makes them come out; most are not.
    assert!(came_out > 12, "{came_out}");
}

/// An angle that was measured stays, whatever is counted after it, and all else goes by it.
#[test]
fn what_was_measured_stays() {
    let mut described = begun(CAM, &[("halves", "none")]);
    let slots = TableAt::Named(SheetTable::Track, "slots".to_owned());
    let measured = SheetValue::Decimal(quantity::fraction(5, 2));
    described.set(&slots, "slot_deg", &measured).expect("set");
    counted_as_usual(&mut described);
    let text = SheetText::new(&described.text()).expect("TOML");
    assert_eq!(text.get(&slots, "slot_deg"), Some(measured));
    let usual = text.get(&slots, "usual").expect("a list");
    assert!(
        !usual
            .list()
            .iter()
            .any(|key| key.text() == Some("slot_deg"))
    );
    good(&described);
}

/// Parts that nobody has said a usual count of have one all the same, so that they can be drawn.
#[test]
fn every_part_has_a_usual_count() {
    let mut described = begun(CAM, &[("going", "there")]);
    described
        .edit(|text| {
            text.add_arbor("odd")?;
            text.add_part("odd", "leaves", CountWritten::Blank)?;
            text.add_mesh(["fourth", "wheel"], ["odd", "leaves"])
        })
        .expect("edited");
    let odd = PlaceId {
        arbor: "odd".to_owned(),
        part: "leaves".to_owned(),
    };
    assert!(described.places().iter().any(|p| p.id == odd));
    assert!(described.places().iter().all(|p| p.usual.is_some()));
}
