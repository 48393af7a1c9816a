//! Jobs and pictures, made up.
#![allow(dead_code)]

use book::{Book, BookFault, JobId, Removing};
use entries::{Day, EntryKind, Kept, KeptText, Log, LogHeader, Occasion, Work};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use std::io::Cursor;
use std::path::{Path, PathBuf};

pub(crate) fn begun(sheet: &str) -> Log {
    Log::start(LogHeader {
        sheet: sheet.to_owned(),
        hash: "5f0c".to_owned(),
    })
}

pub(crate) fn here(text: &str) -> KeptText {
    Kept::Here(text.to_owned())
}

pub(crate) fn day(text: &str) -> Day {
    Day::parse(text).unwrap()
}

pub(crate) fn note(text: &str) -> Work {
    Work::Note { says: here(text) }
}

pub(crate) fn intake(clock: &str, owner: &str) -> Work {
    Work::Intake {
        clock: here(clock),
        owner: Some(here(owner)),
        reach: Some(here("at the green door")),
        complaint: None,
        promised: None,
    }
}

pub(crate) fn shows(digest: &entries::Digest) -> Work {
    Work::Picture {
        picture: Kept::Here(digest.clone()),
        when: Occasion::Before,
        says: None,
    }
}

/// The log of a job as it is in the book.
pub(crate) fn log(book: &Book, id: JobId) -> Log {
    let text = book.job(id).unwrap().log;
    Log::read(text.as_bytes()).unwrap().0
}

/// Enters these into a job's log.
pub(crate) fn enter(book: &Book, id: JobId, works: &[Work]) {
    let mut log = log(book, id);
    let before = log.entries().len();
    let added: String = works
        .iter()
        .map(|work| log.append(&EntryKind::Work(work.clone()), None).unwrap())
        .collect();
    book.append(id, before, &added).unwrap();
}

/// A picture with no two rows or columns alike, dark at the top left.
pub(crate) fn drawn(width: u32, height: u32) -> DynamicImage {
    let shade = |at: u32, of: u32| u8::try_from(255 * at / of).unwrap();
    DynamicImage::ImageRgb8(RgbImage::from_fn(width, height, |x, y| {
        Rgb([shade(x, width), shade(y, height), 40])
    }))
}

pub(crate) fn file(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// A picture's file, unlike those of other seeds.
pub(crate) fn some_picture(seed: u32) -> Vec<u8> {
    let mut picture = RgbImage::new(24, 16);
    for (x, y, point) in picture.enumerate_pixels_mut() {
        let mixed = seed
            .wrapping_mul(2_654_435_761)
            .wrapping_add(x.wrapping_mul(97).wrapping_add(y).wrapping_mul(40_503));
        let [r, g, b, _] = mixed.to_le_bytes();
        *point = Rgb([r, g, b]);
    }
    file(&DynamicImage::ImageRgb8(picture), ImageFormat::Png)
}

/// A folder in memory where there is one, for what need not wait for a disk.
pub(crate) fn quick_folder() -> tempfile::TempDir {
    tempfile::tempdir_in("/dev/shm")
        .or_else(|_| tempfile::tempdir())
        .unwrap()
}

/// Makes of an export one as earlier programs wrote them: no digests of its files, and nothing told of where its lines end.
pub(crate) fn as_of_before(export: &Path) {
    std::fs::remove_file(export.join("sums.txt")).unwrap();
    let page = export.join("book.json");
    let text = std::fs::read_to_string(&page).unwrap();
    let (before, _) = text.split_once(",\n  \"end\"").unwrap();
    std::fs::write(page, format!("{before}\n}}\n")).unwrap();
}

/// Runs statements with nothing that guards the lines in their way; it stands there again afterwards.
pub(crate) fn unguarded(store: &rusqlite::Connection, sql: &str) {
    let mut found = store
        .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
        .unwrap();
    let rows = found
        .query_map((), |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap();
    let guards: Vec<(String, String)> = rows.map(Result::unwrap).collect();
    drop(found);
    for (name, _) in &guards {
        store
            .execute_batch(&format!("DROP TRIGGER {name}"))
            .unwrap();
    }
    store
        .execute_batch(&format!("PRAGMA foreign_keys = OFF; {sql}"))
        .unwrap();
    for (_, guard) in guards {
        store.execute_batch(&guard).unwrap();
    }
}

/// The files below a folder in which these bytes stand.
pub(crate) fn with(folder: &Path, what: impl AsRef<[u8]>) -> Vec<PathBuf> {
    let what = what.as_ref();
    let mut found = Vec::new();
    for there in std::fs::read_dir(folder).unwrap() {
        let path = there.unwrap().path();
        if path.is_dir() {
            found.extend(with(&path, what));
        } else {
            let bytes = std::fs::read(&path).unwrap();
            if bytes.windows(what.len()).any(|part| part == what) {
                found.push(path);
            }
        }
    }
    found
}

/// Empties what names a person in a job.
pub(crate) fn remove(book: &Book, id: JobId) -> Result<(), BookFault> {
    let log = log(book, id);
    let personal = Removing::of(id, &log.personal());
    book.remove(id, log.entries().len(), &personal, None)
}
