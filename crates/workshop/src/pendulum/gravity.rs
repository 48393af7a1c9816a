//! What falls, and how fast, at a place.

use quantity::{Gravity, Known, Length, Slant, propagate};

/// Constants of the ellipsoid of 1984 in the edition of TR8350.2 (gravity at the equator, Somigliana's k, e², half axis,
/// flattening, and ω²a²b/GM).
const EQUATOR: f64 = 9.780_325_335_9;
const K: f64 = 0.001_931_852_652_41;
const E2: f64 = 0.006_694_379_990_13;
const A: f64 = 6_378_137.0;
const F: f64 = 1.0 / 298.257_223_563;
const OMEGA: f64 = 7.292_115e-5;
const GM: f64 = 3.986_004_418e14;

/// True gravity strays from the ellipsoid's by some hundredths of a thousandth, with what lies in the ground (from memory:
/// 0.0003 m/s² is a common anomaly).
const GROUND: f64 = 3e-4;

/// Gravity on the ellipsoid.
///
/// # Formula
/// `γ = γₑ (1 + k sin²φ) / √(1 − e² sin²φ)` (Somigliana).
/// # Source
/// NIMA TR8350.2 for the constants.
///
/// ```
/// use quantity::Slant;
/// let g = workshop::pendulum::somigliana(Slant::deg(45.0)).as_m_per_s2();
/// assert!((g - 9.8061977694).abs() < 1e-9);
/// ```
pub fn somigliana(latitude: Slant) -> Gravity {
    let s2 = latitude.as_deg().to_radians().sin().powi(2);
    Gravity::m_per_s2(EQUATOR * (1.0 + K * s2) / (1.0 - E2 * s2).sqrt())
}

/// Gravity at a latitude and a height above the sea.
///
/// # Formula
/// `γ(h) = γ (1 − 2h/a (1 + f + m − 2f sin²φ) + 3h²/a²)`, `m = ω²a²b/GM`.
/// # Source
/// NIMA TR8350.2 (the formula of second order).
pub fn gravity(latitude: Known<Slant>, height: Known<Length>) -> Known<Gravity> {
    let place: Known<Gravity> = propagate([latitude.given(), height.given()], |[deg, mm]| {
        let h = mm / 1000.0;
        let s2 = deg.to_radians().sin().powi(2);
        let m = OMEGA * OMEGA * A * A * (A * (1.0 - F)) / GM;
        let up = 1.0 - 2.0 * h / A * (1.0 + F + m - 2.0 * F * s2) + 3.0 * (h / A).powi(2);
        somigliana(Slant::deg(deg)).as_m_per_s2() * up
    });
    let spread = place.spread.as_m_per_s2().hypot(GROUND);
    Known::new(place.value, Gravity::m_per_s2(spread))
}

/// Gravity where nothing is said of the place: half way from equator to pole, and wide enough for wherever clocks go.
pub fn anywhere() -> Known<Gravity> {
    Known::new(Gravity::m_per_s2(9.806), Gravity::m_per_s2(0.01))
}
