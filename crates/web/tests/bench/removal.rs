//! A removal that leaves something in a backup: the job's page says what, until it is gone.

use crate::served::{Served, serve};
use book::Book;
use entries::Day;
use std::fs;
use std::path::{Path, PathBuf};

/// Cuts the book in a backup, so that nothing of it can be gone over.
fn cut(backup: &Path) {
    let file = (fs::read_dir(backup).expect("a folder").flatten())
        .map(|there| there.path())
        .find(|path| path.extension().is_some_and(|ext| ext == "book"))
        .expect("the book in it");
    let bytes = fs::read(&file).expect("read");
    fs::write(&file, &bytes[..bytes.len() / 3]).expect("cut");
}

/// The files below a folder in which these words stand.
fn with(folder: &Path, words: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for there in fs::read_dir(folder).expect("a folder").flatten() {
        let path = there.path();
        if path.is_dir() {
            found.extend(with(&path, words));
        } else if let Ok(bytes) = fs::read(&path) {
            let words = words.as_bytes();
            if bytes.windows(words.len()).any(|part| part == words) {
                found.push(path);
            }
        }
    }
    found
}

/// Enters something into a job.
fn enter(served: &Served, job: &str, fields: &[(&str, &str)]) {
    let entries = served.entries(&format!("/job/{job}/way"));
    let all = [&[("entries", entries.as_str())], fields].concat();
    let answer = served.post(&format!("/job/{job}/enter"), &all);
    assert_eq!(answer.status, 303, "{}", answer.body);
}

#[test]
fn what_is_left_of_a_removal_is_told_on_the_job_until_it_is_gone() {
    let served = serve(&[]);
    let fields = [("clock", "bracket clock"), ("owner", "Ada Invented")];
    assert_eq!(served.post("/jobs", &fields).status, 303);
    let book = Book::open(&served.book()).expect("a book");
    let day = Day::parse("2026-11-26").expect("a day");
    let backup = book.daily_backup(day).expect("made").expect("a backup");
    cut(&backup.folder);

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

#[test]
fn all_backups_that_resist_are_named_with_advice_that_helps() {
    let served = serve(&[]);
    let fields = [("clock", "bracket clock"), ("owner", "Ada Invented")];
    assert_eq!(served.post("/jobs", &fields).status, 303);
    let book = Book::open(&served.book()).expect("a book");
    let days = ["2026-11-24", "2026-11-25", "2026-11-26"];
    let backups = days.map(|day| {
        let day = Day::parse(day).expect("a day");
        let made = book.daily_backup(day).expect("made").expect("a backup");
        let note = ("says", day.to_string());
        enter(&served, "2", &[("kind", "note"), (note.0, &note.1)]);
        made.folder
    });
    cut(&backups[0]);
    fs::write(backups[1].join("backup.json"), "{").expect("spoiled");
    let entries = served.entries("/job/2/way");
    served.post("/job/2/remove", &[("entries", &entries), ("sure", "yes")]);
    let page = served.get("/job/2/way").body;
    for part in [
        "(1) ",
        "(2) ",
        days[0],
        days[1],
        "is damaged",
        "throw that folder away",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    let told = page.split("What resists").nth(1).expect("all of them");
    let told = told.split("</p>").next().expect("its end");
    assert!(
        !told.contains("--book") && !told.contains(days[2]),
        "{told}"
    );
    for backup in &backups[..2] {
        fs::remove_dir_all(backup).expect("thrown away");
    }
    // It need not wait for the next backup.
    let again = [("entries", entries.as_str()), ("sure", "yes")];
    assert!(page.contains("Try it again"), "{page}");
    assert_eq!(served.post("/job/2/remove", &again).status, 303);
    assert!(!served.get("/job/2/way").body.contains("What resists"));
}

/// Two clocks: of the second the whole name stands in a note and a part of it in another.
fn named_elsewhere() -> Served {
    let served = serve(&[]);
    let clock = [
        ("clock", "bracket clock"),
        ("owner", "Ada Quimbleworth"),
        ("reach", "01234 567890"),
        ("complaint", "Mrs Quimbleworth says it strikes two at one"),
    ];
    let other = [("clock", "regulator"), ("owner", "Bo Ottershaw")];
    for fields in [&clock[..], &other] {
        assert_eq!(served.post("/jobs", fields).status, 303);
    }
    for says in [
        "sister of ada quimbleworth, rang from 01234/567-890",
        "the pendulum rod is bent",
        "paid by Quimbleworth",
    ] {
        enter(&served, "3", &[("kind", "note"), ("says", says)]);
    }
    served
}

/// What stands in a tick of the page for this entry.
fn tick(page: &str, place: &str) -> Option<String> {
    let at = page.find(&format!("value=\"{place}\""))?;
    Some(page[at..].split('>').next()?.to_owned())
}

#[test]
fn a_removal_says_where_else_a_name_stands_and_empties_it_along() {
    let served = named_elsewhere();
    let page = served.get("/job/2/remove").body;
    for part in [
        "Ada Quimbleworth",
        "The whole name, number or address stands in them.",
        "Only a part of it stands in them",
        "A note: sister of ada",
        "/job/3/way#entry-2",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    // Ticked where the whole of it stands, and offered where a part does; the clock's own complaint too.
    assert!(tick(&page, "3:2").expect("there").contains("checked"));
    assert!(!tick(&page, "3:4").expect("there").contains("checked"));
    assert!(!tick(&page, "2:1").expect("there").contains("checked"));
    assert_eq!(tick(&page, "3:3"), None);
    assert_eq!(tick(&page, "3:1"), None, "another owner");

    let entries = served.entries("/job/2/remove");
    let asked = [
        ("entries", &*entries),
        ("sure", "yes"),
        ("along", "3:2"),
        ("along", "2:1"),
    ];
    let answer = served.post("/job/2/remove", &asked);
    assert_eq!(answer.header("location"), Some("/job/2/way"));
    let way = served.get("/job/2/way").body;
    assert!(
        way.contains("In one entry something of what was removed from this job may still stand.")
    );
    for path in [
        "/job/2/way",
        "/job/3/way",
        "/job/3/record/whole",
        "/search?for=ada",
    ] {
        let page = served.get(path).body;
        assert!(!page.to_lowercase().contains("ada quimble"), "{path}");
    }
    assert!(
        served
            .get("/job/3/way")
            .body
            .contains("paid by Quimbleworth")
    );
    assert!(served.get("/job/3/way").body.contains("Bo Ottershaw"));

    // The form is still there for what was left, and then there is nothing to say.
    let page = served.get("/job/2/remove").body;
    assert!(page.contains("A note: paid by Quimbleworth"), "{page}");
    assert_eq!(tick(&page, "3:2"), None);
    let entries = served.entries("/job/2/remove");
    let asked = [("entries", &*entries), ("sure", "yes"), ("along", "3:4")];
    assert_eq!(served.post("/job/2/remove", &asked).status, 303);
    assert!(!served.get("/job/2/way").body.contains("may still stand"));
    let page = served.get("/job/2/remove").body;
    assert!(
        page.contains("Nothing that names a person is left here"),
        "{page}"
    );
    let folder = served.book().with_file_name("");
    assert_eq!(with(&folder, "Quimbleworth"), Vec::<PathBuf>::new());
    assert_eq!(with(&folder, "567-890"), Vec::<PathBuf>::new());
}

#[test]
fn what_may_still_name_somebody_may_stay() {
    let served = named_elsewhere();
    let entries = served.entries("/job/2/remove");
    served.post("/job/2/remove", &[("entries", &entries), ("sure", "yes")]);
    let way = served.get("/job/2/way").body;
    assert!(
        way.contains("In 3 entries something of what was removed"),
        "{way}"
    );
    let entries = served.entries("/job/2/remove");
    served.post("/job/2/remove", &[("entries", &entries), ("stay", "yes")]);
    assert!(!served.get("/job/2/way").body.contains("may still stand"));
    assert!(served.get("/job/3/way").body.contains("sister of ada"));
}

/// An owner's name on a clock that is still here is told and not ticked: whose it is must be known.
#[test]
fn whose_a_clock_is_that_is_still_here_is_not_ticked() {
    let served = serve(&[]);
    for clock in ["bracket clock", "regulator"] {
        let fields = [("clock", clock), ("owner", "Ada Quimbleworth")];
        assert_eq!(served.post("/jobs", &fields).status, 303);
    }
    let page = served.get("/job/2/remove").body;
    assert!(!tick(&page, "3:1").expect("there").contains("checked"));
    enter(&served, "3", &[("kind", "handed-back"), ("sure", "yes")]);
    let page = served.get("/job/2/remove").body;
    assert!(tick(&page, "3:1").expect("there").contains("checked"));
}

/// A point of the shop's own stands on every job, and goes with no removal: it is named.
#[test]
fn a_point_of_the_shop_that_names_somebody_is_told() {
    let served = named_elsewhere();
    let says = "Ring Ada Quimbleworth before lifting the plates";
    let own = [("stage", "in"), ("says", says)];
    assert_eq!(served.post("/job/2/own", &own).status, 303);
    let page = served.get("/job/2/remove").body;
    assert!(page.contains(&format!("own says “{says}”")), "{page}");
}

/// A clock that went by a person's name is called so no longer, and its pages have a heading all the same.
#[test]
fn a_clock_whose_name_was_removed_is_called_so() {
    let served = serve(&[]);
    let fields = [
        ("clock", "Ada Quimbleworth’s clock"),
        ("owner", "Ada Quimbleworth"),
    ];
    assert_eq!(served.post("/jobs", &fields).status, 303);
    let entries = served.entries("/job/2/remove");
    let all = [("entries", &entries[..]), ("sure", "yes"), ("along", "2:1")];
    assert_eq!(served.post("/job/2/remove", &all).status, 303);
    let way = served.get("/job/2/way").body;
    assert!(!way.contains("Quimbleworth"), "{way}");
    assert!(way.contains("<title>(name removed)"), "{way}");
}
