//! Published trains entered place by place: what follows is what is printed of them (`outside/striking.toml`, with its sources), and
//! a miscount by one in each place is found, or nothing hangs on it.

use crate::made::teeth;
use kinds::{CountState, Described, LikelyMiscount, QuestionAnswer, WorkRole};
use quantity::{Exact, parse_decimal};
use serde::Deserialize;

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");

#[derive(Deserialize)]
struct Rows {
    row: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    name: String,
    source: Option<String>,
    is: Option<String>,
}

/// A published train: its sheet, the kind it is of, its pins, and what is printed of it by the names of the rows.
struct Train {
    sheet: &'static str,
    kind: &'static str,
    choices: &'static [(&'static str, &'static str)],
    pins: u16,
    printed: &'static [(&'static str, WorkRole)],
    /// Miscounts that come out too: 56 over 8 is a whole number as 56 over 7 is.
    unseen: &'static [(&'static str, i16)],
}

const TRAINS: [Train; 3] = [
    Train {
        sheet: "quarter_strike",
        kind: "rack",
        choices: &[],
        pins: 8,
        printed: &[
            (
                "quarter clock: pallet arbor's turns at each blow, from the pins",
                WorkRole::Pallet,
            ),
            (
                "quarter clock: warning wheel's whole turns at each blow",
                WorkRole::WarningPin,
            ),
        ],
        unseen: &[],
    },
    Train {
        sheet: "house_rack",
        kind: "rack",
        choices: &[],
        pins: 8,
        printed: &[
            (
                "eight pins eight teeth apart: locking arbor's turns from pin to pin",
                WorkRole::Pallet,
            ),
            (
                "house rack strike: fourth wheel's whole turns at each blow",
                WorkRole::WarningPin,
            ),
        ],
        unseen: &[],
    },
    Train {
        sheet: "thirteen_pins",
        kind: "count wheel and cam",
        choices: &[("halves", "none")],
        pins: 13,
        printed: &[
            (
                "thirteen pins six teeth apart: locking arbor's turns from pin to pin",
                WorkRole::Cam,
            ),
            (
                "count wheel of 78: divisions at each blow",
                WorkRole::CountWheel,
            ),
        ],
        unseen: &[("fourth.pinion", 1)],
    },
];

fn entered(train: &Train) -> Described {
    let choice =
        |(id, choice): &(&'static str, &str)| (*id, QuestionAnswer::Choice((*choice).to_owned()));
    let mut answers: Vec<(&str, QuestionAnswer)> = train.choices.iter().map(choice).collect();
    answers.push(("lifters", QuestionAnswer::Count(train.pins)));
    let mut entered = Described::begin(train.kind, train.sheet, &answers).expect("begun");
    let path = format!("{ROOT}/outside/sheets/{}.toml", train.sheet);
    let text = std::fs::read_to_string(path).expect("the sheet");
    let printed = Described::read(&text).expect("read").counts();
    let places = entered.counts();
    assert_eq!(places.len(), printed.len(), "{}", train.sheet);
    for (place, printed) in places.iter().zip(&printed) {
        entered.count(&place.id, printed.state).expect("there");
    }
    entered
}

#[test]
fn what_follows_is_what_is_printed() {
    let text = std::fs::read_to_string(format!("{ROOT}/outside/striking.toml")).expect("rows");
    let rows: Rows = toml::from_str(&text).expect("rows");
    for train in &TRAINS {
        let follows = entered(train).follows();
        for (name, role) in train.printed {
            let row = rows.row.iter().find(|row| row.name == *name);
            let row = row.unwrap_or_else(|| panic!("no row {name}"));
            assert!(row.source.is_some());
            let is: Exact = parse_decimal(row.is.as_deref().expect("an answer")).expect("a number");
            let follow = follows.iter().find(|follow| follow.of == *role);
            let follow = follow.unwrap_or_else(|| panic!("{name}"));
            let places = quantity::whole(follow.places.into());
            assert_eq!(&follow.turns_a_blow * places, is, "{name}");
            assert!(follow.right, "{name}");
        }
        crate::made::good(&entered(train));
    }
}

#[test]
fn a_miscount_by_one_is_found_wherever_anything_hangs_on_the_count() {
    for train in &TRAINS {
        let good = entered(train);
        let follows = good.follows();
        let mut found = 0;
        for place in good.counts() {
            let CountState::Counted(right) = place.state else {
                panic!("{:?}", place.id);
            };
            // Nothing hangs on what is neither between the pins and what locks, warns or counts.
            let mut needed = follows.iter().flat_map(|follow| &follow.between);
            let needed = needed.any(|part| part.id == place.id);
            for off in [1_i16, -1] {
                let wrong = right.get().checked_add_signed(off).expect("teeth");
                let mut miscounted = good.clone();
                let count = CountState::Counted(teeth(wrong));
                miscounted.count(&place.id, count).expect("there");
                let wrong = miscounted
                    .follows()
                    .into_iter()
                    .filter(|follow| !follow.right);
                let likely: Vec<LikelyMiscount> =
                    wrong.flat_map(|follow| follow.miscounts).collect();
                let named = likely.iter().any(|miscount| {
                    matches!(miscount, LikelyMiscount::Part { id, perhaps, .. }
                        if *id == place.id && *perhaps == right)
                });
                let name = format!("{}.{}", place.id.arbor, place.id.part);
                let unseen = train.unseen.contains(&(name.as_str(), off));
                assert_eq!(named, needed && !unseen, "{} {name} {off}", train.sheet);
                found += u32::from(named);
            }
        }
        // Two meshes at least stand between the pins and what hangs on them.
        assert!(found >= 8, "{} {found}", train.sheet);
        // And a pin of the hammer too many or too few.
        for pins in [train.pins - 1, train.pins + 1] {
            let mut miscounted = good.clone();
            let answer = QuestionAnswer::Count(pins);
            miscounted.answer("lifters", &answer).expect("answered");
            let follows = miscounted.follows();
            let likely = follows.iter().flat_map(|follow| &follow.miscounts);
            let lifters = LikelyMiscount::Lifters {
                counted: pins,
                perhaps: train.pins,
            };
            assert!(
                likely.into_iter().any(|miscount| *miscount == lifters),
                "{}",
                train.sheet
            );
        }
    }
}
