//! One page for one book: a second start finds the first by a lock beside the book, and its address in a file. The book's file
//! is locked itself as well, so under another name it is the same book.
//!
//! The lock goes with the process that holds it, however that ends; so nothing stale can stand in the way.

use crate::Trouble;
use book::{BookFault, Detail};
use report::en::opening::held_elsewhere;
use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// How long a first start may take from its lock to its address.
const PATIENCE: Duration = Duration::from_secs(5);

/// The right to serve a book; held until it is dropped.
#[derive(Debug)]
pub(crate) struct Held {
    _lock: File,
    _itself: Option<File>,
    address: PathBuf,
}

/// Whether this start is the first for its book.
#[derive(Debug)]
pub(crate) enum Start {
    /// It is.
    First(Held),
    /// Another is, and its page is at this address.
    Second(String),
}

fn beside(book: &Path, end: &str) -> PathBuf {
    let mut name = book.file_name().unwrap_or_default().to_owned();
    name.push(end);
    book.with_file_name(name)
}

impl Held {
    /// Tells later starts where the page is.
    pub(crate) fn announce(&self, address: &str) -> Result<(), Trouble> {
        std::fs::write(&self.address, address).map_err(|error| wrong(&self.address, &error))
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        // What is left behind is read by nobody who gets the lock.
        let _ = std::fs::remove_file(&self.address);
    }
}

fn wrong(path: &Path, error: &std::io::Error) -> Trouble {
    use std::io::ErrorKind;
    let detail = Detail::from(error);
    let path = path.to_owned();
    let fault = match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            BookFault::ReadOnly { path, detail }
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => BookFault::DiskFull { path, detail },
        _ => BookFault::CannotOpen { path, detail },
    };
    fault.into()
}

/// Locks the book's own file, which goes with it under whatever name. Where a disk has no such locks, or they would stand in the
/// way of the store's own, the lock beside it has to do.
///
/// # Errors
/// It is open in another start, under another name.
fn itself(book: &Path) -> Result<Option<File>, Trouble> {
    // Elsewhere a locked file could not be written by the store either.
    let Some(file) = cfg!(unix).then(|| File::open(book).ok()).flatten() else {
        return Ok(None);
    };
    match file.try_lock() {
        Ok(()) => Ok(Some(file)),
        Err(TryLockError::WouldBlock) => Err(elsewhere(book)),
        Err(TryLockError::Error(_)) => Ok(None),
    }
}

fn elsewhere(book: &Path) -> Trouble {
    Trouble(held_elsewhere(&book.display().to_string()))
}

/// Sees that what lies under the name of a file of ours is one: whoever opens a pipe waits for ever.
fn plain(book: &Path, own: &Path) -> Result<(), Trouble> {
    if std::fs::metadata(own).is_ok_and(|there| !there.is_file()) {
        let (path, what) = (book.to_owned(), own.to_owned());
        return Err(BookFault::NoPlainFile { path, what }.into());
    }
    Ok(())
}

/// Takes the lock of a book, or finds who has it.
pub(crate) fn start(book: &Path) -> Result<Start, Trouble> {
    let path = beside(book, ".lock");
    let address = beside(book, ".address");
    for own in [&path, &address] {
        plain(book, own)?;
    }
    let lock = (OpenOptions::new().create(true).truncate(false).write(true))
        .open(&path)
        .map_err(|error| wrong(&path, &error))?;
    let began = Instant::now();
    loop {
        match lock.try_lock() {
            Ok(()) => {
                // Of a start that was killed.
                let _ = std::fs::remove_file(&address);
                return Ok(Start::First(Held {
                    _lock: lock,
                    _itself: itself(book)?,
                    address,
                }));
            }
            Err(TryLockError::Error(error)) => return Err(wrong(&path, &error)),
            Err(TryLockError::WouldBlock) => {}
        }
        match std::fs::read_to_string(&address) {
            Ok(told) if told.starts_with("http://") => return Ok(Start::Second(told)),
            _ if began.elapsed() > PATIENCE => {
                return Err(elsewhere(book));
            }
            _ => std::thread::sleep(Duration::from_millis(20)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_start_is_told_where_the_first_is_and_a_third_comes_first_again() {
        let folder = tempfile::tempdir().unwrap();
        let book = folder.path().join("bench.book");
        let Start::First(held) = start(&book).unwrap() else {
            panic!("nobody else holds it")
        };
        held.announce("http://127.0.0.1:1/").unwrap();
        let Start::Second(address) = start(&book).unwrap() else {
            panic!("it is held")
        };
        assert_eq!(address, "http://127.0.0.1:1/");
        drop(held);
        assert!(matches!(start(&book).unwrap(), Start::First(_)));
    }

    #[cfg(unix)]
    #[test]
    fn what_is_no_plain_file_is_told_and_not_waited_for() {
        for name in ["bench.book.lock", "bench.book.address"] {
            for folder_or_pipe in ["mkdir", "mkfifo"] {
                let folder = tempfile::tempdir().unwrap();
                let own = folder.path().join(name);
                let made = std::process::Command::new(folder_or_pipe)
                    .arg(&own)
                    .status();
                assert!(made.unwrap().success());
                let told = start(&folder.path().join("bench.book")).unwrap_err().0;
                assert!(
                    told.contains(name) && told.contains("no plain file"),
                    "{told}"
                );
                assert!(own.exists(), "it was not touched");
            }
        }
    }

    #[cfg(unix)]
    #[test]
    fn renamed_while_it_is_held_it_is_the_same_book() {
        let folder = tempfile::tempdir().unwrap();
        let book = folder.path().join("bench.book");
        std::fs::write(&book, "a book").unwrap();
        let held = start(&book).unwrap();
        let away = folder.path().join("old.book");
        std::fs::rename(&book, &away).unwrap();
        assert!(start(&away).is_err());
        drop(held);
        assert!(matches!(start(&away).unwrap(), Start::First(_)));
    }
}
