//! When the same teeth meet again: why a scribed mark cannot be trusted to come round.

use movement::{ArborId, MeshId, Movement};
use quantity::{BigInt, Exact};

/// How long until one tooth meets the same tooth again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Meeting {
    /// Whole turns of the driving part.
    pub driver_turns: BigInt,
    /// Whole turns of the driven part.
    pub driven_turns: BigInt,
}

/// Turns of both parts of a mesh until the same two teeth meet again.
///
/// # Formula
/// With `N` teeth driving `n`, `lcm(N, n)` teeth pass: `n / gcd` turns of the driver, `N / gcd` of the driven part.
pub fn meeting(movement: &Movement, mesh: MeshId) -> Meeting {
    let mesh = movement.mesh(mesh);
    let ratio = Exact::new(
        movement.part(mesh.driver).teeth.get().into(),
        movement.part(mesh.driven).teeth.get().into(),
    );
    Meeting {
        driver_turns: ratio.denom().clone(),
        driven_turns: ratio.numer().clone(),
    }
}

/// Whole turns of `arbor` until every mesh of its train stands as it did, tooth for tooth.
pub fn same_teeth_everywhere(movement: &Movement, arbor: ArborId) -> BigInt {
    // The least whole number that makes the turns of every arbor of the train whole as well.
    movement
        .arbors()
        .filter(|(other, _)| movement.same_train(*other, arbor))
        .map(|(other, _)| movement.turns(other) / movement.turns(arbor))
        .fold(BigInt::from(1), |turns, ratio| {
            let left = ratio * Exact::from_integer(turns.clone());
            turns * left.denom()
        })
}
