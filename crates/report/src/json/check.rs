//! Whether a sheet is right.

use super::windows::WindowAnswer;
use super::{First, Version};
use crate::en;
use movement::{Blank, Movement};
use schemars::JsonSchema;
use serde::Serialize;
use sheet::{Faults, Spot};

/// What `trundle check` answers of each sheet, on a line of its own: its faults, and what is odd about it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CheckAnswer {
    /// The version of this answer's form.
    check: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The file, as it was named.
    file: String,
    /// The name on the sheet; null where it has faults.
    sheet: Option<String>,
    /// Whether it has no faults; counts may be missing all the same, or not come out.
    good: bool,
    /// Its faults in order of place, at most the first hundred.
    faults: Vec<Fault>,
    /// How many faults there are beside those that are told.
    more_faults: usize,
    /// What is odd about it and can be worked from all the same, in order of place.
    warnings: Vec<Odd>,
    /// The parts whose count is missing, as ARBOR.PART.
    missing: Vec<String>,
    /// What cannot come out as it was counted, and the likeliest miscount, a sentence each.
    cannot_come_out: Vec<String>,
    /// Windows that are not on the sheet, worked out from its levers; absent where none was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    windows: Vec<WindowAnswer>,
}

/// A fault, and where it stands.
#[derive(Debug, Serialize, JsonSchema)]
struct Fault {
    /// The line, from 1.
    line: usize,
    /// The column in characters, from 1.
    column: usize,
    /// What was got, and what was expected.
    says: String,
    /// What may help; null where nothing is known to.
    hint: Option<String>,
}

/// Something odd, and where it stands.
#[derive(Debug, Serialize, JsonSchema)]
struct Odd {
    /// The line, from 1.
    line: usize,
    /// The column in characters, from 1.
    column: usize,
    /// What is odd.
    says: String,
}

impl CheckAnswer {
    /// A sheet with faults.
    pub fn faulty(file: &str, faults: &Faults) -> CheckAnswer {
        let told = faults.told.iter().map(|fault| {
            let Spot { line, column } = fault.spot;
            let told = en::fault(fault);
            let (says, hint) = (told.line, told.hint);
            Fault {
                line,
                column,
                says,
                hint,
            }
        });
        CheckAnswer {
            check: First,
            trundle: Version,
            file: file.to_owned(),
            sheet: None,
            good: false,
            faults: told.collect(),
            more_faults: faults.more,
            warnings: Vec::new(),
            missing: Vec::new(),
            cannot_come_out: Vec::new(),
            windows: Vec::new(),
        }
    }

    /// A sheet without, those of its counts that are missing, what is odd about it, and what of it cannot come out.
    pub fn good(
        file: &str,
        movement: &Movement,
        blanks: &[Blank],
        warnings: &[sheet::SheetWarning],
        cannot_come_out: Vec<String>,
    ) -> CheckAnswer {
        let warnings = warnings.iter().map(|warning| Odd {
            line: warning.spot.line,
            column: warning.spot.column,
            says: en::misgiving(&warning.what),
        });
        let missing = blanks.iter().filter(|blank| blank.written.is_none());
        CheckAnswer {
            check: First,
            trundle: Version,
            file: file.to_owned(),
            sheet: Some(movement.name().to_owned()),
            good: true,
            faults: Vec::new(),
            more_faults: 0,
            warnings: warnings.collect(),
            missing: missing.map(|b| movement.part_name(b.part)).collect(),
            cannot_come_out,
            windows: WindowAnswer::all(movement),
        }
    }
}
