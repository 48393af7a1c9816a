//! A row of the data: what was printed, where, how it is known, and what the right value is.

use crate::ask::{Ask, Got};
use crate::train::{Struck, Train};
use movement::Movement;
use quantity::{Exact, fraction, parse_decimal, to_f64};
use serde::Deserialize;

/// The rows of one file: those that are checked, and those kept for later work.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Rows {
    pub(crate) row: Vec<Row>,
    #[serde(default)]
    kept: Vec<Kept>,
}

/// How a figure is known.
#[derive(Deserialize, Clone, Copy, PartialEq)]
pub(crate) enum Mark {
    #[serde(rename = "seen")]
    Seen,
    #[serde(rename = "from memory")]
    FromMemory,
    #[serde(rename = "computed")]
    Computed,
    #[serde(rename = "common practice, no source")]
    Practice,
}

/// A printed value that is wrong, and why.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Misprint {
    pub(crate) printed: String,
    pub(crate) why: String,
}

/// A checked row.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Row {
    pub(crate) name: String,
    source: Option<String>,
    mark: Mark,
    /// A sheet of `outside/sheets`; a row without one writes its train out.
    pub(crate) sheet: Option<String>,
    train: Option<Vec<String>>,
    #[serde(default)]
    with: Vec<String>,
    strike: Option<Struck>,
    ask: Ask,
    /// What the answer is multiplied by, to come to the printed unit.
    times: Option<String>,
    /// The right answer, exactly: a decimal, a fraction or a word.
    is: String,
    /// As printed, good to half a unit of its last figure.
    printed: Option<String>,
    misprint: Option<Misprint>,
    note: Option<String>,
}

/// A printed figure that nothing here checks yet.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Kept {
    name: String,
    source: String,
    mark: Mark,
    printed: String,
    misprint_right: Option<String>,
    note: Option<String>,
}

impl Rows {
    /// Whether every row says where it is from, and every slip of the print why.
    pub(crate) fn told(&self) -> Result<(), String> {
        for row in &self.row {
            let sourced = row.source.as_deref().is_some_and(|s| !s.trim().is_empty());
            if sourced == (row.mark == Mark::Practice) {
                return Err(format!("{}: source and mark do not agree", row.name));
            }
            let silent = row.note.as_deref().is_some_and(|n| n.trim().is_empty())
                || row
                    .misprint
                    .as_ref()
                    .is_some_and(|m| m.why.trim().is_empty());
            if silent || row.sheet.is_some() == row.train.is_some() {
                return Err(format!("{}: wants a note, or one train", row.name));
            }
        }
        for kept in &self.kept {
            let words = [&kept.name, &kept.source, &kept.printed];
            let wrong_and_silent = kept.misprint_right.is_some() && kept.note.is_none();
            if words.iter().any(|w| w.trim().is_empty())
                || wrong_and_silent
                || kept.mark == Mark::Practice
            {
                return Err(format!("{}: not told in full", kept.name));
            }
        }
        Ok(())
    }
}

impl Row {
    fn movement(&self) -> Movement {
        let text = match (&self.sheet, &self.train) {
            (Some(name), _) => std::fs::read_to_string(crate::sheet_path(name)).expect(name),
            (None, Some(train)) => Train {
                train: train.clone(),
                with: self.with.clone(),
                strike: self.strike.clone(),
            }
            .sheet(&self.name),
            (None, None) => panic!("{}: no sheet and no train", self.name),
        };
        match sheet::read(text.as_bytes()) {
            Ok(sheet) => sheet.movement,
            Err(faults) => panic!("{}: {faults:#?}\n{text}", self.name),
        }
    }

    /// Asks, and holds the answer against the row.
    pub(crate) fn check(&self) -> Result<(), String> {
        let movement = self.movement();
        let got = match self.ask.of(&movement).ok_or("nothing to answer with")? {
            Got::Word(word) => return same(&word, &self.is),
            Got::Number(number) => match &self.times {
                Some(times) => number * exact(times),
                None => number,
            },
        };
        let is = exact(&self.is);
        if got != is {
            return Err(format!("got {got}, not {is}"));
        }
        if let Some(printed) = &self.printed {
            agrees(&got, printed)?;
        }
        if let Some(misprint) = &self.misprint
            && agrees(&got, &misprint.printed).is_ok()
        {
            return Err(format!("{} is no misprint of {got}", misprint.printed));
        }
        Ok(())
    }
}

fn same(got: &str, is: &str) -> Result<(), String> {
    (got == is)
        .then_some(())
        .ok_or_else(|| format!("got {got}, not {is}"))
}

/// A decimal or a fraction, exactly as written.
pub(crate) fn exact(text: &str) -> Exact {
    let number = |s: &str| parse_decimal(s).unwrap_or_else(|_| panic!("{text} is no number"));
    match text.split_once('/') {
        Some((over, under)) => number(over) / number(under),
        None => number(text),
    }
}

/// Whether a printed number is `got`, to half a unit of its last figure; a printed fraction has no last figure.
pub(crate) fn agrees(got: &Exact, printed: &str) -> Result<(), String> {
    let half = if printed.contains('/') {
        fraction(0, 1)
    } else {
        let figures = printed.split_once('.').map_or(0, |(_, after)| after.len());
        fraction(1, 2) / fraction(10, 1).pow(i32::try_from(figures).expect("few figures"))
    };
    within(got, printed, &half)
}

/// Whether a printed number is `got`, to `half` a unit.
pub(crate) fn within(got: &Exact, printed: &str, half: &Exact) -> Result<(), String> {
    let off = got - exact(printed);
    if off <= *half && -off <= *half {
        Ok(())
    } else {
        Err(format!("got {}, printed {printed}", to_f64(got)))
    }
}
