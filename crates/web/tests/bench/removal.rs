//! A removal that leaves something in a backup: the job's page says what, until it is gone.

use crate::served::serve;
use book::Book;
use entries::Day;
use std::fs;

#[test]
fn what_is_left_of_a_removal_is_told_on_the_job_until_it_is_gone() {
    let served = serve(&[]);
    let fields = [("clock", "bracket clock"), ("owner", "Ada Invented")];
    assert_eq!(served.post("/jobs", &fields).status, 303);
    let book = Book::open(&served.book()).expect("a book");
    let day = Day::parse("2026-11-26").expect("a day");
    let backup = book.daily_backup(day).expect("made").expect("a backup");
    // Nothing of it can be gone over.
    let file = (fs::read_dir(&backup.folder).expect("a folder").flatten())
        .map(|there| there.path())
        .find(|path| path.extension().is_some_and(|ext| ext == "book"))
        .expect("the book in it");
    let bytes = fs::read(&file).expect("read");
    fs::write(&file, &bytes[..bytes.len() / 3]).expect("cut");

    let left = |path: &str| {
        let page = served.get(path).body;
        page.contains("but not yet from everything beside it") && page.contains("2026-11-26")
    };
    assert!(!left("/job/2/way") && !left("/jobs"));
    let entries = served.entries("/job/2/way");
    let asked = [("entries", entries.as_str()), ("sure", "yes")];
    let answer = served.post("/job/2/remove", &asked);
    assert_eq!(
        (answer.status, answer.header("location")),
        (303, Some("/job/2/way")),
        "it is removed"
    );
    assert!(served.get("/job/2/way").body.contains("Removed for good"));
    assert!(left("/job/2/way") && left("/jobs"));
    assert!(!left("/job/1/way"), "nothing was removed from that");
    // Whoever throws it away, and wherever it is gone over again: the page knows.
    fs::remove_dir_all(&backup.folder).expect("thrown away");
    book.sweep().expect("nothing is left");
    assert!(!left("/job/2/way"));
    assert!(served.get("/job/2/way").body.contains("Removed for good"));
}
