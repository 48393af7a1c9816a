//! What the air does to a bob: it bears a part of it, and a part of it swings along.

use super::DAY;
use quantity::{Density, Known, Number, Rate, propagate};

/// How much more than the bare buoyancy: the air that swings along adds as much again and more. Between the 1.9 that goes with
/// 0.3 s a day for each inch of mercury and the 2.7 that goes with 13 s a day from air to vacuum (E. Beckett, A Rudimentary
/// Treatise on Clocks, 8th ed., pp. 71 and 73).
fn dragged() -> Known<Number> {
    Known::new(Number::plain(2.3), Number::plain(0.4))
}

/// Air at a temperature and a pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// In degrees Celsius.
    pub celsius: f64,
    /// In hectopascals, which are millibars.
    pub hectopascals: f64,
}

impl Air {
    /// A warm room at the sea.
    pub const USUAL: Air = Air {
        celsius: 20.0,
        hectopascals: 1013.25,
    };
}

/// How dense dry air is.
///
/// # Formula
/// `ρ = p M / (R T)`, `M` = 0.0289652 kg/mol, `R` = 8.31446 J/(mol K) (from memory).
///
/// ```
/// use workshop::pendulum::{Air, air};
/// let rho = air(Air { celsius: 20.0, hectopascals: 1013.25 }).value.as_kg_per_m3();
/// assert!((rho - 1.204).abs() < 0.001);
/// ```
pub fn air(air: Air) -> Known<Density> {
    let rho = 100.0 * air.hectopascals * 0.028_965_2 / (8.314_46 * (273.15 + air.celsius));
    // Damp air is up to one part in a hundred lighter.
    Known::within(Density::kg_per_m3(rho), 0.005)
}

/// What a clock gains in a day over the same in no air; it loses.
pub fn buoyed(bob: Known<Density>, air: Known<Density>) -> Known<Rate> {
    propagate(
        [bob.given(), air.given(), dragged().given()],
        |[bob, air, dragged]| DAY * ((1.0 - dragged * air / bob).sqrt() - 1.0),
    )
}

/// What it gains in a day when the air goes from one density to another.
pub fn thinner(bob: Known<Density>, from: Known<Density>, to: Known<Density>) -> Known<Rate> {
    propagate(
        [bob.given(), from.given(), to.given(), dragged().given()],
        |[bob, from, to, dragged]| {
            let slow = |air: f64| (1.0 - dragged * air / bob).sqrt();
            DAY * (slow(to) / slow(from) - 1.0)
        },
    )
}
