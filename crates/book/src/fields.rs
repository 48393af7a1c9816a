//! Fields that a removal empties in a store, the book's or a backup's.

use crate::fault::BookFault;
use crate::id::JobId;
use crate::picture::PictureFormat;
use crate::turn::Halt;
use crate::{blobs, chain, lines, words};
use entries::{Digest, Emptied, EntryContent, EntryKind, Log, LogHeader, Work};
use rusqlite::{Connection, Transaction};
use std::collections::{BTreeMap, BTreeSet};

/// Fields of entries, by job.
pub type Places = BTreeMap<JobId, Vec<Emptied>>;

/// Which lines of a backup are those that are emptied in the book: one of another book, or of days that this one no longer has, may
/// have other lines in their places.
pub(crate) enum Same {
    /// All: it was made of this book since.
    All,
    /// Those that were found to say the same before anything was emptied.
    These(Marked),
}

/// What was found out of a backup before anything was emptied in the book.
#[derive(Default)]
pub(crate) struct Marked {
    /// The lines that say the same, by job and number.
    pub(crate) lines: BTreeSet<(i64, usize)>,
    /// Whether it has more lines of those jobs than the book.
    pub(crate) more: bool,
}

impl Same {
    /// Whether the backup has lines of those jobs that the book lacks.
    pub(crate) fn lacks_some(&self) -> bool {
        matches!(self, Same::These(marked) if marked.more)
    }

    fn has(&self, id: JobId, n: usize) -> bool {
        match self {
            Same::All => true,
            Same::These(marked) => marked.lines.contains(&(id.0, n)),
        }
    }
}

/// Of what is to be emptied in a job's log, what stands there in the very line that was emptied in the book; and whether there are
/// others in such places.
pub(crate) fn same_lines(
    log: &Log,
    id: JobId,
    fields: &[Emptied],
    same: &Same,
) -> (Vec<Emptied>, bool) {
    let mut holding = log.holding(fields);
    let all = holding.len();
    holding.retain(|emptied| same.has(id, emptied.of));
    let others = holding.len() < all;
    (holding, others)
}

/// What the removals come to that fit, of those after a place among all lines of the book.
pub(crate) fn removals(store: &Connection, fits: &str, after: u64) -> Result<Places, Halt> {
    let mut found = store.prepare(&format!(
        "SELECT job, n, line.text FROM removal JOIN line USING (sequence) WHERE {fits} AND sequence > ?1"
    ))?;
    let mut rows = found.query([after.cast_signed()])?;
    let mut wanted = Places::new();
    while let Some(row) = rows.next()? {
        let (id, n): (i64, usize) = (row.get(0)?, row.get(1)?);
        let log = lines::readable(&lines::log(store, JobId(id))?)?;
        let told = log.entries().get(n - 1).map(|entry| &entry.told);
        if let Some(EntryContent::Known(EntryKind::Work(Work::Removal { emptied }))) = told {
            let fields = wanted.entry(JobId(id)).or_default();
            fields.extend(emptied.iter().cloned());
        }
    }
    Ok(wanted)
}

/// Whether a removal is still to be carried through.
pub(crate) fn pending(store: &Connection) -> Result<bool, Halt> {
    let mut pending = store.prepare("SELECT 1 FROM removal WHERE swept = 0")?;
    Ok(pending.exists(())?)
}

/// Empties fields of a job's lines, and gives its log with the line that tells of it, which is not written yet, and the place
/// of the first line that was touched.
pub(crate) fn empty(
    change: &Transaction<'_>,
    id: JobId,
    fields: &[Emptied],
    at: Option<&str>,
) -> Result<(Log, i64), Halt> {
    let mut first = i64::MAX;
    let mut log = lines::readable(&lines::log(change, id)?)?;
    let removed = log.remove(fields, at).map_err(BookFault::Unreadable)?;
    for (n, line) in &removed.emptied {
        let sequence = write_over(change, id, *n, line)?;
        first = first.min(sequence);
        let entry = &log.entries()[n - 1];
        words::replace(change, sequence, &entry.words())?;
        if entry.work().and_then(Work::picture).is_none() {
            change.execute("DELETE FROM shown WHERE sequence = ?1", [sequence])?;
        }
    }
    let names = |emptied: &Emptied| emptied.fields.iter().any(|field| field == "clock");
    if fields.iter().any(names) {
        first = first.min(nameless(change, id, &log)?);
    }
    Ok((log, first))
}

/// Empties in a backup what is still to be emptied there: it may be older than the entries, or have been gone over before. Gives
/// whether other lines stand in some of their places: those are left alone.
pub(crate) fn empty_if_there(
    change: &Transaction<'_>,
    wanted: &Places,
    same: &Same,
    pictures: &[(Digest, PictureFormat)],
) -> Result<bool, Halt> {
    let was = chain::walk(change)?;
    let (mut first, mut others) = (i64::MAX, false);
    for (id, fields) in wanted {
        let text = lines::log(change, *id)?;
        if text.is_empty() {
            continue;
        }
        let log = lines::readable(&text)?;
        let (holding, not_the_same) = same_lines(&log, *id, fields, same);
        others |= not_the_same;
        if !holding.is_empty() {
            let (_, touched) = empty(change, *id, &holding, None)?;
            first = first.min(touched);
            // The backup does not tell of it: as it stood, the removal was still to come.
            let log = lines::readable(&lines::log(change, *id)?)?;
            lines::follow(change, *id, &log)?;
        }
    }
    for (digest, _) in pictures {
        if blobs::is_shown(change, digest)? {
            others = true;
        } else {
            blobs::forget(change, digest.text())?;
        }
    }
    if first < i64::MAX {
        chain::anew(change, first, &was)?;
    }
    Ok(others)
}

/// A job is named after the clock that came in, so with that name its own goes, and that of the sheet where it has none and was called
/// the same. Gives the place of its first line.
fn nameless(change: &Transaction<'_>, id: JobId, log: &Log) -> Result<i64, Halt> {
    let (sequence, name, sheet): (i64, String, String) = change.query_row(
        "SELECT sequence, name, sheet FROM line JOIN job ON job.id = line.job WHERE job = ?1 AND n = 0",
        [id.0],
        |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
    )?;
    change.execute("UPDATE job SET name = '' WHERE id = ?1", [id.0])?;
    let mut first = log.clone();
    if sheet.is_empty() && log.header().sheet == name {
        let hash = log.header().hash.clone();
        let sheet = String::new();
        first = Log::start(LogHeader { sheet, hash });
        write_over(change, id, 0, first.text().trim_end())?;
    }
    words::replace(change, sequence, &words::of_first("", &sheet, &first))?;
    Ok(sequence)
}

/// Writes over a line, which nothing else may, and gives its place among all lines of the book.
fn write_over(change: &Transaction<'_>, id: JobId, n: usize, line: &str) -> Result<i64, Halt> {
    let place = (id.0, n);
    change.execute("INSERT INTO emptying (job, n) VALUES (?1, ?2)", place)?;
    let sequence = change.query_row(
        "UPDATE line SET text = ?3 WHERE job = ?1 AND n = ?2 RETURNING sequence",
        (id.0, n, line),
        |row| row.get(0),
    )?;
    change.execute("DELETE FROM emptying WHERE job = ?1 AND n = ?2", place)?;
    Ok(sequence)
}
