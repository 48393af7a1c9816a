//! A process that works on a book, says what is kept, and is to be killed over it.
#![allow(dead_code)]

use crate::made_up::{begun, shows, some_picture};
use book::{Book, BookDamage, JobId, Syncing};
use entries::{Digest, EntryKind, Log};
use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, channel};
use std::thread;

/// Where the process finds its book, what it does there, and whether it carries it to the disk.
const BOOK: &str = "BOOK_TO_BE_KILLED_OVER";
const WORK: &str = "BOOK_WORK";
const SYNCING: &str = "BOOK_SYNCING";
/// Where it finds it for work of the test's own.
const OWN: &str = "BOOK_TO_BE_KILLED_OVER_BY_OWN_WORK";
/// After so many things it ends by itself, as suddenly as if it were killed.
const ENOUGH: &str = "BOOK_ENOUGH";

/// The entries of one job; then the next is begun, as whole logs are read again and again here.
const ENTRIES: usize = 60;
/// Entries that go in together.
const TOGETHER: usize = 3;

/// What the process does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Deed {
    /// Entries, three at a time.
    Write,
    /// Pictures, and entries that show them.
    Upload,
    /// It opens the book, which is of an older form.
    Migrate,
}

/// What was acknowledged.
#[derive(Debug, Default, Clone)]
pub(crate) struct Acknowledged {
    entries: BTreeMap<JobId, usize>,
    pictures: BTreeSet<Digest>,
}

impl Acknowledged {
    /// Takes note of a line that the process said: `kept JOB ENTRIES` or `kept PICTURE`.
    pub(crate) fn note(&mut self, kept: &str) {
        match kept.split_once(' ') {
            Some((id, entries)) => {
                let entries = entries.parse().unwrap();
                self.entries.insert(id.parse().unwrap(), entries);
            }
            None => {
                self.pictures.insert(Digest::parse(kept).unwrap());
            }
        }
    }

    pub(crate) fn any(&self) -> bool {
        !self.entries.is_empty()
    }

    pub(crate) fn total(&self) -> usize {
        self.entries.values().sum::<usize>() + self.pictures.len()
    }
}

/// Does the work where this is the process that is to be killed; comes back at once in any other.
pub(crate) fn work_if_victim() {
    let Some(path) = std::env::var_os(BOOK) else {
        return;
    };
    let syncing = match std::env::var(SYNCING).as_deref() {
        Ok("never") => Syncing::Never,
        _ => Syncing::Each,
    };
    let deed = std::env::var(WORK).unwrap();
    if deed == "Migrate" {
        acknowledge("1 0");
    }
    let book = Book::open_with(Path::new(&path), syncing).unwrap();
    match &*deed {
        "Write" => write(&book),
        "Upload" => upload(&book),
        _ => {
            acknowledge("1 0");
            std::process::exit(0);
        }
    }
}

pub(crate) fn acknowledge(what: &str) {
    let mut out = std::io::stdout().lock();
    // In one piece, behind whatever the test runner has said on this line.
    out.write_all(format!("kept {what}\n").as_bytes()).unwrap();
    out.flush().unwrap();
    static SAID: AtomicUsize = AtomicUsize::new(1);
    let enough = std::env::var(ENOUGH)
        .ok()
        .and_then(|enough| enough.parse().ok());
    if Some(SAID.fetch_add(1, Ordering::Relaxed)) == enough {
        std::process::exit(0);
    }
}

/// The last job while it is not full, or a new one, and its log.
fn job(book: &Book) -> (JobId, Log) {
    if let Some(last) = book.jobs().unwrap().first()
        && last.entries < ENTRIES
    {
        let text = book.job(last.id).unwrap().log;
        return (last.id, Log::read(text.as_bytes()).unwrap().0);
    }
    let log = begun("Wren Street");
    let id = book.start("Wren Street", "sheet", log.text()).unwrap();
    acknowledge(&format!("{id} 0"));
    (id, log)
}

fn write(book: &Book) -> ! {
    loop {
        let (id, mut log) = job(book);
        let before = log.entries().len();
        let mut added = String::new();
        for n in before + 1..=before + TOGETHER {
            let struck = EntryKind::Struck { hour: 4 };
            added += &log.append(&struck, Some(&at(id, n))).unwrap();
        }
        book.append(id, before, &added).unwrap();
        acknowledge(&format!("{id} {}", before + TOGETHER));
    }
}

fn upload(book: &Book) -> ! {
    loop {
        let (id, mut log) = job(book);
        let before = log.entries().len();
        let seed = u32::try_from(before).unwrap() + 1000 * id.to_string().parse::<u32>().unwrap();
        let kept = book.keep_picture(some_picture(seed)).unwrap();
        acknowledge(kept.digest.text());
        let mut added = String::new();
        for n in before + 1..=before + TOGETHER {
            let shows = EntryKind::Work(shows(&kept.digest));
            added += &log.append(&shows, Some(&at(id, n))).unwrap();
        }
        book.append(id, before, &added).unwrap();
        acknowledge(&format!("{id} {}", before + TOGETHER));
    }
}

/// What tells an entry from all others; of different lengths, so that lines end anywhere in the pages of the file.
fn at(id: JobId, n: usize) -> String {
    format!("{n} of {id}{}", "–".repeat(n * n % 97))
}

/// What tells this very program that it is the victim.
pub(crate) fn told(deed: Deed, path: &Path, syncing: Syncing) -> [(&'static str, String); 3] {
    let syncing = if syncing == Syncing::Never {
        "never"
    } else {
        "each"
    };
    [
        (BOOK, path.to_str().unwrap().to_owned()),
        (WORK, format!("{deed:?}")),
        (SYNCING, syncing.to_owned()),
    ]
}

/// Has it work until it has acknowledged so many things, with every call written down by which it reaches a file; nothing
/// where that cannot be written down here.
pub(crate) fn watched(
    test: &str,
    told: &[(&'static str, String)],
    enough: usize,
) -> Result<String, String> {
    let folder = tempfile::tempdir().unwrap();
    let trace = folder.path().join("calls");
    let ran = Command::new("strace")
        .args(["-f", "-y", "-qq", "-xx", "-s", "1000000", "-e", CALLS, "-o"])
        .arg(&trace)
        .arg(std::env::current_exe().unwrap())
        .args(["--exact", "--nocapture", test])
        .envs(told.iter().cloned())
        .env(ENOUGH, enough.to_string())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .output()
        .map_err(|error| format!("strace: {error}"))?;
    if !ran.status.success() {
        return Err(String::from_utf8_lossy(&ran.stderr).into_owned());
    }
    Ok(std::fs::read_to_string(trace).unwrap())
}

/// Every call by which what is in a file, or what a folder holds, can change, and those that carry it to the disk.
const CALLS: &str = "trace=open,openat,creat,write,writev,pwrite64,pwritev,pwritev2,truncate,ftruncate,fallocate,\
    copy_file_range,sendfile,fsync,fdatasync,sync_file_range,rename,renameat,renameat2,link,linkat,unlink,unlinkat,\
    mkdir,mkdirat,rmdir";

/// Starts it, and gives whole lines of what it acknowledges until its end.
pub(crate) fn start(test: &str, deed: Deed, path: &Path) -> (Child, Receiver<String>) {
    begin(test, self::told(deed, path, Syncing::Each))
}

/// The same with work of the test's own.
pub(crate) fn start_own(test: &str, path: &Path) -> (Child, Receiver<String>) {
    begin(test, [(OWN, path.to_str().unwrap().to_owned())])
}

/// Does the test's own work where this is the process that is to be killed over it; comes back at once in any other.
pub(crate) fn work_if_own(work: impl FnOnce(&Book, &dyn Fn(&str))) {
    if let Some(path) = std::env::var_os(OWN) {
        work(&Book::open(Path::new(&path)).unwrap(), &acknowledge);
        std::process::exit(0);
    }
}

fn begin(
    test: &str,
    told: impl IntoIterator<Item = (&'static str, String)>,
) -> (Child, Receiver<String>) {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", "--nocapture", test]);
    command.envs(told);
    // That some of it is killed while it is about to fall over is what is wanted; nobody need read of it.
    command.stdout(Stdio::piped()).stderr(Stdio::null());
    let mut child = command.spawn().unwrap();
    let mut said = BufReader::new(child.stdout.take().unwrap());
    let (tell, told) = channel();
    thread::spawn(move || {
        let mut line = String::new();
        while said.read_line(&mut line).unwrap() > 0 && line.ends_with('\n') {
            // The first may stand behind what the test runner says.
            if let Some((_, kept)) = line.split_once("kept ")
                && tell.send(kept.trim_end().to_owned()).is_err()
            {
                break;
            }
            line.clear();
        }
    });
    (child, told)
}

/// Opens the book again, has it verify itself, and holds it against what was acknowledged: what is wrong, if anything is.
pub(crate) fn inspect(path: &Path, acknowledged: &Acknowledged) -> Result<(), String> {
    let book = Book::open(path).map_err(|fault| format!("it does not open: {fault:?}"))?;
    let verdict = book.verify().map_err(|fault| format!("{fault:?}"))?;
    let wrong: Vec<BookDamage> = verdict.wrong;
    if !wrong.is_empty() {
        return Err(format!("{wrong:?}"));
    }
    let jobs = book.jobs().map_err(|fault| format!("{fault:?}"))?;
    for id in acknowledged.entries.keys() {
        if !jobs.iter().any(|job| job.id == *id) {
            return Err(format!("job {id} is gone"));
        }
    }
    for job in jobs {
        let text = book.job(job.id).unwrap().log;
        let (log, _) = Log::read(text.as_bytes()).unwrap();
        let held = log.entries().len();
        let kept = acknowledged.entries.get(&job.id).copied().unwrap_or(0);
        if held < kept {
            return Err(format!("job {}: {held} of {kept}", job.id));
        }
        if !held.is_multiple_of(TOGETHER) {
            return Err(format!("job {}: some of what goes in together", job.id));
        }
        for (entry, n) in log.entries().iter().zip(1..) {
            if (entry.n, entry.at.as_deref()) != (n, Some(&*at(job.id, n))) {
                return Err(format!("job {}, entry {n}: another", job.id));
            }
        }
    }
    for digest in &acknowledged.pictures {
        let there = book.picture_bytes(digest, book::Size::Whole);
        there.map_err(|fault| format!("picture {digest}: {fault:?}"))?;
    }
    Ok(())
}
