//! An earlier book in its place, beside a backup that goes on beyond it: both are told, and the person decides.

use assert_cmd::cargo::cargo_bin;
use entries::Day;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn keep(words: &[&str], book: &Path) -> Output {
    Command::new(cargo_bin("trundle"))
        .arg("book")
        .args(words)
        .arg("--book")
        .arg(book)
        .output()
        .expect("it runs")
}

#[test]
fn an_earlier_book_beside_a_backup_that_holds_more_is_left_to_the_person() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bench.book");
    let begins = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
    let struck = |n: usize, day: &str| {
        format!("{{\"n\":{n},\"at\":\"{day}\",\"kind\":\"struck\",\"hour\":4}}\n")
    };
    let book = book::Book::open(&path).expect("a book");
    let job = book.start("Quay Street", "a sheet", begins).expect("a job");
    book.append(job, 0, &struck(1, "2026-03-01"))
        .expect("entered");
    book.rest().expect("one file");
    let earlier = fs::read(&path).expect("read");
    book.append(job, 1, &struck(2, "2026-03-08"))
        .expect("entered");
    book.start("Wren Street", "a sheet", begins).expect("a job");
    let day = Day::parse("2026-03-09").expect("a day");
    let backup = book.daily_backup(day).expect("made").expect("a backup");
    drop(book);
    fs::write(&path, earlier).expect("put back");

    let output = keep(&["verify"], &path);
    assert_eq!(output.status.code(), Some(1));
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    for part in [
        "is sound",
        "2 jobs and 4 lines, the last of 2026-03-08",
        "1 job and 2 lines, the last of 2026-03-01",
        "only you know",
        "restore",
        "2026-03-09",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
    for part in ["not sound", "the latest backup"] {
        assert!(!told.contains(part), "{part}: {told}");
    }
    // What is made of it says so too.
    let out = folder.path().join("out");
    let output = keep(&["export", out.to_str().expect("a path")], &path);
    assert_eq!(output.status.code(), Some(1));
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        told.contains("it was made") && !told.contains("not sound"),
        "{told}"
    );
    assert!(out.is_dir());
    // And what is advised can be done.
    let other = folder.path().join("other.book");
    let backup = backup.folder.to_str().expect("a path").to_owned();
    let output = keep(&["restore", &backup], &other);
    assert!(output.status.success(), "{output:?}");
}
