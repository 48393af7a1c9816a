//! Damage by the hundreds, of every kind that happens to files and some that does not: bits flipped, ranges and rows and files
//! swapped, ends cut off, bytes and rows put in. Whatever of it changes anything that can be read is found by `verify`, or the
//! book does not open. `TRUNDLE_DAMAGE` says how often; the same seeds make the same damage.

mod made_up;

use book::{Book, Job, JobId, JobLine, Listing, Picture, Removing, Size, Syncing, import, restore};
use made_up::{
    begun, day, drawn, enter, file, here, intake, note, quick_folder, shows, some_picture,
    unguarded,
};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

const SETTINGS: [&str; 3] = ["units", "language", "bushes"];
const WORDS: [&str; 7] = [
    "fly",
    "pivot",
    "oil",
    "cock",
    "tern",
    "street",
    "bracket clock",
];

/// A book with a bit of everything, its pictures, previews and backups, at rest: all files by their names in the folder.
fn sound() -> BTreeMap<PathBuf, Vec<u8>> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    let mut jobs = Vec::new();
    for (at, name) in ["Wren Street", "Quay Street", "the regulator"]
        .into_iter()
        .enumerate()
    {
        let sheet = format!("sheet = 1\nname = \"{name}\"\n");
        let id = book.start(name, &sheet, begun(name).text()).unwrap();
        let seed = u32::try_from(at).unwrap();
        let picture = book.keep_picture(some_picture(seed)).unwrap();
        let photo = drawn(60 + seed, 40);
        let photo = book
            .keep_picture(file(&photo, image::ImageFormat::Jpeg))
            .unwrap();
        enter(
            &book,
            id,
            &[
                intake(&format!("the bracket clock of {name}"), "Ada Tern"),
                shows(&picture.digest),
            ],
        );
        for n in 0..8 {
            enter(
                &book,
                id,
                &[note(&format!(
                    "the fly rubs, {n}; new oil at pivot {n} of {name}"
                ))],
            );
        }
        enter(&book, id, &[shows(&photo.digest), note("the cock is bent")]);
        book.set_view(id, if at == 1 { "back" } else { "front" }, at == 2)
            .unwrap();
        jobs.push(id);
        book.daily_backup(day(&format!("2026-03-0{}", at + 1)))
            .unwrap();
    }
    let second = entries::Work::Sheet {
        text: "sheet = 1\nname = \"counted anew\"\n".to_owned(),
        hash: "0a".to_owned(),
    };
    enter(
        &book,
        jobs[0],
        &[
            second,
            entries::Work::HandedBack {
                to: Some(here("Ada Tern")),
                says: None,
            },
        ],
    );
    book.set_current(jobs[1]).unwrap();
    for name in SETTINGS {
        book.settle(name, &format!("{name} as settled")).unwrap();
    }
    let personal = made_up::log(&book, jobs[2]).personal();
    let held = made_up::log(&book, jobs[2]).entries().len();
    book.remove(
        jobs[2],
        held,
        &Removing::of(jobs[2], &personal[..1]),
        Some("2026-03-04"),
    )
    .unwrap();
    book.rest().unwrap();
    assert_eq!(book.verify().unwrap().wrong, []);
    drop(book);
    let mut all = BTreeMap::new();
    gather(folder.path(), folder.path(), &mut all);
    all
}

fn gather(folder: &Path, from: &Path, all: &mut BTreeMap<PathBuf, Vec<u8>>) {
    for there in fs::read_dir(folder).unwrap() {
        let path = there.unwrap().path();
        if path.is_dir() {
            gather(&path, from, all);
        } else {
            all.insert(
                path.strip_prefix(from).unwrap().to_owned(),
                fs::read(&path).unwrap(),
            );
        }
    }
}

/// Has just these files in a folder; those that are as they should be are left alone.
fn lay_out(files: &BTreeMap<PathBuf, Vec<u8>>, folder: &Path) {
    let mut there = BTreeMap::new();
    gather(folder, folder, &mut there);
    for name in there.keys().filter(|name| !files.contains_key(*name)) {
        fs::remove_file(folder.join(name)).unwrap();
    }
    for (name, bytes) in files {
        if there.get(name) == Some(bytes) {
            continue;
        }
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
}

/// All that can be read of one job: it, its pictures, and the jobs before it.
type OfJob = (JobId, Job, Vec<(usize, Picture)>, Vec<(JobId, u64)>);

/// All that can be read of a book.
#[derive(Debug, PartialEq)]
struct Readable {
    jobs: Vec<JobLine>,
    on_the_bench: Vec<JobLine>,
    each: Vec<OfJob>,
    current: Option<JobId>,
    settings: Vec<Option<String>>,
    hits: Vec<Vec<book::Hit>>,
    pictures: Vec<Vec<u8>>,
}

/// Reads all of it; nothing where something cannot be read, which is told to whoever asks for it.
fn read(book: &Book) -> Result<Readable, book::BookFault> {
    let jobs = book.jobs()?;
    let bench = Listing {
        on_the_bench: true,
        after: None,
        most: 100,
    };
    let mut readable = Readable {
        on_the_bench: book.list(bench)?,
        each: Vec::new(),
        current: book.current()?,
        settings: SETTINGS
            .iter()
            .map(|name| book.setting(name))
            .collect::<Result<_, _>>()?,
        hits: WORDS
            .iter()
            .map(|words| book.search(words, 100))
            .collect::<Result<_, _>>()?,
        pictures: Vec::new(),
        jobs,
    };
    let mut shown = BTreeSet::new();
    for line in &readable.jobs {
        let pictures = book.pictures_of(line.id)?;
        shown.extend(pictures.iter().map(|(_, picture)| picture.digest.clone()));
        readable.each.push((
            line.id,
            book.job(line.id)?,
            pictures,
            book.begun_before(line.id, 9)?,
        ));
    }
    for digest in shown {
        for size in [Size::Whole, Size::Preview] {
            readable.pictures.push(book.picture_bytes(&digest, size)?.1);
        }
    }
    Ok(readable)
}

/// Nothing here has to outlive a failure of power.
fn open(path: &Path) -> Result<Book, book::BookFault> {
    Book::open_with(path, Syncing::Never)
}

/// Reads the book in a folder and what its backups hold.
fn read_all(folder: &Path, backups: bool) -> Result<Vec<Readable>, book::BookFault> {
    let path = folder.join("bench.book");
    let mut all = vec![read(&open(&path)?)?];
    if backups {
        let elsewhere = tempfile::tempdir().unwrap();
        for n in 1..=3 {
            let from = folder.join(format!("bench.book.backups/2026-03-0{n}"));
            let to = elsewhere.path().join(format!("{n}.book"));
            all.push(read(&restore(&from, &to)?)?);
        }
    }
    Ok(all)
}

/// What of it is another.
fn differing(one: &Readable, other: &Readable) -> Option<&'static str> {
    let parts = [
        (one.jobs != other.jobs, "the list"),
        (one.on_the_bench != other.on_the_bench, "the bench's list"),
        (one.each != other.each, "a job"),
        (one.current != other.current, "the job at hand"),
        (one.settings != other.settings, "settings"),
        (one.hits != other.hits, "what is found"),
        (one.pictures != other.pictures, "pictures"),
    ];
    parts
        .into_iter()
        .find(|(differs, _)| *differs)
        .map(|(_, part)| part)
}

/// One damage: what it is, and how it is done.
fn damage(folder: &Path, names: &[PathBuf], rng: &mut Pcg64) -> String {
    // The book oftener than all the rest together.
    let one = |rng: &mut Pcg64| {
        if rng.random_bool(0.6) {
            PathBuf::from("bench.book")
        } else {
            names[rng.random_range(0..names.len())].clone()
        }
    };
    match rng.random_range(0..10) {
        8.. => by_statement(&folder.join("bench.book"), rng),
        what => by_hand(folder, names, what, one, rng),
    }
}

/// Damage of one of these eight kinds to files, most to the one that is chosen.
fn by_hand(
    folder: &Path,
    names: &[PathBuf],
    what: u32,
    one: impl Fn(&mut Pcg64) -> PathBuf,
    rng: &mut Pcg64,
) -> String {
    match what {
        0..=2 => {
            let name = one(rng);
            let mut bytes = fs::read(folder.join(&name)).unwrap();
            // Where something is written; most of a page is not.
            let at = loop {
                let at = rng.random_range(0..bytes.len());
                if bytes[at] != 0 || rng.random_bool(0.1) {
                    break at;
                }
            };
            let bit = rng.random_range(0..8);
            bytes[at] ^= 1 << bit;
            fs::write(folder.join(&name), bytes).unwrap();
            format!("bit {bit} of byte {at} of {} flipped", name.display())
        }
        3 => {
            let name = one(rng);
            let mut bytes = fs::read(folder.join(&name)).unwrap();
            let most = (bytes.len() / 2).min(64);
            let long = rng.random_range(1..=most);
            let a = rng.random_range(0..=bytes.len() - 2 * long);
            let b = rng.random_range(a + long..=bytes.len() - long);
            let (before, after) = bytes.split_at_mut(b);
            before[a..a + long].swap_with_slice(&mut after[..long]);
            fs::write(folder.join(&name), bytes).unwrap();
            format!("{long} bytes at {a} and {b} of {} swapped", name.display())
        }
        4 => {
            let name = one(rng);
            let bytes = fs::read(folder.join(&name)).unwrap();
            let left = if name == Path::new("bench.book") && rng.random_bool(0.7) {
                4096 * rng.random_range(0..bytes.len() / 4096)
            } else {
                rng.random_range(0..bytes.len())
            };
            fs::write(folder.join(&name), &bytes[..left]).unwrap();
            format!("{} cut to {left}", name.display())
        }
        5 => {
            let name = one(rng);
            let mut bytes = fs::read(folder.join(&name)).unwrap();
            let at = rng.random_range(0..=bytes.len());
            let put: Vec<u8> = (0..rng.random_range(1..40)).map(|_| rng.random()).collect();
            bytes.splice(at..at, put);
            fs::write(folder.join(&name), bytes).unwrap();
            format!("bytes put in at {at} of {}", name.display())
        }
        6 => {
            let (a, b) = (
                names[rng.random_range(0..names.len())].clone(),
                names[rng.random_range(0..names.len())].clone(),
            );
            let (first, second) = (
                fs::read(folder.join(&a)).unwrap(),
                fs::read(folder.join(&b)).unwrap(),
            );
            fs::write(folder.join(&a), second).unwrap();
            fs::write(folder.join(&b), first).unwrap();
            format!("{} and {} swapped", a.display(), b.display())
        }
        7 => {
            let name = names[rng.random_range(0..names.len())].clone();
            fs::remove_file(folder.join(&name)).unwrap();
            format!("{} removed", name.display())
        }
        _ => panic!("{what}"),
    }
}

/// Damage to the lines of a text: one cut off the end or out of the middle, put in, doubled, or put in another place.
fn to_lines(path: &Path, rng: &mut Pcg64) -> String {
    let text = String::from_utf8(fs::read(path).unwrap()).unwrap();
    let mut lines: Vec<&str> = text.split_inclusive('\n').collect();
    let (a, b) = (
        rng.random_range(0..lines.len()),
        rng.random_range(0..lines.len()),
    );
    let n = lines.len();
    let more = format!("{{\"n\":{n},\"kind\":\"note\",\"says\":\"put in\"}}\n");
    let what = match rng.random_range(0..6) {
        0 => {
            lines.truncate(n - 1 - a % n.min(3));
            "lines cut off"
        }
        1 => {
            lines.remove(a);
            "a line cut out"
        }
        2 => {
            lines.insert(a, lines[b]);
            "a line doubled"
        }
        3 => {
            lines.swap(a, b);
            "lines swapped"
        }
        4 => {
            lines.push(&more);
            "a line put behind"
        }
        _ => {
            lines.insert(a, &more);
            "a line put in"
        }
    };
    fs::write(path, lines.concat()).unwrap();
    format!("{what}, {a} {b} of {}", path.display())
}

/// What is made of an export, all that can be read of it; or why nothing is.
fn imported(out: &Path) -> Result<Readable, book::BookFault> {
    let elsewhere = quick_folder();
    let (book, _) = import(out, &elsewhere.path().join("new.book"))?;
    read(&book)
}

#[test]
fn whatever_changes_anything_readable_of_an_export_is_found_when_it_is_imported() {
    let often = often();
    let (files, place) = (sound(), tempfile::tempdir().unwrap());
    lay_out(&files, place.path());
    let book = open(&place.path().join("bench.book")).unwrap();
    let out = place.path().join("out");
    book.export(&out).unwrap();
    let mut files = BTreeMap::new();
    gather(&out, &out, &mut files);
    let names: Vec<PathBuf> = files.keys().cloned().collect();
    let is_text = |name: &&PathBuf| {
        name.extension()
            .is_some_and(|end| end != "png" && end != "jpg")
    };
    let texts: Vec<PathBuf> = names.iter().filter(is_text).cloned().collect();
    let before = imported(&out).unwrap();
    let (mut found, mut harmless, mut missed) = (0, 0, Vec::new());
    for seed in 0..often {
        lay_out(&files, &out);
        let mut rng = Pcg64::seed_from_u64(seed);
        let any = |rng: &mut Pcg64| names[rng.random_range(0..names.len())].clone();
        let what = match rng.random_range(0..12) {
            8.. => to_lines(
                &out.join(&texts[rng.random_range(0..texts.len())]),
                &mut rng,
            ),
            what => by_hand(&out, &names, what, any, &mut rng),
        };
        match imported(&out) {
            Err(_) => found += 1,
            Ok(after) => match differing(&after, &before) {
                None => harmless += 1,
                Some(part) => missed.push(format!("{seed}: {what}: {part}")),
            },
        }
    }
    println!(
        "of {often}: {found} are found, {harmless} change nothing readable, {} are missed",
        missed.len()
    );
    assert!(
        missed.is_empty(),
        "{} missed:\n{}",
        missed.len(),
        missed.join("\n")
    );
    assert!(found * 2 > often, "{found} of {often}");
}

/// How often damage is done.
fn often() -> u64 {
    match std::env::var("TRUNDLE_DAMAGE") {
        Ok(often) => often.parse().expect("a number"),
        Err(_) => 300,
    }
}

/// Damage by whoever can write statements to the store: nothing that guards the lines stands in their way, and stands there
/// again afterwards.
fn by_statement(path: &Path, rng: &mut Pcg64) -> String {
    let store = Connection::open(path).unwrap();
    store.pragma_update(None, "synchronous", "OFF").unwrap();
    let last: i64 = store
        .query_row("SELECT max(sequence) FROM line", (), |row| row.get(0))
        .unwrap();
    let (a, b) = (rng.random_range(1..=last), rng.random_range(1..=last));
    let n = rng.random_range(1..6);
    let swap = |table: &str, column: &str, key: &str, a: i64, b: i64| {
        format!(
            "CREATE TEMP TABLE t AS SELECT {key} AS k, {column} AS v FROM {table} WHERE {key} IN ({a}, {b});
            UPDATE {table} SET {column} = (SELECT v FROM t WHERE k = {b}) WHERE {key} = {a};
            UPDATE {table} SET {column} = (SELECT v FROM t WHERE k = {a}) WHERE {key} = {b};"
        )
    };
    // What a list shows, made to follow from the lines that are left.
    const FOLLOW: &str = "UPDATE job SET
        last = (SELECT sequence FROM line WHERE job = id ORDER BY n DESC LIMIT 1),
        entries = (SELECT count(*) - 1 FROM line WHERE job = id);";
    let end_off = |further: &str| {
        format!(
            "DELETE FROM words WHERE rowid > {last} - {n};
            DELETE FROM shown WHERE sequence > {last} - {n};
            DELETE FROM removal WHERE sequence > {last} - {n};
            DELETE FROM line WHERE sequence > {last} - {n}; {further} {FOLLOW}"
        )
    };
    let job = 1 + n % 3;
    let sql = match rng.random_range(0..30) {
        0 | 1 => swap("line", "text", "sequence", a, b),
        2 => [
            swap("line", "text", "sequence", a, b),
            swap("words", "said", "rowid", a, b),
        ]
        .join("DROP TABLE t;"),
        3 => format!(
            "UPDATE line SET text = replace(text, 'fly', 'fry') WHERE sequence = {a};
            UPDATE words SET said = replace(said, 'fly', 'fry') WHERE rowid = {a};"
        ),
        4 => format!(
            "UPDATE line SET text = replace(text, 'pivot {n}', 'pivot 9');
            UPDATE words SET said = replace(said, 'pivot {n}', 'pivot 9');"
        ),
        5 => end_off(""),
        6 => end_off(&format!("DELETE FROM chain WHERE sequence > {last} - {n};")),
        7 => format!("DELETE FROM line WHERE sequence = {a};"),
        // With all that is kept of a line besides.
        8 => format!(
            "INSERT INTO line (job, n, text) SELECT 2, max(n) + 1,
                '{{\"n\":' || (max(n) + 1) || ',\"kind\":\"note\",\"says\":\"put in\"}}'
                FROM line WHERE job = 2;
            INSERT INTO words (rowid, said) SELECT max(sequence), 'put in' FROM line; {FOLLOW}"
        ),
        9 => "UPDATE job SET name = 'another' WHERE id = 2".to_owned(),
        10 => "UPDATE job SET sheet = sheet || ' # x' WHERE id = 1".to_owned(),
        11 => format!("UPDATE view SET upside_down = 1 - upside_down WHERE job = {job}"),
        12 => format!("UPDATE view SET plate = 'side' WHERE job = {job}"),
        13 => "DELETE FROM view WHERE job = 1".to_owned(),
        14 => "UPDATE current SET job = 3".to_owned(),
        15 => "DELETE FROM current".to_owned(),
        16 => "UPDATE setting SET text = 'inches' WHERE name = 'units'".to_owned(),
        17 => "DELETE FROM setting WHERE name = 'language'".to_owned(),
        18 => "UPDATE blob SET width = width + 1 WHERE height = 40".to_owned(),
        19 => "CREATE TEMP TABLE t AS SELECT sequence AS s, digest AS d FROM shown;
            UPDATE shown SET digest = (SELECT d FROM t WHERE s <> sequence ORDER BY s LIMIT 1);"
            .to_owned(),
        20 => format!(
            "UPDATE line SET sequence = {last} + 7 WHERE sequence = {a};
            UPDATE words SET rowid = {last} + 7 WHERE rowid = {a};
            UPDATE shown SET sequence = {last} + 7 WHERE sequence = {a}; {FOLLOW}"
        ),
        21 => format!("UPDATE job SET clock = 'x', stage = 'look' WHERE id = {job}"),
        22 => format!("UPDATE job SET home = 1 - home WHERE id = {job}"),
        23 => format!("UPDATE job SET sheet_now = 'x' WHERE id = {job}"),
        // What the words are found by.
        24 => format!("UPDATE words_content SET c0 = c0 || ' tern' WHERE id = {a}"),
        25 => format!("UPDATE words_docsize SET sz = x'03' WHERE id = {a}"),
        26 => "DELETE FROM words_idx".to_owned(),
        27 => "DELETE FROM words_data WHERE id = (SELECT max(id) FROM words_data)".to_owned(),
        28 => format!(
            "UPDATE words_data SET block = (SELECT block FROM words_data WHERE id = 1)
            WHERE id = (SELECT id FROM words_data ORDER BY id DESC LIMIT 1 OFFSET {})",
            n % 3
        ),
        _ => format!("UPDATE chain SET link = randomblob(32) WHERE sequence = {a}"),
    };
    unguarded(&store, &sql);
    sql.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn whatever_changes_anything_readable_is_found() {
    let often = often();
    let files = sound();
    let names: Vec<PathBuf> = files.keys().cloned().collect();
    let place = tempfile::tempdir().unwrap();
    let folder = place.path();
    lay_out(&files, folder);
    let before = read_all(folder, true).unwrap();
    let (mut unopened, mut found, mut harmless, mut missed) = (0, 0, 0, Vec::new());
    for seed in 0..often {
        lay_out(&files, folder);
        let mut rng = Pcg64::seed_from_u64(seed);
        let what = damage(folder, &names, &mut rng);
        let verdict = open(&folder.join("bench.book")).and_then(|book| book.verify());
        match verdict {
            Err(_) => unopened += 1,
            Ok(verdict) if !verdict.wrong.is_empty() => found += 1,
            Ok(_) => match read_all(folder, what.contains("backups")) {
                Ok(after)
                    if after
                        .iter()
                        .zip(&before)
                        .all(|(after, before)| after == before) =>
                {
                    harmless += 1;
                }
                Ok(after) => {
                    let told = (after.iter().zip(&before))
                        .find_map(|(after, before)| differing(after, before));
                    missed.push(format!("{seed}: {what}: {}", told.unwrap_or("backups")));
                }
                Err(fault) => missed.push(format!("{seed}: {what}: {fault:?}")),
            },
        }
    }
    println!(
        "of {often}: {unopened} do not open, {found} are found, {harmless} change nothing readable, \
        {} are missed",
        missed.len()
    );
    assert!(
        missed.is_empty(),
        "{} missed:\n{}",
        missed.len(),
        missed.join("\n")
    );
    // The damage is damage: most of it does something.
    assert!(
        (unopened + found) * 2 > often,
        "{unopened} and {found} of {often}"
    );
}
