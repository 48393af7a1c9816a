//! What drives a train, as JSON.

use crate::count_json::known;
use drive::{Beside, Fitting, Spring, Wound};
use movement::Movement;
use quantity::{Duration, Energy, Length, Mass, Number, Stress, Torque};
use serde_json::{Value, json};
use tasks::{Driven, Told};

/// Everything that drives, as JSON.
pub fn power_json(movement: &Movement, driven: &[Driven]) -> Value {
    json!({
        "answer": 1,
        "sheet": movement.name(),
        "powers": driven.iter().map(|d| one(movement, d)).collect::<Vec<_>>(),
    })
}

fn one(movement: &Movement, driven: &Driven) -> Value {
    let torque = |x| known(x, Torque::as_n_mm);
    let mut object = match &driven.told {
        Told::Spring {
            spring,
            wound: w,
            instead,
            best,
        } => json!({
            "kind": "spring",
            "spring": wound(w),
            "curve": curve(spring),
            "instead": instead.as_ref().map(|other| beside(other)),
            "fits": best.as_ref().map(|best| {
                let mut object = fits(&best.fitting);
                object["gives"] = known(&best.turns, Number::as_plain);
                object["does"] = json!(best.beside.as_ref().map(beside));
                object
            }),
        }),
        Told::Lost(room, fitting) => json!({
            "kind": "barrel without a spring",
            "turns": known(&room.turns, Number::as_plain),
            "fits": fits(fitting),
        }),
        Told::Weight(weight, fallen) => json!({
            "kind": "weight",
            "g": known(&weight.mass, Mass::as_g),
            "pulley": weight.pulley,
            "torque_n_mm": torque(&fallen.torque),
            "turns": fallen.turns.as_ref().map(|x| known(x, Number::as_plain)),
            "cord_mm": fallen.cord.as_ref().map(|x| known(x, Length::as_mm)),
            "energy_j": fallen.energy.as_ref().map(|x| known(x, Energy::as_joules)),
        }),
    };
    object["winding"] = json!({
        "counted": driven.winding.counted.as_ref().map(|x| known(x, Number::as_plain)),
        "given": driven.winding.given.as_ref().map(|x| known(x, Number::as_plain)),
        "used": driven.winding.used().as_ref().map(|x| known(x, Number::as_plain)),
        "clash": driven.winding.clash().is_some(),
    });
    object["asked"] = json!(driven.asked.as_ref().map(|(run, turns)| json!({
        "run_s": known(run, Duration::as_s),
        "turns": turns.as_ref().map(|x| known(x, Number::as_plain)),
    })));
    object["arbor"] = json!(movement.arbor(driven.arbor).id);
    object["run_s"] = json!(
        driven
            .run
            .as_ref()
            .map(|run| known(&run.time, Duration::as_s))
    );
    object["blows"] = json!(
        driven
            .run
            .as_ref()
            .and_then(|run| run.blows.as_ref())
            .map(|x| known(x, Number::as_plain))
    );
    object["train"] = json!(
        driven
            .train
            .iter()
            .map(|at| json!({
                "arbor": movement.arbor(at.arbor).id,
                "lossless_n_mm": torque(&at.lossless),
                "likely_n_mm": torque(&at.likely),
            }))
            .collect::<Vec<_>>()
    );
    object["blow_j"] = json!(
        driven
            .blow
            .as_ref()
            .map(|b| known(&b.energy, Energy::as_joules))
    );
    object
}

fn wound(w: &Wound) -> Value {
    json!({
        "turns": known(&w.turns, Number::as_plain),
        "coils_up": known(&w.up, Number::as_plain),
        "coils_down": known(&w.down, Number::as_plain),
        "fill": w.fill.as_ref().map(|x| known(x, Number::as_plain)),
        "torque_up_n_mm": known(&w.torque[0], Torque::as_n_mm),
        "torque_half_n_mm": known(&w.torque[1], Torque::as_n_mm),
        "torque_down_n_mm": known(&w.torque[2], Torque::as_n_mm),
        "torque_per_turn_n_mm": known(&w.per_turn, Torque::as_n_mm),
        "stored_j": known(&w.stored, Energy::as_joules),
        "left_j": known(&w.left.energy, Energy::as_joules),
        "left_j_one_in_twenty": w.left.one_in_twenty.as_joules(),
        "free_turns_counted": w.left.counted,
        "stress_n_per_mm2": known(&w.stress, Stress::as_mpa),
        "bears_n_per_mm2": known(&drive::bears(), Stress::as_mpa),
        "overstressed": w.overstressed().is_some(),
    })
}

/// What another strip does, and its torque half way over that of the one that is there.
fn beside(other: &Beside) -> Value {
    let mut object = wound(&other.wound);
    for (i, key) in ["torque_up_over_now", "torque_half_over_now"]
        .into_iter()
        .enumerate()
    {
        object[key] = json!(other.over.as_ref().map(|x| known(&x[i], Number::as_plain)));
    }
    object
}

/// Torque over turns, from let down to wound up.
fn curve(spring: &Spring) -> Vec<Value> {
    const STEPS: u16 = 16;
    let points = spring.curve(STEPS).into_iter();
    points
        .map(|(turns, torque)| json!({ "turns": turns, "n_mm": known(&torque, Torque::as_n_mm) }))
        .collect()
}

fn fits(fitting: &Fitting) -> Value {
    json!({
        "thick_mm": known(&fitting.thick, Length::as_mm),
        "long_mm": known(&fitting.long, Length::as_mm),
        "width_mm": fitting.width.as_ref().map(|x| known(x, Length::as_mm)),
        "does": fitting.wound.as_ref().map(wound),
    })
}
