//! Keeping the book from the command line, while the bench runs; and every way in which a book cannot be used, in one
//! clear sentence each, with nothing lost.

mod opened;

use assert_cmd::cargo::cargo_bin;
use opened::{Open, served};
use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::time::{Duration, Instant};

fn trundle(words: &[&str], book: &Path) -> Command {
    let mut command = Command::new(cargo_bin("trundle"));
    command.args(words).arg("--book").arg(book);
    command
}

fn keep(words: &[&str], book: &Path) -> Output {
    let all: Vec<&str> = [&["book"], words].concat();
    trundle(&all, book).output().expect("it runs")
}

fn said(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert!(output.stderr.is_empty(), "{output:?}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn refused(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(output.stdout.is_empty(), "{output:?}");
    let why = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(
        why.trim_end().lines().count(),
        1,
        "one clear sentence: {why}"
    );
    why
}

fn open(book: &Path) -> Open {
    served(&mut trundle(&["bench", "--no-open", "--port", "0"], book))
}

/// The status of an answer and all of it; nothing if the bench went away before it was whole.
fn ask(port: u16, method: &str, path: &str, body: &str) -> Option<(u16, String)> {
    let mut stream = TcpStream::connect(("127.0.0.1", port)).ok()?;
    let request = format!(
        "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nOrigin: http://127.0.0.1:{port}\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
        body.len()
    );
    stream.write_all(request.as_bytes()).ok()?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer).ok()?;
    let status = answer.split(' ').nth(1)?.parse().ok()?;
    Some((status, answer))
}

/// Enters an hour into the first job; its status and what is said.
fn struck(port: u16, entries: usize) -> (u16, String) {
    let body = format!("entries={entries}&hour=4");
    ask(port, "POST", "/job/1/struck", &body).expect("an answer")
}

fn entries(port: u16) -> usize {
    let (_, page) = ask(port, "GET", "/job/1", "").expect("a page");
    let told = page.split("name=\"entries\" value=\"").nth(1);
    let count = told.and_then(|t| t.split('"').next());
    count.and_then(|c| c.parse().ok()).expect("a count")
}

fn folder() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let book = folder.path().join("bench.book");
    (folder, book)
}

fn shown(path: &Path) -> &str {
    path.to_str().expect("a plain name")
}

#[test]
fn kept_while_the_bench_runs() {
    let (folder, book) = folder();
    let bench = open(&book);
    for n in 0..3 {
        assert_eq!(struck(bench.port, n).0, 303);
    }
    let at = |name: &str| folder.path().join(name);
    let backup = at("backup");
    let told = said(&keep(&["backup", shown(&backup)], &book));
    assert_eq!(
        told,
        format!(
            "The book is backed up in {}, with 0 pictures.\n",
            shown(&backup)
        )
    );
    let told = said(&keep(&["verify"], &book));
    assert_eq!(
        told.lines().next(),
        Some(&*format!(
            "The book {} is sound: 1 job, 3 entries, 0 pictures.",
            shown(&book)
        ))
    );
    let out = at("out");
    let told = said(&keep(&["export", shown(&out)], &book));
    assert_eq!(
        told,
        format!(
            "The book is exported to {}: 1 job, 3 entries, 0 pictures.\n",
            shown(&out)
        )
    );
    // It goes on meanwhile, and what is made of the copies is as they were.
    assert_eq!(struck(bench.port, 3).0, 303);
    let (restored, imported) = (at("restored.book"), at("imported.book"));
    let told = said(&keep(&["restore", shown(&backup)], &restored));
    assert_eq!(
        told,
        format!("The book {} is restored, with 1 job.\n", shown(&restored))
    );
    let told = said(&keep(&["import", shown(&out)], &imported));
    assert!(told.starts_with(&format!(
        "The book {} is made of the export: 1 job, 3",
        shown(&imported)
    )));
    for made in [restored, imported] {
        assert_eq!(entries(open(&made).port), 3);
        assert!(said(&keep(&["verify"], &made)).contains("3 entries"));
    }
    assert_eq!(entries(bench.port), 4);
}

#[test]
fn the_backup_of_the_day_is_made_by_itself() {
    let (folder, book) = folder();
    let bench = open(&book);
    let own = folder.path().join("bench.book.backups");
    let began = Instant::now();
    let backup = loop {
        let there = fs::read_dir(&own).into_iter().flatten().flatten();
        let whole = |path: &PathBuf| path.join("backup.json").is_file();
        if let Some(backup) = there.map(|there| there.path()).find(whole) {
            break backup;
        }
        assert!(began.elapsed() < Duration::from_secs(30), "none is made");
        std::thread::sleep(Duration::from_millis(50));
    };
    drop(bench);
    let restored = folder.path().join("restored.book");
    assert!(said(&keep(&["restore", shown(&backup)], &restored)).contains("1 job"));
}

#[test]
fn nothing_is_overwritten_and_none_is_made_by_looking() {
    let (folder, book) = folder();
    let nowhere = folder.path().join("nowhere.book");
    for words in [&["verify"][..], &["backup", "b"], &["export", "e"]] {
        let why = refused(&keep(words, &nowhere));
        assert!(why.contains("there is no book at"), "{why}");
        assert!(!nowhere.exists());
    }
    drop(open(&book));
    let taken = folder.path().join("taken");
    fs::create_dir(&taken).expect("made");
    for words in ["backup", "export"] {
        let why = refused(&keep(&[words, shown(&taken)], &book));
        assert!(why.contains("nothing is ever overwritten"), "{why}");
    }
    let (backup, out) = (folder.path().join("backup"), folder.path().join("out"));
    said(&keep(&["backup", shown(&backup)], &book));
    said(&keep(&["export", shown(&out)], &book));
    let before = fs::read(&book).expect("read");
    for (words, from) in [("restore", &backup), ("import", &out)] {
        let why = refused(&keep(&[words, shown(from)], &book));
        assert!(why.contains("nothing is ever overwritten"), "{why}");
    }
    assert_eq!(fs::read(&book).expect("read"), before);
}

#[test]
fn half_a_backup_and_what_is_none() {
    let (folder, book) = folder();
    drop(open(&book));
    let backup = folder.path().join("backup");
    said(&keep(&["backup", shown(&backup)], &book));
    let to = folder.path().join("restored.book");
    let why = refused(&keep(&["restore", shown(folder.path())], &to));
    assert!(why.contains("only half a backup"), "{why}");
    let why = refused(&keep(&["restore", shown(&book)], &to));
    assert!(why.contains("no backup of a bench book"), "{why}");
    let why = refused(&keep(&["import", shown(&backup)], &to));
    assert!(why.contains("no export of a bench book"), "{why}");
    let copy = fs::read_dir(&backup)
        .expect("a folder")
        .map(|there| there.expect("a file").path())
        .find(|path| path.extension().is_some_and(|end| end == "book"))
        .expect("the copy");
    let whole = fs::read(&copy).expect("read");
    fs::write(&copy, &whole[..whole.len() / 2]).expect("cut");
    let why = refused(&keep(&["restore", shown(&backup)], &to));
    assert!(why.contains("only half a backup"), "{why}");
    assert!(!to.exists());
    fs::write(&copy, &whole).expect("whole again");
    said(&keep(&["restore", shown(&backup)], &to));
}

/// Everything that opens the book says the same of one that a newer program made, and leaves it alone.
#[test]
fn a_book_from_a_newer_version() {
    let (folder, book) = folder();
    drop(open(&book));
    // Where the store keeps the version of a form: SQLite, "Database File Format", section 1.3.
    said(&keep(&["verify"], &book));
    let mut bytes = fs::read(&book).expect("read");
    bytes[60..64].copy_from_slice(&99_u32.to_be_bytes());
    fs::write(&book, &bytes).expect("written");
    let bench = trundle(&["bench", "--no-open"], &book)
        .output()
        .expect("it runs");
    let to = folder.path().join("to");
    for output in [
        bench,
        keep(&["verify"], &book),
        keep(&["backup", shown(&to)], &book),
        keep(&["export", shown(&to)], &book),
    ] {
        let why = refused(&output);
        assert!(
            why.contains("newer version of this program (form 99); it was not touched"),
            "{why}"
        );
    }
    assert_eq!(fs::read(&book).expect("read"), bytes);
    assert!(!to.exists());
}

#[test]
fn a_damaged_book() {
    let (_folder, book) = folder();
    drop(open(&book));
    said(&keep(&["verify"], &book));
    let whole = fs::read(&book).expect("read");
    let mut damaged = whole.clone();
    let middle = whole.len() / 2 / 4096 * 4096;
    damaged[middle..middle + 4096].fill(0xa5);
    fs::write(&book, &damaged).expect("written");
    for output in [
        trundle(&["bench", "--no-open"], &book)
            .output()
            .expect("it runs"),
        keep(&["verify"], &book),
    ] {
        let why = refused(&output);
        assert!(
            why.contains("is damaged") && why.contains("restore the latest backup"),
            "{why}"
        );
    }
    assert_eq!(fs::read(&book).expect("read"), damaged);
}

/// While another program writes in the book, those that only read go on; those that write wait, and then say so.
#[test]
fn a_second_program_on_the_same_book() {
    let (folder, book) = folder();
    let bench = open(&book);
    assert_eq!(struck(bench.port, 0).0, 303);
    let other = rusqlite::Connection::open(&book).expect("open");
    other.execute_batch("BEGIN IMMEDIATE").expect("begun");
    said(&keep(&["verify"], &book));
    said(&keep(
        &["backup", shown(&folder.path().join("backup"))],
        &book,
    ));
    let (status, page) = struck(bench.port, 1);
    assert_eq!(status, 500);
    assert!(
        page.contains("another program keeps writing in the book"),
        "{page}"
    );
    other.execute_batch("ROLLBACK").expect("ended");
    assert_eq!(entries(bench.port), 1);
    assert_eq!(struck(bench.port, 1).0, 303);
    drop(bench);
    // A bench that has to write before it can open.
    let sheet = concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements/quay.toml");
    other.execute_batch("BEGIN IMMEDIATE").expect("begun");
    let bench = trundle(&["bench", "--no-open", sheet], &book)
        .output()
        .expect("it runs");
    let why = refused(&bench);
    assert!(
        why.contains("another program keeps writing in the book"),
        "{why}"
    );
}

/// What may be read but not written, tried by a process that owns nothing where this one is root.
#[cfg(unix)]
#[test]
fn a_folder_that_may_only_be_read() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    let (folder, _) = folder();
    let may = |path: &Path, mode| {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("set");
    };
    may(folder.path(), 0o755);
    let program = folder.path().join("trundle");
    fs::copy(cargo_bin("trundle"), &program).expect("copied");
    let below = folder.path().join("below");
    fs::create_dir(&below).expect("made");
    let book = below.join("bench.book");
    drop(open(&book));
    said(&keep(&["verify"], &book));
    let before = fs::read(&book).expect("read");
    may(&below, 0o555);
    may(&book, 0o444);
    let am_root = fs::metadata(folder.path()).expect("there").uid() == 0;
    let as_stranger = |words: &[&str]| {
        let mut stranger = Command::new(&program);
        stranger
            .args(words)
            .arg("--book")
            .arg(&book)
            .current_dir("/");
        if am_root {
            stranger.uid(65534).gid(65534);
        }
        stranger.output().expect("it runs")
    };
    let why = refused(&as_stranger(&["bench", "--no-open"]));
    assert!(
        why.contains("can be read but not written") && why.contains("--book"),
        "{why}"
    );
    let why = refused(&as_stranger(&["book", "backup", "/x"]));
    assert!(why.contains("can be read but not written"), "{why}");
    // It is gone over and carried elsewhere all the same.
    let told = said(&as_stranger(&["book", "verify"]));
    assert!(told.contains("is sound: 1 job"), "{told}");
    let elsewhere = folder.path().join("elsewhere");
    fs::create_dir(&elsewhere).expect("made");
    may(&elsewhere, 0o777);
    for what in ["backup", "export"] {
        let to = elsewhere.join(what);
        said(&as_stranger(&["book", what, shown(&to)]));
        assert!(to.is_dir());
    }
    may(&below, 0o755);
    let to = below.join("new.book");
    let backup = folder.path().join("backup");
    said(&keep(&["backup", shown(&backup)], &book));
    may(&below, 0o555);
    let mut restore = Command::new(&program);
    restore.args(["book", "restore", shown(&backup), "--book", shown(&to)]);
    if am_root {
        restore.uid(65534).gid(65534);
    }
    let why = refused(&restore.output().expect("it runs"));
    assert!(why.contains("can be read but not written"), "{why}");
    may(&below, 0o755);
    assert_eq!(fs::read(&book).expect("read"), before);
}

/// A disk of one megabyte, of this test's own; what is done on it is done by a shell, as the disk is there for it alone.
#[cfg(target_os = "linux")]
mod small_disk {
    use super::*;

    /// The program on a small disk below `folder`; nothing where no disk can be had here.
    fn on_small_disk(folder: &Path, script: &str) -> Option<Output> {
        let disk = folder.join("disk");
        fs::create_dir_all(&disk).expect("made");
        let script = format!(
            "mount -t tmpfs -o size=1m tmpfs '{}' || exit 77\n{script}",
            shown(&disk)
        );
        for own in ["-m", "-rm"] {
            let output = Command::new("unshare")
                .args([own, "sh", "-c", &script])
                .env("TRUNDLE", cargo_bin("trundle"))
                .current_dir(folder)
                .output();
            match output {
                Ok(output)
                    if output.status.code() != Some(77) && output.status.code() != Some(1) =>
                {
                    return Some(output);
                }
                _ => {}
            }
        }
        println!("no disk of its own can be had here: not tried");
        None
    }

    /// Everything that writes says that there is no room, and what was there stays.
    #[test]
    fn a_full_disk() {
        let (folder, book) = folder();
        drop(open(&book));
        let pictures = folder.path().join("backup");
        said(&keep(&["backup", shown(&pictures)], &book));
        let script = r#"
            say() { echo "== $1"; shift; "$@" </dev/null 2>&1; echo "status $?"; }
            "$TRUNDLE" book restore backup --book disk/bench.book >/dev/null || exit 3
            dd if=/dev/zero of=disk/ballast bs=1k 2>/dev/null
            say bench timeout 20 "$TRUNDLE" bench --no-open --port 0 --book disk/bench.book "$SHEET"
            say new timeout 20 "$TRUNDLE" bench --no-open --port 0 --book disk/new.book
            say backup "$TRUNDLE" book backup disk/backup --book disk/bench.book
            say export "$TRUNDLE" book export disk/out --book disk/bench.book
            say restore "$TRUNDLE" book restore backup --book disk/restored.book
            rm disk/ballast
            say verify "$TRUNDLE" book verify --book disk/bench.book
            ls disk
            exit 0
        "#;
        let sheet = concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements/quay.toml");
        let script = script.replace("$SHEET", sheet);
        let Some(output) = on_small_disk(folder.path(), &script) else {
            return;
        };
        let told = String::from_utf8_lossy(&output.stdout).into_owned();
        assert!(output.status.success(), "{told} {output:?}");
        let part = |name: &str| {
            let (_, rest) = told.split_once(&format!("== {name}\n")).expect(&told);
            rest.split("== ").next().unwrap_or_default().to_owned()
        };
        for name in ["bench", "new", "backup", "export", "restore"] {
            let said = part(name);
            let lines: Vec<&str> = said.lines().collect();
            assert_eq!(lines.len(), 2, "one clear sentence: {name}: {said}");
            assert!(
                lines[0].contains("no room left on the disk"),
                "{name}: {said}"
            );
            assert_eq!(lines[1], "status 1", "{name}: {said}");
        }
        let verify = part("verify");
        assert!(verify.contains("is sound: 1 job"), "{verify}");
        for none in ["restored.book", "out", "backup\n"] {
            assert!(!verify.contains(none), "{verify}");
        }
    }
}

/// Statements run in a book with nothing that guards its lines in their way.
fn unguarded(book: &Path, sql: &str) {
    let store = rusqlite::Connection::open(book).expect("open");
    let guard = |name: &str| {
        let sql = format!("SELECT sql FROM sqlite_schema WHERE name = '{name}'");
        store
            .query_row(&sql, (), |row| row.get::<_, String>(0))
            .expect("a guard")
    };
    let guards = ["line_stays", "line_is_kept"].map(|name| (name, guard(name)));
    for (name, _) in &guards {
        store
            .execute_batch(&format!("DROP TRIGGER {name}"))
            .expect("dropped");
    }
    store
        .execute_batch(&format!("PRAGMA foreign_keys = OFF; {sql}"))
        .expect("done");
    for (_, guard) in guards {
        store.execute_batch(&guard).expect("made again");
    }
}

/// Which of it was altered, what that means, and how to go on; what harms nothing is told as such.
#[test]
fn what_was_altered_is_told_by_verifying() {
    let (folder, path) = folder();
    let log = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
    let book = book::Book::open(&path).expect("a book");
    let id = book.start("Quay Street", "", log).expect("a job");
    let picture = image::DynamicImage::new_rgb8(30, 20);
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture
        .write_to(&mut bytes, image::ImageFormat::Png)
        .expect("packed");
    let digest = book.keep_picture(bytes.get_ref()).expect("kept").digest;
    let lines = [
        "{\"n\":1,\"kind\":\"note\",\"says\":\"the fly rubs\"}\n".to_owned(),
        "{\"n\":2,\"kind\":\"note\",\"says\":\"it is free\"}\n".to_owned(),
        format!("{{\"n\":3,\"kind\":\"picture\",\"picture\":\"{digest}\",\"when\":\"before\"}}\n"),
    ];
    book.append(id, 0, &lines.concat()).expect("entered");
    let day = entries::Day::parse("2026-03-01").expect("a day");
    let backup = book
        .daily_backup(day)
        .expect("a backup")
        .expect("the first of its day");
    drop(book);
    let sound = fs::read(&path).expect("read");
    let told = |sql: &str| {
        unguarded(&path, sql);
        let output = keep(&["verify"], &path);
        fs::write(&path, &sound).expect("written");
        assert_eq!(output.status.code(), Some(1), "{output:?}");
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    let why = told("UPDATE line SET text = replace(text, 'rubs', 'runs') WHERE n = 1");
    assert!(
        why.contains("is not sound; leave it as it is, and restore the latest backup"),
        "{why}"
    );
    assert!(why.contains("of job 1, entry 1 is not as written"), "{why}");
    let why = told("UPDATE job SET name = 'x'");
    assert!(
        why.contains("of job 1, its beginning (name and first sheet) is not as written"),
        "{why}"
    );
    let why = told("DELETE FROM line WHERE n = 2");
    assert!(why.contains("of job 1, entry 2 is missing"), "{why}");
    let why =
        told("DELETE FROM shown; DELETE FROM line WHERE n = 3; DELETE FROM chain WHERE n = 3");
    assert!(why.contains("4 lines were written, 3 are left"), "{why}");
    let why = told(
        "CREATE TEMP TABLE t AS SELECT n, text FROM line;
        UPDATE line SET text = (SELECT text FROM t WHERE t.n = 3 - line.n) WHERE n IN (1, 2)",
    );
    assert!(
        why.contains("of job 1, entry 1, entry 2 stand in the place of another"),
        "{why}"
    );
    let why = told("INSERT INTO line (job, n, text) VALUES (1, 4, '{}')");
    assert!(
        why.contains("of job 1, entry 4 was put in by something other than this program"),
        "{why}"
    );
    let why = told("INSERT INTO setting VALUES ('units', 'mm')");
    assert!(why.contains("what the shop has settled"), "{why}");

    // A preview harms nothing; a backup leaves the book as it is.
    let text = digest.text();
    let preview = path.with_file_name(format!(
        "{}.pictures/{}/{text}.preview.jpg",
        path.file_name().expect("a name").display(),
        &text[..2]
    ));
    fs::write(&preview, "x").expect("written");
    let told = said(&keep(&["verify"], &path));
    assert!(
        told.contains("is sound: 1 job, 3 entries, 1 picture."),
        "{told}"
    );
    assert!(
        told.contains("made again when it is next looked at"),
        "{told}"
    );
    let page = backup.folder.join("backup.json");
    let text = fs::read_to_string(&page).expect("read");
    fs::write(&page, text.replace("\"last\": 4", "\"last\": 5")).expect("written");
    let output = keep(&["verify"], &path);
    let why = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{why}");
    assert!(
        why.contains("cannot be relied on") && !why.contains("earlier book"),
        "{why}"
    );
    fs::write(&page, text.replace("\"pictures\": 1", "\"pictures\": 0")).expect("written");
    let output = keep(&["verify"], &path);
    let why = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{why}");
    assert!(
        why.contains("is sound, but not all around it") && why.contains("do not restore from it"),
        "{why}"
    );
    drop(folder);
}

#[test]
fn what_is_made_of_a_damaged_book_is_never_a_silent_success() {
    let (folder, path) = folder();
    let log = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
    let made = book::Book::open(&path).expect("a book");
    for name in ["Quay Street", "Wren Street", "Ferry Road"] {
        made.start(name, "a sheet", log).expect("a job");
    }
    drop(made);
    let sound = fs::read(&path).expect("read");
    let (mut made_all_the_same, mut at) = (0, 0);
    // One bit here and there over all of the file.
    while at < sound.len() {
        let mut bytes = sound.clone();
        bytes[at] ^= 4;
        let place = folder.path().join(format!("at-{at}"));
        fs::create_dir(&place).expect("made");
        let damaged = place.join("bench.book");
        fs::write(&damaged, bytes).expect("written");
        let verified = keep(&["verify"], &damaged);
        let why = String::from_utf8_lossy(&verified.stderr).into_owned();
        assert!(!why.contains("there is no job in it"), "{at}: {why}");
        for what in ["backup", "export"] {
            let to = place.join(what);
            let output = keep(&[what, shown(&to)], &damaged);
            let why = String::from_utf8_lossy(&output.stderr).into_owned();
            assert_eq!(output.status, verified.status, "{at}, {what}: {why}");
            if to.exists() && !output.status.success() {
                made_all_the_same += 1;
                assert!(why.contains("of a book that is not sound"), "{at}: {why}");
            }
        }
        fs::remove_dir_all(&place).expect("removed");
        at += 2039;
    }
    // In its index of words a bit hinders nobody, and is told all the same.
    println!("made all the same: {made_all_the_same}");
    assert!(made_all_the_same > 0);
    let empty = folder.path().join("empty.book");
    fs::write(&empty, "").expect("written");
    let backup = folder.path().join("of-nothing");
    let why = refused(&keep(&["backup", shown(&backup)], &empty));
    assert!(why.contains("is no bench book"), "{why}");
    assert!(!backup.exists());
}
