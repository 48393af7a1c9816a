//! A weight on a cord round a drum, with or without a pulley.

use quantity::{Energy, Known, Length, Mass, Number, Torque, propagate};
use std::f64::consts::PI;

/// What falls here, in metres a second each second: a weight is the same weight within a part in a thousand wherever
/// clocks go.
const G: f64 = 9.81;

/// A weight and what it hangs on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weight {
    /// The weight, with its pulley.
    pub mass: Known<Mass>,
    /// Across the drum.
    pub drum: Known<Length>,
    /// The cord's thickness.
    pub cord: Known<Length>,
    /// Whether the cord goes round a pulley on the weight and back up.
    pub pulley: bool,
    /// How far it can fall.
    pub fall: Option<Known<Length>>,
}

/// What a weight does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeightFall {
    /// On the drum.
    pub torque: Known<Torque>,
    /// Turns of the drum for the whole fall.
    pub turns: Option<Known<Number>>,
    /// Cord on the drum for it.
    pub cord: Option<Known<Length>>,
    /// What it gives in falling.
    pub energy: Option<Known<Energy>>,
}

/// Works a weight.
///
/// # Formula
/// The cord pulls at the middle of its thickness: `T = W (D + c)/2`, half of it over a pulley; `N = F/(π (D + c))`, twice
/// that over a pulley.
/// # Source
/// The Modern Clock, Chicago 1905, pp. 259 and 270-271.
///
/// ```
/// use drive::{Weight, fallen};
/// use quantity::{Known, Length, Mass};
/// // 40 inches of fall on double cord in 16 turns: 5 inches round.
/// let sure = |inch: f64| Known::sure(Length::inch(inch));
/// let weight = Weight {
///     mass: Known::sure(Mass::lb(14.0)),
///     drum: sure(5.0 / std::f64::consts::PI - 0.06),
///     cord: sure(0.06),
///     pulley: true,
///     fall: Some(sure(40.0)),
/// };
/// let turns = fallen(&weight).turns.unwrap();
/// assert!((turns.value.as_plain() - 16.0).abs() < 1e-9);
/// ```
pub fn fallen(weight: &Weight) -> WeightFall {
    let falls = if weight.pulley { 2.0 } else { 1.0 };
    let across = [weight.drum.given(), weight.cord.given()];
    let torque = propagate(
        [weight.mass.given(), across[0], across[1]],
        |[g, drum, cord]| g / 1000.0 * G * (drum + cord) / 2.0 / falls,
    );
    let with = |fall: Known<Length>| fall.given();
    WeightFall {
        torque,
        turns: weight.fall.map(|fall| {
            propagate([with(fall), across[0], across[1]], |[fall, drum, cord]| {
                falls * fall / (PI * (drum + cord))
            })
        }),
        cord: weight
            .fall
            .map(|fall| propagate([with(fall)], |[fall]| falls * fall)),
        energy: weight.fall.map(|fall| {
            propagate([weight.mass.given(), with(fall)], |[g, fall]| {
                g / 1000.0 * G * fall / 1000.0
            })
        }),
    }
}
