//! What follows from several measurements where their sum has a corner: the first-order law of [`crate::propagate`] is blind to
//! what lies beyond it.

use crate::{Given, Known, Measure};
use std::f64::consts::TAU;
use std::sync::LazyLock;

/// As many numbers as can be scattered at once.
const MOST: usize = 10;

/// Means are within a thousandth of a spread, and spreads within two hundredths, of sums a thousand times as long.
const DRAWS: u32 = 16_384;

/// Draws of a normal distribution, the same ones each time.
///
/// # Formula
/// Multiples of the roots of primes, without their whole parts, fill a box evenly; two of them make two normal draws:
/// `√(−2 ln u) cos 2πv`, `√(−2 ln u) sin 2πv`.
/// # Source
/// R. D. Richtmyer, 1951, for the multiples; G. E. P. Box and M. E. Muller, 1958, for the draws; both from memory.
static NORMAL: LazyLock<Vec<[f64; MOST]>> = LazyLock::new(|| {
    let roots = [2.0_f64, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0].map(f64::sqrt);
    let draw = |i: u32| {
        let even = roots.map(|root| (f64::from(i) * root).fract());
        let mut normal = [0.0; MOST];
        for pair in 0..MOST / 2 {
            let far = (-2.0 * even[2 * pair].ln()).sqrt();
            let (sin, cos) = (TAU * even[2 * pair + 1]).sin_cos();
            (normal[pair], normal[MOST / 2 + pair]) = (far * cos, far * sin);
        }
        normal
    };
    (1..=DRAWS).map(draw).collect()
});

/// Numbers as they may truly be, each as often as it is likely: all of them independent, each normal.
///
/// # Panics
/// With more than ten numbers.
pub fn scattered<const N: usize>(from: [Given; N]) -> impl Iterator<Item = [f64; N]> {
    assert!(N <= MOST, "at most {MOST} numbers are scattered at once");
    NORMAL.iter().map(move |normal| {
        let mut drawn = from.map(|x| x.value);
        for i in 0..N {
            drawn[i] += normal[i] * from[i].spread;
        }
        drawn
    })
}

/// The mean of what was drawn, and its spread; nothing where nothing was.
///
/// ```
/// use quantity::{Given, Known, Number, gathered, scattered};
/// // A normal about 0 that is cut off there has the mean 1/√(2π) and the variance (1 − 1/π)/2.
/// let cut = scattered([Given { value: 0.0, spread: 1.0 }]).map(|[x]| x.max(0.0));
/// let cut: Known<Number> = gathered(cut).unwrap();
/// assert!((cut.value.as_plain() - 0.39894).abs() < 0.001);
/// assert!((cut.spread.as_plain() - 0.58378).abs() < 0.002);
/// ```
pub fn gathered<Q: Measure>(drawn: impl Iterator<Item = f64>) -> Option<Known<Q>> {
    let (mut count, mut mean, mut squares) = (0.0, 0.0, 0.0);
    for x in drawn {
        count += 1.0;
        let off = x - mean;
        mean += off / count;
        squares += off * (x - mean);
    }
    (count > 0.0).then(|| Known::new(Q::of(mean), Q::of((squares / count).sqrt())))
}
