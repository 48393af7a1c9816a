//! The bench book: jobs with their sheets and logs, in one embedded file.
//!
//! A [`Book`] holds jobs. Each has a name, the text of its sheet and the lines of its log; lines are only ever added, and
//! once [`Book::append`] has said so, no kill at any instant takes them back. Several books may be open on one file: who
//! appends without having seen what another wrote is refused as [`BookFault::Behind`]. This crate knows the form of a log
//! and nothing of what it means: it makes no sums and no sentences, reads no sheet and no clock.
//!
//! ```
//! use book::{Book, BookFault};
//! # let folder = tempfile::tempdir().unwrap();
//! # let path = folder.path().join("bench.book");
//! let book = Book::open(&path)?;
//! let log = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
//! let job = book.start("Quay Street", "the sheet", log)?;
//! book.append(job, 0, "{\"n\":1,\"kind\":\"struck\",\"hour\":4}\n")?;
//! assert_eq!(book.job(job)?.log.lines().count(), 2);
//! let late = book.append(job, 0, "{\"n\":1,\"kind\":\"struck\",\"hour\":5}\n");
//! assert_eq!(late, Err(BookFault::Behind { held: 1, believed: 0 }));
//! # Ok::<(), BookFault>(())
//! ```

mod fault;
mod store;

pub use fault::BookFault;

use entries::Log;
use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior};
use std::fmt;
use std::num::ParseIntError;
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::sync::{Mutex, PoisonError};
use std::time::Duration;
use store::as_number;

/// How long to wait while another program writes in the book. One entry takes some milliseconds, so five seconds are
/// hundreds of turns; whoever waits longer should be told.
pub const PATIENCE: Duration = Duration::from_secs(5);

/// The number of a job in its book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobId(i64);

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

/// A job, as it stands in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobLine {
    /// Its number.
    pub id: JobId,
    /// Its name.
    pub name: String,
    /// Where its last line stands among all lines of the book, in order of writing.
    pub last: u64,
}

/// All that is kept of one job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// Its name.
    pub name: String,
    /// Its sheet, as text.
    pub sheet: String,
    /// Its log, as JSON Lines text; each line has its end.
    pub log: String,
    /// How it is looked at, once that has been said.
    pub view: Option<View>,
}

/// How a job is looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct View {
    /// The plate it is seen from, as it was said.
    pub plate: String,
    /// Whether it lies upside down.
    pub upside_down: bool,
}

/// A bench book, open. It may be used from several threads, which take turns.
#[derive(Debug)]
pub struct Book {
    path: PathBuf,
    store: Mutex<Connection>,
}

impl Book {
    /// Opens the book at this path, and makes it and its folders where they are not there yet.
    ///
    /// # Errors
    /// Why it cannot be used. A file that is no book, one of a newer version and a damaged one are left as they are.
    pub fn open(path: &Path) -> Result<Book, BookFault> {
        // An absolute path is never one of the names that mean something else to the store.
        let path = std::path::absolute(path).map_err(|error| BookFault::CannotOpen {
            path: path.to_owned(),
            detail: error.to_string(),
        })?;
        let store = Mutex::new(store::open(&path)?);
        Ok(Book { path, store })
    }

    /// Puts a job into the book: its sheet, and its log with at least the line that a log begins with.
    ///
    /// # Errors
    /// The log cannot be read, or the book not be written.
    pub fn start(&self, name: &str, sheet: &str, log: &str) -> Result<JobId, BookFault> {
        readable(log)?;
        self.write(|change| {
            change.execute(
                "INSERT INTO job (name, sheet) VALUES (?1, ?2)",
                (name, sheet),
            )?;
            let id = JobId(change.last_insert_rowid());
            add(change, id, 0, log)?;
            Ok(id)
        })
    }

    /// The jobs, the one last worked on first: by the order of writing, not by any clock.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn jobs(&self) -> Result<Vec<JobLine>, BookFault> {
        self.read(|store| {
            // The last line of a job is also the latest.
            let mut found = store.prepare_cached(
                "SELECT id, name, (SELECT sequence FROM line WHERE job = job.id ORDER BY n DESC LIMIT 1) AS last
                FROM job ORDER BY last DESC",
            )?;
            let lines = found.query_map((), |row| {
                Ok(JobLine {
                    id: JobId(row.get(0)?),
                    name: row.get(1)?,
                    last: row.get::<_, i64>(2)?.unsigned_abs(),
                })
            })?;
            Ok(lines.collect::<Result<_, _>>()?)
        })
    }

    /// A job, with all that is kept of it.
    ///
    /// # Errors
    /// There is no such job, or the book cannot be read.
    pub fn job(&self, id: JobId) -> Result<Job, BookFault> {
        self.read(|store| {
            let mut found = store.prepare_cached(
                "SELECT name, sheet, plate, upside_down FROM job LEFT JOIN view ON view.job = id WHERE id = ?1",
            )?;
            let job = found.query_row([id.0], |row| {
                let plate: Option<String> = row.get(2)?;
                let upside_down: Option<bool> = row.get(3)?;
                Ok(Job {
                    name: row.get(0)?,
                    sheet: row.get(1)?,
                    log: String::new(),
                    view: plate
                        .zip(upside_down)
                        .map(|(plate, upside_down)| View { plate, upside_down }),
                })
            });
            let job = job.optional()?.ok_or(BookFault::NoSuchJob { id })?;
            let log = log(store, id)?;
            Ok(Job { log, ..job })
        })
    }

    /// Adds whole lines to a job's log, all of them or none. Once this has returned, they are kept.
    ///
    /// # Errors
    /// [`BookFault::Behind`] if the log does not hold just `entries_before` entries; that there is no such job, that the
    /// log could not be read again with these lines, or that the book cannot be written.
    pub fn append(&self, id: JobId, entries_before: usize, added: &str) -> Result<(), BookFault> {
        self.write(|change| {
            let mut log = log(change, id)?;
            let lines = log.lines().count();
            // The line that a log begins with is no entry.
            let held = lines.checked_sub(1).ok_or(BookFault::NoSuchJob { id })?;
            if held != entries_before {
                let believed = entries_before;
                return Err(BookFault::Behind { held, believed }.into());
            }
            log += added;
            readable(&log)?;
            add(change, id, lines, added)
        })
    }

    /// Keeps how a job is looked at, in place of what was kept of that before.
    ///
    /// # Errors
    /// There is no such job, or the book cannot be written.
    pub fn set_view(&self, id: JobId, plate: &str, upside_down: bool) -> Result<(), BookFault> {
        self.write(|change| {
            known(change, id)?;
            change.execute(
                "INSERT OR REPLACE INTO view (job, plate, upside_down) VALUES (?1, ?2, ?3)",
                (id.0, plate, upside_down),
            )?;
            Ok(())
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
            known(change, id)?;
            change.execute(
                "INSERT OR REPLACE INTO current (one, job) VALUES (1, ?1)",
                [id.0],
            )?;
            Ok(())
        })
    }

    /// Reads the book as it stands at one instant.
    fn read<T>(
        &self,
        what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
    ) -> Result<T, BookFault> {
        self.turn(TransactionBehavior::Deferred, what)
    }

    /// Writes all of it, or nothing.
    fn write<T>(
        &self,
        what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
    ) -> Result<T, BookFault> {
        self.turn(TransactionBehavior::Immediate, what)
    }

    fn turn<T>(
        &self,
        behavior: TransactionBehavior,
        what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
    ) -> Result<T, BookFault> {
        // Whoever panicked in the middle left a transaction that was rolled back.
        let mut store = self.store.lock().unwrap_or_else(PoisonError::into_inner);
        let turn = || {
            let change = store.transaction_with_behavior(behavior)?;
            let done = what(&change)?;
            change.commit()?;
            Ok(done)
        };
        turn().map_err(|halt| match halt {
            Halt::Refused(fault) => fault,
            Halt::Store(error) => BookFault::of(&self.path, &error),
        })
    }
}

/// Why a turn at the book ends without its work done.
enum Halt {
    Refused(BookFault),
    Store(rusqlite::Error),
}

impl From<BookFault> for Halt {
    fn from(fault: BookFault) -> Halt {
        Halt::Refused(fault)
    }
}

impl From<rusqlite::Error> for Halt {
    fn from(error: rusqlite::Error) -> Halt {
        Halt::Store(error)
    }
}

/// Sees that a log reads, and that its last line has its end.
fn readable(log: &str) -> Result<(), BookFault> {
    Log::read(log.as_bytes()).map_err(BookFault::Unreadable)?;
    if log.ends_with('\n') {
        Ok(())
    } else {
        Err(BookFault::Torn)
    }
}

/// Sees that there is such a job.
fn known(store: &Connection, id: JobId) -> Result<(), Halt> {
    let found = store.query_row("SELECT 1 FROM job WHERE id = ?1", [id.0], |_| Ok(()));
    Ok(found.optional()?.ok_or(BookFault::NoSuchJob { id })?)
}

/// A job's log as text; empty if there is no such job.
fn log(store: &Connection, id: JobId) -> Result<String, Halt> {
    let mut found = store.prepare_cached("SELECT text FROM line WHERE job = ?1 ORDER BY n")?;
    let mut lines = found.query([id.0])?;
    let mut log = String::new();
    while let Some(row) = lines.next()? {
        log += row.get_ref(0)?.as_str().map_err(rusqlite::Error::from)?;
        log.push('\n');
    }
    Ok(log)
}

/// Writes the lines of `text` behind a log that has `lines` of them.
fn add(change: &Transaction<'_>, id: JobId, lines: usize, text: &str) -> Result<(), Halt> {
    let mut insert =
        change.prepare_cached("INSERT INTO line (job, n, text) VALUES (?1, ?2, ?3)")?;
    for (n, line) in (lines..).zip(text.split_terminator('\n')) {
        insert.execute((id.0, as_number(n), line))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOG: &str = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";

    #[test]
    fn a_full_disk_is_told_and_nothing_kept_is_lost() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bench.book");
        let book = Book::open(&path).unwrap();
        let job = book.start("Quay Street", "sheet", LOG).unwrap();
        let most = |pages: i64| {
            let store = book.store.lock().unwrap();
            let set = store.pragma_update_and_check(None, "max_page_count", pages, |_| Ok(()));
            set.unwrap();
        };
        let pages = book
            .store
            .lock()
            .unwrap()
            .pragma_query_value(None, "page_count", |r| r.get(0));
        let pages: i64 = pages.unwrap();
        most(pages + 1);
        let line = |n: usize| {
            let at = "x".repeat(200);
            format!("{{\"n\":{n},\"at\":\"{at}\",\"kind\":\"struck\",\"hour\":4}}\n")
        };
        let mut kept = 0;
        let fault = loop {
            // Two lines at a time: neither goes in without the other.
            let two = line(kept + 1) + &line(kept + 2);
            match book.append(job, kept, &two) {
                Ok(()) => kept += 2,
                Err(fault) => break fault,
            }
            assert!(kept < 10_000, "it never fills");
        };
        assert!(
            matches!(&fault, BookFault::DiskFull { path: at, .. } if *at == path),
            "{fault:?}"
        );
        assert!(kept > 0);
        assert_eq!(book.job(job).unwrap().log.lines().count(), kept + 1);
        let large = "x".repeat(100_000);
        let fault = book.start("Wren Street", &large, LOG).unwrap_err();
        assert!(matches!(fault, BookFault::DiskFull { .. }), "{fault:?}");
        assert_eq!(book.jobs().unwrap().len(), 1);

        most(1_000_000);
        book.append(job, kept, &line(kept + 1)).unwrap();
        assert_eq!(book.job(job).unwrap().log.lines().count(), kept + 2);
    }
}
