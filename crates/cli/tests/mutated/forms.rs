//! Every address that there is, asked and sent forms that nobody fills in so.

use crate::bench::{Bench, MARK, coded, parts};
use crate::page::checked;
use crate::spoil::{self, ODD_NUMBERS, ODD_TEXTS, one, place};
use crate::tally::{Tally, how_many};
use fleet::{Dice, dice};
use rand::RngExt;
use std::collections::BTreeSet;
use std::path::PathBuf;

/// As many as are tried at every run of the tests.
const USUAL: usize = 240;
/// After so many the bench is opened anew, on a new book.
const A_BENCH: usize = 250;

/// The addresses of the program, as its own text has them.
fn routes() -> Vec<String> {
    let mut found = BTreeSet::new();
    let mut folders = vec![PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../web/src"
    ))];
    while let Some(folder) = folders.pop() {
        for there in folder.read_dir().expect("the program's own text") {
            let path = there.expect("one").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let text = std::fs::read_to_string(&path).expect("a text");
            for after in text.split(".route(").skip(1) {
                let after = after.trim_start();
                let at = after.strip_prefix('"').and_then(|at| at.split('"').next());
                found.extend(at.map(str::to_owned));
            }
        }
    }
    found.extend(web::sums().map(|sum| format!("/job/{{id}}/{sum}")));
    assert!(found.len() > 35, "{found:?}");
    found.into_iter().collect()
}

/// A form as a page has it: where it goes, whether it is sent, and its fields.
#[derive(Debug, Clone)]
struct Form {
    to: String,
    sent: bool,
    fields: Vec<(String, String)>,
}

fn plain(text: &str) -> String {
    let text = text
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">");
    text.replace("&amp;", "&")
}

/// What stands under a name in a tag.
fn attribute(tag: &str, name: &str) -> Option<String> {
    let (_, after) = tag.split_once(&format!(" {name}=\""))?;
    Some(plain(after.split('"').next()?))
}

/// The forms of a page.
fn forms(page: &str, address: &str) -> Vec<Form> {
    let mut found = Vec::new();
    for form in page.split("<form").skip(1) {
        let form = form.split("</form>").next().unwrap_or(form);
        let (head, body) = form.split_once('>').unwrap_or((form, ""));
        let mut fields = Vec::new();
        for tag in body.split('<').skip(1) {
            let (tag, text) = tag.split_once('>').unwrap_or((tag, ""));
            let named = tag.starts_with("input")
                || tag.starts_with("select")
                || tag.starts_with("textarea")
                || tag.starts_with("button");
            if let Some(name) = attribute(tag, "name").filter(|_| named) {
                let value = attribute(tag, "value").unwrap_or_else(|| plain(text));
                fields.push((name, value));
            }
        }
        found.push(Form {
            to: attribute(head, "action").unwrap_or_else(|| address.to_owned()),
            sent: attribute(head, "method")
                .is_some_and(|method| method.eq_ignore_ascii_case("post")),
            fields,
        });
    }
    found
}

fn odd(dice: &mut Dice) -> String {
    match dice.random_range(0..30) {
        0 => "9".repeat(400),
        1 => format!("1{}", "0".repeat(400)),
        2 => "x".repeat(*one(&[401, 4_001, 70_000], dice)),
        3 => "1\n".repeat(2_000),
        4 => "[".repeat(20_000),
        5..15 => {
            let number = *one(&ODD_NUMBERS, dice);
            let other = *one(&ODD_NUMBERS, dice);
            match dice.random_range(0..6) {
                0 => format!("{number}~{other}"),
                1 => format!("{number},{other}"),
                2 => format!("{number}..{other}"),
                3 => format!("−{number} mm"),
                _ => number.to_owned(),
            }
        }
        15 => one(
            &[
                "2026-02-30",
                "0000-00-00",
                "9999-12-31",
                "-1-1-1",
                "2026-11-29T00:00",
            ],
            dice,
        )
        .to_string(),
        16 => one(
            &[
                "yes",
                "on",
                "true",
                "front",
                "back",
                "down",
                "prove",
                "rate",
                "out",
                "in",
                "intake",
                "note",
                "handed-back",
                "trial-run",
            ],
            dice,
        )
        .to_string(),
        17 => format!("{}{}", one(&ODD_TEXTS, dice), one(&ODD_NUMBERS, dice)),
        _ => (*one(&ODD_TEXTS, dice)).to_owned(),
    }
}

/// Fields left out, doubled, changed about and absurd.
fn absurd(fields: &mut Vec<(String, String)>, names: &[String], dice: &mut Dice) {
    for _ in 0..*one(&[0, 1, 1, 2, 3, 6], dice) {
        let at = place(fields.len(), dice);
        match (dice.random_range(0..8), fields.is_empty()) {
            (0, false) => drop(fields.remove(at)),
            (1, false) => fields.insert(at, fields[at].clone()),
            (2, false) => {
                let other = place(fields.len(), dice);
                let value = fields[other].1.clone();
                fields[at].1 = value;
            }
            (3, _) => fields.push((odd(dice), odd(dice))),
            (4 | 5, _) => fields.push((one(names, dice).clone(), odd(dice))),
            (_, false) => fields[at].1 = odd(dice),
            _ => {}
        }
    }
}

fn written(fields: &[(String, String)]) -> String {
    let each: Vec<String> = fields
        .iter()
        .map(|(name, value)| format!("{}={}", coded(name), coded(value)))
        .collect();
    each.join("&")
}

/// An address with something in the place of what it names.
fn filled(route: &str, dice: &mut Dice) -> String {
    let mut filled = String::new();
    let mut rest = route;
    while let Some((before, after)) = rest.split_once('{') {
        let (name, after) = after.split_once('}').expect("its end");
        filled += before;
        filled += &match (name, dice.random_range(0..8)) {
            (_, 0) => coded(&odd(dice).chars().take(900).collect::<String>()),
            (_, 1) => one(
                &[
                    "%", "%zz", "%00", "%ff%fe", "..%2f..", "-1", "0", "1%20", "+1", "01", "٣",
                ],
                dice,
            )
            .to_string(),
            ("digest", _) => "0".repeat(*one(&[63, 64, 65], dice)),
            ("id", _) => one(&["1", "1", "1", "2", "2", "3", "99"], dice).to_string(),
            ("what", _) => one(
                &[
                    "done",
                    "other-way",
                    "slipped",
                    "out",
                    "in",
                    "struck",
                    "undo",
                    "again",
                    "bent",
                    "shift",
                ],
                dice,
            )
            .to_string(),
            _ => one(&["0", "1", "2", "3", "7"], dice).to_string(),
        };
        rest = after;
    }
    // A header has no room for all that could be asked.
    let ascii: String = (filled + rest).chars().filter(char::is_ascii).collect();
    ascii
}

struct Known {
    routes: Vec<String>,
    forms: Vec<Form>,
    names: Vec<String>,
}

/// What the pages of a bench offer.
fn known(bench: &Bench) -> Known {
    let mut all: Vec<Form> = Vec::new();
    let mut pages: Vec<String> = vec![
        "/jobs".to_owned(),
        "/settings".to_owned(),
        "/search?for=a".to_owned(),
    ];
    for job in 1..4 {
        for page in [
            "",
            "?look",
            "/lesson",
            "/strike",
            "/counts",
            "/power",
            "/pendulum",
            "/oil",
            "/listen",
            "/record",
            "/record/whole",
        ] {
            pages.push(format!("/job/{job}{page}"));
        }
        for stage in ["in", "down", "look", "together", "prove", "rate", "out"] {
            pages.push(format!("/job/{job}/way?stage={stage}"));
        }
    }
    for page in pages {
        let answer = bench.get(&page).expect("an answer");
        checked(&answer, &page);
        all.extend(forms(&answer.text(), &page));
    }
    let names: BTreeSet<String> = all
        .iter()
        .flat_map(|form| form.fields.iter().map(|(name, _)| name.clone()))
        .collect();
    let mut names: Vec<String> = names.into_iter().collect();
    names.extend(
        [
            "must", "by", "for", "sound", "bend", "bend-by", "pull", "longer", "from", "at",
            "stage", "rate",
        ]
        .map(str::to_owned),
    );
    Known {
        routes: routes(),
        forms: all,
        names,
    }
}

/// A bench with the sample, a clock and a lesson on it.
fn furnished(book: &std::path::Path) -> Bench {
    let bench = Bench::open(book);
    let sheet = include_str!("../../../../movements/mantel.toml");
    assert_eq!(
        bench
            .post("/jobs", &format!("sheet={}", coded(sheet)))
            .expect("an answer")
            .status,
        303
    );
    let lesson = bench.post("/lessons", "job=1&seed=7").expect("an answer");
    assert!(lesson.status < 500, "{}", lesson.text());
    let note = format!("entries={}&kind=note&says=as+it+came", bench.entries(2));
    assert_eq!(
        bench.post("/job/2/enter", &note).expect("an answer").status,
        303
    );
    bench
}

/// Asks once; what was asked, in short, and what came of it.
fn ask(
    bench: &Bench,
    known: &Known,
    dice: &mut Dice,
) -> (String, Option<crate::bench::Answer>, bool) {
    let form = dice
        .random_bool(0.6)
        .then(|| one(&known.forms, dice).clone());
    let (to, mut sent, mut fields) = match form {
        Some(form) => (form.to, form.sent, form.fields),
        None => (
            filled(one::<String>(&known.routes, dice), dice),
            dice.random_bool(0.6),
            vec![],
        ),
    };
    if dice.random_bool(0.05) {
        sent = !sent;
    }
    absurd(&mut fields, &known.names, dice);
    // A page knows how many entries there are; most of what is sent does too.
    if let Some(job) = to
        .strip_prefix("/job/")
        .and_then(|rest| rest.chars().next())
        .and_then(|c| c.to_digit(10))
        && sent
        && dice.random_bool(0.7)
    {
        let entries = bench.entries(job);
        fields.retain(|(name, _)| name != "entries");
        fields.push(("entries".to_owned(), entries));
    }
    let body = written(&fields);
    let short = |what: &str| {
        let head: String = format!("{what} {to} {body}").chars().take(700).collect();
        head
    };
    if !sent {
        let question: String = body.chars().take(30_000).collect();
        let question = if question.is_empty() || to.contains('?') {
            to.clone()
        } else {
            format!("{to}?{question}")
        };
        let question = if dice.random_bool(0.05) {
            question + "&%=%zz&=&a=%ff"
        } else {
            question
        };
        return (short("GET"), bench.get(&question), true);
    }
    let to = to.split('#').next().unwrap_or(&to).to_owned();
    let kind = format!("multipart/form-data; boundary={MARK}");
    let pairs: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    let file = *one(
        &[
            None,
            Some(("picture", "a.jpg", &b"\xff\xd8\xff"[..])),
            Some(("recording", "a.wav", b"RIFF")),
            Some(("sheet", "", b"")),
        ],
        dice,
    );
    match dice.random_range(0..16) {
        0 => {
            let body = parts(&pairs, file);
            (
                short("parts"),
                bench.post_as(&to, &kind, &body, body.len()),
                true,
            )
        }
        1 => {
            let body = parts(&pairs, file);
            let cut = &body[..place(body.len(), dice)];
            let said = *one(&[cut.len(), body.len(), 0, 1 << 30], dice);
            (
                short("cut parts"),
                bench.post_as(&to, &kind, cut, said),
                said == cut.len(),
            )
        }
        2 => {
            // A form in a form.
            let inside = String::from_utf8_lossy(&parts(&pairs, file)).into_owned();
            let body = parts(
                &[("entries", &inside), ("kind", &inside)],
                Some(("picture", "a", inside.as_bytes())),
            );
            (
                short("nested parts"),
                bench.post_as(&to, &kind, &body, body.len()),
                true,
            )
        }
        3 => {
            let body = spoil::bytes(&parts(&pairs, file), dice);
            let kind = *one(
                &[
                    &*kind,
                    "multipart/form-data",
                    "multipart/form-data; boundary=",
                    "text/plain",
                    "application/json",
                    "",
                ],
                dice,
            );
            (
                short("spoiled parts"),
                bench.post_as(&to, kind, &body, body.len()),
                true,
            )
        }
        4 => {
            let body = spoil::bytes(body.as_bytes(), dice);
            (
                short("spoiled"),
                bench.post_as(&to, "application/x-www-form-urlencoded", &body, body.len()),
                true,
            )
        }
        5 => {
            let said = body.len() + *one(&[1, 1000], dice);
            (
                short("cut"),
                bench.post_as(
                    &to,
                    "application/x-www-form-urlencoded",
                    body.as_bytes(),
                    said,
                ),
                false,
            )
        }
        6 if dice.random_bool(0.3) => {
            let body = format!(
                "{body}&says={}",
                "w".repeat(*one(&[3 << 20, 4 << 20, 5 << 20], dice))
            );
            (short("4 MB"), bench.post(&to, &body), false)
        }
        _ => (short("POST"), bench.post(&to, &body), true),
    }
}

#[test]
fn a_form_that_nobody_fills_in_so_is_answered_and_the_bench_goes_on() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut bench = furnished(&folder.path().join("forms.book"));
    let mut known_of = known(&bench);
    assert!(
        known_of.forms.len() > 30 && known_of.names.len() > 40,
        "{} forms",
        known_of.forms.len()
    );
    let (mut tally, mut held) = (Tally::default(), 0);
    for n in 0..how_many(USUAL) {
        let mut dice = dice(0xf_0000 + u64::try_from(n).expect("a seed"));
        bench.tongue = one::<&str>(&["en", "en", "de", "de-AT;q=0.5, *", "\"\\"], &mut dice);
        let began = std::time::Instant::now();
        let (what, answer, whole) = ask(&bench, &known_of, &mut dice);
        let took = began.elapsed();
        tally.took(took, || format!("{n}: {what}"));
        let Some(answer) = answer else {
            assert!(!whole, "{n}: no answer to {what}");
            tally.came("let go");
            continue;
        };
        tally.came(checked(&answer, &format!("{n}: {what}")));
        if (n + 1) % A_BENCH == 0 {
            // What was entered is still a book.
            held = bench.sound().max(held);
            known(&bench);
            bench = furnished(&folder.path().join(format!("{n}.book")));
            known_of = known(&bench);
        }
    }
    held = bench.sound().max(held);
    println!("forms: {tally}; at most {held} MB on the bench");
    assert!(tally.of("303") > 0 && tally.of("422") > 0 && tally.of("200") > 0);
}
