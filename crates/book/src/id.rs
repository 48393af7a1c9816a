//! The number of a job, and the place of an entry.

use std::fmt;
use std::num::ParseIntError;
use std::str::FromStr;

/// The number of a job in its book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobId(pub(crate) i64);

/// The place of an entry in its book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryPlace {
    /// Its job.
    pub job: JobId,
    /// Its number there, from 1; 0 is the line that the job's log begins with, with the job's name and its first sheet.
    pub n: usize,
}

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

impl fmt::Display for EntryPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.job, self.n)
    }
}

/// It is no place as `JOB:ENTRY`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("no place of an entry, such as 3:17")]
pub struct NoEntryPlace;

impl FromStr for EntryPlace {
    type Err = NoEntryPlace;

    /// Reads what [`Display`](fmt::Display) wrote; whether there is such an entry only the book knows.
    fn from_str(text: &str) -> Result<EntryPlace, NoEntryPlace> {
        let (job, n) = text.split_once(':').ok_or(NoEntryPlace)?;
        Ok(EntryPlace {
            job: job.parse().map_err(|_| NoEntryPlace)?,
            n: n.parse().map_err(|_| NoEntryPlace)?,
        })
    }
}
