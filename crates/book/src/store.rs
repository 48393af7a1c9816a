//! Opening the file, once it is plain whose it is and that it is sound (`form`), and bringing its form up to date.

use crate::aside::{self, Aside};
use crate::fault::BookFault;
use crate::files::{self, Syncing};
use crate::form::{self, CHAINED, INDEXED, MARK, MIGRATIONS};
use crate::id::JobId;
use crate::turn::{self, Halt, PATIENCE};
use crate::{backups, blobs, chain, lines, placing, rest, words};
use rusqlite::{
    Connection, Error, ErrorCode, MAIN_DB, OpenFlags, Transaction, TransactionBehavior,
};
use std::fs::File;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// How the book's file is read.
#[derive(Debug)]
pub(crate) enum Way {
    /// It is written too.
    Writing,
    /// Together with what others write beside it.
    Together,
    /// By itself; nobody writes it.
    Still,
    /// As a copy, in a folder that goes when the book is closed.
    Copy {
        /// The folder.
        held: tempfile::TempDir,
        /// The copy.
        book: PathBuf,
    },
}

/// What a file of this store begins with has this many bytes. Source: SQLite, "Database File Format", section 1.3.
const HEADER_BYTES: u64 = 100;

/// Opens the book at an absolute path, or makes it.
pub(crate) fn open(path: &Path, syncing: Syncing) -> Result<Connection, BookFault> {
    make_room(path, syncing)?;
    rest::its_own(path)?;
    let fault = |error: Error| BookFault::of(path, &error);
    // Neither shared between threads (the book has its own lock) nor given an address to understand instead of a path.
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut store =
        Connection::open_with_flags(path, flags).map_err(|error| unopened(path, &error))?;
    if store.is_readonly(MAIN_DB).map_err(fault)? {
        let path = path.to_owned();
        let detail = "opened for reading only".into();
        return Err(BookFault::ReadOnly { path, detail });
    }
    store.busy_timeout(PATIENCE).map_err(fault)?;
    // Nothing is written before it is plain that the file is a book, is known and is sound; not by going away either.
    if rest::any_changes(path) {
        rest::leave_changes(&store).map_err(fault)?;
    }
    let look = store.unchecked_transaction().map_err(fault)?;
    let from = form::sound(&look, path).map_err(|wrong| match wrong {
        BookFault::Damaged { .. } if rest::any_changes(path) && rest::spoil(path) => {
            rest::not_its_own(path)
        }
        wrong => wrong,
    })?;
    drop(look);
    store
        .pragma_update(None, "foreign_keys", true)
        .map_err(fault)?;
    // With the log of changes written beside the file, whoever reads need not wait for whoever writes; with FULL, each
    // change is on the disk before it is acknowledged.
    let synchronous = match syncing {
        Syncing::Each => "FULL",
        Syncing::Never => "OFF",
    };
    store
        .pragma_update(None, "synchronous", synchronous)
        .map_err(fault)?;
    // What is struck out is written over.
    store
        .pragma_update(None, "secure_delete", true)
        .map_err(fault)?;
    if from == 0 {
        // A new one is made in its own file, all at once, and is there before anything is written beside it.
        migrate(&mut store, path)?;
        if let Some(folder) = path.parent() {
            // The store has the file on the disk, but not its name, nor that nothing of its making is left.
            files::sync_folder(folder, syncing).map_err(|error| BookFault::file(path, &error))?;
        }
    }
    write_ahead(&store).map_err(fault)?;
    // Changes are carried into the file in quiet moments (`rest`), not in the middle of whatever comes.
    store
        .pragma_update(None, "wal_autocheckpoint", 0)
        .map_err(fault)?;
    if (1..MIGRATIONS.len()).contains(&from) {
        migrate(&mut store, path)?;
    }
    Ok(store)
}

/// Opens the file only to read it, where nothing may be written beside it either, and gives a folder with a copy of it where it
/// can only be read as that: changes lie beside it, or it is of an earlier form.
pub(crate) fn open_to_read(path: &Path) -> Result<(Connection, Way), BookFault> {
    let fault = |error: Error| BookFault::of(path, &error);
    let there = std::fs::metadata(path).map_err(|error| BookFault::file(path, &error))?;
    let is_file = there.is_file();
    if there.is_dir() {
        let path = path.to_owned();
        return Err(BookFault::AFolder { path });
    }
    if !is_file || there.len() < HEADER_BYTES {
        let detail = if is_file {
            format!("{} bytes", there.len())
        } else {
            "no regular file".to_owned()
        };
        let (path, detail) = (path.to_owned(), detail.into());
        return Err(BookFault::NotABook { path, detail });
    }
    rest::plain_beside(path)?;
    rest::its_own(path)?;
    // Where somebody works in it, or did, it is read together with what lies beside it.
    let together = || -> Result<Connection, Error> {
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let store = Connection::open_with_flags(path, flags)?;
        store.busy_timeout(PATIENCE)?;
        store.query_row("SELECT count(*) FROM sqlite_schema", (), |_| Ok(()))?;
        Ok(store)
    };
    let beside = [rest::changes(path), files::beside(path, "-shm")];
    let alone = beside
        .iter()
        .all(|beside| std::fs::symlink_metadata(beside).is_err());
    let opened = if alone { None } else { together().ok() };
    let (store, way) = match opened {
        Some(store) => (store, Way::Together),
        None if rest::any_changes(path) => return copied(path),
        None => (rest::still(path).map_err(fault)?, Way::Still),
    };
    let look = store.unchecked_transaction().map_err(fault)?;
    let from = form::sound(&look, path)?;
    drop(look);
    if from < MIGRATIONS.len() {
        return copied(path);
    }
    Ok((store, way))
}

/// Opens a copy of a book and of the changes beside it.
fn copied(path: &Path) -> Result<(Connection, Way), BookFault> {
    let refused = |error: std::io::Error| BookFault::file(path, &error);
    let folder = tempfile::tempdir().map_err(refused)?;
    let copy = folder.path().join("book");
    std::fs::copy(path, &copy).map_err(refused)?;
    if rest::any_changes(path) {
        std::fs::copy(rest::changes(path), rest::changes(&copy)).map_err(refused)?;
    }
    // What may only be read stays so when it is copied.
    for file in [copy.clone(), rest::changes(&copy)] {
        if let Ok(there) = File::open(&file) {
            files::readable_by_all_who_may(&there).map_err(refused)?;
        }
    }
    let store = open(&copy, Syncing::Never)?;
    let way = Way::Copy {
        held: folder,
        book: copy,
    };
    Ok((store, way))
}

/// Makes the folder, and sees that nothing but a file stands in the book's place, and nothing of another where there is none.
fn make_room(path: &Path, syncing: Syncing) -> Result<(), BookFault> {
    if let Some(above) = path.parent() {
        files::folder(above, syncing).map_err(|error| BookFault::CannotCreateFolder {
            path: above.to_owned(),
            detail: (&error).into(),
        })?;
    }
    placing::finish(path)?;
    rest::plain_beside(path)?;
    let path = path.to_owned();
    match std::fs::metadata(&path) {
        Ok(there) if there.is_dir() => Err(BookFault::AFolder { path }),
        Ok(there) if !there.is_file() => {
            let detail = "no regular file".into();
            Err(BookFault::NotABook { path, detail })
        }
        // The store takes a file of one byte for an empty one.
        Ok(there) if (1..HEADER_BYTES).contains(&there.len()) => {
            let detail = format!("{} bytes", there.len()).into();
            Err(BookFault::NotABook { path, detail })
        }
        Ok(_) if files::has_other_names(&path) => Err(BookFault::OtherNames { path }),
        Ok(there) if there.len() > 0 => Ok(()),
        _ => nothing_left(&path),
    }
}

/// Sees that where a book is to be made there was none: what a book leaves beside it tells of one that is gone.
fn nothing_left(path: &Path) -> Result<(), BookFault> {
    let changes = rest::any_changes(path).then(|| rest::changes(path));
    let pictures = blobs::folder(path);
    let pictures = pictures
        .read_dir()
        .is_ok_and(|mut within| within.next().is_some())
        .then_some(pictures);
    let backups = backups::kept(path);
    if changes.is_none() && pictures.is_none() && backups.is_empty() {
        return Ok(());
    }
    Err(BookFault::BookGone {
        path: path.to_owned(),
        backups,
        beside: changes.into_iter().chain(pictures).collect(),
    })
}

/// A file that was cut to nothing, where only a book will do.
pub(crate) fn cut_to_nothing(path: &Path) -> BookFault {
    nothing_left(path)
        .err()
        .unwrap_or_else(|| BookFault::NotABook {
            path: path.to_owned(),
            detail: "0 bytes".into(),
        })
}

/// Why the file was not opened. The store says only that; where there is none yet, making one tells more.
fn unopened(path: &Path, error: &Error) -> BookFault {
    match File::create_new(path).map_err(|refused| (refused.kind(), (&refused).into())) {
        Err((ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem, detail)) => {
            let path = path.to_owned();
            BookFault::ReadOnly { path, detail }
        }
        Err((ErrorKind::StorageFull, detail)) => {
            let path = path.to_owned();
            BookFault::DiskFull { path, detail }
        }
        _ => BookFault::of(path, error),
    }
}

/// Has changes written ahead into a file of their own. While two programs do this to a new book at once, the store does
/// not let the later one wait, but refuses it.
fn write_ahead(store: &Connection) -> Result<(), Error> {
    let began = Instant::now();
    loop {
        match store.pragma_update(None, "journal_mode", "WAL") {
            Err(error)
                if error.sqlite_error_code() == Some(ErrorCode::DatabaseBusy)
                    && began.elapsed() < PATIENCE =>
            {
                std::thread::sleep(Duration::from_millis(5));
            }
            done => return done,
        }
    }
}

/// Brings the book's form up to date: all of it, or nothing.
fn migrate(store: &mut Connection, path: &Path) -> Result<(), BookFault> {
    let fault = |error: Error| BookFault::of(path, &error);
    let change = store
        .transaction_with_behavior(TransactionBehavior::Immediate)
        .map_err(fault)?;
    // Another program may have done it while this one waited for its turn.
    let from = form::version(&change, path)?;
    for (version, migration) in (1..).zip(MIGRATIONS).skip(from) {
        change.execute_batch(migration).map_err(fault)?;
        if version == INDEXED {
            index_all(&change).map_err(|halt| halt.of_book_at(path))?;
        }
        if version == CHAINED {
            as_found(&change).map_err(|halt| halt.of_book_at(path))?;
        }
    }
    rest::begin(&change).map_err(fault)?;
    change
        .pragma_update(None, "application_id", MARK)
        .map_err(fault)?;
    change
        .pragma_update(None, "user_version", turn::as_number(MIGRATIONS.len()))
        .map_err(fault)?;
    change.commit().map_err(fault)
}

/// Keeps the words of all lines that are there, and what a list shows of each job.
fn index_all(change: &Transaction<'_>) -> Result<(), Halt> {
    let mut jobs = change.prepare("SELECT id, name, sheet FROM job ORDER BY id")?;
    let mut jobs = jobs.query(())?;
    while let Some(job) = jobs.next()? {
        let (id, name, sheet): (i64, String, String) = (job.get(0)?, job.get(1)?, job.get(2)?);
        let id = JobId(id);
        let log = lines::readable(&lines::log(change, id)?)?;
        let first = words::of_first(&name, &sheet, &log);
        let mut lines = change.prepare_cached("SELECT sequence, n FROM line WHERE job = ?1")?;
        let mut lines = lines.query([id.0])?;
        while let Some(line) = lines.next()? {
            let (sequence, n): (i64, usize) = (line.get(0)?, line.get(1)?);
            lines::index_line(change, sequence, n, &first, &log)?;
        }
        lines::follow(change, id, &log)?;
    }
    Ok(())
}

/// Begins the chain with the lines that are there, and sums up what stands beside them.
pub(crate) fn as_found(change: &Transaction<'_>) -> Result<(), Halt> {
    for aside in Aside::ALL {
        aside::sum_up(change, aside)?;
    }
    chain::begin(change)
}
