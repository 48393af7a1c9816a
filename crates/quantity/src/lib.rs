//! Quantities: what is counted is exact, what is measured has its unit in its name.
//!
//! Tooth counts, turns and degrees that follow from counts are rational numbers and compare with `==`.
//! Spreads and chances come from nature and are floating point. This crate knows nothing of clocks beyond that.

mod assumed;
mod chance;
mod count;
mod decimal;
mod degrees;
mod known;
mod scatter;
mod several;
pub mod tools;
mod typed;
mod written;

pub use assumed::{Assumed, AssumedUnit, Holds};
pub use chance::{Chance, Spread};
pub use count::{Bounds, Repeats, Teeth};
pub use decimal::{
    DecimalError, decimal_of, parse_decimal, parse_number, plain_decimal, two_figures,
};
pub use degrees::{Degrees, nearest_alike};
pub use known::{
    Density, Duration, Energy, Given, Gravity, Known, Length, Mass, Measure, Number, Pace, Rate,
    Slant, Stress, Tool, Torque, Warmth, propagate,
};
pub use scatter::{gathered, scattered};
pub use typed::{MOST_TYPED, SpreadFrom, Typed, parse_known, typed, typed_in};
pub use written::{Unwritten, Writable, WrittenUnit};

/// An exact ratio of whole numbers of any size, always in lowest terms.
pub type Exact = num_rational::BigRational;

pub use num_bigint::BigInt;

/// `n` as an exact number.
pub fn whole(n: i64) -> Exact {
    Exact::from_integer(BigInt::from(n))
}

/// `n / d` as an exact number.
///
/// # Panics
/// If `d` is zero.
pub fn fraction(n: i64, d: i64) -> Exact {
    Exact::new(BigInt::from(n), BigInt::from(d))
}

/// The nearest floating-point number, for printing and for chances; never for a decision that counts make.
pub fn to_f64(x: &Exact) -> f64 {
    use num_traits::ToPrimitive;
    // A ratio always converts; one too large for the type becomes infinite, which `clamp` keeps printable.
    x.to_f64().unwrap_or(0.0).clamp(-f64::MAX, f64::MAX)
}
