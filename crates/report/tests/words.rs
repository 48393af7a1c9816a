//! Every refusal in words: one snapshot each, and none left out. A kind that is added must be added to the lists here, or
//! the matches below do not compile.

use entries::{ExpectedField, LogFault, LogFaultKind, LogPlace};
use quantity::Degrees;
use report::{Locale, Voice, unanswered};
use tasks::QuestionFault;
use timing::{ReadingFault, RecallFault, SaidFault};

fn said_of(fault: &QuestionFault) -> String {
    unanswered(&Voice::Command(Locale::default()), fault)
}

/// How many kinds of each there are; no catch-all, so that a new one is noticed.
fn nth_what(what: &LogFaultKind) -> usize {
    match what {
        LogFaultKind::TooLong { .. } => 0,
        LogFaultKind::Empty => 1,
        LogFaultKind::NoHeader => 2,
        LogFaultKind::HeaderTorn => 3,
        LogFaultKind::OtherVersion { .. } => 4,
        LogFaultKind::NotUtf8 => 5,
        LogFaultKind::NotJson => 6,
        LogFaultKind::Blank => 7,
        LogFaultKind::NotAnObject => 8,
        LogFaultKind::Missing => 9,
        LogFaultKind::NotSeen => 10,
        LogFaultKind::Stray => 11,
        LogFaultKind::Doubled => 12,
        LogFaultKind::Wrong { .. } => 13,
        LogFaultKind::Twice { .. } => 14,
        LogFaultKind::OutOfOrder { .. } => 15,
        LogFaultKind::PointsNowhere { .. } => 16,
        LogFaultKind::NotAShift { .. } => 17,
        LogFaultKind::NotCorrected { .. } => 18,
        LogFaultKind::NotEmptied { .. } => 19,
        LogFaultKind::NotUndone { .. } => 20,
        LogFaultKind::NotInShift { .. } => 21,
    }
}

fn nth_recall(fault: &RecallFault) -> usize {
    match fault {
        RecallFault::UnknownKind { .. } => 0,
        RecallFault::UnknownName { .. } => 1,
        RecallFault::OnALoop { .. } => 2,
        RecallFault::Reading { .. } => 3,
        RecallFault::ArborOut { .. } => 4,
        RecallFault::LongSlot { .. } => 5,
    }
}

fn nth_reading(fault: &ReadingFault) -> usize {
    match fault {
        ReadingFault::Spread { .. } => 0,
        ReadingFault::NoLook => 1,
        ReadingFault::NoHour => 2,
        ReadingFault::NoTeeth => 3,
        ReadingFault::OtherTrain { .. } => 4,
        ReadingFault::TooCoarse { .. } => 5,
        ReadingFault::NoNotch => 6,
        ReadingFault::AtItsArm => 7,
        ReadingFault::NotAtRest => 8,
    }
}

fn nth_said(fault: &SaidFault) -> usize {
    match fault {
        SaidFault::NoEquals => 0,
        SaidFault::UnknownWitness { .. } => 1,
        SaidFault::Unreadable { .. } => 2,
        SaidFault::BadSpread { .. } => 3,
        SaidFault::UnknownPart { .. } => 4,
        SaidFault::BadHour { .. } => 5,
        SaidFault::NoWindow { .. } => 6,
    }
}

fn assert_whole<T>(all: &[T], nth: impl Fn(&T) -> usize, kinds: usize) {
    let mut seen: Vec<usize> = all.iter().map(nth).collect();
    seen.sort_unstable();
    seen.dedup();
    assert_eq!(seen, (0..kinds).collect::<Vec<_>>());
}

fn s(text: &str) -> String {
    text.to_owned()
}

#[test]
fn every_fault_of_a_log() {
    let field = || LogPlace::Field {
        line: 4,
        column: 12,
        field: s("teeth"),
    };
    let wrong = |expected| LogFaultKind::Wrong {
        got: s("\"two\""),
        expected,
    };
    let mut faults = vec![
        (LogPlace::Text, LogFaultKind::TooLong { bytes: 9_000_000 }),
        (LogPlace::Text, LogFaultKind::Empty),
        (LogPlace::Line { line: 1 }, LogFaultKind::NoHeader),
        (LogPlace::Line { line: 1 }, LogFaultKind::HeaderTorn),
        (field(), LogFaultKind::OtherVersion { got: 2 }),
        (
            LogPlace::Column { line: 3, column: 7 },
            LogFaultKind::NotUtf8,
        ),
        (
            LogPlace::Column { line: 3, column: 7 },
            LogFaultKind::NotJson,
        ),
        (LogPlace::Line { line: 3 }, LogFaultKind::Blank),
        (LogPlace::Line { line: 3 }, LogFaultKind::NotAnObject),
        (field(), LogFaultKind::Missing),
        (
            LogPlace::Column { line: 3, column: 7 },
            LogFaultKind::NotSeen,
        ),
        (field(), LogFaultKind::Stray),
        (field(), LogFaultKind::Doubled),
        (field(), LogFaultKind::Twice { name: s("slot") }),
        (
            field(),
            LogFaultKind::OutOfOrder {
                got: 5,
                expected: 3,
            },
        ),
        (field(), LogFaultKind::PointsNowhere { of: 9, n: 3 }),
        (field(), LogFaultKind::NotAShift { of: 1 }),
        (field(), LogFaultKind::NotCorrected { of: 1 }),
        (
            field(),
            LogFaultKind::NotEmptied {
                of: 1,
                field: s("owner"),
            },
        ),
        (field(), LogFaultKind::NotUndone { of: 1 }),
        (
            field(),
            LogFaultKind::NotInShift {
                of: 1,
                mesh: s("second.wheel>third.pinion"),
            },
        ),
    ];
    for expected in [
        ExpectedField::Text,
        ExpectedField::Decimal,
        ExpectedField::Spread,
        ExpectedField::Oclock,
        ExpectedField::Count,
        ExpectedField::Hour,
        ExpectedField::Hours,
        ExpectedField::Teeth,
        ExpectedField::OneOf(vec!["tensioned", "slack", "at-rest"]),
        ExpectedField::Day,
        ExpectedField::Digest,
        ExpectedField::Names,
        ExpectedField::List,
        ExpectedField::Object,
    ] {
        faults.push((field(), wrong(expected)));
    }
    assert_whole(&faults, |(_, what)| nth_what(what), 22);
    let told: Vec<String> = faults
        .into_iter()
        .map(|(place, what)| said_of(&QuestionFault::Log(LogFault { place, what })))
        .collect();
    insta::assert_snapshot!("log", told.join("\n"));
}

#[test]
fn every_reason_why_a_log_is_not_summed_up() {
    let slot = || s("slot");
    let faults = [
        RecallFault::UnknownKind {
            n: 3,
            kind: s("polished"),
        },
        RecallFault::UnknownName {
            n: 3,
            name: s("fouth"),
        },
        RecallFault::OnALoop {
            n: 3,
            mesh: s("a.wheel>b.pinion"),
        },
        RecallFault::Reading {
            n: 3,
            witness: slot(),
            fault: ReadingFault::NoLook,
        },
        RecallFault::ArborOut {
            n: 3,
            witness: slot(),
            arbor: s("count"),
        },
        RecallFault::LongSlot {
            n: 3,
            witness: slot(),
            hour: 12,
        },
    ];
    assert_whole(&faults, nth_recall, 6);
    let told: Vec<String> = (faults.into_iter())
        .map(|fault| said_of(&QuestionFault::Recall(fault)))
        .collect();
    insta::assert_snapshot!("recall", told.join("\n"));
}

#[test]
fn every_reading_that_cannot_be_used() {
    let most = || Degrees::parse("1.5").expect("a decimal");
    let faults = [
        ReadingFault::Spread {
            got: 2.0,
            most: most(),
        },
        ReadingFault::NoLook,
        ReadingFault::NoHour,
        ReadingFault::NoTeeth,
        ReadingFault::OtherTrain {
            part: s("centre.wheel"),
        },
        ReadingFault::TooCoarse {
            spread: 4.33,
            most: most(),
        },
        ReadingFault::NoNotch,
        ReadingFault::AtItsArm,
        ReadingFault::NotAtRest,
    ];
    assert_whole(&faults, nth_reading, 9);
    let mut told: Vec<String> = (faults.into_iter())
        .map(|fault| said_of(&QuestionFault::Reading(s("slot=1"), fault)))
        .collect();
    let said = [
        SaidFault::NoEquals,
        SaidFault::UnknownWitness {
            got: s("slto"),
            near: Some(s("slot")),
            all: vec![s("slot")],
        },
        SaidFault::UnknownWitness {
            got: s("wheel"),
            near: None,
            all: vec![s("slot"), s("pin")],
        },
        SaidFault::UnknownWitness {
            got: s("wheel"),
            near: None,
            all: vec![],
        },
        SaidFault::Unreadable {
            got: s("one\u{1b}[31m"),
        },
        SaidFault::BadSpread { got: s("x") },
        SaidFault::UnknownPart { got: s("a.b") },
        SaidFault::BadHour { got: s("13oclock") },
        SaidFault::NoWindow { id: s("slot") },
    ];
    assert_whole(&said, nth_said, 7);
    told.extend((said.into_iter()).map(|fault| said_of(&QuestionFault::Said(s("slot=…"), fault))));
    assert!(
        !told.join("").contains('\u{1b}'),
        "nothing that a terminal would obey"
    );
    insta::assert_snapshot!("readings", told.join("\n"));
}

#[test]
fn odds_are_never_certain() {
    let told: Vec<String> = [
        0.0, 0.004, 0.006, 0.09, 0.1, 0.5, 0.94, 0.95, 0.994, 0.996, 1.0,
    ]
    .iter()
    .map(|p| report::en::odds(quantity::Chance::of(*p)))
    .collect();
    assert_eq!(
        told,
        [
            "less than 1 in 100",
            "less than 1 in 100",
            "1 in 100",
            "9 in 100",
            "1 in 10",
            "5 in 10",
            "9 in 10",
            "95 in 100",
            "99 in 100",
            "more than 99 in 100",
            "more than 99 in 100"
        ]
    );
}
