//! What each new sheet of a job has otherwise than the one before it.

use crate::digest::old_count;
use crate::{belongs, check, check_open};
use entries::{Log, Work};
use movement::{Movement, Open};
use std::collections::{BTreeMap, BTreeSet};
use way::{Change, KnownSheet, changes};

/// A sheet that was read.
enum Read {
    Counted(Box<Movement>),
    Open(Box<Open>),
}

impl Read {
    fn of(text: &str) -> Option<Read> {
        match check_open(text.as_bytes()).ok()? {
            Some(open) => Some(Read::Open(Box::new(open))),
            None => Some(Read::Counted(Box::new(
                check(text.as_bytes()).ok()?.movement,
            ))),
        }
    }

    fn known_sheet(&self) -> KnownSheet<'_> {
        match self {
            Read::Counted(movement) => KnownSheet::Counted(movement),
            Read::Open(open) => KnownSheet::Open(open),
        }
    }
}

/// By the number of each entry that brings a sheet, what is otherwise on it than on the one that counted before it; those
/// without one before them, or that cannot be read any more, are left out.
pub fn sheet_changes(first_sheet: &str, log: &Log) -> BTreeMap<usize, Vec<Change>> {
    let counts: BTreeSet<usize> = log.standing().map(|entry| entry.n).collect();
    let sheets = log.entries().iter().filter_map(|entry| match entry.work() {
        Some(Work::Sheet { text, .. }) => Some((entry.n, text.as_str())),
        _ => None,
    });
    let sheets: Vec<(usize, &str)> = sheets.collect();
    let mut told = BTreeMap::new();
    if sheets.is_empty() {
        return told;
    }
    let mut before = Read::of(first_sheet);
    for (n, text) in sheets {
        let now = Read::of(text);
        if let (Some(before), Some(now)) = (&before, &now) {
            told.insert(n, changes(before.known_sheet(), now.known_sheet()));
        }
        if counts.contains(&n) {
            before = now;
        }
    }
    told
}

/// What is otherwise on a sheet than on the one that its log went by before it: a log that began with another, or that has this
/// one as its newest. Empty where that cannot be told; a log that holds no text of the older sheet tells a single count.
pub fn since_before(log: &Log, movement: &Movement) -> Vec<Change> {
    let sheets: Vec<&str> = log
        .standing()
        .filter_map(|entry| match entry.work() {
            Some(Work::Sheet { text, .. }) => Some(text.as_str()),
            _ => None,
        })
        .collect();
    let before = match (belongs(log, movement), &sheets[..]) {
        (true, []) => return Vec::new(),
        (true, [.., before, _]) | (false, [.., before]) => Some(*before),
        (true, [_]) | (false, []) => None,
    };
    match before {
        Some(text) => match Read::of(text) {
            Some(before) => changes(before.known_sheet(), KnownSheet::Counted(movement)),
            None => Vec::new(),
        },
        None if log.header().sheet == movement.name() => old_count(&log.header().hash, movement)
            .into_iter()
            .collect(),
        None => Vec::new(),
    }
}
