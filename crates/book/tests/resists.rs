//! What a removal and the backup of a day come upon that is not as they left it: other people's lines in a backup, a backup that
//! cannot be read, files that were renamed, links and pipes. The rest is done all the same, and what was not is told.

mod made_up;

use book::{Book, BookDamage, BookFault, Syncing};
use entries::{Digest, Work};
use made_up::{begun, day, enter, intake, log, note, remove, shows, some_picture, with};
use std::fs;
use std::path::{Path, PathBuf};

/// Words that stand nowhere else.
const FIRST: &str = "Zephyrinella Quimbleworth";
const SECOND: &str = "Barnabydine Ottershaw";

fn open(path: &Path) -> Book {
    Book::open_with(path, Syncing::Never).unwrap()
}

/// A job of a clock that somebody brought, with a picture.
fn job(book: &Book, owner: &str, seed: u32) -> (book::JobId, Digest) {
    let id = book
        .start("the bracket clock", "", begun("").text())
        .unwrap();
    let picture = book.keep_picture(some_picture(seed)).unwrap().digest;
    let told: [Work; 2] = [intake("the bracket clock", owner), shows(&picture)];
    enter(book, id, &told);
    (id, picture)
}

/// Cuts the book in a backup.
fn cut(backup: &Path) {
    let in_it = fs::read_dir(backup).unwrap().flatten();
    let file = in_it
        .map(|there| there.path())
        .find(|path| path.extension().is_some_and(|ext| ext == "book"))
        .unwrap();
    let bytes = fs::read(&file).unwrap();
    fs::write(&file, &bytes[..bytes.len() / 3]).unwrap();
}

fn backup(folder: &Path, day: &str) -> PathBuf {
    folder.join("bench.book.backups").join(day)
}

#[test]
fn a_removal_empties_no_other_person_s_lines_in_a_backup_of_days_that_are_lost() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    book.start("the regulator", "", begun("").text()).unwrap();
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    let (lost, picture) = job(&book, FIRST, 1);
    book.daily_backup(day("2026-03-02")).unwrap().unwrap();
    drop(book);
    // The book is lost, and that of the day before put in its place: the next clock that comes in has the lost one's number.
    fs::remove_file(&path).unwrap();
    drop(book::restore(&backup(folder.path(), "2026-03-01"), &path).unwrap());
    let book = open(&path);
    let (id, _) = job(&book, SECOND, 2);
    assert_eq!(id, lost);
    let later = backup(folder.path(), "2026-03-02");
    book.daily_backup(day("2026-03-03")).unwrap().unwrap();
    let put_aside = backup(folder.path(), "2026-03-02.other");
    let told = BookFault::OtherLines {
        backups: vec![put_aside.clone()],
    };
    assert_eq!(remove(&book, id), Err(told));
    assert!(!later.exists());
    // Who was removed is gone from everywhere; who was not is where they were.
    drop(book);
    assert_eq!(with(folder.path(), SECOND), Vec::<PathBuf>::new());
    let restored = book::restore(&put_aside, &folder.path().join("restored.book")).unwrap();
    assert!(log(&restored, lost).text().contains(FIRST));
    assert!(restored.picture(&picture).is_ok());
    assert_eq!(restored.verify().unwrap().wrong, []);
    // It is told once; nothing goes over it again.
    let book = open(&path);
    assert_eq!(book.verify().unwrap().wrong, []);
    book.daily_backup(day("2026-03-04")).unwrap().unwrap();
    drop(book);
    assert!(!with(&put_aside, FIRST).is_empty());
}

/// A backup that was not there when a removal began is not gone over later: nobody knows then whose lines it has.
#[test]
fn a_removal_that_goes_on_later_empties_no_other_person_s_lines_either() {
    for entered in [false, true] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bench.book");
        let book = open(&path);
        book.start("the regulator", "", begun("").text()).unwrap();
        book.daily_backup(day("2026-03-01")).unwrap().unwrap();
        let (first, _) = job(&book, FIRST, 1);
        if entered {
            enter(&book, first, &[note("the fly rubs")]);
        }
        book.daily_backup(day("2026-03-02")).unwrap().unwrap();
        drop(book);
        fs::remove_file(&path).unwrap();
        drop(book::restore(&backup(folder.path(), "2026-03-01"), &path).unwrap());
        let book = open(&path);
        let (second, _) = job(&book, SECOND, 2);
        if entered {
            enter(&book, second, &[note("the hammer is loose")]);
        }
        // At first one backup resists, and the other lies elsewhere.
        let (own, away) = (
            backup(folder.path(), "2026-03-02"),
            folder.path().join("away"),
        );
        fs::rename(&own, &away).unwrap();
        cut(&backup(folder.path(), "2026-03-01"));
        assert!(matches!(remove(&book, second), Err(BookFault::NotSwept(_))));
        fs::rename(&away, &own).unwrap();
        fs::remove_dir_all(backup(folder.path(), "2026-03-01")).unwrap();
        drop(book);
        let book = open(&path);
        let told = book.daily_backup(day("2026-03-03"));
        let not_known = BookFault::NotKnown {
            backup: own.clone(),
        };
        let not_known = BookFault::NotSwept(vec![not_known]);
        assert_eq!(told.unwrap_err(), not_known, "{entered}");
        drop(book);
        assert!(!with(&own, FIRST).is_empty(), "{entered}");
    }
}

#[test]
fn what_cannot_be_gone_over_keeps_no_backup_from_being_made_and_nothing_else_from_going() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    let (id, _) = job(&book, FIRST, 1);
    for n in 1..=3 {
        enter(&book, id, &[note(&format!("day {n}"))]);
        book.daily_backup(day(&format!("2026-03-0{n}")))
            .unwrap()
            .unwrap();
    }
    // The fullest of them, which is gone over first, is cut.
    let fullest = backup(folder.path(), "2026-03-03");
    cut(&fullest);
    assert!(matches!(remove(&book, id), Err(BookFault::NotSwept(_))));
    for end in ["", "-wal"] {
        let file = fs::read(format!("{}{end}", path.display())).unwrap_or_default();
        let name = FIRST.as_bytes();
        assert!(!file.windows(name.len()).any(|part| part == name), "{end}");
    }
    for day_of in ["2026-03-01", "2026-03-02"] {
        assert_eq!(
            with(&backup(folder.path(), day_of), FIRST),
            Vec::<PathBuf>::new()
        );
    }
    for n in 4..=9 {
        let made = book.daily_backup(day(&format!("2026-03-0{n}")));
        assert!(matches!(made, Err(BookFault::NotSwept(_))), "{made:?}");
        assert!(
            backup(folder.path(), &format!("2026-03-0{n}")).is_dir(),
            "{n}"
        );
    }
    // The seventh after it is the last that it outlives.
    book.daily_backup(day("2026-03-10")).unwrap_err();
    assert!(!fullest.exists());
    book.daily_backup(day("2026-03-11")).unwrap().unwrap();
    assert_eq!(book.verify().unwrap().wrong, []);
}

#[test]
fn a_picture_that_was_renamed_and_a_backup_without_its_page_go_with_the_person() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    let (id, picture) = job(&book, FIRST, 1);
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    book.daily_backup(day("2026-03-02")).unwrap().unwrap();
    let pictures = folder.path().join("bench.book.pictures");
    let part = pictures.join(&picture.text()[..2]);
    let other = pictures.join("zz");
    fs::create_dir(&other).unwrap();
    let name = |ext: &str| format!("{}.{ext}", picture.text());
    fs::copy(part.join(name("png")), other.join(name("png"))).unwrap();
    fs::rename(part.join(name("png")), part.join(name("PNG"))).unwrap();
    fs::remove_file(backup(folder.path(), "2026-03-01").join("backup.json")).unwrap();
    remove(&book, id).unwrap();
    assert!(!other.join(name("png")).exists() && !part.join(name("PNG")).exists());
    assert!(!backup(folder.path(), "2026-03-01").exists());
    drop(book);
    assert_eq!(with(folder.path(), FIRST), Vec::<PathBuf>::new());
}

/// On a medium that knows no capitals a file manager may write a name in them, whole or in part.
#[test]
fn a_picture_in_a_backup_whose_name_is_in_capitals_goes_with_the_person() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    let (first, picture) = job(&book, FIRST, 1);
    let (second, others) = job(&book, SECOND, 2);
    let bytes = |digest| book.picture_bytes(digest, book::Size::Whole).unwrap().1;
    let [gone, stays] = [bytes(&picture), bytes(&others)];
    let text = picture.text();
    let capitals = text.to_uppercase();
    // Each kept by itself, as on a medium where no file has two names.
    for (n, name) in [
        format!("{text}.PNG"),
        format!("{capitals}.png"),
        format!("{capitals}.PNG"),
    ]
    .iter()
    .enumerate()
    {
        enter(&book, second, &[note(&format!("day {n}"))]);
        let day_of = format!("2026-03-0{}", n + 1);
        book.daily_backup(day(&day_of)).unwrap().unwrap();
        let part = (backup(folder.path(), &day_of).join("pictures")).join(&text[..2]);
        let file = part.join(format!("{text}.png"));
        fs::remove_file(&file).unwrap();
        fs::write(part.join(name), &gone).unwrap();
    }
    // And beside the book.
    let part = (folder.path().join("bench.book.pictures")).join(&text[..2]);
    let preview = |digits: &str| part.join(format!("{digits}.preview.jpg"));
    fs::rename(preview(text), preview(&capitals)).unwrap();
    remove(&book, first).unwrap();
    assert!(!preview(&capitals).exists());
    assert_eq!(with(folder.path(), &gone), Vec::<PathBuf>::new());
    assert_eq!(with(folder.path(), FIRST), Vec::<PathBuf>::new());
    assert_eq!(bytes(&others), stays);
    assert!(with(&backup(folder.path(), "2026-03-03"), &stays).len() == 1);
    assert_eq!(book.verify().unwrap().wrong, []);
}

/// Nor is the book in a backup taken for what was left of an earlier one.
#[test]
fn a_backup_whose_book_has_its_name_in_capitals_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    job(&book, FIRST, 1);
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    let own = backup(folder.path(), "2026-03-01");
    let file = (fs::read_dir(&own).unwrap().flatten())
        .map(|there| there.path())
        .find(|path| path.extension().is_some_and(|ext| ext == "book"))
        .unwrap();
    let stem = file.file_stem().unwrap().to_str().unwrap().to_uppercase();
    let capitals = own.join(format!("{stem}.book"));
    assert_ne!(file, capitals);
    fs::rename(&file, &capitals).unwrap();
    book.daily_backup(day("2026-03-02")).unwrap().unwrap();
    assert!(capitals.exists());
    fs::rename(&capitals, &file).unwrap();
    book::restore(&own, &folder.path().join("restored.book")).unwrap();
}

/// What a person has under the name of a folder of ours, or a link to it, is not ours.
#[cfg(unix)]
#[test]
fn a_link_in_the_place_of_a_folder_of_ours_is_not_followed() {
    let folder = tempfile::tempdir().unwrap();
    let elsewhere = folder.path().join("elsewhere");
    fs::create_dir(&elsewhere).unwrap();
    fs::write(elsewhere.join("book"), "a stranger's").unwrap();
    let path = folder.path().join("bench.book");
    let placing = folder.path().join("bench.book.placing");
    std::os::unix::fs::symlink(&elsewhere, &placing).unwrap();
    let book = open(&path);
    job(&book, FIRST, 1);
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    assert_eq!(fs::read(elsewhere.join("book")).unwrap(), b"a stranger's");
    drop(book);
    fs::remove_file(&placing).unwrap();
    fs::create_dir(&placing).unwrap();
    fs::write(placing.join("letters"), "a person's").unwrap();
    let book = open(&path);
    book.daily_backup(day("2026-03-02")).unwrap().unwrap();
    assert_eq!(fs::read(placing.join("letters")).unwrap(), b"a person's");
}

/// Whoever reads a pipe waits for ever: it is none of the book's files.
#[cfg(unix)]
#[test]
fn a_pipe_in_the_place_of_a_picture_is_told_and_not_waited_for() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    let (_, picture) = job(&book, FIRST, 1);
    let part = (folder.path().join("bench.book.pictures")).join(&picture.text()[..2]);
    for there in fs::read_dir(&part).unwrap().flatten() {
        fs::remove_file(there.path()).unwrap();
        let made = std::process::Command::new("mkfifo")
            .arg(there.path())
            .status();
        assert!(made.unwrap().success());
    }
    let wrong = book.verify().unwrap().wrong;
    assert!(
        wrong.contains(&BookDamage::Missing(picture.clone()))
            || wrong.contains(&BookDamage::Altered(picture.clone())),
        "{wrong:?}"
    );
    assert!(book.picture_bytes(&picture, book::Size::Whole).is_err());
    assert!(book.picture_bytes(&picture, book::Size::Preview).is_err());
    let made = book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    assert_eq!(made.missing.len(), 1);
    let out = book.export(&folder.path().join("out")).unwrap();
    assert_eq!(out.missing, 1);
}

/// Nor may the store open one, or a folder, where it keeps what it writes beside the book.
#[cfg(unix)]
#[test]
fn a_pipe_or_a_folder_in_the_place_of_what_lies_beside_the_book_is_told_and_not_waited_for() {
    for end in ["-journal", "-wal", "-shm"] {
        for folder_or_pipe in ["mkdir", "mkfifo"] {
            for new in [false, true] {
                let folder = tempfile::tempdir().unwrap();
                let path = folder.path().join("bench.book");
                if !new {
                    job(&open(&path), FIRST, 1);
                }
                let what = folder.path().join(format!("bench.book{end}"));
                let made = std::process::Command::new(folder_or_pipe)
                    .arg(&what)
                    .status();
                assert!(made.unwrap().success());
                let path = folder.path().canonicalize().unwrap().join("bench.book");
                let told = BookFault::NoPlainFile {
                    what: path.with_file_name(format!("bench.book{end}")),
                    path: path.clone(),
                };
                assert_eq!(Book::open(&path).unwrap_err(), told);
                if !new {
                    assert_eq!(Book::open_there(&path).unwrap_err(), told);
                    assert_eq!(Book::open_to_read(&path).unwrap_err(), told);
                }
                assert!(what.exists(), "it was not touched");
                fs::remove_dir(&what)
                    .or_else(|_| fs::remove_file(&what))
                    .unwrap();
                let book = open(&path);
                assert_eq!(book.jobs().unwrap().len(), usize::from(!new));
            }
        }
    }
}

/// What a person keeps below the folder of pictures, or behind a link from there, is not the book's.
#[cfg(unix)]
#[test]
fn a_removal_takes_none_of_a_person_s_own_files() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    let (id, _) = job(&book, FIRST, 1);
    let pictures = folder.path().join("bench.book.pictures");
    let elsewhere = folder.path().join("elsewhere");
    fs::create_dir_all(elsewhere.join("deeper")).unwrap();
    fs::create_dir_all(pictures.join("2019/beach")).unwrap();
    let own = [
        elsewhere.join("letter.pdf"),
        elsewhere.join(format!("{}.png", "a".repeat(64))),
        elsewhere.join("deeper/sea.jpg"),
        pictures.join("2019/sea.jpg"),
        pictures.join("2019/.notes"),
        pictures.join("2019/beach/sand.jpg"),
        pictures.join("list.txt"),
    ];
    for own in &own {
        fs::write(own, "a person's").unwrap();
    }
    std::os::unix::fs::symlink(&elsewhere, pictures.join("zz")).unwrap();
    remove(&book, id).unwrap();
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    for own in &own {
        assert!(own.exists(), "{}", own.display());
    }
    assert_eq!(book.verify().unwrap().strays, 0);
}

/// Two persons that are removed at a time, by two hands: both are gone from every backup.
#[test]
fn removals_at_a_time_do_not_keep_each_other_from_the_backups() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    let (first, _) = job(&book, FIRST, 1);
    let (second, _) = job(&book, SECOND, 2);
    for n in 1..=4 {
        enter(&book, first, &[note(&format!("day {n}"))]);
        book.daily_backup(day(&format!("2026-03-0{n}")))
            .unwrap()
            .unwrap();
    }
    std::thread::scope(|scope| {
        let one = scope.spawn(|| remove(&book, first));
        let other = scope.spawn(|| remove(&book, second));
        one.join().unwrap().unwrap();
        other.join().unwrap().unwrap();
    });
    assert_eq!(book.verify().unwrap().wrong, []);
    drop(book);
    for who in [FIRST, SECOND] {
        assert_eq!(with(folder.path(), who), Vec::<PathBuf>::new());
    }
}

/// A backup that could not be read when somebody was removed is told of until it is gone; it is not held to be another book's.
#[test]
fn a_backup_that_could_not_be_read_at_a_removal_is_told_until_it_goes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = open(&path);
    let (first, _) = job(&book, FIRST, 1);
    let (second, _) = job(&book, SECOND, 2);
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    enter(&book, first, &[note("the day after")]);
    book.daily_backup(day("2026-03-02")).unwrap().unwrap();
    let own = backup(folder.path(), "2026-03-01");
    let page = fs::read(own.join("backup.json")).unwrap();
    let file = (fs::read_dir(&own).unwrap().flatten())
        .map(|there| there.path())
        .find(|path| path.extension().is_some_and(|ext| ext == "book"))
        .unwrap();
    let whole = fs::read(&file).unwrap();
    cut(&own);
    remove(&book, first).unwrap_err();
    // It can be read again by now; but the lines that were emptied say nothing any more of what they were.
    fs::write(&file, &whole).unwrap();
    let not_known = BookFault::NotSwept(vec![BookFault::NotKnown {
        backup: own.clone(),
    }]);
    assert_eq!(book.sweep(), Err(not_known.clone()));
    assert!(
        book.verify()
            .unwrap()
            .wrong
            .contains(&BookDamage::Unswept(1))
    );
    // Nor does it keep others from being removed, there and elsewhere.
    assert_eq!(remove(&book, second), Err(not_known));
    let later = backup(folder.path(), "2026-03-02");
    for who in [FIRST, SECOND] {
        assert_eq!(with(&later, who), Vec::<PathBuf>::new());
    }
    assert_eq!(fs::read(own.join("backup.json")).unwrap(), page);
    fs::remove_dir_all(&own).unwrap();
    book.sweep().unwrap();
    assert_eq!(book.verify().unwrap().wrong, []);
}
