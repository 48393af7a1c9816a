//! Answers held against an independent one that tries every shift, tooth by tooth.

mod outside;

use fleet::{Dice, Saw, Taste, arbitrary, dice, grow, mismeshed};
use movement::{Movement, Plate, Turning};
use rand::RngExt;
use serde_json::{Map, Value, json};
use timing::{Answer, Cure, Hands, Reading, Shift, ShiftWay, Stands, answer, parse, read};

/// Questions asked.
const QUESTIONS: usize = 700;

/// So many must be answered on the other side, and not left as too much to try.
const ANSWERED: usize = 600;

/// Chances here and there are good to about 1e-11 (the integrals over the hold there say so of themselves); a hundred
/// times that is still far below any chance that anyone would act on. Small ones must agree in their own figures as well,
/// as long as they are chances at all.
const CHANCE_ABSOLUTE: f64 = 1e-9;
const CHANCE_RELATIVE: f64 = 1e-9;

/// Places are exact on both sides, and only rounded to a double once or twice: a few units of the last place of 360.
const PLACE_DEG: f64 = 1e-11;

struct Asked {
    sheet: String,
    movement: Movement,
    saw: Saw,
    from: Plate,
    answer: Answer,
}

/// Movements that a search tooth by tooth can still get through: few arbors where no shift may do, more where one was made.
fn question(dice: &mut Dice) -> Option<Asked> {
    let mut taste = if dice.random_bool(0.7) {
        Taste::realistic()
    } else {
        Taste::wild()
    };
    let small = dice.random_bool(0.3);
    taste.arbors = if small { 3..=4 } else { 3..=8 };
    taste.witnesses = 1..=4;
    taste.odd_count = taste.odd_count.min(0.03);
    taste.hold = 0.15;
    let sheet = grow(&taste, dice).sheet();
    let movement = sheet::read(sheet.as_bytes())
        .expect("a sheet as grown is good")
        .movement;
    if movement.witnesses().len() == 0 {
        return None;
    }
    let saw = if small && dice.random_bool(0.5) {
        arbitrary(&movement, dice)
    } else {
        let meshes = dice.random_range(1..=4);
        mismeshed(&movement, meshes, dice)
    };
    let from = if dice.random_bool(0.5) {
        Plate::Front
    } else {
        Plate::Back
    };
    let readings: Vec<Reading> = (saw.iter())
        .map(|(id, said)| {
            let (witness, said) =
                parse(&movement, from, &format!("{id}={said}")).expect("a decimal");
            read(&movement, witness, &said).ok()
        })
        .collect::<Option<_>>()?;
    let answer = answer(&movement, &readings, Hands::default());
    Some(Asked {
        sheet,
        movement,
        saw,
        from,
        answer,
    })
}

#[test]
fn the_same_shift_as_by_trying_them_all() {
    let Some(python) = outside::python("every shift, tooth by tooth") else {
        return;
    };
    let mut dice = dice(2);
    let mut asked = Vec::new();
    while asked.len() < QUESTIONS {
        asked.extend(question(&mut dice));
    }
    let questions: Vec<Value> = (asked.iter())
        .map(|asked| {
            let saw: Map<String, Value> = (asked.saw.iter())
                .map(|(id, said)| (id.clone(), json!(said)))
                .collect();
            json!({"sheet": asked.sheet, "saw": saw, "from": plate(asked.from)})
        })
        .collect();
    let answers = outside::ask(&python, &["reference.py"], &questions);
    let (mut skipped, mut close, mut wrong) = (0, 0, Vec::new());
    let mut cures = std::collections::BTreeMap::new();
    for ((asked, question), other) in asked.iter().zip(&questions).zip(&answers) {
        if other["skipped"] == true {
            skipped += 1;
            continue;
        }
        // A chance at the very limit of "equal" may fall either way.
        if other["close"] == true {
            close += 1;
            continue;
        }
        let faults = differences(asked, other);
        if !faults.is_empty() {
            wrong.push(format!("{}\n{}\n", faults.join("\n"), question));
        }
        *cures.entry(other["cure"].to_string()).or_insert(0) += 1;
    }
    println!(
        "{QUESTIONS} asked; {skipped} too much to try, {close} at the limit of equal; {cures:?}"
    );
    assert!(
        wrong.is_empty(),
        "{} of {QUESTIONS} differ:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(
        QUESTIONS - skipped - close >= ANSWERED,
        "{skipped} skipped, {close} close"
    );
    assert!(
        cures.values().all(|n| *n >= 20) && cures.len() == 3,
        "{cures:?}"
    );
}

fn plate(plate: Plate) -> &'static str {
    match plate {
        Plate::Front => "front",
        Plate::Back => "back",
    }
}

/// Everything in which two answers differ.
fn differences(asked: &Asked, other: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    let answer = &asked.answer;
    let cure = match &answer.cure {
        Cure::NoneNeeded => "none needed",
        Cure::Shift(_) => "shift",
        Cure::Turn(..) => "turn",
        Cure::NoMesh(_) => "no mesh",
        Cure::NotFound(_) => "not found",
    };
    let mut same = |what: &str, here: Value, there: &Value| {
        if here != *there {
            faults.push(format!("{what}: {here}, there {there}"));
        }
    };
    same("cure", json!(cure), &other["cure"]);
    let shifts: &[Shift] = match &answer.cure {
        Cure::Shift(shifts) => shifts,
        _ => &[],
    };
    let said: Vec<Value> = shifts.iter().map(|shift| told(asked, shift)).collect();
    same("shifts", json!(said), &other["shifts"]);
    let unread: Vec<&str> = (answer.unread.iter())
        .map(|id| asked.movement.witness(*id).id.as_str())
        .collect();
    same("unread", json!(unread), &other["unread"]);
    stands("now", asked, &answer.now, &other["now"], &mut faults);
    stands("after", asked, &answer.after, &other["after"], &mut faults);
    if let Cure::NoMesh(nearest) = &answer.cure {
        number(
            "nearest part",
            nearest.worst.part,
            &other["nearest_part"],
            1e-12,
            &mut faults,
        );
        if other["nearest_moves"] != !nearest.shifts.is_empty() {
            faults.push(format!("nearest: {:?}", nearest.shifts));
        }
    }
    faults
}

fn told(asked: &Asked, shift: &Shift) -> Value {
    let far = asked
        .movement
        .far_arbor(shift.mesh)
        .expect("a mesh that is shifted");
    let ahead = asked.movement.runs(far, asked.from);
    let turning = |turning: Turning| match turning {
        Turning::Clockwise => "clockwise",
        Turning::Counterclockwise => "counterclockwise",
    };
    let way = match shift.way {
        ShiftWay::Either => "either",
        ShiftWay::Ahead => turning(ahead),
        ShiftWay::Back => turning(ahead.reversed()),
    };
    json!({
        "mesh": asked.movement.mesh_name(shift.mesh),
        "lift": asked.movement.arbor(far).id,
        "teeth": shift.teeth,
        "way": way,
        "seen_from": plate(asked.from),
    })
}

fn stands(when: &str, asked: &Asked, here: &Stands, there: &Value, faults: &mut Vec<String>) {
    let chance = |what: &str, here: f64, there: &Value, faults: &mut Vec<String>| {
        let most = CHANCE_ABSOLUTE + CHANCE_RELATIVE * here;
        number(&format!("{when} {what}"), here, there, most, faults);
    };
    chance(
        "in window",
        here.in_window.get(),
        &there["in_window"],
        faults,
    );
    for standing in &here.witnesses {
        let id = &asked.movement.witness(standing.witness).id;
        let Some(other) = there["witnesses"]
            .as_array()
            .and_then(|all| all.iter().find(|w| w["id"] == **id))
        else {
            faults.push(format!("{when}: no {id} there"));
            continue;
        };
        let what = format!("{when} {id} stands");
        number(
            &what,
            standing.stands.to_f64(),
            &other["stands_deg"],
            PLACE_DEG,
            faults,
        );
        let what = format!("{when} {id} spread");
        number(
            &what,
            standing.spread.as_deg(),
            &other["spread_deg"],
            PLACE_DEG,
            faults,
        );
        chance(id, standing.in_window.get(), &other["in_window"], faults);
    }
}

fn number(what: &str, here: f64, there: &Value, most: f64, faults: &mut Vec<String>) {
    if there
        .as_f64()
        .is_none_or(|there| (there - here).abs() > most)
    {
        faults.push(format!("{what}: {here}, there {there}"));
    }
}
