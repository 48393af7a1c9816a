//! Where the window of a witness comes from.

use crate::{LeverId, PinId, WitnessId, WorksFigure};
use quantity::Degrees;

/// What a point of a good place is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PointOf {
    /// The whole strike.
    Strike,
    /// A lever.
    Lever(LeverId),
    /// A pin.
    Pin(PinId),
}

/// What bounds an end of a window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WindowLimit {
    /// Which of the seven points of a good place does not hold beyond.
    pub point: u8,
    /// What that is of.
    pub of: PointOf,
}

/// By what it is known how far a pin goes while a lever falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FallBy {
    /// A usual part of a turn stands for it, as no pace was measured.
    Usual,
    /// By the pace that was measured, and the usual time of a lever's fall.
    Pace,
    /// By the pace and the time of the fall, both measured.
    PaceAndFall,
}

/// How a window was worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FromWorks {
    /// What bounds it at either end, where that was found; nothing where the strike goes on as well wherever it stands, and the window is
    /// only what is usual.
    pub limits: Option<[Option<WindowLimit>; 2]>,
    /// By what the time that a lever takes to fall is known, where an end of it is where it is because of that.
    pub fall_by: Option<FallBy>,
    /// How surely its ends are known, by the works as they were measured and as is usual: one standard deviation of either.
    pub spread: Degrees,
    /// The figures of the works that are taken as is usual and move an end of it, the one that moves it most first.
    pub rests_on: Vec<WorksFigure>,
}

impl FromWorks {
    /// Whether the strike judges it.
    pub fn is_judged(&self) -> bool {
        self.limits.is_some()
    }
}

/// Where a window comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WindowSource {
    /// The sheet says it.
    Written,
    /// It was worked out.
    Works(FromWorks),
    /// It was worked out, and borne out by how its witness stood while the strike was right.
    Stood {
        /// How it was worked out.
        works: FromWorks,
        /// How surely it is known where it lies, both its ends together: one standard deviation.
        spread: Degrees,
    },
}

/// Where a window that was worked out lies, as its witness stood in it while the strike was right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoodWindow {
    /// Whose it is.
    pub witness: WitnessId,
    /// How much further ahead than it was worked out it lies, both its ends together.
    pub by: Degrees,
    /// One standard deviation of that.
    pub spread: Degrees,
}

/// A window that was worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WindowFromWorks {
    /// The first place in which the witness may stand.
    pub from: Degrees,
    /// The last; beyond the first.
    pub to: Degrees,
    /// Where it should stand; neither before the first nor beyond the last.
    pub best: Degrees,
    /// How it was worked out.
    pub source: FromWorks,
}
