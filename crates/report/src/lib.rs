//! Answers as data to words, JSON and tables. The only place with sentences: those of the pages are in the catalogues that
//! [`words`] reads, a file a language, and those that only the command line says are in [`en`]. Nothing is computed here
//! that another crate computes.

mod again;
pub mod assumed;
pub mod boxes;
mod changed;
pub mod count;
mod described;
pub mod en;
mod faults;
pub mod json;
pub mod listen;
mod machine;
pub mod measures;
mod odd;
pub mod oil;
pub mod page;
pub mod pendulum;
pub mod power;
mod question;
mod setting;
pub mod stages;
pub mod tables;
mod trouble;
mod voice;
pub mod words;
pub mod work;

pub use again::count_again;
pub use changed::changed;
pub use described::{kind_asks, kind_choice, not_described, strike_kind};
pub use faults::{FaultText, fault, more_faults};
pub use machine::{machine, refusal};
pub use odd::warnings;
pub use question::{no_windows_of, unanswered};
pub use setting::setting;
pub use trouble::book_trouble;
pub use voice::{Voice, field};
pub use words::{Args, Key, Lang, Length, Locale, Sentence, TextRun, Units, Usage};

use kinematics::step;
use movement::{ArborId, MeshId, MeshSide, Movement, Plate, Turning};
use timing::{Shift, ShiftWay, Turn};

/// The way the far arbor of a shift turns, as seen from a plate; nothing where both ways come to the same.
pub fn way_seen(movement: &Movement, shift: &Shift, from: Plate) -> Option<Turning> {
    let runs = movement.runs(movement.far_arbor(shift.mesh)?, from);
    match shift.way {
        ShiftWay::Ahead => Some(runs),
        ShiftWay::Back => Some(runs.reversed()),
        ShiftWay::Either => None,
    }
}

/// Which way what goes is turned, as seen from a plate; nothing where both ways come to the same.
pub fn turn_seen(movement: &Movement, turn: &Turn, from: Plate) -> Option<Turning> {
    let runs = movement.runs(turn.arbor, from);
    match turn.way {
        ShiftWay::Ahead => Some(runs),
        ShiftWay::Back => Some(runs.reversed()),
        ShiftWay::Either => None,
    }
}

/// The arbor on the near side of a mesh that can be shifted.
pub fn near_arbor(movement: &Movement, mesh: MeshId) -> Option<ArborId> {
    let near = match movement.far_side(mesh)? {
        MeshSide::Driver => MeshSide::Driven,
        MeshSide::Driven => MeshSide::Driver,
    };
    Some(movement.mesh(mesh).part(near).arbor)
}

/// The other meshes of an arbor that is lifted: those that must stay together, since a witness lies beyond or a loop would
/// open, and those that may come apart.
pub fn others(movement: &Movement, lifted: ArborId, opened: MeshId) -> (Vec<MeshId>, Vec<MeshId>) {
    movement
        .meshes()
        .filter(|(id, mesh)| {
            *id != opened && [mesh.driver.arbor, mesh.driven.arbor].contains(&lifted)
        })
        .map(|(id, _)| id)
        .partition(|&mesh| {
            movement
                .witnesses()
                .any(|(w, _)| step(movement, mesh, w).is_none_or(|step| !step.is_zero()))
        })
}
