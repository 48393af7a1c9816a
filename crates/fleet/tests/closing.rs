//! When it may be closed up, against the rule worked out from sheet and log by a program in Python (`tests/outside/closing.py`) that
//! shares nothing with the house. One clause no state here exercises, and it is not held against anything: that no window is a usual
//! one. The sheets that are grown write every window themselves.

mod day;
mod outside;

use fleet::{Taste, dice, grow};
use kinematics::step;
use movement::Movement;
use num_integer::Integer;
use num_traits::ToPrimitive;
use quantity::BigInt;
use serde_json::{Value, json};
use timing::{Act, Eye, Lacks};

/// As many as the other program gets through in some twenty seconds; `TRUNDLE_STATES` asks for another number. It keeps every history apart,
/// and of some hundreds of days there is one whose histories do not fit into a machine's memory.
const STATES: usize = 90;

fn how_many() -> usize {
    std::env::var("TRUNDLE_STATES").map_or(STATES, |many| many.parse().expect("a number"))
}

/// Days at one movement.
const DAYS: usize = 8;

/// Beyond so many ways to mesh it a movement takes the other program too long.
const MOST_WAYS: usize = 120;

/// Where a figure is so near the bound that it is held against, either answer will do: two ways of working it out, each good to some
/// thousandths.
const NEAR: f64 = 0.005;

struct State {
    act: Act,
    lacks: Lacks,
    in_window: f64,
    question: Value,
}

/// Whether the meshes can stand in few enough ways; asked before they are all written down.
fn few_ways(movement: &Movement) -> bool {
    let mut ways = 1;
    for (mesh, _) in movement.meshes() {
        let cycle = (movement.witnesses())
            .filter_map(|(id, witness)| {
                let step = step(movement, mesh, id)?;
                Some((step.exact() / witness.period().exact()).denom().clone())
            })
            .fold(BigInt::from(1), |all, cycle| all.lcm(&cycle));
        ways *= cycle.to_usize().unwrap_or(usize::MAX).min(MOST_WAYS + 1);
        if ways > MOST_WAYS {
            return false;
        }
    }
    true
}

fn states(many: usize, first_seed: u64) -> Vec<State> {
    let taste = Taste {
        closed_loop: 0.0,
        ..Taste::realistic()
    };
    let mut states = Vec::new();
    for seed in first_seed.. {
        let mut dice = dice(seed);
        let sheet = grow(&taste, &mut dice).sheet();
        let movement = sheet::read(sheet.as_bytes())
            .expect("a good sheet")
            .movement;
        if !few_ways(&movement) {
            continue;
        }
        let blank = tasks::note(sheet.as_bytes(), None, &[], None, Eye::default()).expect("a log");
        for _ in 0..DAYS {
            let Some(lines) = day::Day::of(&movement, &mut dice) else {
                break;
            };
            let log = day::log(blank.log.text(), &lines);
            let noted = tasks::note(
                sheet.as_bytes(),
                Some(log.as_bytes()),
                &[],
                None,
                Eye::default(),
            )
            .unwrap_or_else(|why| panic!("{why:?}\n{sheet}\n{log}"));
            states.push(State {
                act: noted.advice.act,
                lacks: noted.advice.lacks,
                in_window: noted.advice.in_window.get(),
                question: json!({ "sheet": sheet, "log": log }),
            });
            if states.len() == many {
                return states;
            }
        }
    }
    states
}

/// The rule with one clause left out, each in turn.
fn faulty(lacks: &Lacks) -> [(&'static str, bool); 5] {
    let without = |leave_out: fn(&mut Lacks)| {
        let mut lacks = lacks.clone();
        leave_out(&mut lacks);
        lacks.nothing()
    };
    [
        ("read since anything moved", without(|l| l.unread.clear())),
        ("the newest reading in", without(|l| l.outside.clear())),
        (
            "no arbor out",
            without(|l| {
                l.arbors.clear();
                l.unread.clear();
            }),
        ),
        ("nothing bent", without(|l| l.parts.clear())),
        ("sure enough", without(|l| l.unsure = false)),
    ]
}

#[test]
fn it_may_be_closed_up_where_the_rule_says_so_and_nowhere_else() {
    let Some(python) = outside::python("the rule of closing up, by another program") else {
        return;
    };
    let states = states(how_many(), 70_000);
    let questions: Vec<Value> = states.iter().map(|s| s.question.clone()).collect();
    let answers = outside::ask(&python, &["closing.py"], &questions);
    let (mut counted, mut done, mut near, mut farthest) = (0, 0, 0, 0.0f64);
    let mut found = [0; 5];
    let mut acts = std::collections::BTreeMap::<String, usize>::new();
    let mut wrong = Vec::new();
    for (state, answer) in states.iter().zip(&answers) {
        let figure = |name: &str| answer[name].as_f64();
        if let Some(theirs) = figure("in_window") {
            farthest = farthest.max((theirs - state.in_window).abs());
        }
        let name = format!("{:?}", state.act);
        let name = name.split('(').next().unwrap_or_default().to_owned();
        *acts.entry(name).or_default() += 1;
        let close = |name: &str, bound: f64| {
            figure(name).is_some_and(|figure| (figure - bound).abs() < NEAR)
        };
        if close("in_window", 0.95) || close("sound", 0.5) {
            near += 1;
            continue;
        }
        counted += 1;
        let theirs = answer["done"].as_bool().expect("an answer");
        done += usize::from(theirs);
        if (state.act == Act::Done) != theirs {
            wrong.push(format!(
                "{:?} {:?} {}: {answer}\n{}",
                state.act,
                state.lacks,
                state.in_window,
                state.question["log"].as_str().unwrap_or_default()
            ));
        }
        for (found, (_, fault)) in found.iter_mut().zip(faulty(&state.lacks)) {
            *found += usize::from(fault != theirs);
        }
    }
    println!("{counted} states, {done} done, {near} too near to count; {acts:?}");
    println!("the chance that all is in differs by {farthest:.4} at most");
    let faults = faulty(&Lacks::default()).map(|(name, _)| name);
    println!(
        "states that find each fault: {:?}",
        faults.iter().zip(found).collect::<Vec<_>>()
    );
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(
        10 * done > counted && 10 * (counted - done) > counted,
        "{done} of {counted}"
    );
    for (name, found) in faults.iter().zip(found) {
        assert!(found > 0, "a rule without \"{name}\" is not found");
    }
}
