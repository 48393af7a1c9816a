//! What cannot be used as a book says why, and stays as it is.

use book::{Book, BookFault, JobId};
use rusqlite::Connection;
use std::fs;
use std::path::{Path, PathBuf};

const LOG: &str = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";

fn refused(path: &Path) -> BookFault {
    Book::open(path).expect_err("this is no place for a book")
}

/// A folder, and the path of a book with one job in it.
fn with_a_job() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    book.start("Quay Street", "sheet", LOG).unwrap();
    (folder, path)
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_folder_that_cannot_be_made() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("file");
    fs::write(&file, "plain").unwrap();
    match refused(&file.join("below").join("bench.book")) {
        BookFault::CannotCreateFolder { path, .. } => assert_eq!(path, file.join("below")),
        fault => panic!("{fault:?}"),
    }
    match refused(&file.join("bench.book")) {
        BookFault::CannotCreateFolder { path, .. } => assert_eq!(path, file),
        fault => panic!("{fault:?}"),
    }
    assert_eq!(fs::read_to_string(&file).unwrap(), "plain");
}

#[test]
fn a_folder_in_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().to_owned();
    assert_eq!(refused(&path), BookFault::AFolder { path });
}

#[test]
fn names_that_mean_something_else_to_the_store_are_plain_files() {
    let folder = tempfile::tempdir().unwrap();
    for name in [":memory:", "file:bench?mode=memory"] {
        let path = folder.path().join(name);
        drop(Book::open(&path).unwrap());
        assert!(path.is_file(), "{name}");
    }
    assert!(matches!(
        refused(Path::new("")),
        BookFault::CannotOpen { .. }
    ));
}

#[test]
fn other_files_are_left_untouched() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let other = folder.path().join("other");
    Connection::open(&other)
        .unwrap()
        .execute_batch("CREATE TABLE mine (x)")
        .unwrap();
    let store = fs::read(&other).unwrap();
    fs::remove_file(&other).unwrap();
    let mut marked_only = store.clone();
    // Where the store keeps the version of a form: SQLite, "Database File Format", section 1.3.
    marked_only[60..64].copy_from_slice(&1_u32.to_be_bytes());
    let long = b"movement = 'Wren Street'\n".repeat(1000);
    for there in [
        &b"x"[..],
        b"a short text\n",
        &long,
        &[0; 4096],
        &store,
        &marked_only,
    ] {
        fs::write(&path, there).unwrap();
        match refused(&path) {
            BookFault::NotABook { path: at, .. } => assert_eq!(at, path),
            fault => panic!("{fault:?}"),
        }
        assert_eq!(fs::read(&path).unwrap(), there);
        assert_eq!(names(folder.path()), ["bench.book"]);
    }
}

#[test]
fn a_newer_version_is_left_untouched() {
    let (folder, path) = with_a_job();
    let store = Connection::open(&path).unwrap();
    store.pragma_update(None, "user_version", 99).unwrap();
    drop(store);
    let there = fs::read(&path).unwrap();
    match refused(&path) {
        BookFault::NewerVersion {
            path: at,
            got,
            known,
        } => {
            assert_eq!((at, got), (path.clone(), 99));
            assert!((1..99).contains(&known));
        }
        fault => panic!("{fault:?}"),
    }
    assert_eq!(fs::read(&path).unwrap(), there);
    assert_eq!(names(folder.path()), ["bench.book"]);
}

#[test]
fn damage_is_found_at_the_start() {
    let (_folder, path) = with_a_job();
    let book = Book::open(&path).unwrap();
    for _ in 0..40 {
        book.start("Wren Street", &"x".repeat(1000), LOG).unwrap();
    }
    drop(book);
    let sound = fs::read(&path).unwrap();
    assert!(sound.len() > 8 * 4096);
    // The first page holds the form itself; the store must find each page that is overwritten, and a file cut short.
    for page in 1..sound.len() / 4096 {
        let mut damaged = sound.clone();
        damaged[page * 4096..][..4096].fill(0xa5);
        check(&path, &damaged);
    }
    check(&path, &sound[..sound.len() - 4096]);
    fs::write(&path, &sound).unwrap();
    assert_eq!(Book::open(&path).unwrap().jobs().unwrap().len(), 41);

    fn check(path: &Path, damaged: &[u8]) {
        fs::write(path, damaged).unwrap();
        match refused(path) {
            BookFault::Damaged { path: at, detail } => {
                assert_eq!(at, path);
                assert!(!detail.to_string().is_empty());
            }
            fault => panic!("{fault:?}"),
        }
        assert_eq!(fs::read(path).unwrap(), damaged);
    }
}

#[test]
fn jobs_that_are_not_there() {
    let (_folder, path) = with_a_job();
    let book = Book::open(&path).unwrap();
    let id: JobId = "7".parse().unwrap();
    let none = BookFault::NoSuchJob { id };
    assert_eq!(book.job(id), Err(none.clone()));
    assert_eq!(book.append(id, 0, ""), Err(none.clone()));
    assert_eq!(book.set_view(id, "front", false), Err(none.clone()));
    assert_eq!(book.set_current(id), Err(none));
    assert_eq!(book.current(), Ok(None));
}

#[test]
fn another_program_in_the_middle_of_writing() {
    let (_folder, path) = with_a_job();
    let book = Book::open(&path).unwrap();
    let other = Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let began = std::time::Instant::now();
    let fault = book.start("Wren Street", "sheet", LOG).unwrap_err();
    assert!(matches!(fault, BookFault::Busy { .. }), "{fault:?}");
    assert!(began.elapsed() >= book::PATIENCE);
    // Whoever only reads need not wait, and a second start neither.
    assert_eq!(book.jobs().unwrap().len(), 1);
    assert_eq!(Book::open(&path).unwrap().jobs().unwrap().len(), 1);
    other.execute_batch("ROLLBACK").unwrap();
    book.start("Wren Street", "sheet", LOG).unwrap();
}
