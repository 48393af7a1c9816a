//! How far a search for counts has come, told to whoever looks on; and that it goes no further than it may.

use std::ops::ControlFlow;

/// Steps that a search may take where nobody has more patience, together with all that is done with what it finds: a
/// beginning that is tried, a set that is held against the rules, a set that is rated. A second or two.
pub const MOST_STEPS: u64 = 4_000_000;

/// Whoever looks on is told how far it has come each time that so many steps are done: some hundredths of a second.
const TOLD_EVERY: u64 = 1 << 15;

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SoFar<'a> {
    /// Steps that were done.
    pub steps: u64,
    /// Sets that were found to fit.
    pub fits: usize,
    /// The one found last, the counts of the blanks in their order.
    pub last: Option<&'a [u16]>,
}

/// Whoever looks on while counts are sought, and has it go on or stop.
pub type SearchWatcher<'l> = &'l mut dyn FnMut(&SoFar<'_>) -> ControlFlow<()>;

/// What is left of the steps, and who looks on.
pub(crate) struct Watch<'l> {
    look: SearchWatcher<'l>,
    /// Steps that may be done, and that were.
    most: u64,
    done: u64,
    told: u64,
    stopped: bool,
}

impl<'l> Watch<'l> {
    pub(crate) fn new(most: u64, look: SearchWatcher<'l>) -> Watch<'l> {
        Watch {
            look,
            most,
            done: 0,
            told: 0,
            stopped: false,
        }
    }

    /// Does a step, if it may be done yet.
    pub(crate) fn step(&mut self, found: &[Vec<u16>]) -> bool {
        self.done += 1;
        if self.done - self.told >= TOLD_EVERY {
            self.told = self.done;
            let so_far = SoFar {
                steps: self.done,
                fits: found.len(),
                last: found.last().map(Vec::as_slice),
            };
            self.stopped |= (self.look)(&so_far).is_break();
        }
        !self.stopped && self.done < self.most
    }

    /// Whether whoever looks on had it stop.
    pub(crate) fn is_stopped(&self) -> bool {
        self.stopped
    }

    /// So many steps more may be done from here on.
    pub(crate) fn grant(&mut self, more: u64) {
        self.most = self.done.saturating_add(more);
    }
}
