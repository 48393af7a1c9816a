//! Orders of putting arbors in, followed as they are told by a program of its own, which knows the sheet and the JSON alone.
//!
//! Whatever is left open there, a tooth of which any will do or a place alike, is left to the dice: all must be in its window in the
//! end, or the answer must have told to look at it.

mod outside;

use fleet::{Dice, Taste, dice, grow};
use rand::RngExt;
use serde_json::{Value, json};
use std::path::Path;

/// Movements that are grown, and as many subsets of the arbors of each sample.
const GROWN: u64 = 70;
const SUBSETS: usize = 3;

/// How often each order is followed; one that tells to look at something, oftener, as it must show that it had to.
const TRIALS: u32 = 12;
const DOUBTFUL: u32 = 60;

fn samples() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../movements");
    let files = std::fs::read_dir(folder).expect("the samples");
    let mut paths: Vec<_> = files.map(|file| file.expect("a file").path()).collect();
    paths.sort();
    (paths.iter())
        .map(|path| std::fs::read_to_string(path).expect("a sheet"))
        .filter(|text| text.contains("[[witness]]"))
        .collect()
}

/// A question about these arbors being out, all where none is named; nothing where the answer is about nothing.
fn question(sheet: &str, out: &[String], seed: u64) -> Value {
    let (movement, steps) = tasks::order(sheet.as_bytes(), out).expect("a good sheet");
    let order = report::order_json(&movement, &steps);
    let trials = if order["sure"] == true {
        TRIALS
    } else {
        DOUBTFUL
    };
    json!({ "sheet": sheet, "order": order, "seed": seed, "trials": trials })
}

fn some_out(sheet: &str, dice: &mut Dice) -> Vec<String> {
    let movement = sheet::read(sheet.as_bytes())
        .expect("a good sheet")
        .movement;
    let all: Vec<String> = movement.arbors().map(|(_, a)| a.id.clone()).collect();
    let mut out: Vec<String> = (all.iter().filter(|_| dice.random_bool(0.5)))
        .cloned()
        .collect();
    if out.is_empty() {
        out.push(all[0].clone());
    }
    out
}

/// What is wrong with an order, by how it was followed.
fn wrong(question: &Value, followed: &Value) -> Option<String> {
    if followed["skipped"] == true {
        return None;
    }
    let out = followed["out"].as_object().expect("what was out");
    let checked = followed["checked"]
        .as_array()
        .expect("what was to be looked at");
    let ring = followed["ring"].as_array().expect("what no one can tell");
    let silent: Vec<&String> = (out.keys())
        .filter(|id| !checked.iter().any(|c| c == *id))
        .collect();
    // Of what is said to be in doubt something must be out some time, but for what is read across a ring.
    let idle = !checked.is_empty() && checked.iter().all(|id| !ring.contains(id)) && out.is_empty();
    let empty = |key: &str| followed[key].as_array().is_some_and(Vec::is_empty);
    let sound =
        silent.is_empty() && !idle && empty("unsaid") && empty("false_any") && empty("not_last");
    (!sound).then(|| format!("{followed} of {}", question["order"]))
}

#[test]
fn whoever_follows_an_order_finds_all_in() {
    let Some(python) = outside::python("following orders of arbors") else {
        return;
    };
    let mut questions = Vec::new();
    let mut dice = dice(21);
    for sheet in samples() {
        questions.push(question(&sheet, &[], 1));
        for seed in 0..SUBSETS {
            let out = some_out(&sheet, &mut dice);
            questions.push(question(&sheet, &out, seed as u64));
        }
    }
    let of_samples = questions.len();
    for seed in 0..GROWN {
        let mut taste = if dice.random_bool(0.7) {
            Taste::realistic()
        } else {
            Taste::wild()
        };
        taste.arbors = 3..=7;
        taste.witnesses = 1..=4;
        taste.odd_count = taste.odd_count.min(0.02);
        let sheet = grow(&taste, &mut dice).sheet();
        let out = if dice.random_bool(0.5) {
            Vec::new()
        } else {
            some_out(&sheet, &mut dice)
        };
        questions.push(question(&sheet, &out, seed));
    }
    let followed = outside::ask(&python, &["order_followed.py"], &questions);
    let doubtful = |from: usize| {
        let told = questions[from..]
            .iter()
            .filter(|q| q["order"]["sure"] == false);
        told.count()
    };
    let skipped = followed.iter().filter(|f| f["skipped"] == true).count();
    assert!(
        skipped < questions.len() / 20,
        "{skipped} were too much to follow"
    );
    println!(
        "{} orders of samples and {GROWN} of grown movements, {} of them in doubt",
        of_samples,
        doubtful(0)
    );
    let wrong: Vec<String> = (questions.iter().zip(&followed))
        .filter_map(|(question, followed)| wrong(question, followed))
        .collect();
    assert!(
        wrong.is_empty(),
        "{} of {}: {}",
        wrong.len(),
        questions.len(),
        wrong.join("\n")
    );
}

/// A ring fixes slot against lifts, or leaves against pins, before the arbor is in that they are read against.
#[test]
fn what_is_fixed_before_the_read_arbor_is_in_is_set_before() {
    let Some(python) = outside::python("following orders of arbors") else {
        return;
    };
    let out = ["locking".to_owned(), "second".to_owned()];
    let questions = [
        question(include_str!("../../../movements/quay.toml"), &[], 1),
        question(include_str!("../../../movements/gallery.toml"), &[], 2),
        question(include_str!("../../../movements/halfpast.toml"), &out, 3),
    ];
    let followed = outside::ask(&python, &["order_followed.py"], &questions);
    for (question, followed) in questions.iter().zip(&followed) {
        assert_eq!(question["order"]["sure"], true);
        assert_eq!(followed["out"], json!({}));
        assert_eq!(wrong(question, followed), None);
    }
}

/// The order that was told before: each mesh any tooth but the last. It must be found to fail.
#[test]
fn an_order_that_leaves_too_much_open_is_found_out() {
    let Some(python) = outside::python("following orders of arbors") else {
        return;
    };
    let sheet = include_str!("../../../movements/quay.toml");
    let mut planted = question(sheet, &[], 1);
    let steps = planted["order"]["steps"].as_array_mut().expect("steps");
    let lifting = steps
        .iter_mut()
        .find(|s| s["arbor"] == "lifting")
        .expect("it");
    assert_eq!(lifting["settles"][0]["against"], "lifts");
    lifting["settles"] = json!([]);
    let followed = outside::ask(&python, &["order_followed.py"], &[planted.clone()]);
    assert!(wrong(&planted, &followed[0]).is_some(), "{}", followed[0]);
}
