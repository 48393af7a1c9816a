//! Pendulums that are more than a point on a thread: rod, bob, nut, each with its own weight and extent.

use quantity::{Known, Length, Mass};

/// A piece of a pendulum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lump {
    /// So small that only its place counts.
    Point {
        /// Its mass.
        mass: Known<Mass>,
        /// How far below the suspension; above it, less than nothing.
        below: Known<Length>,
    },
    /// A rod of one thickness.
    Rod {
        /// Its mass.
        mass: Known<Mass>,
        /// Where it begins below the suspension.
        from: Known<Length>,
        /// Where it ends.
        to: Known<Length>,
    },
    /// A lens or disc that swings in its own plane.
    Disc {
        /// Its mass.
        mass: Known<Mass>,
        /// How far its middle is below the suspension.
        below: Known<Length>,
        /// Its radius.
        radius: Known<Length>,
    },
}

impl Lump {
    fn mass(&self) -> f64 {
        let (Lump::Point { mass, .. } | Lump::Rod { mass, .. } | Lump::Disc { mass, .. }) = self;
        mass.value.as_g()
    }
}

/// How a compound pendulum swings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    /// The length of the simple pendulum that swings with it.
    pub length: Known<Length>,
    /// How far its weight hangs below the suspension.
    pub centre: Known<Length>,
    /// Its mass.
    pub mass: Known<Mass>,
}

/// Why it does not swing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum SwingFault {
    /// Nothing is there.
    #[error("a pendulum of nothing")]
    Nothing,
    /// Its weight lies in the suspension or above: it falls over.
    #[error("the weight lies in the suspension or above")]
    TopHeavy,
}

/// The simple pendulum that swings with a compound one.
///
/// # Formula
/// `L = Σ m (d² + k²) / Σ m d`; of a rod `k² = l²/12`, of a disc `r²/2`.
/// # Source
/// E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., pp. 37-38; The Modern Clock, Chicago 1905, p. 15.
///
/// # Errors
/// That nothing is there, or that it would not hang down.
pub fn swing(lumps: &[Lump]) -> Result<Swing, SwingFault> {
    let total: f64 = lumps.iter().map(Lump::mass).sum();
    if lumps.is_empty() || total <= 0.0 {
        return Err(SwingFault::Nothing);
    }
    if moments(lumps, usize::MAX, 0.0).first <= 1e-9 * total {
        return Err(SwingFault::TopHeavy);
    }
    let over = |lumps: &[Lump], f: &dyn Fn(Moments) -> f64| -> (f64, f64) {
        let value = f(moments(lumps, usize::MAX, 0.0));
        let variance: f64 = (0..3 * lumps.len())
            .map(|i| {
                let [up, down] = [1.0, -1.0].map(|by| f(moments(lumps, i, by)));
                ((up - down) / 2.0).powi(2)
            })
            .sum();
        (value, variance.sqrt())
    };
    let known = |(value, spread): (f64, f64)| Known::new(Length::mm(value), Length::mm(spread));
    let mass = over(lumps, &|of| of.mass);
    Ok(Swing {
        length: known(over(lumps, &|of| of.second / of.first)),
        centre: known(over(lumps, &|of| of.first / of.mass)),
        mass: Known::new(Mass::g(mass.0), Mass::g(mass.1)),
    })
}

/// The moments of mass about the point that it hangs from, in grams and millimetres.
#[derive(Default)]
struct Moments {
    /// `Σ m d`
    first: f64,
    /// `Σ m (d² + k²)`
    second: f64,
    /// `Σ m`
    mass: f64,
}

/// The moments with the measurement of this number moved by so many of its spreads.
fn moments(lumps: &[Lump], moved: usize, by: f64) -> Moments {
    let mut sums = Moments::default();
    for (i, lump) in lumps.iter().enumerate() {
        let at = |which: usize, value: f64, spread: f64| {
            value
                + if moved == 3 * i + which {
                    by * spread
                } else {
                    0.0
                }
        };
        let mass = |m: &Known<Mass>| at(0, m.value.as_g(), m.spread.as_g());
        let long = |which: usize, l: &Known<Length>| at(which, l.value.as_mm(), l.spread.as_mm());
        let (m, d, k2) = match lump {
            Lump::Point { mass: m, below } => (mass(m), long(1, below), 0.0),
            Lump::Rod { mass: m, from, to } => {
                let (from, to) = (long(1, from), long(2, to));
                (mass(m), (from + to) / 2.0, (to - from).powi(2) / 12.0)
            }
            Lump::Disc {
                mass: m,
                below,
                radius,
            } => (mass(m), long(1, below), long(2, radius).powi(2) / 2.0),
        };
        sums.first += m * d;
        sums.second += m * (d * d + k2);
        sums.mass += m;
    }
    sums
}
