//! A book that an earlier version made is brought up to date, and nothing of it is lost.

mod earlier;

use rusqlite::Connection;
use std::fs;
use std::path::Path;

/// A book of the first form, made by that version's own form of tables and kept.
const FIRST: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/earlier/first.book");

/// All rows of all tables, and the forms of the tables.
fn all(path: &Path) -> Vec<String> {
    let store = Connection::open(path).unwrap();
    let mut all = Vec::new();
    for sql in [
        "SELECT name, sql FROM sqlite_schema ORDER BY name",
        "SELECT * FROM job ORDER BY id",
        "SELECT * FROM line ORDER BY sequence",
        "SELECT * FROM view",
        "SELECT * FROM current",
        "PRAGMA user_version",
        "PRAGMA application_id",
    ] {
        let mut found = store.prepare(sql).unwrap();
        let columns = found.column_count();
        let mut rows = found.query(()).unwrap();
        while let Some(row) = rows.next().unwrap() {
            let fields = (0..columns).map(|at| format!("{:?}", row.get_ref(at).unwrap()));
            all.push(fields.collect::<Vec<_>>().join(" "));
        }
    }
    all
}

/// The book that is kept is just what is made here of the first form. Where it is missing it is made.
#[test]
fn the_book_that_is_kept_is_of_the_first_form() {
    let folder = tempfile::tempdir().unwrap();
    let made = folder.path().join("first.book");
    earlier::first(&made, 3, 40);
    if !Path::new(FIRST).exists() {
        fs::copy(&made, FIRST).unwrap();
        panic!("{FIRST} was missing and is made: keep it");
    }
    let kept = folder.path().join("kept.book");
    fs::copy(FIRST, &kept).unwrap();
    assert_eq!(all(&kept), all(&made));
}

#[test]
fn a_book_of_the_first_form_is_brought_up_to_date() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    fs::copy(FIRST, &path).unwrap();
    earlier::inspect(&path, 3, 40).unwrap();
    // And again, now that it is.
    earlier::inspect(&path, 3, 40).unwrap();
}

/// Two programs that meet over an older book bring it up to date once.
#[test]
fn two_at_once_bring_it_up_to_date_once() {
    for _ in 0..10 {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bench.book");
        earlier::first(&path, 3, 40);
        let begin = std::sync::Barrier::new(3);
        std::thread::scope(|scope| {
            for _ in 0..3 {
                scope.spawn(|| {
                    begin.wait();
                    earlier::inspect(&path, 3, 40).unwrap();
                });
            }
        });
    }
}
