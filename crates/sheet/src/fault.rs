//! What can be wrong with a sheet, as data.

use crate::Spot;
use quantity::Bounds;

/// A fault and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where.
    pub spot: Spot,
    /// What.
    pub what: What,
    /// Where the other one of a pair stands: the first of two that are doubled or contradict.
    pub first: Option<Spot>,
}

/// All faults of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Faults {
    /// The first of them, in order of place.
    pub told: Vec<Fault>,
    /// How many more there are.
    pub more: usize,
}

impl Faults {
    pub(crate) fn of(mut faults: Vec<Fault>) -> Faults {
        faults.sort_by_key(|f| f.spot);
        faults.dedup();
        let more = faults.len().saturating_sub(crate::MOST_FAULTS);
        faults.truncate(crate::MOST_FAULTS);
        Faults { told: faults, more }
    }
}

/// A table of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    /// The sheet itself.
    Sheet,
    /// `[arbor.ID]`.
    Arbor,
    /// A part written as a table.
    Part,
    /// `[[mesh]]`.
    Mesh,
    /// `[strike]`.
    Strike,
    /// `[[moment]]`.
    Moment,
    /// `[[witness]]`.
    Witness,
}

impl Table {
    /// The keys it may have; an arbor's parts and measurements come on top.
    pub fn keys(self) -> &'static [&'static str] {
        match self {
            Table::Sheet => &[
                "sheet",
                "name",
                "seen_from",
                "arbor",
                "mesh",
                "strike",
                "moment",
                "witness",
            ],
            Table::Arbor => &["runs"],
            Table::Part => &["teeth", "form"],
            Table::Mesh => &[
                "driver",
                "driven",
                "internal",
                "lash_teeth",
                "reached",
                "centre_mm",
            ],
            Table::Strike => &[
                "counted_by",
                "blows",
                "read_at",
                "blows_per_turn",
                "hold_deg",
            ],
            Table::Moment => &["id", "arbor", "says"],
            Table::Witness => &[
                "id",
                "says",
                "on",
                "repeats",
                "window_deg",
                "best_deg",
                "at",
                "slot_deg",
                "tip_deg",
                "arm_oclock",
            ],
        }
    }
}

/// What was found where something else was expected: the text as written, or the kind of a longer thing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Got {
    /// As written.
    Written(String),
    /// A text, without its quotes.
    Text(String),
    /// A list of so many.
    List(usize),
    /// A table.
    Table,
}

/// What was expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Expected {
    /// A text that is not empty.
    Text,
    /// `true` or `false`.
    YesNo,
    /// A table.
    Table,
    /// `[[…]]`, a list of tables.
    Tables,
    /// A whole number in a range.
    Count(Bounds),
    /// A whole number in a range, or a table with `teeth`.
    Part(Bounds),
    /// A decimal number.
    Number,
    /// A decimal number above zero.
    Positive,
    /// A number from 0 to 1.
    Lash,
    /// A hold from 0 to 90 degrees.
    Hold,
    /// From 0 to 12 hours.
    Oclock,
    /// Two decimal numbers.
    Pair,
    /// `ARBOR.PART`.
    ArborPart,
    /// A name: a letter, then letters, digits and underscores, 40 at most.
    Name,
    /// The version of the sheet's form.
    Version,
    /// One of a few words.
    OneOf(&'static [&'static str]),
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// More bytes than a sheet may have.
    TooLong {
        /// How many.
        got: usize,
        /// How many are read.
        most: usize,
    },
    /// Not UTF-8.
    NotUtf8 {
        /// The byte that is none.
        byte: u8,
    },
    /// The text is no TOML from here on; reading stops.
    Toml {
        /// What the TOML reader says.
        says: String,
    },
    /// A key or table was written twice.
    Doubled {
        /// Its name.
        key: String,
    },
    /// No such key or table.
    UnknownKey {
        /// What was written.
        got: String,
        /// The table it stands in.
        table: Table,
        /// What may have been meant.
        near: Option<&'static str>,
    },
    /// A key that must be there is not.
    Missing {
        /// The key.
        key: &'static str,
        /// The table it is missing from.
        table: Table,
    },
    /// Something else was expected here.
    Value {
        /// The key.
        key: String,
        /// What stands there.
        got: Got,
        /// What should.
        expected: Expected,
        /// What may have been meant.
        near: Option<String>,
    },
    /// The movement contradicts itself.
    Movement(movement::What),
}
