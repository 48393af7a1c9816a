//! Still the same file: what was opened is what lies at the book's path, before anything is acknowledged.

use crate::blobs;
use crate::fault::{Became, BookFault};
use crate::files::{self, Which};
use crate::rest::{self, Stamp};
use rusqlite::Connection;
use std::fs;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What was opened: the book's file, the file of changes beside it, the folder of its pictures.
#[derive(Debug)]
pub(crate) struct Tied(Mutex<Seen>);

#[derive(Debug)]
struct Seen {
    book: Option<Which>,
    changes: Option<Which>,
    pictures: Option<Which>,
    /// When the book's file was last found to be the one that was opened.
    stamp: Option<Stamp>,
    /// The mark of the book as it was last known, and what the store then said of changes that others make.
    mark: Option<String>,
    others: Option<i64>,
}

impl Tied {
    /// To what lies there now.
    pub(crate) fn to(path: &Path, store: &Connection) -> Tied {
        Tied(Mutex::new(Seen {
            stamp: rest::stamp(path),
            others: others(store),
            mark: rest::mark_now(store),
            book: files::which(path),
            changes: files::which(&rest::changes(path)),
            pictures: files::which(&blobs::folder(path)),
        }))
    }

    /// The book was given this mark by a change of its own; the store is still held.
    pub(crate) fn marked(&self, mark: Option<String>, store: &Connection) {
        let mut seen = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        (seen.mark, seen.others) = (mark, others(store));
    }

    fn stamp(&self) -> Option<Stamp> {
        let seen = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        seen.stamp
    }

    /// Sees that no other book was written over this one, in the same file, which no lock hinders: whenever the file was written,
    /// its mark must be one that the book was given.
    pub(crate) fn not_written_over<'a>(
        &self,
        path: &Path,
        store: impl FnOnce() -> MutexGuard<'a, Connection>,
    ) -> Result<(), BookFault> {
        if self.stamp() == rest::stamp(path) {
            return Ok(());
        }
        // While the store is held, nobody here gives it another mark.
        let store = store();
        let stamp = rest::stamp(path);
        let (known, knew) = {
            let seen = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            (seen.mark.clone(), seen.others)
        };
        if rest::apart(path, known.as_deref()) {
            // What others wrote and carried into the file meanwhile gave it another mark; of that the store knows.
            let mark = rest::mark_now(&store);
            if others(&store) == knew || rest::apart(path, mark.as_deref()) {
                return Err(BookFault::NoLongerThere {
                    path: path.to_owned(),
                    what: path.to_owned(),
                    became: Became::WrittenOver,
                });
            }
            self.marked(mark, &store);
        }
        let mut seen = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        seen.stamp = stamp;
        Ok(())
    }

    /// Sees that all of it is still what it was. What came to be there since is from now on tied as well.
    pub(crate) fn still(&self, path: &Path) -> Result<(), BookFault> {
        let mut seen = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let lost = |what: &Path, became: Became| BookFault::NoLongerThere {
            path: path.to_owned(),
            what: what.to_owned(),
            became,
        };
        same(&mut seen.book, path).map_err(|became| lost(path, became))?;
        if fs::metadata(path).is_ok_and(|file| file.len() == 0) {
            return Err(lost(path, Became::Cut));
        }
        let changes = rest::changes(path);
        same(&mut seen.changes, &changes).map_err(|became| lost(&changes, became))?;
        let pictures = blobs::folder(path);
        same(&mut seen.pictures, &pictures).map_err(|became| lost(&pictures, became))
    }
}

/// A number that changes when others change the book.
fn others(store: &Connection) -> Option<i64> {
    store
        .pragma_query_value(None, "data_version", |row| row.get(0))
        .ok()
}

fn same(seen: &mut Option<Which>, path: &Path) -> Result<(), Became> {
    match (*seen, files::which(path)) {
        (None, now) => {
            *seen = now;
            Ok(())
        }
        (Some(_), None) => Err(Became::Gone),
        (Some(seen), Some(now)) if seen != now => Err(Became::Another),
        _ => Ok(()),
    }
}
