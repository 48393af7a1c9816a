//! The sheet: TOML text to a checked movement, or every fault with its line and column.
//!
//! Reading has two halves: `raw` takes the text apart into a draft and remembers where each thing stood;
//! the movement then checks the draft, and its flaws are put back in their places. No sentences here.

mod fault;
mod raw;
mod spot;
mod value;
mod works;

pub use fault::{Expected, Fault, Faults, Got, Table, What};
pub use spot::Spot;

use movement::{Misgiving, Movement};

/// A sheet is a page or two; a megabyte is more than anyone counts on one movement, and is still read in a blink.
pub const MOST_BYTES: usize = 1 << 20;

/// At most so many faults are told at once.
pub const MOST_FAULTS: usize = 100;

/// A sheet that was read whole and found good.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The movement on it.
    pub movement: Movement,
    /// What is odd about it, in order of place.
    pub warnings: Vec<Warning>,
}

/// Something odd, and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// Where.
    pub spot: Spot,
    /// What.
    pub what: Misgiving,
}

/// Reads a sheet.
///
/// # Errors
/// Every fault at once, in order of place, at most the first hundred.
pub fn read(bytes: &[u8]) -> Result<Sheet, Faults> {
    let one = |what, offset: usize, text: &str| {
        Faults::of(vec![Fault {
            spot: spot::Lines::of(text).at(offset),
            what,
            first: None,
        }])
    };
    if bytes.len() > MOST_BYTES {
        let what = What::TooLong {
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
            return Err(one(What::NotUtf8 { byte }, good.len(), good));
        }
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let lines = spot::Lines::of(text);
    let raw = raw::read(text);
    let mut faults: Vec<Fault> = raw
        .faults
        .into_iter()
        .map(|(span, what)| Fault {
            spot: lines.at(span.start),
            what,
            first: None,
        })
        .collect();
    // A draft that breaks off half way would be found full of holes that are none of the writer's.
    let checked = match &raw.draft {
        Some(draft) => Movement::check(draft),
        None => Err(Vec::new()),
    };
    match checked {
        Ok((movement, remarks)) if faults.is_empty() => {
            let mut warnings: Vec<Warning> = remarks
                .into_iter()
                .map(|remark| Warning {
                    spot: lines.at(raw.spans.of(remark.place)),
                    what: remark.what,
                })
                .collect();
            warnings.sort_by_key(|w| w.spot);
            Ok(Sheet { movement, warnings })
        }
        checked => {
            for flaw in checked.err().unwrap_or_default() {
                let first = flaw.what.first().map(|place| lines.at(raw.spans.of(place)));
                faults.push(Fault {
                    spot: lines.at(raw.spans.of(flaw.place)),
                    what: What::Movement(flaw.what),
                    first,
                });
            }
            Err(Faults::of(faults))
        }
    }
}
