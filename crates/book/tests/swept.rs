//! A removal reaches whatever lies in and around a book: what was refused, broken off, set aside, left over. Whatever was
//! planted is looked for in the bytes of every file. What somebody is at work on meanwhile stays.

mod made_up;

use book::{Book, BookDamage, BookFault, JobId, Removing, Size, Syncing};
use entries::{Digest, EntryKind};
use made_up::{begun, day, drawn, enter, file, intake, log, note, shows, some_picture, with};
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// A word that stands nowhere else.
const OWNER: &str = "Zephyrinella Quimbleworth";

/// A book with a person and a picture in one job.
fn book(path: &Path) -> (Book, JobId, Digest) {
    let book = Book::open_with(path, Syncing::Never).unwrap();
    let id = book
        .start("the bracket clock", "", begun("").text())
        .unwrap();
    let picture = book.keep_picture(some_picture(1)).unwrap().digest;
    enter(
        &book,
        id,
        &[intake("the bracket clock", OWNER), shows(&picture)],
    );
    (book, id, picture)
}

/// A picture and its preview, as they lie in their files.
fn bytes(book: &Book, digest: &Digest) -> [Vec<u8>; 2] {
    [Size::Whole, Size::Preview].map(|size| book.picture_bytes(digest, size).unwrap().1)
}

#[test]
fn whatever_was_left_goes_with_the_person() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, id, picture) = book(&path);
    let mut gone: Vec<Vec<u8>> = bytes(&book, &picture).into();
    // A program that ended with a picture kept and no entry of it, and the backup of that day with it.
    let other = Book::open_with(&path, Syncing::Never).unwrap();
    let photo = file(&drawn(50, 30), image::ImageFormat::Jpeg);
    let unshown = other.keep_picture(&photo).unwrap().digest;
    gone.extend(bytes(&other, &unshown));
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    drop(other);
    let backups = folder.path().join("bench.book.backups");
    let pictures = folder.path().join("bench.book.pictures");
    let text = picture.text();
    let part = pictures.join(&text[..2]);
    let whole = fs::read(part.join(format!("{text}.png"))).unwrap();
    // Halves: of an export and a backup beside it and among its own, of a book, of pictures; of earlier programs too.
    let plant = |at: PathBuf| {
        fs::create_dir_all(at.parent().unwrap()).unwrap();
        fs::write(&at, OWNER).unwrap();
        at
    };
    let backup = backups.join("2026-03-01");
    let planted = [
        plant(folder.path().join(".half-aB3dEf/jobs/1/log.jsonl")),
        plant(folder.path().join(".half-Ab3xYz")),
        plant(backups.join(".half-qwert1/book")),
        plant(part.join(".half-zxcvb2")),
        plant(part.join(".poiuy3")),
        plant(folder.path().join("bench.book-wal.left-1")),
        plant(folder.path().join("bench.book.left-12")),
        plant(backups.join("2026-02-28.damaged/0123.book")),
        plant(backups.join("2026-02-28.damaged-2/0123.book")),
        plant(backup.join(".half-lkjhg4/packed")),
        plant(backup.join(".packed")),
        plant(backup.join("0123456789abcdef.book")),
        plant(backup.join(format!("pictures/{}/.mnbvc5", &text[..2]))),
        plant(pictures.join(format!("00/{}.jpg", "0".repeat(64)))),
        plant(pictures.join(format!("00/{}.preview.jpg", "0".repeat(64)))),
    ];
    fs::write(part.join(".begun6"), &whole[..whole.len() / 2]).unwrap();
    let copied = folder.path().join(".copie7");
    let head = |mark: &[u8; 4]| [b"SQLite format 3\0", &[0; 52][..], mark].concat();
    fs::write(&copied, [&head(b"Trnd"), OWNER.as_bytes()].concat()).unwrap();
    // What only looks like it is somebody else's.
    let theirs = [
        folder.path().join(".profile"),
        folder.path().join(".half-time-report"),
        folder.path().join("bench.book.left-over"),
        folder.path().join("other.book-wal.left-1"),
        backups.join("notes.txt"),
    ];
    for path in &theirs {
        fs::write(path, "theirs").unwrap();
    }
    // A store of another program, by a name like that of a half.
    let stranger = folder.path().join(".sqlite");
    fs::write(&stranger, [&head(&[0; 4])[..], b"theirs"].concat()).unwrap();

    // Only what was broken off goes with a backup; what was set aside goes with a removal.
    book.daily_backup(day("2026-03-02")).unwrap().unwrap();
    assert!(!planted[0].exists() && !planted[3].exists() && !planted[11].exists());
    assert!(planted[5].exists() && planted[7].exists() && planted[13].exists());
    let none = book.picture(&unshown);
    assert!(
        matches!(none, Err(BookFault::NoSuchPicture { .. })),
        "{none:?}"
    );

    let personal = log(&book, id).personal();
    let what = Removing::of(id, &personal);
    book.remove(id, 2, &what, Some("2026-03-03")).unwrap();
    assert_eq!(with(folder.path(), OWNER.as_bytes()), Vec::<PathBuf>::new());
    gone.push(whole[..whole.len() / 2].to_vec());
    gone.push(picture.text().as_bytes().to_vec());
    gone.push(unshown.text().as_bytes().to_vec());
    for what in &gone {
        assert_eq!(with(folder.path(), what), Vec::<PathBuf>::new());
    }
    assert!(planted.iter().all(|path| !path.exists()) && !copied.exists());
    assert!(theirs.iter().all(|path| path.exists()) && stranger.exists());
    let verdict = book.verify().unwrap();
    assert_eq!((verdict.wrong, verdict.strays), (vec![], 0));
}

#[test]
fn a_picture_whose_entry_is_refused_is_let_go() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, id, _) = book(&path);
    let kept = book.keep_picture(some_picture(2)).unwrap().digest;
    let whole = bytes(&book, &kept);
    let line = |digest: &Digest| {
        log(&book, id)
            .append(&EntryKind::Work(shows(digest)), None)
            .unwrap()
    };
    let late = book.append(id, 1, &line(&kept));
    assert!(matches!(late, Err(BookFault::Behind { .. })));
    book.let_go(&kept).unwrap();
    for what in &whole {
        assert_eq!(with(folder.path(), what), Vec::<PathBuf>::new());
    }
    assert!(matches!(
        book.picture(&kept),
        Err(BookFault::NoSuchPicture { .. })
    ));
    // While an entry is on its way that will show it, it stays: whoever sweeps, in this program or another.
    let kept = book.keep_picture(some_picture(3)).unwrap().digest;
    let again = book.keep_picture(some_picture(3)).unwrap().digest;
    assert_eq!(kept, again);
    book.let_go(&again).unwrap();
    let other = Book::open_with(&path, Syncing::Never).unwrap();
    other.let_go(&kept).unwrap();
    other.daily_backup(day("2026-03-01")).unwrap().unwrap();
    book.append(id, 2, &line(&kept)).unwrap();
    assert!(book.picture_bytes(&kept, Size::Whole).is_ok());
    // What an entry shows is not let go.
    book.let_go(&kept).unwrap();
    assert_eq!(book.pictures_of(id).unwrap().len(), 2);
    assert_eq!(book.verify().unwrap().wrong, []);
}

/// A picture's file that was written before the book could name it goes with the first backup after a start, by the note beside it.
#[test]
fn a_picture_that_never_came_goes_with_the_first_backup() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, _, kept) = book(&path);
    let elsewhere = tempfile::tempdir().unwrap();
    let other = Book::open_with(&elsewhere.path().join("x.book"), Syncing::Never).unwrap();
    let pictures = folder.path().join("bench.book.pictures");
    let part = |digest: &Digest| pictures.join(&digest.text()[..2]);
    // Each as it lies there when its program ends in the middle of keeping it.
    let left = |seed: u32| {
        let digest = other.keep_picture(some_picture(seed)).unwrap().digest;
        fs::create_dir_all(part(&digest)).unwrap();
        let [whole, preview] = bytes(&other, &digest);
        fs::write(part(&digest).join(format!("{digest}.png")), whole).unwrap();
        fs::write(part(&digest).join(format!("{digest}.preview.jpg")), preview).unwrap();
        digest
    };
    let note = |digest: &Digest| {
        let note = part(digest).join(format!(".coming-{digest}.png-Ab3xYz"));
        fs::write(&note, "").unwrap();
        note
    };
    let (gone, coming, theirs) = (left(7), left(8), left(9));
    let notes = [note(&gone), note(&coming), note(&kept)];
    let at_work = File::open(&notes[1]).unwrap();
    at_work.lock_shared().unwrap();
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    let there = |digest: &Digest| part(digest).join(format!("{digest}.png")).exists();
    assert!(!there(&gone) && !notes[0].exists());
    // Somebody is at work on the next; the book names the one after; of the last nobody knows whose it is.
    assert!(there(&coming) && notes[1].exists());
    assert!(there(&kept) && !notes[2].exists());
    assert!(there(&theirs));
    for what in bytes(&other, &gone) {
        assert_eq!(with(folder.path(), &what), Vec::<PathBuf>::new());
    }
    drop(at_work);
    book.daily_backup(day("2026-03-01")).unwrap();
    assert!(!there(&coming) && !notes[1].exists() && there(&theirs));
    assert_eq!(book.verify().unwrap().wrong, []);
}

#[test]
fn what_somebody_is_at_work_on_stays() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (book, id, _) = book(&path);
    let half = folder.path().join(".half-export");
    fs::create_dir(&half).unwrap();
    let at_work = File::open(&half).unwrap();
    at_work.lock_shared().unwrap();
    let personal = log(&book, id).personal();
    book.remove(id, 2, &Removing::of(id, &personal), None)
        .unwrap();
    assert!(half.exists());
    drop(at_work);
    book.daily_backup(day("2026-03-01")).unwrap().unwrap();
    assert!(!half.exists());
}

/// An export that is being written while somebody is removed is without them, or was there before.
#[test]
fn what_is_removed_meanwhile_is_not_in_an_export() {
    let mut met = 0;
    for n in 0..8 {
        let folder = tempfile::tempdir().unwrap();
        let (book, id, _) = book(&folder.path().join("bench.book"));
        for n in 0..30 {
            let log = begun(&format!("{n}"));
            book.start(&format!("{n}"), "", log.text()).unwrap();
        }
        let out = folder.path().join("out");
        let personal = log(&book, id).personal();
        let before = std::thread::scope(|scope| {
            let exporting = scope.spawn(|| book.export(&out).unwrap());
            std::thread::sleep(Duration::from_millis(3 * n));
            let before = out.exists();
            book.remove(id, 2, &Removing::of(id, &personal), None)
                .unwrap();
            exporting.join().unwrap();
            before
        });
        if !before {
            met += 1;
            assert_eq!(with(&out, OWNER.as_bytes()), Vec::<PathBuf>::new());
        }
    }
    assert!(met > 0, "each export was there before");
}

/// Where another book lies in its place, pictures that it does not name are not taken away.
#[test]
fn an_earlier_book_does_not_sweep_a_later_ones_pictures() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let (first, id, _) = book(&path);
    first.rest().unwrap();
    let earlier = fs::read(&path).unwrap();
    let later = first.keep_picture(some_picture(5)).unwrap().digest;
    enter(&first, id, &[shows(&later)]);
    first.daily_backup(day("2026-03-01")).unwrap().unwrap();
    first.rest().unwrap();
    drop(first);
    fs::write(&path, earlier).unwrap();
    let put_back = Book::open(&path).unwrap();
    let personal = log(&put_back, id).personal();
    // The backup has more of that job than the book: it is put aside, and told of.
    let told = put_back
        .remove(id, 2, &Removing::of(id, &personal), None)
        .unwrap_err();
    assert!(matches!(told, BookFault::OtherLines { .. }), "{told:?}");
    let text = later.text();
    let file = folder
        .path()
        .join(format!("bench.book.pictures/{}/{text}.png", &text[..2]));
    assert!(file.exists());
}

/// The folder of a book in which a process removes the person, to be killed over it.
const REMOVES: &str = "BOOK_REMOVED_FROM";

#[test]
fn a_kill_while_it_is_swept_is_made_good_at_the_next_start() {
    if let Some(folder) = std::env::var_os(REMOVES) {
        let book = Book::open(&Path::new(&folder).join("bench.book")).unwrap();
        let id = book.jobs().unwrap()[0].id;
        let held = log(&book, id).entries().len();
        book.remove(
            id,
            held,
            &Removing::of(id, &log(&book, id).personal()),
            None,
        )
        .unwrap();
        return;
    }
    let sound = tempfile::tempdir().unwrap();
    let path = sound.path().join("bench.book");
    let (made, id, picture) = book(&path);
    for n in 1..=4 {
        enter(&made, id, &[note(&format!("{n} and more"))]);
        made.daily_backup(day(&format!("2026-03-0{n}")))
            .unwrap()
            .unwrap();
    }
    let mut gone: Vec<Vec<u8>> = bytes(&made, &picture).into();
    gone.push(OWNER.as_bytes().to_vec());
    made.rest().unwrap();
    drop(made);
    let (mut halfway, mut tries) = (0, 0);
    while halfway < 12 && tries < 80 {
        tries += 1;
        let folder = tempfile::tempdir().unwrap();
        copied(sound.path(), folder.path());
        let mut removing = Command::new(std::env::current_exe().unwrap())
            .args([
                "--exact",
                "a_kill_while_it_is_swept_is_made_good_at_the_next_start",
            ])
            .env(REMOVES, folder.path())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // From right away to when it is done, a little later each time.
        std::thread::sleep(Duration::from_millis(9 * tries));
        removing.kill().unwrap();
        removing.wait().unwrap();
        let book = Book::open(&folder.path().join("bench.book")).unwrap();
        let removed = log(&book, id).personal().is_empty();
        let wrong = book.verify().unwrap().wrong;
        let swept = !wrong
            .iter()
            .any(|wrong| matches!(wrong, BookDamage::Unswept(_)));
        if removed && swept {
            break;
        }
        if !removed {
            continue;
        }
        halfway += 1;
        book.daily_backup(day("2026-03-05")).unwrap();
        for what in &gone {
            let left = with(folder.path(), what);
            assert_eq!(left, Vec::<PathBuf>::new(), "killed at {} ms", 9 * tries);
        }
        assert_eq!(book.verify().unwrap().wrong, []);
    }
    println!("killed half way {halfway} times of {tries}");
    assert!(
        halfway > 0,
        "it was never killed half way, of {tries} times"
    );
}

fn copied(from: &Path, to: &Path) {
    for there in fs::read_dir(from).unwrap() {
        let path = there.unwrap().path();
        let to = to.join(path.file_name().unwrap());
        if path.is_dir() {
            fs::create_dir(&to).unwrap();
            copied(&path, &to);
        } else {
            fs::copy(&path, &to).unwrap();
        }
    }
}
