//! What is removed is gone from every file, and from the backups that are kept; the entries stay.

mod made_up;

use book::{BackupWas, Book, BookDamage, BookFault, EntryPlace, Places, Removing, Size};
use entries::Emptied;
use made_up::{begun, day, enter, intake, log, note, remove, shows, some_picture, with};
use std::path::PathBuf;

/// A word that stands nowhere else.
const OWNER: &str = "Zephyrinella Quimbleworth";

fn book() -> (tempfile::TempDir, PathBuf, Book) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    (folder, path, book)
}

#[test]
fn a_person_is_gone_from_every_file_and_backup() {
    let (folder, path, book) = book();
    let picture = book.keep_picture(some_picture(1)).unwrap();
    let other = book.keep_picture(some_picture(2)).unwrap();
    let id = book
        .start("the bracket clock", "", begun("").text())
        .unwrap();
    let second = book.start("the regulator", "", begun("").text()).unwrap();
    let person = [intake("the bracket clock", OWNER), shows(&picture.digest)];
    enter(&book, id, &person);
    for n in 0..300 {
        enter(&book, id, &[note(&format!("{n} and more"))]);
    }
    enter(
        &book,
        second,
        &[shows(&picture.digest), shows(&other.digest)],
    );
    let first = book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    assert_eq!((first.pictures, &*first.missing), (2, &[][..]));
    enter(&book, id, &[note("the day after")]);
    book.daily_backup(day("2026-03-02")).unwrap().unwrap();
    let (_, bytes) = book.picture_bytes(&picture.digest, Size::Whole).unwrap();
    assert!(with(folder.path(), OWNER.as_bytes()).len() >= 3);
    assert_eq!(with(folder.path(), &bytes).len(), 3);
    assert_eq!(book.search("quimbleworth", 9).unwrap().len(), 1);

    // What a kill left: a picture half written, and half a backup.
    let text = picture.digest.text();
    let part = folder.path().join("bench.book.pictures").join(&text[..2]);
    std::fs::write(part.join(".half-aB3dE9"), &bytes[..bytes.len() / 2]).unwrap();
    std::fs::write(part.join(".x7Yk2q"), "another").unwrap();
    let half = folder.path().join("bench.book.backups").join(".half-x");
    std::fs::create_dir(&half).unwrap();
    std::fs::write(half.join("book"), OWNER).unwrap();

    let personal = log(&book, id).personal();
    let before = log(&book, id).entries().len();
    book.remove(id, before, &Removing::of(id, &personal), Some("2026-03-03"))
        .unwrap();

    assert_eq!(with(folder.path(), OWNER.as_bytes()), Vec::<PathBuf>::new());
    // What is written into the file of words is packed, so each end is looked for as well.
    assert_eq!(with(folder.path(), b"uimbleworth"), Vec::<PathBuf>::new());
    assert_eq!(with(folder.path(), &bytes), Vec::<PathBuf>::new());
    assert_eq!(
        with(folder.path(), picture.digest.text().as_bytes()),
        Vec::<PathBuf>::new()
    );
    assert!(!part.join(".half-aB3dE9").exists() && !part.join(".x7Yk2q").exists());
    assert_eq!(book.search("quimbleworth", 9).unwrap(), []);
    let gone = book.picture_bytes(&picture.digest, Size::Preview);
    assert!(matches!(gone, Err(BookFault::NoSuchPicture { .. })));
    // The entries stay, here and in the other job that showed the picture, which says so too.
    assert_eq!(log(&book, id).entries().len(), before + 1);
    assert_eq!(log(&book, second).entries().len(), 3);
    assert_eq!(book.pictures_of(id), Ok(vec![]));
    assert_eq!(book.pictures_of(second), Ok(vec![(2, other.clone())]));
    assert_eq!(book.jobs().unwrap()[1].name, "the bracket clock");
    assert_eq!(book.verify().unwrap().wrong, []);

    // Each backup is still one, with all the rest of that day, and so is the next.
    let later = book.daily_backup(day("2026-03-04")).unwrap().unwrap();
    assert_eq!(with(folder.path(), OWNER.as_bytes()), Vec::<PathBuf>::new());
    for (backup, entries) in [
        ("2026-03-01", before - 1),
        ("2026-03-02", before),
        ("2026-03-04", before + 1),
    ] {
        let place = path.with_file_name(format!("{backup}.book"));
        let from = later.folder.with_file_name(backup);
        let old = book::restore(&from, &place).unwrap();
        assert_eq!(log(&old, id).entries().len(), entries, "{backup}");
        assert_eq!(old.search("and more", 1000).unwrap().len(), 300);
        assert_eq!(old.pictures_of(second), Ok(vec![(2, other.clone())]));
        assert!(old.picture_bytes(&other.digest, Size::Whole).is_ok());
    }
}

#[test]
fn the_name_of_a_job_goes_with_that_of_its_clock() {
    let (folder, _, book) = book();
    let clock = format!("the clock of {OWNER}");
    let id = book.start(&clock, "", begun("").text()).unwrap();
    enter(&book, id, &[intake(&clock, "x")]);
    let fields = vec!["clock".to_owned()];
    book.remove(id, 1, &Removing::of(id, &[Emptied { of: 1, fields }]), None)
        .unwrap();
    assert_eq!(with(folder.path(), OWNER.as_bytes()), Vec::<PathBuf>::new());
    assert_eq!(book.jobs().unwrap()[0].name, "");
    assert_eq!(book.search("quimbleworth", 9).unwrap(), []);
}

#[test]
fn what_cannot_be_removed_changes_nothing() {
    let (_folder, _, book) = book();
    let id = book.start("a", "", begun("").text()).unwrap();
    enter(&book, id, &[intake("the bracket clock", OWNER)]);
    let before = book.job(id).unwrap();
    let named = |of, field: &str| {
        let fields = vec![field.to_owned()];
        Removing::of(id, &[Emptied { of, fields }])
    };
    let late = book.remove(id, 0, &named(1, "owner"), None);
    assert_eq!(
        late,
        Err(BookFault::Behind {
            held: 1,
            believed: 0
        })
    );
    for (of, field) in [
        (0, "owner"),
        (2, "owner"),
        (1, "kind"),
        (1, "n"),
        (1, "says"),
    ] {
        let refused = book.remove(id, 1, &named(of, field), None);
        assert!(
            matches!(refused, Err(BookFault::Unreadable(_))),
            "{of} {field}"
        );
    }
    assert_eq!(book.job(id).unwrap(), before);
}

/// Kept again after it was removed, a picture is there again.
#[test]
fn a_removed_picture_can_be_kept_again() {
    let (_folder, _, book) = book();
    let picture = book.keep_picture(some_picture(1)).unwrap();
    let id = book.start("a", "", begun("").text()).unwrap();
    enter(&book, id, &[shows(&picture.digest)]);
    let personal = log(&book, id).personal();
    book.remove(id, 1, &Removing::of(id, &personal), None)
        .unwrap();
    assert_eq!(book.keep_picture(some_picture(1)).unwrap(), picture);
    book.sweep().unwrap();
    assert!(book.picture_bytes(&picture.digest, Size::Whole).is_ok());
    assert_eq!(book.verify().unwrap().wrong, []);
}

/// The name of a job without a sheet stands in the line that its log begins with too.
#[test]
fn the_name_of_a_clock_goes_from_the_line_that_its_log_begins_with() {
    let (folder, _, book) = book();
    let clock = format!("the clock of {OWNER}");
    let id = book.start(&clock, "", begun(&clock).text()).unwrap();
    enter(&book, id, &[intake(&clock, "x")]);
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    let fields = vec!["clock".to_owned()];
    let what = Removing::of(id, &[Emptied { of: 1, fields }]);
    book.remove(id, 1, &what, None).unwrap();
    assert_eq!(with(folder.path(), OWNER), Vec::<PathBuf>::new());
    assert_eq!(log(&book, id).header().hash, "5f0c");
    assert_eq!(book.verify().unwrap().wrong, []);
}

/// What stands in other texts goes along where that is wished, everywhere; of what is left only the places are kept.
#[test]
fn what_stands_elsewhere_goes_along_and_what_is_left_is_known_by_its_places() {
    let (folder, path, book) = book();
    let says = |text: &str| note(&format!("{text} {OWNER}"));
    let id = book.start("a", "", begun("").text()).unwrap();
    let other = book.start("b", "", begun("").text()).unwrap();
    enter(&book, id, &[intake("a", OWNER), says("rang")]);
    enter(
        &book,
        other,
        &[note("dust"), says("sister of"), says("paid by")],
    );
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    let fits = |said: &str| said.contains("Quimbleworth");
    assert_eq!(
        book.lines_that(fits).unwrap(),
        [(id, 1), (id, 2), (other, 2), (other, 3)].map(|(job, n)| EntryPlace { job, n })
    );
    let entry = |of| Emptied {
        of,
        fields: vec!["says".to_owned()],
    };
    let mut own = log(&book, id).personal();
    own.push(entry(2));
    let left = Places::from([(other, vec![entry(3)])]);
    let what = Removing {
        emptied: Places::from([(id, own), (other, vec![entry(2)])]),
        left: left.clone(),
    };
    book.remove(id, 2, &what, Some("2026-03-02")).unwrap();
    assert_eq!(
        book.lines_that(fits).unwrap(),
        [EntryPlace { job: other, n: 3 }]
    );
    assert_eq!(book.left_of(id).unwrap(), left);
    assert_eq!(book.left_of(other).unwrap(), Places::new());
    for gone in ["rang Zeph", "sister of Zeph"] {
        assert_eq!(with(folder.path(), gone), Vec::<PathBuf>::new(), "{gone}");
    }
    assert!(!with(folder.path(), "paid by Zeph").is_empty());
    assert_eq!(book.verify().unwrap().wrong, []);

    // It is known as long as nobody decided, to whoever opens the book; then it goes too, and with it the name.
    drop(book);
    let book = Book::open(&path).unwrap();
    let what = Removing {
        emptied: book.left_of(id).unwrap(),
        left: Places::new(),
    };
    book.remove(id, 3, &what, None).unwrap();
    assert_eq!(book.left_of(id).unwrap(), Places::new());
    assert_eq!(with(folder.path(), OWNER), Vec::<PathBuf>::new());
    assert_eq!(with(folder.path(), "uimbleworth"), Vec::<PathBuf>::new());
    assert_eq!(
        log(&book, id).entries().len(),
        3,
        "it has nothing new to tell"
    );
    assert_eq!(book.verify().unwrap().wrong, []);
}

#[test]
fn what_is_left_may_stay() {
    let (_folder, _, book) = book();
    let id = book.start("a", "", begun("").text()).unwrap();
    enter(&book, id, &[intake("a", OWNER), note("of a friend")]);
    let says = vec!["says".to_owned()];
    let left = vec![Emptied {
        of: 2,
        fields: says,
    }];
    let what = Removing {
        left: Places::from([(id, left)]),
        ..Removing::of(id, &log(&book, id).personal())
    };
    book.remove(id, 2, &what, None).unwrap();
    assert_eq!(book.left_of(id).unwrap(), what.left);
    book.let_stay(id).unwrap();
    assert_eq!(book.left_of(id).unwrap(), Places::new());
    assert_eq!(book.verify().unwrap().wrong, []);
}

/// A removal writes a backup anew; what was altered in it before is told afterwards too.
#[test]
fn a_backup_that_was_altered_is_known_as_that_after_a_removal() {
    let (folder, _, book) = book();
    let id = book.start("a clock", "", begun("").text()).unwrap();
    enter(
        &book,
        id,
        &[intake("a clock", OWNER), note("wants it by Easter")],
    );
    let made = book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    let files = std::fs::read_dir(&made.folder).unwrap().flatten();
    let copy = files
        .map(|there| there.path())
        .find(|path| path.extension().is_some_and(|end| end == "book"))
        .unwrap();
    let mut bytes = std::fs::read(&copy).unwrap();
    let (from, to) = (b"by Easter", b"by August");
    let at = bytes.windows(from.len()).position(|part| part == from);
    let at = at.unwrap();
    bytes[at..at + to.len()].copy_from_slice(to);
    std::fs::write(&copy, bytes).unwrap();
    let altered = [BookDamage::Backup {
        folder: made.folder.clone(),
        was: BackupWas::Book,
    }];
    assert_eq!(book.verify().unwrap().wrong, altered);

    remove(&book, id).unwrap();
    assert_eq!(with(folder.path(), OWNER.as_bytes()), Vec::<PathBuf>::new());
    assert_eq!(book.verify().unwrap().wrong, altered);
}
