//! Where oil goes, as JSON.

use crate::count_json::known;
use crate::{Words, en, oil};
use movement::Movement;
use quantity::{Duration, Length, Number};
use serde_json::{Value, json};
use workshop::oil::{Kind, Much, Plan, Stage, Where};

/// The whole plan.
pub fn oil_json(movement: &Movement, plan: &Plan) -> Value {
    let words = Words::default();
    let steps: Vec<Value> = plan
        .steps
        .iter()
        .map(|step| {
            let arbor = match step.place {
                Where::Coils(a)
                | Where::Barrel(a)
                | Where::Click(a)
                | Where::Pulley(a)
                | Where::Friction(a)
                | Where::Pivots(a)
                | Where::Stud(a)
                | Where::Lifting(a) => Some(movement.arbor(a).id.clone()),
                Where::Pallets(part) => Some(movement.arbor(part.arbor).id.clone()),
                Where::Levers | Where::Hammers(_) | Where::Crutch | Where::Tips => None,
            };
            json!({
                "stage": match step.stage {
                    Stage::Before => "before",
                    Stage::Between => "between",
                    Stage::Closed => "closed",
                    Stage::Last => "last",
                },
                "arbor": arbor,
                "kind": match step.kind {
                    Kind::Grease => "grease",
                    Kind::Thick => "thick",
                    Kind::Middle => "middling",
                    Kind::Thin => "thin",
                },
                "viscosity_mm2_per_s": known(&step.kind.viscosity(), Number::as_plain),
                "bead_mm": match &step.much {
                    Much::Bead { across, .. } | Much::TopUp { across, .. } => Some(known(across, Length::as_mm)),
                    _ => None,
                },
                "worn": step.worn,
                "says": en::breaking(&oil::one(&words, movement, step)),
            })
        })
        .collect();
    json!({
        "answer": 1,
        "sheet": movement.name(),
        "clean_first": plan.clean_first,
        "steps": steps,
        "dry": plan.dry.iter().map(|d| oil::dry(&words, movement, *d)).collect::<Vec<_>>(),
        "tower": plan.tower,
        "side_shake": plan.shaky.iter().map(|w| json!({
            "arbor": movement.arbor(w.arbor).id,
            "shake_mm": known(&w.shake, Length::as_mm),
            "of_the_pivot": known(&w.part, Number::as_plain),
        })).collect::<Vec<_>>(),
        "look_days": known(&plan.look, Duration::as_days),
        "again_days": known(&plan.again, Duration::as_days),
    })
}
