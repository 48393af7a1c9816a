//! What comes round: how far each thing that is felt or met is from its next place, and which of them go with which driver.

use crate::machine::{Machine, Tick};

/// One thing that comes round: its next tick.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cursor {
    pub(crate) next: usize,
    /// The tick of what is next; far beyond all where nothing ever comes.
    pub(crate) due: Tick,
}

impl Cursor {
    /// At the first of some places.
    pub(crate) fn first(place: Option<Tick>) -> Cursor {
        Cursor {
            next: 0,
            due: place.unwrap_or(Tick::MAX),
        }
    }

    /// On to the next of so many places, which come again after a period.
    pub(crate) fn advance(&mut self, count: usize, period: Tick, place: impl Fn(usize) -> Tick) {
        let here = place(self.next);
        self.next += 1;
        if self.next < count {
            self.due += place(self.next) - here;
        } else {
            self.next = 0;
            self.due += period + place(0) - here;
        }
    }
}

/// What a driver carries round.
pub(crate) struct CarriedRound {
    pub(crate) feelers: Vec<usize>,
    pub(crate) arms: Vec<usize>,
    pub(crate) pallet: bool,
}

impl Machine {
    /// What a driver carries round.
    pub(crate) fn carried_round(&self, driver: usize) -> CarriedRound {
        let feelers = 0..self.feelers.len();
        let arms = 0..self.arms.len();
        CarriedRound {
            feelers: feelers
                .filter(|&f| self.feelers[f].driver == driver)
                .collect(),
            arms: arms.filter(|&a| self.arms[a].driver == driver).collect(),
            pallet: self.rack.as_ref().is_some_and(|rack| rack.driver == driver),
        }
    }
}
