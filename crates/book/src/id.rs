//! The number of a job.

use std::fmt;
use std::num::ParseIntError;
use std::str::FromStr;

/// The number of a job in its book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobId(pub(crate) i64);

impl fmt::Display for JobId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl FromStr for JobId {
    type Err = ParseIntError;

    /// Reads what [`Display`](fmt::Display) wrote; whether there is such a job only the book knows.
    fn from_str(text: &str) -> Result<JobId, ParseIntError> {
        text.parse().map(JobId)
    }
}
