//! The order in which arbors go in.

use super::remesh::{meshes, witnesses};
use super::{First, Version};
use crate::en;
use movement::Movement;
use schemars::JsonSchema;
use serde::Serialize;
use timing::{Held, OrderStep};

/// What `trundle order` answers: the order in which arbors go in.
#[derive(Debug, Serialize, JsonSchema)]
pub struct OrderAnswer {
    /// The version of this answer's form.
    order: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// The arbors, the first to go in first.
    steps: Vec<Step>,
    /// Whether every witness is sure to be in its window if it is followed; else some are to be looked at.
    sure: bool,
    /// Whether there were more orders to compare than are compared: then this one may be the usual one and not the best.
    cut_short: bool,
}

/// An arbor that goes in.
#[derive(Debug, Serialize, JsonSchema)]
struct Step {
    /// The arbor.
    arbor: String,
    /// The meshes that close as it goes in, as driver>driven.
    meshes: Vec<String>,
    /// The witnesses that are set by it.
    settles: Vec<Settle>,
    /// The meshes that may close at any tooth.
    any_tooth: Vec<String>,
    /// The meshes that are set by a later one.
    made_up_later: Vec<String>,
    /// Whether it closes a ring of meshes: it goes in only where all of them fit.
    ring: bool,
    /// Whether it begins a ring that a later arbor closes, and may have to come out again for it.
    ring_later: bool,
    /// Whether it goes in with the plates closed.
    plates_closed: bool,
    /// The witnesses to look at afterwards, as no order is sure to set them.
    check: Vec<String>,
    /// The step in a sentence.
    says: String,
}

/// A witness that is set as an arbor goes in.
#[derive(Debug, Serialize, JsonSchema)]
struct Settle {
    /// The witness.
    id: String,
    /// Where it should stand, in degrees of its arbor.
    best_deg: f64,
    /// Where it may stand, in degrees: from, to.
    window_deg: [f64; 2],
    /// The arbor that is held still meanwhile.
    hold: String,
    /// The moment at which it stands so.
    at: String,
    /// The witness that it is set against; null where it is set at the moment itself.
    against: Option<String>,
    /// The meshes that set it, as driver>driven.
    meshes: Vec<String>,
}

impl OrderAnswer {
    /// The steps in their order.
    pub fn of(movement: &Movement, order: &timing::Order) -> OrderAnswer {
        OrderAnswer {
            order: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            steps: (order.steps.iter())
                .map(|put_in| step(movement, put_in))
                .collect(),
            sure: (order.steps.iter()).all(|put_in| put_in.check.is_empty()),
            cut_short: order.cut_short,
        }
    }
}

fn step(movement: &Movement, step: &OrderStep) -> Step {
    let settles = step.settles.iter().map(|settle| {
        let witness = movement.witness(settle.witness);
        Settle {
            id: witness.id.clone(),
            best_deg: witness.best.to_f64(),
            window_deg: [witness.from.to_f64(), witness.to.to_f64()],
            hold: movement.arbor(settle.hold(movement)).id.clone(),
            at: movement.moment(witness.at).id.clone(),
            against: match settle.held {
                Held::Moment => None,
                Held::Witness(other) => Some(movement.witness(other).id.clone()),
            },
            meshes: meshes(movement, &settle.at),
        }
    });
    Step {
        arbor: movement.arbor(step.arbor).id.clone(),
        meshes: meshes(movement, &step.meshes),
        settles: settles.collect(),
        any_tooth: meshes(movement, &step.any),
        made_up_later: meshes(movement, &step.later),
        ring: step.ring,
        ring_later: step.ring_later,
        plates_closed: step.plates_closed,
        check: witnesses(movement, &step.check),
        says: en::put_in(movement, step),
    }
}
