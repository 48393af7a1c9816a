//! Words are found wherever they were said; the list is right whatever was entered.

mod made_up;

use book::{Book, FoundIn, JobId, Listing};
use entries::{EntryKind, Stage, Work};
use made_up::{begun, enter, here, intake, log, note};
use std::path::PathBuf;

fn book() -> (tempfile::TempDir, PathBuf, Book) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    (folder, path, book)
}

fn found(book: &Book, words: &str) -> Vec<(String, usize)> {
    let hits = book.search(words, 10).unwrap();
    hits.into_iter()
        .map(|hit| (hit.job.to_string(), hit.n))
        .collect()
}

fn at(job: JobId, n: usize) -> (String, usize) {
    (job.to_string(), n)
}

#[test]
fn all_words_are_found() {
    let (_folder, _, book) = book();
    let sheet = "name = 'Wren Street schoolroom clock' # with a cracked bell\n";
    let wren = book
        .start("Wren Street", sheet, begun("schoolroom clock").text())
        .unwrap();
    let quay = book
        .start("Quay Street", "", begun("Quay Street").text())
        .unwrap();
    enter(
        &book,
        wren,
        &[
            intake("the schoolroom clock", "Ada Tern"),
            note("Der Windfang schleift; die Fläche ist blank, naïve repair"),
            Work::Measurement {
                what: here("third.pinion outside"),
                value: entries::Decimal::parse("5.60").unwrap(),
                unit: entries::Unit::Mm,
                spread: None,
            },
        ],
    );
    enter(
        &book,
        quay,
        &[note("a cracked pillar"), note("cracked again")],
    );

    assert_eq!(
        found(&book, "cracked"),
        [at(quay, 2), at(quay, 1), at(wren, 0)]
    );
    assert_eq!(
        found(&book, "CRACK"),
        [at(quay, 2), at(quay, 1), at(wren, 0)]
    );
    assert_eq!(found(&book, "bell cracked"), [at(wren, 0)]);
    assert_eq!(found(&book, "cracking bells"), [at(wren, 0)]);
    assert_eq!(found(&book, "tern ada"), [at(wren, 1)]);
    assert_eq!(found(&book, "flache NAIVE"), [at(wren, 2)]);
    assert_eq!(found(&book, "third.pinion"), [at(wren, 3)]);
    assert_eq!(found(&book, "5.60"), [at(wren, 3)]);
    assert_eq!(found(&book, "quay"), [at(quay, 0)]);
    for nothing in ["", " .-\" ", "ack", "cracked gongs", "kind", "note"] {
        assert_eq!(found(&book, nothing), [], "{nothing}");
    }
    assert_eq!(book.search("cracked", 2).unwrap().len(), 2);
    let hit = &book.search("again", 1).unwrap()[0];
    assert_eq!((&*hit.name, &*hit.said), ("Quay Street", "cracked again"));
}

/// Whoever looks for a thing finds it however it was bent, and by its name on the other side of the water.
#[test]
fn kin_are_found() {
    let (_folder, _, book) = book();
    let id = book.start("Quay Street", "", begun("").text()).unwrap();
    let told = [
        "bushed the back hole, two bushings fitted",
        "pivots polished and oiled",
        "the locking plate binds",
        "turned anticlockwise, to be stripped again",
    ];
    enter(&book, id, &told.map(note));
    for (asked, n) in [
        ("bush", 1),
        ("bushing", 1),
        ("bushes", 1),
        ("oil", 2),
        ("oiling", 2),
        ("polish pivot", 2),
        ("count wheel", 3),
        ("Locking Plates", 3),
        ("counterclockwise", 4),
        ("strip", 4),
    ] {
        assert_eq!(found(&book, asked), [at(id, n)], "{asked}");
    }
    for nothing in ["count", "wheel", "plate wheel", "clock wise"] {
        assert_eq!(found(&book, nothing), [], "{nothing}");
    }
}

/// A sheet says the same words over and over; what somebody wrote stands before it, and what is superseded last.
#[test]
fn what_people_wrote_stands_before_sheets_and_old_sheets_last() {
    let (_folder, _, book) = book();
    let id = book
        .start("Quay Street", "wheel = 64", begun("").text())
        .unwrap();
    let sheet = |text: &str| Work::Sheet {
        text: text.to_owned(),
        hash: "0a".to_owned(),
    };
    let told = [
        note("the wheel is bent"),
        sheet("wheel = 78"),
        sheet("wheel = 80"),
    ];
    enter(&book, id, &told);
    let in_order = [at(id, 1), at(id, 3), at(id, 2), at(id, 0)];
    assert_eq!(found(&book, "wheels"), in_order);
    let what: Vec<FoundIn> = (book.search("wheel", 9).unwrap().iter())
        .map(|hit| hit.what)
        .collect();
    assert_eq!(
        what,
        [
            FoundIn::Entry,
            FoundIn::Sheet,
            FoundIn::OldSheet,
            FoundIn::OldSheet
        ]
    );
    assert_eq!(book.search("wheel", 2).unwrap().len(), 2);
}

/// What the store would take for an operator, a quotation mark or a command is looked for as what it is.
#[test]
fn nothing_in_a_question_is_obeyed() {
    let (_folder, path, book) = book();
    let id = book.start("Quay Street", "", begun("").text()).unwrap();
    enter(&book, id, &[note("not near or and said")]);
    for asked in [
        "\"",
        "\"\"\"",
        "said:x",
        "NOT said",
        "a OR said",
        "NEAR(said x)",
        "said*",
        "-said",
        "^said",
        "said) OR (x",
        "{said} : x",
        "'; DROP TABLE line; --",
        "said AND",
        "(",
        "*",
        "\0said",
    ] {
        let hits = book.search(asked, 10);
        assert!(hits.is_ok(), "{asked}: {hits:?}");
    }
    // As it stands, the store would take it for what it is not.
    let store = rusqlite::Connection::open(&path).unwrap();
    let plain = |asked: &str| {
        store.query_row(
            "SELECT count(*) FROM words WHERE words MATCH ?1",
            [asked],
            |row| row.get::<_, i64>(0),
        )
    };
    assert!(plain("\"").is_err() && plain("'; DROP TABLE line; --").is_err());
    assert_eq!(plain("a OR said"), Ok(1));
    assert_eq!(found(&book, "NOT said"), [at(id, 1)]);
    assert_eq!(found(&book, "a OR said"), []);
    assert_eq!(log(&book, id).entries().len(), 1);
}

#[test]
fn the_list_follows_the_log() {
    let (_folder, _, book) = book();
    let jobs: Vec<JobId> = ["a", "b", "c"]
        .map(|name| book.start(name, "", begun("").text()).unwrap())
        .into();
    enter(
        &book,
        jobs[0],
        &[
            intake("the bracket clock", "Ada Tern"),
            Work::Stage { to: Stage::Prove },
            Work::Sheet {
                text: "sheet = 1\n".to_owned(),
                hash: "0a".to_owned(),
            },
        ],
    );
    let line = book.jobs().unwrap().remove(0);
    assert_eq!(
        (&*line.name, line.entries, line.stage, line.handed_back),
        ("the bracket clock", 3, Stage::Prove, false)
    );
    let job = book.job(jobs[0]).unwrap();
    assert_eq!(
        (&*job.name, &*job.sheet),
        ("the bracket clock", "sheet = 1\n")
    );
    assert_eq!(book.jobs_with_sheet("sheet = 1\n"), Ok(vec![jobs[0]]));
    assert_eq!(book.jobs_with_sheet("sheet = 2\n"), Ok(Vec::new()));

    enter(
        &book,
        jobs[0],
        &[Work::HandedBack {
            to: None,
            says: None,
        }],
    );
    let list = |on_the_bench, after, most| {
        let which = Listing {
            on_the_bench,
            after,
            most,
        };
        let lines = book.list(which).unwrap();
        lines
            .into_iter()
            .map(|line| (line.id, line.last))
            .collect::<Vec<_>>()
    };
    let all = list(false, None, 9);
    assert_eq!(
        all.iter().map(|(id, _)| *id).collect::<Vec<_>>(),
        [jobs[0], jobs[2], jobs[1]]
    );
    assert_eq!(list(true, None, 9), all[1..]);
    assert_eq!(list(false, Some(all[0].1), 1), all[1..2]);
    assert_eq!(list(false, Some(all[2].1), 1), []);

    // What is taken back is as if it had never been.
    let mut log = log(&book, jobs[0]);
    let undone: String = [4, 3, 1]
        .map(|of| log.append(&EntryKind::Undo { of }, None).unwrap())
        .concat();
    book.append(jobs[0], 4, &undone).unwrap();
    let line = book.jobs().unwrap().remove(0);
    assert_eq!(
        (&*line.name, line.entries, line.handed_back),
        ("a", 7, false)
    );
    assert_eq!(book.job(jobs[0]).unwrap().sheet, "");
}

#[test]
fn what_a_shop_settles_stays() {
    let (_folder, path, book) = book();
    assert_eq!(book.setting("units"), Ok(None));
    book.settle("units", "mm").unwrap();
    book.settle("units", "in").unwrap();
    let book = Book::open(&path).unwrap();
    assert_eq!(book.setting("units"), Ok(Some("in".to_owned())));
}
