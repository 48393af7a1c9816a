//! A width measured on a wheel, as degrees of it.

use quantity::{Exact, Length, parse_number};

/// A width, as by a drill that just goes in, and the wheel across where it was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredWidth {
    /// How wide it is.
    pub wide: Length,
    /// Twice the distance from the middle of the arbor.
    pub across: Length,
}

impl MeasuredWidth {
    /// The degrees that it takes of a turn, to the hundredth; nothing where it is none, or wider than its wheel. A chord and
    /// its angle, as in any table of sines.
    pub(crate) fn degrees(&self) -> Option<Exact> {
        let [wide, across] = [self.wide.as_mm(), self.across.as_mm()];
        let part = wide / across;
        if !(part > 0.0 && part < 1.0) {
            return None;
        }
        let degrees = 2.0 * part.asin().to_degrees();
        parse_number(&format!("{degrees:.2}")).ok()
    }
}
