//! The pictures, each a file named by the digest of its bytes, and their index in the book.

use crate::aside::{self, Aside};
use crate::fault::BookFault;
use crate::files;
use crate::picture::{Picture, PictureFormat};
use crate::turn::{self, Halt};
use entries::Digest;
use rusqlite::{Connection, OptionalExtension, Row, Transaction};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// What these bytes are called by.
pub(crate) fn digest_of(bytes: &[u8]) -> Digest {
    Digest::parse(&files::digest(bytes)).expect("a digest has 64 small figures")
}

/// The folder of all pictures of the book at `book`.
pub(crate) fn folder(book: &Path) -> PathBuf {
    files::beside(book, ".pictures")
}

/// Where the picture's file lies.
pub(crate) fn place(book: &Path, digest: &Digest, form: PictureFormat) -> PathBuf {
    within(&folder(book), digest, form)
}

/// Where the picture's file lies in a folder of pictures: some hundreds to a folder, as some systems are slow with more.
pub(crate) fn within(folder: &Path, digest: &Digest, form: PictureFormat) -> PathBuf {
    let text = digest.text();
    folder
        .join(&text[..2])
        .join(format!("{text}.{}", form.ending()))
}

/// Where the picture's preview lies.
pub(crate) fn preview_place(book: &Path, digest: &Digest) -> PathBuf {
    let [_, preview] = both(&folder(book), digest, PictureFormat::Jpeg);
    preview
}

/// A picture's file and its preview's in a folder of pictures.
pub(crate) fn both(folder: &Path, digest: &Digest, form: PictureFormat) -> [PathBuf; 2] {
    let whole = within(folder, digest, form);
    let preview = whole.with_file_name(format!("{digest}.preview.jpg"));
    [whole, preview]
}

/// Enters a picture into the index, with the digest of its preview where there is one.
pub(crate) fn keep(
    change: &Transaction<'_>,
    picture: &Picture,
    preview: Option<&str>,
) -> Result<(), Halt> {
    aside::change(change, Aside::Picture, &picture.digest.text(), || {
        change.execute(
            "INSERT INTO blob (digest, form, bytes, width, height, preview) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
            ON CONFLICT (digest) DO UPDATE SET preview = coalesce(excluded.preview, preview)",
            (
                picture.digest.text(),
                picture.form.ending(),
                turn::as_number(picture.bytes),
                picture.width,
                picture.height,
                preview,
            ),
        )?;
        Ok(())
    })
}

/// Keeps the digest of a picture's preview.
pub(crate) fn previewed(
    change: &Transaction<'_>,
    digest: &Digest,
    preview: &str,
) -> Result<(), Halt> {
    aside::change(change, Aside::Picture, &digest.text(), || {
        change.execute(
            "UPDATE blob SET preview = ?2 WHERE digest = ?1",
            (digest.text(), preview),
        )?;
        Ok(())
    })
}

/// The digest of a picture's preview, if one was made.
pub(crate) fn preview_digest(store: &Connection, digest: &Digest) -> Result<Option<String>, Halt> {
    let mut found = store.prepare_cached("SELECT preview FROM blob WHERE digest = ?1")?;
    let found = found.query_row([digest.text()], |row| row.get(0));
    Ok(found.optional()?.flatten())
}

pub(crate) fn find(store: &Connection, digest: &Digest) -> Result<Option<Picture>, Halt> {
    let mut found = store
        .prepare_cached("SELECT digest, form, bytes, width, height FROM blob WHERE digest = ?1")?;
    Ok(found
        .query_row([digest.text()], picture_of)
        .optional()?
        .flatten())
}

/// All pictures of the index, by digest.
pub(crate) fn all(store: &Connection) -> rusqlite::Result<Vec<Picture>> {
    let mut found =
        store.prepare("SELECT digest, form, bytes, width, height FROM blob ORDER BY digest")?;
    let pictures = found.query_map((), picture_of)?;
    pictures.filter_map(Result::transpose).collect()
}

/// A row of the index; nothing where it makes no sense.
pub(crate) fn picture_of(row: &Row<'_>) -> rusqlite::Result<Option<Picture>> {
    let (digest, form): (String, String) = (row.get(0)?, row.get(1)?);
    let (bytes, width, height) = (row.get(2)?, row.get(3)?, row.get(4)?);
    let named = Digest::parse(&digest).zip(PictureFormat::of_ending(&form));
    Ok(named.map(|(digest, form)| Picture {
        digest,
        form,
        bytes,
        width,
        height,
    }))
}

/// Keeps which picture a line shows; there must be one.
pub(crate) fn show(change: &Transaction<'_>, sequence: i64, digest: &Digest) -> Result<(), Halt> {
    if find(change, digest)?.is_none() {
        let digest = digest.clone();
        return Err(BookFault::NoSuchPicture { digest }.into());
    }
    change.execute(
        "INSERT INTO shown (sequence, digest) VALUES (?1, ?2)",
        (sequence, digest.text()),
    )?;
    Ok(())
}

/// Strikes a picture out of the index.
pub(crate) fn forget(change: &Transaction<'_>, digest: &str) -> Result<(), Halt> {
    aside::change(change, Aside::Picture, &digest, || {
        change.execute("DELETE FROM blob WHERE digest = ?1", [digest])?;
        Ok(())
    })
}

/// Whether any entry shows a picture.
pub(crate) fn is_shown(store: &Connection, digest: &Digest) -> Result<bool, Halt> {
    let mut shows = store.prepare_cached("SELECT 1 FROM shown WHERE digest = ?1 LIMIT 1")?;
    Ok(shows.exists([digest.text()])?)
}

/// What lies in the folders of pictures: no link is followed, and no folder within them looked into.
pub(crate) fn parts(folder: &Path) -> Vec<PathBuf> {
    let is_folder = |path: &PathBuf| fs::symlink_metadata(path).is_ok_and(|there| there.is_dir());
    let parts = files::below(folder).into_iter().filter(is_folder);
    parts.flat_map(|part| files::below(&part)).collect()
}

/// The files of pictures, and of previews, in a folder of pictures, each with the digest that its name begins with. What else a person
/// keeps there is none.
pub(crate) fn pictures_in(folder: &Path) -> Vec<(Digest, PathBuf)> {
    let is_file = |file: &PathBuf| fs::symlink_metadata(file).is_ok_and(|there| there.is_file());
    let files = parts(folder).into_iter().filter(is_file);
    files
        .filter_map(|file| Some((digest_in(&file)?, file)))
        .collect()
}

/// Files of pictures that are not among those named.
pub(crate) fn strays(folder: &Path, named: &BTreeSet<Digest>) -> Vec<PathBuf> {
    let files = pictures_in(folder).into_iter();
    files
        .filter(|(digest, _)| !named.contains(digest))
        .map(|(_, file)| file)
        .collect()
}

/// The digest that a name begins with. Where capitals and small letters are the same a file manager may have changed them.
fn digest_in(file: &Path) -> Option<Digest> {
    let name = files::name(file).to_ascii_lowercase();
    name.split('.').next().and_then(Digest::parse)
}
