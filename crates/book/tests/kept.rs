//! What is put into a book is there again, in order, and stays.

use book::{Book, BookFault, JobId, JobLine, JobView};
use entries::{EntryKind, Log, LogHeader, Stage};
use rusqlite::Connection;
use std::path::{Path, PathBuf};

fn empty() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder
        .path()
        .join("several")
        .join("folders")
        .join("bench.book");
    (folder, path)
}

fn begun(sheet: &str) -> Log {
    Log::start(LogHeader {
        sheet: sheet.to_owned(),
        hash: "5f0c".to_owned(),
    })
}

fn struck(log: &mut Log, hour: u8) -> String {
    log.append(&EntryKind::Struck { hour }, None).unwrap()
}

fn order(book: &Book) -> Vec<JobId> {
    book.jobs().unwrap().iter().map(|job| job.id).collect()
}

#[test]
fn a_job_comes_back_byte_for_byte() {
    let (_folder, path) = empty();
    let book = Book::open(&path).unwrap();
    assert_eq!(book.jobs().unwrap(), []);
    let name = "Wren Street; \"quoted\" – ½ \u{1f550}";
    let sheet = "movement = 'x'\r\n\ttab\0nul\n";
    let mut log = begun("Wren Street");
    let id = book.start(name, sheet, log.text()).unwrap();
    let mut added = struck(&mut log, 4);
    added += &struck(&mut log, 5);
    book.append(id, 0, &added).unwrap();
    book.append(id, 2, "").unwrap();
    book.append(id, 2, &struck(&mut log, 6)).unwrap();
    drop(book);

    let book = Book::open(&path).unwrap();
    let job = book.job(id).unwrap();
    assert_eq!(
        (&*job.name, &*job.sheet, &*job.log),
        (name, sheet, log.text())
    );
    assert_eq!(job.view, None);
    let line = JobLine {
        id: id.to_string().parse().unwrap(),
        name: name.to_owned(),
        last: 4,
        entries: 3,
        stage: Stage::In,
        handed_back: false,
    };
    assert_eq!(book.jobs().unwrap(), [line]);
}

#[test]
fn a_log_that_was_kept_elsewhere_comes_in_whole() {
    let (_folder, path) = empty();
    let book = Book::open(&path).unwrap();
    let log = "\u{feff}{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\r\n\
        {\"n\":1,\"kind\":\"struck\",\"hour\":4}\r\n\
        {\"n\":2,\"kind\":\"something later\",\"more\":[1]}\n";
    let id = book.start("Quay Street", "sheet", log).unwrap();
    book.append(id, 2, "{\"n\":3,\"kind\":\"undo\",\"of\":1}\n")
        .unwrap();
    let kept = book.job(id).unwrap().log;
    assert_eq!(
        kept,
        format!("{log}{{\"n\":3,\"kind\":\"undo\",\"of\":1}}\n")
    );
}

#[test]
fn what_could_not_be_read_again_never_gets_in() {
    let (_folder, path) = empty();
    let book = Book::open(&path).unwrap();
    let mut log = begun("Quay Street");
    for bad in ["", "no log\n", "{\"n\":1,\"kind\":\"struck\",\"hour\":4}\n"] {
        let fault = book.start("Quay Street", "sheet", bad).unwrap_err();
        assert!(matches!(fault, BookFault::Unreadable(_)), "{fault:?}");
    }
    let torn = book.start("Quay Street", "sheet", log.text().trim_end());
    assert_eq!(torn, Err(BookFault::Torn));
    assert_eq!(book.jobs().unwrap(), [], "nothing of it stays");

    let id = book.start("Quay Street", "sheet", log.text()).unwrap();
    let good = struck(&mut log, 4);
    let gap = good.replace("\"n\":1", "\"n\":2");
    for bad in [
        &*gap,
        "\n",
        "{}\n",
        &format!("{good}{good}"),
        &format!("{good}{{\n"),
    ] {
        let fault = book.append(id, 0, bad).unwrap_err();
        assert!(
            matches!(fault, BookFault::Unreadable(_)),
            "{bad}: {fault:?}"
        );
    }
    for torn in [good.trim_end(), &good[..10], &format!("{good}{{\"n\":2")] {
        assert_eq!(book.append(id, 0, torn), Err(BookFault::Torn), "{torn}");
    }
    assert_eq!(book.job(id).unwrap().log, begun("Quay Street").text());
    book.append(id, 0, &good).unwrap();
    assert_eq!(book.job(id).unwrap().log, log.text());
}

#[test]
fn jobs_stand_in_the_order_they_were_last_worked_on() {
    let (_folder, path) = empty();
    let book = Book::open(&path).unwrap();
    let mut log = begun("Wren Street");
    let [a, b, c] = ["a", "b", "c"].map(|name| book.start(name, "sheet", log.text()).unwrap());
    assert_eq!(order(&book), [c, b, a]);
    let first = struck(&mut log, 4);
    book.append(a, 0, &first).unwrap();
    assert_eq!(order(&book), [a, c, b]);
    book.append(b, 0, &first).unwrap();
    // Looking is not working.
    book.set_view(c, "back", true).unwrap();
    book.set_current(c).unwrap();
    assert_eq!(order(&book), [b, a, c]);
}

#[test]
fn how_a_job_is_looked_at_and_which_is_at_hand() {
    let (_folder, path) = empty();
    let book = Book::open(&path).unwrap();
    let log = begun("Wren Street");
    let [a, b] = ["a", "b"].map(|name| book.start(name, "sheet", log.text()).unwrap());
    assert_eq!(book.current(), Ok(None));
    book.set_current(a).unwrap();
    book.set_current(b).unwrap();
    book.set_view(a, "back", true).unwrap();
    book.set_view(a, "front", true).unwrap();
    let book = Book::open(&path).unwrap();
    assert_eq!(book.current(), Ok(Some(b)));
    let plate = "front".to_owned();
    let upside_down = true;
    assert_eq!(
        book.job(a).unwrap().view,
        Some(JobView { plate, upside_down })
    );
    assert_eq!(book.job(b).unwrap().view, None);
}

#[test]
fn two_books_on_one_file() {
    let (_folder, path) = empty();
    let [one, two] = [(), ()].map(|()| Book::open(&path).unwrap());
    let mut log = begun("Wren Street");
    let id = one.start("Wren Street", "sheet", log.text()).unwrap();
    assert_eq!(two.job(id).unwrap().log, log.text());
    let [said, meant] = [4, 5].map(|hour| struck(&mut log.clone(), hour));
    one.append(id, 0, &said).unwrap();
    let behind = |held, believed| Err(BookFault::Behind { held, believed });
    assert_eq!(two.append(id, 0, &meant), behind(1, 0));
    assert_eq!(two.append(id, 2, &meant), behind(1, 2));
    struck(&mut log, 4);
    assert_eq!(two.job(id).unwrap().log, log.text());
    two.append(id, 1, &struck(&mut log, 5)).unwrap();
    assert_eq!(one.job(id).unwrap().log, log.text());
    drop(two);
    one.append(id, 2, &struck(&mut log, 6)).unwrap();
    drop(one);
    assert_eq!(Book::open(&path).unwrap().job(id).unwrap().log, log.text());
}

#[test]
fn many_write_at_once_and_none_loses_a_line() {
    const HANDS: usize = 8;
    const LINES: usize = 20;
    let (_folder, path) = empty();
    let book = Book::open(&path).unwrap();
    let shared = book
        .start("shared", "sheet", begun("Quay Street").text())
        .unwrap();
    let work = |path: &Path| {
        let book = Book::open(path).unwrap();
        let mut log = begun("Wren Street");
        let own = book.start("own", "sheet", log.text()).unwrap();
        for n in 0..LINES {
            book.append(own, n, &struck(&mut log, 4)).unwrap();
        }
        // And into the one that all share, until it is in.
        for _ in 0..LINES {
            loop {
                let job = book.job(shared).unwrap();
                let (mut log, _) = Log::read(job.log.as_bytes()).unwrap();
                let held = log.entries().len();
                match book.append(shared, held, &struck(&mut log, 5)) {
                    Ok(()) => break,
                    Err(BookFault::Behind { .. }) => {}
                    Err(fault) => panic!("{fault:?}"),
                }
            }
        }
    };
    std::thread::scope(|scope| {
        for _ in 0..HANDS {
            scope.spawn(|| work(&path));
        }
    });
    for id in order(&book) {
        let held = book.job(id).unwrap().log.lines().count() - 1;
        let expected = if id == shared { HANDS * LINES } else { LINES };
        assert_eq!(held, expected);
    }
    assert_eq!(order(&book).len(), HANDS + 1);
}

#[test]
fn a_new_book_made_by_many_at_once_is_one_book() {
    // How they meet is left to chance, so it is tried again and again.
    const HANDS: usize = 6;
    let folder = tempfile::tempdir().unwrap();
    for round in 0..20 {
        let path = folder.path().join(format!("{round}")).join("bench.book");
        let begin = std::sync::Barrier::new(HANDS);
        std::thread::scope(|scope| {
            for _ in 0..HANDS {
                scope.spawn(|| {
                    begin.wait();
                    let book = Book::open(&path).unwrap();
                    book.start("own", "sheet", begun("Wren Street").text())
                        .unwrap();
                });
            }
        });
        assert_eq!(order(&Book::open(&path).unwrap()).len(), HANDS);
    }
}

#[test]
fn lines_stay_whoever_asks() {
    let (_folder, path) = empty();
    let book = Book::open(&path).unwrap();
    let mut log = begun("Wren Street");
    let id = book.start("Wren Street", "sheet", log.text()).unwrap();
    book.append(id, 0, &struck(&mut log, 4)).unwrap();
    // By hand, without the book, and without the store being told to heed references.
    let store = Connection::open(&path).unwrap();
    for change in [
        "UPDATE line SET text = 'x' WHERE n = 1",
        "UPDATE line SET n = 7 WHERE n = 1",
        "DELETE FROM line WHERE n = 1",
        "DELETE FROM line",
        "INSERT OR REPLACE INTO line (job, n, text) VALUES (1, 1, 'x')",
        "INSERT OR REPLACE INTO line (sequence, job, n, text) VALUES (1, 1, 2, 'x')",
        "INSERT INTO line (job, n, text) VALUES (1, 3, 'x')",
        "INSERT INTO line (job, n, text) VALUES (1, -1, 'x')",
    ] {
        let refused = store.execute_batch(change).unwrap_err().to_string();
        assert!(refused.starts_with("a line "), "{change}: {refused}");
    }
    assert_eq!(book.job(id).unwrap().log, log.text());
}

#[test]
fn it_is_kept_as_it_is_meant_to_be() {
    let (_folder, path) = empty();
    drop(Book::open(&path).unwrap());
    let names: Vec<_> = std::fs::read_dir(path.parent().unwrap()).unwrap().collect();
    assert_eq!(names.len(), 1, "one file where nobody is at work");
    let store = Connection::open(&path).unwrap();
    let mode: String = store
        .pragma_query_value(None, "journal_mode", |row| row.get(0))
        .unwrap();
    assert_eq!(mode, "wal");
}
