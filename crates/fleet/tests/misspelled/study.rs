//! Sheets with one slip each: whether it is refused or warned of, and whether what is said names the right key.
//!
//! Sample sheets and sheets made up, in turn. Left out: a sheet with counts missing, keys of the writer's own, and slips that
//! leave the sheet as it was. A slip of figures leaves another number, which is often as good as the right one and cannot be
//! told from it; these are counted apart.

use fleet::{Dice, Misspelling, Taste, grow, misspell};
use rand::RngExt;
use std::collections::{BTreeMap, BTreeSet};

/// What became of the slips of one kind.
#[derive(Debug, Clone, Default)]
pub(crate) struct Tally {
    /// How many.
    pub(crate) tried: u32,
    /// Refused or warned of.
    pub(crate) caught: u32,
    /// With the right key in what was said.
    pub(crate) named: u32,
    /// Some that were not caught, or not named.
    pub(crate) missed: Vec<String>,
}

/// What is said of a sheet: faults, warnings, that it cannot come out; and whether it is refused.
fn said(words: &report::Locale, text: &str) -> (bool, BTreeSet<String>) {
    match sheet::read(text.as_bytes()) {
        Err(faults) => {
            let told = faults.told.iter().map(|fault| report::fault(words, fault));
            let lines = told.map(|told| format!("{} {}", told.line, told.hint.unwrap_or_default()));
            (true, lines.collect())
        }
        Ok(sheet) => {
            let mut lines: BTreeSet<String> = (sheet.warnings.iter())
                .map(|warning| report::en::misgiving(&warning.what))
                .collect();
            let again = tasks::count_again(&sheet.movement);
            lines.extend(report::count_again(words, &sheet.movement, &again));
            (false, lines)
        }
    }
}

fn samples(words: &report::Locale) -> Vec<String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .expect("samples")
        .map(|entry| entry.expect("a file").path())
        .collect();
    paths.sort();
    (paths.iter())
        .map(|path| std::fs::read_to_string(path).expect("read"))
        .filter(|text| !said(words, text).0)
        .collect()
}

/// So many slips of each kind.
pub(crate) fn study(each: u32, dice: &mut Dice) -> BTreeMap<Misspelling, Tally> {
    let words = report::Locale::default();
    let known: Vec<&str> = sheet::keys::ROWS.iter().map(|row| row.key).collect();
    let samples: Vec<(String, BTreeSet<String>)> = (samples(&words).into_iter())
        .map(|text| {
            let before = said(&words, &text).1;
            (text, before)
        })
        .collect();
    let mut tallies: BTreeMap<Misspelling, Tally> = BTreeMap::new();
    for slip in Misspelling::OF_SPELLING
        .into_iter()
        .chain(Misspelling::OF_FIGURES)
    {
        let mut left = each;
        while left > 0 {
            let (text, before) = if dice.random_bool(0.6) {
                samples[dice.random_range(0..samples.len())].clone()
            } else {
                let taste = match dice.random_bool(0.7) {
                    true => Taste::realistic(),
                    false => Taste::wild(),
                };
                let text = grow(&taste, dice).sheet();
                let before = said(&words, &text).1;
                (text, before)
            };
            let Some(made) = misspell(&text, slip, &known, dice) else {
                continue;
            };
            left -= 1;
            let (refused, after) = said(&words, &made.text);
            let new: Vec<&String> = after.difference(&before).collect();
            let tally = tallies.entry(slip).or_default();
            tally.tried += 1;
            let caught = refused || !new.is_empty();
            let named = new.iter().any(|line| names(line, &made.key));
            tally.caught += u32::from(caught);
            tally.named += u32::from(named);
            if !(caught && named) && tally.missed.len() < 40 {
                let how = if caught { "not named" } else { "not caught" };
                let line = format!("{how}: {} | {} | {:?}", made.right, made.wrong, new.first());
                tally.missed.push(line);
            }
        }
    }
    tallies
}

/// Whether a line has the key as a word of its own, or as the part of an arbor.
fn names(line: &str, key: &str) -> bool {
    let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    line.match_indices(key)
        .any(|(at, _)| !line[..at].ends_with(word) && !line[at + key.len()..].starts_with(word))
}

/// Of all of these, how many were caught and how many named, as parts of one.
pub(crate) fn parts(tallies: &BTreeMap<Misspelling, Tally>, of: &[Misspelling]) -> (f64, f64) {
    let sum = |count: fn(&Tally) -> u32| -> f64 {
        let here = of.iter().filter_map(|slip| tallies.get(slip));
        here.map(|tally| f64::from(count(tally))).sum()
    };
    let tried = sum(|t| t.tried);
    (sum(|t| t.caught) / tried, sum(|t| t.named) / tried)
}

/// A row for each kind.
pub(crate) fn table(tallies: &BTreeMap<Misspelling, Tally>) -> String {
    let rows = tallies.iter().map(|(slip, t)| {
        format!(
            "{:16} {:6} tried, {:6} caught, {:6} named\n",
            format!("{slip:?}"),
            t.tried,
            t.caught,
            t.named
        )
    });
    rows.collect()
}
