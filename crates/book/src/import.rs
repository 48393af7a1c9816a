//! From an export to a book: somewhere where there is none, and all of it or nothing. What is read may come from anywhere:
//! every name in it is checked before it becomes a path, and every size before it is read.

use crate::backup::MOST_NUMBER;
use crate::export::{Carried, JobPage, Page, VERSION};
use crate::picture::{self, Form, MOST_PICTURE_BYTES, Picture};
use crate::restore::nothing_at;
use crate::{Book, BookFault, Halt, JobId, Syncing, blobs, files, jobs, placing, search, store};
use entries::{Digest, MOST_BYTES};
use serde::de::DeserializeOwned;
use std::collections::BTreeSet;
use std::path::Path;

/// The most bytes that a page of an export may have: a hundred thousand pictures' names take eight million.
const MOST_PAGE: usize = 64 << 20;

/// Makes a book at `path` of the export in a folder, and opens it.
///
/// # Errors
/// [`BookFault::AlreadyThere`] if there is a book or part of one; [`BookFault::NotAnExport`] if anything of the export is
/// missing or cannot be what it claims. Then no book is made.
pub fn import(folder: &Path, path: &Path) -> Result<(Book, Carried), BookFault> {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    nothing_at(&path)?;
    let from = Source { folder };
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
    let named: BTreeSet<&String> = page.pictures.iter().chain(&page.missing).collect();
    if named.len() < page.pictures.len() + page.missing.len() {
        return Err(from.refused("book.json names a picture twice"));
    }
    let above = path.parent().unwrap_or(Path::new("."));
    let refused = |error: std::io::Error| BookFault::file(&path, &error);
    files::folder(above, Syncing::Each).map_err(refused)?;
    let (half, _at_work) = files::half_folder(above).map_err(refused)?;
    let making = half.path().join(placing::BOOK);
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
            crate::known(change, JobId(id))?;
            change.execute("INSERT INTO current (one, job) VALUES (1, ?1)", [id])?;
        }
        // The lines of an export may have been written by anybody: they are held as they were found.
        store::as_found(change)
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
}

impl Source<'_> {
    fn refused(&self, detail: impl Into<String>) -> BookFault {
        BookFault::NotAnExport {
            path: self.folder.to_owned(),
            detail: detail.into(),
        }
    }

    fn read(&self, name: &str, most: usize) -> Result<Vec<u8>, BookFault> {
        files::plain_bytes(self.folder, name, most)
            .map_err(|error| self.refused(format!("{name}: {error}")))
    }

    fn text(&self, name: &str, most: usize) -> Result<String, BookFault> {
        let bytes = self.read(name, most)?;
        String::from_utf8(bytes).map_err(|_| self.refused(format!("{name} is not UTF-8")))
    }

    fn page<T: DeserializeOwned>(&self, name: &str) -> Result<T, BookFault> {
        let bytes = self.read(name, MOST_PAGE)?;
        serde_json::from_slice(&bytes).map_err(|error| self.refused(format!("{name}: {error}")))
    }

    fn picture(&self, name: &str, making: &Book, path: &Path) -> Result<(), BookFault> {
        let (digest, named) = self.picture_name(name)?;
        let bytes = self.read(name, MOST_PICTURE_BYTES)?;
        let (form, width, height) = picture::measure(&bytes)?;
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
    fn picture_name(&self, name: &str) -> Result<(Digest, Form), BookFault> {
        let parts = name
            .strip_prefix("pictures/")
            .and_then(|n| n.split_once('.'));
        let parts =
            parts.and_then(|(digest, form)| Digest::parse(digest).zip(Form::of_ending(form)));
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
        let text = self.text(&named("log.jsonl"), MOST_BYTES)?;
        let log = jobs::readable(&text)?;
        let lines: Vec<&str> = text.split_terminator('\n').collect();
        if lines.len() != page.written.len() {
            return Err(self.refused(format!(
                "{} has other lines than its page says",
                named("log.jsonl")
            )));
        }
        let made = making.write(|change| {
            change.execute(
                "INSERT INTO job (id, name, sheet) VALUES (?1, ?2, ?3)",
                (id, &page.name, &sheet),
            )?;
            let id = JobId(id);
            let first = search::of_first(&page.name, &sheet, &log);
            for ((n, line), sequence) in lines.iter().enumerate().zip(&page.written) {
                change.execute(
                    "INSERT INTO line (sequence, job, n, text) VALUES (?1, ?2, ?3, ?4)",
                    (sequence, id.0, n, line),
                )?;
                jobs::index_line(change, *sequence, n, &first, &log)?;
            }
            if let Some(view) = &page.view {
                change.execute(
                    "INSERT INTO view (job, plate, upside_down) VALUES (?1, ?2, ?3)",
                    (id.0, &view.plate, view.upside_down),
                )?;
            }
            jobs::follow(change, id, &log)?;
            Ok::<_, Halt>(log.entries().len())
        });
        made.map_err(|fault| match fault {
            // The store would not have two jobs of one number, or two lines in one place.
            BookFault::Failed { detail, .. } => self.refused(format!("job {id}: {detail}")),
            fault => fault,
        })
    }
}
