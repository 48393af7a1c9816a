//! What can be wrong with a sheet, as data.

use crate::{Spot, keys};
use quantity::{Bounds, Exact, whole};

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
    /// `[[track]]`.
    Track,
    /// `[[pin]]`.
    Pin,
    /// `[[lever]]`.
    Lever,
    /// `[rack]`.
    Rack,
    /// `[chime]`.
    Chime,
    /// `[[pillar]]`.
    Pillar,
    /// `[[pivot]]`.
    Pivot,
    /// `[plates]`.
    Plates,
}

impl Table {
    /// The keys it may have; an arbor's parts and measurements of the writer's own come on top.
    pub fn keys(self) -> Vec<&'static str> {
        let here = keys::ROWS.iter().filter(|row| row.table == self);
        here.map(|row| row.key)
            .filter(|key| !key.starts_with("PART"))
            .collect()
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
    /// One of the things in a list.
    Nth {
        /// Which, from 1.
        nth: usize,
        /// Of how many.
        of: usize,
        /// What it is.
        got: Box<Got>,
    },
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
    /// Two decimal numbers, from and to.
    Pair,
    /// Two decimal numbers, to the right and up.
    Point,
    /// How a part is held, or a table of that by part.
    Held,
    /// A decimal number not below zero.
    NotNegative,
    /// A part of a tooth, from 0 to 1 and less than it.
    PartOfTooth,
    /// A list of decimal numbers, at least one.
    Numbers,
    /// A list of heights, parts of the whole above 0.
    Heights,
    /// A list of whole numbers in a range, at least one, and so many in all at most.
    Counts(Bounds),
    /// A list of pairs of a place and a height from 0 to 1.
    Outline,
    /// A minute of the hour.
    Minute,
    /// `ARBOR.PART`.
    ArborPart,
    /// A name: a letter, then letters, digits and underscores, 40 at most.
    Name,
    /// The version of the sheet's form.
    Version,
    /// One of a few words.
    OneOf(&'static [&'static str]),
}

impl Expected {
    /// Whether a number lies where it must, as far as this is about one number.
    pub fn admits(self, number: &Exact) -> bool {
        let from = |least: i64| *number >= whole(least);
        match self {
            Expected::Positive => *number > whole(0),
            Expected::NotNegative => from(0),
            Expected::Lash => from(0) && *number <= whole(1),
            Expected::Hold => from(0) && *number <= whole(90),
            Expected::Oclock => from(0) && *number <= whole(12),
            Expected::PartOfTooth => from(0) && *number < whole(1),
            Expected::Minute => from(0) && *number < whole(60),
            _ => true,
        }
    }
}

impl Expected {
    /// Whether a number, or several, stand there.
    pub(crate) fn is_of_numbers(self) -> bool {
        use Expected as E;
        !matches!(
            self,
            E::Text
                | E::YesNo
                | E::Table
                | E::Tables
                | E::Held
                | E::ArborPart
                | E::Name
                | E::OneOf(_)
        )
    }
}

/// A slip in how something is written, for which the right spelling is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slip {
    /// A comma where TOML wants a point.
    Comma,
    /// A minus that is no hyphen.
    Minus,
    /// A degree sign after a number.
    Degree,
    /// A unit after a number.
    Unit,
    /// A letter that looks like a figure.
    Letter,
    /// Quotes that are not straight.
    Quotes,
    /// A word without quotes.
    Unquoted,
    /// A quote that is opened and not closed, or closed and not opened.
    Unclosed,
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
    /// More keys in one table than any has; those after that many are not looked at.
    ManyKeys {
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
    /// Nothing stands in it.
    Empty,
    /// The text is no TOML from here on; reading stops.
    Toml {
        /// What the TOML reader says.
        says: String,
    },
    /// The text is no TOML from here on, for a slip whose right spelling is known; reading stops.
    Slip {
        /// The key it stands under.
        key: String,
        /// What was written.
        got: String,
        /// What the slip is.
        slip: Slip,
        /// What it should be.
        right: String,
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
    /// Of some keys exactly one must be there.
    NotOne {
        /// The keys.
        keys: &'static [&'static str],
        /// Those of them that are there.
        got: Vec<&'static str>,
        /// The table.
        table: Table,
    },
    /// A key that says nothing beside what else the table has.
    OutOfPlace {
        /// The key.
        key: &'static str,
        /// What else the table has.
        beside: &'static str,
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
