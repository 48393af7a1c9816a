//! The sheet: TOML text to a checked movement, or every fault with its line and column.
//!
//! Reading has two halves: `raw` takes the text apart into a draft and remembers where each thing stood;
//! the movement then checks the draft, and its flaws are put back in their places. No sentences here.

pub mod edit;
mod fault;
mod frame;
pub mod keys;
mod odd;
mod raw;
mod spans;
mod spelling;
mod spot;
mod value;
mod works;
mod written;

pub use fault::{
    ExpectedValue, Fault, Faults, Got, MOST_FAULTS, SheetFaultKind, SheetTable, SpellingSlip,
};
pub use odd::{Odd, SheetWarning};
pub use raw::MOST_KEYS;
pub use spot::Spot;

use movement::{Flaw, Movement, Open};

/// A sheet is a page or two; a megabyte is more than anyone counts on one movement, and is still read in a blink.
pub const MOST_BYTES: usize = 1 << 20;

/// A sheet that was read whole and found good.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The movement on it.
    pub movement: Movement,
    /// What is odd about it, in order of place.
    pub warnings: Vec<SheetWarning>,
}

/// Reads a sheet.
///
/// # Errors
/// Every fault at once, in order of place, at most the first hundred.
pub fn read(bytes: &[u8]) -> Result<Sheet, Faults> {
    let (lines, raw) = taken_apart(bytes)?;
    let (movement, remarks) = checked(
        &lines,
        raw.faults,
        &raw.spans,
        raw.draft.as_ref(),
        Movement::check,
    )?;
    let of_movement = (remarks.into_iter())
        .map(|remark| (raw.spans.of(remark.place), Odd::Movement(remark.what)));
    let alone =
        (odd::unmeshed(&movement, &[]).into_iter()).map(|(place, odd)| (raw.spans.of(place), odd));
    let all = raw.odd.into_iter().chain(of_movement).chain(alone);
    let warnings = in_order(&lines, all);
    Ok(Sheet { movement, warnings })
}

/// Reads a sheet for its strike: trains that it does not hang on need not be counted ([`Movement::is_counted`]).
///
/// # Errors
/// As [`read`].
pub fn read_for_strike(bytes: &[u8]) -> Result<Sheet, Faults> {
    read(bytes).or_else(|faults| {
        let (open, warnings) = read_open_warned(bytes)?;
        let movement = open.beside_the_strike().ok_or(faults)?;
        Ok(Sheet { movement, warnings })
    })
}

/// Reads a sheet on which counts may be missing (`"?"`) or doubtful (`"72?"`).
///
/// # Errors
/// As [`read`], but for the counts that are missing.
pub fn read_open(bytes: &[u8]) -> Result<Open, Faults> {
    read_open_warned(bytes).map(|(open, _)| open)
}

/// The same, and what is odd about how it is written, in order of place.
///
/// # Errors
/// As [`read_open`].
pub fn read_open_warned(bytes: &[u8]) -> Result<(Open, Vec<SheetWarning>), Faults> {
    let (lines, raw) = taken_apart(bytes)?;
    let open = checked(
        &lines,
        raw.faults,
        &raw.spans,
        raw.draft.as_ref(),
        Movement::check_open,
    )?;
    let alone = (odd::unmeshed(open.movement(), open.blanks()).into_iter())
        .map(|(place, odd)| (raw.spans.of(place), odd));
    let warnings = in_order(&lines, raw.odd.into_iter().chain(alone));
    Ok((open, warnings))
}

/// What is odd, each in its place, in order of place.
fn in_order(lines: &spot::Lines, odd: impl Iterator<Item = (usize, Odd)>) -> Vec<SheetWarning> {
    let mut warnings: Vec<SheetWarning> = odd
        .map(|(at, what)| SheetWarning {
            spot: lines.at(at),
            what,
        })
        .collect();
    warnings.sort_by_key(|w| w.spot);
    warnings
}

/// The text in its parts, and where its lines are.
fn taken_apart(bytes: &[u8]) -> Result<(spot::Lines, raw::Raw), Faults> {
    let one = |what, offset: usize, text: &str| {
        Faults::of(vec![Fault {
            spot: spot::Lines::of(text.to_owned()).at(offset),
            what,
            first: None,
        }])
    };
    if bytes.len() > MOST_BYTES {
        let what = SheetFaultKind::TooLong {
            got: bytes.len(),
            most: MOST_BYTES,
        };
        return Err(one(what, 0, ""));
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let good = std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or("");
            let byte = bytes[error.valid_up_to()];
            return Err(one(SheetFaultKind::NotUtf8 { byte }, good.len(), good));
        }
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(one(SheetFaultKind::Empty, 0, ""));
    }
    let (text, raw) = raw::read(text);
    Ok((spot::Lines::of(text), raw))
}

/// What comes of a draft that was read without a fault and has no flaw; else all of both.
fn checked<T>(
    lines: &spot::Lines,
    faults: Vec<(std::ops::Range<usize>, SheetFaultKind)>,
    spans: &spans::Spans,
    draft: Option<&movement::Draft>,
    check: impl FnOnce(&movement::Draft) -> Result<T, Vec<Flaw>>,
) -> Result<T, Faults> {
    let mut faults: Vec<Fault> = faults
        .into_iter()
        .map(|(span, what)| Fault {
            spot: lines.at(span.start),
            what,
            first: None,
        })
        .collect();
    // A draft that breaks off half way would be found full of holes that are none of the writer's.
    let checked = match draft {
        Some(draft) => check(draft),
        None => Err(Vec::new()),
    };
    match checked {
        Ok(checked) if faults.is_empty() => Ok(checked),
        checked => {
            for flaw in checked.err().unwrap_or_default() {
                let first = flaw.what.first().map(|place| lines.at(spans.of(place)));
                faults.push(Fault {
                    spot: lines.at(spans.of(flaw.place)),
                    what: SheetFaultKind::Movement(flaw.what),
                    first,
                });
            }
            Err(Faults::of(faults))
        }
    }
}
