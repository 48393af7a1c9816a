//! From an export to a book: somewhere where there is none, and all of it or nothing. What is read may come from anywhere:
//! every name in it is checked before it becomes a path, and every size before it is read.

use crate::backups::MOST_NUMBER;
use crate::book::Book;
use crate::bounds::MOST_PICTURE_BYTES;
use crate::chain::{self, End};
use crate::detail::Detail;
use crate::export::{Carried, JobPage, Page, SUMS, VERSION};
use crate::fault::BookFault;
use crate::files::{self, Syncing};
use crate::id::JobId;
use crate::picture::{self, Measured, Picture, PictureFormat};
use crate::placing::{self, BOOK};
use crate::turn::Halt;
use crate::{blobs, lines, store, words};
use entries::{Digest, MOST_BYTES};
use serde::de::DeserializeOwned;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// The most bytes that a page of an export may have: a hundred thousand pictures' names take eight million.
const MOST_PAGE: usize = 64 << 20;

/// Makes a book at `path` of the export in a folder, and opens it.
///
/// # Errors
/// [`BookFault::AlreadyThere`] if there is a book or part of one; [`BookFault::NotAnExport`] if anything of the export is
/// missing, is not as it was exported or cannot be what it claims. Then no book is made.
pub fn import(folder: &Path, path: &Path) -> Result<(Book, Carried), BookFault> {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    placing::nothing_at(&path)?;
    let from = Source::of(folder)?;
    let page: Page = from.page("book.json")?;
    if page.trundle_export > VERSION {
        return Err(BookFault::NewerVersion {
            path: folder.to_owned(),
            got: page.trundle_export.cast_signed(),
            known: VERSION.cast_signed(),
        });
    }
    if page.trundle_export != VERSION {
        return Err(from.refused(format!("version {}", page.trundle_export)));
    }
    if page.end.is_some() && from.sums.is_none() {
        return Err(from.refused(format!("{SUMS} is missing")));
    }
    let named: BTreeSet<&String> = page.pictures.iter().chain(&page.missing).collect();
    if named.len() < page.pictures.len() + page.missing.len() {
        return Err(from.refused("book.json names a picture twice"));
    }
    let above = path.parent().unwrap_or(Path::new("."));
    let refused = |error: std::io::Error| BookFault::file(&path, &error);
    let (half, _at_work) = files::half_anew(above).map_err(refused)?;
    let making = half.path().join(BOOK);
    let book = Book::open_with(&making, Syncing::Never)?;
    let mut carried = Carried::default();
    for name in &page.pictures {
        from.picture(name, &book, &making)?;
        carried.pictures += 1;
    }
    for name in &page.missing {
        from.missing(name, &book)?;
        carried.missing += 1;
    }
    for id in &page.jobs {
        carried.entries += from.job(*id, &book)?;
        carried.jobs += 1;
    }
    book.write(|change| {
        for (name, text) in &page.settings {
            change.execute(
                "INSERT INTO setting (name, text) VALUES (?1, ?2)",
                (name, text),
            )?;
        }
        if let Some(id) = page.current {
            lines::job_is_there(change, JobId(id))?;
            change.execute("INSERT INTO current (one, job) VALUES (1, ?1)", [id])?;
        }
        // The lines of an export may have been written by anybody: they are held as they were found.
        store::as_found(change)?;
        Ok(from.ends(&page, chain::end(change)?)?)
    })?;
    book.store()
        .pragma_update(None, "journal_mode", "DELETE")
        .map_err(|error| BookFault::of(&making, &error))?;
    drop(book);
    placing::settle(half.path(), &path)?;
    Ok((Book::open(&path)?, carried))
}

/// The export that is being read.
struct Source<'a> {
    folder: &'a Path,
    /// What each of its files was called by when it was written; exports of before have none.
    sums: Option<BTreeMap<String, String>>,
}

impl<'a> Source<'a> {
    fn of(folder: &'a Path) -> Result<Source<'a>, BookFault> {
        let mut from = Source { folder, sums: None };
        if std::fs::symlink_metadata(folder.join(SUMS)).is_err() {
            return Ok(from);
        }
        // Nothing of it comes into the book, so it may have other names.
        let text = files::plain_bytes(folder, SUMS, MOST_PAGE)
            .map_err(|error| from.refused(Detail::within(SUMS, &error)))?;
        let text = String::from_utf8_lossy(&text);
        let line = |line: &str| -> Option<(String, String)> {
            // Carried by mail, a text may come with other ends of lines.
            let line = line.strip_suffix('\n')?.trim_end_matches('\r');
            let (digest, name) = line.split_once("  ")?;
            Digest::parse(digest)?;
            Some((name.to_owned(), digest.to_owned()))
        };
        let sums: Option<_> = text.split_inclusive('\n').map(line).collect();
        from.sums = Some(sums.ok_or_else(|| from.refused(format!("{SUMS} is cut or altered")))?);
        Ok(from)
    }

    fn refused(&self, detail: impl Into<Detail>) -> BookFault {
        BookFault::NotAnExport {
            path: self.folder.to_owned(),
            detail: detail.into(),
        }
    }

    /// Reads a file of it, and whether it is as it was written. A file that has names elsewhere is taken only if it is: copies of a
    /// folder often share their files, while of what is only said to belong to an export nobody knows whose it is.
    fn read_and_compare(&self, name: &str, most: usize) -> Result<(Vec<u8>, bool), BookFault> {
        let bytes = files::plain_bytes(self.folder, name, most)
            .map_err(|error| self.refused(Detail::within(name, &error)))?;
        let Some(sums) = &self.sums else {
            if files::has_other_names(&self.folder.join(name)) {
                return Err(self.refused(format!(
                    "{name} has other names, and no digest tells that it is of this export"
                )));
            }
            return Ok((bytes, true));
        };
        let as_written = sums.get(name) == Some(&files::digest(&bytes));
        Ok((bytes, as_written))
    }

    /// Whether the page of digests names a file.
    fn names(&self, name: &str) -> bool {
        (self.sums.as_ref()).is_some_and(|sums| sums.contains_key(name))
    }

    fn read(&self, name: &str, most: usize) -> Result<Vec<u8>, BookFault> {
        match self.read_and_compare(name, most)? {
            (bytes, true) => Ok(bytes),
            (_, false) if !self.names(name) => {
                Err(self.refused(format!("{SUMS} does not name {name}")))
            }
            (_, false) => Err(self.refused(format!("{name} is not as it was exported"))),
        }
    }

    /// Reads a log that was written with so many lines.
    fn log(&self, name: &str, written: usize) -> Result<String, BookFault> {
        let (bytes, as_written) = self.read_and_compare(name, MOST_BYTES)?;
        let lines = bytes.split_inclusive(|byte| *byte == b'\n').count();
        if lines != written {
            return Err(self.refused(format!(
                "{name}: of {written} lines that were written there are {lines}"
            )));
        }
        if !as_written {
            return Err(self.refused(format!("{name}: a line is another than was exported")));
        }
        String::from_utf8(bytes).map_err(|_| self.refused(format!("{name} is not UTF-8")))
    }

    /// Sees that the lines end where those of the book ended that was exported.
    fn ends(&self, page: &Page, end: Option<End>) -> Result<(), BookFault> {
        let (Some(told), Some(end)) = (&page.end, end) else {
            return Ok(());
        };
        if told.lines != end.links {
            let (written, there) = (told.lines, end.links);
            return Err(self.refused(format!(
                "of {written} lines that were written there are {there}"
            )));
        }
        if told.link != files::figures(&end.link) {
            return Err(
                self.refused("its lines are others than were exported, or in another order")
            );
        }
        Ok(())
    }

    fn text(&self, name: &str, most: usize) -> Result<String, BookFault> {
        let bytes = self.read(name, most)?;
        String::from_utf8(bytes).map_err(|_| self.refused(format!("{name} is not UTF-8")))
    }

    fn page<T: DeserializeOwned>(&self, name: &str) -> Result<T, BookFault> {
        let bytes = self.read(name, MOST_PAGE)?;
        serde_json::from_slice(&bytes).map_err(|error| self.refused(Detail::within(name, &error)))
    }

    fn picture(&self, name: &str, making: &Book, path: &Path) -> Result<(), BookFault> {
        let (digest, named) = self.picture_name(name)?;
        let bytes = self.read(name, MOST_PICTURE_BYTES)?;
        let Measured {
            form,
            width,
            height,
        } = picture::measure(&bytes)?;
        if form != named || blobs::digest_of(&bytes) != digest {
            return Err(self.refused(format!("{name} is another picture than its name says")));
        }
        let place = blobs::place(path, &digest, form);
        if let Some(folder) = place.parent() {
            files::folder(folder, Syncing::Each)
                .map_err(|error| BookFault::file(folder, &error))?;
        }
        files::write(&place, &bytes, Syncing::Each)?;
        let picture = Picture {
            digest,
            form,
            bytes: bytes.len(),
            width,
            height,
        };
        making.write(|change| blobs::keep(change, &picture, None))
    }

    /// A picture that was not to be had any more stays known.
    fn missing(&self, name: &str, making: &Book) -> Result<(), BookFault> {
        let (digest, form) = self.picture_name(name)?;
        let gone = Picture {
            digest,
            form,
            bytes: 0,
            width: 0,
            height: 0,
        };
        making.write(|change| blobs::keep(change, &gone, None))
    }

    /// What a picture's name says; it leads nowhere but to the folder of pictures.
    fn picture_name(&self, name: &str) -> Result<(Digest, PictureFormat), BookFault> {
        let parts = name
            .strip_prefix("pictures/")
            .and_then(|n| n.split_once('.'));
        let parts = parts
            .and_then(|(digest, form)| Digest::parse(digest).zip(PictureFormat::of_ending(form)));
        parts.ok_or_else(|| self.refused(format!("{name} is no picture's name")))
    }

    /// Makes one job, and gives how many entries it has.
    fn job(&self, id: i64, making: &Book) -> Result<usize, BookFault> {
        let number =
            |number: i64| u64::try_from(number).is_ok_and(|n| (1..=MOST_NUMBER).contains(&n));
        if !number(id) {
            return Err(self.refused(format!("{id} is no job's number")));
        }
        let named = |file: &str| format!("jobs/{id}/{file}");
        let page: JobPage = self.page(&named("job.json"))?;
        // A log is written in its own order.
        let in_order = page.written.windows(2).all(|pair| pair[0] < pair[1]);
        if !in_order || !page.written.iter().copied().all(number) {
            return Err(self.refused(format!("{}: places of lines", named("job.json"))));
        }
        let sheet = self.text(&named("sheet.toml"), MOST_BYTES)?;
        let text = self.log(&named("log.jsonl"), page.written.len())?;
        let log = lines::readable(&text)?;
        let lines: Vec<&str> = text.split_terminator('\n').collect();
        let made = making.write(|change| {
            change.execute(
                "INSERT INTO job (id, name, sheet) VALUES (?1, ?2, ?3)",
                (id, &page.name, &sheet),
            )?;
            let id = JobId(id);
            let first = words::of_first(&page.name, &sheet, &log);
            for ((n, line), sequence) in lines.iter().enumerate().zip(&page.written) {
                change.execute(
                    "INSERT INTO line (sequence, job, n, text) VALUES (?1, ?2, ?3, ?4)",
                    (sequence, id.0, n, line),
                )?;
                lines::index_line(change, *sequence, n, &first, &log)?;
            }
            if let Some(view) = &page.view {
                change.execute(
                    "INSERT INTO view (job, plate, upside_down) VALUES (?1, ?2, ?3)",
                    (id.0, &view.plate, view.upside_down),
                )?;
            }
            lines::follow(change, id, &log)?;
            Ok::<_, Halt>(log.entries().len())
        });
        made.map_err(|fault| match fault {
            // The store would not have two jobs of one number, or two lines in one place.
            BookFault::Failed { detail, .. } => {
                self.refused(Detail::within(format!("job {id}"), detail))
            }
            fault => fault,
        })
    }
}
