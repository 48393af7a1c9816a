//! What is never certain: a spread, and a chance.

/// One standard deviation of a measured angle, in degrees; finite and greater than zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Spread(f64);

impl Spread {
    /// A spread of so many degrees; nothing for zero, less, or what is no number.
    pub fn deg(degrees: f64) -> Option<Spread> {
        (degrees.is_finite() && degrees > 0.0).then_some(Spread(degrees))
    }

    /// In degrees.
    pub fn as_deg(self) -> f64 {
        self.0
    }
}

/// A probability, from 0 to 1 with both ends.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Chance(f64);

impl Chance {
    /// `p` as a chance; rounding of sums just outside 0 and 1 is taken to the end, and no number is no chance at all.
    pub fn of(p: f64) -> Chance {
        if p.is_nan() {
            Chance(0.0)
        } else {
            Chance(p.clamp(0.0, 1.0))
        }
    }

    /// As a number from 0 to 1.
    pub fn get(self) -> f64 {
        self.0
    }
}
