//! Looking for words in all that was ever entered.

use crate::store::as_number;
use crate::{Book, BookFault, Halt, JobId};
use entries::Log;
use rusqlite::{Connection, Transaction};

/// Where words were found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hit {
    /// The job.
    pub job: JobId,
    /// What it is called, as in the list.
    pub name: String,
    /// The number of the entry; 0 for the job's own name and the sheet that it began with.
    pub n: usize,
    /// Where the entry stands among all lines of the book.
    pub sequence: u64,
    /// All that the entry says.
    pub said: String,
}

/// A word from this many letters on is also found as the beginning of longer ones. Below it, nearly every word of the
/// book would be.
const BEGINNING: usize = 3;

impl Book {
    /// The entries in which all these words stand, in whatever order, the latest first. Capitals and accents make no
    /// difference. Words of at least three letters are found at the beginning of longer ones too. Without any word
    /// nothing is found.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn search(&self, words: &str, most: usize) -> Result<Vec<Hit>, BookFault> {
        let asked = asked(words);
        if asked.is_empty() {
            return Ok(Vec::new());
        }
        self.read(|store| {
            let mut found = store.prepare_cached(
                "SELECT line.job, coalesce(job.clock, job.name), line.n, line.sequence, words.said
                FROM words JOIN line ON line.sequence = words.rowid JOIN job ON job.id = line.job
                WHERE words MATCH ?1 ORDER BY words.rowid DESC LIMIT ?2",
            )?;
            let hits = found.query_map((asked, as_number(most)), |row| {
                Ok(Hit {
                    job: JobId(row.get(0)?),
                    name: row.get(1)?,
                    n: row.get(2)?,
                    sequence: row.get::<_, i64>(3)?.unsigned_abs(),
                    said: row.get(4)?,
                })
            })?;
            Ok(hits.collect::<Result<_, _>>()?)
        })
    }
}

/// The question in the store's own way of asking. Each word stands in quotation marks, so that nothing in it is an
/// operator; only letters and figures are left, so there are no quotation marks in it. Source: SQLite, "SQLite FTS5
/// Extension", section 3.1.
fn asked(words: &str) -> String {
    let words = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty());
    let quoted = words.map(|word| {
        let more = if word.chars().count() >= BEGINNING {
            "*"
        } else {
            ""
        };
        format!("\"{word}\"{more}")
    });
    quoted.collect::<Vec<_>>().join(" ")
}

/// What can be found by the line that a log begins with.
pub(crate) fn of_first(name: &str, sheet: &str, log: &Log) -> String {
    format!("{name} {} {sheet}", log.header().sheet)
}

/// Keeps the words of a line.
pub(crate) fn put(change: &Transaction<'_>, sequence: i64, said: &str) -> Result<(), Halt> {
    let mut insert = change.prepare_cached("INSERT INTO words (rowid, said) VALUES (?1, ?2)")?;
    insert.execute((sequence, said))?;
    Ok(())
}

/// Keeps other words of a line than before.
pub(crate) fn replace(store: &Connection, sequence: i64, said: &str) -> Result<(), Halt> {
    store.execute(
        "UPDATE words SET said = ?2 WHERE rowid = ?1",
        (sequence, said),
    )?;
    Ok(())
}
