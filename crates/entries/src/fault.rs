//! What can be wrong with a log, as data: where, what was got, what was expected. Words come later.

/// A place in a log's text. Lines and columns count from 1, columns in characters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
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
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogFault {
    /// Where.
    pub place: Place,
    /// What.
    pub what: What,
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// More than [`MOST_BYTES`](crate::MOST_BYTES).
    TooLong {
        /// How many bytes it has, or would have with the entry.
        bytes: usize,
    },
    /// There is nothing in it.
    Empty,
    /// It does not begin as a log does: this is some other text.
    NoHeader,
    /// It breaks off within its first line; nothing was ever entered.
    HeaderTorn,
    /// A log of another version.
    OtherVersion {
        /// Its version.
        got: u64,
    },
    /// Not UTF-8 from here on.
    NotUtf8,
    /// No JSON from here on.
    NotJson,
    /// A line with nothing on it.
    Blank,
    /// JSON, but no object in braces.
    NotAnObject,
    /// The field is not there.
    Missing,
    /// A reading says in none of the four ways where its witness stands: by number, look, teeth or clock face.
    NotSeen,
    /// The field does not belong in an entry of this kind, or not beside the others that are there. It is refused
    /// because it might matter to a sum.
    Stray,
    /// The field is there twice in one object.
    Doubled,
    /// The field has a value that it cannot have.
    Wrong {
        /// The value as the line has it.
        got: String,
        /// What it should be.
        expected: Expected,
    },
    /// The same witness twice in one look, or the same mesh twice in one shift.
    Twice {
        /// The witness or mesh.
        name: String,
    },
    /// An entry's number is not the next one: lower where an entry is doubled or moved, higher where one is gone.
    OutOfOrder {
        /// The number it has.
        got: u64,
        /// The number it should have.
        expected: usize,
    },
    /// Points at no entry that comes before it: at itself, at a later one or at none at all.
    PointsNowhere {
        /// The number it points at.
        of: u64,
        /// Its own number.
        n: usize,
    },
    /// A correction is of another kind than what it corrects, or of a kind that is never put right but told anew.
    NotCorrected {
        /// The number of the entry pointed at.
        of: usize,
    },
    /// A field that is said to have been removed is still there, was never there, or is none that can be emptied.
    NotEmptied {
        /// The number of the entry that it is of.
        of: usize,
        /// The field.
        field: String,
    },
    /// What a removal emptied does not come back.
    NotUndone {
        /// The number of the removal.
        of: usize,
    },
    /// What is said to have gone the other way is no shift.
    NotAShift {
        /// The number of the entry pointed at.
        of: usize,
    },
    /// The mesh that is said to have gone the other way was not moved in that shift.
    NotInShift {
        /// The number of the shift.
        of: usize,
        /// The mesh.
        mesh: String,
    },
}

/// What a field should be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Expected {
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
pub enum Warning {
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
