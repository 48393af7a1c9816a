//! Jobs: begun, added to, listed, read. What a list shows of a job is kept beside its log, and follows from it.

use crate::aside::{self, Aside};
use crate::store::as_number;
use crate::{Book, BookFault, Halt, JobId, blobs, chain, known, search};
use entries::{Entry, Log, Stage, Work};
use rusqlite::{Connection, OptionalExtension, Row, Transaction};

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

/// The columns of a job's line.
const LINE: &str = "SELECT id, coalesce(clock, name), last, entries, stage, home FROM job";

impl Book {
    /// Puts a job into the book: its sheet, and its log with at least the line that a log begins with. A job whose train
    /// was not counted yet has an empty sheet, and gets one by an entry.
    ///
    /// # Errors
    /// The log cannot be read, or the book not be written.
    pub fn start(&self, name: &str, sheet: &str, log: &str) -> Result<JobId, BookFault> {
        let read = readable(log)?;
        let (id, sequence) = self.write(|change| {
            change.execute(
                "INSERT INTO job (name, sheet) VALUES (?1, ?2)",
                (name, sheet),
            )?;
            let id = JobId(change.last_insert_rowid());
            let first = log.split('\n').next().unwrap_or_default();
            let sequence = insert(change, id, 0, first)?;
            search::put(change, sequence, &search::of_first(name, sheet, &read))?;
            chain::add(change, &[sequence])?;
            add(change, id, &read, 0, log)?;
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
            let lines = found.query_map((after, as_number(which.most)), job_line)?;
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
            let jobs = found.query_map((id.0, as_number(most)), |row| {
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
    /// [`BookFault::Behind`] if the log does not hold just `entries_before` entries; that there is no such job or
    /// picture, that the log could not be read again with these lines, or that the book cannot be written. A picture
    /// that was kept for these lines is then for the caller to [let go](Book::let_go).
    pub fn append(&self, id: JobId, entries_before: usize, added: &str) -> Result<(), BookFault> {
        self.write(|change| {
            let text = up_to_date(change, id, entries_before)? + added;
            let read = readable(&text)?;
            add(change, id, &read, entries_before, &text)
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
            known(change, id)?;
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
            known(change, id)?;
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

/// Reads a log, and sees that its last line has its end.
pub(crate) fn readable(log: &str) -> Result<Log, BookFault> {
    let (read, _) = Log::read(log.as_bytes()).map_err(BookFault::Unreadable)?;
    if log.ends_with('\n') {
        Ok(read)
    } else {
        Err(BookFault::Torn)
    }
}

/// A job's log as text; empty if there is no such job.
pub(crate) fn log(store: &Connection, id: JobId) -> Result<String, Halt> {
    let mut found = store.prepare_cached("SELECT text FROM line WHERE job = ?1 ORDER BY n")?;
    let mut lines = found.query([id.0])?;
    let mut log = String::new();
    while let Some(row) = lines.next()? {
        log += row.get_ref(0)?.as_str().map_err(rusqlite::Error::from)?;
        log.push('\n');
    }
    Ok(log)
}

/// A job's log as text, if it holds as many entries as is believed.
pub(crate) fn up_to_date(store: &Connection, id: JobId, believed: usize) -> Result<String, Halt> {
    let log = log(store, id)?;
    // The line that a log begins with is no entry.
    let held = log.lines().count().checked_sub(1);
    let held = held.ok_or(BookFault::NoSuchJob { id })?;
    if held == believed {
        Ok(log)
    } else {
        Err(BookFault::Behind { held, believed }.into())
    }
}

/// Writes all entries of a log behind those that are written already, and what follows from all of them.
pub(crate) fn add(
    change: &Transaction<'_>,
    id: JobId,
    log: &Log,
    written: usize,
    text: &str,
) -> Result<(), Halt> {
    let further = &log.entries()[written..];
    // A line begins with the one that the log begins with.
    let lines = text.split_terminator('\n').skip(1 + written);
    let mut added = Vec::with_capacity(further.len());
    for (entry, line) in further.iter().zip(lines) {
        let sequence = insert(change, id, entry.n, line)?;
        index(change, sequence, entry)?;
        added.push(sequence);
    }
    chain::add(change, &added)?;
    follow(change, id, log)
}

/// Writes one line, and gives its place among all lines of the book.
pub(crate) fn insert(
    change: &Transaction<'_>,
    id: JobId,
    n: usize,
    line: &str,
) -> Result<i64, Halt> {
    let mut insert =
        change.prepare_cached("INSERT INTO line (job, n, text) VALUES (?1, ?2, ?3)")?;
    insert.execute((id.0, as_number(n), line))?;
    Ok(change.last_insert_rowid())
}

/// Keeps what follows from the line with this number: of the first, what can be found by it.
pub(crate) fn index_line(
    change: &Transaction<'_>,
    sequence: i64,
    n: usize,
    first: &str,
    log: &Log,
) -> Result<(), Halt> {
    match n.checked_sub(1) {
        None => search::put(change, sequence, first),
        Some(before) => index(change, sequence, &log.entries()[before]),
    }
}

/// Keeps the words of an entry, which picture it shows, and whether it is a removal; one that comes with its log was
/// carried through where it was entered.
fn index(change: &Transaction<'_>, sequence: i64, entry: &Entry) -> Result<(), Halt> {
    search::put(change, sequence, &entry.words())?;
    if let Some(digest) = entry.work().and_then(|work| work.picture()) {
        blobs::show(change, sequence, digest)?;
    }
    if let Some(Work::Removal { .. }) = entry.work() {
        let enter = "INSERT INTO removal (sequence, swept) VALUES (?1, 1)";
        change.execute(enter, [sequence])?;
    }
    Ok(())
}

/// Keeps what a list shows of a job.
pub(crate) fn follow(change: &Transaction<'_>, id: JobId, log: &Log) -> Result<(), Halt> {
    let mut update = change.prepare_cached(
        "UPDATE job SET last = (SELECT sequence FROM line WHERE job = ?1 ORDER BY n DESC LIMIT 1),
            entries = ?2, clock = ?3, stage = ?4, home = ?5, sheet_now = ?6
        WHERE id = ?1",
    )?;
    update.execute((
        id.0,
        as_number(log.entries().len()),
        log.clock(),
        log.stage().word(),
        log.handed_back(),
        log.sheet().map(|(_, text, _)| text),
    ))?;
    Ok(())
}
