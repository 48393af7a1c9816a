//! Exact angles in degrees.

use crate::{DecimalError, Exact, parse_decimal, to_f64, whole};
use num_traits::{Signed, Zero};
use std::ops::{Add, Mul, Neg, Sub};

/// An exact angle, in degrees of the arbor it is said of. Ahead is positive.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Degrees(Exact);

impl Degrees {
    /// So many degrees.
    pub fn deg(degrees: Exact) -> Degrees {
        Degrees(degrees)
    }

    /// So many turns.
    pub fn turns(turns: &Exact) -> Degrees {
        Degrees(turns * whole(360))
    }

    /// No angle at all.
    pub fn zero() -> Degrees {
        Degrees(Exact::zero())
    }

    /// A plain decimal number of degrees, exactly as written.
    ///
    /// # Errors
    /// As [`parse_decimal`].
    pub fn parse(text: &str) -> Result<Degrees, DecimalError> {
        parse_decimal(text).map(Degrees)
    }

    /// The exact number of degrees.
    pub fn exact(&self) -> &Exact {
        &self.0
    }

    /// The nearest floating-point number of degrees.
    pub fn to_f64(&self) -> f64 {
        to_f64(&self.0)
    }

    /// Whether it is no angle at all.
    pub fn is_zero(&self) -> bool {
        self.0.is_zero()
    }

    /// Without its sign.
    pub fn abs(&self) -> Degrees {
        Degrees(self.0.abs())
    }
}

impl Add for &Degrees {
    type Output = Degrees;
    fn add(self, other: &Degrees) -> Degrees {
        Degrees(&self.0 + &other.0)
    }
}

impl Sub for &Degrees {
    type Output = Degrees;
    fn sub(self, other: &Degrees) -> Degrees {
        Degrees(&self.0 - &other.0)
    }
}

impl Mul<&Exact> for &Degrees {
    type Output = Degrees;
    fn mul(self, by: &Exact) -> Degrees {
        Degrees(&self.0 * by)
    }
}

impl Neg for &Degrees {
    type Output = Degrees;
    fn neg(self) -> Degrees {
        Degrees(-&self.0)
    }
}

/// The angle alike to `place` (a whole number of `period`s away) that lies nearest `best`; of two as near, the one ahead.
///
/// ```
/// use quantity::{Degrees, nearest_alike};
/// let d = |s: &str| Degrees::parse(s).unwrap();
/// assert_eq!(nearest_alike(&d("-435"), &d("360"), &d("-75")), d("-75"));
/// ```
pub fn nearest_alike(place: &Degrees, period: &Degrees, best: &Degrees) -> Degrees {
    let off = (&place.0 - &best.0) / &period.0;
    // floor(off + 1/2) would take a half to the place behind; ceil(off - 1/2) takes it to the place ahead.
    let periods = (off - Exact::new(1.into(), 2.into())).ceil();
    Degrees(&place.0 - periods * &period.0)
}
