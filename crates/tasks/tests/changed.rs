//! What a new sheet of a log has otherwise than the one before it, though the log holds only a digest of the first.

use entries::Log;
use tasks::{begin, check, enter, new_sheet, since_before};
use way::{Change, SheetItem, Value};

const SHEET: &str = include_str!("../../../movements/schoolroom.toml");

fn with(from: &str, to: &str) -> String {
    assert!(SHEET.contains(from), "{from}");
    SHEET.replacen(from, to, 1)
}

/// A log that began with the sample and has these put in since.
fn log(sheets: &[&str]) -> Log {
    let mut text = begin(SHEET.as_bytes())
        .expect("it begins")
        .text()
        .to_owned();
    for sheet in sheets {
        let work = new_sheet(sheet).expect("a good sheet");
        text += &enter(text.as_bytes(), &work, None).expect("entered");
    }
    Log::read(text.as_bytes()).expect("a log").0
}

/// Each count that is otherwise: its part, what it was, what it is.
fn told(log: &Log, sheet: &str) -> Vec<(String, u16, u16)> {
    let movement = check(sheet.as_bytes()).expect("good").movement;
    let teeth = |value: &Option<Value>| match value {
        Some(Value::Teeth(Some(teeth))) => teeth.get(),
        other => panic!("no count: {other:?}"),
    };
    (since_before(log, &movement).iter())
        .map(|Change { of, was, now }| match of {
            SheetItem::Count(part) => (part.clone(), teeth(was), teeth(now)),
            other => panic!("no count: {other:?}"),
        })
        .collect()
}

#[test]
fn the_old_count_is_told_whether_the_log_goes_by_the_new_sheet_or_not() {
    let more = with("wheel = 72", "wheel = 78");
    let second = |was, now| vec![("second.wheel".to_owned(), was, now)];
    // The sheet is changed and the log is as it was.
    assert_eq!(told(&log(&[]), &more), second(72, 78));
    // The log had the new one put in, and goes by it.
    assert_eq!(told(&log(&[&more]), &more), second(72, 78));
    // It had two put in: the one before the last is what it went by.
    let most = with("wheel = 72", "wheel = 84");
    assert_eq!(told(&log(&[&more, &most]), &most), second(78, 84));
    // A third that was never put in, against the last that was.
    assert_eq!(told(&log(&[&more]), &most), second(78, 84));
    // Nothing is otherwise.
    assert_eq!(told(&log(&[]), SHEET), []);
}

#[test]
fn what_cannot_be_told_from_a_digest_is_not_made_up() {
    for other in [
        with("wheel = 72", "wheel = 78").replacen("wheel = 90", "wheel = 96", 1),
        with("best_deg = -75.0", "best_deg = -70.0"),
        with("Wren Street", "Quay Street").replacen("wheel = 72", "wheel = 78", 1),
    ] {
        assert_eq!(told(&log(&[]), &other), []);
    }
}
