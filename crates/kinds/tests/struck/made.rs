//! Sheets that are made of kinds, and whether they strike well.

use kinds::{CountState, Described, PlaceId};
use quantity::Teeth;
use strike::{End, points, strike};

pub(crate) fn place(at: &str) -> PlaceId {
    let (arbor, part) = at.split_once('.').expect("ARBOR.PART");
    PlaceId {
        arbor: arbor.to_owned(),
        part: part.to_owned(),
    }
}

pub(crate) fn teeth(n: u16) -> Teeth {
    Teeth::new(n.into()).expect("teeth")
}

/// Counts all as is usual.
pub(crate) fn count_all(described: &mut Described) {
    for place in described.places() {
        let usual = place
            .usual
            .unwrap_or_else(|| panic!("usual {:?}", place.id));
        described
            .count(&place.id, CountState::Counted(usual))
            .expect("counted");
    }
}

/// What is not good of the strike of a text.
pub(crate) fn wrong(described: &Described) -> Vec<String> {
    let text = described.text();
    let sheet = match sheet::read(text.as_bytes()) {
        Ok(sheet) => sheet,
        Err(faults) => panic!("{faults:?}\n{text}"),
    };
    let struck = strike(&sheet.movement, &[], false).expect("it can be run");
    let mut wrong = Vec::new();
    if struck.end != End::SamePlace {
        wrong.push(format!("{:?}", struck.end));
    }
    for hour in &struck.hours {
        for point in points(hour) {
            wrong.push(format!("{}:{:02} {point:?}", hour.hour(), hour.minute()));
        }
    }
    wrong
}

pub(crate) fn good(described: &Described) {
    let wrong = wrong(described);
    assert!(wrong.is_empty(), "{wrong:#?}\n{}", described.text());
    for follow in described.follows() {
        assert!(follow.right, "{follow:?}");
    }
}

/// A place as a test knows it that does not go by names: which it is, from the great wheel up.
pub(crate) fn counted_as_usual(described: &mut Described) {
    // One by one: what is usual follows what is counted already.
    loop {
        let places = described.places();
        let open = places
            .iter()
            .find(|place| place.state == CountState::NotCounted);
        let Some(open) = open else { return };
        let usual = open.usual.unwrap_or_else(|| panic!("usual {:?}", open.id));
        described
            .count(&open.id, CountState::Counted(usual))
            .expect("counted");
    }
}
