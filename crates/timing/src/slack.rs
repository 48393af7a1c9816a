//! What lash does to a reading of a train that is not pressed on.
//!
//! Pressed on, each driven part lies back against its driver. Loose, it may lie anywhere in its free travel, ahead of there;
//! so what lies beyond on the driven side reads further ahead than it will stand, and on the driver's side further
//! back, by half the travel on average.

use crate::assumed::USUAL_LASH;
use kinematics::speed;
use movement::{MeshSide, Movement, WitnessId};
use quantity::{Exact, to_f64};

/// The free travel between a witness and its moment's arbor, over each mesh between them, in degrees of the witness.
#[derive(Debug, Clone)]
pub(crate) struct Play {
    travel: Vec<f64>,
}

impl Play {
    pub(crate) fn of(movement: &Movement, id: WitnessId) -> Play {
        let witness = movement.witness(id);
        let moment = movement.moment(witness.at).arbor;
        let travel = movement
            .meshes()
            .filter(|(mesh, _)| {
                movement.beyond(*mesh, witness.on) != movement.beyond(*mesh, moment)
            })
            .filter_map(|(mesh, it)| {
                // The witness is on the driven side if the driven part is far and it lies beyond, or neither.
                let driven_far = movement.far_side(mesh)? == MeshSide::Driven;
                let on_driven = driven_far == movement.beyond(mesh, witness.on);
                let teeth = it.lash_teeth.as_ref().map_or(USUAL_LASH.value, to_f64);
                let part = if on_driven { it.driven } else { it.driver };
                let turns = speed(movement, witness.on, part.arbor)?
                    / Exact::from_integer(movement.part(part).teeth.get().into());
                let degrees = teeth * 360.0 * to_f64(&turns);
                Some(if on_driven { degrees } else { -degrees })
            })
            .collect();
        Play { travel }
    }

    /// How much further ahead a loose train reads on average, and with what variance: each mesh anywhere in its travel,
    /// all as likely.
    pub(crate) fn slack(&self) -> (f64, f64) {
        (
            self.travel.iter().map(|travel| 0.5 * travel).sum(),
            self.travel
                .iter()
                .map(|travel| travel * travel / 12.0)
                .sum(),
        )
    }
}
