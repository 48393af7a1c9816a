//! How much work an answer may take: counted in steps, never by a clock, so that every machine gives the same answer.

use std::cell::Cell;

/// A store of steps, each about one product and a sum of two doubles.
#[derive(Debug)]
pub(crate) struct Effort {
    given: u64,
    left: Cell<u64>,
    /// Steps that what is done now must leave for what comes after.
    kept: Cell<u64>,
    refused: Cell<bool>,
}

impl Effort {
    /// So many steps.
    pub(crate) fn of(steps: u64) -> Effort {
        Effort {
            given: steps,
            left: Cell::new(steps),
            kept: Cell::new(0),
            refused: Cell::new(false),
        }
    }

    /// Takes steps for something that is about to be done; false where there are not enough left, and then it is not to be
    /// done.
    pub(crate) fn spend(&self, steps: usize) -> bool {
        let steps = u64::try_from(steps).unwrap_or(u64::MAX);
        let enough = steps <= self.left();
        if enough {
            self.left.set(self.left.get() - steps);
        } else {
            self.refused.set(true);
        }
        enough
    }

    /// Steps that are left for what is done now.
    pub(crate) fn left(&self) -> u64 {
        self.left.get() - self.kept.get()
    }

    /// Steps that were taken.
    pub(crate) fn spent(&self) -> u64 {
        self.given - self.left.get()
    }

    /// Does something with at most so many of the steps that are left. Also whether it had to leave anything off.
    pub(crate) fn within<T>(&self, most: u64, work: impl FnOnce() -> T) -> (T, bool) {
        let (kept, refused) = (self.kept.get(), self.refused.replace(false));
        self.kept
            .set(kept.max(self.left.get().saturating_sub(most)));
        let done = work();
        self.kept.set(kept);
        (done, self.refused.replace(refused))
    }
}
