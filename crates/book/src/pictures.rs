//! Pictures as the book takes and gives them.

use crate::book::Book;
use crate::fault::BookFault;
use crate::id::{EntryPlace, JobId};
use crate::picture::{self, Picture, PictureFormat};
use crate::{blobs, coming, files, whole};
use entries::Digest;
use std::path::Path;
use std::sync::PoisonError;

/// How large a picture is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// As it is kept.
    Whole,
    /// Small, for a list.
    Preview,
}

/// A picture of the book that is not whole, or too large to be shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotWhole {
    /// What it is called by.
    pub digest: Digest,
    /// Which entries show it.
    pub shown: Vec<EntryPlace>,
    /// What is wrong with it.
    pub why: BookFault,
}

impl Book {
    /// The pictures that came in with a backup or an export and are not whole, as far as their marks tell. They are kept all the
    /// same: what is left of one may be all that there is. Those whose files are gone or altered [`verify`](Book::verify) tells.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn not_whole(&self) -> Result<Vec<NotWhole>, BookFault> {
        self.read(|store| {
            let mut shows = store.prepare_cached(
                "SELECT job, n FROM line JOIN shown USING (sequence) WHERE digest = ?1 ORDER BY job, n",
            )?;
            let mut found = Vec::new();
            for Picture { digest, form, .. } in blobs::all(store)? {
                let Ok(bytes) = files::read(&blobs::place(&self.path, &digest, form)) else {
                    continue;
                };
                if let Err(why) = whole::whole(&bytes) {
                    let shown = shows.query_map([digest.text()], |row| {
                        Ok(EntryPlace {
                            job: JobId(row.get(0)?),
                            n: row.get(1)?,
                        })
                    })?;
                    let shown = shown.collect::<Result<_, _>>()?;
                    found.push(NotWhole { digest, shown, why });
                }
            }
            Ok(found)
        })
    }

    /// How many of its pictures are not there.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn not_there(&self) -> Result<usize, BookFault> {
        let known = self.read(|store| Ok(blobs::all(store)?))?;
        let gone =
            |known: &&Picture| !blobs::place(&self.path, &known.digest, known.form).is_file();
        Ok(known.iter().filter(gone).count())
    }

    /// Keeps a picture, and gives what it is called by. It is unpacked, turned as the camera was held, made no larger than
    /// is of use and packed anew, so nothing else that was in the file is kept: no place, no time, no name. Once this has
    /// returned, it is kept; given again, it is the same picture. An entry is to show it: where none will, it is
    /// [let go](Book::let_go), and where this program ends before, it is struck out with the next backup. Bytes that are given
    /// over are let go once it is unpacked.
    ///
    /// # Errors
    /// It is none, or too large; or it cannot be written.
    pub fn keep_picture(&self, bytes: impl AsRef<[u8]>) -> Result<Picture, BookFault> {
        let packed = {
            let _alone = self
                .unpacking
                .lock()
                .unwrap_or_else(PoisonError::into_inner);
            picture::repack(bytes)?
        };
        let digest = blobs::digest_of(&packed.whole);
        let picture = Picture {
            digest,
            form: packed.form,
            bytes: packed.whole.len(),
            width: packed.width,
            height: packed.height,
        };
        let path = blobs::place(&self.path, &picture.digest, picture.form);
        if let Some(folder) = path.parent() {
            files::folder(folder, self.syncing).map_err(|error| BookFault::file(folder, &error))?;
        }
        let note = coming::announce(&path, self.syncing)
            .map_err(|error| BookFault::file(&path, &error))?;
        // First the file, then its line in the index: what the index names is there.
        files::write(&path, &packed.whole, self.syncing)?;
        let preview = blobs::preview_place(&self.path, &picture.digest);
        files::write(&preview, &packed.preview, self.syncing)?;
        let preview = files::digest(&packed.preview);
        self.write(|change| {
            blobs::keep(change, &picture, Some(&preview))?;
            // A removal of this very picture may have swept it away in between.
            if !path.exists() {
                files::write(&path, &packed.whole, self.syncing)?;
            }
            // Until an entry shows it.
            let held = self.coming.hold(&picture.digest, &path);
            Ok(held.map_err(|error| BookFault::file(&path, &error))?)
        })?;
        note.come();
        Ok(picture)
    }

    /// What is known of a picture.
    ///
    /// # Errors
    /// There is none of this name, or the book cannot be read.
    pub fn picture(&self, digest: &Digest) -> Result<Picture, BookFault> {
        self.read(|store| {
            let found = blobs::find(store, digest)?;
            Ok(found.ok_or_else(|| BookFault::NoSuchPicture {
                digest: digest.clone(),
            })?)
        })
    }

    /// A picture's bytes, and what they are: a JPEG or PNG file.
    ///
    /// # Errors
    /// There is none of this name, or its file is gone.
    pub fn picture_bytes(
        &self,
        digest: &Digest,
        size: Size,
    ) -> Result<(PictureFormat, Vec<u8>), BookFault> {
        let picture = self.picture(digest)?;
        let whole = || {
            let path = blobs::place(&self.path, digest, picture.form);
            files::read(&path).map_err(|error| lost(&path, &error))
        };
        match size {
            Size::Whole => Ok((picture.form, whole()?)),
            Size::Preview => {
                let path = blobs::preview_place(&self.path, digest);
                let known = self.read(|store| blobs::preview_digest(store, digest))?;
                if let Some(known) = &known
                    && let Ok(bytes) = files::read(&path)
                    && files::digest(&bytes) == *known
                {
                    return Ok((PictureFormat::Jpeg, bytes));
                }
                // After a restore or an import it is made when it is first asked for, and again where it was altered.
                let whole = whole()?;
                let alone = self
                    .unpacking
                    .lock()
                    .unwrap_or_else(PoisonError::into_inner);
                let preview = picture::preview_of(&whole)?;
                drop(alone);
                if blobs::digest_of(&whole) == *digest {
                    self.keep_preview(digest, &path, &preview, known.as_deref());
                }
                Ok((PictureFormat::Jpeg, preview))
            }
        }
    }

    /// Keeps a preview that was made again. Where it cannot be kept it is made once more when it is next asked for.
    fn keep_preview(&self, digest: &Digest, path: &Path, preview: &[u8], known: Option<&str>) {
        if files::write(path, preview, self.syncing).is_err() {
            return;
        }
        let sum = files::digest(preview);
        if known != Some(sum.as_str()) {
            let _ = self.write(|change| blobs::previewed(change, digest, &sum));
        }
    }

    /// The pictures that a job's entries show, by number of entry; those that were taken back too.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn pictures_of(&self, job: JobId) -> Result<Vec<(usize, Picture)>, BookFault> {
        self.read(|store| {
            let mut found = store.prepare_cached(
                "SELECT blob.digest, form, bytes, width, height, line.n
                FROM line JOIN shown USING (sequence) JOIN blob ON blob.digest = shown.digest
                WHERE line.job = ?1 ORDER BY line.n",
            )?;
            let mut rows = found.query([job.0])?;
            let mut pictures = Vec::new();
            while let Some(row) = rows.next()? {
                let n = row.get(5)?;
                pictures.extend(blobs::picture_of(row)?.map(|picture| (n, picture)));
            }
            Ok(pictures)
        })
    }
}

fn lost(path: &Path, error: &std::io::Error) -> BookFault {
    BookFault::PictureLost {
        path: path.to_owned(),
        detail: error.into(),
    }
}
