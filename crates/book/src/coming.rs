//! Pictures that were kept and that no line shows yet: while the entry that will show one is on its way it is held fast, and one
//! that nobody holds any more is struck out again.
//!
//! A picture is held by its file, which whoever kept it has locked until the entry is in: the machine lets go where a program
//! ends in whatever way, and no clock is asked.

use crate::picture::{Form, Picture};
use crate::{Book, BookFault, Halt, blobs, removal};
use entries::Digest;
use rusqlite::Transaction;
use std::fs::{File, TryLockError};
use std::io;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

/// So many pictures are held at a time; whoever keeps more without entering any does not mean to.
const MOST: usize = 64;

/// Pictures whose entries are on their way, the oldest first.
#[derive(Debug, Default)]
pub(crate) struct Coming(Mutex<Vec<(Digest, File)>>);

impl Coming {
    /// Holds a picture fast by its file.
    pub(crate) fn hold(&self, digest: &Digest, path: &Path) -> io::Result<()> {
        let file = File::open(path)?;
        // Where files cannot be locked, nothing is swept away either.
        let _ = file.try_lock_shared();
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if held.len() == MOST {
            held.remove(0);
        }
        held.push((digest.clone(), file));
        Ok(())
    }

    /// Lets go of it, once for each time that it was kept.
    pub(crate) fn release(&self, digest: &Digest) {
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(at) = held.iter().position(|(other, _)| other == digest) {
            held.remove(at);
        }
    }

    /// Lets go of those that are named in lines which are in the book now: what a line shows needs nobody to hold it.
    pub(crate) fn release_all_in(&self, lines: &str) {
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        held.retain(|(digest, _)| !lines.contains(digest.text()));
    }
}

/// Whether somebody holds this picture's file, or it cannot be told. One that is not there is not held.
fn held(path: &Path) -> bool {
    match File::open(path) {
        Ok(file) => file.try_lock().is_err(),
        Err(error) => error.kind() != io::ErrorKind::NotFound,
    }
}

/// Whether somebody is plainly at work on this file or folder.
pub(crate) fn at_work(path: &Path) -> bool {
    let locked = |file: File| matches!(file.try_lock(), Err(TryLockError::WouldBlock));
    // What is neither might keep whoever opens it waiting.
    let there = std::fs::symlink_metadata(path).is_ok_and(|it| it.is_file() || it.is_dir());
    there && File::open(path).is_ok_and(locked)
}

impl Book {
    /// Strikes out a picture again that was kept, if no entry shows it: the entry that was to is not coming.
    ///
    /// # Errors
    /// The book cannot be written, or a file resists.
    pub fn let_go(&self, digest: &Digest) -> Result<(), BookFault> {
        self.coming.release(digest);
        self.strike_out(Some(digest))
    }

    /// Strikes out all pictures, or this one, that no line shows and nobody holds.
    pub(crate) fn strike_out(&self, only: Option<&Digest>) -> Result<(), BookFault> {
        let any = self.read(|store| Ok(!unshown(store, only)?.is_empty()))?;
        if !any {
            return Ok(());
        }
        self.write(|change| strike_out(change, &self.path, only))?;
        self.sweep()
    }
}

/// Strikes such pictures out of the index; their files are still to go.
pub(crate) fn strike_out(
    change: &Transaction<'_>,
    book: &Path,
    only: Option<&Digest>,
) -> Result<(), Halt> {
    for Picture { digest, form, .. } in unshown(change, only)? {
        if !held(&blobs::place(book, &digest, form)) {
            unindex(change, &digest, form)?;
        }
    }
    Ok(())
}

/// Strikes a picture out of the index, and notes that its files are to go.
pub(crate) fn unindex(change: &Transaction<'_>, digest: &Digest, form: Form) -> Result<(), Halt> {
    change.execute(
        "INSERT OR REPLACE INTO unswept (digest, form) VALUES (?1, ?2)",
        (digest.text(), form.ending()),
    )?;
    removal::forget(change, digest.text())
}

/// Pictures that no line shows.
fn unshown(store: &rusqlite::Connection, only: Option<&Digest>) -> rusqlite::Result<Vec<Picture>> {
    let mut found = store.prepare_cached(
        "SELECT digest, form, bytes, width, height FROM blob
        WHERE (?1 IS NULL OR digest = ?1) AND digest NOT IN (SELECT digest FROM shown)",
    )?;
    let pictures = found.query_map([only.map(Digest::text)], blobs::picture_of)?;
    pictures.filter_map(Result::transpose).collect()
}
