//! Where oil goes.

use super::{First, MeasuredValue, Version, measured_value};
use crate::{Locale, en, oil};
use movement::Movement;
use quantity::{Duration, Length, Number};
use schemars::JsonSchema;
use serde::Serialize;
use workshop::oil::{Lubricant, Much, OilPlan, OilStage};

/// What `trundle oil` answers: where oil goes, and where none.
#[derive(Debug, Serialize, JsonSchema)]
pub struct OilAnswer {
    /// The version of this answer's form.
    answer: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// Whether it is to be cleaned before any oil.
    clean_first: bool,
    /// The places, in the order in which a hand comes to them.
    steps: Vec<Step>,
    /// What stays dry, a sentence each.
    dry: Vec<String>,
    /// Whether it is a tower clock: its pivots, and what they take, are of another size.
    tower: bool,
    /// The holes whose side shake asks for a look.
    side_shake: Vec<Shake>,
    /// After how many days to look at it again.
    look_days: MeasuredValue,
    /// After how many days to clean and oil it again.
    again_days: MeasuredValue,
}

/// A place that is oiled.
#[derive(Debug, Serialize, JsonSchema)]
struct Step {
    /// When.
    stage: When,
    /// The arbor it is on; null where it is on none.
    arbor: Option<String>,
    /// What kind of oil.
    kind: Sort,
    /// How thick it is, in square millimetres a second at 40 °C; grease by that of its oil.
    viscosity_mm2_per_s: MeasuredValue,
    /// How wide the drop is across, in millimetres; null where it is no drop.
    bead_mm: Option<MeasuredValue>,
    /// Whether its hole was said to be worn.
    worn: bool,
    /// The step in a sentence.
    says: String,
}

/// When a place is oiled.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum When {
    /// Before it is put together.
    Before,
    /// While it is put together.
    Between,
    /// With the plates closed.
    Closed,
    /// Last of all.
    Last,
}

/// A kind of oil.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Sort {
    /// Grease.
    Grease,
    /// Thick oil.
    Thick,
    /// Middling oil.
    Middling,
    /// Thin oil.
    Thin,
}

/// A hole with much side shake.
#[derive(Debug, Serialize, JsonSchema)]
struct Shake {
    /// The arbor.
    arbor: String,
    /// By how much the hole is wider than the pivot, in millimetres.
    shake_mm: MeasuredValue,
    /// The same as a part of the pivot.
    of_the_pivot: MeasuredValue,
}

impl OilAnswer {
    /// The whole plan.
    pub fn of(movement: &Movement, plan: &OilPlan) -> OilAnswer {
        let locale = Locale::default();
        let dry = plan.dry.iter();
        let shaky = plan.shaky.iter().map(|worn| Shake {
            arbor: movement.arbor(worn.arbor).id.clone(),
            shake_mm: measured_value(&worn.shake, Length::as_mm),
            of_the_pivot: measured_value(&worn.part, Number::as_plain),
        });
        OilAnswer {
            answer: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            clean_first: plan.clean_first,
            steps: plan.steps.iter().map(|s| step(movement, s)).collect(),
            dry: dry.map(|d| oil::dry(&locale, movement, *d)).collect(),
            tower: plan.tower,
            side_shake: shaky.collect(),
            look_days: measured_value(&plan.look, Duration::as_days),
            again_days: measured_value(&plan.again, Duration::as_days),
        }
    }
}

fn step(movement: &Movement, step: &workshop::oil::Step) -> Step {
    let arbor = step.place.arbor();
    Step {
        stage: match step.stage {
            OilStage::Before => When::Before,
            OilStage::Between => When::Between,
            OilStage::Closed => When::Closed,
            OilStage::Last => When::Last,
        },
        arbor: arbor.map(|arbor| movement.arbor(arbor).id.clone()),
        kind: match step.kind {
            Lubricant::Grease => Sort::Grease,
            Lubricant::Thick => Sort::Thick,
            Lubricant::Middle => Sort::Middling,
            Lubricant::Thin => Sort::Thin,
        },
        viscosity_mm2_per_s: measured_value(&step.kind.viscosity(), Number::as_plain),
        bead_mm: match &step.much {
            Much::Bead { across, .. } | Much::TopUp { across, .. } => {
                Some(measured_value(across, Length::as_mm))
            }
            _ => None,
        },
        worn: step.worn,
        says: en::breaking(&oil::one(&Locale::default(), movement, step)),
    }
}
