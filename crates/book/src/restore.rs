//! From a backup to a book: somewhere where there is none, and all of it or nothing.

use crate::backup::{self, Page};
use crate::picture::Picture;
use crate::{Book, BookFault, Syncing, blobs, files};
use rusqlite::{Connection, OpenFlags};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;

/// Makes a book at `path` from the backup in a folder, and opens it.
///
/// # Errors
/// [`BookFault::AlreadyThere`] if there is a book; [`BookFault::HalfABackup`] if anything of the backup is
/// missing or another than it was. Then no book is made.
pub fn restore(folder: &Path, path: &Path) -> Result<Book, BookFault> {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    no_book_at(&path)?;
    let page = backup::read_page(folder)?;
    let half = |detail: String| BookFault::HalfABackup {
        path: folder.to_owned(),
        detail,
    };
    let copy = folder.join(&page.book);
    let found = files::digest_of_file(&copy);
    match found {
        Ok((digest, _)) if digest == page.digest => {}
        Ok(_) => return Err(half(format!("{} is another than it was", page.book))),
        Err(error) => return Err(half(format!("{}: {error}", page.book))),
    }
    // What the book in the backup names.
    let pictures = Connection::open_with_flags(&copy, OpenFlags::SQLITE_OPEN_READ_ONLY)
        .and_then(|store| blobs::all(&store))
        .map_err(|error| BookFault::of(&copy, &error))?;
    let missing = complete(folder, &page, &pictures);
    if let Some(missing) = missing {
        return Err(half(missing));
    }
    let above = path.parent().unwrap_or(Path::new("."));
    let refused = |error: io::Error| BookFault::file(&path, &error);
    files::folder(above, Syncing::Each).map_err(refused)?;
    // The pictures first: each is what its name says, so one that is there already is the same. Then the book, at once.
    for picture in &pictures {
        let to = blobs::place(&path, &picture.digest, picture.form);
        let from = blobs::within(&folder.join("pictures"), &picture.digest, picture.form);
        let Ok(bytes) = fs::read(&from) else {
            continue;
        };
        if blobs::digest_of(&bytes) != picture.digest {
            return Err(half(format!("{} is another than it was", from.display())));
        }
        if let Some(folder) = to.parent() {
            files::folder(folder, Syncing::Each).map_err(refused)?;
        }
        files::write(&to, &bytes, Syncing::Each)?;
    }
    set_aside(&path).map_err(refused)?;
    place(&copy, &path)?;
    Book::open(&path)
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
fn no_book_at(path: &Path) -> Result<(), BookFault> {
    match fs::symlink_metadata(path) {
        Ok(there) if !there.is_file() || there.len() > 0 => Err(BookFault::AlreadyThere {
            path: path.to_owned(),
        }),
        _ => Ok(()),
    }
}

/// What a lost book left beside it, and would be read as part of the one that is put in its place, gets another name.
fn set_aside(path: &Path) -> io::Result<()> {
    for end in ["", "-wal", "-shm", "-journal"] {
        let there = files::beside(path, end);
        if fs::symlink_metadata(&there).is_err() {
            continue;
        }
        let aside = (1..)
            .map(|n| files::beside(&there, &format!(".left-{n}")))
            .find(|aside| fs::symlink_metadata(aside).is_err());
        if let Some(aside) = aside {
            fs::rename(&there, aside)?;
        }
    }
    Ok(())
}

/// Copies a whole file to a place where there is none: at once, and never over another.
pub(crate) fn place(from: &Path, to: &Path) -> Result<(), BookFault> {
    let above = to.parent().unwrap_or(Path::new("."));
    let put = || -> io::Result<()> {
        let mut new = files::half_file(above)?;
        io::copy(&mut fs::File::open(from)?, new.as_file_mut())?;
        files::readable_by_all_who_may(new.as_file())?;
        new.as_file().sync_all()?;
        new.persist_noclobber(to)?;
        files::sync_folder(above, Syncing::Each)
    };
    put().map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => BookFault::AlreadyThere {
            path: to.to_owned(),
        },
        _ => BookFault::file(to, &error),
    })
}

/// What is missing of a backup, if anything is: not what was missing when it was made.
fn complete(folder: &Path, page: &Page, pictures: &[Picture]) -> Option<String> {
    let there = |picture: &&Picture| {
        blobs::within(&folder.join("pictures"), &picture.digest, picture.form).is_file()
    };
    let found = pictures.iter().filter(there).count();
    let expected = page.pictures;
    (found < expected).then(|| format!("{} of {expected} pictures are missing", expected - found))
}
