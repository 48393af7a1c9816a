//! A book that was made elsewhere and was broken off on its way to its place: the next start finishes it, the next restore gives it
//! up, and neither touches another book that came there meanwhile.
#![cfg(unix)]

mod made_up;

use book::{Book, BookFault, import, restore};
use made_up::{begun, day, enter, note, shows, some_picture};
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// A backup of a book with a job, a note and two pictures.
fn backup(folder: &Path, says: &str) -> PathBuf {
    let book = Book::open(&folder.join("first").join("bench.book")).unwrap();
    let id = book.start("Wren Street", "", begun("").text()).unwrap();
    let pictures = [1, 2].map(|seed| book.keep_picture(some_picture(seed)).unwrap().digest);
    enter(
        &book,
        id,
        &[note(says), shows(&pictures[0]), shows(&pictures[1])],
    );
    let backup = folder.join("backup");
    book.backup(&backup, day("2026-03-01")).unwrap();
    backup
}

/// What a restore leaves that is broken off when so many folders of its pictures have come to their place.
fn broken_off(backup: &Path, to: &Path, moved: usize) {
    let placing = to.with_file_name("new.book.placing");
    restore(backup, &placing.join("book")).unwrap();
    let (from, pictures) = (
        placing.join("book.pictures"),
        to.with_file_name("new.book.pictures"),
    );
    for there in fs::read_dir(from).unwrap().take(moved) {
        let there = there.unwrap();
        fs::create_dir_all(&pictures).unwrap();
        fs::rename(there.path(), pictures.join(there.file_name())).unwrap();
    }
}

/// What lies beside a book, by what is added to its name.
fn beside(path: &Path) -> Vec<String> {
    let name = path.file_name().unwrap().to_str().unwrap();
    let all = fs::read_dir(path.parent().unwrap()).unwrap();
    let mut all: Vec<String> = all
        .map(|there| there.unwrap().file_name().into_string().unwrap())
        .map(|there| there.strip_prefix(name).unwrap_or(&there).to_owned())
        .collect();
    all.sort();
    all
}

fn whole(book: &Book) {
    let verdict = book.verify().unwrap();
    assert_eq!(
        (verdict.wrong, verdict.entries, verdict.pictures),
        (vec![], 3, 2)
    );
    assert_eq!(verdict.strays, 0);
}

#[test]
fn a_book_on_its_way_comes_to_its_place_at_the_next_start() {
    let folder = tempfile::tempdir().unwrap();
    let backup = backup(folder.path(), "the fly rubs");
    for moved in 0..=2 {
        let place = folder.path().join(format!("{moved}"));
        fs::create_dir(&place).unwrap();
        let to = place.join("new.book");
        broken_off(&backup, &to, moved);
        // What a lost book left: it is not read into this one.
        fs::write(place.join("new.book-wal"), [7; 100]).unwrap();
        File::create(&to).unwrap();
        let book = if moved == 1 {
            Book::open(&to).unwrap()
        } else {
            Book::open_there(&to).unwrap()
        };
        whole(&book);
        drop(book);
        let left = beside(&to);
        let expected = ["", "-wal.left-1", ".left-1", ".pictures"];
        assert_eq!(left, expected, "{moved}");
    }
}

#[test]
fn while_somebody_puts_it_there_a_start_waits() {
    let folder = tempfile::tempdir().unwrap();
    let backup = backup(folder.path(), "the fly rubs");
    let to = folder.path().join("new.book");
    broken_off(&backup, &to, 1);
    let at_work = File::open(to.with_file_name("new.book.placing")).unwrap();
    at_work.lock_shared().unwrap();
    std::thread::scope(|scope| {
        let opening = scope.spawn(|| Book::open(&to));
        // It has come to the lock, and waits.
        let placing = to.with_file_name("new.book.placing");
        let held = || {
            let files = fs::read_dir("/proc/self/fd").unwrap().flatten();
            let of = files.filter_map(|file| fs::read_link(file.path()).ok());
            of.filter(|of| *of == placing).count()
        };
        let patience = Instant::now() + Duration::from_secs(60);
        while cfg!(target_os = "linux") && held() < 2 {
            assert!(Instant::now() < patience, "it never comes");
            std::thread::yield_now();
        }
        assert!(!to.exists());
        drop(at_work);
        whole(&opening.join().unwrap().unwrap());
    });
}

#[test]
fn another_restore_or_import_gives_up_what_was_broken_off() {
    let folder = tempfile::tempdir().unwrap();
    let backup = backup(folder.path(), "the fly rubs");
    let first = Book::open(&folder.path().join("first").join("bench.book")).unwrap();
    let out = folder.path().join("out");
    first.export(&out).unwrap();
    // And one of another book, with pictures of its own and one that both have.
    let other = Book::open(&folder.path().join("other").join("bench.book")).unwrap();
    let id = other.start("Quay Street", "", begun("").text()).unwrap();
    for seed in [2, 5] {
        let picture = other.keep_picture(some_picture(seed)).unwrap();
        enter(&other, id, &[shows(&picture.digest)]);
    }
    enter(&other, id, &[note("another")]);
    let theirs = folder.path().join("theirs");
    other.export(&theirs).unwrap();
    for (again, name) in ["restored", "imported", "another"].into_iter().enumerate() {
        let to = folder.path().join(name).join("new.book");
        fs::create_dir(to.parent().unwrap()).unwrap();
        broken_off(&backup, &to, 2);
        let book = match again {
            0 => restore(&backup, &to).unwrap(),
            1 => import(&out, &to).unwrap().0,
            _ => import(&theirs, &to).unwrap().0,
        };
        // Nothing is left of it after the first backup.
        book.daily_backup(day("2026-03-02")).unwrap().unwrap();
        whole(&book);
        drop(book);
        assert_eq!(beside(&to), ["", ".backups", ".pictures"]);
    }
}

/// Anywhere, as on a stick: the next to do the same there takes it away, where it is ours and nobody is at work on it.
#[test]
fn what_was_broken_off_elsewhere_goes_with_the_next_of_its_kind() {
    let folder = tempfile::tempdir().unwrap();
    let sound = backup(folder.path(), "the fly rubs");
    let book = Book::open(&folder.path().join("shop").join("bench.book")).unwrap();
    let id = book.start("Quay Street", "", begun("").text()).unwrap();
    enter(&book, id, &[note("the fly rubs")]);
    let out = folder.path().join("out");
    book.export(&out).unwrap();
    let stick = folder.path().join("stick");
    let plant = |half: &str, name: &str| {
        let path = stick.join(half).join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, "the fly rubs").unwrap();
    };
    let run = |n: usize| match n {
        0 => drop(
            book.backup(&stick.join("backup"), day("2026-03-01"))
                .unwrap(),
        ),
        1 => drop(book.export(&stick.join("export")).unwrap()),
        2 => drop(restore(&sound, &stick.join("restored.book")).unwrap()),
        _ => drop(import(&out, &stick.join("imported.book")).unwrap()),
    };
    for n in 0..4 {
        let ours = [
            (".half-aB3dEf", "book"),
            (".half-aB3dEg", "pictures/0a/picture.png"),
            (".half-aB3dEh", "0123456789abcdef.book"),
            (".half-aB3dEi", "jobs/1/log.jsonl"),
            (".half-aB3dEj", "book.pictures/0a/picture.png"),
            (".half-aB3dEk", "gone/jobs.csv"),
            (".half-aB3dEl", ".half-qwert1"),
        ];
        let stay = [
            (".half-letter", "letter.txt"),
            (".half-time-table", "book"),
            (".half-atwork", "book"),
        ];
        for (half, name) in ours.iter().chain(&stay) {
            plant(half, name);
        }
        plant(".half-letter", "book");
        fs::create_dir_all(stick.join(".half-empty1")).unwrap();
        let at_work = File::open(stick.join(".half-atwork")).unwrap();
        at_work.lock_shared().unwrap();
        run(n);
        for (half, _) in ours {
            assert!(!stick.join(half).exists(), "{n}: {half}");
        }
        for (half, name) in stay {
            assert!(stick.join(half).join(name).exists(), "{n}: {half}");
        }
        assert!(stick.join(".half-empty1").exists());
    }
}

#[test]
fn another_book_that_came_there_meanwhile_stays() {
    let folder = tempfile::tempdir().unwrap();
    let backup = backup(folder.path(), "the fly rubs");
    let to = folder.path().join("place").join("new.book");
    let other = Book::open(&to).unwrap();
    other.start("Quay Street", "", begun("").text()).unwrap();
    drop(other);
    broken_off(&backup, &to, 1);
    let other = Book::open_there(&to).unwrap();
    assert_eq!(other.jobs().unwrap()[0].name, "Quay Street");
    assert!(matches!(
        restore(&backup, &to),
        Err(BookFault::AlreadyThere { .. })
    ));
    other.daily_backup(day("2026-03-02")).unwrap().unwrap();
    assert_eq!(other.verify().unwrap().strays, 0);
    drop(other);
    assert_eq!(beside(&to), ["", ".backups", ".pictures"]);
}

/// Where its pictures cannot come to their place, nothing has changed; and nothing is carried out later that was refused.
#[test]
fn what_cannot_be_placed_leaves_all_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let backup = backup(folder.path(), "the fly rubs");
    let to = folder.path().join("place").join("new.book");
    fs::create_dir(to.parent().unwrap()).unwrap();
    fs::write(to.with_file_name("new.book-wal"), [7; 100]).unwrap();
    // A file where the folder of pictures should be.
    fs::write(to.with_file_name("new.book.pictures"), "theirs").unwrap();
    let before = beside(&to);
    let refused = restore(&backup, &to);
    assert!(refused.is_err(), "{refused:?}");
    assert_eq!(beside(&to), before);
    assert_eq!(before, ["-wal", ".pictures"]);
}
