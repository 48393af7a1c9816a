//! Opening the file: whose it is, whether it is sound, and bringing its form up to date. What the tables hold is told in
//! `migrations/`.

use crate::aside::{self, Aside};
use crate::files::{folder, sync_folder};
use crate::{BookFault, Halt, JobId, PATIENCE, backup, blobs, chain, jobs, rest, search, tied};
use rusqlite::{
    Connection, Error, ErrorCode, MAIN_DB, OpenFlags, Transaction, TransactionBehavior,
};
use std::fs::File;
use std::io::ErrorKind;
use std::path::Path;
use std::time::{Duration, Instant};

/// Each brings a book from the version before to its own, the first from an empty file. Once out, none ever changes.
const MIGRATIONS: [&str; 5] = [
    include_str!("../migrations/1.sql"),
    include_str!("../migrations/2.sql"),
    include_str!("../migrations/3.sql"),
    include_str!("../migrations/4.sql"),
    include_str!("../migrations/5.sql"),
];

/// From this version on the words of all lines are kept, and what a list shows.
const INDEXED: usize = 2;

/// From this version on there is a digest a line.
const CHAINED: usize = 5;

/// When changes are carried to the disk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Syncing {
    /// Each before it is acknowledged: what was acknowledged outlives a failure of power.
    Each,
    /// By the machine, when it pleases: for a book that is being filled and could be filled again. What was acknowledged
    /// outlives the end of the program, but not a failure of power.
    Never,
}

/// What marks a file of this store as a bench book; the letters `Trnd`.
const MARK: i64 = 0x5472_6e64;

/// What a file of this store begins with has this many bytes. Source: SQLite, "Database File Format", section 1.3.
const HEADER_BYTES: u64 = 100;

/// Opens the book at an absolute path, or makes it.
pub(crate) fn open(path: &Path, syncing: Syncing) -> Result<Connection, BookFault> {
    let new = make_room(path, syncing)?;
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
        let detail = "opened for reading only".to_owned();
        return Err(BookFault::ReadOnly { path, detail });
    }
    store.busy_timeout(PATIENCE).map_err(fault)?;
    // Nothing is written before it is plain that the file is a book, is known and is sound.
    let look = store.unchecked_transaction().map_err(fault)?;
    let from = version(&look, path)?;
    check(&look, path)?;
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
    write_ahead(&store).map_err(fault)?;
    // Changes are carried into the file in quiet moments (`rest`), not in the middle of whatever comes.
    store
        .pragma_update(None, "wal_autocheckpoint", 0)
        .map_err(fault)?;
    if from < MIGRATIONS.len() {
        migrate(&mut store, path)?;
    }
    if new && let Some(folder) = path.parent() {
        // The store has the file on the disk, but not its name.
        sync_folder(folder, syncing).map_err(|error| BookFault::file(path, &error))?;
    }
    Ok(store)
}

/// Makes the folder, sees that nothing but a file stands in the book's place, and gives whether there is none yet.
fn make_room(path: &Path, syncing: Syncing) -> Result<bool, BookFault> {
    if let Some(above) = path.parent() {
        folder(above, syncing).map_err(|error| BookFault::CannotCreateFolder {
            path: above.to_owned(),
            detail: error.to_string(),
        })?;
    }
    let path = path.to_owned();
    match std::fs::metadata(&path) {
        Ok(there) if there.is_dir() => Err(BookFault::AFolder { path }),
        Ok(there) if !there.is_file() => {
            let detail = "no regular file".to_owned();
            Err(BookFault::NotABook { path, detail })
        }
        // The store takes a file of one byte for an empty one.
        Ok(there) if (1..HEADER_BYTES).contains(&there.len()) => {
            let detail = format!("{} bytes", there.len());
            Err(BookFault::NotABook { path, detail })
        }
        Ok(_) if tied::has_other_names(&path) => Err(BookFault::OtherNames { path }),
        Ok(there) if there.len() > 0 => Ok(false),
        there => {
            nothing_left(&path)?;
            Ok(there.is_err())
        }
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
    let backups = backup::kept(path);
    if changes.is_none() && pictures.is_none() && backups.is_empty() {
        return Ok(());
    }
    Err(BookFault::BookGone {
        path: path.to_owned(),
        backups,
        beside: changes.into_iter().chain(pictures).collect(),
    })
}

/// Why the file was not opened. The store says only that; where there is none yet, making one tells more.
fn unopened(path: &Path, error: &Error) -> BookFault {
    match File::create_new(path).map_err(|refused| (refused.kind(), refused.to_string())) {
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

/// The version of the book's form; 0 where nothing has been written yet. All is read as it stands at one instant.
fn version(store: &Transaction<'_>, path: &Path) -> Result<usize, BookFault> {
    let fault = |error: Error| BookFault::of(path, &error);
    let number = |name: &str| store.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    let mark = number("application_id").map_err(fault)?;
    let got = number("user_version").map_err(fault)?;
    let things: i64 = store
        .query_row("SELECT count(*) FROM sqlite_schema", (), |row| row.get(0))
        .map_err(fault)?;
    let path = path.to_owned();
    if (mark, got, things) == (0, 0, 0) {
        return Ok(0);
    }
    if mark != MARK {
        let detail = format!("marked {mark:#010x}");
        return Err(BookFault::NotABook { path, detail });
    }
    match usize::try_from(got) {
        Ok(version) if (1..=MIGRATIONS.len()).contains(&version) => Ok(version),
        Ok(_) if got > 0 => {
            let known = as_number(MIGRATIONS.len());
            Err(BookFault::NewerVersion { path, got, known })
        }
        _ => {
            let detail = format!("version {got}");
            Err(BookFault::Damaged { path, detail })
        }
    }
}

/// The store's own quick check of its pages, table by table. That each index agrees with its table is not part of it, nor
/// whether the words are rightly filed: that takes many times as long, and is what `verify` is for.
fn check(store: &Connection, path: &Path) -> Result<(), BookFault> {
    let fault = |error: Error| BookFault::of(path, &error);
    let damaged = |detail: String| BookFault::Damaged {
        path: path.to_owned(),
        detail,
    };
    let tables = || -> Result<Vec<String>, Error> {
        // What is only a way of looking at other tables has no page of its own.
        let mut found = store
            .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND rootpage > 0")?;
        let names = found.query_map((), |row| row.get(0))?;
        names.collect()
    };
    for table in tables().map_err(fault)? {
        let mut found = String::new();
        store
            .pragma(None, "quick_check", &table, |row| {
                found = row.get(0)?;
                Ok(())
            })
            .map_err(fault)?;
        if found != "ok" {
            // The first line only says that it is the book itself that is spoken of.
            let told = found.lines().filter(|line| !line.starts_with("***"));
            return Err(damaged(told.collect::<Vec<_>>().join("; ")));
        }
    }
    Ok(())
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
    let from = version(&change, path)?;
    for (version, migration) in (1..).zip(MIGRATIONS).skip(from) {
        change.execute_batch(migration).map_err(fault)?;
        if version == INDEXED {
            index_all(&change).map_err(|halt| halt.told(path))?;
        }
        if version == CHAINED {
            as_found(&change).map_err(|halt| halt.told(path))?;
        }
    }
    change
        .pragma_update(None, "application_id", MARK)
        .map_err(fault)?;
    change
        .pragma_update(None, "user_version", as_number(MIGRATIONS.len()))
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
        let log = jobs::readable(&jobs::log(change, id)?)?;
        let first = search::of_first(&name, &sheet, &log);
        let mut lines = change.prepare_cached("SELECT sequence, n FROM line WHERE job = ?1")?;
        let mut lines = lines.query([id.0])?;
        while let Some(line) = lines.next()? {
            let (sequence, n): (i64, usize) = (line.get(0)?, line.get(1)?);
            jobs::index_line(change, sequence, n, &first, &log)?;
        }
        jobs::follow(change, id, &log)?;
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

/// A count of things in memory, as the store has its numbers.
pub(crate) fn as_number(count: usize) -> i64 {
    i64::try_from(count).expect("fewer than 2^63 of anything fit in memory")
}
