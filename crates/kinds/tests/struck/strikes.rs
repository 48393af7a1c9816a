//! Every kind as it is begun, with its usual counts and with others, strikes every hour, and each hour is good by the seven
//! points (common practice, no source).

use crate::made::{count_all, good, place, teeth, wrong};
use kinds::{
    AskedFor, AskedQuestion, CountState, DescribeFault, Described, Kind, PresentAnswer,
    QuestionAnswer, WorkRole,
};
use std::collections::BTreeSet;

fn begun(kind: &str) -> Described {
    let mut begun = Described::begin(kind, "Wren Street test", &[]).expect("begun");
    count_all(&mut begun);
    begun
}

#[test]
fn with_its_usual_counts_every_kind_strikes_well() {
    for kind in Kind::all() {
        good(&begun(&kind.id));
    }
}

/// Parts and their counts.
type Counts = &'static [(&'static str, u16)];

fn counted(described: &mut Described, pins: u16, counts: Counts) {
    described
        .answer("lifters", &QuestionAnswer::Count(pins))
        .expect("answered");
    for (at, n) in counts {
        described
            .count(&place(at), CountState::Counted(teeth(*n)))
            .expect("counted");
    }
}

#[test]
fn with_each_of_its_choices_every_kind_strikes_well() {
    for kind in Kind::all() {
        let usual = begun(&kind.id);
        for question in &kind.questions {
            let AskedFor::Choice { choices, .. } = &question.asks else {
                continue;
            };
            for choice in choices {
                let answer = QuestionAnswer::Choice(choice.id.clone());
                let answers = [(question.id.as_str(), answer)];
                let mut described =
                    Described::begin(&kind.id, "Wren Street test", &answers).expect("begun");
                count_all(&mut described);
                println!("{} {} {}", kind.id, question.id, choice.id);
                // What alters nothing of the works strikes as before.
                let otherwise = works_of(&described) != works_of(&usual);
                if otherwise {
                    good(&described);
                }
                let asks = described.questions();
                if asks.iter().any(|asked| asked.question.id == question.id) {
                    let now = present(&described, &question.id);
                    assert_eq!(now, PresentAnswer::Choice(choice.id.clone()), "{}", kind.id);
                }
                described
                    .answer(&question.id, &QuestionAnswer::DontKnow)
                    .expect("answered");
                assert_eq!(asked_as(&described, &question.id), PresentAnswer::DontKnow);
                if otherwise {
                    recount_all(&mut described);
                    good(&described);
                }
            }
        }
    }
}

/// The ids of a kind's choices, each after its question's.
fn choices(kind: &Kind) -> Vec<[&str; 2]> {
    let of = |question: &'static kinds::Question| {
        let choices = match &question.asks {
            AskedFor::Choice { choices, .. } => &choices[..],
            _ => &[],
        };
        choices.iter().map(|choice| [&question.id[..], &choice.id])
    };
    let kind = Kind::find(&kind.id).expect("there");
    kind.questions.iter().flat_map(of).collect()
}

/// A drum that turns twice an hour plays five changes in a turn, one that turns once ten; others are in between.
#[test]
fn a_drum_plays_the_changes_that_its_counts_give() {
    for (changes, wheel, pinion, quarter_pinion, quarter) in [
        (5, 80, 16, 40, 80),
        (10, 100, 10, 64, 64),
        (8, 96, 12, 64, 80),
        (4, 72, 18, 32, 80),
    ] {
        let mut described = begun("quarters");
        for (at, count) in [
            ("cylinder.wheel", wheel),
            ("chime_locking.pinion", pinion),
            ("cylinder.quarter_pinion", quarter_pinion),
            ("quarter.wheel", quarter),
        ] {
            described
                .count(&place(at), CountState::Counted(teeth(count)))
                .expect("counted");
        }
        let text = described.text();
        let divisions = format!("divisions = {}\n", 7 * changes);
        assert_eq!(text.matches(&divisions).count(), 4, "{text}");
        good(&described);
    }
}

/// Two choices that do not go together are refused; all others strike well, but for usual counts that cannot come out: those say so.
#[test]
fn with_any_two_of_its_choices_a_kind_strikes_well_or_says_why_not() {
    let (mut refused, mut counted_again) = (Vec::new(), Vec::new());
    let mut known = BTreeSet::new();
    for kind in Kind::all() {
        let all = choices(kind);
        let pairs = (all.iter().enumerate()).flat_map(|(n, one)| {
            let others = all[n + 1..].iter().filter(|other| other[0] != one[0]);
            others.map(move |other| [*one, *other])
        });
        for pair in pairs {
            let answers =
                pair.map(|[question, id]| (question, QuestionAnswer::Choice(id.to_owned())));
            let mut described = match Described::begin(&kind.id, "Wren Street test", &answers) {
                Ok(described) => described,
                Err(DescribeFault::DoesNotGo { .. }) => {
                    refused.push((&kind.id[..], pair));
                    continue;
                }
                Err(other) => panic!("{pair:?}: {other}"),
            };
            count_all(&mut described);
            if !known.insert(works_of(&described)) {
                continue;
            }
            if described.follows().iter().all(|follow| follow.right) {
                let wrong = wrong(&described);
                assert!(wrong.is_empty(), "{} {pair:?} {wrong:#?}", kind.id);
            } else {
                counted_again.push((&kind.id[..], pair));
            }
        }
    }
    let same = |by| [["stopped_by", by], ["warned_at", "same"]];
    let no_pin = ["notch", "hoop"].map(same);
    assert_eq!(
        refused,
        [
            ("count wheel and cam", no_pin[0]),
            ("count wheel and cam", no_pin[1]),
            ("quarters", [["chime", "left_out"], ["correction", "there"]]),
            ("quarters", [["chime", "left_out"], ["drum_held", "fast"]]),
            (
                "quarters",
                [["chime", "left_out"], ["drum_held", "friction"]]
            ),
            ("quarters", [["chime", "left_out"], ["drum_held", "screw"]]),
            ("tower", no_pin[0]),
            ("tower", no_pin[1]),
        ]
    );
    // Of 176 places nine or ten pins make no whole number of turns.
    let day = [["halves", "ten"], ["count_turns", "day"]];
    assert_eq!(
        counted_again,
        [("count wheel and cam", day), ("count wheel outside", day)]
    );
}

/// The text without what was asked.
fn works_of(described: &Described) -> String {
    let text = described.text();
    let lines = text.lines().filter(|line| !line.starts_with("asked ="));
    lines.collect::<Vec<_>>().join("\n")
}

fn asked_as(described: &Described, id: &str) -> PresentAnswer {
    match present(described, id) {
        // What it is about is gone by what was answered before it.
        PresentAnswer::None => PresentAnswer::DontKnow,
        other => other,
    }
}

/// Counts all anew as is usual now.
fn recount_all(described: &mut Described) {
    for place in described.places() {
        described
            .count(&place.id, CountState::NotCounted)
            .expect("there");
    }
    count_all(described);
}

fn present(described: &Described, id: &str) -> PresentAnswer {
    let questions = described.questions();
    let asked = questions.iter().find(|asked| asked.question.id == id);
    asked.map_or(PresentAnswer::None, |AskedQuestion { answer, .. }| {
        answer.clone()
    })
}

/// Other trains: counts of several makes of practice, each one consistent.
#[test]
fn with_other_counts_every_kind_strikes_well() {
    let trains: [(&str, u16, Counts); 6] = [
        (
            "count wheel and cam",
            13,
            &[
                ("second.wheel", 78),
                ("third.pinion", 6),
                ("second.count_pinion", 8),
                ("count.wheel", 48),
            ],
        ),
        (
            "count wheel and cam",
            8,
            &[
                ("second.wheel", 64),
                ("third.pinion", 8),
                ("third.wheel", 60),
                ("fourth.pinion", 6),
                ("second.count_pinion", 8),
                ("count.wheel", 78),
            ],
        ),
        (
            "count wheel and cam",
            9,
            &[
                ("second.wheel", 72),
                ("third.pinion", 8),
                ("third.wheel", 42),
                ("fourth.pinion", 7),
            ],
        ),
        (
            "count wheel outside",
            12,
            &[
                ("pins.wheel", 72),
                ("pins.pinion", 8),
                ("second.wheel", 60),
                ("locking.pinion", 6),
            ],
        ),
        (
            "count wheel outside",
            8,
            &[
                ("pins.wheel", 64),
                ("locking.pinion", 8),
                ("second.wheel", 90),
                ("pins.pinion", 8),
            ],
        ),
        (
            "rack",
            8,
            &[
                ("pins.wheel", 56),
                ("pallet.pinion", 7),
                ("pallet.wheel", 63),
            ],
        ),
    ];
    for (kind, pins, counts) in trains {
        let mut described = begun(kind);
        counted(&mut described, pins, counts);
        good(&described);
    }
}

/// The same with other names, and a witness, track or pin called otherwise.
#[test]
fn nothing_depends_on_a_name() {
    for kind in Kind::all() {
        let mut described = begun(&kind.id);
        let mut arbors: Vec<String> = Vec::new();
        for place in described.places() {
            if !arbors.contains(&place.id.arbor) {
                arbors.push(place.id.arbor);
            }
        }
        for (nth, arbor) in arbors.iter().enumerate() {
            let other = format!("a{nth}");
            described.rename_arbor(arbor, &other).expect("renamed");
        }
        let usual: Vec<_> = described.places().iter().map(|place| place.usual).collect();
        let before: Vec<_> = begun(&kind.id).places().iter().map(|p| p.usual).collect();
        assert_eq!(usual, before, "{}", kind.id);
        let lifters = kind.questions.iter().any(|asked| asked.id == "lifters");
        if lifters {
            let usual = described.answer("lifters", &QuestionAnswer::Usual);
            usual.expect("answered");
        }
        good(&described);
    }
}

#[test]
fn a_miscount_is_found() {
    let mut described = begun("count wheel and cam");
    let count = place("count.wheel");
    described
        .count(&count, CountState::Counted(teeth(51)))
        .expect("counted");
    let follows = described.follows();
    let wheel = follows.iter().find(|f| f.of == WorkRole::CountWheel);
    let wheel = wheel.expect("it follows");
    assert!(!wheel.right);
    let kinds::LikelyMiscount::Part { id, perhaps, .. } = &wheel.miscounts[0] else {
        panic!("{:?}", wheel.miscounts);
    };
    assert_eq!((id, perhaps.get()), (&count, 52));
}

#[test]
fn what_is_not_counted_is_blank_and_what_is_lost_says_so() {
    let mut described = Described::begin("rack", "Wren Street test", &[]).expect("begun");
    assert!(
        described
            .places()
            .iter()
            .all(|p| p.state == CountState::NotCounted)
    );
    assert_eq!(described.follows(), []);
    let lost = place("pallet.wheel");
    described.count(&lost, CountState::Lost).expect("lost");
    let state = |described: &Described| {
        let places = described.places();
        places
            .into_iter()
            .find(|p| p.id == lost)
            .expect("there")
            .state
    };
    assert_eq!(state(&described), CountState::Lost);
    let again = Described::read(&described.text()).expect("read");
    assert_eq!(state(&again), CountState::Lost);
    sheet::read_open(described.text().as_bytes()).expect("a sheet with blanks");
    described
        .count(&lost, CountState::NotSure(teeth(70)))
        .expect("not sure");
    assert_eq!(state(&described), CountState::NotSure(teeth(70)));
}

/// A chime that is left out goes whole, and comes back once.
#[test]
fn a_chime_that_is_left_out_and_put_down_again_is_there_once() {
    let mut sheet = begun("quarters");
    let arbors = |sheet: &Described| -> BTreeSet<String> {
        sheet
            .places()
            .into_iter()
            .map(|place| place.id.arbor)
            .collect()
    };
    let whole = arbors(&sheet);
    let mut answer = |choice: &str| {
        let answer = QuestionAnswer::Choice(choice.to_owned());
        sheet.answer("chime", &answer).expect("answered");
        arbors(&sheet)
    };
    let without = answer("left_out");
    assert!(
        without.is_subset(&whole) && !without.contains("cylinder"),
        "{without:?}"
    );
    assert_eq!(answer("there"), whole);
}
