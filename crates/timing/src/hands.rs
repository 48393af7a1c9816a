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

/// What may come of a shift at one mesh.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HandsOutcome {
    /// How likely it is: those of one shift add up to 1.
    pub(crate) share: f64,
    /// How many teeth it then is.
    pub(crate) teeth: i64,
    /// How it was handled.
    pub(crate) handling: Handling,
}

impl Hands {
    /// What may come of so many teeth at one mesh.
    pub(crate) fn outcomes(&self, teeth: i64) -> [HandsOutcome; 4] {
        let (wrong, slip) = (self.wrong_way.get(), self.slip.get());
        let outcome = |share, teeth, handling| HandsOutcome {
            share,
            teeth,
            handling,
        };
        [
            outcome((1.0 - wrong) * (1.0 - slip), teeth, Handling::AsSaid),
            outcome(wrong * (1.0 - slip), -teeth, Handling::OtherWay),
            outcome(0.5 * slip, teeth + 1, Handling::Slipped),
            outcome(0.5 * slip, teeth - 1, Handling::Slipped),
        ]
    }
}
