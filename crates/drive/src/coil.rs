//! How a strip lies coiled: in an annulus, tight on its arbor or out at the barrel's wall.

use std::f64::consts::PI;

/// Coils of a strip wound tight on its arbor.
///
/// # Formula
/// The strip's edge fills a ring from the arbor outward: `π (R² − r²) = L t`, and `N = (R − r)/t`.
///
/// ```
/// // 1396 mm of 0.4 mm on an arbor of 13.333 mm: 20.6 coils.
/// assert!((drive::coils_up(1396.0, 0.4, 13.333) - 20.601).abs() < 0.01);
/// ```
pub fn coils_up(long: f64, thick: f64, arbor: f64) -> f64 {
    let r = arbor / 2.0;
    ((r * r + long * thick / PI).sqrt() - r) / thick
}

/// Coils of a strip that lies at the wall of a barrel; nothing where the barrel has no room for it.
///
/// ```
/// let down = drive::coils_down(1396.0, 0.4, 40.0).unwrap();
/// assert!((down - 12.732).abs() < 0.01);
/// assert!(drive::coils_down(4000.0, 0.4, 40.0).is_none());
/// ```
pub fn coils_down(long: f64, thick: f64, barrel: f64) -> Option<f64> {
    let r = barrel / 2.0;
    let inner = r * r - long * thick / PI;
    (inner > 0.0).then(|| (r - inner.sqrt()) / thick)
}

/// The area between arbor and wall, in square millimetres.
pub fn room(barrel: f64, arbor: f64) -> f64 {
    PI / 4.0 * (barrel * barrel - arbor * arbor)
}

/// Turns of a strip that fills half that area, which are the most a strip of its thickness can give.
///
/// # Formula
/// `N = (√(2 (D² + d²)) − D − d) / (2 t)`.
///
/// ```
/// assert!((drive::turns_by_half(40.0, 40.0 / 3.0, 0.4) - 7.869).abs() < 0.001);
/// ```
pub fn turns_by_half(barrel: f64, arbor: f64, thick: f64) -> f64 {
    ((2.0 * (barrel * barrel + arbor * arbor)).sqrt() - barrel - arbor) / (2.0 * thick)
}
