//! A book that may be read but not written is refused with that word where it is to be worked in; it can be verified,
//! exported and backed up.
#![cfg(unix)]

mod made_up;

use book::{Book, BookFault, Size};
use entries::Day;
use made_up::{enter, note, shows, some_picture};
use std::fs::{self, Permissions};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::Command;

const LOG: &str = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";

/// Where a book is tried by a process that owns nothing; root may write whatever the permissions say.
const TRIED: &str = "BOOK_TRIED_BY_A_STRANGER";

/// Where such a process carries what is in a book.
const CARRIED: &str = "BOOK_CARRIED_BY_A_STRANGER";

/// Reads a book where nothing may be written, goes over it, backs it up, exports it, and tries to write in it.
fn carried(path: &Path, to: &Path) -> String {
    let all = || -> Result<String, BookFault> {
        let book = Book::open_to_read(path)?;
        let verdict = book.verify()?;
        let id = book.jobs()?[0].id;
        let picture = book.pictures_of(id)?[0].1.digest.clone();
        let preview = book.picture_bytes(&picture, Size::Preview)?.1.len();
        let out = book.export(&to.join("out"))?;
        let backup = book.backup(&to.join("backup"), Day::parse("2026-03-01").expect("a day"))?;
        let refused = [
            book.settle("units", "mm").unwrap_err(),
            book.start("Wren Street", "", LOG).unwrap_err(),
            book.keep_picture(some_picture(2)).unwrap_err(),
        ];
        let refused = refused
            .iter()
            .all(|fault| matches!(fault, BookFault::ReadOnly { .. }));
        Ok(format!(
            "{:?} {} entries, {} and {} pictures, {refused} {}",
            verdict.wrong,
            out.entries,
            out.pictures,
            backup.pictures,
            preview > 0
        ))
    };
    all().unwrap_or_else(|fault| format!("{fault:?}"))
}

#[test]
fn what_may_only_be_read_is_verified_exported_and_backed_up() {
    if std::env::var_os(TRIED).is_some() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let may = |path: &Path, mode| fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
    may(folder.path(), 0o755);
    let myself = folder.path().join("myself");
    fs::copy(std::env::current_exe().unwrap(), &myself).unwrap();
    let am_root = fs::metadata(folder.path()).unwrap().uid() == 0;
    let disc = folder.path().join("disc");
    fs::create_dir(&disc).unwrap();
    let path = disc.join("bench.book");
    let book = Book::open(&path).unwrap();
    let id = book.start("Quay Street", "sheet", LOG).unwrap();
    let picture = book.keep_picture(some_picture(1)).unwrap();
    enter(&book, id, &[note("the fly rubs"), shows(&picture.digest)]);
    book.daily_backup(Day::parse("2026-02-28").unwrap())
        .unwrap();
    book.rest().unwrap();
    enter(&book, id, &[note("this lies beside it")]);
    let beside = disc.join("bench.book-wal");
    // As a machine leaves it that is switched off.
    let (whole, changes) = (fs::read(&path).unwrap(), fs::read(&beside).unwrap());
    drop(book);
    assert!(!beside.exists());
    let rested = fs::read(&path).unwrap();
    let earlier = fs::read(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/earlier/first.book"
    ))
    .unwrap();
    let all = |mode| {
        for there in fs::read_dir(&disc).unwrap() {
            let there = there.unwrap().path();
            may(&there, if there.is_dir() { 0o555 } else { mode });
        }
    };
    for (what, book, changes) in [
        ("at rest", &rested, None),
        ("with changes beside it", &whole, Some(&changes)),
    ] {
        may(&disc, 0o755);
        fs::write(&path, book).unwrap();
        match changes {
            Some(changes) => fs::write(&beside, changes).unwrap(),
            None => drop(fs::remove_file(&beside)),
        }
        let _ = fs::remove_file(disc.join("bench.book-shm"));
        all(0o444);
        may(&disc, 0o555);
        let before: Vec<_> = fs::read_dir(&disc)
            .unwrap()
            .map(|there| there.unwrap().file_name())
            .collect();
        let to = folder.path().join(what);
        fs::create_dir(&to).unwrap();
        may(&to, 0o777);
        let mut stranger = Command::new(&myself);
        stranger
            .args(["--exact", "what_may_only_be_read", "--nocapture"])
            .env(TRIED, &path)
            .env(CARRIED, &to)
            .current_dir("/");
        if am_root {
            stranger.uid(65534).gid(65534);
        }
        let said = String::from_utf8(stranger.output().unwrap().stdout).unwrap();
        let told = said.lines().find_map(|line| line.split_once("tried: "));
        let told = told.unwrap_or_else(|| panic!("{said}")).1;
        assert_eq!(told, "[] 3 entries, 1 and 1 pictures, true true", "{what}");
        let after: Vec<_> = fs::read_dir(&disc)
            .unwrap()
            .map(|there| there.unwrap().file_name())
            .collect();
        assert_eq!(before, after, "{what}");
        let restored = book::restore(
            &to.join("backup"),
            &folder.path().join(format!("{what}.book")),
        )
        .unwrap();
        assert_eq!(restored.verify().unwrap().wrong, []);
        let (imported, _) =
            book::import(&to.join("out"), &folder.path().join(format!("{what} in"))).unwrap();
        assert_eq!(imported.search("beside", 9).unwrap().len(), 1, "{what}");
    }
    may(&disc, 0o755);
    // A book of an earlier form is read as a copy that is brought up to date.
    fs::write(&path, &earlier).unwrap();
    let _ = fs::remove_file(&beside);
    let _ = fs::remove_file(disc.join("bench.book-shm"));
    let opened = Book::open_to_read(&path).unwrap();
    assert_eq!(opened.jobs().unwrap().len(), 3);
    assert_eq!(fs::read(&path).unwrap(), earlier);
    drop(opened);
    may(&path, 0o644);
}

#[test]
fn what_may_only_be_read() {
    if let Some(path) = std::env::var_os(TRIED) {
        if let Some(to) = std::env::var_os(CARRIED) {
            println!("tried: {}", carried(Path::new(&path), Path::new(&to)));
            return;
        }
        match Book::open(Path::new(&path)) {
            Ok(_) => println!("tried: Opened"),
            Err(fault) => println!("tried: {fault:?}"),
        }
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let may = |path: &Path, mode| fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
    may(folder.path(), 0o755);
    let myself = folder.path().join("myself");
    fs::copy(std::env::current_exe().unwrap(), &myself).unwrap();
    let am_root = fs::metadata(folder.path()).unwrap().uid() == 0;
    let tried = |path: &Path| {
        let mut stranger = Command::new(&myself);
        stranger
            .args(["--exact", "what_may_only_be_read", "--nocapture"])
            .env(TRIED, path)
            .current_dir("/");
        if am_root {
            stranger.uid(65534).gid(65534);
        }
        let said = String::from_utf8(stranger.output().unwrap().stdout).unwrap();
        let told = said.lines().find_map(|line| line.split_once("tried: "));
        told.unwrap_or_else(|| panic!("{said}")).1.to_owned()
    };
    let below = folder.path().join("below");
    fs::create_dir(&below).unwrap();
    let path = below.join("bench.book");

    may(&below, 0o555);
    let told = tried(&path);
    assert!(told.starts_with("ReadOnly"), "an empty folder: {told}");
    let told = tried(&below.join("further").join("bench.book"));
    assert!(told.starts_with("CannotCreateFolder"), "{told}");

    may(&below, 0o777);
    assert_eq!(
        tried(&path),
        "Opened",
        "the stranger can open what may be written"
    );
    fs::remove_file(&path).unwrap();
    let book = Book::open(&path).unwrap();
    book.start("Quay Street", "sheet", LOG).unwrap();
    drop(book);
    for (in_folder, in_file) in [(0o777, 0o444), (0o555, 0o666), (0o555, 0o444)] {
        may(&path, in_file);
        may(&below, in_folder);
        let told = tried(&path);
        assert!(
            told.starts_with("ReadOnly"),
            "{in_folder:o} {in_file:o}: {told}"
        );
    }
    may(&below, 0o777);
    may(&path, 0o000);
    let told = tried(&path);
    assert!(told.starts_with("CannotOpen"), "{told}");
    may(&path, 0o666);
    assert_eq!(tried(&path), "Opened");
}
