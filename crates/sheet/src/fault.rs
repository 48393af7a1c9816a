//! What can be wrong with a sheet, as data.

use crate::Spot;
use quantity::{Bounds, Exact, whole};
use std::fmt;

/// At most so many faults are told at once.
pub const MOST_FAULTS: usize = 100;

/// A fault and where it stands.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {}, column {}: {what}", spot.line, spot.column)]
pub struct Fault {
    /// Where.
    pub spot: Spot,
    /// What.
    pub what: SheetFaultKind,
    /// Where the other one of a pair stands: the first of two that are doubled or contradict.
    pub first: Option<Spot>,
}

/// All faults of a sheet.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("faults in the sheet: {}{}", told.len() + more, first(told))]
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
        let more = faults.len().saturating_sub(MOST_FAULTS);
        faults.truncate(MOST_FAULTS);
        Faults { told: faults, more }
    }
}

/// A table of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetTable {
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
    /// `[[fixture]]`.
    Fixture,
    /// `[plates]`.
    Plates,
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
pub enum ExpectedValue {
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
    /// A list of names.
    Names,
    /// A list of keys of the same table.
    KeysBeside,
    /// A table of keys in degrees of the same table, each with a number above zero.
    Spreads,
    /// A table of measurements of the same table, each with a number above zero.
    MeasureSpreads,
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
    /// One of the kinds that a witness or a lever may be of, by the sheet's own words.
    Kind(&'static [&'static str]),
}

impl ExpectedValue {
    /// Whether a number lies where it must, as far as this is about one number.
    pub fn admits(self, number: &Exact) -> bool {
        let from = |least: i64| *number >= whole(least);
        match self {
            ExpectedValue::Positive => *number > whole(0),
            ExpectedValue::NotNegative => from(0),
            ExpectedValue::Lash => from(0) && *number <= whole(1),
            ExpectedValue::Hold => from(0) && *number <= whole(90),
            ExpectedValue::Oclock => from(0) && *number <= whole(12),
            ExpectedValue::PartOfTooth => from(0) && *number < whole(1),
            ExpectedValue::Minute => from(0) && *number < whole(60),
            _ => true,
        }
    }
}

impl ExpectedValue {
    /// Whether a number, or several, stand there.
    pub(crate) fn is_of_numbers(self) -> bool {
        use ExpectedValue as E;
        !matches!(
            self,
            E::Text
                | E::YesNo
                | E::Table
                | E::Tables
                | E::Held
                | E::Names
                | E::KeysBeside
                | E::Spreads
                | E::MeasureSpreads
                | E::ArborPart
                | E::Name
                | E::OneOf(_)
                | E::Kind(_)
        )
    }
}

/// A slip in how something is written, for which the right spelling is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpellingSlip {
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
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SheetFaultKind {
    /// More bytes than a sheet may have.
    #[error("{got} bytes, of which {most} are read")]
    TooLong {
        /// How many.
        got: usize,
        /// How many are read.
        most: usize,
    },
    /// More keys in one table than any has; those after that many are not looked at.
    #[error("{got} keys in one table, of which {most} are read")]
    ManyKeys {
        /// How many.
        got: usize,
        /// How many are read.
        most: usize,
    },
    /// Not UTF-8.
    #[error("not UTF-8: byte {byte:#04x}")]
    NotUtf8 {
        /// The byte that is none.
        byte: u8,
    },
    /// Nothing stands in it.
    #[error("nothing in it")]
    Empty,
    /// The text is no TOML from here on; reading stops.
    #[error("not TOML: {}", one_line(says))]
    Toml {
        /// What the TOML reader says.
        says: String,
    },
    /// The text is no TOML from here on, for a slip whose right spelling is known; reading stops.
    #[error("`{key}` is written `{got}`, expected `{right}`")]
    Slip {
        /// The key it stands under.
        key: String,
        /// What was written.
        got: String,
        /// What the slip is.
        slip: SpellingSlip,
        /// What it should be.
        right: String,
    },
    /// A key or table was written twice.
    #[error("`{key}` is written twice")]
    Doubled {
        /// Its name.
        key: String,
    },
    /// No such key or table.
    #[error("no key `{got}` in {table}{}", meant(*near))]
    UnknownKey {
        /// What was written.
        got: String,
        /// The table it stands in.
        table: SheetTable,
        /// What may have been meant.
        near: Option<&'static str>,
    },
    /// A key that must be there is not.
    #[error("no `{key}` in {table}")]
    Missing {
        /// The key.
        key: &'static str,
        /// The table it is missing from.
        table: SheetTable,
    },
    /// Of some keys exactly one must be there.
    #[error("{table} needs one of {}, and has {}", keys.join(", "), count(got))]
    NotOne {
        /// The keys.
        keys: &'static [&'static str],
        /// Those of them that are there.
        got: Vec<&'static str>,
        /// The table.
        table: SheetTable,
    },
    /// A key that says nothing beside what else the table has.
    #[error("`{key}` says nothing beside {beside}")]
    OutOfPlace {
        /// The key.
        key: &'static str,
        /// What else the table has.
        beside: &'static str,
    },
    /// Something else was expected here.
    #[error("`{key}` is {got}, expected {expected}{}", meant(near.as_deref()))]
    Value {
        /// The key.
        key: String,
        /// What stands there.
        got: Got,
        /// What should.
        expected: ExpectedValue,
        /// What may have been meant.
        near: Option<String>,
    },
    /// The movement contradicts itself.
    #[error(transparent)]
    Movement(movement::FlawKind),
}

/// The first fault, as the end of a line.
fn first(told: &[Fault]) -> String {
    told.first()
        .map_or_else(String::new, |fault| format!(", the first in {fault}"))
}

/// What may have been meant, as the end of a line.
fn meant(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!(", perhaps `{near}`"))
}

/// A text over several lines, on one.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Those that are there.
fn count(got: &[&str]) -> String {
    if got.is_empty() {
        "none".to_owned()
    } else {
        got.join(", ")
    }
}

impl fmt::Display for SheetTable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            SheetTable::Sheet => "the sheet",
            SheetTable::Arbor => "[arbor.ID]",
            SheetTable::Part => "a part",
            SheetTable::Mesh => "[[mesh]]",
            SheetTable::Strike => "[strike]",
            SheetTable::Moment => "[[moment]]",
            SheetTable::Witness => "[[witness]]",
            SheetTable::Track => "[[track]]",
            SheetTable::Pin => "[[pin]]",
            SheetTable::Lever => "[[lever]]",
            SheetTable::Rack => "[rack]",
            SheetTable::Chime => "[chime]",
            SheetTable::Pillar => "[[pillar]]",
            SheetTable::Pivot => "[[pivot]]",
            SheetTable::Fixture => "[[fixture]]",
            SheetTable::Plates => "[plates]",
        })
    }
}

impl fmt::Display for Got {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Got::Written(text) => f.write_str(&one_line(text)),
            Got::Text(text) => write!(f, "\"{}\"", one_line(text)),
            Got::List(long) => write!(f, "a list of {long}"),
            Got::Table => write!(f, "a table"),
            Got::Nth { nth, of, got } => write!(f, "{got} ({nth} of {of})"),
        }
    }
}

impl fmt::Display for ExpectedValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            ExpectedValue::Text => "a text that is not empty",
            ExpectedValue::YesNo => "true or false",
            ExpectedValue::Table => "a table",
            ExpectedValue::Tables => "a list of tables",
            ExpectedValue::Count(Bounds { least, most }) => {
                return write!(f, "a whole number from {least} to {most}");
            }
            ExpectedValue::Part(Bounds { least, most }) => {
                return write!(
                    f,
                    "a whole number from {least} to {most}, or a table with `teeth`"
                );
            }
            ExpectedValue::Number => "a decimal number",
            ExpectedValue::Positive => "a decimal number above 0",
            ExpectedValue::Lash => "a number from 0 to 1",
            ExpectedValue::Hold => "a number from 0 to 90",
            ExpectedValue::Oclock => "a number from 0 to 12",
            ExpectedValue::Pair => "two decimal numbers, from and to",
            ExpectedValue::Point => "two decimal numbers, to the right and up",
            ExpectedValue::Held => "how a part is held, or a table of that by part",
            ExpectedValue::Names => "a list of names",
            ExpectedValue::KeysBeside => "a list of keys that stand beside it",
            ExpectedValue::Spreads => {
                "a table of keys in degrees that stand beside it, each with a number above 0"
            }
            ExpectedValue::MeasureSpreads => {
                "a table of measurements that stand beside it, each with a number above 0"
            }
            ExpectedValue::NotNegative => "a decimal number from 0",
            ExpectedValue::PartOfTooth => "a number from 0 to below 1",
            ExpectedValue::Numbers => "a list of decimal numbers",
            ExpectedValue::Heights => "a list of heights above 0",
            ExpectedValue::Counts(Bounds { least, most }) => {
                return write!(f, "a list of whole numbers from {least} to {most}");
            }
            ExpectedValue::Outline => "a list of pairs of a place and a height from 0 to 1",
            ExpectedValue::Minute => "a number from 0 to below 60",
            ExpectedValue::ArborPart => "ARBOR.PART",
            ExpectedValue::Name => "a name of letters, digits and underscores",
            ExpectedValue::Version => "the version of the sheet's form",
            ExpectedValue::OneOf(words) | ExpectedValue::Kind(words) => {
                return write!(f, "one of: {}", words.join(", "));
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::error::Error;

    /// A fault with all that lies behind it, as whoever builds on this crate sees it.
    fn chain(fault: &dyn Error) -> String {
        let behind = fault.source().map(chain);
        behind.map_or_else(|| fault.to_string(), |behind| format!("{fault}: {behind}"))
    }

    #[test]
    fn a_sheet_says_its_faults_each_on_a_line() {
        let sheet = "sheet = 1\nname = [\n\"a\"]\nseen_from = \"font\"\n[arbor.first]\nwheel = 2\n[[mesh]]\ndriver = \"first.wheel\"\n";
        let faults = crate::read(sheet.as_bytes()).expect_err("faults");
        let lines: Vec<String> = faults.told.iter().map(|fault| chain(fault)).collect();
        assert_eq!(
            lines,
            [
                "line 2, column 8: `name` is a list of 1, expected a text that is not empty",
                "line 4, column 13: `seen_from` is \"font\", expected one of: front, back, perhaps `front`",
                "line 6, column 9: `wheel` is 2, expected a whole number from 4 to 1000, or a table with `teeth`",
                "line 7, column 1: no `driven` in [[mesh]]",
            ]
        );
        assert_eq!(
            chain(&faults),
            format!("faults in the sheet: 4, the first in {}", lines[0])
        );
        let fault = crate::read(b"name = \xff").expect_err("no text");
        assert_eq!(
            chain(&fault),
            "faults in the sheet: 1, the first in line 1, column 8: not UTF-8: byte 0xff"
        );
        let fault = crate::read(b"name = \"a\nb").expect_err("no TOML");
        assert!(!chain(&fault).contains('\n'), "{fault}");
        let got = Got::Nth {
            nth: 2,
            of: 3,
            got: Box::new(Got::Written("[\n 1,\n 2 ]".to_owned())),
        };
        assert_eq!(got.to_string(), "[ 1, 2 ] (2 of 3)");
    }
}
