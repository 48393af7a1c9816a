//! A removal on the command line: what it empties and where else that stands is said first, and done only where it is meant.

mod ran;

use ran::ran;
use std::fs;
use std::path::Path;

/// Whether these words stand in a file below a folder.
fn stands(folder: &Path, words: &str) -> bool {
    (fs::read_dir(folder).expect("a folder").flatten()).any(|there| {
        let path = there.path();
        if path.is_dir() {
            return stands(&path, words);
        }
        let bytes = fs::read(&path).expect("read");
        bytes
            .windows(words.len())
            .any(|part| part == words.as_bytes())
    })
}

/// A book with two clocks, and a backup of it.
fn made(folder: &Path) {
    let book = book::Book::open(&folder.join("bench.book")).expect("a book");
    let begins = "{\"trundle_log\":1,\"sheet\":\"\",\"hash\":\"\"}\n";
    for (clock, lines) in [
        (
            "bracket clock",
            "{\"n\":1,\"at\":\"2026-03-01\",\"kind\":\"intake\",\"clock\":\"bracket clock\",\"owner\":\"Ada Quimbleworth\"}\n",
        ),
        (
            "regulator",
            "{\"n\":1,\"kind\":\"note\",\"says\":\"sister of Ada Quimbleworth\"}\n\
             {\"n\":2,\"kind\":\"found\",\"part\":\"fly\",\"says\":\"bent; Quimbleworth knows\"}\n",
        ),
    ] {
        let id = book.start(clock, "", begins).expect("a job");
        book.append(id, 0, lines).expect("entered");
    }
    let day = entries::Day::parse("2026-03-02").expect("a day");
    book.daily_backup(day).expect("made").expect("a backup");
}

/// What is told of a removal from the first job.
fn removed(at: &str, more: &[&str]) -> (i32, String, String) {
    let words = [&["book", "remove", "1", "--book", "bench.book"], more].concat();
    ran(at, &words, "")
}

/// That the book and its backups are.
fn sound(at: &str) {
    let (status, said, why) = ran(at, &["book", "verify", "--book", "bench.book"], "");
    assert_eq!(status, 0, "{said}{why}");
}

#[test]
fn where_else_a_name_stands_is_listed_and_emptied_along() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().to_str().expect("a path");
    made(folder.path());
    let remove = |more: &[&str]| removed(at, more);
    let (status, said, why) = remove(&[]);
    assert_eq!((status, why.as_str()), (0, ""));
    assert_eq!(
        said,
        "\
From job 1, bracket clock, this would be emptied for good (names, addresses, pictures; the entries stay):
  1:1      2026-03-01 It came in: Ada Quimbleworth
The whole name, number or address stands in these entries too:
  2:1      A note: sister of Ada Quimbleworth
Only a part of it, which may be somebody or something else, stands in these:
  2:2      Something was found: bent; Quimbleworth knows
Nothing was emptied. To do it: --sure; each entry that is to be emptied along: --along JOB:ENTRY; all in which it stands whole, but for whose another clock is: --along whole.
"
    );
    assert!(stands(folder.path(), "Ada Quimbleworth"));

    let (status, said, _) = remove(&["--sure", "--along", "whole"]);
    assert_eq!(status, 0);
    assert_eq!(
        said,
        "\
What names a person in job 1, bracket clock, is emptied for good, and 1 entry along with it.
Something of it may still stand in 1 entry: `trundle book remove 1` lists them.
"
    );
    assert!(!stands(folder.path(), "Ada Quimbleworth"));
    assert!(stands(folder.path(), "Quimbleworth knows"));

    let (_, said, _) = remove(&[]);
    assert!(said.contains("  2:2      Something was found"), "{said}");
    assert!(said.contains("--stay"), "{said}");
    let (status, said, _) = remove(&["--sure", "--along", "2:2"]);
    assert_eq!((status, said.as_str()), (0, "1 entry emptied for good.\n"));
    assert!(!stands(folder.path(), "Quimbleworth"));
    let (_, said, _) = remove(&[]);
    assert!(
        said.contains("Nothing that names a person is left"),
        "{said}"
    );
    sound(at);
}

#[test]
fn what_may_still_name_somebody_may_stay() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().to_str().expect("a path");
    made(folder.path());
    let remove = |more: &[&str]| removed(at, more);
    let (_, said, _) = remove(&["--stay"]);
    assert!(said.starts_with("Nothing is told of job 1"), "{said}");
    let (_, said, _) = remove(&["--sure"]);
    assert!(said.contains("may still stand in 2 entries"), "{said}");
    assert_eq!(remove(&["--stay"]).0, 0);
    assert!(
        remove(&[])
            .1
            .contains("Nothing that names a person is left")
    );
    assert!(stands(folder.path(), "sister of Ada Quimbleworth"));
}

/// A book with a clock of each owner, who all have one telephone.
fn of_owners(folder: &Path, owners: &[&str]) -> (book::Book, Vec<book::JobId>) {
    let book = book::Book::open(&folder.join("bench.book")).expect("a book");
    let begins = "{\"trundle_log\":1,\"sheet\":\"\",\"hash\":\"\"}\n";
    let came = |owner: &&str| {
        let id = book.start("clock", "", begins).expect("a job");
        let came = format!(
            "{{\"n\":1,\"kind\":\"intake\",\"clock\":\"clock\",\"owner\":\"{owner}\",\"reach\":\"01234 567890\"}}\n"
        );
        book.append(id, 0, &came).expect("entered");
        id
    };
    let jobs = owners.iter().map(came).collect();
    (book, jobs)
}

/// Whose another clock is that is still here must be known, and a number may be of several: neither goes with `whole`.
#[test]
fn whose_another_clock_is_stays_with_whole() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().to_str().expect("a path");
    drop(of_owners(
        folder.path(),
        &["Ada Quimbleworth", "Harbour Trust", "Ada Quimbleworth"],
    ));
    let words = [
        "book", "remove", "1", "--sure", "--along", "whole", "--book",
    ];
    let (status, said, why) = ran(at, &[&words[..], &["bench.book"]].concat(), "");
    assert_eq!(status, 0, "{said}{why}");
    assert!(said.contains("is emptied for good.\n"), "{said}");
    let left = book::Book::open(&folder.path().join("bench.book")).expect("the book");
    let log = |id: i64| {
        left.job(id.to_string().parse().expect("a job"))
            .expect("a job")
            .log
    };
    assert!(!log(1).contains("Quimbleworth"), "{}", log(1));
    assert!(log(2).contains("01234 567890"), "{}", log(2));
    assert!(log(3).contains("Ada Quimbleworth"), "{}", log(3));
}

/// Two that remove at a time would take each other's marks in the backups for their own: one waits for the other.
#[test]
fn two_programs_that_remove_at_a_time_reach_every_backup() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().to_str().expect("a path");
    let owners = ["Ada Quimbleworth", "Bo Ottershaw"];
    let (book, jobs) = of_owners(folder.path(), &owners);
    for day in 2..8 {
        let note = format!("{{\"n\":{day},\"kind\":\"note\",\"says\":\"day {day}\"}}\n");
        book.append(jobs[0], day - 1, &note).expect("entered");
        let day = entries::Day::parse(&format!("2026-03-0{day}")).expect("a day");
        book.daily_backup(day).expect("made").expect("a backup");
    }
    drop(book);
    let remove = |job: &str| {
        let words = [
            "book", "remove", job, "--sure", "--along", "whole", "--book",
        ];
        ran(at, &[&words[..], &["bench.book"]].concat(), "")
    };
    let came = std::thread::scope(|scope| {
        let both = ["1", "2"].map(|job| scope.spawn(move || remove(job)));
        both.map(|one| one.join().expect("it ends"))
    });
    for (status, said, why) in &came {
        assert_eq!(*status, 0, "{said}{why}");
    }
    for name in owners {
        assert!(!stands(folder.path(), name), "{name}: {came:?}");
    }
    sound(at);
}

#[test]
fn what_is_asked_wrongly_empties_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().to_str().expect("a path");
    made(folder.path());
    for (words, status, part) in [
        (&["9"][..], 1, "there is no such job"),
        (&["one"], 2, "one"),
        (&["1", "--along", "2:1"], 2, "--sure"),
        (&["1", "--sure", "--along", "2"], 2, "such as 2:5, or whole"),
        (&["1", "--sure", "--along", "1:1"], 2, "entry 1 of job 1"),
        (&["1", "--sure", "--stay"], 2, "cannot be used with"),
    ] {
        let all = [&["book", "remove", "--book", "bench.book"], words].concat();
        let (got, said, why) = ran(at, &all, "");
        assert_eq!((got, said.as_str()), (status, ""), "{words:?}: {why}");
        assert!(why.contains(part), "{words:?}: {why}");
    }
    assert!(stands(folder.path(), "Ada Quimbleworth"));
}
