//! How much work an answer may take: counted in steps, never by a clock, so that every machine gives the same answer.

use std::cell::Cell;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

/// Whoever waits for an answer: sees how far it has come, and may have it end with the best that was found so far.
#[derive(Debug, Default)]
pub struct Waiting {
    /// Set when it is to end.
    pub stop: Arc<AtomicBool>,
    steps: AtomicU64,
}

impl Waiting {
    /// For whoever says by this when it is to end.
    pub fn until(stop: Arc<AtomicBool>) -> Waiting {
        Waiting {
            stop,
            steps: AtomicU64::new(0),
        }
    }

    /// Steps that were taken so far.
    pub fn steps(&self) -> u64 {
        self.steps.load(Ordering::Relaxed)
    }
}

/// A store of steps, each about one product and a sum of two doubles.
#[derive(Debug)]
pub(crate) struct Effort<'w> {
    waiting: Option<&'w Waiting>,
    given: u64,
    left: Cell<u64>,
    /// Steps that what is done now must leave for what comes after.
    kept: Cell<u64>,
    refused: Cell<bool>,
}

impl<'w> Effort<'w> {
    /// So many steps.
    pub(crate) fn of(steps: u64) -> Effort<'w> {
        Effort {
            waiting: None,
            given: steps,
            left: Cell::new(steps),
            kept: Cell::new(0),
            refused: Cell::new(false),
        }
    }

    /// So many steps, with somebody who waits.
    pub(crate) fn watched(steps: u64, waiting: &'w Waiting) -> Effort<'w> {
        Effort {
            waiting: Some(waiting),
            ..Effort::of(steps)
        }
    }

    /// Takes steps for something that is about to be done; false where there are not enough left, and then it is not to be
    /// done.
    pub(crate) fn spend(&self, steps: usize) -> bool {
        let steps = u64::try_from(steps).unwrap_or(u64::MAX);
        let mut enough = steps <= self.left();
        if let Some(waiting) = self.waiting {
            enough &= !waiting.stop.load(Ordering::Relaxed);
            waiting
                .steps
                .fetch_add(if enough { steps } else { 0 }, Ordering::Relaxed);
        }
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
