//! Pendulums: how long for a train and back, where, how wide, how warm, in what air; what a nut or a small weight does.
//!
//! Lengths are those of the simple pendulum, from the bend of the suspension to the centre of swing; [`swing`] gives
//! that of a pendulum with a rod and a bob. It knows no escapement: what one does to the rate is not reckoned.

mod air;
mod answer;
mod arc;
mod gravity;
mod rating;
mod rod;
mod suspension;
mod swing;
mod torsion;

pub use air::{Air, air, buoyed, thinner};
pub use answer::{
    Asked, BY_THE_BOB, NoPendulum, NutTurned, PendulumResult, Want, answer, by_the_bob,
};
pub use arc::{elliptic_k, slower, wider};
pub use gravity::{anywhere, gravity, somigliana};
pub use rating::{Nut, by_length, change_for, laid_on, nut_turn, on_the_shoulder, turns_for};
pub use rod::{Rod, warmer};
pub use suspension::{
    Bend, Load, OtherSuspension, Suspension, SuspensionStrip, bend, other_suspension,
};
pub use swing::{Lump, Swing, SwingFault, swing};
pub use torsion::{Ribbon, Wheel, thickness_for, torsion};

use movement::{ArborId, Movement, PartId};
use quantity::{Exact, Gravity, Known, Length, Number, Pace, Tool, propagate};
use std::f64::consts::PI;

/// Seconds in an hour and in a day.
pub(crate) const HOUR: f64 = 3600.0;
pub(crate) const DAY: f64 = 86400.0;

/// Beats an hour of a pendulum of this length that swings hardly at all.
///
/// # Formula
/// A beat takes `π √(L/g)`.
/// # Source
/// The Modern Clock, Chicago 1905, p. 12; E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., p. 35.
///
/// ```
/// use quantity::{Gravity, Known, Length};
/// use workshop::pendulum::beats;
/// let g = Known::sure(Gravity::m_per_s2(9.812));
/// let beats = beats(Known::sure(Length::inch(39.14)), g);
/// assert!((beats.value.as_per_hour() - 3600.0).abs() < 0.05);
/// ```
pub fn beats(length: Known<Length>, gravity: Known<Gravity>) -> Known<Pace> {
    propagate([length.given(), gravity.given()], |[mm, g]| {
        HOUR / (PI * (mm / 1000.0 / g).sqrt())
    })
}

/// The length of a pendulum that beats so often when it swings so much slower than one that hardly swings.
///
/// # Formula
/// `L = g (t / π)² / slower²`, `t` the time of a beat.
pub fn length(beats: Known<Pace>, gravity: Known<Gravity>, slower: Known<Number>) -> Known<Length> {
    propagate(
        [beats.given(), gravity.given(), slower.given()],
        |[per_hour, g, slower]| 1000.0 * g * (HOUR / per_hour / PI / slower).powi(2),
    )
}

/// The toothed part that the pallets work in: on the arbor whose sheet tells of a pendulum, or else the one part that
/// nothing meshes with on an arbor that drives nothing; of several such parts, the one that is called an escape wheel.
pub fn escape_wheel(movement: &Movement) -> Option<PartId> {
    let meshed = |part: PartId| {
        movement
            .meshes()
            .any(|(_, mesh)| mesh.driver == part || mesh.driven == part)
    };
    let free = |arbor: ArborId| {
        movement
            .parts(arbor)
            .map(|(id, _)| id)
            .filter(|id| !meshed(*id))
            .collect::<Vec<_>>()
    };
    let tells = |arbor: ArborId| {
        let measured = &movement.arbor(arbor).measured;
        let of_it = ["pendulum_", "suspension_"];
        (measured.iter()).any(|(key, _)| of_it.iter().any(|stem| key.starts_with(stem)))
    };
    let drives = |arbor: ArborId| movement.meshes().any(|(_, m)| m.driver.arbor == arbor);
    let told = movement.arbors().map(|(id, _)| id).find(|id| tells(*id));
    if let Some(arbor) = told {
        return free(arbor).first().copied();
    }
    let last: Vec<PartId> = movement
        .arbors()
        .map(|(id, _)| id)
        .filter(|id| !drives(*id))
        .flat_map(free)
        .collect();
    let named = |id: &&PartId| {
        let arbor = movement.arbor(id.arbor);
        arbor.id.contains("escape") || movement.part(**id).name.contains("escape")
    };
    match last[..] {
        [one] => Some(one),
        _ => last.iter().find(named).copied(),
    }
}

/// The length of the pendulum on the sheet: `pendulum_mm` on the escape wheel's arbor, with the spread of a rule.
pub fn length_on_sheet(movement: &Movement, escape: ArborId) -> Option<Known<Length>> {
    // A rule beside a pendulum that hangs (common practice, no source).
    let rule = Tool {
        least: 1.0,
        part: 0.005,
    };
    movement
        .arbor(escape)
        .known("pendulum_mm", Length::mm, rule)
}

/// Where a train lets its pendulum or balance go on, beat by beat.
#[derive(Debug, Clone, PartialEq)]
pub struct Escapement {
    /// The arbor.
    pub arbor: ArborId,
    /// The wheel that the pallets work in, where the sheet has it.
    pub wheel: Option<PartId>,
    /// Beats in one turn of the arbor, where the sheet tells them; else there are two for each tooth of the wheel.
    pub told: Option<Exact>,
}

/// The escapement: on the arbor that tells its beats, as that of a gravity escapement with three legs does, or else where
/// the escape wheel is.
pub fn escapement(movement: &Movement) -> Option<Escapement> {
    let told = movement.arbors().find_map(|(id, arbor)| {
        let beats = arbor.beats_per_turn.clone()?;
        Some(Escapement {
            arbor: id,
            wheel: escape_wheel(movement).filter(|wheel| wheel.arbor == id),
            told: Some(beats),
        })
    });
    told.or_else(|| escape_wheel(movement).map(|wheel| of_wheel(movement, wheel)))
}

/// The escapement of an escape wheel.
pub fn of_wheel(movement: &Movement, wheel: PartId) -> Escapement {
    Escapement {
        arbor: wheel.arbor,
        wheel: Some(wheel),
        told: movement.arbor(wheel.arbor).beats_per_turn.clone(),
    }
}

/// Beats in one turn of an escapement's arbor: as told, or two for each tooth of its wheel.
pub fn beats_per_turn(movement: &Movement, escapement: &Escapement) -> Option<Exact> {
    escapement.told.clone().or_else(|| {
        let teeth = movement.part(escapement.wheel?).teeth.get();
        Some(quantity::whole(2 * i64::from(teeth)))
    })
}

/// Beats an hour that the train asks for; nothing where no time is known. Whatever reckons with a train's beats asks here.
pub fn train_beats(movement: &Movement, escapement: &Escapement) -> Option<Exact> {
    let turns = kinematics::per_hour(movement, escapement.arbor)?;
    Some(turns * beats_per_turn(movement, escapement)?)
}
