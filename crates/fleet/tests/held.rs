//! Parts turned on their arbors, on movements that nobody wrote, against an independent program that turns them piece by piece
//! (`tests/outside/held.py`, written from the contract's words).

mod outside;

use fleet::{Dice, Taste, arbitrary, dice, grow, mismeshed};
use movement::{Movement, Plate};
use rand::RngExt;
use rand::seq::IndexedRandom;
use serde_json::{Map, Value, json};
use timing::{Hands, Reading, answer, parse, read};

/// Questions asked, and how many must be gone through to the end on the other side.
const QUESTIONS: usize = 300;
const ANSWERED: usize = 200;

/// So many of them must be cured by turning something.
const TURNED: usize = 60;

/// A sheet with some arbors' parts held so that they can be turned.
fn held(sheet: &str, squares: bool, dice: &mut Dice) -> String {
    let ways = ["square", "friction", "screw", "collet", "pressed"];
    let way = |dice: &mut Dice| match squares {
        true => "square",
        false => ways.choose(dice).expect("some"),
    };
    let movement = sheet::read(sheet.as_bytes())
        .expect("a good sheet")
        .movement;
    let mut text = sheet.to_owned();
    for (id, arbor) in movement.arbors() {
        let head = format!("[arbor.{}]\n", arbor.id);
        if !dice.random_bool(0.35) || !text.contains(&head) {
            continue;
        }
        let line = if dice.random_bool(0.5) {
            format!("held_by = \"{}\"\n", way(dice))
        } else {
            let parts: Vec<String> = (movement.parts(id))
                .map(|(_, part)| format!("{} = \"{}\"", part.name, way(dice)))
                .collect();
            format!("held_by = {{ {} }}\n", parts.join(", "))
        };
        text = text.replacen(&head, &format!("{head}{line}"), 1);
    }
    text
}

/// A question with its answer.
fn question(dice: &mut Dice) -> Option<Value> {
    let mut taste = match dice.random_bool(0.7) {
        true => Taste::realistic(),
        false => Taste::wild(),
    };
    taste.arbors = 3..=6;
    taste.witnesses = 1..=3;
    taste.odd_count = 0.0;
    taste.hold = 0.1;
    let squares = dice.random_bool(0.6);
    let sheet = held(&grow(&taste, dice).sheet(), squares, dice);
    let movement: Movement = sheet::read(sheet.as_bytes()).expect("still good").movement;
    if movement.witnesses().len() == 0 {
        return None;
    }
    let saw = match dice.random_bool(0.5) {
        true => arbitrary(&movement, dice),
        false => mismeshed(&movement, 1, dice),
    };
    let readings: Vec<Reading> = (saw.iter())
        .map(|(id, said)| {
            let said = parse(&movement, Plate::Front, &format!("{id}={said}"));
            let (witness, said) = said.expect("a decimal");
            read(&movement, witness, &said).ok()
        })
        .collect::<Option<_>>()?;
    let answer = answer(&movement, &readings, Hands::default());
    let told = report::json::LookAnswer::of(&movement, &answer, movement.seen_from());
    let told: Value = serde_json::from_str(&report::json::text(&told)).expect("JSON");
    let saw: Map<String, Value> = (saw.iter())
        .map(|(id, said)| (id.clone(), json!(said)))
        .collect();
    Some(json!({"sheet": sheet, "saw": saw, "answer": told}))
}

#[test]
fn turned_piece_by_piece() {
    let Some(python) = outside::python("parts turned on their arbors") else {
        return;
    };
    let mut dice = dice(91);
    let mut questions = Vec::new();
    while questions.len() < QUESTIONS {
        questions.extend(question(&mut dice));
    }
    let answers = outside::ask(&python, &["held.py"], &questions);
    let mut wrong = Vec::new();
    let (mut skipped, mut turned) = (0, 0);
    for (question, other) in questions.iter().zip(&answers) {
        if other["skipped"] == true {
            skipped += 1;
            continue;
        }
        turned += usize::from(question["answer"]["cure"] == "turn");
        if other["faults"] != json!([]) {
            wrong.push(format!("{other}\n{question}\n"));
        }
    }
    println!("{QUESTIONS} asked, {skipped} too much to try, {turned} turned");
    assert!(
        wrong.is_empty(),
        "{} of {QUESTIONS} differ:\n{}",
        wrong.len(),
        wrong[..wrong.len().min(4)].join("\n")
    );
    assert!(
        QUESTIONS - skipped >= ANSWERED && turned >= TURNED,
        "{skipped}, {turned}"
    );
}
