//! What the machine or the store refuses is told in plain words, and by no number of theirs.

use assert_cmd::cargo::cargo_bin;
use std::fs;
use std::path::Path;
use std::process::Command;

/// What a command says that is refused.
fn told(words: &[&str]) -> String {
    let output = Command::new(cargo_bin("trundle"))
        .args(words)
        .output()
        .expect("it runs");
    assert!(!output.status.success(), "{words:?}: {output:?}");
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    for theirs in [
        "os error",
        "EOF",
        "unable to open",
        "disk image",
        "No such file",
        "Is a directory",
        "Not a directory",
        "line 1 column",
    ] {
        assert!(!told.contains(theirs), "{words:?}: {told}");
    }
    told
}

#[test]
fn usual_troubles_are_told_in_plain_words() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let shown = |path: &Path| path.to_str().expect("a plain name").to_owned();
    let log = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
    let book = book::Book::open(&at("bench.book")).expect("a book");
    for name in ["Quay Street", "Wren Street", "Ferry Road"] {
        book.start(name, &"a sheet\n".repeat(4000), log)
            .expect("a job");
    }
    let day = entries::Day::parse("2026-03-01").expect("a day");
    book.backup(&at("backup"), day).expect("a backup");
    book.export(&at("export")).expect("an export");
    drop(book);
    let keep = |book: &str, words: &[&str]| {
        let path = shown(&at(book));
        told(&[&["book", "--book", &path], words].concat())
    };
    let restore = |from: &str| keep("restored.book", &["restore", &shown(&at(from))]);
    let import = |from: &str| keep("imported.book", &["import", &shown(&at(from))]);

    // Nothing there, another kind of thing, or a part of it.
    assert!(restore("nowhere").contains("it is not there"));
    assert!(import("nowhere").contains("it is not there"));
    let page = at("backup").join("backup.json");
    let sound = fs::read(&page).expect("read");
    fs::write(&page, &sound[..sound.len() / 2]).expect("cut");
    assert!(restore("backup").contains("backup.json: it breaks off"));
    fs::write(&page, "a letter").expect("written");
    assert!(restore("backup").contains("backup.json: it is not as this program writes it"));
    fs::remove_file(&page).expect("removed");
    fs::create_dir(&page).expect("made");
    assert!(restore("backup").contains("it is no plain file"));
    let page = at("export").join("book.json");
    fs::write(&page, "").expect("written");
    fs::remove_file(at("export").join("sums.txt")).expect("removed");
    assert!(import("export").contains("book.json: it breaks off"));

    // A book that is damaged, is none, or lies where no folder can be.
    let bytes = fs::read(at("bench.book")).expect("read");
    fs::write(at("cut.book"), &bytes[..bytes.len() / 2 / 4096 * 4096]).expect("cut");
    let cut = keep("cut.book", &["verify"]);
    assert!(cut.contains("is damaged"), "{cut}");
    fs::write(at("letter.book"), "a letter\n".repeat(400)).expect("written");
    let none = keep("letter.book", &["verify"]);
    assert!(
        none.contains("is no bench book (it has not the form of a book)"),
        "{none}"
    );
    let below = shown(&at("letter.book").join("bench.book"));
    told(&["bench", "--no-open", "--book", &below]);

    // Other files.
    let sheet = shown(&at("nowhere.toml"));
    assert!(told(&["check", &sheet]).contains("it is not there"));
    let here = shown(folder.path());
    assert!(told(&["check", &here]).contains("there is a folder"));
    let schoolroom = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../movements/schoolroom.toml"
    );
    let log = shown(&at("nowhere").join("a.log"));
    let out = told(&["remesh", schoolroom, "--log", &log, "--saw", "slot=-0.3"]);
    assert!(out.contains("it is not there"), "{out}");
    assert!(told(&["listen", &here]).contains("there is a folder"));
}
