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

/// Two copies of one book, both worked on since: the place of each, at rest.
fn siblings(folder: &Path) -> [PathBuf; 2] {
    let path = folder.join("first.book");
    let (book, _) = with_notes(&path, 3);
    drop(book);
    let second = folder.join("second.book");
    fs::copy(&path, &second).unwrap();
    [path, second]
}

fn only_job(book: &Book) -> JobId {
    book.jobs().unwrap()[0].id
}

fn not_its_own(at: &Path) {
    let folder = at.parent().unwrap();
    let before = contents(folder);
    for opened in [Book::open(at), Book::open_to_read(at)] {
        let fault = opened.unwrap_err();
        assert!(matches!(fault, BookFault::NotItsOwn { .. }), "{fault:?}");
        assert_eq!(contents(folder), before, "nothing is touched");
    }
}

#[test]
fn changes_of_a_sibling_are_not_read_in() {
    let folder = tempfile::tempdir().unwrap();
    let [one, other] = siblings(folder.path());
    // The one is worked on and closed; the other is switched off at its work. They have the same number of lines, or not, and
    // what is written lies on the same pages, or not.
    for (more, large) in [(1, 1), (2, 1), (1, 40), (30, 1)] {
        let place = tempfile::tempdir().unwrap();
        let at = place.path().join("bench.book");
        let left = place.path().join("left.book");
        fs::copy(&one, &at).unwrap();
        fs::copy(&other, &left).unwrap();
        let book = Book::open(&at).unwrap();
        for n in 0..more {
            book.append(only_job(&book), 3 + n, &note(4 + n)).unwrap();
        }
        drop(book);
        let sibling = Book::open(&left).unwrap();
        for n in 0..large {
            let job = only_job(&sibling);
            sibling.append(job, 3 + n, &note(4 + n)).unwrap();
        }
        fs::copy(beside(&left, "-wal"), beside(&at, "-wal")).unwrap();
        not_its_own(&at);
        fs::remove_file(beside(&at, "-wal")).unwrap();
        assert_eq!(entries(&Book::open(&at).unwrap()), 3 + more);
    }
}

#[test]
fn earlier_changes_of_the_same_day_are_not_read_in() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 3);
    book.rest().unwrap();
    book.append(job, 3, &note(4)).unwrap();
    let early = fs::read(beside(&path, "-wal")).unwrap();
    // Written on in the same file of changes, and carried over whole.
    book.append(job, 4, &note(5)).unwrap();
    drop(book);
    fs::write(beside(&path, "-wal"), early).unwrap();
    not_its_own(&path);
}

#[test]
fn changes_are_not_read_into_a_backup_of_the_same_book() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 3);
    book.rest().unwrap();
    book.append(job, 3, &note(4)).unwrap();
    let made = book.daily_backup(day(1)).unwrap().expect("a backup");
    let left = fs::read(beside(&path, "-wal")).unwrap();
    drop(book);
    // Its pages lie otherwise.
    let copy = fs::read_dir(&made.folder)
        .unwrap()
        .map(|file| file.unwrap().path())
        .find(|file| file.extension().is_some_and(|end| end == "book"));
    fs::copy(copy.unwrap(), &path).unwrap();
    fs::write(beside(&path, "-wal"), left).unwrap();
    not_its_own(&path);
}

#[test]
fn a_book_part_of_whose_changes_were_carried_in_opens() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 3);
    book.rest().unwrap();
    let before = fs::read(&path).unwrap();
    for n in 3..9 {
        book.append(job, n, &note(n + 1)).unwrap();
    }
    let left = fs::read(beside(&path, "-wal")).unwrap();
    drop(book);
    let after = fs::read(&path).unwrap();
    // Power fails while the changes are carried over, page by page and in any order.
    for part in 0..16_usize {
        let place = tempfile::tempdir().unwrap();
        let at = place.path().join("bench.book");
        let mut torn = before.clone();
        torn.resize(after.len(), 0);
        let pages = after.chunks(4096).zip(torn.chunks_mut(4096));
        for (n, (after, torn)) in pages.enumerate() {
            if (n * 7 + part) % 16 < 8 {
                torn.copy_from_slice(after);
            }
        }
        fs::write(&at, torn).unwrap();
        fs::write(beside(&at, "-wal"), &left).unwrap();
        assert_eq!(entries(&Book::open(&at).unwrap()), 9, "{part}");
    }
}

#[test]
fn another_copy_written_over_the_open_book_is_noticed() {
    for rested in [true, false] {
        let folder = tempfile::tempdir().unwrap();
        let [path, copy] = siblings(folder.path());
        let book = Book::open(&path).unwrap();
        let job = only_job(&book);
        book.append(job, 3, &note(4)).unwrap();
        if rested {
            book.rest().unwrap();
        }
        let second = Book::open(&copy).unwrap();
        second.append(job, 3, &note(4)).unwrap();
        second.append(job, 4, &note(5)).unwrap();
        drop(second);
        let put = fs::read(&copy).unwrap();
        // In place: the file stays the same.
        fs::write(&path, &put).unwrap();
        for _ in 0..2 {
            let fault = book.append(job, 4, &note(5)).unwrap_err();
            let told = matches!(
                fault,
                BookFault::NoLongerThere {
                    became: Became::WrittenOver,
                    ..
                }
            );
            assert!(told, "{rested}: {fault:?}");
            assert!(book.rest().is_err());
        }
        drop(book);
        assert_eq!(fs::read(&path).unwrap(), put, "nothing is carried into it");
        if !rested {
            not_its_own(&path);
            fs::remove_file(beside(&path, "-wal")).unwrap();
        }
        assert_eq!(entries(&Book::open(&path).unwrap()), 5);
    }
}

#[test]
fn what_another_program_writes_and_carries_over_is_no_other_book() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, job) = with_notes(&path, 1);
    let other = Book::open(&path).unwrap();
    for n in (1..13).step_by(4) {
        other.append(job, n, &note(n + 1)).unwrap();
        other.rest().unwrap();
        book.append(job, n + 1, &note(n + 2)).unwrap();
        other.append(job, n + 2, &note(n + 3)).unwrap();
        book.rest().unwrap();
        other.append(job, n + 3, &note(n + 4)).unwrap();
        other.rest().unwrap();
    }
    drop(other);
    book.append(job, 13, &note(14)).unwrap();
    assert_eq!(entries(&book), 14);
}

#[test]
fn a_new_book_is_whole_in_its_own_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    let early = folder.path().join("early.book");
    fs::copy(&path, &early).unwrap();
    let job = book.start("Quay Street", "sheet", LOG).unwrap();
    let first = folder.path().join("first.book");
    fs::copy(&path, &first).unwrap();
    book.append(job, 0, &note(1)).unwrap();
    assert_eq!(entries(&Book::open(&early).unwrap()), 0);
    // With its first job it is no new one.
    assert_eq!(Book::open(&first).unwrap().jobs().unwrap().len(), 1);
}

#[test]
fn pages_without_a_table_are_no_new_book() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    drop(with_notes(&path, 2));
    let mut bytes = fs::read(&path).unwrap();
    bytes.truncate(4096);
    // The first page of a store in which nothing was made yet: no table, no mark, one page.
    bytes[100..].fill(0);
    bytes[100] = 13;
    bytes[105..107].copy_from_slice(&4096_u16.to_be_bytes());
    bytes[28..32].copy_from_slice(&1_u32.to_be_bytes());
    bytes[60..64].fill(0);
    bytes[68..72].fill(0);
    fs::write(&path, &bytes).unwrap();
    for opened in [Book::open(&path), Book::open_to_read(&path)] {
        let fault = opened.unwrap_err();
        assert!(matches!(fault, BookFault::Damaged { .. }), "{fault:?}");
    }
    assert_eq!(fs::read(&path).unwrap(), bytes);
    fs::write(&path, "").unwrap();
    assert!(
        Book::open_there(&path).is_err(),
        "no book is made of nothing"
    );
    assert_eq!(fs::read(&path).unwrap(), b"");
}
