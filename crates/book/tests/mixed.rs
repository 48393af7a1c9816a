//! What was acknowledged is there, whatever a bench was at when it was killed: entries, pictures, sheets, backups, removals, one
//! after the other over one book; and what a file manager did beside it. Nothing is left over after the next start.

mod made_up;
mod victim;

use book::{Book, JobId, Removing, Size, restore};
use entries::{Digest, Emptied, Work};
use made_up::{begun, day, enter, intake, log, note, shows, some_picture};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::Duration;
use victim::start_own;

const TEST: &str = "whatever_it_was_at_nothing_acknowledged_is_lost_and_nothing_left_over";

/// As many as are killed at every run of the tests; `TRUNDLE_KILLS` asks for another number.
const KILLS: usize = 60;
/// After so many over one book the next is begun.
const OVER_ONE: usize = 12;
/// Beside one in so many something is done with the file.
const BESIDE: usize = 5;

/// What is done beside a bench that is at work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Beside {
    Copied,
    MovedAndBack,
    Linked,
    Cut,
    Replaced,
    Removed,
}

const ALL: [Beside; 6] = [
    Beside::Copied,
    Beside::MovedAndBack,
    Beside::Linked,
    Beside::Cut,
    Beside::Replaced,
    Beside::Removed,
];

/// What was acknowledged.
#[derive(Debug, Default)]
struct Told {
    entries: BTreeMap<JobId, usize>,
    pictures: Vec<Digest>,
    gone: Vec<String>,
    backups: Vec<String>,
}

impl Told {
    fn note(&mut self, line: &str) {
        match line.split_once(' ') {
            Some(("gone", who)) => self.gone.push(who.to_owned()),
            Some(("backup", day)) => self.backups.push(day.to_owned()),
            Some((job, entries)) => {
                let (job, entries) = (job.parse().unwrap(), entries.parse().unwrap());
                self.entries.insert(job, entries);
            }
            None => self.pictures.push(Digest::parse(line).unwrap()),
        }
    }
}

/// What the process does that is killed; ends when it is refused.
fn work(book: &Book, told: &dyn Fn(&str)) {
    let mut at = book
        .jobs()
        .unwrap()
        .iter()
        .map(|job| job.entries)
        .sum::<usize>();
    loop {
        at += 1;
        let id = match book.jobs().unwrap().first() {
            Some(last) if last.entries < 60 => last.id,
            _ => {
                let id = book.start("Wren Street", "", begun("").text()).unwrap();
                told(&format!("{id} 0"));
                id
            }
        };
        let put = |works: &[Work]| {
            enter(book, id, works);
            told(&format!("{id} {}", log(book, id).entries().len()));
        };
        match at % 7 {
            0 => {
                let seed = u32::try_from(at).unwrap()
                    + 1000 * u32::try_from(log(book, id).entries().len()).unwrap();
                let kept = book.keep_picture(some_picture(seed)).unwrap();
                put(&[shows(&kept.digest)]);
                told(kept.digest.text());
            }
            1 => {
                let (text, hash) = (format!("sheet = 1\n# {at}\n"), "5f0c".to_owned());
                put(&[Work::Sheet { text, hash }]);
            }
            2 => {
                let which = format!("2026-03-{:02}", 1 + at / 7 % 28);
                if book.daily_backup(day(&which)).unwrap().is_some() {
                    told(&format!("backup {which}"));
                }
            }
            3 => {
                let who = format!(
                    "Quimbleworth-{id}-{}-of-the-mill",
                    log(book, id).entries().len()
                );
                put(&[intake("the bracket clock", &who)]);
                let n = log(book, id).entries().len();
                let fields = vec!["owner".to_owned()];
                book.remove(id, n, &Removing::of(id, &[Emptied { of: n, fields }]), None)
                    .unwrap();
                told(&format!("gone {who}"));
            }
            _ => put(&[note(&format!("{at}{}", "–".repeat(at * at % 97)))]),
        }
    }
}

/// All files below a folder.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for there in fs::read_dir(folder).into_iter().flatten().flatten() {
        match there.path() {
            path if path.is_dir() => all.extend(files(&path)),
            path => all.push(path),
        }
    }
    all
}

/// Opens the book again, as a bench does at its start, and holds it against what was acknowledged.
fn inspect(path: &Path, told: &Told) -> Result<(), String> {
    let book = Book::open(path).map_err(|fault| format!("it does not open: {fault:?}"))?;
    book.daily_backup(day("2026-04-01"))
        .map_err(|fault| format!("no backup: {fault:?}"))?;
    let verdict = book.verify().map_err(|fault| format!("{fault:?}"))?;
    if !verdict.wrong.is_empty() || verdict.strays > 0 {
        return Err(format!("{verdict:?}"));
    }
    for (id, entries) in &told.entries {
        let held = log(&book, *id).entries().len();
        if held < *entries {
            return Err(format!("job {id}: {held} of {entries}"));
        }
    }
    for digest in &told.pictures {
        let there = book.picture_bytes(digest, Size::Whole);
        there.map_err(|fault| format!("picture {digest}: {fault:?}"))?;
    }
    book.rest().map_err(|fault| format!("{fault:?}"))?;
    drop(book);
    let all = files(path.parent().unwrap());
    for file in &all {
        let bytes = fs::read(file).unwrap_or_default();
        for who in &told.gone {
            if bytes.windows(who.len()).any(|part| part == who.as_bytes()) {
                return Err(format!("{who} stands in {}", file.display()));
            }
        }
        let name = file.file_name().unwrap().to_string_lossy();
        if name.starts_with('.') || name.contains("half") || name.contains(".left") {
            return Err(format!("{} is left over", file.display()));
        }
    }
    Ok(())
}

/// The last backup can be restored, and is sound.
fn restorable(path: &Path) -> Result<(), String> {
    let name = path.file_name().unwrap().to_string_lossy().into_owned();
    let own = path.with_file_name(format!("{name}.backups"));
    let mut all: Vec<PathBuf> = fs::read_dir(&own)
        .unwrap()
        .map(|d| d.unwrap().path())
        .collect();
    all.sort();
    let to = tempfile::tempdir().unwrap();
    let again = restore(all.last().unwrap(), &to.path().join("again.book"))
        .map_err(|fault| format!("{fault:?}"))?;
    let wrong = again.verify().unwrap().wrong;
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(format!("{wrong:?}"))
    }
}

#[test]
fn whatever_it_was_at_nothing_acknowledged_is_lost_and_nothing_left_over() {
    victim::work_if_own(work);
    let kills = std::env::var("TRUNDLE_KILLS").map_or(KILLS, |n| n.parse().expect("a number"));
    let mut chance = Pcg64Mcg::seed_from_u64(11);
    let mut folder = tempfile::tempdir().unwrap();
    let (mut told, mut total, mut done) = (Told::default(), 0, BTreeMap::new());
    for kill in 0..kills {
        if kill % OVER_ONE == 0 {
            total += told.entries.values().sum::<usize>();
            folder = tempfile::tempdir().unwrap();
            told = Told::default();
        }
        let path = folder.path().join("shop").join("bench.book");
        let (mut victim, lines) = start_own(TEST, &path);
        if kill % 4 != 0 || kill % BESIDE == 1 {
            told.note(
                &lines
                    .recv_timeout(Duration::from_secs(60))
                    .expect("something is said"),
            );
        }
        thread::sleep(Duration::from_secs_f64(
            chance.random_range(-3.0f64..6.5).exp2() / 1000.0,
        ));
        let beside = (kill % BESIDE == 1).then(|| ALL[chance.random_range(0..ALL.len())]);
        let mut spoiled = false;
        if let Some(what) = beside {
            *done.entry(format!("{what:?}")).or_insert(0) += 1;
            let away = path.with_file_name("away.book");
            match what {
                Beside::Copied => {
                    fs::copy(&path, folder.path().join("copy.book")).unwrap();
                }
                Beside::MovedAndBack => {
                    fs::rename(&path, &away).unwrap();
                    thread::sleep(Duration::from_millis(3));
                    // Where the bench was refused and has gone, it is put back all the same.
                    fs::rename(&away, &path).unwrap();
                }
                Beside::Linked => {
                    fs::hard_link(&path, &away).unwrap();
                    fs::remove_file(&away).unwrap();
                }
                Beside::Cut => drop(fs::File::create(&path).unwrap()),
                Beside::Replaced => {
                    fs::copy(&path, &away).unwrap();
                    fs::rename(&away, &path).unwrap();
                }
                Beside::Removed => fs::remove_file(&path).unwrap(),
            }
            spoiled = matches!(what, Beside::Cut | Beside::Replaced | Beside::Removed);
            if spoiled {
                // What was under way may still be acknowledged; from then on nothing is, unless what was spoiled has been written
                // anew as a whole in that very moment, by a removal.
                thread::sleep(Duration::from_millis(200));
                lines.try_iter().for_each(|line| told.note(&line));
                thread::sleep(Duration::from_millis(100));
                let more: Vec<String> = lines.try_iter().collect();
                more.iter().for_each(|line| told.note(line));
                spoiled = more.is_empty();
            }
        }
        let _ = victim.kill();
        victim.wait().unwrap();
        if spoiled {
            total += told.entries.values().sum::<usize>();
            folder = tempfile::tempdir().unwrap();
            told = Told::default();
            continue;
        }
        lines.iter().for_each(|line| told.note(&line));
        if let Err(wrong) = inspect(&path, &told).and_then(|()| restorable(&path)) {
            panic!("kill {kill}, {beside:?}: {wrong}");
        }
        if beside == Some(Beside::Copied) {
            let copy = folder.path().join("copy.book");
            let copied = Book::open(&copy).expect("a copy of a book at work is a book");
            assert!(!copied.jobs().unwrap().is_empty());
            drop(copied);
            for left in files(folder.path()) {
                if left
                    .file_name()
                    .unwrap()
                    .to_string_lossy()
                    .starts_with("copy.book")
                {
                    fs::remove_file(left).unwrap();
                }
            }
        }
    }
    total += told.entries.values().sum::<usize>();
    println!("{kills} kills, {total} entries acknowledged, {done:?}");
    assert!(total > kills, "{total} entries");
}
