//! The chain of lines: what it tells of each kind of damage, and that others work out the same from what is written of it.

mod made_up;

use book::{Aside, Book, BookDamage, BookFault, JobId, LineWas, Removing, Size};
use made_up::{begun, day, enter, intake, log, note, shows, some_picture, unguarded};
use rusqlite::Connection;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A book with two jobs, seven lines, a picture.
fn book() -> (tempfile::TempDir, PathBuf, JobId, JobId) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    let one = book
        .start(
            "Wren Street",
            "sheet = 1 # ä\n",
            begun("Wren Street").text(),
        )
        .unwrap();
    let picture = book.keep_picture(some_picture(1)).unwrap();
    enter(
        &book,
        one,
        &[
            intake("the bracket clock", "Ada Tern"),
            shows(&picture.digest),
        ],
    );
    let two = book
        .start("Quay Street", "", begun("Quay Street").text())
        .unwrap();
    enter(&book, one, &[note("the fly rubs"), note("now it is free")]);
    book.settle("units", "mm").unwrap();
    book.set_view(one, "back", true).unwrap();
    book.set_current(two).unwrap();
    drop(book);
    (folder, path, one, two)
}

/// What is wrong after these statements, with nothing that guards the lines in their way.
fn after(path: &Path, sql: &str) -> Vec<BookDamage> {
    let whole = fs::read(path).unwrap();
    let store = Connection::open(path).unwrap();
    unguarded(&store, sql);
    drop(store);
    let wrong = Book::open(path).unwrap().verify().unwrap().wrong;
    fs::write(path, whole).unwrap();
    wrong
}

#[test]
fn each_kind_of_damage_is_told_apart() {
    let (_folder, path, one, two) = book();
    let lines = |job, numbers: &[usize], was| BookDamage::Lines {
        job,
        numbers: numbers.to_vec(),
        was,
    };
    let has = |sql: &str, expected: BookDamage| {
        let wrong = after(&path, sql);
        assert!(wrong.contains(&expected), "{sql}: {wrong:?}");
    };
    assert_eq!(after(&path, ""), []);
    // As it would be written by this program: nothing but the chain tells.
    let rub = "UPDATE line SET text = replace(text, 'rubs', 'runs'); UPDATE words SET said = replace(said, 'rubs', 'runs')";
    assert_eq!(after(&path, rub), [lines(one, &[3], LineWas::Altered)]);
    has(
        "UPDATE job SET name = 'x' WHERE id = 2",
        lines(two, &[0], LineWas::Altered),
    );
    has(
        "UPDATE job SET sheet = 'x' WHERE id = 1",
        lines(one, &[0], LineWas::Altered),
    );
    has(
        "UPDATE blob SET height = 17",
        lines(one, &[2], LineWas::Altered),
    );
    let swap = "CREATE TEMP TABLE t AS SELECT n, text FROM line WHERE job = 1;
        UPDATE line SET text = (SELECT text FROM t WHERE t.n = 7 - line.n) WHERE job = 1 AND n IN (3, 4)";
    has(swap, lines(one, &[3, 4], LineWas::Swapped));
    has(
        "DELETE FROM line WHERE job = 1 AND n = 3",
        lines(one, &[3], LineWas::Missing),
    );
    let put =
        "INSERT INTO line (job, n, text) VALUES (2, 1, '{\"n\":1,\"kind\":\"struck\",\"hour\":4}')";
    has(put, lines(two, &[1], LineWas::PutIn));
    let cut = "DELETE FROM words WHERE rowid = 6; DELETE FROM chain WHERE sequence = 6; DELETE FROM line WHERE sequence = 6;
        UPDATE job SET entries = 3, last = 5 WHERE id = 1";
    // (There are six lines: two of the jobs' own, four entries.)
    assert_eq!(
        after(&path, cut),
        [BookDamage::Cut {
            written: 6,
            left: 5
        }]
    );
    for (sql, aside) in [
        ("UPDATE view SET plate = 'front'", Aside::View),
        ("DELETE FROM view", Aside::View),
        ("UPDATE current SET job = 1", Aside::Current),
        ("UPDATE setting SET text = 'in'", Aside::Setting),
        ("INSERT INTO setting VALUES ('a', 'b')", Aside::Setting),
        ("UPDATE blob SET preview = NULL", Aside::Picture),
        ("UPDATE chain_end SET found = 3", Aside::End),
        ("UPDATE chain_end SET link = zeroblob(32)", Aside::End),
        ("DELETE FROM chain_end", Aside::End),
    ] {
        assert_eq!(after(&path, sql), [BookDamage::Aside(aside)], "{sql}");
    }
}

#[test]
fn where_the_end_was_cut_off_nothing_is_written_over_it() {
    let (_folder, path, one, _) = book();
    let store = Connection::open(&path).unwrap();
    let cut = "DELETE FROM words WHERE rowid = 6; DELETE FROM line WHERE sequence = 6";
    unguarded(&store, cut);
    drop(store);
    let book = Book::open(&path).unwrap();
    let fault = book.append(one, 3, "{\"n\":4,\"kind\":\"struck\",\"hour\":4}\n");
    assert!(matches!(fault, Err(BookFault::Damaged { .. })), "{fault:?}");
}

#[test]
fn a_preview_that_was_altered_is_told_and_made_again() {
    let (_folder, path, one, _) = book();
    let book = Book::open(&path).unwrap();
    let digest = book.pictures_of(one).unwrap()[0].1.digest.clone();
    let text = digest.text();
    let preview = path
        .with_file_name("bench.book.pictures")
        .join(&text[..2])
        .join(format!("{text}.preview.jpg"));
    let sound = fs::read(&preview).unwrap();
    let mut flipped = sound.clone();
    flipped[100] ^= 4;
    fs::write(&preview, flipped).unwrap();
    assert_eq!(
        book.verify().unwrap().wrong,
        [BookDamage::Preview(digest.clone())]
    );
    assert_eq!(book.picture_bytes(&digest, Size::Preview).unwrap().1, sound);
    assert_eq!(book.verify().unwrap().wrong, []);
    // One that is not there is not wrong.
    fs::remove_file(&preview).unwrap();
    assert_eq!(book.verify().unwrap().wrong, []);
    assert_eq!(book.picture_bytes(&digest, Size::Preview).unwrap().1, sound);
    assert_eq!(fs::read(&preview).unwrap(), sound);
    // Of an imported picture no preview is known until one was made; then it is.
    book.export(&path.with_file_name("out")).unwrap();
    let (other, _) =
        book::import(&path.with_file_name("out"), &path.with_file_name("other")).unwrap();
    assert_eq!(
        other.picture_bytes(&digest, Size::Preview).unwrap().1,
        sound
    );
    let preview = path
        .with_file_name("other.pictures")
        .join(&text[..2])
        .join(format!("{text}.preview.jpg"));
    fs::write(&preview, "x").unwrap();
    assert_eq!(other.verify().unwrap().wrong, [BookDamage::Preview(digest)]);
}

/// A removal makes the chain anew from the first line that it touches: what it was is nowhere any more.
#[test]
fn no_link_over_what_was_removed_stays() {
    let (folder, path, one, _) = book();
    let links = |path: &Path| -> Vec<Vec<u8>> {
        let store = Connection::open(path).unwrap();
        let mut found = store
            .prepare("SELECT link FROM chain ORDER BY sequence")
            .unwrap();
        let rows = found.query_map((), |row| row.get(0)).unwrap();
        rows.map(Result::unwrap).collect()
    };
    let book = Book::open(&path).unwrap();
    book.daily_backup(day("2026-03-01")).unwrap();
    book.rest().unwrap();
    let before = links(&path);
    let personal = log(&book, one).personal();
    let what = Removing::of(one, &personal);
    book.remove(one, 4, &what, Some("2026-03-02")).unwrap();
    assert_eq!(book.verify().unwrap().wrong, []);
    let after = links(&path);
    drop(book);
    assert_eq!((before.len(), after.len()), (6, 7));
    assert_eq!(before[0], after[0], "the job's beginning was not touched");
    let mut all = Vec::new();
    everything(folder.path(), &mut all);
    let holds = |what: &[u8]| {
        all.iter()
            .any(|bytes| bytes.windows(what.len()).any(|part| part == what))
    };
    assert!(holds(&after[6]) && holds(&before[0]));
    for (n, link) in before.iter().enumerate().skip(1) {
        assert!(!holds(link), "link {n} is still somewhere");
    }
}

/// What was wrong before a removal is told after it as well: the chain that is made anew does not make it right.
#[test]
fn a_removal_does_not_hide_what_was_wrong() {
    let lines = |job, numbers: &[usize], was| BookDamage::Lines {
        job,
        numbers: numbers.to_vec(),
        was,
    };
    let rub = "UPDATE line SET text = replace(text, 'rubs', 'runs');
        UPDATE words SET said = replace(said, 'rubs', 'runs')";
    let put =
        "INSERT INTO line (job, n, text) VALUES (2, 1, '{\"n\":1,\"kind\":\"struck\",\"hour\":4}')";
    let cut = "DELETE FROM words WHERE rowid = 6; DELETE FROM chain WHERE sequence = 6;
        DELETE FROM line WHERE sequence = 6; UPDATE job SET entries = 3, last = 5 WHERE id = 1";
    let gone = "DELETE FROM words WHERE rowid = 4; DELETE FROM line WHERE sequence = 4";
    let found = "UPDATE chain_end SET found = 3";
    let ends = "UPDATE chain_end SET link = zeroblob(32)";
    for sql in [rub, put, cut, gone, found, ends] {
        let (_folder, path, one, two) = book();
        let store = Connection::open(&path).unwrap();
        unguarded(&store, sql);
        drop(store);
        let book = Book::open(&path).unwrap();
        let before = book.verify().unwrap().wrong;
        // It is made, and tells what is wrong along the chain.
        let backed_up = book.daily_backup(day("2026-03-01"));
        let path = path.clone();
        match sql {
            sql if sql == found => assert!(backed_up.is_ok(), "{sql}: {backed_up:?}"),
            _ => assert_eq!(backed_up, Err(BookFault::Altered { path }), "{sql}"),
        }
        let log = log(&book, one);
        let owner = log.personal();
        book.remove(one, log.entries().len(), &Removing::of(one, &owner), None)
            .unwrap();
        let after = book.verify().unwrap().wrong;
        let expected = match sql {
            sql if sql == rub => lines(one, &[3], LineWas::Altered),
            sql if sql == put => lines(two, &[1], LineWas::PutIn),
            sql if sql == gone => lines(two, &[0], LineWas::Missing),
            sql if sql == cut => BookDamage::Cut {
                written: 7,
                left: 6,
            },
            _ => BookDamage::Aside(Aside::End),
        };
        assert!(
            after.contains(&expected),
            "{sql}: {before:?}, then {after:?}"
        );
        assert_eq!(
            before.len(),
            after.len(),
            "{sql}: {before:?}, then {after:?}"
        );
    }
}

fn everything(folder: &Path, all: &mut Vec<Vec<u8>>) {
    for there in fs::read_dir(folder).unwrap() {
        let path = there.unwrap().path();
        if path.is_dir() {
            everything(&path, all);
        } else {
            all.push(fs::read(path).unwrap());
        }
    }
}

#[test]
fn what_was_there_before_is_told_as_found() {
    let (_folder, path, _, _) = book();
    let book = Book::open(&path).unwrap();
    assert_eq!(book.verify().unwrap().as_found, 0);
    let out = path.with_file_name("out");
    book.export(&out).unwrap();
    let (other, _) = book::import(&out, &path.with_file_name("other")).unwrap();
    other.start("a third", "", begun("a third").text()).unwrap();
    let verdict = other.verify().unwrap();
    assert_eq!((verdict.as_found, verdict.wrong), (6, vec![]));
    // A backup and what is restored of it carry the chain on.
    let backup = other
        .backup(&path.with_file_name("backup"), day("2026-03-01"))
        .unwrap();
    let restored = book::restore(&backup.folder, &path.with_file_name("restored")).unwrap();
    let verdict = restored.verify().unwrap();
    assert_eq!((verdict.as_found, verdict.wrong), (6, vec![]));
    // A book of an earlier form.
    let first = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/earlier/first.book");
    let earlier = path.with_file_name("first");
    fs::copy(first, &earlier).unwrap();
    let verdict = Book::open(&earlier).unwrap().verify().unwrap();
    assert_eq!((verdict.as_found, verdict.wrong), (3 * 41, vec![]));
}

/// Worked out from ARCHITECTURE.md ("How the book knows that it was altered") with Python's own SHA-256.
#[test]
fn others_work_out_the_same_chain() {
    const WORK_OUT: &str = r#"
import hashlib, sqlite3, sys
store = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True)
def field(value):
    if value is None: return b"-,"
    if isinstance(value, int): value = str(value)
    if isinstance(value, str): value = value.encode()
    return str(len(value)).encode() + b":" + value + b","
def digest(*fields): return hashlib.sha256(b"".join(fields)).digest()
names = {job: (name, sheet) for job, name, sheet in store.execute("SELECT id, name, sheet FROM job")}
pictures = {row[0]: row for row in store.execute("SELECT digest, form, bytes, width, height FROM blob")}
shown = dict(store.execute("SELECT sequence, digest FROM shown"))
links = dict(store.execute("SELECT sequence, link FROM chain"))
before, count, named = bytes(32), 0, 0
for sequence, job, n, text in store.execute("SELECT sequence, job, n, text FROM line ORDER BY sequence"):
    name, sheet = names[job] if n == 0 else (None, None)
    picture = pictures[shown[sequence]] if sequence in shown else (None,) * 5
    named += sequence in shown
    before = digest(before, *map(field, (sequence, job, n, text, name, sheet, *picture)))
    assert before == links[sequence], (job, n)
    count += 1
assert named == 1 and count == 6, (named, count)
assert store.execute("SELECT links, link FROM chain_end").fetchall() == [(count, before)]
columns = {"view": "job, plate, upside_down", "current": "one, job", "setting": "name, text",
    "blob": "digest, form, bytes, width, height, preview", "chain_end": "one, links, link, found"}
sums = dict(store.execute("SELECT name, sum FROM aside"))
assert set(sums) == set(columns), sums
for table, named in columns.items():
    total = 0
    for row in store.execute(f"SELECT {named} FROM {table}"):
        total ^= int.from_bytes(digest(field(table), *map(field, row)), "big")
    assert total > 0 and sums[table] == total.to_bytes(32, "big"), table
print("worked out", count)
"#;
    let (_folder, path, _, _) = book();
    let worked = Command::new("python3")
        .args(["-c", WORK_OUT])
        .arg(&path)
        .output();
    match worked {
        Ok(worked) => {
            let said = String::from_utf8_lossy(&worked.stdout).into_owned();
            assert!(
                worked.status.success(),
                "{}",
                String::from_utf8_lossy(&worked.stderr)
            );
            assert_eq!(said.trim(), "worked out 6");
        }
        Err(error) if std::env::var_os("TRUNDLE_PROVE").is_some() => panic!("{error}"),
        Err(error) => println!("no python3 ({error}): not tried"),
    }
}
