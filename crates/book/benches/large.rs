//! A book of ten thousand jobs, a million entries and a hundred thousand pictures: how long it takes to open, to list, to
//! show a job, to find words, to enter and to go over, and how much memory that takes. `cargo bench -p book`.
//!
//! The book is filled once and kept in `target/large`. Each figure is the median and the 95th percentile of so many tries;
//! memory is the most that a process of its own ever had (`VmHWM`).

use book::{Book, JobId, Listing, Syncing};
use entries::{EntryKind, Kept, Log, LogHeader, Occasion, Stage, Work};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

const JOBS: usize = 10_000;
const ENTRIES: usize = 100;
const PICTURES: u32 = 10;

/// Set where the figures are taken, in a process of its own.
const TAKE: &str = "BOOK_TAKE_FIGURES";

fn main() {
    let place = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../target/large");
    let path = place.join("bench.book");
    if std::env::var_os(TAKE).is_some() {
        return figures(&path);
    }
    if !place.join("filled").exists() {
        let _ = fs::remove_dir_all(&place);
        let began = Instant::now();
        fill(&path);
        fs::write(place.join("filled"), "").unwrap();
        println!("filled in {:.0} s", began.elapsed().as_secs_f64());
    }
    let took = Command::new(std::env::current_exe().unwrap())
        .env(TAKE, "1")
        .status()
        .unwrap();
    assert!(took.success());
}

/// A word of the book: some are said all the time, most hardly ever.
fn word(chance: &mut Pcg64Mcg) -> String {
    const BEGINNINGS: [&str; 20] = [
        "bar", "cle", "dro", "fly", "gat", "ham", "loc", "mov", "oil", "pin", "piv", "pla", "rac",
        "sna", "spr", "str", "tee", "war", "whe", "win",
    ];
    const WORDS: usize = 40_000;
    let mut any = || chance.random_range(0..WORDS);
    let rank = any() * any() / WORDS * any() / WORDS;
    let mut word = BEGINNINGS[rank % BEGINNINGS.len()].to_owned();
    let mut rest = rank;
    while rest > 0 {
        let letter = u8::try_from(rest % 26).expect("one of 26");
        word.push(char::from(b'a' + letter));
        rest /= 26;
    }
    word
}

fn sentence(chance: &mut Pcg64Mcg, words: usize) -> Kept<String> {
    let words: Vec<String> = (0..words).map(|_| word(chance)).collect();
    Kept::Here(words.join(" "))
}

fn picture(seed: u32) -> Vec<u8> {
    let mut picture = RgbImage::new(24, 16);
    for (x, y, point) in picture.enumerate_pixels_mut() {
        let mixed = seed
            .wrapping_mul(2_654_435_761)
            .wrapping_add(x * 97 + y * 40_503);
        let [r, g, b, _] = mixed.to_le_bytes();
        *point = Rgb([r, g, b]);
    }
    let mut bytes = Cursor::new(Vec::new());
    let picture = DynamicImage::ImageRgb8(picture);
    picture.write_to(&mut bytes, ImageFormat::Png).unwrap();
    bytes.into_inner()
}

fn fill(path: &Path) {
    let book = Book::open_with(path, Syncing::Never).unwrap();
    let mut chance = Pcg64Mcg::seed_from_u64(1);
    for job in 0..JOBS {
        let mut log = Log::start(LogHeader {
            sheet: "Wren Street schoolroom clock".to_owned(),
            hash: "5f0c".to_owned(),
        });
        let mut enter = |work: Work| drop(log.append(&EntryKind::Work(work), Some("2026-03-01")));
        enter(Work::Intake {
            clock: sentence(&mut chance, 3),
            owner: Some(sentence(&mut chance, 2)),
            reach: None,
            complaint: Some(sentence(&mut chance, 8)),
            promised: None,
        });
        for n in 0..PICTURES {
            let seed = u32::try_from(job).unwrap() * PICTURES + n;
            let kept = book.keep_picture(picture(seed)).unwrap();
            enter(Work::Picture {
                picture: Kept::Here(kept.digest),
                when: Occasion::During,
                says: Some(sentence(&mut chance, 4)),
            });
        }
        for n in 1 + usize::try_from(PICTURES).unwrap()..ENTRIES {
            enter(match n % 9 {
                0 => Work::Stage {
                    to: Stage::ALL[n / 9 % 7],
                },
                1 | 2 => Work::Found {
                    part: sentence(&mut chance, 2),
                    says: sentence(&mut chance, 6),
                },
                _ => Work::Note {
                    says: sentence(&mut chance, 8),
                },
            });
        }
        if job % 3 != 0 {
            let home = Work::HandedBack {
                to: None,
                says: None,
            };
            log.append(&EntryKind::Undo { of: ENTRIES }, None).unwrap();
            log.append(&EntryKind::Work(home), None).unwrap();
        }
        book.start("Wren Street", "sheet = 1\n", log.text())
            .unwrap();
    }
}

/// The median and the 95th percentile, in milliseconds.
fn told(what: &str, mut taken: Vec<Duration>) {
    taken.sort_unstable();
    let last = taken.len() - 1;
    let at = |of_hundred: usize| taken[(last * of_hundred).div_ceil(100)].as_secs_f64() * 1000.0;
    println!(
        "{what:44} {:9.2} ms {:9.2} ms  of {}",
        at(50),
        at(95),
        taken.len()
    );
}

fn times(tries: usize, mut what: impl FnMut()) -> Vec<Duration> {
    (0..tries)
        .map(|_| {
            let began = Instant::now();
            what();
            began.elapsed()
        })
        .collect()
}

fn memory(when: &str) {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let most = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    println!(
        "most memory {when}: {}",
        most.unwrap_or("not told here").trim()
    );
}

fn figures(path: &Path) {
    let size = |path: PathBuf| fs::metadata(path).map_or(0, |file| file.len()) / 1_000_000;
    println!("the book's file: {} MB", size(path.to_owned()));
    println!("{:44} {:>12} {:>12}", "", "median", "95th");
    told(
        "open, with the check at the start",
        times(5, || drop(Book::open(path).unwrap())),
    );
    let book = Book::open(path).unwrap();
    let mut chance = Pcg64Mcg::seed_from_u64(2);
    let lines = book.jobs().unwrap();
    let entries: usize = lines.iter().map(|line| line.entries).sum();
    println!("{} jobs, {entries} entries", lines.len());
    let part = |on_the_bench, after| Listing {
        on_the_bench,
        after,
        most: 50,
    };
    told(
        "list: the first fifty on the bench",
        times(200, || drop(book.list(part(true, None)))),
    );
    told(
        "list: any fifty of all",
        times(200, || {
            let after = lines[chance.random_range(0..lines.len())].last;
            book.list(part(false, Some(after))).unwrap();
        }),
    );
    told(
        "list: all ten thousand",
        times(20, || drop(book.jobs().unwrap())),
    );
    told(
        "any job, with its pictures",
        times(500, || {
            let id = lines[chance.random_range(0..lines.len())].id;
            book.job(id).unwrap();
            book.pictures_of(id).unwrap();
        }),
    );
    for (what, words) in [
        ("search: one word", 1),
        ("search: two words", 2),
        ("search: four words", 4),
    ] {
        let search = times(300, || {
            let asked: Vec<String> = (0..words).map(|_| word(&mut chance)).collect();
            book.search(&asked.join(" "), 50).unwrap();
        });
        told(what, search);
    }
    for asked in [
        "bar",
        "fly win",
        "wren street",
        "str spr sna",
        "wa",
        "barx not there",
    ] {
        let found = book.search(asked, 50).unwrap().len();
        let search = times(20, || drop(book.search(asked, 50).unwrap()));
        told(&format!("search: {asked} ({found} shown)"), search);
    }
    let append = times(100, || {
        let id: JobId = lines[chance.random_range(0..lines.len())].id;
        let text = book.job(id).unwrap().log;
        let (mut log, _) = Log::read(text.as_bytes()).unwrap();
        let before = log.entries().len();
        let note = Work::Note {
            says: sentence(&mut chance, 8),
        };
        let added = log.append(&EntryKind::Work(note), None).unwrap();
        book.append(id, before, &added).unwrap();
    });
    told("enter a note", append);
    memory("so far");
    told(
        "verify, all pictures read",
        times(1, || drop(book.verify().unwrap())),
    );
    memory("with that");
}
