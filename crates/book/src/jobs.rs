//! Jobs: begun, added to, listed, read. What a list shows of a job is kept beside its log, and follows from it.

use crate::aside::{self, Aside};
use crate::book::Book;
use crate::fault::BookFault;
use crate::id::JobId;
use crate::{chain, lines, turn, words};
use entries::Stage;
use rusqlite::{OptionalExtension, Row};

/// A job, as it stands in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobLine {
    /// Its number.
    pub id: JobId,
    /// What the clock is called: as it last came in, or else as the job was named when it was begun. Empty where that was
    /// removed.
    pub name: String,
    /// Where its last line stands among all lines of the book, in order of writing.
    pub last: u64,
    /// How many entries its log has.
    pub entries: usize,
    /// The stage it is at.
    pub stage: Stage,
    /// Whether the clock went home.
    pub handed_back: bool,
}

/// Which part of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Listing {
    /// Only what lies on the bench, not what went home.
    pub on_the_bench: bool,
    /// Only what comes after the line with this [`last`](JobLine::last).
    pub after: Option<u64>,
    /// So many at most.
    pub most: usize,
}

/// All that is kept of one job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// What it is called, as in the list.
    pub name: String,
    /// Its sheet as it is known now, as text.
    pub sheet: String,
    /// The sheet it began with, as text; empty where there was none.
    pub first_sheet: String,
    /// Its log, as JSON Lines text; each line has its end.
    pub log: String,
    /// How it is looked at, once that has been said.
    pub view: Option<JobView>,
}

/// How a job is looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobView {
    /// The plate it is seen from, as it was said.
    pub plate: String,
    /// Whether it lies upside down.
    pub upside_down: bool,
}

/// The columns of a job's line.
const LINE: &str = "SELECT id, coalesce(clock, name), last, entries, stage, home FROM job";

impl Book {
    /// Puts a job into the book: its sheet, and its log with at least the line that a log begins with. A job whose train
    /// was not counted yet has an empty sheet, and gets one by an entry.
    ///
    /// # Errors
    /// The log cannot be read, or the book not be written.
    pub fn start(&self, name: &str, sheet: &str, log: &str) -> Result<JobId, BookFault> {
        let read = lines::readable(log)?;
        let (id, sequence) = self.write(|change| {
            change.execute(
                "INSERT INTO job (name, sheet) VALUES (?1, ?2)",
                (name, sheet),
            )?;
            let id = JobId(change.last_insert_rowid());
            let first = log.split('\n').next().unwrap_or_default();
            let sequence = lines::insert(change, id, 0, first)?;
            words::put(change, sequence, &words::of_first(name, sheet, &read))?;
            chain::add(change, &[sequence])?;
            lines::add(change, id, &read, 0, log)?;
            Ok((id, sequence))
        })?;
        if sequence == 1 {
            // So that a copy of the file alone, however early, is never taken for a new book.
            let _ = self.rest();
        }
        self.coming.release_all_in(log);
        Ok(id)
    }

    /// The jobs, the one last worked on first: by the order of writing, not by any clock.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn jobs(&self) -> Result<Vec<JobLine>, BookFault> {
        self.read(|store| {
            let mut found = store.prepare_cached(&format!("{LINE} ORDER BY last DESC"))?;
            let lines = found.query_map((), job_line)?;
            Ok(lines.collect::<Result<_, _>>()?)
        })
    }

    /// A part of the list of jobs, in the same order.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn list(&self, which: Listing) -> Result<Vec<JobLine>, BookFault> {
        let bench = if which.on_the_bench {
            "home = 0 AND"
        } else {
            ""
        };
        let after = which.after.map_or(i64::MAX, u64::cast_signed);
        self.read(|store| {
            let mut found = store.prepare_cached(&format!(
                "{LINE} WHERE {bench} last < ?1 ORDER BY last DESC LIMIT ?2"
            ))?;
            let lines = found.query_map((after, turn::as_number(which.most)), job_line)?;
            Ok(lines.collect::<Result<_, _>>()?)
        })
    }

    /// The jobs that were begun before this one, the last first, so many at most: each with where its last line stands among
    /// all lines of the book. While that stays, so does its log.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn begun_before(&self, id: JobId, most: usize) -> Result<Vec<(JobId, u64)>, BookFault> {
        self.read(|store| {
            let mut found = store.prepare_cached(
                "SELECT id, last FROM job WHERE id < ?1 ORDER BY id DESC LIMIT ?2",
            )?;
            let jobs = found.query_map((id.0, turn::as_number(most)), |row| {
                Ok((JobId(row.get(0)?), row.get::<_, i64>(1)?.unsigned_abs()))
            })?;
            Ok(jobs.collect::<Result<_, _>>()?)
        })
    }

    /// The jobs that have just this sheet, the one last worked on first.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn jobs_with_sheet(&self, sheet: &str) -> Result<Vec<JobId>, BookFault> {
        self.read(|store| {
            let mut found = store.prepare_cached(
                "SELECT id FROM job WHERE coalesce(sheet_now, sheet) = ?1 ORDER BY last DESC",
            )?;
            let jobs = found.query_map([sheet], |row| Ok(JobId(row.get(0)?)))?;
            Ok(jobs.collect::<Result<_, _>>()?)
        })
    }

    /// A job, with all that is kept of it.
    ///
    /// # Errors
    /// There is no such job, or the book cannot be read.
    pub fn job(&self, id: JobId) -> Result<Job, BookFault> {
        self.read(|store| {
            let mut found = store.prepare_cached(
                "SELECT coalesce(clock, name), coalesce(sheet_now, sheet), plate, upside_down, sheet
                FROM job LEFT JOIN view ON view.job = id WHERE id = ?1",
            )?;
            let job = found.query_row([id.0], |row| {
                let plate: Option<String> = row.get(2)?;
                let upside_down: Option<bool> = row.get(3)?;
                Ok(Job {
                    name: row.get(0)?,
                    sheet: row.get(1)?,
                    first_sheet: row.get(4)?,
                    log: String::new(),
                    view: plate
                        .zip(upside_down)
                        .map(|(plate, upside_down)| JobView { plate, upside_down }),
                })
            });
            let job = job.optional()?.ok_or(BookFault::NoSuchJob { id })?;
            let log = lines::log(store, id)?;
            Ok(Job { log, ..job })
        })
    }

    /// Adds whole lines to a job's log, all of them or none. Once this has returned, they are kept.
    ///
    /// # Errors
    /// [`BookFault::Behind`] if the log does not hold just `entries_before` entries; that there is no such job or
    /// picture, that the log could not be read again with these lines, or that the book cannot be written. A picture
    /// that was kept for these lines is then for the caller to [let go](Book::let_go).
    pub fn append(&self, id: JobId, entries_before: usize, added: &str) -> Result<(), BookFault> {
        self.write(|change| {
            let text = lines::up_to_date(change, id, entries_before)? + added;
            let read = lines::readable(&text)?;
            lines::add(change, id, &read, entries_before, &text)
        })?;
        self.coming.release_all_in(added);
        Ok(())
    }

    /// Keeps how a job is looked at, in place of what was kept of that before.
    ///
    /// # Errors
    /// There is no such job, or the book cannot be written.
    pub fn set_view(&self, id: JobId, plate: &str, upside_down: bool) -> Result<(), BookFault> {
        self.write(|change| {
            lines::job_is_there(change, id)?;
            aside::change(change, Aside::View, &id.0, || {
                change.execute(
                    "INSERT OR REPLACE INTO view (job, plate, upside_down) VALUES (?1, ?2, ?3)",
                    (id.0, plate, upside_down),
                )?;
                Ok(())
            })
        })
    }

    /// The job that is being worked on, once that has been said.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn current(&self) -> Result<Option<JobId>, BookFault> {
        self.read(|store| {
            let found = store.query_row("SELECT job FROM current", (), |row| row.get(0));
            Ok(found.optional()?.map(JobId))
        })
    }

    /// Keeps which job is being worked on.
    ///
    /// # Errors
    /// There is no such job, or the book cannot be written.
    pub fn set_current(&self, id: JobId) -> Result<(), BookFault> {
        self.write(|change| {
            lines::job_is_there(change, id)?;
            aside::change(change, Aside::Current, &1, || {
                change.execute(
                    "INSERT OR REPLACE INTO current (one, job) VALUES (1, ?1)",
                    [id.0],
                )?;
                Ok(())
            })
        })
    }
}

fn job_line(row: &Row<'_>) -> rusqlite::Result<JobLine> {
    let stage: String = row.get(4)?;
    Ok(JobLine {
        id: JobId(row.get(0)?),
        name: row.get(1)?,
        last: row.get::<_, i64>(2)?.unsigned_abs(),
        entries: row.get(3)?,
        stage: Stage::of_word(&stage).unwrap_or(Stage::In),
        handed_back: row.get(5)?,
    })
}
