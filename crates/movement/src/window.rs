//! Where the window of a witness comes from, and a movement whose missing windows were worked out from its works.

use crate::{LeverId, Movement, PinId, Unjudged, Witness};
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

/// How a window was worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FromWorks {
    /// What bounds it at either end, where that was found; nothing where the strike goes on as well wherever it stands, and the window is
    /// only what is usual.
    pub limits: Option<[Option<WindowLimit>; 2]>,
    /// Whether an end of it is where it is because of the time that a lever takes to fall, for which a usual way stands.
    pub usual_pace: bool,
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

impl Movement {
    /// The same movement, in which these windows are those of its witnesses without one, in their order: they stand among the others
    /// in the order of the sheet. Of fewer the rest stay without.
    #[must_use]
    pub fn with_windows(&self, windows: Vec<WindowFromWorks>) -> Movement {
        let mut movement = self.clone();
        let mut unjudged = std::mem::take(&mut movement.unjudged).into_iter();
        let mut written = std::mem::take(&mut movement.witnesses).into_iter();
        for (window, without) in windows.into_iter().zip(unjudged.by_ref()) {
            let before = without.place - movement.witnesses.len();
            movement.witnesses.extend(written.by_ref().take(before));
            movement.witnesses.push(without.judged(window));
        }
        movement.witnesses.extend(written);
        movement.unjudged = unjudged.collect();
        movement
    }
}

impl Unjudged {
    /// It with its window.
    fn judged(self, window: WindowFromWorks) -> Witness {
        Witness {
            id: self.id,
            says: self.says,
            on: self.on,
            kind: self.kind,
            kind_told: self.kind_told,
            repeats: self.repeats,
            from: window.from,
            to: window.to,
            best: window.best,
            source: WindowSource::Works(window.source),
            at: self.at,
            look: self.look,
            arm_oclock: self.arm_oclock,
        }
    }
}
