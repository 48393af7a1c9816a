//! What can be wrong with a log, as data: where, what was got, what was expected. Words come later.

use std::fmt;

/// A place in a log's text. Lines and columns count from 1, columns in characters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LogPlace {
    /// The text as a whole.
    Text,
    /// A line as a whole.
    Line {
        /// The line.
        line: usize,
    },
    /// A point in a line.
    Column {
        /// The line.
        line: usize,
        /// The column.
        column: usize,
    },
    /// A field of a line, or of an object within it.
    Field {
        /// The line.
        line: usize,
        /// The column where its value begins; where the field is missing, that of the object that lacks it.
        column: usize,
        /// The field's name.
        field: String,
    },
}

/// Why a log is refused, or why an entry cannot be put into it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {what}")]
pub struct LogFault {
    /// Where.
    pub place: LogPlace,
    /// What.
    pub what: LogFaultKind,
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LogFaultKind {
    /// More than [`MOST_BYTES`](crate::MOST_BYTES).
    #[error("{bytes} bytes, more than the {} of a log", crate::MOST_BYTES)]
    TooLong {
        /// How many bytes it has, or would have with the entry.
        bytes: usize,
    },
    /// There is nothing in it.
    #[error("nothing in it")]
    Empty,
    /// It does not begin as a log does: this is some other text.
    #[error("no log: it does not begin as one")]
    NoHeader,
    /// It breaks off within its first line; nothing was ever entered.
    #[error("it breaks off within its first line")]
    HeaderTorn,
    /// A log of another version.
    #[error("a log of version {got}")]
    OtherVersion {
        /// Its version.
        got: u64,
    },
    /// Not UTF-8 from here on.
    #[error("not UTF-8")]
    NotUtf8,
    /// No JSON from here on.
    #[error("not JSON")]
    NotJson,
    /// A line with nothing on it.
    #[error("a blank line")]
    Blank,
    /// JSON, but no object in braces.
    #[error("not an object in braces")]
    NotAnObject,
    /// The field is not there.
    #[error("missing")]
    Missing,
    /// A reading says in none of the four ways where its witness stands: by number, look, teeth or clock face.
    #[error("a reading that does not say where its witness stands")]
    NotSeen,
    /// The field does not belong in an entry of this kind, or not beside the others that are there. It is refused
    /// because it might matter to a sum.
    #[error("a field that does not belong here")]
    Stray,
    /// The field is there twice in one object.
    #[error("a field that is there twice")]
    Doubled,
    /// The field has a value that it cannot have.
    #[error("got {got}, expected {expected}")]
    Wrong {
        /// The value as the line has it.
        got: String,
        /// What it should be.
        expected: ExpectedField,
    },
    /// The same witness twice in one look, or the same mesh twice in one shift.
    #[error("`{name}` is named twice")]
    Twice {
        /// The witness or mesh.
        name: String,
    },
    /// An entry's number is not the next one: lower where an entry is doubled or moved, higher where one is gone.
    #[error("entry number {got}, expected {expected}")]
    OutOfOrder {
        /// The number it has.
        got: u64,
        /// The number it should have.
        expected: usize,
    },
    /// Points at no entry that comes before it: at itself, at a later one or at none at all.
    #[error("entry {n} points at {of}, which does not come before it")]
    PointsNowhere {
        /// The number it points at.
        of: u64,
        /// Its own number.
        n: usize,
    },
    /// A correction is of another kind than what it corrects, or of a kind that is never put right but told anew.
    #[error("a correction of another kind than entry {of}, or of a kind that is never corrected")]
    NotCorrected {
        /// The number of the entry pointed at.
        of: usize,
    },
    /// A field that is said to have been removed is still there, was never there, or is none that can be emptied.
    #[error("`{field}` of entry {of} was not removed, or cannot be")]
    NotEmptied {
        /// The number of the entry that it is of.
        of: usize,
        /// The field.
        field: String,
    },
    /// What a removal emptied does not come back.
    #[error("removal {of} cannot be undone")]
    NotUndone {
        /// The number of the removal.
        of: usize,
    },
    /// What is said to have gone the other way is no shift.
    #[error("entry {of} is no shift")]
    NotAShift {
        /// The number of the entry pointed at.
        of: usize,
    },
    /// The mesh that is said to have gone the other way was not moved in that shift.
    #[error("mesh `{mesh}` was not moved in shift {of}")]
    NotInShift {
        /// The number of the shift.
        of: usize,
        /// The mesh.
        mesh: String,
    },
}

/// What a field should be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ExpectedField {
    /// Text.
    Text,
    /// A plain decimal in quotation marks, of at most sixty characters.
    Decimal,
    /// A plain decimal in quotation marks, more than 0.
    Spread,
    /// A place on a clock face in quotation marks, such as `7:30`.
    Oclock,
    /// A whole number from 0.
    Count,
    /// An hour from 1 to 12.
    Hour,
    /// Hours that were watched: a whole number above zero.
    Hours,
    /// A whole number of teeth other than 0, of 32 bits.
    Teeth,
    /// One of these words.
    OneOf(Vec<&'static str>),
    /// A day of the calendar in quotation marks, such as `2026-03-01`.
    Day,
    /// A picture's name, 64 small hexadecimal figures.
    Digest,
    /// A list of words with at least one in it.
    Names,
    /// A list of objects with at least one in it.
    List,
    /// An object in braces.
    Object,
}

/// What is odd about a log that was read all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LogWarning {
    /// The last line breaks off and was left out, as when power fails while it is written. Before anything is
    /// appended, the file must be cut to the bytes that were kept.
    TornLine {
        /// The line that was left out.
        line: usize,
        /// Bytes kept, from the beginning.
        kept: usize,
        /// Bytes left out after them.
        torn: usize,
    },
}

impl fmt::Display for LogPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogPlace::Text => write!(f, "log"),
            LogPlace::Line { line } => write!(f, "line {line}"),
            LogPlace::Column { line, column } => write!(f, "line {line}, column {column}"),
            LogPlace::Field {
                line,
                column,
                field,
            } => write!(f, "line {line}, column {column}, field `{field}`"),
        }
    }
}

impl fmt::Display for ExpectedField {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            ExpectedField::Text => "text",
            ExpectedField::Decimal => "a decimal in quotation marks",
            ExpectedField::Spread => "a decimal above 0 in quotation marks",
            ExpectedField::Oclock => "a place on a clock face in quotation marks",
            ExpectedField::Count => "a whole number from 0",
            ExpectedField::Hour => "an hour from 1 to 12",
            ExpectedField::Hours => "a whole number of hours from 1 to 65535",
            ExpectedField::Teeth => "a whole number of teeth other than 0",
            ExpectedField::OneOf(words) => return write!(f, "one of: {}", words.join(", ")),
            ExpectedField::Day => "a day in quotation marks",
            ExpectedField::Digest => "64 small hexadecimal figures",
            ExpectedField::Names => "a list of words",
            ExpectedField::List => "a list of objects",
            ExpectedField::Object => "an object in braces",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_says_its_place_and_its_values() {
        for (text, says) in [
            ("", "log: nothing in it"),
            ("{}", "line 1: no log: it does not begin as one"),
            (
                "{\"trundle_log\":1",
                "line 1: it breaks off within its first line",
            ),
            (
                "{\"trundle_log\":9}\n",
                "line 1, column 16, field `trundle_log`: a log of version 9",
            ),
        ] {
            let fault = crate::Log::read(text.as_bytes()).expect_err(text);
            let fault: Box<dyn std::error::Error> = Box::new(fault);
            assert_eq!(fault.to_string(), says);
        }
        let fault = LogFault {
            place: LogPlace::Column { line: 3, column: 7 },
            what: LogFaultKind::Wrong {
                got: "\"tenth\"".to_owned(),
                expected: ExpectedField::OneOf(vec!["going", "strike"]),
            },
        };
        let says = "line 3, column 7: got \"tenth\", expected one of: going, strike";
        assert_eq!(fault.to_string(), says);
    }
}
