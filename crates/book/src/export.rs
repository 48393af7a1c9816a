//! All of a book in open formats: JSON, JSON Lines, CSV, TOML and the pictures, in a folder that says by itself what is
//! what. The tables are for reading elsewhere; all else is what [`import`](crate::import) makes the same book of again.

use crate::book::Book;
use crate::fault::BookFault;
use crate::files::{self, Syncing};
use crate::id::JobId;
use crate::picture::{self, Picture};
use crate::table::TableWriter;
use crate::turn::Halt;
use crate::{blobs, chain, lines};
use entries::{Digest, Entry, EntryContent, Log, Work};
use rusqlite::{Connection, OptionalExtension};
use serde::{Deserialize, Serialize};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

/// The version of an export's form that is read and written here.
pub(crate) const VERSION: u64 = 1;

/// The page that tells the SHA-256 of every other file: its figures, two blanks, the file's name. Source of the form: GNU coreutils
/// manual, "md5sum invocation".
pub(crate) const SUMS: &str = "sums.txt";

/// The two tables.
const JOBS: &str = "jobs.csv";
const ENTRIES: &str = "entries.csv";

/// What was exported, or imported.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Carried {
    /// Jobs.
    pub jobs: usize,
    /// Entries.
    pub entries: usize,
    /// Pictures.
    pub pictures: usize,
    /// Pictures that are named, but whose files are gone or altered.
    pub missing: usize,
}

/// The page that says what is in an export.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Page {
    pub(crate) trundle_export: u64,
    /// Numbers of the jobs; each has a folder of that name.
    pub(crate) jobs: Vec<i64>,
    /// The job that is being worked on.
    pub(crate) current: Option<i64>,
    /// What the shop has settled.
    pub(crate) settings: BTreeMap<String, String>,
    /// The pictures' files.
    pub(crate) pictures: Vec<String>,
    /// Those of pictures that were not to be had any more.
    pub(crate) missing: Vec<String>,
    /// Where its lines end; exports of before do not tell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) end: Option<EndPage>,
}

/// Where the chain of all lines ends, over what is exported: of a sound book with all its pictures it is the book's own.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EndPage {
    pub(crate) lines: i64,
    /// The last link, in figures.
    pub(crate) link: String,
}

/// What is kept of a job beside its log and its sheet.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct JobPage {
    pub(crate) name: String,
    pub(crate) view: Option<ViewPage>,
    /// The place of each line of the log among all lines of the book, in order.
    pub(crate) written: Vec<i64>,
}

/// How a job is looked at.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ViewPage {
    pub(crate) plate: String,
    pub(crate) upside_down: bool,
}

impl Book {
    /// Writes all of it, as it stands at one instant, to a folder that is not there yet. Others may read and write the book
    /// meanwhile.
    ///
    /// # Errors
    /// [`BookFault::AlreadyThere`]; or it cannot be written. Nothing with the folder's name is left behind then.
    pub fn export(&self, folder: &Path) -> Result<Carried, BookFault> {
        for _ in 0..TRIES {
            let (carried, removed) = self.export_once(folder)?;
            if self.read(|store| Ok(last_removal(store)?))? == removed {
                return Ok(carried);
            }
            // What was removed while it was being written must not be in it.
            files::take_away(folder).map_err(|error| BookFault::file(folder, &error))?;
        }
        Err(BookFault::Busy {
            path: self.path.clone(),
            detail: "something is removed again and again while it is exported".into(),
        })
    }

    /// Gives besides where the last removal stood at that instant.
    fn export_once(&self, folder: &Path) -> Result<(Carried, i64), BookFault> {
        let told = |error: rusqlite::Error| BookFault::of(&self.path, &error);
        let mut store = self.apart().map_err(told)?;
        let store = store.transaction().map_err(told)?;
        let removed = last_removal(&store).map_err(told)?;
        let carried = files::whole_folder(folder, |half| {
            let out = Out {
                store: &store,
                book: &self.path,
                folder: half,
                sums: RefCell::default(),
                pictures: RefCell::default(),
                shown: RefCell::default(),
            };
            out.all().map_err(|halt| halt.of_book_at(&self.path))
        })?;
        Ok((carried, removed))
    }
}

/// So often an export is begun anew because something was removed meanwhile.
const TRIES: usize = 3;

/// Where the last removal stands among all lines; 0 where there is none.
fn last_removal(store: &Connection) -> rusqlite::Result<i64> {
    let sql = "SELECT coalesce(max(sequence), 0) FROM removal";
    store.query_row(sql, (), |row| row.get(0))
}

/// An export under way.
struct Out<'a> {
    store: &'a Connection,
    book: &'a Path,
    folder: &'a Path,
    /// What each file is called by that was written.
    sums: RefCell<BTreeMap<String, String>>,
    /// The pictures, those that were not to be had with nothing told of their size: so they are imported.
    pictures: RefCell<BTreeMap<Digest, Picture>>,
    /// Which picture a line shows, by its place among all lines.
    shown: RefCell<BTreeMap<i64, Picture>>,
}

impl Out<'_> {
    fn all(&self) -> Result<Carried, Halt> {
        let mut carried = Carried::default();
        let (pictures, missing) = self.pictures()?;
        (carried.pictures, carried.missing) = (pictures.len(), missing.len());
        let jobs = self.jobs(&mut carried)?;
        let (lines, link) = chain::over(self.store, &self.shown.borrow())?;
        let link = files::figures(&link);
        let page = Page {
            trundle_export: VERSION,
            jobs,
            current: (self.store)
                .query_row("SELECT job FROM current", (), |row| row.get(0))
                .optional()?,
            settings: self.settings()?,
            pictures,
            missing,
            end: Some(EndPage { lines, link }),
        };
        self.write("book.json", pretty(&page).as_bytes())?;
        for table in [JOBS, ENTRIES] {
            let path = self.folder.join(table);
            let (digest, _) =
                files::digest_of_file(&path).map_err(|error| BookFault::file(&path, &error))?;
            self.sums.borrow_mut().insert(table.to_owned(), digest);
        }
        let sums = self.sums.take().into_iter();
        let sums: String = sums
            .map(|(name, digest)| format!("{digest}  {name}\n"))
            .collect();
        self.write(SUMS, sums.as_bytes())?;
        Ok(carried)
    }

    fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Halt> {
        let path = self.folder.join(name);
        let put = || -> io::Result<()> {
            if let Some(folder) = path.parent() {
                files::folder(folder, Syncing::Each)?;
            }
            files::write_new(&path, bytes)
        };
        put().map_err(|error| BookFault::file(&path, &error))?;
        let digest = files::digest(bytes);
        self.sums.borrow_mut().insert(name.to_owned(), digest);
        Ok(())
    }

    fn settings(&self) -> Result<BTreeMap<String, String>, Halt> {
        let mut found = self.store.prepare("SELECT name, text FROM setting")?;
        let rows = found.query_map((), |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    fn jobs(&self, carried: &mut Carried) -> Result<Vec<i64>, Halt> {
        let mut lists = Tables::begin(self.folder)?;
        let mut found = self.store.prepare(
            "SELECT id, name, sheet, plate, upside_down FROM job LEFT JOIN view ON view.job = id ORDER BY id",
        )?;
        let mut rows = found.query(())?;
        let mut ids = Vec::new();
        while let Some(row) = rows.next()? {
            let id: i64 = row.get(0)?;
            let plate: Option<String> = row.get(3)?;
            let view = match plate {
                Some(plate) => Some(ViewPage {
                    plate,
                    upside_down: row.get(4)?,
                }),
                None => None,
            };
            let page = JobPage {
                name: row.get(1)?,
                view,
                written: self.written(id)?,
            };
            let sheet: String = row.get(2)?;
            let text = lines::log(self.store, JobId(id))?;
            let log = lines::readable(&text)?;
            self.write(&format!("jobs/{id}/job.json"), pretty(&page).as_bytes())?;
            self.write(&format!("jobs/{id}/log.jsonl"), text.as_bytes())?;
            self.write(&format!("jobs/{id}/sheet.toml"), sheet.as_bytes())?;
            for (entry, sequence) in log.entries().iter().zip(page.written.iter().skip(1)) {
                let shown = entry.work().and_then(Work::picture);
                if let Some(picture) =
                    shown.and_then(|digest| self.pictures.borrow().get(digest).cloned())
                {
                    self.shown.borrow_mut().insert(*sequence, picture);
                }
                if let Some(Work::Sheet { text, .. }) = entry.work() {
                    let name = format!("jobs/{id}/sheet-{}.toml", entry.n);
                    self.write(&name, text.as_bytes())?;
                }
            }
            lists.job(id, &page, &log)?;
            carried.jobs += 1;
            carried.entries += log.entries().len();
            ids.push(id);
        }
        lists.end()?;
        Ok(ids)
    }

    fn written(&self, id: i64) -> Result<Vec<i64>, Halt> {
        let mut found =
            (self.store).prepare_cached("SELECT sequence FROM line WHERE job = ?1 ORDER BY n")?;
        let rows = found.query_map([id], |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Writes the pictures, and gives the names of those that are there and of those that are not.
    fn pictures(&self) -> Result<(Vec<String>, Vec<String>), Halt> {
        let (mut names, mut missing) = (Vec::new(), Vec::new());
        for picture in blobs::all(self.store)? {
            let name = format!("pictures/{}.{}", picture.digest, picture.form.ending());
            let place = blobs::place(self.book, &picture.digest, picture.form);
            let bytes = files::read(&place).ok();
            let bytes = bytes.filter(|bytes| blobs::digest_of(bytes) == picture.digest);
            let measured = bytes.and_then(|bytes| Some((picture::measure(&bytes).ok()?, bytes)));
            let told = match measured {
                Some((measured, bytes)) => {
                    self.write(&name, &bytes)?;
                    names.push(name);
                    Picture {
                        bytes: bytes.len(),
                        width: measured.width,
                        height: measured.height,
                        ..picture
                    }
                }
                None => {
                    missing.push(name);
                    Picture {
                        bytes: 0,
                        width: 0,
                        height: 0,
                        ..picture
                    }
                }
            };
            self.pictures.borrow_mut().insert(told.digest.clone(), told);
        }
        Ok((names, missing))
    }
}

fn pretty(page: &impl Serialize) -> String {
    // Plain data with text for keys always goes into JSON.
    serde_json::to_string_pretty(page).unwrap_or_default() + "\n"
}

/// The two tables, for a reader of tables.
struct Tables {
    jobs: Table,
    entries: Table,
}

impl Tables {
    fn begin(folder: &Path) -> Result<Tables, Halt> {
        let jobs = ["job", "name", "stage", "handed_back", "entries", "last"];
        let entries = ["job", "n", "written", "at", "kind", "counts", "says"];
        Ok(Tables {
            jobs: Table::begin(folder.join(JOBS), &jobs)?,
            entries: Table::begin(folder.join(ENTRIES), &entries)?,
        })
    }

    fn job(&mut self, id: i64, page: &JobPage, log: &Log) -> Result<(), Halt> {
        let last = page.written.last().copied().unwrap_or_default();
        let id = id.to_string();
        self.jobs.row(&[
            &id,
            log.clock().unwrap_or(&page.name),
            log.stage().word(),
            yes(log.handed_back()),
            &log.entries().len().to_string(),
            &last.to_string(),
        ])?;
        let counts: BTreeSet<usize> = log.standing().map(|entry| entry.n).collect();
        for (entry, written) in log.entries().iter().zip(page.written.iter().skip(1)) {
            self.entries.row(&[
                &id,
                &entry.n.to_string(),
                &written.to_string(),
                entry.at.as_deref().unwrap_or_default(),
                &kind(entry),
                yes(counts.contains(&entry.n)),
                &entry.words(),
            ])?;
        }
        Ok(())
    }

    fn end(self) -> Result<(), Halt> {
        self.jobs.end()?;
        Ok(self.entries.end()?)
    }
}

/// A table that is being written; what is refused is told of its own file.
struct Table {
    path: PathBuf,
    out: TableWriter<File>,
}

impl Table {
    fn begin(path: PathBuf, columns: &[&str]) -> Result<Table, BookFault> {
        let file = File::create_new(&path).map_err(|error| BookFault::file(&path, &error))?;
        let out = TableWriter::to(file);
        let mut table = Table { path, out };
        table.row(columns)?;
        Ok(table)
    }

    fn row(&mut self, fields: &[&str]) -> Result<(), BookFault> {
        let written = self.out.row(fields.iter().copied());
        written.map_err(|error| BookFault::file(&self.path, &error))
    }

    fn end(self) -> Result<(), BookFault> {
        let done = self.out.end().and_then(|file| file.sync_all());
        done.map_err(|error| BookFault::file(&self.path, &error))
    }
}

fn yes(yes: bool) -> &'static str {
    if yes { "yes" } else { "no" }
}

/// The word that a line has for its kind.
fn kind(entry: &Entry) -> String {
    match &entry.told {
        EntryContent::Unknown { kind, .. } => kind.clone(),
        EntryContent::Known(kind) => {
            let plain = serde_json::to_value(kind).unwrap_or_default();
            plain["kind"].as_str().unwrap_or_default().to_owned()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A device that takes nothing stands for a disk that is full.
    #[cfg(target_os = "linux")]
    #[test]
    fn what_a_table_cannot_take_is_told_of_that_table() {
        let folder = tempfile::tempdir().expect("a folder");
        for (name, other) in [(JOBS, ENTRIES), (ENTRIES, JOBS)] {
            let file = |name: &str, device: bool| {
                let path = folder.path().join(name);
                let file = match device {
                    true => File::options().write(true).open("/dev/full"),
                    false => File::create(&path),
                };
                let out = TableWriter::to(file.expect("a file"));
                let mut table = Table { path, out };
                table.row(&["job"]).expect("it is only held yet");
                table
            };
            let tables = Tables {
                jobs: file(JOBS, name == JOBS),
                entries: file(ENTRIES, name == ENTRIES),
            };
            let told = match tables.end() {
                Err(Halt::Refused(BookFault::DiskFull { path, .. })) => path,
                _ => panic!("{name} cannot be written, {other} can"),
            };
            assert_eq!(told, folder.path().join(name));
        }
    }
}
