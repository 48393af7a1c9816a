//! Looking for words in all that was ever entered.

use crate::book::Book;
use crate::fault::BookFault;
use crate::id::{EntryPlace, JobId};
use crate::{kin, turn};
use rusqlite::Row;

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
    /// What it is.
    pub what: FoundIn,
}

/// What words were found in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FoundIn {
    /// In what somebody wrote.
    Entry,
    /// On a sheet as it is known now, or in the name that the job began with.
    Sheet,
    /// On a sheet that another has taken the place of.
    OldSheet,
}

/// A word from this many letters on is also found as the beginning of longer ones. Below it, nearly every word of the
/// book would be.
const BEGINNING: usize = 3;

/// What every hit is read by. What somebody wrote stands on no line that brings a sheet.
const HIT: &str = "SELECT line.job, coalesce(job.clock, job.name), line.n, line.sequence, words.said
    FROM words JOIN line ON line.sequence = words.rowid JOIN job ON job.id = line.job WHERE words MATCH ?1";
const BRINGS_A_SHEET: &str =
    "(line.n = 0 OR coalesce(json_extract(line.text, '$.kind'), '') = 'sheet')";
const SUPERSEDED: &str =
    "CASE line.n WHEN 0 THEN job.sheet_now IS NOT NULL ELSE words.said IS NOT job.sheet_now END";

impl Book {
    /// The entries in which all these words stand, in whatever order: first what people wrote, the latest first; then the
    /// sheets as they are known now; then those that others have taken the place of. Capitals and accents make no
    /// difference, nor do the endings of English words (Porter's stems: bush, bushing; oil, oiled), nor which side of the
    /// water a thing is named on. Words of at least three letters are found at the beginning of longer ones too. Without
    /// any word nothing is found.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn search(&self, words: &str, most: usize) -> Result<Vec<Hit>, BookFault> {
        let asked = match_expression(words);
        if asked.is_empty() {
            return Ok(Vec::new());
        }
        self.read(|store| {
            let mut all = Vec::new();
            for (which, what) in [
                (format!("NOT {BRINGS_A_SHEET}"), FoundIn::Entry),
                (
                    format!("{BRINGS_A_SHEET} AND NOT {SUPERSEDED}"),
                    FoundIn::Sheet,
                ),
                (
                    format!("{BRINGS_A_SHEET} AND {SUPERSEDED}"),
                    FoundIn::OldSheet,
                ),
            ] {
                let left = most - all.len();
                let sql = format!("{HIT} AND {which} ORDER BY words.rowid DESC LIMIT ?2");
                let mut found = store.prepare_cached(&sql)?;
                let hits =
                    found.query_map((&asked, turn::as_number(left)), |row| hit(row, what))?;
                all.extend(hits.collect::<Result<Vec<_>, _>>()?);
            }
            Ok(all)
        })
    }

    /// The lines in whose words something is that fits, in order of jobs and numbers. All of the book is gone over; others may read and write meanwhile.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn lines_that(&self, fit: impl Fn(&str) -> bool) -> Result<Vec<EntryPlace>, BookFault> {
        let told = |error: rusqlite::Error| BookFault::of(&self.path, &error);
        let all = || -> rusqlite::Result<Vec<EntryPlace>> {
            let store = self.apart()?;
            let mut found = store.prepare(
                "SELECT job, n, said FROM line JOIN words ON words.rowid = sequence ORDER BY job, n",
            )?;
            let mut rows = found.query(())?;
            let mut lines = Vec::new();
            while let Some(row) = rows.next()? {
                if fit(row.get_ref(2)?.as_str()?) {
                    lines.push(EntryPlace {
                        job: JobId(row.get(0)?),
                        n: row.get(1)?,
                    });
                }
            }
            Ok(lines)
        };
        all().map_err(told)
    }
}

fn hit(row: &Row<'_>, what: FoundIn) -> rusqlite::Result<Hit> {
    Ok(Hit {
        job: JobId(row.get(0)?),
        name: row.get(1)?,
        n: row.get(2)?,
        sequence: row.get::<_, i64>(3)?.unsigned_abs(),
        said: row.get(4)?,
        what,
    })
}

/// The question in the store's own way of asking. Each word stands in quotation marks, so that nothing in it is an
/// operator; only letters and figures are left, so there are no quotation marks in it. Source: SQLite, "SQLite FTS5
/// Extension", section 3.1.
fn match_expression(words: &str) -> String {
    let words: Vec<String> = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    let quoted = |name: &String| {
        let more = if name.chars().count() >= BEGINNING {
            "*"
        } else {
            ""
        };
        format!("\"{name}\"{more}")
    };
    let any = kin::sought(&words).into_iter().map(|names| {
        let names: Vec<String> = names.iter().map(quoted).collect();
        format!("({})", names.join(" OR "))
    });
    any.collect::<Vec<_>>().join(" AND ")
}
