//! What is told of backups: what came altered with one that is restored, and which were gone over when a book is verified.

mod ran;

use entries::Day;
use ran::ran;
use std::fs;
use std::path::Path;

fn day(day: &str) -> Day {
    Day::parse(day).expect("a day")
}

/// Writes other words over some in a file, wherever they stand.
fn altered(file: &Path, from: &str, to: &str) {
    assert_eq!(from.len(), to.len());
    let mut bytes = fs::read(file).expect("read");
    let mut found = 0;
    for at in 0..bytes.len() - from.len() {
        if bytes[at..].starts_with(from.as_bytes()) {
            bytes[at..at + to.len()].copy_from_slice(to.as_bytes());
            found += 1;
        }
    }
    assert!(found > 0, "{from} stands there");
    fs::write(file, bytes).expect("written");
}

/// A book with a job of two notes.
fn made(path: &Path) -> book::Book {
    let book = book::Book::open(path).expect("a book");
    let log = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
    let id = book.start("Quay Street", "", log).expect("a job");
    let notes = "{\"n\":1,\"kind\":\"note\",\"says\":\"the hammer is free\"}\n\
                 {\"n\":2,\"kind\":\"note\",\"says\":\"the fly rubs\"}\n";
    book.append(id, 0, notes).expect("entered");
    book
}

#[test]
fn a_backup_of_an_altered_book_is_restored_and_what_was_altered_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().to_str().expect("a path");
    let path = folder.path().join("bench.book");
    drop(made(&path));
    // In the line itself; by its words it is found as it was.
    let says = |what: &str| format!("\"says\":\"{what}\"");
    altered(&path, &says("the fly rubs"), &says("the fly runs"));
    let (status, _, _) = ran(at, &["book", "backup", "stick", "--book", "bench.book"], "");
    assert_eq!(status, 1, "the backup tells it too");

    let (status, said, why) = ran(
        at,
        &["book", "restore", "stick", "--book", "other.book"],
        "",
    );
    assert_eq!(said, "The book other.book is restored, with 1 job.\n");
    assert_eq!(status, 1, "{why}");
    for part in [
        "it was restored, but",
        "the backup stick",
        "of job 1, entry 2 is not as written",
    ] {
        assert!(why.contains(part), "{part}: {why}");
    }
    // There is nothing that says to leave alone what was just asked for.
    assert!(!why.contains("leave it as it is"), "{why}");
    let restored = book::Book::open(&folder.path().join("other.book")).expect("restored");
    let job = restored.jobs().expect("jobs")[0].id;
    assert!(
        restored
            .job(job)
            .expect("a job")
            .log
            .contains("the fly runs")
    );
}

#[test]
fn verifying_names_the_book_and_each_backup_that_was_gone_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().to_str().expect("a path");
    let path = folder.path().join("bench.book");
    let book = made(&path);
    for n in ["2026-03-01", "2026-03-02"] {
        book.daily_backup(day(n)).expect("made").expect("a backup");
    }
    drop(book);
    let verify = ["book", "verify", "--book", "bench.book"];
    let whole = |day: &str| format!("bench.book.backups/{day} is as it was made\n");
    let (status, said, why) = ran(at, &verify, "");
    assert_eq!((status, why.as_str()), (0, ""));
    assert!(said.starts_with("The book bench.book is sound: 1 job, 2 entries, 0 pictures.\n"));
    assert!(
        said.contains(&whole("2026-03-01")) && said.contains(&whole("2026-03-02")),
        "{said}"
    );
    let page = folder
        .path()
        .join("bench.book.backups/2026-03-01/backup.json");
    fs::write(page, "{").expect("written");
    let (status, said, why) = ran(at, &verify, "");
    assert_eq!((status, said.as_str()), (1, ""));
    assert!(
        why.contains("the book bench.book is sound, but not all around it"),
        "{why}"
    );
    assert!(
        why.contains("bench.book.backups/2026-03-01: the page"),
        "{why}"
    );
    assert!(
        why.contains(&whole("2026-03-02")) && !why.contains(&whole("2026-03-01")),
        "{why}"
    );
}
