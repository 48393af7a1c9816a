//! A wide swing takes longer than a narrow one.

use super::DAY;
use quantity::{Known, Number, Rate, Slant, propagate};
use std::f64::consts::FRAC_PI_2;

/// The complete elliptic integral of the first kind, of the parameter `m = k²`.
///
/// # Formula
/// `K(m) = π / (2 agm(1, √(1 − m)))`: means of the two kinds, taken of each other until they are one.
///
/// ```
/// let k = workshop::pendulum::elliptic_k(0.5);
/// assert!((k - 1.854074677301372).abs() < 1e-14);
/// ```
pub fn elliptic_k(m: f64) -> f64 {
    let (mut a, mut b) = (1.0_f64, (1.0 - m).sqrt());
    // The distance squares at each step: eight are more than enough below m = 1 − 1e-15.
    for _ in 0..12 {
        (a, b) = (f64::midpoint(a, b), (a * b).sqrt());
    }
    FRAC_PI_2 / a
}

/// How much longer a swing to this angle on either side takes than one that is hardly any.
///
/// # Formula
/// `T/T₀ = (2/π) K(sin²(α/2))`.
/// # Source
/// E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., pp. 34-35, for its first term.
pub fn slower(half_arc: Known<Slant>) -> Known<Number> {
    propagate([half_arc.given()], |[deg]| swing(deg))
}

fn swing(deg: f64) -> f64 {
    elliptic_k((deg.to_radians() / 2.0).sin().powi(2)) / FRAC_PI_2
}

/// What a clock gains in a day when its half arc goes from one angle to another.
pub fn wider(from: Known<Slant>, to: Known<Slant>) -> Known<Rate> {
    propagate([from.given(), to.given()], |[from, to]| {
        DAY * (swing(from) / swing(to) - 1.0)
    })
}
