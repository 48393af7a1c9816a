//! Pictures that no line shows: those that nobody holds any more (`coming`) are struck out again.

use crate::book::Book;
use crate::fault::BookFault;
use crate::picture::{Picture, PictureFormat};
use crate::turn::Halt;
use crate::{blobs, coming, files};
use entries::Digest;
use rusqlite::Transaction;
use std::fs::File;
use std::io;
use std::path::Path;

impl Book {
    /// Strikes out a picture again that was kept, if no entry shows it: the entry that was to is not coming.
    ///
    /// # Errors
    /// The book cannot be written, or a file resists.
    pub fn let_go(&self, digest: &Digest) -> Result<(), BookFault> {
        self.coming.release(digest);
        self.strike_out(Some(digest))
    }

    /// Takes away a note that nobody is at work on any more, and the picture's files with it, unless the book names it.
    pub(crate) fn not_coming(&self, note: &Path) -> Result<(), BookFault> {
        if files::at_work(note) {
            return Ok(());
        }
        if let Some((digest, form)) = coming::announced(note) {
            // While this changes the book nobody else keeps the picture: whoever is about to sees that it is there.
            self.write(|change| {
                if blobs::find(change, &digest)?.is_none() {
                    for file in blobs::both(&blobs::folder(&self.path), &digest, form) {
                        files::gone(&file).map_err(|error| BookFault::file(&file, &error))?;
                    }
                }
                Ok(())
            })?;
        }
        files::away(note)
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
pub(crate) fn unindex(
    change: &Transaction<'_>,
    digest: &Digest,
    form: PictureFormat,
) -> Result<(), Halt> {
    change.execute(
        "INSERT OR REPLACE INTO unswept (digest, form) VALUES (?1, ?2)",
        (digest.text(), form.ending()),
    )?;
    blobs::forget(change, digest.text())
}

/// Whether somebody holds this picture's file, or it cannot be told. One that is not there is not held.
fn held(path: &Path) -> bool {
    match File::open(path) {
        Ok(file) => file.try_lock().is_err(),
        Err(error) => error.kind() != io::ErrorKind::NotFound,
    }
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
