//! Several backups that resist a removal: all of them are told, each with what stands in its way, and what is said to help helps.

mod made_up;

use book::{BackupWas, Book, BookDamage, BookFault, Syncing};
use made_up::{begun, day, enter, intake, note, remove, with};
use std::fs;
use std::path::{Path, PathBuf};

/// Words that stand nowhere else.
const FIRST: &str = "Zephyrinella Quimbleworth";
const SECOND: &str = "Barnabydine Ottershaw";

fn open(path: &Path) -> Book {
    Book::open_with(path, Syncing::Never).unwrap()
}

fn job(book: &Book, owner: &str) -> book::JobId {
    let id = book
        .start("the bracket clock", "", begun("").text())
        .unwrap();
    enter(book, id, &[intake("the bracket clock", owner)]);
    id
}

fn backup(path: &Path, day: &str) -> PathBuf {
    path.with_file_name("bench.book.backups").join(day)
}

/// A backup a day, each with one entry more than the one before.
fn backed_up(book: &Book, id: book::JobId, days: &[&str]) {
    for n in days {
        enter(book, id, &[note(&format!("day {n}"))]);
        book.daily_backup(day(n)).unwrap().unwrap();
    }
}

/// The book in a backup.
fn book_in(backup: &Path) -> PathBuf {
    let mut files = fs::read_dir(backup).unwrap().flatten();
    let book = files.find(|there| there.path().extension().is_some_and(|ext| ext == "book"));
    book.unwrap().path()
}

/// The backups that are told to resist, by their days, and why.
fn resisting(came: Result<(), BookFault>) -> Vec<(String, BookFault)> {
    let Err(BookFault::NotSwept(all)) = came else {
        panic!("{came:?}");
    };
    let mut told: Vec<_> = (all.into_iter())
        .map(|fault| match fault {
            BookFault::Resists { backup, why } => (backup, *why),
            BookFault::NotKnown { ref backup } => (backup.clone(), fault),
            other => panic!("{other:?}"),
        })
        .map(|(backup, why)| (backup.file_name().unwrap().display().to_string(), why))
        .collect();
    told.sort_by(|(one, _), (other, _)| one.cmp(other));
    told
}

#[test]
fn all_that_resist_are_told_and_thrown_away_they_resist_no_more() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("bench.book");
    let book = open(&path);
    let id = job(&book, FIRST);
    let days = ["2026-03-01", "2026-03-02", "2026-03-03", "2026-03-04"];
    backed_up(&book, id, &days);
    let cut = book_in(&backup(&path, days[0]));
    let bytes = fs::read(&cut).unwrap();
    fs::write(&cut, &bytes[..bytes.len() / 3]).unwrap();
    fs::write(backup(&path, days[1]).join("backup.json"), "{").unwrap();
    let unread = book_in(&backup(&path, days[2]));
    fs::remove_file(&unread).unwrap();
    fs::create_dir(&unread).unwrap();

    let told = resisting(remove(&book, id));
    assert_eq!(
        told.iter().map(|(day, _)| day.as_str()).collect::<Vec<_>>(),
        days[..3]
    );
    assert!(matches!(told[0].1, BookFault::Damaged { .. }), "{told:?}");
    assert!(
        matches!(told[1].1, BookFault::NotABackup { .. }),
        "{told:?}"
    );
    assert!(
        matches!(told[2].1, BookFault::CannotOpen { .. }),
        "{told:?}"
    );
    // Nothing of it keeps the rest from going.
    assert_eq!(with(&backup(&path, days[3]), FIRST), Vec::<PathBuf>::new());
    for day in &days[..3] {
        fs::remove_dir_all(backup(&path, day)).unwrap();
    }
    book.sweep().unwrap();
    assert_eq!(book.verify().unwrap().wrong, []);
    drop(book);
    assert_eq!(with(folder.path(), FIRST), Vec::<PathBuf>::new());
}

#[test]
fn all_that_are_of_another_book_are_told_by_their_new_names() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("bench.book");
    let book = open(&path);
    book.start("the regulator", "", begun("").text()).unwrap();
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    let lost = job(&book, FIRST);
    let days = ["2026-03-02", "2026-03-03"];
    backed_up(&book, lost, &days);
    drop(book);
    fs::remove_file(&path).unwrap();
    drop(book::restore(&backup(&path, "2026-03-01"), &path).unwrap());
    let book = open(&path);
    let id = job(&book, SECOND);
    assert_eq!(id, lost);
    let aside = days.map(|day| backup(&path, &format!("{day}.other")));
    let Err(BookFault::OtherLines { mut backups }) = remove(&book, id) else {
        panic!("they have other lines");
    };
    backups.sort();
    assert_eq!(backups, aside);
    assert!(aside.iter().all(|aside| !with(aside, FIRST).is_empty()));
    book.sweep().unwrap();
}

/// What may not be read or written resists only a process that owns nothing: as root nothing does.
#[cfg(unix)]
mod denied {
    use super::*;
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;

    /// The folder in which such a process tries it.
    const TRIED: &str = "BOOK_DENIED_TO_A_STRANGER";

    fn may(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    }

    fn tried(folder: &Path) {
        let path = folder.join("bench.book");
        let book = open(&path);
        let id = job(&book, FIRST);
        let days = ["2026-03-01", "2026-03-02", "2026-03-03"];
        backed_up(&book, id, &days);
        let only_read = backup(&path, days[0]);
        let unread = book_in(&backup(&path, days[1]));
        may(&only_read, 0o555);
        may(&unread, 0o000);
        let wrong = book.verify().unwrap().wrong;
        assert!(
            matches!(
                &wrong[..],
                [BookDamage::Backup {
                    was: BackupWas::Unread,
                    ..
                }]
            ),
            "{wrong:?}"
        );
        let told = resisting(remove(&book, id));
        assert!(matches!(
            &told[..],
            [
                (_, BookFault::ReadOnly { .. }),
                (_, BookFault::CannotOpen { .. })
            ]
        ));
        // Which of their lines it was is not known any more; they are named until they are thrown away.
        may(&only_read, 0o755);
        may(&unread, 0o644);
        let told = resisting(book.sweep());
        assert!(matches!(
            &told[..],
            [
                (_, BookFault::NotKnown { .. }),
                (_, BookFault::NotKnown { .. })
            ]
        ));
        for day in &days[..2] {
            fs::remove_dir_all(backup(&path, day)).unwrap();
        }
        book.sweep().unwrap();
        drop(book);
        assert_eq!(with(folder, FIRST), Vec::<PathBuf>::new());
        println!("tried: all of it");
    }

    #[test]
    fn what_may_not_be_read_or_written_is_told_until_it_is_thrown_away() {
        if let Some(folder) = std::env::var_os(TRIED) {
            return tried(Path::new(&folder));
        }
        let folder = tempfile::tempdir().unwrap();
        may(folder.path(), 0o755);
        let myself = folder.path().join("myself");
        fs::copy(std::env::current_exe().unwrap(), &myself).unwrap();
        let am_root = fs::metadata(folder.path()).unwrap().uid() == 0;
        let within = folder.path().join("within");
        fs::create_dir(&within).unwrap();
        may(&within, 0o777);
        let name = "denied::what_may_not_be_read_or_written_is_told_until_it_is_thrown_away";
        let mut stranger = std::process::Command::new(&myself);
        stranger
            .args(["--exact", name, "--nocapture"])
            .env(TRIED, &within)
            .current_dir("/");
        if am_root {
            stranger.uid(65534).gid(65534);
        }
        let output = stranger.output().unwrap();
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(said.contains("tried: all of it"), "{output:?}");
    }
}
