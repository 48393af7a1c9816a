//! Backups while others write, the book's own of each day, restoring, verifying.

mod made_up;

use book::{BackupWas, Book, BookDamage, BookFault, JobId, Size};
use made_up::{begun, day, enter, log, note, shows, some_picture, unguarded};
use rusqlite::Connection;
use std::fs;
use std::path::{Path, PathBuf};

/// A book with two jobs and a picture.
fn book() -> (tempfile::TempDir, PathBuf, Book, JobId) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    let id = book.start("Wren Street", "sheet = 1\n", begun("Wren Street").text());
    let id = id.unwrap();
    let picture = book.keep_picture(some_picture(1)).unwrap();
    enter(&book, id, &[note("the fly rubs"), shows(&picture.digest)]);
    book.start("Quay Street", "", begun("Quay Street").text())
        .unwrap();
    (folder, path, book, id)
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn file_in(folder: &Path, ending: &str) -> PathBuf {
    let find = |name: &String| name.ends_with(ending);
    let names = names(folder);
    let name = names.iter().find(|name| find(name)).expect("a file");
    folder.join(name)
}

#[test]
fn what_was_backed_up_is_restored_and_nothing_is_overwritten() {
    let (folder, path, book, id) = book();
    let backup = folder.path().join("to").join("backup");
    let made = book.backup(&backup, day("2026-03-01")).unwrap();
    assert_eq!(
        (made.folder, made.pictures, made.missing),
        (backup.clone(), 1, vec![])
    );
    assert_eq!(names(&folder.path().join("to")), ["backup"]);
    enter(&book, id, &[note("after it")]);
    let again = book.backup(&backup, day("2026-03-01"));
    assert_eq!(
        again,
        Err(BookFault::AlreadyThere {
            path: backup.clone()
        })
    );

    let to = folder.path().join("elsewhere").join("restored.book");
    let restored = book::restore(&backup, &to).unwrap();
    assert_eq!(restored.verify().unwrap().wrong, []);
    assert_eq!(log(&restored, id), log(&book, id).as_it_stood(2));
    assert_eq!(restored.job(id).unwrap().sheet, "sheet = 1\n");
    let (_, picture) = &restored.pictures_of(id).unwrap()[0];
    assert_eq!(
        restored.picture_bytes(&picture.digest, Size::Whole),
        book.picture_bytes(&picture.digest, Size::Whole)
    );
    assert!(
        restored
            .picture_bytes(&picture.digest, Size::Preview)
            .is_ok()
    );
    enter(&restored, id, &[note("it goes on")]);
    drop(restored);

    let there = |path: &Path| match book::restore(&backup, path) {
        Err(BookFault::AlreadyThere { path }) => path,
        other => panic!("{other:?}"),
    };
    let before = fs::read(&path).unwrap();
    assert_eq!((there(&path), there(&to)), (path.clone(), to.clone()));
    assert_eq!(fs::read(&path).unwrap(), before);
    // What another book left beside it would be taken for its own: it gets another name, and is kept.
    fs::rename(&to, to.with_file_name("away")).unwrap();
    fs::write(to.with_file_name("restored.book-wal"), "x").unwrap();
    drop(book::restore(&backup, &to).unwrap());
    let left = fs::read(to.with_file_name("restored.book-wal.left-1")).unwrap();
    assert_eq!(left, b"x");
}

#[test]
fn others_write_while_a_backup_is_made() {
    let (folder, path, book, id) = book();
    std::thread::scope(|scope| {
        let writing = scope.spawn(|| {
            let book = Book::open(&path).unwrap();
            for n in 0..60 {
                enter(&book, id, &[note(&format!("{n} meanwhile"))]);
            }
        });
        let mut n = 0;
        while !writing.is_finished() || n == 0 {
            let backup = folder.path().join(format!("{n}"));
            book.backup(&backup, day("2026-03-01")).unwrap();
            let to = folder.path().join(format!("{n}.book"));
            let restored = book::restore(&backup, &to).unwrap();
            let held = log(&restored, id).entries().len();
            assert_eq!(log(&restored, id), log(&book, id).as_it_stood(held));
            assert_eq!(restored.verify().unwrap().wrong, []);
            n += 1;
        }
    });
    assert_eq!(log(&book, id).entries().len(), 62);
}

#[test]
fn one_a_day_and_seven_are_kept() {
    let (_folder, path, book, id) = book();
    let own = path.with_file_name("bench.book.backups");
    let daily = |text: &str| book.daily_backup(day(text)).unwrap().is_some();
    for n in 1..=9 {
        enter(&book, id, &[note("and more")]);
        let today = format!("2026-03-{n:02}");
        assert!(daily(&today));
        assert!(!daily(&today), "one a day");
    }
    let kept: Vec<String> = (3..=9).map(|n| format!("2026-03-{n:02}")).collect();
    assert_eq!(names(&own), kept);
    // A clock that is wrong makes a backup like any other, and the ones with the most in them stay.
    assert!(daily("1970-01-01"));
    assert_eq!(names(&own)[..2], ["1970-01-01", "2026-03-04"]);
    assert_eq!(names(&own).len(), 7);
    enter(&book, id, &[note("and more")]);
    assert!(daily("2026-03-10"));
    assert_eq!(names(&own).len(), 7);
    assert!(names(&own).contains(&"2026-03-10".to_owned()));
    // A picture is on the disk once for all of them, and once for the book.
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let digest = book.pictures_of(id).unwrap()[0].1.digest.clone();
        let name = format!("pictures/{}/{digest}.png", &digest.text()[..2]);
        let place = |day: &str| fs::metadata(own.join(day).join(&name)).unwrap().ino();
        assert_eq!(place("2026-03-09"), place("2026-03-10"));
    }
    // What a broken-off backup left is cleared away, and what has lost its page does not stand for the day.
    fs::create_dir(own.join(".half-x")).unwrap();
    fs::remove_file(own.join("2026-03-10/backup.json")).unwrap();
    assert!(daily("2026-03-10"));
    assert!(names(&own).contains(&"2026-03-10.damaged".to_owned()));
    assert!(!own.join(".half-x").exists());
}

/// Backups share their pictures; one that is altered there is not handed on for longer than a week.
#[test]
fn an_altered_picture_does_not_go_from_backup_to_backup() {
    let (_folder, path, book, id) = book();
    let daily = |n: usize| {
        enter(&book, id, &[note("and more")]);
        let made = book.daily_backup(day(&format!("2026-03-{n:02}"))).unwrap();
        made.unwrap().folder
    };
    let first = daily(1);
    let digest = book.pictures_of(id).unwrap()[0].1.digest.clone();
    let name = format!("pictures/{}/{digest}.png", &digest.text()[..2]);
    let mut bytes = fs::read(first.join(&name)).unwrap();
    bytes[40] ^= 1;
    fs::write(first.join(&name), bytes).unwrap();
    let altered = BookDamage::Backup {
        folder: fs::canonicalize(&first).unwrap(),
        was: BackupWas::Pictures(1),
    };
    assert_eq!(book.verify().unwrap().wrong, [altered]);
    for n in 2..=14 {
        daily(n);
    }
    assert_eq!(names(&path.with_file_name("bench.book.backups")).len(), 7);
    assert_eq!(book.verify().unwrap().wrong, []);
}

#[test]
fn half_a_backup_is_known_as_such() {
    let (folder, _, book, _) = book();
    let to = folder.path().join("restored.book");
    let mut n = 0;
    let mut spoiled = |spoil: &dyn Fn(&Path)| {
        n += 1;
        let backup = folder.path().join(format!("backup{n}"));
        book.backup(&backup, day("2026-03-01")).unwrap();
        spoil(&backup);
        let fault = book::restore(&backup, &to).unwrap_err();
        assert!(!to.exists(), "{fault:?}");
        fault
    };
    let half = |fault: BookFault| matches!(fault, BookFault::HalfABackup { .. });
    assert!(half(spoiled(
        &|b| fs::remove_file(b.join("backup.json")).unwrap()
    )));
    assert!(half(spoiled(
        &|b| fs::remove_file(file_in(b, ".book")).unwrap()
    )));
    assert!(half(spoiled(&|b| {
        let file = file_in(b, ".book");
        let bytes = fs::read(&file).unwrap();
        fs::write(&file, &bytes[..bytes.len() - 4096]).unwrap();
    })));
    assert!(half(spoiled(
        &|b| fs::remove_dir_all(b.join("pictures")).unwrap()
    )));
    assert!(half(spoiled(&|b| {
        let part = file_in(&b.join("pictures"), "");
        fs::write(file_in(&part, ".png"), "x").unwrap();
    })));
    // What is no backup at all, and what a newer program made.
    let none = |fault: BookFault| matches!(fault, BookFault::NotABackup { .. });
    assert!(none(spoiled(
        &|b| fs::write(b.join("backup.json"), "{}").unwrap()
    )));
    assert!(none(spoiled(&|b| {
        let page = fs::read_to_string(b.join("backup.json")).unwrap();
        let out = page.replace(".book\"", ".book/../../x\"");
        assert_ne!(page, out);
        fs::write(b.join("backup.json"), out).unwrap();
    })));
    assert!(none(
        book::restore(&folder.path().join("nowhere"), &to).unwrap_err()
    ));
    let newer = spoiled(&|b| fs::write(b.join("backup.json"), "{\"trundle_backup\":2}").unwrap());
    assert!(matches!(newer, BookFault::NewerVersion { got: 2, .. }));
}

#[test]
fn verifying_finds_what_is_wrong() {
    let (_folder, path, book, id) = book();
    let sound = book.verify().unwrap();
    assert_eq!(
        (sound.jobs, sound.entries, sound.pictures, sound.strays),
        (2, 2, 1, 0)
    );
    assert_eq!(sound.wrong, []);
    drop(book);
    let whole = fs::read(&path).unwrap();
    let tried = |spoil: &dyn Fn(&Connection)| {
        fs::write(&path, &whole).unwrap();
        let store = Connection::open(&path).unwrap();
        spoil(&store);
        drop(store);
        let verdict = Book::open(&path).unwrap().verify().unwrap();
        // What the chain says besides is told in `chain.rs`.
        let besides =
            |wrong: &BookDamage| matches!(wrong, BookDamage::Lines { .. } | BookDamage::Aside(_));
        verdict
            .wrong
            .into_iter()
            .filter(|wrong| !besides(wrong))
            .collect::<Vec<_>>()
    };
    let sql = |sql: &'static str| move |store: &Connection| unguarded(store, sql);
    assert_eq!(
        tried(&sql("UPDATE job SET entries = 3 WHERE id = 1")),
        [BookDamage::List(id)]
    );
    assert_eq!(
        tried(&sql("UPDATE job SET clock = 'x' WHERE id = 1")),
        [BookDamage::List(id)]
    );
    assert_eq!(
        tried(&sql("UPDATE words SET said = 'x' WHERE rowid = 2")),
        [BookDamage::Words(id)]
    );
    assert_eq!(tried(&sql("DELETE FROM shown")), [BookDamage::Words(id)]);
    assert_eq!(
        tried(&sql("UPDATE line SET text = 'x' WHERE n = 1")),
        [BookDamage::Log(id)]
    );
    assert_eq!(
        tried(&sql("INSERT INTO removal (sequence, swept) VALUES (2, 0)")),
        [BookDamage::Unswept(1)]
    );
    let reference = tried(&sql(
        "PRAGMA foreign_keys = OFF; INSERT INTO view (job, plate, upside_down) VALUES (77, 'front', 0)",
    ));
    assert!(
        matches!(&reference[..], [BookDamage::Store(said)] if said.contains("view")),
        "{reference:?}"
    );
    // An index that disagrees with its table is not found at the start, but here.
    let index = tried(&sql(
        "PRAGMA writable_schema = ON; CREATE TEMP TABLE was AS SELECT sql FROM sqlite_schema WHERE name = 'job_by_last';
        UPDATE sqlite_schema SET sql = 'CREATE INDEX job_by_last ON job (entries)' WHERE name = 'job_by_last';
        PRAGMA writable_schema = RESET; REINDEX job_by_last; PRAGMA writable_schema = ON;
        UPDATE sqlite_schema SET sql = (SELECT sql FROM was) WHERE name = 'job_by_last'",
    ));
    assert!(!index.is_empty());

    fs::write(&path, &whole).unwrap();
    let book = Book::open(&path).unwrap();
    let digest = book.pictures_of(id).unwrap()[0].1.digest.clone();
    let part = path
        .with_file_name("bench.book.pictures")
        .join(&digest.text()[..2]);
    let picture = part.join(format!("{digest}.png"));
    let mut bytes = fs::read(&picture).unwrap();
    bytes[40] ^= 1;
    fs::write(&picture, bytes).unwrap();
    assert_eq!(
        book.verify().unwrap().wrong,
        [BookDamage::Altered(digest.clone())]
    );
    fs::remove_file(&picture).unwrap();
    assert_eq!(
        book.verify().unwrap().wrong,
        [BookDamage::Missing(digest.clone())]
    );
    fs::write(part.join(format!("{}.png", "5".repeat(64))), "x").unwrap();
    assert_eq!(book.verify().unwrap().strays, 1);
    // The rest is backed up all the same, and the backup says what it lacks.
    let backup = book
        .backup(&path.with_file_name("backup"), day("2026-03-01"))
        .unwrap();
    assert_eq!((backup.pictures, &*backup.missing), (0, &[digest][..]));
    book::restore(&backup.folder, &path.with_file_name("restored")).unwrap();
}

/// The folder of pictures may be a link to another disk, where there is room.
#[cfg(target_os = "linux")]
#[test]
fn pictures_may_lie_on_another_disk() {
    use std::os::unix::fs::{MetadataExt, symlink};
    let (folder, _, book, id) = book();
    let backup = book.backup(&folder.path().join("backup"), day("2026-03-01"));
    let backup = backup.unwrap().folder;
    let export = folder.path().join("export");
    book.export(&export).unwrap();
    let Ok(disk) = tempfile::tempdir_in("/dev/shm") else {
        println!("no other disk: not tried");
        return;
    };
    let which = |path: &Path| fs::metadata(path).unwrap().dev();
    if which(disk.path()) == which(folder.path()) {
        println!("no other disk: not tried");
        return;
    }
    for name in ["restored.book", "imported.book"] {
        let elsewhere = disk.path().join(name);
        fs::create_dir(&elsewhere).unwrap();
        let path = folder.path().join(name);
        symlink(&elsewhere, folder.path().join(format!("{name}.pictures"))).unwrap();
        let made = match name {
            "restored.book" => book::restore(&backup, &path).unwrap(),
            _ => book::import(&export, &path).unwrap().0,
        };
        let digest = &made.pictures_of(id).unwrap()[0].1.digest;
        assert!(made.picture_bytes(digest, Size::Whole).is_ok());
        assert_eq!(made.verify().unwrap().wrong, []);
        assert_eq!(names(&elsewhere).len(), 1);
    }
}

/// The folder of a book of which a process makes a backup on a stick, to be killed over it.
const BACKED_UP: &str = "BOOK_BACKED_UP";

#[test]
fn a_backup_elsewhere_that_was_killed_leaves_nothing_once_another_is_made() {
    let to = |folder: &Path, name: &str| folder.join("stick").join(name);
    if let Some(folder) = std::env::var_os(BACKED_UP) {
        let folder = PathBuf::from(folder);
        let book = Book::open(&folder.join("bench.book")).unwrap();
        let _ = book.backup(&to(&folder, "killed"), day("2026-03-01"));
        return;
    }
    let (folder, _, book, id) = book();
    for seed in 10..60 {
        let picture = book.keep_picture(some_picture(seed)).unwrap().digest;
        enter(&book, id, &[shows(&picture)]);
    }
    let halves = || {
        let there = fs::read_dir(folder.path().join("stick")).into_iter();
        let there = there.flatten().flatten().map(|there| there.path());
        let begun = |half: &PathBuf| {
            let name = half.file_name().unwrap().to_string_lossy().into_owned();
            name.starts_with(".half-")
                && fs::read_dir(half).is_ok_and(|mut in_it| in_it.next().is_some())
        };
        there.filter(begun).collect::<Vec<PathBuf>>()
    };
    let mut tries = 0;
    while halves().is_empty() {
        tries += 1;
        assert!(tries < 50, "it was never killed in the middle");
        let mut making = std::process::Command::new(std::env::current_exe().unwrap())
            .args([
                "--exact",
                "a_backup_elsewhere_that_was_killed_leaves_nothing_once_another_is_made",
            ])
            .env(BACKED_UP, folder.path())
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .spawn()
            .unwrap();
        while halves().is_empty() && making.try_wait().unwrap().is_none() {
            std::thread::yield_now();
        }
        making.kill().unwrap();
        making.wait().unwrap();
        let _ = fs::remove_dir_all(to(folder.path(), "killed"));
    }
    book.backup(&to(folder.path(), "again"), day("2026-03-01"))
        .unwrap();
    assert_eq!(halves(), Vec::<PathBuf>::new());
    assert_eq!(names(&folder.path().join("stick")), ["again"]);
}

/// What was altered in the book may stand as it was in an old backup alone: as long as it is not put right, none goes.
#[test]
fn backups_of_an_altered_book_push_out_no_older_one() {
    let (_folder, path, book, id) = book();
    let own = |day: u32| format!("2026-03-{day:02}");
    for n in 1..=7 {
        book.daily_backup(day(&own(n))).unwrap();
    }
    drop(book);
    let altered = "UPDATE line SET text = replace(text, 'rubs', 'runs')";
    unguarded(&Connection::open(&path).unwrap(), altered);
    let book = Book::open(&path).unwrap();
    let altered = Err(BookFault::Altered { path: path.clone() });
    for n in 8..=10 {
        enter(&book, id, &[note("goes on")]);
        assert_eq!(book.daily_backup(day(&own(n))), altered);
        // It is told as long as it is so.
        assert_eq!(book.daily_backup(day(&own(n))), altered);
    }
    let kept = names(&path.with_file_name("bench.book.backups"));
    assert_eq!(kept, (1..=10).map(own).collect::<Vec<_>>());
}
