//! Springs held against a general-purpose solver of differential equations: how a strip coils, what torque bends it, and what
//! work it does as it runs down.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

use drive::{Spring, Strip, coils_down, coils_up, steel, wound};
use quantity::{Known, Length};
use serde_json::{Value, json};

/// The solver is asked for 1e-12 a step.
const SOLVED: f64 = 1e-9;

fn mm(x: f64) -> Known<Length> {
    Known::sure(Length::mm(x))
}

fn springs() -> Vec<Spring> {
    [
        (19.0, 0.40, 1400.0, 13.3, 40.0),
        (22.0, 0.45, 1500.0, 14.0, 45.0),
        (30.0, 0.50, 2600.0, 18.0, 60.0),
        (12.0, 0.25, 900.0, 8.0, 25.0),
    ]
    .map(|(width, thick, long, arbor, outside)| Spring {
        strip: Strip {
            width: mm(width),
            thick: mm(thick),
            long: mm(long),
        },
        arbor: mm(arbor),
        outside: mm(outside),
        barrel: true,
        free: None,
    })
    .to_vec()
}

#[test]
fn a_strip_coils_as_its_equation_says() {
    let Some(python) = outside::python("coils, by their equation") else {
        return;
    };
    let mut questions = Vec::new();
    for spring in springs() {
        let (thick, long) = (
            spring.strip.thick.value.as_mm(),
            spring.strip.long.value.as_mm(),
        );
        let (arbor, barrel) = (spring.arbor.value.as_mm(), spring.outside.value.as_mm());
        questions.push(json!({ "ask": "coils", "thick": thick, "long": long, "inner": arbor }));
        questions.push(json!({ "ask": "coils", "thick": thick, "long": long, "outer": barrel }));
    }
    let answers = outside::ask(&python, &["springs_and_swings.py"], &questions);
    for (spring, there) in springs().iter().zip(answers.chunks(2)) {
        let (thick, long) = (
            spring.strip.thick.value.as_mm(),
            spring.strip.long.value.as_mm(),
        );
        let up = coils_up(long, thick, spring.arbor.value.as_mm());
        let down = coils_down(long, thick, spring.outside.value.as_mm()).expect("room");
        for (here, there) in [(up, &there[0]), (down, &there[1])] {
            let there = there["coils"].as_f64().expect("a number");
            assert!(
                (here - there).abs() < SOLVED * there,
                "{here} coils, there {there}"
            );
        }
    }
}

#[test]
fn torque_and_work_are_those_of_a_bent_strip() {
    let Some(python) = outside::python("bent strips, by their equation") else {
        return;
    };
    let questions: Vec<Value> = (springs().iter())
        .map(|s| {
            json!({
                "ask": "bend",
                "width": s.strip.width.value.as_mm(),
                "thick": s.strip.thick.value.as_mm(),
                "long": s.strip.long.value.as_mm(),
                "mpa": steel().value.as_mpa(),
                "turns": 1.0,
            })
        })
        .collect();
    let answers = outside::ask(&python, &["springs_and_swings.py"], &questions);
    for (spring, there) in springs().iter().zip(&answers) {
        let here = wound(spring).expect("room").per_turn.value.as_n_mm();
        let there = there["n_mm"].as_f64().expect("a number");
        assert!(
            (here / there - 1.0).abs() < SOLVED,
            "{here} N mm, there {there}"
        );
    }
}

#[test]
fn what_is_stored_is_the_work_of_running_down() {
    let Some(python) = outside::python("work of springs, by integration") else {
        return;
    };
    let questions: Vec<Value> = (springs().iter())
        .map(|s| {
            let curve: Vec<[f64; 2]> = (s.curve(400).iter())
                .map(|(turns, torque)| [*turns, torque.value.as_n_mm()])
                .collect();
            json!({ "ask": "unwind", "curve": curve })
        })
        .collect();
    let answers = outside::ask(&python, &["springs_and_swings.py"], &questions);
    for (spring, there) in springs().iter().zip(&answers) {
        let here = wound(spring).expect("room").stored.value.as_joules();
        let there = there["joules"].as_f64().expect("a number");
        // A spring that has more turns has less torque on the mean of them, and the mean curve over the mean turns does not
        // know that: a thousandth, as turns are known to two in a hundred.
        assert!((here / there - 1.0).abs() < 2e-3, "{here} J, there {there}");
    }
}
