//! What people with file managers do around a book: it is copied, moved, removed, replaced, cut and linked, at rest and while
//! it is open. Nothing that was acknowledged is lost by it, and nothing is acknowledged that would be.

use book::{Became, Book, BookFault, JobId, restore};
use entries::Day;
use std::fs;
use std::path::{Path, PathBuf};

const LOG: &str = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";

fn note(n: usize) -> String {
    format!("{{\"n\":{n},\"kind\":\"note\",\"says\":\"note {n}\"}}\n")
}

fn day(n: u32) -> Day {
    Day::parse(&format!("2026-03-{n:02}")).expect("a day")
}

/// A book with one job and so many notes.
fn with_notes(path: &Path, notes: usize) -> (Book, JobId) {
    let book = Book::open(path).expect("a new book");
    let job = book.start("Quay Street", "sheet", LOG).expect("a job");
    for n in 0..notes {
        book.append(job, n, &note(n + 1)).expect("a note");
    }
    (book, job)
}

fn entries(book: &Book) -> usize {
    let verdict = book.verify().expect("a readable book");
    assert_eq!(verdict.wrong, []);
    verdict.entries
}

fn beside(path: &Path, end: &str) -> PathBuf {
    let mut name = path.file_name().expect("a name").to_owned();
    name.push(end);
    path.with_file_name(name)
}

/// All files of a folder with what is in them.
fn contents(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut all: Vec<_> = fs::read_dir(folder)
        .expect("a folder")
        .map(|file| file.expect("a name").path())
        .filter(|path| path.is_file() && !path.to_string_lossy().ends_with("-shm"))
        .map(|path| {
            let bytes = fs::read(&path).expect("a file");
            (path, bytes)
        })
        .collect();
    all.sort();
    all
}

/// Copies a book with the changes beside it, as a machine leaves them that is switched off.
fn switched_off(from: &Path, to: &Path) {
    fs::copy(from, to).expect("the book");
    fs::copy(beside(from, "-wal"), beside(to, "-wal")).expect("its changes");
}

#[test]
fn at_rest_the_file_alone_is_the_whole_book() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 50);
    assert!(book.rest().unwrap());
    let stick = folder.path().join("stick.book");
    fs::copy(&path, &stick).unwrap();
    assert_eq!(entries(&Book::open(&stick).unwrap()), 50);
    // It goes on, and comes to rest again.
    book.append(job, 50, &note(51)).unwrap();
    assert!(book.rest().unwrap());
    fs::copy(&path, folder.path().join("second.book")).unwrap();
    let second = Book::open(&folder.path().join("second.book")).unwrap();
    assert_eq!(entries(&second), 51);
}

#[test]
fn changes_are_read_into_the_book_they_belong_to() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 3);
    book.rest().unwrap();
    book.append(job, 3, &note(4)).unwrap();
    let copy = folder.path().join("copy.book");
    switched_off(&path, &copy);
    assert_eq!(entries(&Book::open(&copy).unwrap()), 4);
}

#[test]
fn changes_of_another_book_are_not_read_in() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 3);
    book.rest().unwrap();
    let earlier = folder.path().join("earlier.book");
    fs::copy(&path, &earlier).unwrap();
    book.append(job, 3, &note(4)).unwrap();
    book.rest().unwrap();
    book.append(job, 4, &note(5)).unwrap();
    let (other, _) = with_notes(&folder.path().join("other.book"), 7);
    other.rest().unwrap();
    // Another book, and an earlier copy of the same one, each put beside what was left of this.
    for put in [folder.path().join("other.book"), earlier] {
        let place = tempfile::tempdir().unwrap();
        let at = place.path().join("bench.book");
        switched_off(&path, &at);
        fs::copy(&put, &at).unwrap();
        let before = contents(place.path());
        let fault = Book::open(&at).unwrap_err();
        let its_own = BookFault::NotItsOwn {
            path: fs::canonicalize(&at).unwrap(),
            beside: beside(&fs::canonicalize(&at).unwrap(), "-wal"),
        };
        assert_eq!(fault, its_own);
        assert_eq!(contents(place.path()), before, "nothing is touched");
        // Taken away, they no longer stand in the way.
        fs::remove_file(beside(&at, "-wal")).unwrap();
        let _ = fs::remove_file(beside(&at, "-shm"));
        let whole = Book::open(&put).map(|put| entries(&put)).unwrap();
        assert_eq!(entries(&Book::open(&at).unwrap()), whole);
    }
}

#[test]
fn what_is_done_to_an_open_book_is_told_before_anything_is_acknowledged() {
    type Done = (&'static str, fn(&Path), Became);
    let does: [Done; 5] = [
        ("removed", |at| fs::remove_file(at).unwrap(), Became::Gone),
        (
            "renamed",
            |at| fs::rename(at, at.with_file_name("old.book")).unwrap(),
            Became::Gone,
        ),
        (
            "cut to nothing",
            |at| fs::File::create(at).map(drop).unwrap(),
            Became::Cut,
        ),
        (
            "another in its place",
            |at| {
                fs::copy(at, at.with_file_name("new.book")).unwrap();
                fs::rename(at.with_file_name("new.book"), at).unwrap();
            },
            Became::Another,
        ),
        (
            "its folder renamed",
            |at| {
                let folder = at.parent().unwrap();
                fs::rename(folder, folder.with_file_name("elsewhere")).unwrap();
            },
            Became::Gone,
        ),
    ];
    for (what, done, became) in does {
        for rested in [true, false] {
            let above = tempfile::tempdir().unwrap();
            let folder = above.path().join("shop");
            fs::create_dir(&folder).unwrap();
            let path = folder.join("bench.book");
            let (book, job) = with_notes(&path, 5);
            if rested {
                book.rest().unwrap();
            }
            done(&path);
            let fault = book.append(job, 5, &note(6)).unwrap_err();
            let expected =
                matches!(&fault, BookFault::NoLongerThere { became: b, .. } if *b == became);
            assert!(expected, "{what}, {rested}: {fault:?}");
            // Nor does it come to rest in another's place.
            assert!(book.rest().is_err(), "{what}");
        }
    }
}

#[test]
fn its_changes_taken_away_while_it_is_open_are_missed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 5);
    fs::remove_file(beside(&path, "-wal")).unwrap();
    let fault = book.append(job, 5, &note(6)).unwrap_err();
    assert!(
        matches!(&fault, BookFault::NoLongerThere { what, .. } if what.ends_with("bench.book-wal")),
        "{fault:?}"
    );
}

#[test]
fn put_back_where_it_was_it_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 2);
    let away = folder.path().join("away.book");
    fs::rename(&path, &away).unwrap();
    assert!(book.append(job, 2, &note(3)).is_err());
    fs::rename(&away, &path).unwrap();
    book.append(job, 2, &note(3)).unwrap();
    assert_eq!(entries(&book), 3);
}

#[test]
fn where_a_book_is_gone_none_is_made_and_its_backup_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 5);
    let made = book.daily_backup(day(1)).unwrap().expect("a backup");
    book.append(job, 5, &note(6)).unwrap();
    // Switched off: what was written last lies beside it. Then the book itself is lost, or cut to nothing.
    let left = fs::read(beside(&path, "-wal")).unwrap();
    drop(book);
    for cut in [false, true] {
        fs::remove_file(&path).unwrap();
        if cut {
            fs::File::create(&path).unwrap();
        }
        fs::write(beside(&path, "-wal"), &left).unwrap();
        match Book::open(&path).unwrap_err() {
            BookFault::BookGone {
                backups, beside, ..
            } => {
                assert_eq!(
                    backups
                        .iter()
                        .map(|b| fs::canonicalize(b).unwrap())
                        .collect::<Vec<_>>(),
                    [fs::canonicalize(&made.folder).unwrap()]
                );
                assert!(beside.iter().any(|left| left.ends_with("bench.book-wal")));
            }
            fault => panic!("{fault:?}"),
        }
        assert_eq!(path.exists(), cut, "none is made");
        let restored = restore(&made.folder, &path).unwrap();
        assert_eq!(entries(&restored), 5);
        drop(restored);
        // What was left is kept under another name.
        let kept = fs::read_dir(folder.path()).unwrap().any(|file| {
            let file = file.unwrap();
            file.file_name()
                .to_string_lossy()
                .starts_with("bench.book-wal.left-")
                && fs::read(file.path()).unwrap() == left
        });
        assert!(kept);
    }
}

#[cfg(unix)]
#[test]
fn by_whatever_link_it_is_opened_it_is_one_book() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, _) = with_notes(&path, 1);
    let link = folder.path().join("desktop.book");
    std::os::unix::fs::symlink(&path, &link).unwrap();
    let linked = Book::open(&link).unwrap();
    assert_eq!(linked.path(), book.path());
    drop((book, linked));
    let second = folder.path().join("second.book");
    fs::hard_link(&path, &second).unwrap();
    for name in [&path, &second] {
        assert!(matches!(
            Book::open(name).unwrap_err(),
            BookFault::OtherNames { .. }
        ));
    }
    fs::remove_file(&second).unwrap();
    assert_eq!(entries(&Book::open(&path).unwrap()), 1);
}
