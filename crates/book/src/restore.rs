//! From a backup to a book: somewhere where there is none, and all of it or nothing.

use crate::backup::{self, Page};
use crate::picture::Picture;
use crate::{Book, BookFault, Syncing, blobs, files, rest, store};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

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
    let found = files::plain(folder, &page.book).and_then(files::digest_of);
    match found {
        Ok((digest, _)) if digest == page.digest => {}
        Ok(_) => return Err(half(format!("{} is another than it was", page.book))),
        Err(error) => return Err(half(format!("{}: {error}", page.book))),
    }
    // What the book in the backup names, once it is plain that nothing else is in it.
    let told = |error: rusqlite::Error| BookFault::of(&copy, &error);
    let mut store = rest::still(&copy).map_err(told)?;
    let look = store.transaction().map_err(told)?;
    store::sound(&look, &copy)?;
    let pictures = blobs::all(&look).map_err(told)?;
    drop(look);
    if let Some(missing) = complete(folder, &page, &pictures) {
        return Err(half(missing));
    }
    let above = path.parent().unwrap_or(Path::new("."));
    let refused = |error: io::Error| BookFault::file(&path, &error);
    files::folder(above, Syncing::Each).map_err(refused)?;
    // All of it elsewhere first, so that nothing is left where anything of it is refused.
    let (filling, _at_work) = files::half_folder(above).map_err(refused)?;
    let within = filling.path().join("pictures");
    for picture in &pictures {
        let from = blobs::within(Path::new("pictures"), &picture.digest, picture.form);
        let bytes = match files::plain_bytes(folder, &from, MOST_KEPT) {
            Ok(bytes) => bytes,
            Err(error) if error.kind() == ErrorKind::NotFound => continue,
            Err(error) => return Err(half(format!("{}: {error}", from.display()))),
        };
        if blobs::digest_of(&bytes) != picture.digest {
            return Err(half(format!("{} is another than it was", from.display())));
        }
        let to = blobs::within(&within, &picture.digest, picture.form);
        if let Some(folder) = to.parent() {
            files::folder(folder, Syncing::Each).map_err(refused)?;
        }
        files::write_new(&to, &bytes).map_err(refused)?;
    }
    let aside = set_aside(&path).map_err(refused)?;
    settle(&copy, &within, &path).inspect_err(|_| put_back(&aside))?;
    Book::open(&path)
}

/// The most bytes of a picture that is kept: PNG of the most points that are kept, packed not at all, and some for its head.
pub(crate) const MOST_KEPT: usize = 64 << 20;

/// Puts pictures and then the book where they belong. The pictures first: each is what its name says, so one that is there
/// already is the same. Where the book cannot be put, they go again.
pub(crate) fn settle(book: &Path, pictures: &Path, path: &Path) -> Result<(), BookFault> {
    let to = blobs::folder(path);
    let refused = |error: io::Error| BookFault::file(path, &error);
    let mut put = Vec::new();
    let done = take_over(pictures, &to, &mut put).map_err(refused);
    done.and_then(|()| place(book, path)).inspect_err(|_| {
        for path in put.iter().rev() {
            let _ = match path.is_dir() {
                true => fs::remove_dir_all(path),
                false => fs::remove_file(path),
            };
        }
    })
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
            let mut new = files::half_file(to.parent().unwrap_or(Path::new(".")))?;
            io::copy(&mut fs::File::open(from)?, new.as_file_mut())?;
            files::readable_by_all_who_may(new.as_file())?;
            new.as_file().sync_all()?;
            new.persist(to)?;
        }
    }
    files::sync_folder(to.parent().unwrap_or(Path::new(".")), Syncing::Each)
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
fn set_aside(path: &Path) -> io::Result<Vec<[PathBuf; 2]>> {
    let mut put = Vec::new();
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
    Ok(put)
}

/// Puts back what was set aside for nothing.
fn put_back(aside: &[[PathBuf; 2]]) {
    for [there, aside] in aside {
        let _ = fs::rename(aside, there);
    }
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
        let file = blobs::within(&folder.join("pictures"), &picture.digest, picture.form);
        fs::symlink_metadata(file).is_ok_and(|there| there.is_file())
    };
    let found = pictures.iter().filter(there).count();
    let expected = page.pictures;
    (found < expected).then(|| format!("{} of {expected} pictures are missing", expected - found))
}
