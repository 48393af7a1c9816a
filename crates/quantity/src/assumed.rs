//! Figures that are held to be so because nobody measured them on the clock at hand: each is named once, in the crate that
//! goes by it, with [`assumed!`](crate::assumed). What it is for, and why it is so, is said elsewhere.

use crate::{Known, Measure};

/// What such a figure is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AssumedUnit {
    /// A part of a whole: of cases, of a length, of what was written.
    Part,
    /// Half the width of a witness's window.
    HalfWindow,
    /// The width of a witness's window.
    Window,
    /// Degrees.
    Deg,
    /// Openings of the plates.
    Opening,
    /// Teeth.
    Tooth,
    /// Turns.
    Turn,
    /// Millimetres.
    Mm,
    /// Grams.
    Gram,
    /// Newtons on a square millimetre.
    Stress,
    /// Seconds.
    Second,
    /// Seconds a day.
    SecondADay,
    /// Years.
    Year,
    /// Degrees of the Celsius scale.
    Celsius,
    /// Parts in a million.
    Ppm,
    /// Spreads of a measurement.
    Spread,
    /// Nothing: a ratio.
    Ratio,
}

/// Where such a figure is gone by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// Timing with a log only.
    WithLog,
    /// Timing without a log only.
    WithoutLog,
    /// Timing, with a log and without.
    Both,
    /// Sums that no log comes into.
    NoLog,
}

/// A figure that is held to be so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assumed {
    /// Its name.
    pub id: &'static str,
    /// The figure.
    pub value: f64,
    /// One standard deviation, where one is carried along.
    pub spread: f64,
    /// What both are counted in.
    pub unit: AssumedUnit,
    /// Where it is gone by.
    pub holds: Holds,
}

impl Assumed {
    /// With its spread, as a quantity whose sums are done in the unit of the row.
    pub fn with_spread<Q: Measure>(&self) -> Known<Q> {
        Known::new(Q::of(self.value), Q::of(self.spread))
    }
}

/// The figures that a crate holds to be so, a row each, `NAME = "name", value +- spread, Unit, Holds;`: a constant of each,
/// and `ASSUMED`, all of them.
#[macro_export]
macro_rules! assumed {
    ($($name:ident = $id:literal, $value:literal $(+- $spread:literal)?, $unit:ident, $holds:ident;)*) => {
        $(
            #[doc = concat!("A row of the table of what is assumed: `", $id, "`.")]
            pub const $name: $crate::Assumed = $crate::Assumed {
                id: $id,
                value: $value,
                spread: 0.0 $(+ $spread)?,
                unit: $crate::AssumedUnit::$unit,
                holds: $crate::Holds::$holds,
            };
        )*
        /// All that is assumed here.
        pub const ASSUMED: &[$crate::Assumed] = &[$($name),*];
    };
}
