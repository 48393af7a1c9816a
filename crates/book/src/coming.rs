//! Pictures that were kept and that no line shows yet: while the entry that will show one is on its way it is held fast, and one
//! that nobody holds any more is struck out again.
//!
//! A picture is held by its file, which whoever kept it has locked until the entry is in: the machine lets go where a program
//! ends in whatever way, and no clock is asked.

use crate::picture::{Form, Picture};
use crate::{Book, BookFault, Halt, Syncing, blobs, files, removal, tidy};
use entries::Digest;
use rusqlite::Transaction;
use std::fs::{File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use tempfile::NamedTempFile;

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

/// What the name of a note begins with that announces a picture; the name of its file follows.
const ANNOUNCES: &str = ".coming-";

/// A note beside a picture's file that is about to be written: until the book names it, it tells that the file is of no use by itself.
/// It stays where the picture is not kept in the end, and the next backup takes both away.
pub(crate) struct Note {
    path: PathBuf,
    /// Locked as long as somebody is at work.
    _at_work: File,
}

/// Announces a picture's file, on the disk before the file is.
pub(crate) fn announce(picture: &Path, syncing: Syncing) -> io::Result<Note> {
    let folder = picture.parent().unwrap_or(Path::new("."));
    let prefix = format!("{ANNOUNCES}{}-", tidy::name(picture));
    let note = NamedTempFile::with_prefix_in(prefix, folder)?;
    let _ = note.as_file().try_lock_shared();
    let (file, path) = note.keep().map_err(|error| error.error)?;
    files::sync_folder(folder, syncing)?;
    Ok(Note {
        path,
        _at_work: file,
    })
}

impl Note {
    /// The book names the picture. A note that stays all the same does no harm.
    pub(crate) fn come(self) {
        let _ = std::fs::remove_file(self.path);
    }
}

/// Whether this is such a note.
pub(crate) fn announces(path: &Path) -> bool {
    tidy::name(path).starts_with(ANNOUNCES)
}

/// The picture that a note announces.
fn announced(path: &Path) -> Option<(Digest, Form)> {
    let name = tidy::name(path);
    let (digest, rest) = name.strip_prefix(ANNOUNCES)?.split_once('.')?;
    let (form, _) = rest.split_once('-')?;
    Digest::parse(digest).zip(Form::of_ending(form))
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

    /// Takes away a note that nobody is at work on any more, and the picture's files with it, unless the book names it.
    pub(crate) fn not_coming(&self, note: &Path) -> Result<(), BookFault> {
        if at_work(note) {
            return Ok(());
        }
        if let Some((digest, form)) = announced(note) {
            // While this changes the book nobody else keeps the picture: whoever is about to sees that it is there.
            self.write(|change| {
                if blobs::find(change, &digest)?.is_none() {
                    for file in blobs::both(&blobs::folder(&self.path), &digest, form) {
                        removal::gone(&file).map_err(|error| BookFault::file(&file, &error))?;
                    }
                }
                Ok(())
            })?;
        }
        tidy::away(note)
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
