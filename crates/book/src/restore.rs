//! From a backup to a book: somewhere where there is none, and all of it or nothing.

use crate::backups::{self, Page};
use crate::book::Book;
use crate::detail::Detail;
use crate::fault::BookFault;
use crate::files::{self, Syncing};
use crate::picture::Picture;
use crate::placing::{self, BOOK};
use crate::{blobs, form, rest};
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
    placing::no_book_at(&path)?;
    let page = backups::read_page(folder)?;
    let half = |detail: Detail| BookFault::HalfABackup {
        path: folder.to_owned(),
        detail,
    };
    let copy = folder.join(&page.book);
    let found = files::plain(folder, &page.book).and_then(files::digest_of);
    match found {
        Ok((digest, _)) if digest == page.digest => {}
        Ok(_) => return Err(half(format!("{} is another than it was", page.book).into())),
        Err(error) => return Err(half(Detail::within(&page.book, &error))),
    }
    // What the book in the backup names, once it is plain that nothing else is in it.
    let told = |error: rusqlite::Error| BookFault::of(&copy, &error);
    let mut store = rest::still(&copy).map_err(told)?;
    let look = store.transaction().map_err(told)?;
    form::sound(&look, &copy)?;
    let pictures = blobs::all(&look).map_err(told)?;
    drop(look);
    if let Some(missing) = complete(folder, &page, &pictures) {
        return Err(half(missing.into()));
    }
    let above = path.parent().unwrap_or(Path::new("."));
    let refused = |error: io::Error| BookFault::file(&path, &error);
    // All of it elsewhere first, so that nothing is left where anything of it is refused.
    let (filling, _at_work) = files::half_anew(above).map_err(refused)?;
    let making = filling.path().join(BOOK);
    let again = fs::copy(&copy, &making).and_then(|_| files::digest_of_file(&making));
    match again.map_err(refused)? {
        (digest, _) if digest == page.digest => {}
        _ => return Err(half(format!("{} is another than it was", page.book).into())),
    }
    let within = blobs::folder(&making);
    for picture in &pictures {
        let from = blobs::within(Path::new("pictures"), &picture.digest, picture.form);
        let bytes = match files::plain_bytes(folder, &from, MOST_KEPT) {
            Ok(bytes) => bytes,
            Err(error) if error.kind() == ErrorKind::NotFound => continue,
            Err(error) => return Err(half(Detail::within(from.display().to_string(), &error))),
        };
        if blobs::digest_of(&bytes) != picture.digest {
            return Err(half(
                format!("{} is another than it was", from.display()).into(),
            ));
        }
        let to = blobs::within(&within, &picture.digest, picture.form);
        if let Some(folder) = to.parent() {
            files::folder(folder, Syncing::Each).map_err(refused)?;
        }
        files::write_new(&to, &bytes).map_err(refused)?;
    }
    placing::settle(filling.path(), &path)?;
    Book::open(&path)
}

/// The most bytes of a picture that is kept: PNG of the most points that are kept, packed not at all, and some for its head.
pub(crate) const MOST_KEPT: usize = 64 << 20;

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
