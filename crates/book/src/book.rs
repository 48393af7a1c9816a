//! A bench book, open: who works in it takes turns, and what is acknowledged is in the file that lies there.

use crate::coming::Coming;
use crate::fault::BookFault;
use crate::files::Syncing;
use crate::store::{self, Way};
use crate::tied::Tied;
use crate::turn::{self, Halt, PATIENCE};
use crate::{placing, rest};
use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// A bench book, open. It may be used from several threads, which take turns.
#[derive(Debug)]
pub struct Book {
    pub(crate) path: PathBuf,
    pub(crate) store: Mutex<Connection>,
    pub(crate) syncing: Syncing,
    pub(crate) way: Way,
    /// Pictures are unpacked one at a time: each may take as much memory as all the rest.
    pub(crate) unpacking: Mutex<()>,
    /// Pictures that entries are still to show.
    pub(crate) coming: Coming,
    /// Held while the backup of a day is made.
    pub(crate) backing: Mutex<()>,
    /// Held while something is removed, or a removal carried through.
    pub(crate) removing: Mutex<()>,
    /// What was opened.
    pub(crate) tied: Tied,
}

/// Changes beside the book that are carried into it without waiting for a quiet moment: more than a day's work writes.
const MOST_BESIDE: u64 = 4 << 20;

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
    pub(crate) fn apart(&self) -> rusqlite::Result<Connection> {
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
    pub(crate) fn store(&self) -> MutexGuard<'_, Connection> {
        self.store.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Reads the book as it stands at one instant.
    pub(crate) fn read<T>(
        &self,
        what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
    ) -> Result<T, BookFault> {
        turn::turn(&mut self.store(), TransactionBehavior::Deferred, what)
            .map_err(|halt| halt.of_book_at(&self.path))
    }

    /// Writes all of it, or nothing; and acknowledges nothing that went into another file than the one that lies there.
    pub(crate) fn write<T>(
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
            let (mark, done) = turn::turn(&mut store, TransactionBehavior::Immediate, |change| {
                let mark = rest::begin(change)?;
                Ok((mark, what(change)?))
            })
            .map_err(|halt| halt.of_book_at(&self.path))?;
            self.tied.marked(mark, &store);
            done
        };
        self.still_there()?;
        self.rest_if_much();
        Ok(done)
    }

    /// Sees that what was opened is what lies there, and that nobody wrote another over it.
    pub(crate) fn still_there(&self) -> Result<(), BookFault> {
        self.tied.still(&self.path)?;
        if !matches!(self.way, Way::Writing) {
            return Ok(());
        }
        self.tied.not_written_over(&self.path, || self.store())
    }
}

impl Book {
    /// Carries what was written beside the book into its file, so that the file by itself is the whole book. Gives whether
    /// it is: whoever reads meanwhile puts it off.
    ///
    /// # Errors
    /// The book is no longer what was opened, or cannot be written.
    pub fn rest(&self) -> Result<bool, BookFault> {
        self.still_there()?;
        if rest::bytes(&rest::changes(&self.path)) == 0 {
            return Ok(true);
        }
        let without_waiting = |store: &Connection| {
            store.busy_timeout(Duration::ZERO)?;
            let carried = rest::carry(store);
            store.busy_timeout(PATIENCE)?;
            carried
        };
        let whole = without_waiting(&self.store());
        let whole = whole.map_err(|error| BookFault::of(&self.path, &error))?;
        self.still_there()?;
        Ok(whole)
    }

    /// The same where much has gathered. What was written is written, whether it can be carried now or not.
    pub(crate) fn rest_if_much(&self) {
        if rest::bytes(&rest::changes(&self.path)) > MOST_BESIDE {
            let _ = self.rest();
        }
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
