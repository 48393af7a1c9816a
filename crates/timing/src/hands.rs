//! How sure hands are, and what may come of a shift by them.

use crate::assumed;
use quantity::Chance;

/// What happened at one mesh of a shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Handling {
    /// Done as said.
    AsSaid,
    /// The other way.
    OtherWay,
    /// A tooth too far or too little.
    Slipped,
}

/// How sure hands are, as the tool judges them until it knows better.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hands {
    /// The chance that a wheel is turned the wrong way.
    pub wrong_way: Chance,
    /// The chance that it slips a tooth, either way alike, as the plates close.
    pub slip: Chance,
}

impl Default for Hands {
    /// As [`crate::assumed`] has them.
    fn default() -> Hands {
        Hands {
            wrong_way: Chance::of(assumed::WRONG_WAY.value),
            slip: Chance::of(assumed::SLIP.value),
        }
    }
}

impl Hands {
    /// What may come of so many teeth at one mesh: how likely, how many teeth it then is, and how it was handled.
    pub(crate) fn outcomes(&self, teeth: i64) -> [(f64, i64, Handling); 4] {
        let (wrong, slip) = (self.wrong_way.get(), self.slip.get());
        [
            ((1.0 - wrong) * (1.0 - slip), teeth, Handling::AsSaid),
            (wrong * (1.0 - slip), -teeth, Handling::OtherWay),
            (0.5 * slip, teeth + 1, Handling::Slipped),
            (0.5 * slip, teeth - 1, Handling::Slipped),
        ]
    }
}
