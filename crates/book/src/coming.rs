//! Pictures that were kept and that no line shows yet: while the entry that will show one is on its way it is held fast.
//!
//! A picture is held by its file, which whoever kept it has locked until the entry is in: the machine lets go where a program
//! ends in whatever way, and no clock is asked.

use crate::files::{self, Syncing};
use crate::picture::PictureFormat;
use entries::Digest;
use std::fs::File;
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
    let prefix = format!("{ANNOUNCES}{}-", files::name(picture));
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
    files::name(path).starts_with(ANNOUNCES)
}

/// The picture that a note announces.
pub(crate) fn announced(path: &Path) -> Option<(Digest, PictureFormat)> {
    let name = files::name(path);
    let (digest, rest) = name.strip_prefix(ANNOUNCES)?.split_once('.')?;
    let (form, _) = rest.split_once('-')?;
    Digest::parse(digest).zip(PictureFormat::of_ending(form))
}
