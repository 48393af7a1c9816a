//! A book that was made elsewhere comes to its place: its pictures, then its file. First all of it lies beside its place, whole and
//! on the disk, in a folder with a name of its own. Once that has its name it is carried out, by the next start if need be.

use crate::fault::BookFault;
use crate::files::{self, Syncing};
use crate::turn::PATIENCE;
use crate::{blobs, coming, rest};
use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use tempfile::TempPath;

/// What the book is called in a folder that is to be placed; its pictures lie beside it.
pub(crate) const BOOK: &str = "book";

/// Where all that is to be placed lies.
pub(crate) fn folder(book: &Path) -> PathBuf {
    files::beside(book, ".placing")
}

/// Whether a book is on its way to this place.
pub(crate) fn any(book: &Path) -> bool {
    is_ours(&folder(book))
        && fs::symlink_metadata(folder(book).join(BOOK)).is_ok_and(|there| there.is_file())
}

/// Whether this is such a folder: no link that leads elsewhere, and nothing in it but what a book on its way has.
fn is_ours(folder: &Path) -> bool {
    let a_folder = fs::symlink_metadata(folder).is_ok_and(|there| there.is_dir());
    a_folder && (files::below(folder).iter()).all(|path| files::name(path).starts_with(BOOK))
}

/// What was done so far, to be taken back where the rest cannot be done.
#[derive(Default)]
struct Done {
    aside: Vec<[PathBuf; 2]>,
    pictures: Vec<PathBuf>,
}

/// Puts what was made in a half folder where it belongs, in place of what was broken off on its way there before. Where that cannot
/// be done, nothing has changed; where it is broken off, the next start does it.
///
/// # Errors
/// There is a book already, or the machine refuses.
pub(crate) fn settle(half: &Path, path: &Path) -> Result<(), BookFault> {
    give_up(path)?;
    let refused = |error: io::Error| BookFault::file(path, &error);
    let whole = || -> io::Result<()> {
        let book = File::open(half.join(BOOK))?;
        files::readable_by_all_who_may(&book)?;
        book.sync_all()?;
        files::sync_folder(half, Syncing::Each)?;
        fs::rename(half, folder(path))?;
        files::sync_folder(above(path), Syncing::Each)
    };
    whole().map_err(refused)?;
    let mut done = Done::default();
    carry_out(path, &mut done).inspect_err(|_| {
        // First it is no longer on its way: nobody may carry out what is being taken back.
        if fs::rename(folder(path), half).is_err() {
            return;
        }
        let _ = files::sync_folder(above(path), Syncing::Each);
        for path in done.pictures.iter().rev() {
            let _ = match path.is_dir() {
                true => fs::remove_dir_all(path),
                false => fs::remove_file(path),
            };
        }
        for [there, aside] in &done.aside {
            let _ = fs::rename(aside, there);
        }
    })
}

/// Carries out what was broken off on the way to this place. Where a book lies there by now, nothing is done: what is left goes with
/// the first backup.
///
/// # Errors
/// Somebody is at it, or the machine refuses.
pub(crate) fn finish(path: &Path) -> Result<(), BookFault> {
    if !any(path) {
        return Ok(());
    }
    let _alone = alone(path)?;
    let making = folder(path).join(BOOK);
    if cfg!(unix) && files::which(&making) == files::which(path) {
        // It has its name, and still the one that it came with.
        return fs::remove_file(&making).map_err(|error| BookFault::file(path, &error));
    }
    // Whoever was at it may have finished.
    if !any(path) || no_book_at(path).is_err() {
        return Ok(());
    }
    carry_out(path, &mut Done::default())
}

/// Gives up what was broken off on the way to this place. Its pictures that came there already are of no use by themselves: unless a
/// book names them, they go with its first backup.
///
/// # Errors
/// Somebody is at it, or the machine refuses.
pub(crate) fn give_up(path: &Path) -> Result<(), BookFault> {
    let folder = folder(path);
    if !is_ours(&folder) {
        return Ok(());
    }
    let _alone = alone(path)?;
    let making = folder.join(BOOK);
    let pictures = rest::still(&making).and_then(|store| blobs::all(&store));
    let gone = || -> io::Result<()> {
        for picture in pictures.unwrap_or_default() {
            let file = blobs::place(path, &picture.digest, picture.form);
            if file.is_file() {
                drop(coming::announce(&file, Syncing::Each)?);
            }
        }
        // Without its book it is carried out no more.
        files::gone(&making)?;
        fs::remove_dir_all(&folder)
    };
    gone().map_err(|error| BookFault::file(&folder, &error))
}

/// Waits until nobody else is at what is on its way.
fn alone(path: &Path) -> Result<Option<File>, BookFault> {
    // Where folders cannot be opened this cannot be told.
    let Ok(held) = File::open(folder(path)) else {
        return Ok(None);
    };
    let began = Instant::now();
    loop {
        match held.try_lock() {
            Err(TryLockError::WouldBlock) if began.elapsed() < PATIENCE => {
                std::thread::sleep(Duration::from_millis(5));
            }
            Err(TryLockError::WouldBlock) => {
                return Err(BookFault::Busy {
                    path: path.to_owned(),
                    detail: "it is being put in its place".into(),
                });
            }
            _ => return Ok(Some(held)),
        }
    }
}

fn above(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new("."))
}

/// Does what is left to be done, however much of it was done before. The pictures come first: each is what its name says, so one that
/// is there already is the same.
fn carry_out(path: &Path, done: &mut Done) -> Result<(), BookFault> {
    let refused = |error: io::Error| BookFault::file(path, &error);
    let making = folder(path).join(BOOK);
    no_book_at(path)?;
    set_aside(path, &mut done.aside).map_err(refused)?;
    take_over(
        &blobs::folder(&making),
        &blobs::folder(path),
        &mut done.pictures,
    )
    .map_err(refused)?;
    // Never over another.
    TempPath::try_from_path(&making)
        .map_err(refused)?
        .persist_noclobber(path)
        .map_err(|refused| {
            // It is not to go yet.
            let _ = refused.path.keep();
            match refused.error.kind() {
                ErrorKind::AlreadyExists => BookFault::AlreadyThere {
                    path: path.to_owned(),
                },
                _ => BookFault::file(path, &refused.error),
            }
        })?;
    files::sync_folder(above(path), Syncing::Each).map_err(refused)?;
    // The book is there; what is left of its way goes with the first backup at the latest.
    let _ = fs::remove_dir_all(folder(path))
        .and_then(|()| files::sync_folder(above(path), Syncing::Each));
    Ok(())
}

/// What a lost book left beside it, and would be read as part of the one that is put in its place, gets another name.
fn set_aside(path: &Path, put: &mut Vec<[PathBuf; 2]>) -> io::Result<()> {
    for end in ["", "-wal", "-shm", "-journal"] {
        let there = files::beside(path, end);
        if fs::symlink_metadata(&there).is_err() {
            continue;
        }
        let aside = (1..)
            .map(|n| files::beside(&there, &format!(".left-{n}")))
            .find(|aside| fs::symlink_metadata(aside).is_err());
        if let Some(aside) = aside {
            fs::rename(&there, &aside)?;
            put.push([there, aside]);
        }
    }
    if put.is_empty() {
        return Ok(());
    }
    files::sync_folder(above(path), Syncing::Each)
}

/// Moves what is in a folder to another, which may lie on another disk, and tells what came to be there. A file that is there
/// already is the same, or one of its name that was damaged.
fn take_over(from: &Path, to: &Path, put: &mut Vec<PathBuf>) -> io::Result<()> {
    if fs::symlink_metadata(from).is_err() {
        return Ok(());
    }
    let new = fs::symlink_metadata(to).is_err();
    if new {
        put.push(to.to_owned());
    }
    let whole = new || !from.is_dir();
    match whole.then(|| fs::rename(from, to)) {
        Some(Err(error)) if error.kind() != ErrorKind::CrossesDevices => return Err(error),
        Some(Ok(())) => {}
        _ if from.is_dir() => {
            files::folder(to, Syncing::Each)?;
            for within in fs::read_dir(from)? {
                let name = within?.file_name();
                take_over(&from.join(&name), &to.join(&name), put)?;
            }
        }
        _ => {
            let mut new = files::half_file(above(to))?;
            io::copy(&mut File::open(from)?, new.as_file_mut())?;
            files::readable_by_all_who_may(new.as_file())?;
            new.as_file().sync_all()?;
            new.persist(to)?;
        }
    }
    files::sync_folder(above(to), Syncing::Each)
}

/// Sees that there is no book at `path`, nor what a book leaves beside it and would be read as part of another.
pub(crate) fn nothing_at(path: &Path) -> Result<(), BookFault> {
    for end in ["", "-wal", "-shm", "-journal"] {
        let there = files::beside(path, end);
        if fs::symlink_metadata(&there).is_ok() {
            return Err(BookFault::AlreadyThere { path: there });
        }
    }
    Ok(())
}

/// Sees that there is no book at `path`; a file cut to nothing is none.
pub(crate) fn no_book_at(path: &Path) -> Result<(), BookFault> {
    match fs::symlink_metadata(path) {
        Ok(there) if !there.is_file() || there.len() > 0 => Err(BookFault::AlreadyThere {
            path: path.to_owned(),
        }),
        _ => Ok(()),
    }
}
