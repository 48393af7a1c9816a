//! What comes from elsewhere is held to its form: only plain files, only names and numbers as they are written here, only what
//! belongs in a book. What is refused leaves nothing behind, and what is killed nothing that stands in the way.
#![cfg(unix)]

mod made_up;

use book::{Book, BookFault, Size};
use made_up::{as_of_before, begun, day, enter, note, shows, some_picture};
use rusqlite::Connection;
use sha2::{Digest, Sha256};
use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// A book with its export and its backup.
fn made() -> (tempfile::TempDir, PathBuf, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let book = Book::open(&folder.path().join("bench.book")).unwrap();
    let id = book.start("Wren Street", "sheet = 1\n", begun("Wren Street").text());
    let id = id.unwrap();
    let picture = book.keep_picture(some_picture(1)).unwrap();
    enter(&book, id, &[note("the fly rubs"), shows(&picture.digest)]);
    let (out, backup) = (folder.path().join("out"), folder.path().join("backup"));
    book.export(&out).unwrap();
    book.backup(&backup, day("2026-03-01")).unwrap();
    (folder, out, backup)
}

/// Every file below a folder, by its name in it.
fn names(folder: &Path, below: &Path, found: &mut Vec<PathBuf>) {
    for there in fs::read_dir(below).unwrap() {
        let path = there.unwrap().path();
        if fs::symlink_metadata(&path).unwrap().is_dir() {
            names(folder, &path, found);
        } else {
            found.push(path.strip_prefix(folder).unwrap().to_owned());
        }
    }
    found.sort();
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    names(folder, folder, &mut found);
    found
}

/// What is said of this export or backup; nothing may be left where the book would have been.
fn refused(from: &Path, restoring: bool) -> BookFault {
    let place = tempfile::tempdir().unwrap();
    let to = place.path().join("new.book");
    let made = if restoring {
        book::restore(from, &to).map(drop)
    } else {
        book::import(from, &to).map(drop)
    };
    let left: Vec<_> = fs::read_dir(place.path()).unwrap().collect();
    assert!(left.is_empty(), "{made:?}: {left:?}");
    made.expect_err("refused")
}

fn is_no_source(fault: &BookFault) -> bool {
    matches!(
        fault,
        BookFault::NotAnExport { .. }
            | BookFault::NotABackup { .. }
            | BookFault::HalfABackup { .. }
    )
}

#[test]
fn only_plain_files_are_read() {
    let (folder, out, backup) = made();
    for (from, restoring) in [(&out, false), (&backup, true)] {
        for name in files(from) {
            let (path, away) = (from.join(&name), folder.path().join("away"));
            // The tables are for reading elsewhere.
            if name.extension().is_some_and(|end| end == "csv") {
                continue;
            }
            fs::rename(&path, &away).unwrap();
            symlink(&away, &path).unwrap();
            let linked = refused(from, restoring);
            assert!(is_no_source(&linked), "{}: {linked:?}", name.display());
            fs::remove_file(&path).unwrap();
            let piped = Command::new("mkfifo").arg(&path).status().unwrap();
            assert!(piped.success());
            let piped = refused(from, restoring);
            assert!(is_no_source(&piped), "{}: {piped:?}", name.display());
            fs::remove_file(&path).unwrap();
            symlink("/dev/zero", &path).unwrap();
            let endless = refused(from, restoring);
            assert!(is_no_source(&endless), "{}: {endless:?}", name.display());
            fs::remove_file(&path).unwrap();
            let _socket = std::os::unix::net::UnixListener::bind(&path).unwrap();
            let socket = refused(from, restoring);
            assert!(is_no_source(&socket), "{}: {socket:?}", name.display());
            fs::remove_file(&path).unwrap();
            fs::rename(&away, &path).unwrap();
        }
        // Nor through a folder that is somewhere else.
        let (within, away) = (from.join("pictures"), folder.path().join("elsewhere"));
        fs::rename(&within, &away).unwrap();
        symlink(&away, &within).unwrap();
        let fault = refused(from, restoring);
        assert!(is_no_source(&fault), "{fault:?}");
        fs::remove_file(&within).unwrap();
        fs::rename(&away, &within).unwrap();
    }
    let to = folder.path().join("restored.book");
    book::restore(&backup, &to).unwrap();
    book::import(&out, &folder.path().join("imported.book")).unwrap();
}

#[test]
fn numbers_days_and_versions_are_held_to_their_forms() {
    let (_folder, out, backup) = made();
    // Whatever no digest tells.
    as_of_before(&out);
    let edited = |path: &Path, from: &str, to: &str, restoring: bool| {
        let sound = fs::read_to_string(path).unwrap();
        let other = sound.replacen(from, to, 1);
        assert_ne!(sound, other, "{from}");
        fs::write(path, other).unwrap();
        let whole = if restoring { &backup } else { &out };
        let fault = refused(whole, restoring);
        fs::write(path, sound).unwrap();
        let newer = matches!(fault, BookFault::NewerVersion { .. });
        assert!(is_no_source(&fault) || newer, "{to}: {fault:?}");
    };
    let page = out.join("book.json");
    for (from, to) in [
        ("\"trundle_export\": 1", "\"trundle_export\": 0"),
        ("\"trundle_export\": 1", "\"trundle_export\": -1"),
        ("\"trundle_export\": 1", "\"trundle_export\": 1.0"),
        ("    1\n", "    0\n"),
        ("    1\n", "    -1\n"),
        ("    1\n", "    9223372036854775807\n"),
        ("    1\n", "    \"../1\"\n"),
        ("\"pictures/", "\"/pictures/"),
        ("\"pictures/", "\"./pictures/"),
    ] {
        edited(&page, from, to, false);
    }
    // A picture named twice.
    let sound = fs::read_to_string(&page).unwrap();
    let named = sound
        .lines()
        .find(|line| line.contains("\"pictures/"))
        .unwrap();
    edited(&page, named, &format!("{named},\n{named}"), false);
    // Places among all lines: the job's own beginning, its note, its picture.
    let job = out.join("jobs/1/job.json");
    for (from, to) in [
        ("    1,\n", "    0,\n"),
        ("    1,\n", "    2,\n"),
        ("    1,\n", "    7,\n"),
        ("    3\n", "    9223372036854775807\n"),
        ("    3\n", "    9007199254740992\n"),
        ("    3\n", "    3.5\n"),
    ] {
        edited(&job, from, to, false);
    }
    let page = backup.join("backup.json");
    for (from, to) in [
        ("\"trundle_backup\": 1", "\"trundle_backup\": 0"),
        ("\"2026-03-01\"", "\"2026-02-29\""),
        ("\"2026-03-01\"", "\"yesterday\""),
        ("\"last\": 3", "\"last\": 9007199254740992"),
        ("\"last\": 3", "\"last\": -3"),
        ("\"digest\": \"", "\"digest\": \"A"),
        ("\"missing\": []", "\"missing\": [\"../x\"]"),
        ("\"book\": \"", "\"book\": \"/"),
        ("\"book\": \"", "\"book\": \"../"),
    ] {
        edited(&page, from, to, true);
    }
}

/// Nothing is in a book but what this program puts there.
#[test]
fn what_does_not_belong_in_a_book_is_refused() {
    let (folder, _, backup) = made();
    let path = folder.path().join("bench.book");
    let whole = fs::read(&path).unwrap();
    let page = fs::read_to_string(backup.join("backup.json")).unwrap();
    let held = files(&backup)
        .into_iter()
        .find(|name| name.extension().is_some_and(|end| end == "book"));
    let held = backup.join(held.unwrap());
    let copy = fs::read(&held).unwrap();
    for sql in [
        "CREATE TRIGGER more AFTER INSERT ON line BEGIN DELETE FROM setting; END",
        "CREATE VIEW more AS SELECT * FROM job",
        "CREATE TABLE more (x)",
        "CREATE INDEX more ON line (text)",
        "CREATE VIRTUAL TABLE more USING fts5(x)",
        "DROP TRIGGER line_stays",
        "DROP TRIGGER line_is_kept; CREATE TRIGGER line_is_kept BEFORE DELETE ON line BEGIN SELECT 1; END",
        "DROP INDEX job_by_last",
        "DROP TABLE view; CREATE VIEW view AS SELECT 1 AS job, 'front' AS plate, 0 AS upside_down",
        "PRAGMA user_version = 4",
        "PRAGMA user_version = 1",
    ] {
        let spoil = |path: &Path| {
            let store = Connection::open(path).unwrap();
            store.execute_batch(sql).unwrap();
            drop(store);
            fs::read(path).unwrap()
        };
        let spoiled = spoil(&path);
        for opened in [Book::open(&path), Book::open_to_read(&path)] {
            let fault = opened.expect_err(sql);
            assert!(
                matches!(fault, BookFault::Damaged { .. }),
                "{sql}: {fault:?}"
            );
        }
        assert_eq!(fs::read(&path).unwrap(), spoiled, "it is not touched");
        fs::write(&path, &whole).unwrap();
        // In a backup that says that it is just so.
        let spoiled = spoil(&held);
        let figures: String = Sha256::digest(&spoiled)
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        let was: String = Sha256::digest(&copy)
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        fs::write(backup.join("backup.json"), page.replace(&was, &figures)).unwrap();
        let fault = refused(&backup, true);
        assert!(
            matches!(fault, BookFault::Damaged { .. }),
            "{sql}: {fault:?}"
        );
        fs::write(&held, &copy).unwrap();
        fs::write(backup.join("backup.json"), &page).unwrap();
    }
    assert!(Book::open(&path).is_ok());
    book::restore(&backup, &folder.path().join("restored.book")).unwrap();
}

/// The folder in which a process makes a book, and of what, to be killed over it.
const MAKES: &str = "BOOK_MADE_IN";
const OF: &str = "BOOK_MADE_OF";

#[test]
fn a_kill_leaves_nothing_in_the_way() {
    let making = |from: &Path, to: &Path| {
        if from.ends_with("backup") {
            book::restore(from, to)
        } else {
            book::import(from, to).map(|(book, _)| book)
        }
    };
    if let (Some(to), Some(of)) = (std::env::var_os(MAKES), std::env::var_os(OF)) {
        let made = making(Path::new(&of), &Path::new(&to).join("new.book"));
        made.expect("a book");
        return;
    }
    let (_folder, out, backup) = made();
    for from in [&out, &backup] {
        for n in 0..12 {
            let place = tempfile::tempdir().unwrap();
            let to = place.path().join("new.book");
            let mut making_it = Command::new(std::env::current_exe().unwrap())
                .args(["--exact", "a_kill_leaves_nothing_in_the_way"])
                .env(MAKES, place.path())
                .env(OF, from)
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .unwrap();
            std::thread::sleep(Duration::from_millis(4 * n));
            making_it.kill().unwrap();
            making_it.wait().unwrap();
            // It is whole, or it is made as if nothing had been.
            let book = match Book::open_there(&to) {
                Ok(book) => book,
                Err(BookFault::NoBookThere { .. }) => making(from, &to).unwrap(),
                Err(fault) => panic!("{fault:?}"),
            };
            let verdict = book.verify().unwrap();
            assert_eq!(
                (verdict.wrong, verdict.jobs, verdict.pictures),
                (vec![], 1, 1)
            );
            let id = book.jobs().unwrap()[0].id;
            let picture = book.pictures_of(id).unwrap()[0].1.digest.clone();
            assert!(book.picture_bytes(&picture, Size::Whole).is_ok());
            // What was left of the first try goes with the first backup.
            book.daily_backup(day("2026-03-02")).unwrap();
            book.rest().unwrap();
            let left: Vec<_> = (fs::read_dir(place.path()).unwrap())
                .map(|left| left.unwrap().file_name().into_string().unwrap())
                .filter(|name| !name.starts_with("new.book"))
                .collect();
            assert_eq!(left, Vec::<String>::new());
        }
    }
}
