//! The lines of jobs' logs in a store, and what follows from them: what a list shows, and what can be found.

use crate::fault::BookFault;
use crate::id::JobId;
use crate::turn::{self, Halt};
use crate::{blobs, chain, words};
use entries::{Entry, Log, Work};
use rusqlite::{Connection, OptionalExtension, Transaction};

/// Sees that there is such a job.
pub(crate) fn job_is_there(store: &Connection, id: JobId) -> Result<(), Halt> {
    let found = store.query_row("SELECT 1 FROM job WHERE id = ?1", [id.0], |_| Ok(()));
    Ok(found.optional()?.ok_or(BookFault::NoSuchJob { id })?)
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
    insert.execute((id.0, turn::as_number(n), line))?;
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
        None => words::put(change, sequence, first),
        Some(before) => index(change, sequence, &log.entries()[before]),
    }
}

/// Keeps the words of an entry, which picture it shows, and whether it is a removal; one that comes with its log was
/// carried through where it was entered.
fn index(change: &Transaction<'_>, sequence: i64, entry: &Entry) -> Result<(), Halt> {
    words::put(change, sequence, &entry.words())?;
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
        turn::as_number(log.entries().len()),
        log.clock(),
        log.stage().word(),
        log.handed_back(),
        log.sheet().map(|sheet| sheet.text),
    ))?;
    Ok(())
}

/// The place of the last line in a book; 0 where there is none.
pub(crate) fn last(store: &Connection) -> rusqlite::Result<u64> {
    let last: Option<i64> =
        store.query_row("SELECT max(sequence) FROM line", (), |row| row.get(0))?;
    Ok(last.unwrap_or(0).unsigned_abs())
}
