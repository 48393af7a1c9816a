//! One file at rest: what is written beside the book is carried into it in quiet moments, and what lies beside a book and is
//! not its own is not read into it.

use crate::fault::BookFault;
use crate::turn::PATIENCE;
use crate::{ahead, files, form};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, OptionalExtension};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// Bytes that the file of changes begins with before the first of them. Source: SQLite, "Database File Format", section 4.1.
const HEAD: u64 = 32;

/// The file of changes beside a book.
pub(crate) fn changes(book: &Path) -> PathBuf {
    files::beside(book, "-wal")
}

/// How many bytes a file has; 0 where there is none.
pub(crate) fn bytes(path: &Path) -> u64 {
    fs::metadata(path).map_or(0, |file| file.len())
}

/// Whether changes lie beside the book that the file itself may not hold.
pub(crate) fn any_changes(book: &Path) -> bool {
    bytes(&changes(book)) > HEAD
}

/// Carries changes into the file, and leaves none beside it; gives whether that was done, or somebody still reads them.
pub(crate) fn carry(store: &Connection) -> rusqlite::Result<bool> {
    let busy: bool = store.query_row("PRAGMA wal_checkpoint(TRUNCATE)", (), |row| row.get(0))?;
    Ok(!busy)
}

/// Gives a book a new mark with each change, kept with the one before, and gives it: so the changes beside a file tell which
/// states it may be in, and no other file has a mark among theirs.
pub(crate) fn begin(change: &Connection) -> rusqlite::Result<Option<String>> {
    let mut give = change.prepare_cached(
        "UPDATE rest SET before = mark, mark = lower(hex(randomblob(16))) RETURNING mark",
    )?;
    give.query_row((), |row| row.get(0)).optional()
}

/// Gives a copy, whose pages lie otherwise than those of what it was made of, a mark of its own.
pub(crate) fn another(copy: &Path) -> rusqlite::Result<()> {
    let store = Connection::open_with_flags(copy, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    // It is put on the disk when it is whole.
    store.pragma_update(None, "synchronous", "OFF")?;
    store.execute(
        "UPDATE rest SET before = '', mark = lower(hex(randomblob(16)))",
        (),
    )?;
    Ok(())
}

/// The mark of a book, and the one from before.
fn mark(store: &Connection) -> rusqlite::Result<Option<(String, String)>> {
    let there = "SELECT 1 FROM sqlite_schema WHERE name = 'rest' AND type = 'table'";
    if store.query_row(there, (), |_| Ok(())).optional()?.is_none() {
        return Ok(None);
    }
    let both = |row: &rusqlite::Row<'_>| Ok((row.get(0)?, row.get(1)?));
    store
        .query_row("SELECT before, mark FROM rest", (), both)
        .optional()
}

/// The mark of a book as any program sees it now.
pub(crate) fn mark_now(store: &Connection) -> Option<String> {
    mark(store).ok().flatten().map(|(_, mark)| mark)
}

/// When a file was written last, and how many bytes it has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stamp(u64, Option<SystemTime>, (i64, i64));

/// The same, where there is a file. It is not opened: that would take the store's locks from it.
pub(crate) fn stamp(path: &Path) -> Option<Stamp> {
    let file = fs::metadata(path).ok()?;
    #[cfg(unix)]
    let changed = {
        use std::os::unix::fs::MetadataExt;
        (file.ctime(), file.ctime_nsec())
    };
    #[cfg(not(unix))]
    let changed = (0, 0);
    Some(Stamp(file.len(), file.modified().ok(), changed))
}

/// What the marks of a book's file and of the changes beside it tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Belongs {
    /// The file is in one of the states that the changes begin with or lead to; or nothing of them is committed.
    Together,
    /// It is in none of them.
    Apart,
    /// One of them has no mark.
    Untold,
}

/// Holds the mark of a book's file by itself against those of the changes beside it, and against another that it may have. Nothing
/// is touched.
pub(crate) fn belongs(path: &Path, known: Option<&str>) -> Belongs {
    let alone = || -> rusqlite::Result<_> {
        let store = still(path)?;
        let bytes: u32 = store.pragma_query_value(None, "page_size", |row| row.get(0))?;
        Ok((bytes, mark(&store)?))
    };
    let Ok((page_bytes, Some((_, mark)))) = alone() else {
        return Belongs::Untold;
    };
    if known == Some(&*mark) {
        return Belongs::Together;
    }
    let ahead = ahead::read(&changes(path)).unwrap_or_default();
    match () {
        () if !ahead.any && known.is_none() => Belongs::Together,
        () if !ahead.any => Belongs::Apart,
        () if ahead.page_bytes != page_bytes => Belongs::Apart,
        () if ahead.marks.is_empty() => Belongs::Untold,
        // A page that was being written when power failed may hold anything.
        () if !ahead::is_mark(&mark) => Belongs::Untold,
        () if ahead.marks.contains(&mark) => Belongs::Together,
        () => Belongs::Apart,
    }
}

/// While others work in the book, what is read of it and of its changes may be of two instants: it is looked at so often.
const LOOKS: usize = 50;
const BETWEEN_LOOKS: Duration = Duration::from_millis(20);

/// Whether the two are apart and stay so. Where they change all the time, somebody works in both.
pub(crate) fn apart(path: &Path, known: Option<&str>) -> bool {
    settled(path, known) == Belongs::Apart
}

fn settled(path: &Path, known: Option<&str>) -> Belongs {
    let mut before = None;
    for _ in 0..LOOKS {
        let now = (stamp(path), stamp(&changes(path)));
        if before == Some(now) {
            return Belongs::Apart;
        }
        match belongs(path, known) {
            Belongs::Apart => before = Some(now),
            told => return told,
        }
        std::thread::sleep(BETWEEN_LOOKS);
    }
    Belongs::Together
}

/// Sees that what the store keeps beside a book are plain files, or not there: whoever opens a pipe waits for ever.
pub(crate) fn plain_beside(path: &Path) -> Result<(), BookFault> {
    let beside = ["-wal", "-shm", "-journal"].map(|end| files::beside(path, end));
    let odd = |what: &PathBuf| fs::metadata(what).is_ok_and(|there| !there.is_file());
    match beside.into_iter().find(odd) {
        None => Ok(()),
        Some(what) => Err(BookFault::NoPlainFile {
            path: path.to_owned(),
            what,
        }),
    }
}

/// Sees that changes beside a book are its own; nothing of either is changed. Where their marks do not tell, they are its own unless
/// they spoil it.
pub(crate) fn its_own(path: &Path) -> Result<(), BookFault> {
    if !any_changes(path) {
        return Ok(());
    }
    let own = match settled(path, None) {
        Belongs::Together => true,
        Belongs::Apart => false,
        Belongs::Untold => !spoil(path),
    };
    own.then_some(()).ok_or_else(|| not_its_own(path))
}

pub(crate) fn not_its_own(path: &Path) -> BookFault {
    BookFault::NotItsOwn {
        path: path.to_owned(),
        beside: changes(path),
    }
}

/// Whether a book is sound by itself, and no longer with what lies beside it. Nothing of either is changed.
pub(crate) fn spoil(path: &Path) -> bool {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let together = Connection::open_with_flags(path, flags).and_then(|store| {
        leave_changes(&store)?;
        store.busy_timeout(PATIENCE)?;
        Ok(store)
    });
    let whole = |store: &Connection| -> Result<(), BookFault> {
        let look = store.unchecked_transaction();
        let look = look.map_err(|error| BookFault::of(path, &error))?;
        form::whole(&look, path)
    };
    let Ok(together) = together else {
        return false;
    };
    matches!(
        whole(&together),
        Err(BookFault::Damaged { .. } | BookFault::NotABook { .. })
    ) && still(path).is_ok_and(|alone| whole(&alone).is_ok())
}

/// Going away, this way to the store leaves the changes where they are.
pub(crate) fn leave_changes(store: &Connection) -> rusqlite::Result<()> {
    let set = store.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true);
    set.map(drop)
}

/// Going away, it carries them into the file if nobody else works in it.
pub(crate) fn take_changes_along(store: &Connection) -> rusqlite::Result<()> {
    let set = store.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false);
    set.map(drop)
}

/// A book's file by itself, which nobody writes meanwhile: nothing is read or made beside it.
pub(crate) fn still(path: &Path) -> rusqlite::Result<Connection> {
    // Whoever opens a pipe waits for ever.
    if fs::metadata(path).is_ok_and(|there| !there.is_file()) {
        return Err(rusqlite::Error::InvalidPath(path.to_owned()));
    }
    let alone = format!("file:{}?immutable=1", encoded(path));
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_NO_MUTEX
        | OpenFlags::SQLITE_OPEN_URI;
    Connection::open_with_flags(alone, flags)
}

/// What of a path is coded where an address names it.
const CODED: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'/')
    .remove(b'.')
    .remove(b'-')
    .remove(b'_');

/// A path as an address names it.
fn encoded(path: &Path) -> String {
    utf8_percent_encode(&path.to_string_lossy(), CODED).to_string()
}
