//! Fewest meshes and least lean held against an integer programme, and the meeting of teeth against a least common
//! multiple.
//!
//! The rule puts chance before lean, and the programme knows no chances. Here everything was read as good as exactly, to a
//! millionth of a millionth of a degree, and the hold sways nothing: then the chance is 1 for whatever stands in its
//! windows, all that comes before lean in the rule is the same for all, and the answer's lean must be the least there is. A
//! place within some spreads of a window's end would be the exception; ends have a figure more than places, so that none
//! falls there but by an accident of 360 degrees divided by some teeth, which the same lean on both sides rules out.

mod outside;

use fleet::{Dice, Saw, Taste, Wheels, arbitrary, dice, grow, mismeshed};
use movement::{Movement, Reached};
use num_integer::Integer;
use quantity::{BigInt, Exact, fraction, whole};
use rand::RngExt;
use serde_json::{Value, json};
use std::time::{Duration, Instant};
use timing::{Answer, Cure, Hands, Reading, answer, parse, read};

/// Movements asked about.
const MOVEMENTS: usize = 540;

/// So many must be solved on the other side; sums beyond 64 bits are left off there.
const SOLVED: usize = 500;

/// How surely everything was read, in degrees.
const SURE: &str = "0.000000000001";

struct Asked {
    sheet: String,
    movement: Movement,
    saw: Saw,
    readings: Vec<Reading>,
    answer: Answer,
    took: Duration,
}

fn ask(dice: &mut Dice) -> Option<Asked> {
    let mut taste = if dice.random_bool(0.6) {
        Taste::realistic()
    } else {
        Taste::wild()
    };
    taste.arbors = 3..=8;
    taste.witnesses = 1..=4;
    taste.odd_count = taste.odd_count.min(0.05);
    taste.hold = 0.0;
    let sheet = grow(&taste, dice).sheet();
    let movement = sheet::read(sheet.as_bytes())
        .expect("a sheet as grown is good")
        .movement;
    let mut saw = if dice.random_bool(0.8) {
        let meshes = dice.random_range(1..=3);
        mismeshed(&movement, meshes, dice)
    } else {
        arbitrary(&movement, dice)
    };
    for (_, said) in &mut saw {
        let degrees = said.split('~').next().unwrap_or(said);
        // A figure more than windows have.
        *said = format!(
            "{degrees}{}7~{SURE}",
            if degrees.len() - degrees.find('.')? < 4 {
                "00"
            } else {
                ""
            }
        );
    }
    let readings: Vec<Reading> = (saw.iter())
        .map(|(id, said)| {
            let (id, said) =
                parse(&movement, movement.seen_from(), &format!("{id}={said}")).expect("a decimal");
            read(&movement, id, &said).expect("a spread that fits any window")
        })
        .collect();
    if readings.is_empty()
        || (readings.iter()).all(|r| movement.witness(r.witness).admits(&r.stands))
    {
        return None;
    }
    let began = Instant::now();
    let answer = answer(&movement, &readings, Hands::default());
    Some(Asked {
        took: began.elapsed(),
        sheet,
        movement,
        saw,
        readings,
        answer,
    })
}

/// The question in whole numbers of one grain for each witness; what a tooth does is found by turning wheels.
fn question(asked: &Asked) -> Value {
    let movement = &asked.movement;
    let meshes: Vec<_> = (movement.meshes().map(|(id, _)| id))
        .filter(|&mesh| Wheels::of(movement).far_side(mesh).is_some())
        .collect();
    let mut steps: Vec<Vec<String>> = vec![Vec::new(); meshes.len()];
    let mut witnesses = Vec::new();
    for reading in &asked.readings {
        let witness = movement.witness(reading.witness);
        let moved: Vec<Exact> = (meshes.iter())
            .map(|&mesh| {
                let mut wheels = Wheels::of(movement);
                wheels.shift(mesh, 1);
                wheels.ahead(reading.witness).exact().clone()
            })
            .collect();
        let angles = [
            witness.period().exact().clone(),
            witness.from.exact().clone(),
            witness.to.exact().clone(),
            witness.best.exact().clone(),
            reading.stands.exact().clone(),
            witness.width().exact().clone(),
        ];
        // The programme halves the period.
        let grain = (angles.iter().chain(&moved))
            .fold(BigInt::from(2), |grain, angle| grain.lcm(angle.denom()));
        let grains = |angle: &Exact| {
            (angle * Exact::from_integer(grain.clone()))
                .to_integer()
                .to_string()
        };
        let [period, from, to, best, stands, half] = angles.each_ref().map(grains);
        witnesses.push(json!({
            "period": period, "from": from, "to": to, "best": best, "stands": stands, "half": half,
        }));
        for (steps, moved) in steps.iter_mut().zip(&moved) {
            steps.push(grains(moved));
        }
    }
    let meshes: Vec<Value> = (meshes.iter().zip(steps))
        .map(|(&mesh, steps)| {
            let outside = movement.mesh(mesh).reached == Reached::Outside;
            json!({"reached": if outside { "outside" } else { "plates" }, "steps": steps})
        })
        .collect();
    json!({"witnesses": witnesses, "meshes": meshes})
}

/// Meshes that spread plates, meshes outside, and the lean of the answer; nothing where no mesh does.
fn found(asked: &Asked) -> Option<(u64, u64, Exact)> {
    let Cure::Shift(shifts) = &asked.answer.cure else {
        return None;
    };
    let outside = (shifts.iter())
        .filter(|shift| asked.movement.mesh(shift.mesh).reached == Reached::Outside)
        .count();
    let lean = (asked.answer.after.witnesses.iter())
        .map(|standing| {
            let witness = asked.movement.witness(standing.witness);
            let off = (&standing.stands - &witness.best).abs();
            off.exact() / witness.width().exact() * whole(2)
        })
        .max()?;
    Some(((shifts.len() - outside) as u64, outside as u64, lean))
}

fn ratio(text: &str) -> Exact {
    let (over, under) = text.split_once('/').expect("num/den");
    let whole = |text: &str| text.parse::<i64>().expect("a whole number");
    fraction(whole(over), whole(under))
}

#[test]
fn as_few_meshes_and_as_little_lean() {
    let Some(python) = outside::python("fewest meshes and least lean by CP-SAT") else {
        return;
    };
    let mut dice = dice(3);
    let mut asked = Vec::new();
    while asked.len() < MOVEMENTS {
        asked.extend(ask(&mut dice));
    }
    let questions: Vec<Value> = asked.iter().map(question).collect();
    let answers = outside::ask(&python, &["optimum.py"], &questions);
    let (mut skipped, mut feasible, mut wrong) = (Vec::new(), 0, Vec::new());
    let (mut here, mut there) = (Vec::new(), Vec::new());
    for ((asked, question), other) in asked.iter().zip(&questions).zip(&answers) {
        if other["skipped"] == true {
            skipped.push(other["why"].to_string());
            continue;
        }
        let theirs = other["feasible"].as_bool().and_then(|feasible| {
            feasible.then(|| {
                let number = |key: &str| other[key].as_u64();
                Some((
                    number("plates")?,
                    number("outside")?,
                    ratio(other["lean"].as_str()?),
                ))
            })
        });
        let ours = found(asked);
        feasible += usize::from(ours.is_some());
        if theirs.is_none() && other["feasible"] != false || theirs.clone().flatten() != ours {
            wrong.push(format!(
                "{ours:?}, there {other}\n{:?}\n{question}\n{}",
                asked.saw, asked.sheet
            ));
        }
        here.push(asked.took.as_secs_f64());
        there.push(other["solver_seconds"].as_f64().unwrap_or(f64::NAN));
    }
    println!(
        "{MOVEMENTS} movements, {} left off there, {feasible} with a cure\nhere, the whole answer: {}\nthere, the solver's own, one worker: {}",
        skipped.len(),
        seconds(&mut here),
        seconds(&mut there),
    );
    assert!(
        wrong.is_empty(),
        "{} differ:\n{}",
        wrong.len(),
        wrong.join("\n\n")
    );
    let solved = MOVEMENTS - skipped.len();
    assert!(solved >= SOLVED, "{skipped:?}");
    assert!(
        (solved / 3..solved * 19 / 20).contains(&feasible),
        "{feasible} have a cure"
    );
}

fn seconds(each: &mut [f64]) -> String {
    each.sort_by(f64::total_cmp);
    let all: f64 = each.iter().sum();
    format!(
        "{all:.2} s in all, half of them under {:.2} ms, the longest {:.0} ms",
        1e3 * each[each.len() / 2],
        1e3 * each[each.len() - 1],
    )
}

#[test]
fn the_same_teeth_meet_again() {
    let Some(python) = outside::python("when teeth meet again, by the least common multiple")
    else {
        return;
    };
    let mut dice = dice(6);
    let mut here = Vec::new();
    let mut questions = Vec::new();
    while questions.len() < 1000 {
        let taste = Taste {
            odd_count: 0.8,
            ..Taste::wild()
        };
        let sheet = grow(&taste, &mut dice).sheet();
        let movement = sheet::read(sheet.as_bytes())
            .expect("a sheet as grown is good")
            .movement;
        for (id, mesh) in movement.meshes() {
            let teeth = |part| movement.part(part).teeth.get();
            questions.push(json!({"driver": teeth(mesh.driver), "driven": teeth(mesh.driven)}));
            here.push(kinematics::meeting(&movement, id));
        }
    }
    let answers = outside::ask(&python, &["optimum.py", "--meetings"], &questions);
    for ((meeting, question), other) in here.iter().zip(&questions).zip(&answers) {
        let same = |key: &str, turns: &BigInt| {
            assert_eq!(
                other[key].to_string(),
                turns.to_string(),
                "{key} of {question}"
            );
        };
        same("driver_turns", &meeting.driver_turns);
        same("driven_turns", &meeting.driven_turns);
    }
}
