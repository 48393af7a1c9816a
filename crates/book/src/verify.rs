//! Whether all of a book is as it should be: the store's own check, every log, every list, every word, every picture.

use crate::aside::{self, Aside};
use crate::backup::{self, BackupWas};
use crate::book::Book;
use crate::chain::{self, LineWas};
use crate::fault::BookFault;
use crate::id::JobId;
use crate::picture::Picture;
use crate::turn::Halt;
use crate::{backups, blobs, files, lines, words};
use entries::{Day, Digest, Log, Work};
use rusqlite::{Connection, OptionalExtension};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// What was found when a book was verified.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Verdict {
    /// Jobs gone over.
    pub jobs: usize,
    /// Entries gone over.
    pub entries: usize,
    /// Pictures gone over.
    pub pictures: usize,
    /// Lines that stood in the book before it kept digests, or came by an import: held to be as they were found then.
    pub as_found: u64,
    /// The book's own backups that were gone over and are as they were made.
    pub backups: Vec<PathBuf>,
    /// Picture files that the book does not name, left when something was broken off. They do no harm.
    pub strays: usize,
    /// What is wrong; nothing where all is well.
    pub wrong: Vec<BookDamage>,
}

/// Something that is wrong with a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BookDamage {
    /// What the store's own check says.
    Store(String),
    /// A job's log cannot be read, or a line of it is missing.
    Log(JobId),
    /// Lines of a job, by their numbers (0 for the one it begins with, its name and its first sheet), are not those that were
    /// written.
    Lines {
        /// The job.
        job: JobId,
        /// Their numbers.
        numbers: Vec<usize>,
        /// What became of them.
        was: LineWas,
    },
    /// The end of the book is cut off.
    Cut {
        /// Lines that were written.
        written: u64,
        /// Lines that are left of them.
        left: u64,
    },
    /// Something that stands beside the lines is not what it was.
    Aside(Aside),
    /// A picture's preview is another than it was. That is harmless: it is made anew when it is next asked for.
    Preview(Digest),
    /// One of the book's own backups is not what it was.
    Backup {
        /// The backup.
        folder: PathBuf,
        /// What of it.
        was: BackupWas,
    },
    /// What the list shows of a job does not follow from its log.
    List(JobId),
    /// The words of a job's lines are not those that would be found.
    Words(JobId),
    /// A picture's file is gone.
    Missing(Digest),
    /// A picture's file is another than it was.
    Altered(Digest),
    /// A backup of it holds more than the book does: this is an earlier one, or another.
    LessThanBackup {
        /// The backup.
        backup: PathBuf,
        /// How far it goes.
        held: Extent,
        /// How far this book goes.
        has: Extent,
    },
    /// So many removals have not been carried through to every file and backup.
    Unswept(usize),
}

/// How far a book goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Extent {
    /// The place of its last line.
    pub lines: u64,
    /// Jobs in it; nothing where they cannot be counted.
    pub jobs: Option<usize>,
    /// The day of the last of its lines that tells one.
    pub day: Option<Day>,
}

impl Book {
    /// Goes over all of it, as it stands at one instant. Others may read and write meanwhile.
    ///
    /// # Errors
    /// The book cannot be read at all.
    pub fn verify(&self) -> Result<Verdict, BookFault> {
        let told = |error: rusqlite::Error| BookFault::of(&self.path, &error);
        let mut store = self.apart().map_err(told)?;
        let store = store.transaction().map_err(told)?;
        let all = || -> Result<Verdict, Halt> {
            let mut verdict = Verdict::default();
            for check in ["integrity_check", "foreign_key_check"] {
                verdict.wrong.extend(own_check(&store, check)?);
            }
            if verdict.wrong.is_empty() {
                each_line(&store, &mut verdict)?;
                each_job(&store, &mut verdict)?;
                each_picture(&store, &self.path, &mut verdict)?;
                for (folder, was) in backup::gone_over(&self.path) {
                    match was {
                        None => verdict.backups.push(folder),
                        Some(was) => verdict.wrong.push(BookDamage::Backup { folder, was }),
                    }
                }
                let unswept = store.query_row(
                    "SELECT max((SELECT count(*) FROM removal WHERE swept = 0), (SELECT count(*) > 0 FROM unswept))",
                    (),
                    |row| row.get(0),
                )?;
                let has = extent(&store)?;
                if let Some((lines, backup)) = backups::fullest(&self.path)
                    && lines > has.lines
                {
                    let held = backups::book_in(&backup).and_then(|store| extent(&store));
                    let held = held.unwrap_or(Extent {
                        lines,
                        jobs: None,
                        day: None,
                    });
                    // Else it is its page that is wrong, and told as that.
                    if held.lines > has.lines {
                        let less = BookDamage::LessThanBackup { backup, held, has };
                        verdict.wrong.push(less);
                    }
                }
                if unswept > 0 {
                    verdict.wrong.push(BookDamage::Unswept(unswept));
                }
            }
            Ok(verdict)
        };
        all().map_err(|halt| halt.of_book_at(&self.path))
    }
}

fn extent(store: &Connection) -> rusqlite::Result<Extent> {
    let day: Option<String> = store
        .query_row(
            "SELECT json_extract(text, '$.at') AS at FROM line
            WHERE json_valid(text) AND json_type(text, '$.at') = 'text' ORDER BY sequence DESC LIMIT 1",
            (),
            |row| row.get(0),
        )
        .optional()?;
    Ok(Extent {
        lines: lines::last(store)?,
        jobs: store.query_row("SELECT count(*) FROM job", (), |row| row.get(0))?,
        day: day.as_deref().and_then(Day::parse),
    })
}

/// What one of the store's own checks finds.
fn own_check(store: &Connection, name: &str) -> Result<Vec<BookDamage>, Halt> {
    let mut check = store.prepare(&format!("PRAGMA {name}"))?;
    let columns = check.column_count();
    let mut rows = check.query(())?;
    let mut wrong = Vec::new();
    while let Some(row) = rows.next()? {
        let said = (0..columns).map(|column| match row.get_ref(column) {
            Ok(value) => value
                .as_str()
                .map_or_else(|_| format!("{value:?}"), str::to_owned),
            Err(error) => error.to_string(),
        });
        let said = said.collect::<Vec<_>>().join(" ");
        if said != "ok" {
            wrong.push(BookDamage::Store(said));
        }
    }
    Ok(wrong)
}

fn each_line(store: &Connection, verdict: &mut Verdict) -> Result<(), Halt> {
    let broken = chain::along(store)?;
    for ((job, was), numbers) in broken.lines {
        verdict.wrong.push(BookDamage::Lines { job, numbers, was });
    }
    if let Some((written, left)) = broken.cut {
        verdict.wrong.push(BookDamage::Cut { written, left });
    }
    for aside in Aside::ALL {
        if !aside::agrees(store, aside)? || (aside == Aside::End && broken.end) {
            verdict.wrong.push(BookDamage::Aside(aside));
        }
    }
    let found = chain::end(store)?.map_or(0, |end| end.found);
    verdict.as_found = found.unsigned_abs();
    Ok(())
}

fn each_job(store: &Connection, verdict: &mut Verdict) -> Result<(), Halt> {
    let mut found = store.prepare("SELECT id, name, sheet FROM job ORDER BY id")?;
    let mut rows = found.query(())?;
    while let Some(row) = rows.next()? {
        let (id, name, sheet): (_, String, String) = (JobId(row.get(0)?), row.get(1)?, row.get(2)?);
        verdict.jobs += 1;
        let log = match lines::readable(&lines::log(store, id)?) {
            Ok(log) => log,
            Err(_) => {
                verdict.wrong.push(BookDamage::Log(id));
                continue;
            }
        };
        verdict.entries += log.entries().len();
        if !follows(store, id, &log)? {
            verdict.wrong.push(BookDamage::List(id));
        }
        if !found_again(store, id, &log, &words::of_first(&name, &sheet, &log))? {
            verdict.wrong.push(BookDamage::Words(id));
        }
    }
    Ok(())
}

/// Whether what the list shows of a job follows from its log.
fn follows(store: &Connection, id: JobId, log: &Log) -> Result<bool, Halt> {
    let mut found = store.prepare_cached(
        "SELECT entries = ?2 AND clock IS ?3 AND stage = ?4 AND home = ?5 AND sheet_now IS ?6
            AND last = (SELECT max(sequence) FROM line WHERE job = ?1)
            AND (SELECT count(*) FROM line WHERE job = ?1) = ?2 + 1
        FROM job WHERE id = ?1",
    )?;
    let follows = found.query_row(
        (
            id.0,
            log.entries().len(),
            log.clock(),
            log.stage().word(),
            log.handed_back(),
            log.sheet().map(|sheet| sheet.text),
        ),
        |row| row.get(0),
    )?;
    Ok(follows)
}

/// Whether each line has its number, its words, and the picture it shows.
fn found_again(store: &Connection, id: JobId, log: &Log, first: &str) -> Result<bool, Halt> {
    let mut found = store.prepare_cached(
        "SELECT n, said, digest FROM line LEFT JOIN words ON words.rowid = sequence
        LEFT JOIN shown USING (sequence) WHERE job = ?1 ORDER BY n",
    )?;
    let mut rows = found.query([id.0])?;
    let mut expected = 0;
    while let Some(row) = rows.next()? {
        let (n, said, digest): (usize, Option<String>, Option<String>) =
            (row.get(0)?, row.get(1)?, row.get(2)?);
        let entry = n
            .checked_sub(1)
            .and_then(|before| log.entries().get(before));
        let words = entry.map_or_else(|| first.to_owned(), |entry| entry.words());
        let picture = entry.and_then(|entry| entry.work()).and_then(Work::picture);
        if n != expected || said != Some(words) || digest.as_deref() != picture.map(Digest::text) {
            return Ok(false);
        }
        expected += 1;
    }
    Ok(expected == log.entries().len() + 1)
}

fn each_picture(store: &Connection, book: &Path, verdict: &mut Verdict) -> Result<(), Halt> {
    let mut found = store.prepare("SELECT digest, form, bytes, width, height FROM blob")?;
    let mut rows = found.query(())?;
    let mut named = BTreeSet::new();
    while let Some(row) = rows.next()? {
        let Some(Picture { digest, form, .. }) = blobs::picture_of(row)? else {
            let said = "a picture without a name".to_owned();
            verdict.wrong.push(BookDamage::Store(said));
            continue;
        };
        verdict.pictures += 1;
        let place = blobs::place(book, &digest, form);
        match files::digest_of_file(&place) {
            Ok((found, _)) if found == digest.text() => {}
            Ok(_) => verdict.wrong.push(BookDamage::Altered(digest.clone())),
            Err(_) => verdict.wrong.push(BookDamage::Missing(digest.clone())),
        }
        // One that is not there yet is made when it is asked for, and so is one of which no digest is known.
        if let Some(known) = blobs::preview_digest(store, &digest)?
            && let Ok((found, _)) = files::digest_of_file(&blobs::preview_place(book, &digest))
            && found != known
        {
            verdict.wrong.push(BookDamage::Preview(digest.clone()));
        }
        named.insert(digest);
    }
    verdict.strays = blobs::strays(&blobs::folder(book), &named).len();
    Ok(())
}
