//! A width measured on a wheel, as degrees of it.

use quantity::{Exact, Known, Length, Number, fraction, parse_number, propagate, whole};

/// A width, as by a drill that just goes in, and the wheel across where it was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredWidth {
    /// How wide it is.
    pub wide: Known<Length>,
    /// Twice the distance from the middle of the arbor.
    pub across: Known<Length>,
}

/// A width in degrees, to the hundredth, and how surely, to the next hundredth.
pub(crate) struct WidthInDegrees {
    pub(crate) is: Exact,
    pub(crate) spread: Exact,
}

impl MeasuredWidth {
    /// The degrees that it takes of a turn; nothing where it is none, or as wide as its wheel.
    ///
    /// # Formula
    /// A chord and its angle, `2·asin(wide / across)`, as in any table of sines; the spread by the first-order law.
    pub(crate) fn degrees(&self) -> Option<WidthInDegrees> {
        let angle = |[wide, across]: [f64; 2]| 2.0 * (wide / across).asin().to_degrees();
        let known: Known<Number> = propagate([self.wide.given(), self.across.given()], angle);
        let part = self.wide.value.as_mm() / self.across.value.as_mm();
        if !(part > 0.0 && part < 1.0 && known.is_finite()) {
            return None;
        }
        let is = parse_number(&format!("{:.2}", known.value.as_plain())).ok()?;
        let spread = Exact::from_float((known.spread.as_plain() * 100.0).ceil())?;
        Some(WidthInDegrees {
            is,
            spread: (spread / whole(100)).max(fraction(1, 100)),
        })
    }
}
