//! Out of a book in open formats, and into another: nothing is lost on the way. Others read it with what they have.

mod made_up;

use book::{Book, BookFault, JobId, Removing};
use entries::{AtMesh, Emptied, EntryKind, Stage, Work};
use made_up::{
    as_of_before, begun, day, enter, here, intake, log, note, shows, some_picture, unguarded,
};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// All files below a folder, by their names in it.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    fn below(folder: &Path, from: &Path, found: &mut BTreeMap<PathBuf, Vec<u8>>) {
        for there in fs::read_dir(folder).unwrap() {
            let path = there.unwrap().path();
            if path.is_dir() {
                below(&path, from, found);
            } else {
                let name = path.strip_prefix(from).unwrap().to_owned();
                found.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    let mut found = BTreeMap::new();
    below(folder, folder, &mut found);
    found
}

/// Something that is done with a book.
#[derive(Debug, Clone)]
enum Deed {
    Begin(String, String),
    Enter(Index, Vec<EntryKind>),
    Show(Index, u32),
    Keep(u32),
    Undo(Index, Index),
    Remove(Index),
    Look(Index, String, bool),
    Take(Index),
    Settle(String, String),
}

fn kind() -> impl Strategy<Value = EntryKind> {
    prop_oneof![
        "\\PC{0,12}".prop_map(|text| EntryKind::Work(note(&text))),
        ".{0,12}".prop_map(|text| EntryKind::Work(Work::Sheet {
            text,
            hash: "0a".to_owned()
        })),
        ".{0,9}".prop_map(|name| EntryKind::Work(intake(&name, "Ada Tern"))),
        Just(EntryKind::Work(Work::Stage { to: Stage::Look })),
        Just(EntryKind::Work(Work::HandedBack {
            to: Some(here("a, \"b\"\n")),
            says: None
        })),
        (1..12_u8).prop_map(|hour| EntryKind::Struck { hour }),
        (1..9_i32).prop_map(|teeth| {
            let mesh = "second.wheel>third.pinion".to_owned();
            EntryKind::Shift(vec![AtMesh { mesh, teeth }])
        }),
    ]
}

fn deed() -> impl Strategy<Value = Deed> {
    let at = any::<Index>;
    prop_oneof![
        2 => (".{0,12}", ".{0,30}").prop_map(|(name, sheet)| Deed::Begin(name, sheet)),
        4 => (at(), vec(kind(), 1..4)).prop_map(|(job, kinds)| Deed::Enter(job, kinds)),
        2 => (at(), 0..4_u32).prop_map(|(job, seed)| Deed::Show(job, seed)),
        1 => (0..6_u32).prop_map(Deed::Keep),
        1 => (at(), at()).prop_map(|(job, of)| Deed::Undo(job, of)),
        1 => at().prop_map(Deed::Remove),
        1 => (at(), "front|back", any::<bool>()).prop_map(|(job, plate, over)| Deed::Look(job, plate, over)),
        1 => at().prop_map(Deed::Take),
        1 => (".{0,6}", ".{0,9}").prop_map(|(name, text)| Deed::Settle(name, text)),
    ]
}

fn doing(book: &Book, deeds: &[Deed]) {
    let mut jobs: Vec<JobId> = Vec::new();
    for deed in deeds {
        let one = |at: &Index| (!jobs.is_empty()).then(|| *at.get(&jobs));
        match deed {
            Deed::Begin(name, sheet) => {
                jobs.push(book.start(name, sheet, begun(name).text()).unwrap());
            }
            Deed::Enter(job, kinds) => {
                if let Some(id) = one(job) {
                    let mut log = log(book, id);
                    let before = log.entries().len();
                    let added: String = (kinds.iter())
                        .map(|kind| log.append(kind, Some("2026-03-01, noon")).unwrap())
                        .collect();
                    book.append(id, before, &added).unwrap();
                }
            }
            Deed::Show(job, seed) => {
                if let Some(id) = one(job) {
                    let picture = book.keep_picture(some_picture(*seed)).unwrap();
                    enter(book, id, &[shows(&picture.digest)]);
                }
            }
            Deed::Keep(seed) => drop(book.keep_picture(some_picture(*seed)).unwrap()),
            Deed::Undo(job, of) => {
                if let Some(id) = one(job) {
                    let mut log = log(book, id);
                    let held = log.entries().len();
                    if held > 0 {
                        let of = of.index(held) + 1;
                        if let Ok(added) = log.append(&EntryKind::Undo { of }, None) {
                            book.append(id, held, &added).unwrap();
                        }
                    }
                }
            }
            Deed::Remove(job) => {
                if let Some(id) = one(job) {
                    let log = log(book, id);
                    let personal = log.personal();
                    if !personal.is_empty() {
                        book.remove(id, log.entries().len(), &Removing::of(id, &personal), None)
                            .unwrap();
                    }
                }
            }
            Deed::Look(job, plate, over) => {
                if let Some(id) = one(job) {
                    book.set_view(id, plate, *over).unwrap();
                }
            }
            Deed::Take(job) => {
                if let Some(id) = one(job) {
                    book.set_current(id).unwrap();
                }
            }
            Deed::Settle(name, text) => book.settle(name, text).unwrap(),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn out_and_in_and_out_again_is_the_same(deeds in vec(deed(), 0..24)) {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let book = Book::open_with(&at("bench.book"), book::Syncing::Never).unwrap();
        doing(&book, &deeds);
        let out = book.export(&at("out")).unwrap();
        let (other, carried) = book::import(&at("out"), &at("other.book")).unwrap();
        prop_assert_eq!(out, carried);
        prop_assert_eq!(&book.verify().unwrap().wrong, &[]);
        prop_assert_eq!(&other.verify().unwrap().wrong, &[]);
        other.export(&at("again")).unwrap();
        prop_assert_eq!(files(&at("out")), files(&at("again")));
        // And not only what is exported is the same.
        prop_assert_eq!(book.jobs(), other.jobs());
        prop_assert_eq!(book.current(), other.current());
        for line in book.jobs().unwrap() {
            prop_assert_eq!(book.job(line.id), other.job(line.id));
            prop_assert_eq!(book.pictures_of(line.id), other.pictures_of(line.id));
        }
    }
}

/// A book with a bit of everything, exported.
fn exported() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let book = Book::open(&folder.path().join("bench.book")).unwrap();
    let sheet = "name = \"Wren Street\" # ä\n";
    let id = book
        .start("Wren Street", sheet, begun("Wren Street").text())
        .unwrap();
    let picture = book.keep_picture(some_picture(1)).unwrap();
    enter(
        &book,
        id,
        &[
            intake("the bracket clock, \"ticking\"", "Ada Tern"),
            note("two\nlines, and a comma"),
            shows(&picture.digest),
            Work::Sheet {
                text: "sheet = 1\n".to_owned(),
                hash: "0a".to_owned(),
            },
        ],
    );
    book.start("Quay Street", "", begun("Quay Street").text())
        .unwrap();
    book.settle("units", "mm").unwrap();
    let out = folder.path().join("out");
    book.export(&out).unwrap();
    (folder, out)
}

#[test]
fn what_is_not_all_of_an_export_makes_no_book() {
    let (folder, out) = exported();
    // Whatever no digest tells.
    as_of_before(&out);
    let sound = files(&out);
    let to = folder.path().join("new.book");
    let picture = sound
        .keys()
        .find(|name| name.starts_with("pictures"))
        .unwrap();
    let spoil = |name: &Path, bytes: Option<&[u8]>| {
        let path = out.join(name);
        match bytes {
            Some(bytes) => fs::write(&path, bytes).unwrap(),
            None => fs::remove_file(&path).unwrap(),
        }
        let fault = book::import(&out, &to).unwrap_err();
        fs::write(&path, &sound[name]).unwrap();
        assert!(!to.exists() && !to.with_file_name("new.book-wal").exists());
        fault
    };
    let no_export = |fault: &BookFault| matches!(fault, BookFault::NotAnExport { .. });
    for name in [
        "book.json",
        "jobs/1/job.json",
        "jobs/1/log.jsonl",
        "jobs/1/sheet.toml",
    ] {
        let fault = spoil(Path::new(name), None);
        assert!(no_export(&fault), "{name}: {fault:?}");
    }
    let fault = spoil(picture, None);
    assert!(no_export(&fault), "{fault:?}");
    let fault = spoil(picture, Some(&some_picture(2)));
    assert!(no_export(&fault), "{fault:?}");
    let fault = spoil(Path::new("jobs/1/log.jsonl"), Some(b"x\n"));
    assert!(no_export(&fault), "{fault:?}");
    let five = "x\n".repeat(5);
    let fault = spoil(Path::new("jobs/1/log.jsonl"), Some(five.as_bytes()));
    assert!(matches!(fault, BookFault::Unreadable(_)), "{fault:?}");
    let page = String::from_utf8(sound[Path::new("book.json")].clone()).unwrap();
    for (from, to) in [
        ("\"pictures/", "\"../pictures/"),
        ("\"pictures/", "\"pictures/../"),
        ("\"current\"", "\"stray\""),
        ("1,\n", "1,\n1,\n"),
        ("\"current\": null", "\"current\": 7"),
    ] {
        let other = page.replace(from, to);
        assert_ne!(page, other, "{from}");
        let fault = spoil(Path::new("book.json"), Some(other.as_bytes()));
        let known = no_export(&fault) || matches!(fault, BookFault::NoSuchJob { .. });
        assert!(known, "{to}: {fault:?}");
    }
    // A picture that is one, in a place where only a name that leads out of the export finds it.
    let digest = picture.file_stem().unwrap().to_str().unwrap();
    let aside = out.with_file_name("aside");
    fs::create_dir(&aside).unwrap();
    fs::write(aside.join(format!("{digest}.png")), &sound[picture]).unwrap();
    assert!(
        out.join(format!("pictures/../../aside/{digest}.png"))
            .is_file()
    );
    let led_out = page.replace("\"pictures/", "\"pictures/../../aside/");
    let fault = spoil(Path::new("book.json"), Some(led_out.as_bytes()));
    assert!(no_export(&fault), "{fault:?}");
    let newer = page.replace("\"trundle_export\": 1", "\"trundle_export\": 2");
    let fault = spoil(Path::new("book.json"), Some(newer.as_bytes()));
    assert!(
        matches!(fault, BookFault::NewerVersion { got: 2, .. }),
        "{fault:?}"
    );

    book::import(&out, &to).unwrap();
    let again = book::import(&out, &to).map(|_| ());
    assert_eq!(again, Err(BookFault::AlreadyThere { path: to.clone() }));
    let there = Book::open(&to).unwrap().export(&out);
    assert_eq!(there, Err(BookFault::AlreadyThere { path: out }));
}

/// An export tells where its lines end: the link that its book has for the last.
#[test]
fn an_export_ends_where_its_book_ends() {
    let (folder, out) = exported();
    let store = rusqlite::Connection::open(folder.path().join("bench.book")).unwrap();
    let (lines, link): (i64, String) = store
        .query_row("SELECT links, lower(hex(link)) FROM chain_end", (), |row| {
            Ok((row.get(0)?, row.get(1)?))
        })
        .unwrap();
    let page = fs::read_to_string(out.join("book.json")).unwrap();
    let page: serde_json::Value = serde_json::from_str(&page).unwrap();
    assert_eq!(
        page["end"],
        serde_json::json!({ "lines": lines, "link": link })
    );
    assert_eq!(lines, 6);
}

/// What is left of a book that was damaged can be carried over: its export ends where what is in it ends.
#[test]
fn what_is_exported_of_a_damaged_book_is_imported() {
    let (folder, _) = exported();
    let path = folder.path().join("bench.book");
    let store = rusqlite::Connection::open(&path).unwrap();
    unguarded(
        &store,
        "UPDATE line SET text = replace(text, 'Ada', 'Eda'); UPDATE blob SET width = width + 1;
        DELETE FROM chain WHERE sequence = 3; DELETE FROM shown",
    );
    drop(store);
    let book = Book::open(&path).unwrap();
    assert_ne!(book.verify().unwrap().wrong, []);
    let out = folder.path().join("damaged");
    book.export(&out).unwrap();
    let (other, _) = book::import(&out, &folder.path().join("other.book")).unwrap();
    assert_eq!(other.verify().unwrap().wrong, []);
    // A picture that is gone, too.
    fs::remove_dir_all(folder.path().join("bench.book.pictures")).unwrap();
    let out = folder.path().join("without");
    let carried = Book::open(&path).unwrap().export(&out).unwrap();
    assert_eq!((carried.pictures, carried.missing), (0, 1));
    book::import(&out, &folder.path().join("another.book")).unwrap();
}

/// Why this export is refused; nothing is made of it.
fn refused(out: &Path) -> String {
    let place = tempfile::tempdir().unwrap();
    let to = place.path().join("new.book");
    match book::import(out, &to) {
        Err(BookFault::NotAnExport { detail, .. }) => {
            assert!(!to.exists());
            detail.to_string()
        }
        other => panic!("{other:?}"),
    }
}

/// Has the page of digests say what the files are now, as somebody would who alters an export on purpose.
fn sum_up(out: &Path) {
    let sums = fs::read_to_string(out.join("sums.txt")).unwrap();
    let again = sums.lines().map(|line| {
        let (_, name) = line.split_once("  ").unwrap();
        let bytes = fs::read(out.join(name)).unwrap();
        let digest: String = Sha256::digest(bytes)
            .iter()
            .map(|b| format!("{b:02x}"))
            .collect();
        format!("{digest}  {name}\n")
    });
    let again: String = again.collect();
    fs::write(out.join("sums.txt"), again).unwrap();
}

#[test]
fn a_line_that_is_cut_off_altered_or_put_in_is_told_when_it_is_imported() {
    let (_folder, out) = exported();
    let sound = files(&out);
    let (log, job) = (Path::new("jobs/1/log.jsonl"), Path::new("jobs/1/job.json"));
    let text = |name: &Path| String::from_utf8(sound[name].clone()).unwrap();
    let lay = |name: &Path, text: &str| fs::write(out.join(name), text).unwrap();
    let lines: Vec<String> = text(log).split_inclusive('\n').map(str::to_owned).collect();
    let cut = lines[..4].concat();
    let put_in = text(log) + "{\"n\":5,\"kind\":\"note\",\"says\":\"put in\"}\n";
    let altered = text(log).replace("Ada Tern", "Eda Tern");
    for (other, told) in [
        (
            &cut,
            "jobs/1/log.jsonl: of 5 lines that were written there are 4",
        ),
        (
            &put_in,
            "jobs/1/log.jsonl: of 5 lines that were written there are 6",
        ),
        (
            &altered,
            "jobs/1/log.jsonl: a line is another than was exported",
        ),
    ] {
        lay(log, other);
        assert_eq!(refused(&out), told);
        lay(log, &text(log));
    }
    // With their places too.
    let places = text(job);
    let (before, last) = places.rsplit_once(",\n    ").unwrap();
    let places_cut = format!("{before}\n  ]\n}}\n");
    assert!(last.starts_with('5'), "{last}");
    lay(log, &cut);
    lay(job, &places_cut);
    assert_eq!(refused(&out), "jobs/1/job.json is not as it was exported");
    // By somebody who has the digests say so: the end does not.
    sum_up(&out);
    assert_eq!(refused(&out), "of 6 lines that were written there are 5");
    lay(job, &places);
    lay(log, &altered);
    sum_up(&out);
    assert_eq!(
        refused(&out),
        "its lines are others than were exported, or in another order"
    );
    // Digests that are gone, cut off or tell of too little.
    lay(log, &text(log));
    let sums = text(Path::new("sums.txt"));
    let page = out.join("sums.txt");
    fs::remove_file(&page).unwrap();
    assert_eq!(refused(&out), "sums.txt is missing");
    fs::write(&page, &sums[..sums.len() - 1]).unwrap();
    assert_eq!(refused(&out), "sums.txt is cut or altered");
    let without: String = sums
        .split_inclusive('\n')
        .filter(|line| !line.contains("log.jsonl"))
        .collect();
    fs::write(&page, without).unwrap();
    assert_eq!(
        refused(&out),
        "jobs/1/log.jsonl: a line is another than was exported"
    );

    // As earlier programs wrote it, without an end, it is imported as ever.
    fs::write(&page, &sums).unwrap();
    as_of_before(&out);
    let place = tempfile::tempdir().unwrap();
    let (book, _) = book::import(&out, &place.path().join("old.book")).unwrap();
    assert_eq!(book.verify().unwrap().wrong, []);
}

/// A file of an export that has names elsewhere is taken only where a digest tells that it is the one that was exported.
#[cfg(unix)]
#[test]
fn a_file_with_other_names_is_taken_only_as_it_was_exported() {
    let (folder, out) = exported();
    let sheet = out.join("jobs/1/sheet.toml");
    // A copy of the folder that shares all files.
    for name in files(&out).keys() {
        let shared = folder.path().join("shared").join(name);
        fs::create_dir_all(shared.parent().unwrap()).unwrap();
        fs::hard_link(out.join(name), shared).unwrap();
    }
    let to = folder.path().join("new.book");
    book::import(&out, &to).unwrap();
    // Somebody's letter in its place.
    let letter = folder.path().join("letter");
    fs::write(&letter, "Dear Ada").unwrap();
    fs::rename(&sheet, folder.path().join("away")).unwrap();
    fs::hard_link(&letter, &sheet).unwrap();
    assert_eq!(refused(&out), "jobs/1/sheet.toml is not as it was exported");
    // The letter alone has other names now, and no digest tells of it.
    fs::remove_dir_all(folder.path().join("shared")).unwrap();
    as_of_before(&out);
    let told = refused(&out);
    assert!(
        told.starts_with("jobs/1/sheet.toml has other names"),
        "{told}"
    );
    fs::remove_file(&sheet).unwrap();
    fs::copy(&letter, &sheet).unwrap();
    book::import(&out, &folder.path().join("newer.book")).unwrap();
}

/// A removed picture's file is gone, and so it is from what is exported later.
#[test]
fn what_was_removed_is_not_exported() {
    let (folder, _) = exported();
    let book = Book::open(&folder.path().join("bench.book")).unwrap();
    let id = book.jobs().unwrap()[1].id;
    let fields = vec!["picture".to_owned()];
    book.remove(id, 4, &Removing::of(id, &[Emptied { of: 3, fields }]), None)
        .unwrap();
    let out = folder.path().join("later");
    book.export(&out).unwrap();
    assert!(!files(&out).keys().any(|name| name.starts_with("pictures")));
    book.daily_backup(day("2026-03-01")).unwrap();
}

/// The standard readers of another language read it all. Python's standard library is used where there is a Python.
#[test]
fn others_read_it_with_what_they_have() {
    const READ: &str = r#"
import csv, hashlib, json, pathlib, sqlite3, sys, tomllib
out, book = pathlib.Path(sys.argv[1]), sys.argv[2]
page = json.loads((out / "book.json").read_text("utf-8"))
assert page["jobs"] == [1, 2] and page["settings"] == {"units": "mm"}, page
rows = list(csv.DictReader((out / "entries.csv").open(encoding="utf-8", newline="")))
assert [row["kind"] for row in rows] == ["intake", "note", "picture", "sheet"], rows
assert rows[1]["says"] == "two\nlines, and a comma", rows[1]
assert "\"ticking\"" in rows[0]["says"], rows[0]
jobs = list(csv.DictReader((out / "jobs.csv").open(encoding="utf-8", newline="")))
assert jobs[0]["name"] == 'the bracket clock, "ticking"' and jobs[0]["entries"] == "4", jobs
lines = [json.loads(line) for line in (out / "jobs/1/log.jsonl").read_text("utf-8").splitlines()]
assert lines[1]["owner"] == "Ada Tern" and lines[4]["text"] == "sheet = 1\n", lines
assert tomllib.loads((out / "jobs/1/sheet.toml").read_text("utf-8"))["name"] == "Wren Street"
assert tomllib.loads((out / "jobs/1/sheet-4.toml").read_text("utf-8"))["sheet"] == 1
for name in page["pictures"]:
    assert (out / name).read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
# Every file but the page that tells them is as its digest says.
sums = dict(reversed(line.split("  ", 1)) for line in (out / "sums.txt").read_text("utf-8").splitlines())
there = {p.relative_to(out).as_posix() for p in out.rglob("*") if p.is_file()} - {"sums.txt"}
assert sums == {name: hashlib.sha256((out / name).read_bytes()).hexdigest() for name in there}, sums
# The store's own check, by whichever version of it that language has.
store = sqlite3.connect(f"file:{book}?mode=ro", uri=True)
for table in ("job", "line", "blob", "shown", "removal", "setting", "view", "current"):
    assert store.execute(f"PRAGMA integrity_check({table})").fetchall() == [("ok",)], table
assert store.execute("PRAGMA foreign_key_check").fetchall() == []
"#;
    let (folder, out) = exported();
    let read = std::process::Command::new("python3")
        .args(["-c", READ])
        .arg(&out)
        .arg(folder.path().join("bench.book"))
        .output();
    match read {
        Ok(read) => assert!(
            read.status.success(),
            "{}",
            String::from_utf8_lossy(&read.stderr)
        ),
        Err(error) if std::env::var_os("TRUNDLE_PROVE").is_some() => panic!("{error}"),
        Err(error) => println!("no python3 ({error}): not tried"),
    }
}
