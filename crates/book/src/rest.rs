//! One file at rest: what is written beside the book is carried into it in quiet moments, and what lies beside a book and is
//! not its own is not read into it.

use crate::files::beside;
use crate::{Book, BookFault};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, OptionalExtension};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Changes beside the book that are carried into it without waiting for a quiet moment: more than a day's work writes.
const MOST_BESIDE: u64 = 4 << 20;

/// Bytes that the file of changes begins with before the first of them. Source: SQLite, "Database File Format", section 4.1.
const HEAD: u64 = 32;

/// The file of changes beside a book.
pub(crate) fn changes(book: &Path) -> PathBuf {
    beside(book, "-wal")
}

fn bytes(path: &Path) -> u64 {
    fs::metadata(path).map_or(0, |file| file.len())
}

/// Whether changes lie beside the book that the file itself may not hold.
pub(crate) fn any_changes(book: &Path) -> bool {
    bytes(&changes(book)) > HEAD
}

impl Book {
    /// Carries what was written beside the book into its file, so that the file by itself is the whole book. Gives whether
    /// it is: whoever reads meanwhile puts it off.
    ///
    /// # Errors
    /// The book is no longer what was opened, or cannot be written.
    pub fn rest(&self) -> Result<bool, BookFault> {
        self.tied.still(&self.path)?;
        if bytes(&changes(&self.path)) == 0 {
            return Ok(true);
        }
        let without_waiting = |store: &Connection| {
            store.busy_timeout(Duration::ZERO)?;
            let carried = carry(store);
            store.busy_timeout(crate::PATIENCE)?;
            carried
        };
        let whole = without_waiting(&self.store());
        let whole = whole.map_err(|error| BookFault::of(&self.path, &error))?;
        self.tied.still(&self.path)?;
        Ok(whole)
    }

    /// The same where much has gathered. What was written is written, whether it can be carried now or not.
    pub(crate) fn rest_if_much(&self) {
        if bytes(&changes(&self.path)) > MOST_BESIDE {
            let _ = self.rest();
        }
    }
}

/// Carries changes into the file, and leaves none beside it; gives whether that was done, or somebody still reads them.
pub(crate) fn carry(store: &Connection) -> rusqlite::Result<bool> {
    let busy: bool = store.query_row("PRAGMA wal_checkpoint(TRUNCATE)", (), |row| row.get(0))?;
    Ok(!busy)
}

/// Gives a book that stood whole a new mark, as the first of the changes that are begun beside it.
pub(crate) fn begin(change: &Connection, path: &Path) -> rusqlite::Result<()> {
    if bytes(&changes(path)) > HEAD {
        return Ok(());
    }
    change.execute(
        "UPDATE rest SET before = mark, mark = lower(hex(randomblob(16)))",
        (),
    )?;
    Ok(())
}

/// The mark of a book, and the one from before.
fn mark(store: &Connection) -> rusqlite::Result<Option<(String, String)>> {
    let there: i64 = store.query_row(
        "SELECT count(*) FROM sqlite_schema WHERE name = 'rest' AND type = 'table'",
        (),
        |row| row.get(0),
    )?;
    if there == 0 {
        return Ok(None);
    }
    let both = |row: &rusqlite::Row<'_>| Ok((row.get(0)?, row.get(1)?));
    store
        .query_row("SELECT before, mark FROM rest", (), both)
        .optional()
}

/// Sees that changes beside a book are its own; nothing of either is changed. Where neither tells, they are taken for its own.
pub(crate) fn its_own(path: &Path) -> Result<(), BookFault> {
    if !any_changes(path) {
        return Ok(());
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let together = Connection::open_with_flags(path, flags).and_then(|store| {
        // Going away, it leaves the changes where they are.
        store.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
        store.busy_timeout(crate::PATIENCE)?;
        mark(&store)
    });
    // By itself, as if nothing lay beside it: afterwards, since whoever works in it may carry the changes in meanwhile, which
    // gives it the mark that was just read.
    let alone = still(path).and_then(|store| mark(&store));
    match (alone, together) {
        (Ok(Some((_, alone))), Ok(Some((before, mark)))) if alone != mark && alone != before => {
            Err(BookFault::NotItsOwn {
                path: path.to_owned(),
                beside: changes(path),
            })
        }
        _ => Ok(()),
    }
}

/// A book's file by itself, which nobody writes meanwhile: nothing is read or made beside it.
pub(crate) fn still(path: &Path) -> rusqlite::Result<Connection> {
    let alone = format!("file:{}?immutable=1", encoded(path));
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_NO_MUTEX
        | OpenFlags::SQLITE_OPEN_URI;
    Connection::open_with_flags(alone, flags)
}

/// A path as an address names it.
fn encoded(path: &Path) -> String {
    let mut text = String::new();
    for byte in path.to_string_lossy().bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'.' | b'-' | b'_' => {
                text.push(char::from(byte));
            }
            _ => text.push_str(&format!("%{byte:02X}")),
        }
    }
    text
}
