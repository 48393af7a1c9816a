//! A real export, spoiled: it is refused and nothing is left, or taken, sound, and shown on every page.

use crate::bench::{Bench, coded, trundle};
use crate::page::checked;
use crate::spoil::{self, ODD_TEXTS, one, place};
use crate::tally::{Tally, how_many, most_held};
use book::Book;
use fleet::{Dice, dice, mutate};
use rand::RngExt;
use serde_json::{Value, json};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::process::{Output, Stdio};

/// As many as are tried at every run of the tests.
const USUAL: usize = 240;
/// One of so many goes through the binary, and one of so many that were taken through its pages.
const BY_THE_BINARY: usize = 40;
const ON_PAGES: usize = 12;

/// The files of an export, by their names in it; a folder or a link where there is one instead.
type Export = BTreeMap<PathBuf, There>;

#[derive(Debug, Clone)]
enum There {
    File(Vec<u8>),
    Folder,
    Link(PathBuf),
    Pipe,
}

fn shown(path: &Path) -> &str {
    path.to_str().expect("UTF-8")
}

/// What a command of the binary answers.
fn run(words: &[&str], book: &Path) -> Output {
    let output = trundle()
        .args(["book", "--book", shown(book)])
        .args(words)
        .output()
        .expect("it runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(
        !said.contains("panicked") && output.status.code().is_some_and(|code| code < 3),
        "{words:?}: {said}"
    );
    output
}

/// A book as a bench leaves it, exported: two jobs, one with a bit of everything and two pictures.
fn export(folder: &Path) -> Export {
    let book = folder.join("real.book");
    {
        let bench = Bench::open(&book);
        let sheet = include_str!("../../../../movements/mantel.toml");
        assert_eq!(
            bench
                .post("/jobs", &format!("sheet={}", coded(sheet)))
                .expect("an answer")
                .status,
            303
        );
        for (path, fields) in [
            (
                "enter",
                "kind=intake&clock=a+bracket+clock&owner=Ada+Tern&complaint=strikes+two",
            ),
            ("enter", "kind=note&says=two%0Alines%2C+and+%22quotes%22"),
            ("enter", "kind=measurement&what=strip&value=0.42&unit=mm"),
            ("enter", "kind=check&item=springs+let+down&stage=down"),
            ("own", "stage=down&says=new+wires"),
        ] {
            let answer = bench.post(
                &format!("/job/1/{path}"),
                &format!("entries={}&{fields}", bench.entries(1)),
            );
            let answer = answer.expect("an answer");
            assert!(answer.status < 500, "{path}: {}", answer.text());
        }
        for (name, picture) in [("a.png", PNG), ("b.jpg", JPEG)] {
            let entries = bench.entries(1);
            let fields = [
                ("entries", &*entries),
                ("when", "before"),
                ("says", "as it came"),
            ];
            let answer = bench
                .upload("/job/1/picture", &fields, ("picture", name), picture)
                .expect("an answer");
            assert_eq!(answer.status, 303, "{}", answer.text());
        }
    }
    let out = folder.join("real");
    let output = run(&["export", shown(&out)], &book);
    assert!(output.status.success(), "{output:?}");
    let mut files = Export::new();
    read(&out, &out, &mut files);
    assert!(files.len() > 9, "{:?}", files.keys());
    files
}

/// The export as earlier programs wrote it: without the digests of its files, and nothing told of where its lines end. What is
/// spoiled in it is not noticed by a digest.
fn as_earlier(export: &Export) -> Export {
    let mut export = export.clone();
    export.remove(Path::new("sums.txt")).expect("digests");
    let page = export.get_mut(Path::new("book.json")).expect("a page");
    let There::File(bytes) = page else {
        panic!("a file")
    };
    let mut told: Value = serde_json::from_slice(bytes).expect("JSON");
    let end = told.as_object_mut().and_then(|told| told.remove("end"));
    assert!(end.is_some());
    *bytes = serde_json::to_vec_pretty(&told).expect("JSON");
    export
}

const PNG: &[u8] = include_bytes!("samples/palette.png");
const JPEG: &[u8] = include_bytes!("samples/progressive.jpg");

fn read(folder: &Path, from: &Path, files: &mut Export) {
    for there in std::fs::read_dir(folder).expect("a folder") {
        let path = there.expect("a file").path();
        if path.is_dir() {
            read(&path, from, files);
        } else {
            let name = path.strip_prefix(from).expect("below it").to_owned();
            files.insert(name, There::File(std::fs::read(&path).expect("read")));
        }
    }
}

fn written(export: &Export, folder: &Path) {
    for (name, there) in export {
        let path = folder.join(name);
        let _ = std::fs::create_dir_all(path.parent().expect("a folder"));
        // Where a folder stands in the place of a file, what was to lie below another one does not.
        let _ = match there {
            There::File(bytes) => std::fs::write(&path, bytes),
            There::Folder => std::fs::create_dir_all(&path),
            There::Link(to) => link(to, &path),
            There::Pipe => std::process::Command::new("mkfifo")
                .arg(&path)
                .stderr(Stdio::null())
                .status()
                .map(drop),
        };
    }
}

#[cfg(unix)]
fn link(to: &Path, path: &Path) -> std::io::Result<()> {
    std::os::unix::fs::symlink(to, path)
}

#[cfg(not(unix))]
fn link(_: &Path, path: &Path) -> std::io::Result<()> {
    std::fs::create_dir_all(path)
}

fn any(export: &Export, dice: &mut Dice) -> PathBuf {
    let names: Vec<&PathBuf> = export.keys().collect();
    (*one(&names, dice)).clone()
}

fn bytes_of<'a>(export: &'a Export, name: &str) -> Option<&'a [u8]> {
    match export.get(Path::new(name)) {
        Some(There::File(bytes)) => Some(bytes),
        _ => None,
    }
}

/// Spoils it in one to three ways; what was done, in short.
fn spoil(export: &mut Export, dice: &mut Dice) -> String {
    let mut did = String::new();
    for _ in 0..*one(&[1, 1, 2, 3], dice) {
        let way = dice.random_range(0..16);
        let name = any(export, dice);
        let _ = write!(did, "{way} {} ", name.display());
        match way {
            0 => drop(export.remove(&name)),
            1 => drop(export.insert(name, There::Folder)),
            2 => {
                let to = one(
                    &[
                        "/dev/zero",
                        "/etc/hostname",
                        ".",
                        "book.json",
                        "../real/book.json",
                        "nowhere",
                    ],
                    dice,
                );
                export.insert(name, There::Link(PathBuf::from(to)));
            }
            3 => drop(export.insert(name, There::Pipe)),
            4 => {
                let other = any(export, dice);
                let (one, two) = (export[&name].clone(), export[&other].clone());
                export.insert(name, two);
                export.insert(other, one);
            }
            5 | 6 => page(export, "book.json", dice),
            7 => page(
                export,
                &format!("jobs/{}/job.json", dice.random_range(1..3)),
                dice,
            ),
            8 => {
                let name = PathBuf::from(format!("jobs/{}/sheet.toml", dice.random_range(1..3)));
                if let Some(There::File(bytes)) = export.get_mut(&name) {
                    *bytes = mutate(&String::from_utf8_lossy(bytes), dice).into_bytes();
                }
            }
            9 | 10 => renamed(export, dice),
            11 => {
                if let Some(There::File(bytes)) = export.get_mut(&name) {
                    *bytes = spoil::bytes(bytes, dice);
                }
            }
            12 | 13 => log(export, dice),
            _ => {
                if let Some(There::File(bytes)) = export.get_mut(&name) {
                    *bytes = spoil::lines(bytes, dice);
                }
            }
        }
    }
    did
}

/// A value somewhere within a page.
fn within<'a>(value: &'a mut Value, dice: &mut Dice) -> &'a mut Value {
    let inside = match value {
        Value::Array(all) => all.len(),
        Value::Object(all) => all.len(),
        _ => 0,
    };
    if inside == 0 || dice.random_bool(0.15) {
        return value;
    }
    let at = place(inside, dice);
    match value {
        Value::Array(all) => within(&mut all[at], dice),
        Value::Object(all) => within(all.values_mut().nth(at).expect("a value"), dice),
        other => other,
    }
}

fn odd_value(was: &Value, dice: &mut Dice) -> Value {
    match (dice.random_range(0..7), was) {
        (0, _) => (*one(
            &[
                json!(null),
                json!(true),
                json!([]),
                json!({}),
                json!([[]]),
                json!(""),
            ],
            dice,
        ))
        .clone(),
        (1, Value::Array(all)) if !all.is_empty() => {
            let mut all = all.clone();
            let again = all[place(all.len(), dice)].clone();
            all.insert(place(all.len(), dice), again);
            Value::Array(all)
        }
        (2, Value::Array(all)) if !all.is_empty() => {
            let mut all = all.clone();
            all.remove(place(all.len(), dice));
            Value::Array(all)
        }
        (3, Value::Object(all)) if !all.is_empty() => {
            let mut all = all.clone();
            let key = all
                .keys()
                .nth(place(all.len(), dice))
                .expect("a key")
                .clone();
            all.remove(&key);
            Value::Object(all)
        }
        (4, Value::Object(all)) => {
            let mut all = all.clone();
            all.insert((*one(&ODD_TEXTS, dice)).to_owned(), json!("x"));
            Value::Object(all)
        }
        (_, Value::Number(_)) => match dice.random_range(0..6) {
            0 => json!(-1),
            1 => json!(0),
            2 => json!(i64::MAX),
            3 => json!(u64::MAX),
            4 => json!(1.5),
            _ => json!(dice.random_range(0..1_i64 << 53)),
        },
        (5, _) => json!("w".repeat(1 << dice.random_range(8..21))),
        _ => json!(*one(&ODD_TEXTS, dice)),
    }
}

/// One of the pages with a value changed, as JSON still.
fn page(export: &mut Export, name: &str, dice: &mut Dice) {
    let Some(page) = bytes_of(export, name) else {
        return;
    };
    let Ok(mut page) = serde_json::from_slice::<Value>(page) else {
        return;
    };
    let at = within(&mut page, dice);
    *at = odd_value(at, dice);
    export.insert(
        PathBuf::from(name),
        There::File(page.to_string().into_bytes()),
    );
}

/// A log with a value of one of its lines changed, as JSON still.
fn log(export: &mut Export, dice: &mut Dice) {
    let name = format!("jobs/{}/log.jsonl", dice.random_range(1..3));
    let Some(log) = bytes_of(export, &name) else {
        return;
    };
    let text = String::from_utf8_lossy(log).into_owned();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        return;
    }
    let at = place(lines.len(), dice);
    if let Ok(mut line) = serde_json::from_str::<Value>(&lines[at]) {
        let value = within(&mut line, dice);
        *value = odd_value(value, dice);
        lines[at] = line.to_string();
    }
    export.insert(
        PathBuf::from(name),
        There::File((lines.join("\n") + "\n").into_bytes()),
    );
}

fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .fold(String::new(), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        })
}

/// A picture spoiled, and everything that names it naming it by what it is now.
fn renamed(export: &mut Export, dice: &mut Dice) {
    let pictures: Vec<PathBuf> = export
        .keys()
        .filter(|name| name.starts_with("pictures"))
        .cloned()
        .collect();
    if pictures.is_empty() {
        return;
    }
    let name = one(&pictures, dice).clone();
    let Some(There::File(bytes)) = export.get(&name) else {
        return;
    };
    let bytes = spoil::bytes(bytes, dice);
    put(export, &name, bytes);
}

/// Puts a picture in the place of another, under its own name.
fn put(export: &mut Export, name: &Path, bytes: Vec<u8>) -> String {
    let was = name
        .file_stem()
        .expect("a name")
        .to_string_lossy()
        .into_owned();
    let now = digest(&bytes);
    export.remove(name);
    let ending = name
        .extension()
        .expect("an ending")
        .to_string_lossy()
        .into_owned();
    export.insert(
        PathBuf::from(format!("pictures/{now}.{ending}")),
        There::File(bytes),
    );
    for there in export.values_mut() {
        if let There::File(bytes) = there
            && let Ok(text) = std::str::from_utf8(bytes)
            && text.contains(&was)
        {
            *bytes = text.replace(&was, &now).into_bytes();
        }
    }
    now
}

/// What lies in a folder.
fn left(folder: &Path) -> Vec<PathBuf> {
    std::fs::read_dir(folder)
        .expect("a folder")
        .map(|there| there.expect("a file").path())
        .collect()
}

/// A book that was taken in is opened, and every page of it is as it should be.
fn shows(book: &Path, did: &str, held: &mut u64) {
    let mut bench = Bench::open(book);
    let mut pages: Vec<String> = ["/", "/jobs", "/jobs?home", "/search?for=a", "/settings"]
        .map(str::to_owned)
        .to_vec();
    for job in 1..3 {
        for page in [
            "",
            "?look",
            "/way",
            "/way?stage=rate",
            "/record",
            "/record/whole",
            "/counts",
            "/power",
            "/pendulum",
            "/oil",
            "/listen",
            "/lesson",
        ] {
            pages.push(format!("/job/{job}{page}"));
        }
    }
    for page in pages {
        let answer = bench.get(&page).expect("an answer");
        checked(&answer, &format!("{page} after {did}"));
    }
    *held = bench.sound().max(*held);
}

#[test]
fn a_spoiled_export_is_refused_and_leaves_nothing_or_is_taken_and_sound() {
    let folder = tempfile::tempdir().expect("a folder");
    let real = export(folder.path());
    let earlier = as_earlier(&real);
    let (mut tally, mut held) = (Tally::default(), 0);
    for n in 0..how_many(USUAL) {
        let mut dice = dice(0xe_0000 + u64::try_from(n).expect("a seed"));
        let mut export = if dice.random_bool(0.8) {
            earlier.clone()
        } else {
            real.clone()
        };
        let did = spoil(&mut export, &mut dice);
        let at = tempfile::tempdir().expect("a folder");
        let (from, to) = (at.path().join("from"), at.path().join("to"));
        std::fs::create_dir_all(&from).expect("made");
        std::fs::create_dir_all(&to).expect("made");
        written(&export, &from);
        let book = to.join("new.book");
        let by_binary = n % BY_THE_BINARY == 0;
        let taken = tally.timed(
            || format!("{n}: {did}"),
            || {
                if by_binary {
                    return Ok(run(&["import", shown(&from)], &book).status.success());
                }
                catch_unwind(AssertUnwindSafe(|| book::import(&from, &book).is_ok()))
            },
        );
        let taken = taken.unwrap_or_else(|_| panic!("export {n} made it panic: {did}"));
        if !taken {
            assert_eq!(left(&to), Vec::<PathBuf>::new(), "export {n}: {did}");
            tally.came("refused");
            continue;
        }
        tally.came("taken");
        if by_binary {
            let said = run(&["verify"], &book);
            assert!(said.status.success(), "export {n}: {did}: {said:?}");
        }
        let made = Book::open(&book).expect("it was made");
        let verdict = tally.timed(|| format!("verifying {n}: {did}"), || made.verify());
        assert_eq!(verdict.expect("gone over").wrong, [], "export {n}: {did}");
        for one in made.not_whole().expect("gone over") {
            tally.came(format!("{:?}", one.why));
        }
        let again = at.path().join("again");
        made.export(&again).expect("out again");
        drop(made);
        if tally.of("taken") % ON_PAGES == 1 {
            shows(&book, &format!("{n}: {did}"), &mut held);
            tally.came("shown");
        }
    }
    let own = most_held(std::process::id()).unwrap_or(0);
    println!("exports: {tally}; at most {held} MB on the bench, {own} MB here");
    let (taken, refused) = (tally.of("taken"), tally.of("refused"));
    assert!(
        taken * 10 > refused && refused * 10 > taken,
        "{taken} taken, {refused} refused"
    );
}

/// A picture without its end that an export or a backup holds is what it was: it is kept, and told with the entry that shows it.
#[test]
fn a_picture_that_is_not_whole_is_carried_and_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let real = export(folder.path());
    let mut export = as_earlier(&real);
    let mut names = Vec::new();
    for name in real.keys().filter(|name| name.starts_with("pictures")) {
        let There::File(bytes) = &real[name] else {
            panic!("a file")
        };
        names.push(put(&mut export, name, bytes[..bytes.len() - 9].to_vec()));
    }
    assert_eq!(names.len(), 2);
    written(&export, &at("from"));
    let told = |output: Output| {
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stdout).expect("UTF-8")
    };
    let imported = at("imported.book");
    let said = told(run(&["import", shown(&at("from"))], &imported));
    let tells = |said: &str| {
        assert!(
            said.contains("Not whole, and kept as they came:\n"),
            "{said}"
        );
        for (name, n) in names.iter().zip([6, 7]) {
            let of = said
                .lines()
                .find(|line| line.contains(name))
                .expect("it is told");
            assert!(of.ends_with("of job 1: its end is missing"), "{n}: {of}");
        }
    };
    tells(&said);
    told(run(&["verify"], &imported));
    told(run(&["backup", shown(&at("backup"))], &imported));
    let restored = at("restored.book");
    tells(&told(run(&["restore", shown(&at("backup"))], &restored)));
    told(run(&["verify"], &restored));
    // They are kept byte by byte, and come out again.
    told(run(&["export", shown(&at("again"))], &restored));
    let mut again = Export::new();
    read(&at("again"), &at("again"), &mut again);
    for name in names {
        let there = again
            .keys()
            .find(|there| there.file_stem().is_some_and(|stem| stem == &*name));
        assert!(there.is_some(), "{name}");
    }
    // What is whole is not told.
    written(&real, &at("whole"));
    let said = told(run(&["import", shown(&at("whole"))], &at("whole.book")));
    assert!(!said.contains("Not whole"), "{said}");
}
