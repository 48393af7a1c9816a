//! Whole numbers with a range: one definition gives the range, the name and the check.

use std::fmt;

/// The range a counted thing may have, and what to call it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bounds {
    /// Smallest that is accepted.
    pub least: u16,
    /// Largest that is accepted.
    pub most: u16,
}

impl Bounds {
    /// `n` as a number in this range, or nothing.
    pub fn admit(self, n: i64) -> Option<u16> {
        u16::try_from(n)
            .ok()
            .filter(|n| (self.least..=self.most).contains(n))
    }
}

/// The number of teeth of a wheel, leaves of a pinion, or trundles of a lantern.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Teeth(u16);

impl Teeth {
    /// Four leaves is the least that can carry a mesh; a thousand is more than any wheel of a clock has.
    pub const BOUNDS: Bounds = Bounds {
        least: 4,
        most: 1000,
    };

    /// `n` teeth, or nothing where no wheel has so many or so few.
    pub fn new(n: i64) -> Option<Teeth> {
        Teeth::BOUNDS.admit(n).map(Teeth)
    }

    /// One or more pins that move another part on, a place each.
    pub const PINS: Bounds = Bounds {
        least: 1,
        most: 1000,
    };

    /// `n` pins, or nothing where no part has so many or so few.
    pub fn pins(n: i64) -> Option<Teeth> {
        Teeth::PINS.admit(n).map(Teeth)
    }

    /// The count.
    pub fn get(self) -> u16 {
        self.0
    }
}

impl fmt::Display for Teeth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// How many alike places a witness has in one turn of its arbor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Repeats(u16);

impl Repeats {
    /// One place a turn, up to as many as a wheel can have teeth.
    pub const BOUNDS: Bounds = Bounds {
        least: 1,
        most: 1000,
    };

    /// `n` places a turn, or nothing where that is out of range.
    pub fn new(n: i64) -> Option<Repeats> {
        Repeats::BOUNDS.admit(n).map(Repeats)
    }

    /// The count.
    pub fn get(self) -> u16 {
        self.0
    }
}

impl fmt::Display for Repeats {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
