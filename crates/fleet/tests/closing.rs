//! When it may be closed up, against the rule worked out from sheet and log by a program in Python (`tests/outside/closing.py`) that
//! shares nothing with the house. One clause is not held against anything, since no sheet can bring it about: that no window is a usual
//! one. A witness whose window the sheet leaves open is told as a gap and not timed at all; none is given a window from proportions.

mod day;
mod outside;

use fleet::{Taste, dice, grow};
use kinematics::step;
use movement::Movement;
use num_integer::Integer;
use num_traits::ToPrimitive;
use quantity::BigInt;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use timing::{Act, Eye, Lacks, SOUND, SURE};

/// `TRUNDLE_STATES` asks for another number of states, `TRUNDLE_SEED` for others than these.
const STATES: usize = 2_000;
const SEED: usize = 70_000;

/// So many programs are asked at once, each about movements of its own.
const AT_ONCE: usize = 2;

/// What the environment asks for.
fn asked_for(name: &str, usual: usize) -> usize {
    std::env::var(name).map_or(usual, |many| many.parse().expect("a number"))
}

/// Days at one movement.
const DAYS: usize = 8;

/// Beyond so many ways to mesh it a movement takes the other program too long.
const MOST_WAYS: usize = 120;

/// Where a figure is so near the bound that it is held against, either answer will do: two ways of working it out, each good to some
/// thousandths.
const NEAR: f64 = 0.005;

/// Where the other program left more than this out of what may have happened, it does not say.
const LOST: f64 = 1e-3;

struct State {
    act: Act,
    lacks: Lacks,
    in_window: f64,
    sound: f64,
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

/// So many states, of movements grown from these seeds.
fn states(many: usize, seeds: impl Iterator<Item = usize>) -> Vec<State> {
    let taste = Taste {
        closed_loop: 0.0,
        ..Taste::realistic()
    };
    let mut states = Vec::new();
    for seed in seeds {
        let mut dice = dice(seed as u64);
        let sheet = grow(&taste, &mut dice).sheet();
        let movement = sheet::read(sheet.as_bytes())
            .expect("a good sheet")
            .movement;
        if !few_ways(&movement) {
            continue;
        }
        let note = |log: Option<&str>| {
            let log = log.map(str::as_bytes);
            tasks::note(sheet.as_bytes(), log, &[], None, Eye::default())
                .unwrap_or_else(|why| panic!("{why:?}\n{sheet}\n{log:?}"))
        };
        let blank = note(None).log.text().to_owned();
        let mut logs = Vec::new();
        if movement.witnesses().next().is_none() {
            logs.push(blank.clone());
        }
        while logs.len() < DAYS
            && let Some(lines) = day::Day::of(&movement, &mut dice)
        {
            logs.push(day::log(&blank, &lines));
        }
        for log in logs {
            let noted = note(Some(&log));
            let bent = noted.recalled.bent.iter().map(|(_, chance)| chance.get());
            states.push(State {
                act: noted.advice.act,
                lacks: noted.advice.lacks,
                in_window: noted.advice.in_window.get(),
                sound: 1.0 - bent.sum::<f64>(),
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
fn faulty(lacks: &Lacks) -> [(&'static str, bool); 6] {
    let without = |leave_out: fn(&mut Lacks)| {
        let mut lacks = lacks.clone();
        leave_out(&mut lacks);
        lacks.nothing()
    };
    [
        ("something is timed", without(|l| l.blind = false)),
        ("read since anything moved", without(|l| l.unread.clear())),
        ("the newest reading in", without(|l| l.outside.clear())),
        ("no arbor out", without(|l| l.arbors.clear())),
        ("nothing bent", without(|l| l.parts.clear())),
        ("sure enough", without(|l| l.unsure = false)),
    ]
}

/// What came of all states.
#[derive(Default)]
struct Tally {
    all: usize,
    /// In which the other program left too much out to say.
    cut: usize,
    near: usize,
    counted: usize,
    done: usize,
    acts: BTreeMap<String, usize>,
    /// By how much the chances differ at most, and where: that all is in, and that nothing is bent.
    in_window: (f64, String),
    sound: (f64, String),
    found: [usize; 6],
    wrong: Vec<String>,
}

impl Tally {
    fn take(&mut self, state: &State, answer: &Value) {
        let figure = |name: &str| answer[name].as_f64();
        self.all += 1;
        if figure("lost").expect("a figure") > LOST {
            self.cut += 1;
            return;
        }
        let State { act, lacks, .. } = state;
        let told = || {
            let log = state.question["log"].as_str().unwrap_or_default();
            let (in_window, sound) = (state.in_window, state.sound);
            format!("{act:?} {lacks:?} {in_window} {sound}: {answer}\n{log}")
        };
        for (name, ours, worst) in [
            ("in_window", state.in_window, &mut self.in_window),
            ("sound", state.sound, &mut self.sound),
        ] {
            let apart = figure(name).map_or(0.0, |theirs| (theirs - ours).abs());
            if apart > worst.0 {
                *worst = (apart, told());
            }
        }
        let close = |name: &str, bound: f64| {
            figure(name).is_some_and(|figure| (figure - bound).abs() < NEAR)
        };
        if close("in_window", SURE) || close("sound", SOUND) {
            self.near += 1;
            return;
        }
        self.counted += 1;
        let name = format!("{act:?}");
        let name = name.split('(').next().unwrap_or_default().to_owned();
        *self.acts.entry(name).or_default() += 1;
        let theirs = answer["done"].as_bool().expect("an answer");
        self.done += usize::from(theirs);
        if (*act == Act::Done) != theirs {
            self.wrong.push(told());
        }
        for (found, (_, fault)) in self.found.iter_mut().zip(faulty(lacks)) {
            *found += usize::from(fault != theirs);
        }
    }
}

#[test]
fn it_may_be_closed_up_where_the_rule_says_so_and_nowhere_else() {
    let Some(python) = outside::python("the rule of closing up, by another program") else {
        return;
    };
    let (many, seed) = (
        asked_for("TRUNDLE_STATES", STATES),
        asked_for("TRUNDLE_SEED", SEED),
    );
    let ask = &|nth: usize| {
        let states = states(many / AT_ONCE, (seed + nth..).step_by(AT_ONCE));
        let questions: Vec<Value> = states.iter().map(|s| s.question.clone()).collect();
        let answers = outside::ask(&python, &["closing.py"], &questions);
        states.into_iter().zip(answers).collect::<Vec<_>>()
    };
    let mut tally = Tally::default();
    std::thread::scope(|scope| {
        let asked: Vec<_> = (0..AT_ONCE)
            .map(|nth| scope.spawn(move || ask(nth)))
            .collect();
        for asked in asked {
            for (state, answer) in asked.join().expect("it is asked to the end") {
                tally.take(&state, &answer);
            }
        }
    });
    let Tally {
        all,
        cut,
        near,
        counted,
        done,
        acts,
        in_window,
        sound,
        found,
        wrong,
    } = tally;
    println!("{counted} states, {done} done, {near} too near to count, {cut} cut; {acts:?}");
    println!(
        "the chance that all is in differs by {:.4} at most",
        in_window.0
    );
    println!(
        "the chance that nothing is bent differs by {:.4} at most",
        sound.0
    );
    let faults = faulty(&Lacks::default()).map(|(name, _)| name);
    println!(
        "states that find each fault: {:?}",
        faults.iter().zip(found).collect::<Vec<_>>()
    );
    if std::env::var_os("TRUNDLE_WORST").is_some() {
        println!("farthest apart in being in: {}", in_window.1);
        println!("farthest apart in being sound: {}", sound.1);
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(100 * cut < 3 * all, "{cut} of {all} cut");
    assert!(
        10 * done > counted && 10 * (counted - done) > counted,
        "{done} of {counted}"
    );
    for (name, found) in faults.iter().zip(found) {
        assert!(found > 0, "a rule without \"{name}\" is not found");
    }
}
