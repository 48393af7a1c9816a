//! The bench as a process: what it refuses in one clear word, the second start, and being killed while it writes.

mod opened;

use assert_cmd::cargo::cargo_bin;
use opened::{Open, served};
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::{Command, Output};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

fn bench(book: &Path, more: &[&str]) -> Command {
    let mut command = Command::new(cargo_bin("trundle"));
    command
        .arg("bench")
        .arg("--no-open")
        .arg("--book")
        .arg(book)
        .args(more);
    command
}

fn refused(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(output.stdout.is_empty());
    let why = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(why.trim_end().lines().count(), 1, "one clear word: {why}");
    why
}

fn open(book: &Path) -> Open {
    open_with(book, &[])
}

fn open_with(book: &Path, sheets: &[&str]) -> Open {
    let more = [&["--port", "0"], sheets].concat();
    served(&mut bench(book, &more))
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

/// Entries in the first job's log, as its page has them.
fn entries(port: u16) -> usize {
    let (_, page) = ask(port, "GET", "/job/1", "").expect("a page");
    let told = page.split("name=\"entries\" value=\"").nth(1);
    let count = told.and_then(|t| t.split('"').next());
    count.and_then(|c| c.parse().ok()).expect("a count")
}

/// A log of the server is quiet unless it is asked for, and has nobody's name in it.
#[test]
fn requests_are_told_where_that_is_asked_for_and_without_a_name() {
    let folder = tempfile::tempdir().expect("a folder");
    for (more, told) in [
        (&["--port", "0", "--requests"][..], true),
        (&["--port", "0"], false),
    ] {
        let book = folder.path().join(format!("{told}.book"));
        let said = folder.path().join(format!("{told}.txt"));
        let mut bench = bench(&book, more);
        bench.stderr(std::fs::File::create(&said).expect("a file"));
        let open = served(&mut bench);
        assert_eq!(
            ask(open.port, "GET", "/job/1/way", "").expect("a page").0,
            200
        );
        let note = format!("entries={}&kind=note&says=Wrenfield", entries(open.port));
        assert_eq!(
            ask(open.port, "POST", "/job/1/enter", &note)
                .expect("a page")
                .0,
            303
        );
        assert_eq!(
            ask(open.port, "GET", "/search?for=Wrenfield", "")
                .expect("a page")
                .0,
            200
        );
        assert_eq!(
            ask(open.port, "GET", "/nowhere/Wrenfield", "")
                .expect("a page")
                .0,
            404
        );
        drop(open);
        let said = std::fs::read_to_string(said).expect("what it said");
        for line in ["/job/{id}/way", "/job/{id}/enter", "/search", "status=404"] {
            assert_eq!(said.contains(line), told, "{line}: {said}");
        }
        assert!(
            !said.contains("Wrenfield") && !said.contains("job/1"),
            "{said}"
        );
    }
}

/// What one reading and the page after it have worked out: on a bench that was opened just now, and where the job was looked at before.
#[test]
fn for_a_reading_and_its_page_sheet_and_log_are_gone_over_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = folder.path().join("wren.book");
    for (looked_at_before, anew) in [(false, 1), (true, 0)] {
        let held = entries(open(&book).port);
        let said = folder.path().join(format!("{looked_at_before}.txt"));
        let mut bench = bench(&book, &["--port", "0", "--requests"]);
        bench.stderr(std::fs::File::create(&said).expect("a file"));
        let open = served(&mut bench);
        if looked_at_before {
            assert_eq!(ask(open.port, "GET", "/job/1", "").expect("a page").0, 200);
        }
        let before = std::fs::read_to_string(&said).expect("what it said").len();
        let reading = format!("entries={held}&slot.deg=-1.2&star.deg=0.4&pin.deg=3");
        let (status, answer) = ask(open.port, "POST", "/job/1/saw", &reading).expect("a page");
        assert_eq!(status, 303, "{answer}");
        let to = answer
            .lines()
            .find_map(|line| line.strip_prefix("location: "));
        let (status, _) = ask(open.port, "GET", to.expect("an address"), "").expect("a page");
        assert_eq!(status, 200);
        drop(open);
        let said = std::fs::read_to_string(&said).expect("what it said");
        let times = |what: &str| said[before..].matches(what).count();
        let worked = [
            "a sheet is read",
            "a log is gone over",
            "an entry is thought over",
        ]
        .map(times);
        assert_eq!(worked, [anew, anew, 1], "{said}");
    }
}

#[test]
fn a_train_that_cannot_come_out_is_said_above_everything() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("schoolroom.toml");
    let sound = include_str!("../../../movements/schoolroom.toml");
    for (text, wrong) in [
        (sound.to_owned(), false),
        (sound.replace("wheel = 72", "wheel = 71"), true),
    ] {
        std::fs::write(&sheet, text).expect("written");
        let book = folder.path().join(format!("{wrong}.book"));
        let open = open_with(&book, &[sheet.to_str().expect("a path")]);
        for path in ["/job/1", "/job/1/way"] {
            let (_, page) = ask(open.port, "GET", path, "").expect("a page");
            assert_eq!(page.contains("count again"), wrong, "{path}");
            if wrong {
                let said = page.find("second.wheel").expect("the likeliest miscount");
                assert!(
                    page.find("<svg").is_none_or(|drawing| said < drawing),
                    "{path}"
                );
                assert!(
                    page.find("<h1")
                        .is_none_or(|head| said < head || path == "/job/1"),
                    "{path}"
                );
            }
        }
    }
}

#[test]
fn a_port_that_is_taken_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let taken = TcpListener::bind(("127.0.0.1", 0)).expect("a port");
    let port = taken.local_addr().expect("its number").port().to_string();
    let output = bench(&folder.path().join("b.book"), &["--port", &port])
        .output()
        .expect("it runs");
    let why = refused(&output);
    assert!(why.contains(&port) && why.contains("--port"), "{why}");
}

#[test]
fn a_folder_that_cannot_be_written_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("file");
    std::fs::write(&file, "no folder").expect("written");
    let output = bench(&file.join("b.book"), &[]).output().expect("it runs");
    assert!(refused(&output).contains("folder"), "{output:?}");
    let output = bench(&file, &[]).output().expect("it runs");
    assert!(refused(&output).contains("no bench book"), "{output:?}");
    let output = bench(folder.path(), &[]).output().expect("it runs");
    assert!(refused(&output).contains("is a folder"), "{output:?}");
    assert_eq!(std::fs::read(&file).expect("still there"), b"no folder");
}

#[test]
fn a_wrong_sheet_is_told_before_anything_is_opened() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("sheet.toml");
    std::fs::write(&sheet, "sheet = 1\n").expect("written");
    let book = folder.path().join("b.book");
    let output = bench(&book, &[sheet.to_str().expect("a name")])
        .output()
        .expect("it runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(!book.exists());
}

#[test]
fn a_second_start_opens_the_page_of_the_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = folder.path().join("b.book");
    let first = open(&book);
    let sheet = concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements/quay.toml");
    let output = bench(&book, &[sheet]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(
        said.contains(&format!(
            "open already, at http://127.0.0.1:{}/",
            first.port
        )),
        "{said}"
    );
    // The sheet lies on the first's bench.
    let (_, list) = ask(first.port, "GET", "/jobs", "").expect("a page");
    assert!(
        list.contains("Quay Street") && list.contains("Wren Street"),
        "{list}"
    );
    drop(first);
    // What was killed stands in nobody's way.
    let third = open(&book);
    assert!(ask(third.port, "GET", "/job/1", "").is_some_and(|(status, _)| status == 200));
}

#[test]
fn killed_while_it_writes_nothing_acknowledged_is_lost() {
    const KILLS: usize = 20;
    let folder = tempfile::tempdir().expect("a folder");
    let book = folder.path().join("b.book");
    let (mut acknowledged, mut torn) = (0, 0);
    for kill in 0..KILLS {
        let mut open = open(&book);
        let held = entries(open.port);
        assert!(
            held == acknowledged || held == acknowledged + 1,
            "{acknowledged} were acknowledged, {held} are there"
        );
        let port = open.port;
        let seen = Arc::new(AtomicUsize::new(0));
        let count = Arc::clone(&seen);
        let writing = std::thread::spawn(move || {
            let mut done = held;
            loop {
                let body = format!("entries={done}&hour={}", 1 + done % 12);
                match ask(port, "POST", "/job/1/struck", &body) {
                    Some((303, _)) => {
                        done += 1;
                        count.fetch_add(1, Ordering::Relaxed);
                    }
                    Some((status, answer)) => panic!("{status}: {answer}"),
                    None => return done,
                }
            }
        });
        // However slow the machine is, a few are written. Then every other time it is killed as soon as the next is on its way to
        // the disk, and else between two.
        let patience = Instant::now() + Duration::from_secs(60);
        let waits = |done: &dyn Fn() -> bool| {
            while !done() {
                assert!(Instant::now() < patience, "nothing more is written");
                std::thread::yield_now();
            }
        };
        waits(&|| seen.load(Ordering::Relaxed) > kill % 4);
        if kill % 2 == 0 {
            let changes = folder.path().join("b.book-wal");
            let written = || std::fs::metadata(&changes).map_or(0, |file| file.len());
            let before = written();
            waits(&|| written() != before);
        }
        open.child.kill().expect("killed");
        open.child.wait().expect("ended");
        acknowledged = writing.join().expect("it counted");
        torn += 1;
    }
    assert!(acknowledged > KILLS, "only {acknowledged} were written");
    println!("{acknowledged} entries acknowledged over {torn} kills, all there");
    assert!(entries(open(&book).port) >= acknowledged);
}

/// What verifying a book says, and with which status.
fn verified(book: &Path) -> (Option<i32>, String) {
    let output = Command::new(cargo_bin("trundle"))
        .args(["book", "--book"])
        .arg(book)
        .arg("verify")
        .output()
        .expect("it runs");
    let told = [output.stdout, output.stderr].concat();
    (
        output.status.code(),
        String::from_utf8_lossy(&told).into_owned(),
    )
}

fn told_to_close(open: &mut Open) {
    let id = open.child.id().to_string();
    let sent = Command::new("kill").args(["-INT", &id]).status();
    assert!(sent.expect("it runs").success());
}

fn struck(port: u16, entries: usize) -> Option<(u16, String)> {
    let body = format!("entries={entries}&hour=4");
    ask(port, "POST", "/job/1/struck", &body)
}

#[cfg(unix)]
#[test]
fn closed_or_left_alone_the_book_is_one_file_that_can_be_copied() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = folder.path().join("b.book");
    let mut open = open(&book);
    for n in 0..50 {
        assert!(struck(open.port, n).is_some_and(|(status, _)| status == 303));
    }
    // Left alone for some seconds.
    let patience = Instant::now() + Duration::from_secs(60);
    let beside = folder.path().join("b.book-wal");
    while std::fs::metadata(&beside).is_ok_and(|file| file.len() > 0) {
        assert!(Instant::now() < patience, "it never comes to rest");
        std::thread::sleep(Duration::from_millis(50));
    }
    let stick = folder.path().join("stick.book");
    std::fs::copy(&book, &stick).expect("copied");
    let (status, said) = verified(&stick);
    assert!(status == Some(0) && said.contains("50 entries"), "{said}");
    // Closed by Ctrl-C right after the next.
    assert!(struck(open.port, 50).is_some_and(|(status, _)| status == 303));
    told_to_close(&mut open);
    assert_eq!(open.child.wait().expect("ended").code(), Some(0));
    let stick = folder.path().join("second.book");
    std::fs::copy(&book, &stick).expect("copied");
    let (status, said) = verified(&stick);
    assert!(status == Some(0) && said.contains("51 entries"), "{said}");
}

#[cfg(unix)]
#[test]
fn a_book_taken_away_while_it_is_open_takes_nothing_more_and_its_backup_is_offered() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = folder.path().join("b.book");
    let mut open = open(&book);
    assert!(struck(open.port, 0).is_some_and(|(status, _)| status == 303));
    let backups = folder.path().join("b.book.backups");
    let patience = Instant::now() + Duration::from_secs(60);
    while !std::fs::read_dir(&backups).is_ok_and(|mut all| {
        all.any(|one| one.is_ok_and(|one| one.path().join("backup.json").exists()))
    }) {
        assert!(Instant::now() < patience, "no backup of the day");
        std::thread::sleep(Duration::from_millis(50));
    }
    std::fs::remove_file(&book).expect("removed");
    let (status, page) = struck(open.port, 1).expect("an answer");
    assert!(
        status >= 500 && page.contains("no longer where it was"),
        "{status}: {page}"
    );
    told_to_close(&mut open);
    open.child.wait().expect("ended");
    let output = bench(&book, &["--port", "0"]).output().expect("it runs");
    let why = refused(&output);
    assert!(
        why.contains("restore") && why.contains("b.book.backups"),
        "{why}"
    );
    assert!(!book.exists(), "none is made");
}

#[test]
fn a_copy_that_is_empty_is_doubted() {
    let folder = tempfile::tempdir().expect("a folder");
    let empty = folder.path().join("empty.book");
    std::fs::write(&empty, "").expect("written");
    let (status, said) = verified(&empty);
    assert!(
        status == Some(1) && said.contains("is no bench book"),
        "{said}"
    );
    assert_eq!(
        std::fs::read(&empty).expect("read"),
        b"",
        "none is made of it"
    );
    let jobless = folder.path().join("jobless.book");
    drop(book::Book::open(&jobless).expect("a book"));
    let (status, said) = verified(&jobless);
    assert!(status == Some(1) && said.contains("no job in it"), "{said}");
}

#[cfg(unix)]
#[test]
fn through_a_link_it_is_the_same_bench() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = folder.path().join("b.book");
    let first = open(&book);
    let link = folder.path().join("link.book");
    std::os::unix::fs::symlink(&book, &link).expect("linked");
    let output = bench(&link, &[]).output().expect("it runs");
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(
        said.contains(&format!("127.0.0.1:{}/", first.port)),
        "{said}"
    );
    let second = folder.path().join("second.book");
    std::fs::hard_link(&book, &second).expect("linked");
    let output = bench(&second, &[]).output().expect("it runs");
    assert!(refused(&output).contains("several names"), "{output:?}");
}
