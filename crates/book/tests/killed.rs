//! What was acknowledged is there, whenever the program was killed. That the machine itself loses power is not tried.

use book::{Book, JobId};
use entries::{Header, Kind, Log};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use rusqlite::Connection;
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::Duration;

/// Where the process that is to be killed finds its book.
const TO_WRITE: &str = "BOOK_TO_BE_KILLED_OVER";
const KILLS: usize = 200;
const MAKINGS: usize = 60;
/// The entries of one job; then the next is begun, as whole logs are read again and again here.
const ENTRIES: usize = 60;
/// Entries that go in together.
const TOGETHER: usize = 3;

#[test]
fn whatever_was_acknowledged_is_there_after_two_hundred_kills() {
    if let Some(path) = std::env::var_os(TO_WRITE) {
        write(Path::new(&path));
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("folder").join("bench.book");
    let mut chance = Pcg64Mcg::seed_from_u64(1);
    let mut acknowledged = BTreeMap::new();
    let mut wrote = 0;
    for kill in 0..KILLS {
        let (mut writer, told) = start(&path);
        // Every fourth is killed at any instant from its birth, the others while they are sure to be writing.
        if kill % 4 != 0 {
            let first = told.recv_timeout(Duration::from_secs(30));
            note(&first.expect("something is written"), &mut acknowledged);
        }
        thread::sleep(Duration::from_micros(chance.random_range(0..60_000)));
        writer.kill().unwrap();
        assert!(!writer.wait().unwrap().success());
        let before = total(&acknowledged);
        for line in told {
            note(&line, &mut acknowledged);
        }
        wrote += usize::from(total(&acknowledged) > before);
        inspect(&path, &acknowledged, kill);
    }
    println!("{} entries acknowledged", total(&acknowledged));
    assert!(
        wrote > KILLS / 2,
        "only {wrote} were killed while they wrote"
    );
}

#[test]
fn a_book_killed_in_the_making_is_made_by_the_next() {
    let folder = tempfile::tempdir().unwrap();
    let mut chance = Pcg64Mcg::seed_from_u64(2);
    for kill in 0..MAKINGS {
        let path = folder.path().join(format!("{kill}")).join("bench.book");
        let (mut writer, told) = start(&path);
        thread::sleep(Duration::from_micros(chance.random_range(0..40_000)));
        writer.kill().unwrap();
        writer.wait().unwrap();
        let mut acknowledged = BTreeMap::new();
        for line in told {
            note(&line, &mut acknowledged);
        }
        inspect(&path, &acknowledged, kill);
    }
}

/// Writes as fast as it can, and says each time what is kept: `kept JOB ENTRIES`.
fn write(path: &Path) -> ! {
    let book = Book::open(path).unwrap();
    let acknowledge = |id: JobId, entries: usize| {
        let mut out = std::io::stdout().lock();
        writeln!(out, "kept {id} {entries}").unwrap();
        out.flush().unwrap();
    };
    loop {
        let (id, mut log) = match book.jobs().unwrap().first() {
            Some(last) if book.job(last.id).unwrap().log.lines().count() <= ENTRIES => {
                let log = book.job(last.id).unwrap().log;
                (last.id, Log::read(log.as_bytes()).unwrap().0)
            }
            _ => {
                let log = Log::start(Header {
                    sheet: "Wren Street".to_owned(),
                    hash: "5f0c".to_owned(),
                });
                let id = book.start("Wren Street", "sheet", log.text()).unwrap();
                acknowledge(id, 0);
                (id, log)
            }
        };
        while log.entries().len() < ENTRIES {
            let before = log.entries().len();
            let mut added = String::new();
            for n in before + 1..=before + TOGETHER {
                added += &log
                    .append(&Kind::Struck { hour: 4 }, Some(&at(id, n)))
                    .unwrap();
            }
            book.append(id, before, &added).unwrap();
            acknowledge(id, before + TOGETHER);
        }
    }
}

/// What tells an entry from all others; of different lengths, so that lines end anywhere in the pages of the file.
fn at(id: JobId, n: usize) -> String {
    format!("{n} of {id}{}", "–".repeat(n * n % 97))
}

/// A process that writes in the book, and whole lines of what it says until its end.
fn start(path: &Path) -> (Child, Receiver<String>) {
    let mut writer = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "--nocapture"])
        .arg("whatever_was_acknowledged_is_there_after_two_hundred_kills")
        .env(TO_WRITE, path)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut said = BufReader::new(writer.stdout.take().unwrap());
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
    (writer, told)
}

fn note(kept: &str, acknowledged: &mut BTreeMap<JobId, usize>) {
    let (id, entries) = kept.split_once(' ').expect("job and entries");
    acknowledged.insert(id.parse().unwrap(), entries.parse().unwrap());
}

fn total(acknowledged: &BTreeMap<JobId, usize>) -> usize {
    acknowledged.values().sum()
}

/// Opens the book again, and holds it against what was acknowledged.
fn inspect(path: &Path, acknowledged: &BTreeMap<JobId, usize>, kill: usize) {
    let book = Book::open(path).unwrap_or_else(|fault| panic!("kill {kill}: {fault:?}"));
    let jobs = book.jobs().unwrap();
    for id in acknowledged.keys() {
        assert!(
            jobs.iter().any(|job| job.id == *id),
            "kill {kill}: job {id} is gone"
        );
    }
    // One that was being begun may be there without having been acknowledged.
    assert!(jobs.len() <= acknowledged.len() + 1, "kill {kill}");
    for job in jobs {
        let text = book.job(job.id).unwrap().log;
        let (log, warnings) = Log::read(text.as_bytes())
            .unwrap_or_else(|fault| panic!("kill {kill}, job {}: {fault:?}", job.id));
        assert_eq!(warnings, []);
        let held = log.entries().len();
        let kept = acknowledged.get(&job.id).copied().unwrap_or(0);
        assert!(
            held >= kept,
            "kill {kill}, job {}: {held} of {kept}",
            job.id
        );
        assert_eq!(
            held % TOGETHER,
            0,
            "kill {kill}: some of what goes in together"
        );
        for (entry, n) in log.entries().iter().zip(1..) {
            assert_eq!((entry.n, entry.at.as_deref()), (n, Some(&*at(job.id, n))));
        }
    }
    drop(book);
    let store = Connection::open(path).unwrap();
    for pragma in ["integrity_check", "foreign_key_check"] {
        let mut check = store.prepare(&format!("PRAGMA {pragma}")).unwrap();
        let found: Result<Vec<String>, _> =
            check.query_map((), |row| row.get(0)).unwrap().collect();
        let sound: &[&str] = if pragma == "integrity_check" {
            &["ok"]
        } else {
            &[]
        };
        assert_eq!(found.unwrap(), sound, "kill {kill}");
    }
}
