//! Orders of putting arbors in, followed as they are told by a program of its own, which knows the sheet and the JSON alone.
//!
//! Whatever is left open there, a tooth of which any will do or a place alike, is left to the dice: all must be in its window in the
//! end, or the answer must have told to look at it.

mod outside;

use fleet::{Dice, Taste, dice, grow};
use rand::RngExt;
use serde_json::{Value, json};
use std::path::Path;

/// Of all cases so many are left out for each that is tried; with `TRUNDLE_ORDERS=all` none is.
const ONE_IN: usize = 12;

/// Movements that are grown, and of those with a ring of meshes.
const GROWN: usize = 500;
const WITH_RING: usize = 400;

/// Of a sample with so few arbors any three may be out as well, of others any one or two; and all.
const FEW: usize = 6;

/// How often each order is followed; one that tells to look at something, or that something may have to come out again, oftener,
/// as it must show that it had to.
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
    let (movement, order) = tasks::order(sheet.as_bytes(), out).expect("a good sheet");
    let order = json!(report::json::OrderAnswer::of(&movement, &order));
    let again = |step: &Value| step["ring_later"] == true;
    let again = order["steps"].as_array().expect("steps").iter().any(again);
    let trials = if order["sure"] == true && !again {
        TRIALS
    } else {
        DOUBTFUL
    };
    json!({ "sheet": sheet, "order": order, "seed": seed, "trials": trials })
}

/// The names of a sheet's arbors.
fn arbors(sheet: &str) -> Vec<String> {
    let sheet = sheet::read(sheet.as_bytes()).expect("a good sheet");
    (sheet.movement.arbors())
        .map(|(_, arbor)| arbor.id.clone())
        .collect()
}

/// All sets of one or two of these, of three where they are few; and none, which stands for all.
fn sets(all: &[String]) -> Vec<Vec<String>> {
    let most = if all.len() <= FEW { 3 } else { 2 };
    let mut sets = vec![Vec::new()];
    for size in 1..=most {
        let more: Vec<Vec<String>> = (sets.iter())
            .filter(|set: &&Vec<String>| set.len() + 1 == size)
            .flat_map(|set| {
                let last = set
                    .last()
                    .and_then(|last| all.iter().position(|one| one == last));
                let after = all.iter().skip(last.map_or(0, |last| last + 1));
                after.map(|one| [&set[..], std::slice::from_ref(one)].concat())
            })
            .collect();
        sets.extend(more);
    }
    sets
}

fn some_out(sheet: &str, dice: &mut Dice) -> Vec<String> {
    let all = arbors(sheet);
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
    let silent: Vec<&String> = (out.keys())
        .filter(|id| !checked.iter().any(|c| c == *id))
        .collect();
    // Of what is said to be in doubt something must be out some time, and what may have to come out again must have to, unless what
    // is set with it happens to close the ring.
    let any_tooth = |step: &Value| step["ring_later"] == true && step["settles"] == json!([]);
    let mut steps = question["order"]["steps"].as_array().expect("steps").iter();
    let idle =
        (!checked.is_empty() && out.is_empty()) || (steps.any(any_tooth) && followed["again"] == 0);
    let empty = |key: &str| followed[key].as_array().is_some_and(Vec::is_empty);
    let goes_in = followed["unsaid"] == false && followed["stuck"] == 0;
    let sound = silent.is_empty() && !idle && goes_in && empty("false_any") && empty("not_last");
    (!sound).then(|| format!("{followed} of {}", question["order"]))
}

/// Every question there is of the samples: so many arbors out, and all.
fn of_samples() -> Vec<Value> {
    let mut questions = Vec::new();
    for sheet in samples() {
        for (n, out) in sets(&arbors(&sheet)).iter().enumerate() {
            if n == 0 || tried(n) {
                questions.push(question(&sheet, out, n as u64));
            }
        }
    }
    questions
}

/// Movements that are grown, some arbors out or all; with a ring of meshes where that is asked for.
fn of_grown(many: usize, ring: bool) -> Vec<Value> {
    let mut dice = dice(if ring { 22 } else { 21 });
    let mut questions = Vec::new();
    for seed in 0..many {
        let mut taste = if dice.random_bool(0.7) {
            Taste::realistic()
        } else {
            Taste::wild()
        };
        taste.arbors = 3..=7;
        taste.witnesses = 1..=4;
        taste.odd_count = taste.odd_count.min(0.02);
        if ring {
            taste.closed_loop = 1.0;
        }
        let sheet = grow(&taste, &mut dice).sheet();
        let out = if dice.random_bool(0.5) {
            Vec::new()
        } else {
            some_out(&sheet, &mut dice)
        };
        if tried(seed) {
            questions.push(question(&sheet, &out, seed as u64));
        }
    }
    questions
}

fn tried(n: usize) -> bool {
    n.is_multiple_of(ONE_IN) || std::env::var_os("TRUNDLE_ORDERS").is_some_and(|all| all == "all")
}

/// Follows these, and says what came of them; gives how many rings were closed.
fn all_in(what: &str, questions: &[Value]) -> u64 {
    let Some(python) = outside::python("following orders of arbors") else {
        return 0;
    };
    let followed = outside::ask(&python, &["order_followed.py"], questions);
    let skipped = followed.iter().filter(|f| f["skipped"] == true).count();
    assert!(
        skipped < questions.len() / 20 + 1,
        "{skipped} were too much to follow"
    );
    let doubtful = questions.iter().filter(|q| q["order"]["sure"] == false);
    let again = followed.iter().filter(|f| f["may"] == true).count();
    let rings = followed.iter().filter_map(|f| f["rings"].as_u64()).sum();
    println!(
        "{} orders of {what}: {} in doubt, {again} with one that may come out again, {rings} rings closed, {skipped} too much to follow",
        questions.len(),
        doubtful.count()
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
    rings
}

#[test]
fn whoever_follows_an_order_of_a_sample_finds_all_in() {
    all_in("samples", &of_samples());
}

#[test]
fn whoever_follows_an_order_of_a_grown_movement_finds_all_in() {
    all_in("grown movements", &of_grown(GROWN, false));
}

#[test]
fn whoever_closes_a_ring_of_meshes_finds_all_in() {
    let rings = all_in("movements with a ring", &of_grown(WITH_RING, true));
    let tried = outside::python("closing rings of meshes").is_some();
    assert!(!tried || rings > 100, "{rings} rings were closed");
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
