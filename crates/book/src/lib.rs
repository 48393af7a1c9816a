//! The bench book: jobs with their sheets, logs and pictures, in one embedded file and a folder of pictures beside it.
//!
//! A [`Book`] holds jobs. Each has a name, the text of its sheet and the lines of its log; lines are only ever added, and
//! once [`Book::append`] has said so, no kill at any instant takes them back. The one thing that changes a line is a
//! removal, which empties a person's fields and pictures for good. Several books may be open on one file: who appends
//! without having seen what another wrote is refused as [`BookFault::Behind`].
//!
//! Each line has a digest over the one before it, so that what happens to the file is found ([`Book::verify`]); it is no lock.
//!
//! The door is narrow: append, list, blob (pictures), search; the rest keeps the book itself: backups, restoring, verifying,
//! export and import. This crate knows the form of a log and what is shown of it in a list, and nothing of what it means
//! for a train: it makes no sums and no sentences, reads no sheet and no clock; days are handed in.
//!
//! ```
//! use book::{Book, BookFault};
//! # let folder = tempfile::tempdir().unwrap();
//! # let path = folder.path().join("bench.book");
//! let book = Book::open(&path)?;
//! let log = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
//! let job = book.start("Quay Street", "the sheet", log)?;
//! book.append(job, 0, "{\"n\":1,\"kind\":\"note\",\"says\":\"the fly rubs\"}\n")?;
//! assert_eq!(book.job(job)?.log.lines().count(), 2);
//! assert_eq!(book.search("fly", 10)?[0].n, 1);
//! let late = book.append(job, 0, "{\"n\":1,\"kind\":\"struck\",\"hour\":5}\n");
//! assert_eq!(late, Err(BookFault::Behind { held: 1, believed: 0 }));
//! # Ok::<(), BookFault>(())
//! ```

mod ahead;
mod aside;
mod backup;
mod blobs;
mod chain;
mod coming;
mod detail;
mod emptying;
mod export;
mod fault;
mod files;
mod import;
mod jobs;
mod kin;
mod picture;
mod placing;
mod removal;
mod rest;
mod restore;
mod search;
mod settings;
mod store;
mod table;
mod tidy;
mod tied;
mod verify;
mod whole;

pub use aside::Aside;
pub use backup::Backup;
pub use blobs::{NotWhole, Size};
pub use chain::LineWas;
pub use detail::{Detail, Store};
pub use export::Carried;
pub use fault::BookFault;
pub use import::import;
pub use jobs::{Job, JobLine, Listing, View};
pub use picture::{Form, MOST_PICTURE_BYTES, MOST_PIXELS, Picture};
pub use restore::restore;
pub use search::{Found, Hit};
pub use store::Syncing;
pub use table::row as table_row;
pub use tied::Became;
pub use verify::{BackupWas, Extent, Verdict, Wrong};
pub use whole::{MOST_HELD, MOST_UNPACKING};

use coming::Coming;
use rusqlite::{Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior};
use std::fmt;
use std::io::ErrorKind;
use std::num::ParseIntError;
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;
use store::Way;
use tied::Tied;

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

/// A bench book, open. It may be used from several threads, which take turns.
#[derive(Debug)]
pub struct Book {
    path: PathBuf,
    store: Mutex<Connection>,
    syncing: Syncing,
    way: Way,
    /// Pictures are unpacked one at a time: each may take as much memory as all the rest.
    unpacking: Mutex<()>,
    /// Pictures that entries are still to show.
    coming: Coming,
    /// Held while the backup of a day is made.
    backing: Mutex<()>,
    /// Held while something is removed, or a removal carried through.
    removing: Mutex<()>,
    /// What was opened.
    tied: Tied,
}

impl Book {
    /// Opens the book at this path, and makes it and its folders where they are not there yet.
    ///
    /// # Errors
    /// Why it cannot be used. A file that is no book, one of a newer version and a damaged one are left as they are.
    pub fn open(path: &Path) -> Result<Book, BookFault> {
        Book::open_with(path, Syncing::Each)
    }

    /// Opens the book at this path, and makes none.
    ///
    /// # Errors
    /// [`BookFault::NoBookThere`], or as for [`open`](Book::open).
    pub fn open_there(path: &Path) -> Result<Book, BookFault> {
        if true_path(path).is_ok_and(|path| placing::any(&path)) {
            // It is on its way there.
            return Book::open(path);
        }
        if std::fs::symlink_metadata(path).is_err_and(|error| error.kind() == ErrorKind::NotFound) {
            let path = path.to_owned();
            return Err(BookFault::NoBookThere { path });
        }
        if std::fs::metadata(path).is_ok_and(|there| there.is_file() && there.len() == 0) {
            return Err(store::cut_to_nothing(
                &std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned()),
            ));
        }
        Book::open(path)
    }

    /// As [`open`](Book::open), saying when changes are carried to the disk.
    ///
    /// # Errors
    /// As there.
    pub fn open_with(path: &Path, syncing: Syncing) -> Result<Book, BookFault> {
        // An absolute path is never one of the names that mean something else to the store.
        let path = true_path(path).map_err(|error| BookFault::CannotOpen {
            path: path.to_owned(),
            detail: (&error).into(),
        })?;
        let store = store::open(&path, syncing)?;
        // When it is closed it is seen first that it is still the same (`drop`).
        rest::leave_changes(&store).map_err(|error| BookFault::of(&path, &error))?;
        Ok(Book::of(path, store, syncing, Way::Writing))
    }

    /// Opens the book at this path only to read it: also where neither it nor anything beside it may be written, as on a disc.
    /// It can be verified, exported and backed up elsewhere; whatever would write in it is refused.
    ///
    /// # Errors
    /// [`BookFault::NoBookThere`]; or it is none, newer, damaged, or cannot be read.
    pub fn open_to_read(path: &Path) -> Result<Book, BookFault> {
        let path = match std::fs::canonicalize(path) {
            Ok(path) => path,
            Err(error) if error.kind() == ErrorKind::NotFound => {
                let path = path.to_owned();
                return Err(BookFault::NoBookThere { path });
            }
            Err(error) => return Err(BookFault::file(path, &error)),
        };
        let (store, way) = store::open_to_read(&path)?;
        Ok(Book::of(path, store, Syncing::Never, way))
    }

    fn of(path: PathBuf, store: Connection, syncing: Syncing, way: Way) -> Book {
        Book {
            tied: Tied::to(&path, &store),
            path,
            store: Mutex::new(store),
            syncing,
            way,
            coming: Coming::default(),
            unpacking: Mutex::new(()),
            backing: Mutex::new(()),
            removing: Mutex::new(()),
        }
    }

    /// Where it is: the true path, whatever link it was opened by.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// A way of its own to the store, only to read it: nobody waits for whoever goes over all of the book.
    fn apart(&self) -> rusqlite::Result<Connection> {
        let path = match &self.way {
            Way::Still => return rest::still(&self.path),
            Way::Copy { book, held } => {
                debug_assert!(book.starts_with(held.path()));
                book
            }
            Way::Writing | Way::Together => &self.path,
        };
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let store = Connection::open_with_flags(path, flags)?;
        store.busy_timeout(PATIENCE)?;
        Ok(store)
    }

    /// The store, for whoever's turn it is. Whoever panicked in the middle left a change that was rolled back.
    fn store(&self) -> MutexGuard<'_, Connection> {
        self.store.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Reads the book as it stands at one instant.
    fn read<T>(
        &self,
        what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
    ) -> Result<T, BookFault> {
        turn(&mut self.store(), TransactionBehavior::Deferred, what)
            .map_err(|halt| halt.told(&self.path))
    }

    /// Writes all of it, or nothing; and acknowledges nothing that went into another file than the one that lies there.
    fn write<T>(
        &self,
        what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
    ) -> Result<T, BookFault> {
        if !matches!(self.way, Way::Writing) {
            let (path, detail) = (self.path.clone(), "opened for reading only".into());
            return Err(BookFault::ReadOnly { path, detail });
        }
        self.still_there()?;
        let done = {
            let mut store = self.store();
            let (mark, done) = turn(&mut store, TransactionBehavior::Immediate, |change| {
                let mark = rest::begin(change)?;
                Ok((mark, what(change)?))
            })
            .map_err(|halt| halt.told(&self.path))?;
            self.tied.marked(mark, &store);
            done
        };
        self.still_there()?;
        self.rest_if_much();
        Ok(done)
    }

    /// Sees that what was opened is what lies there, and that nobody wrote another over it.
    fn still_there(&self) -> Result<(), BookFault> {
        self.tied.still(&self.path)?;
        if !matches!(self.way, Way::Writing) {
            return Ok(());
        }
        self.tied.not_written_over(&self.path, || self.store())
    }
}

impl Drop for Book {
    /// What lies beside it is carried into it if it is still the same, and left where it is otherwise.
    fn drop(&mut self) {
        if self.still_there().is_ok() {
            let _ = rest::take_changes_along(&self.store());
        }
    }
}

/// The path of a file without links, or of one that is not there yet in its folder without links.
fn true_path(path: &Path) -> std::io::Result<PathBuf> {
    let path = std::path::absolute(path)?;
    if std::fs::symlink_metadata(&path).is_ok() {
        return std::fs::canonicalize(path);
    }
    match (path.parent(), path.file_name()) {
        (Some(above), Some(name)) if above.is_dir() => Ok(std::fs::canonicalize(above)?.join(name)),
        _ => Ok(path),
    }
}

/// One turn at a store: all of it, or nothing.
fn turn<T>(
    store: &mut Connection,
    behavior: TransactionBehavior,
    what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
) -> Result<T, Halt> {
    let change = store.transaction_with_behavior(behavior)?;
    let done = what(&change)?;
    change.commit()?;
    Ok(done)
}

/// Why a turn at the book ends without its work done.
enum Halt {
    Refused(BookFault),
    Damaged(String),
    Store(rusqlite::Error),
}

impl Halt {
    /// The same, of the book at `path`.
    fn told(self, path: &Path) -> BookFault {
        match self {
            Halt::Refused(fault) => fault,
            Halt::Damaged(detail) => BookFault::Damaged {
                path: path.to_owned(),
                detail: detail.into(),
            },
            Halt::Store(error) => BookFault::of(path, &error),
        }
    }
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

/// Sees that there is such a job.
fn known(store: &Connection, id: JobId) -> Result<(), Halt> {
    let found = store.query_row("SELECT 1 FROM job WHERE id = ?1", [id.0], |_| Ok(()));
    Ok(found.optional()?.ok_or(BookFault::NoSuchJob { id })?)
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
        most(pages + 9);
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
