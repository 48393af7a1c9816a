//! What someone might read off a movement: one that is sound and was put together wrongly, or anything at all.

use crate::{Dice, Wheels};
use movement::{MeshId, Movement};
use num_traits::ToPrimitive;
use quantity::{Degrees, Exact, whole};
use rand::RngExt;
use rand::seq::IndexedRandom;

/// A witness's id and its reading as written, in degrees and at times with a spread.
pub type Saw = Vec<(String, String)>;

/// Readings of a sound movement in which up to `meshes` meshes that move some witness were closed wrongly: every witness at its best, moved by
/// the shifts, and read a little off. Nothing where the sheet has no witness.
pub fn mismeshed(movement: &Movement, meshes: usize, dice: &mut Dice) -> Saw {
    read_in_part(movement, meshes, 0.8, dice)
}

/// The same, with this chance that a witness is read at all; one of them always is.
pub fn read_in_part(movement: &Movement, meshes: usize, part: f64, dice: &mut Dice) -> Saw {
    let as_it_stood = Wheels::of(movement);
    let moves_some = |mesh: MeshId| {
        let mut shifted = as_it_stood.clone();
        shifted.shift(mesh, 1);
        (movement.witnesses()).any(|(witness, _)| !shifted.ahead(witness).is_zero())
    };
    let telling: Vec<MeshId> = (movement.meshes().map(|(id, _)| id))
        .filter(|&mesh| moves_some(mesh))
        .collect();
    let mut wheels = as_it_stood.clone();
    for _ in 0..meshes {
        let Some(&mesh) = telling.choose(dice) else {
            break;
        };
        let teeth = dice.random_range(1..=5);
        wheels.shift(mesh, if dice.random_bool(0.5) { teeth } else { -teeth });
    }
    some_of(movement, part, dice, |witness, dice| {
        let written = movement.witness(witness);
        // Within a tenth of the window's width either way: an eye that takes care.
        let off = written.width().exact() * quantity::fraction(dice.random_range(-100..=100), 1000);
        &(&written.best + &wheels.ahead(witness)) + &Degrees::deg(off)
    })
}

/// Readings that nobody thought about.
pub fn arbitrary(movement: &Movement, dice: &mut Dice) -> Saw {
    some_of(movement, 0.8, dice, |_, dice| {
        Degrees::deg(quantity::fraction(
            dice.random_range(-400_000..=400_000),
            1000,
        ))
    })
}

/// Part of the witnesses, each read where `place` says, to the hundredth or the thousandth of a degree.
fn some_of(
    movement: &Movement,
    part: f64,
    dice: &mut Dice,
    place: impl Fn(movement::WitnessId, &mut Dice) -> Degrees,
) -> Saw {
    let all: Vec<_> = movement.witnesses().map(|(id, _)| id).collect();
    let always = all.choose(dice).copied();
    let mut saw = Saw::new();
    for witness in all {
        if Some(witness) != always && dice.random_bool(1.0 - part) {
            continue;
        }
        let written = movement.witness(witness);
        let period = written.period();
        let place = quantity::nearest_alike(&place(witness, dice), &period, &written.best);
        let fine = *period.exact() < whole(20) || dice.random_bool(0.5);
        let mut said = decimal(place.exact(), if fine { 3 } else { 1 });
        if dice.random_bool(0.2) {
            let spread = period.exact() * quantity::fraction(dice.random_range(1..=20), 100);
            let spread = decimal(&spread, 4);
            // So fine a place that four figures of its spread are all nothing is read with the spread that is usual.
            if spread.bytes().any(|b| (b'1'..=b'9').contains(&b)) {
                said = format!("{said}~{spread}");
            }
        }
        saw.push((written.id.clone(), said));
    }
    saw
}

/// A number to so many places after the point.
fn decimal(number: &Exact, places: u32) -> String {
    let power = 10i64.pow(places);
    let scaled = (number * whole(power)).round().to_integer();
    let scaled = scaled.to_i64().unwrap_or(0);
    let size = scaled.unsigned_abs();
    let power = power.unsigned_abs();
    let sign = if scaled < 0 { "-" } else { "" };
    let width = usize::try_from(places).unwrap_or(0);
    format!("{sign}{}.{:0width$}", size / power, size % power)
}
