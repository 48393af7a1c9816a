//! Opening the file: whose it is, whether it is sound, and bringing its form up to date. What the tables hold is told in
//! `migrations/`.

use crate::aside::{self, Aside};
use crate::files::{self, folder, sync_folder};
use crate::{
    BookFault, Halt, JobId, PATIENCE, backup, blobs, chain, jobs, placing, rest, search, tied,
};
use rusqlite::{
    Connection, Error, ErrorCode, MAIN_DB, OpenFlags, Transaction, TransactionBehavior,
};
use std::collections::BTreeSet;
use std::fs::File;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
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

/// What marks a file of this store as a bench book; the letters `Trnd`.
pub(crate) const MARK: i64 = 0x5472_6e64;

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
    let from = sound(&look, path).map_err(|wrong| match wrong {
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
            sync_folder(folder, syncing).map_err(|error| BookFault::file(path, &error))?;
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
    let from = sound(&look, path)?;
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

/// Sees that this is a book with nothing in it that does not belong there and that its pages are sound; gives its version.
pub(crate) fn sound(look: &Transaction<'_>, path: &Path) -> Result<usize, BookFault> {
    let version = version(look, path)?;
    let pages = look.pragma_query_value(None, "page_count", |row| row.get(0));
    let pages: i64 = pages.map_err(|error| BookFault::of(path, &error))?;
    if version == 0 && pages > 0 {
        // A new book is made at once: pages without a table were left of one, or are its beginning.
        let detail = format!("no table in it, pages: {pages}").into();
        let path = path.to_owned();
        return Err(BookFault::Damaged { path, detail });
    }
    schema(look, version, path)?;
    check(look, path)?;
    Ok(version)
}

/// The same, and that no line is missing or another.
pub(crate) fn whole(look: &Transaction<'_>, path: &Path) -> Result<(), BookFault> {
    if sound(look, path)? < CHAINED {
        return Ok(());
    }
    let broken = chain::along(look).map_err(|halt| halt.told(path))?;
    if broken.lines.is_empty() && broken.cut.is_none() && !broken.end {
        return Ok(());
    }
    Err(BookFault::Damaged {
        path: path.to_owned(),
        detail: "lines are missing, or are others".into(),
    })
}

/// What a thing in a store is: its kind, its name, what it belongs to, and the statement that makes it.
type Thing = (String, String, String, Option<String>);

/// All things in a store; of the tables that the index of words keeps for itself not how they are made, which differs from one
/// version of the store to the next, and nothing of what the store notes of its own tables.
fn things(store: &Connection) -> rusqlite::Result<BTreeSet<Thing>> {
    let mut found = store.prepare(
        "SELECT type, name, tbl_name, CASE WHEN name GLOB 'words_*' THEN NULL ELSE sql END
        FROM sqlite_schema WHERE name NOT GLOB 'sqlite_stat[0-9]'",
    )?;
    let things = found.query_map((), |row| {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?))
    })?;
    things.collect()
}

/// Sees that the store holds what the migrations up to this version make, and nothing else: what else there is could do
/// anything when it is looked at.
fn schema(look: &Connection, version: usize, path: &Path) -> Result<(), BookFault> {
    static MADE: OnceLock<Vec<BTreeSet<Thing>>> = OnceLock::new();
    let fault = |error: Error| BookFault::of(path, &error);
    let made = match MADE.get() {
        Some(made) => made,
        None => {
            let made = all_versions().map_err(fault)?;
            MADE.get_or_init(|| made)
        }
    };
    let (found, made) = (things(look).map_err(fault)?, &made[version]);
    let told = |(kind, name, ..): &Thing| format!("{kind} {name}");
    let more = found
        .difference(made)
        .map(|thing| format!("{} does not belong to it", told(thing)));
    let less = made
        .difference(&found)
        .map(|thing| format!("{} is not as it should be", told(thing)));
    match more.chain(less).next() {
        None => Ok(()),
        Some(detail) => Err(BookFault::Damaged {
            path: path.to_owned(),
            detail: detail.into(),
        }),
    }
}

/// What each version of a book holds, the first of them an empty file.
fn all_versions() -> rusqlite::Result<Vec<BTreeSet<Thing>>> {
    let store = Connection::open_in_memory()?;
    let mut all = vec![things(&store)?];
    for migration in MIGRATIONS {
        store.execute_batch(migration)?;
        all.push(things(&store)?);
    }
    Ok(all)
}

/// Makes the folder, and sees that nothing but a file stands in the book's place, and nothing of another where there is none.
fn make_room(path: &Path, syncing: Syncing) -> Result<(), BookFault> {
    if let Some(above) = path.parent() {
        folder(above, syncing).map_err(|error| BookFault::CannotCreateFolder {
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
        Ok(_) if tied::has_other_names(&path) => Err(BookFault::OtherNames { path }),
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
        let detail = format!("marked {mark:#010x}").into();
        return Err(BookFault::NotABook { path, detail });
    }
    match usize::try_from(got) {
        Ok(version) if (1..=MIGRATIONS.len()).contains(&version) => Ok(version),
        Ok(_) if got > 0 => {
            let known = as_number(MIGRATIONS.len());
            Err(BookFault::NewerVersion { path, got, known })
        }
        _ => {
            let detail = format!("version {got}").into();
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
        detail: detail.into(),
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
    rest::begin(&change).map_err(fault)?;
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
