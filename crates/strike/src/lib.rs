//! The strike run event by event: levers fall on tracks, pins meet arms, hammers are let go, every hour is counted.
//!
//! All places are whole numbers of ticks, so nothing is rounded. What moves by itself is the hand, and each train whose
//! pins no arm stops; the hand waits while a train runs. **At one instant** levers rise first, then pins meet
//! their arms or pass, as the levers stand; then the pallet gathers, hammers are let go, and levers fall last. So what
//! would have to be in time by a hair is too late. While two trains run at once each goes on by one instant in turn, the one
//! first on the sheet first. Levers fall in no time: how fast a train runs is asked only where a run is shown ([`pace`]) and
//! where it is judged whether a pin left them time ([`LeastLead`]), and what a blow sounds like nowhere.

pub mod assumed;
pub mod bounds;
mod build;
mod cursor;
mod hour;
mod hours;
mod lead;
mod machine;
pub mod pace;
mod points;
mod profile;
mod put_in;
mod record;
mod run;
mod watch;
mod windows;

pub use hour::{Arm, AtRest, Gap, HookDown, Hour, Lock, Pallet, RackFall, Warned};
pub use hours::{Struck, strike};
pub use lead::{LEAD, LeastLead};
pub use points::{BEST_LEAD, BEST_RUN, FailedPoint, IN_THE_RACK, WARNING_RUN, judged, points};
pub use put_in::PlantedFault;
pub use watch::{Event, MovementPose, StrikeEvent};
pub use windows::{
    BestBy, DrawnIn, Limit, NoWindows, WindowEnd, Windows, WorkedOutWindow, windows,
};

use movement::{LeverId, PinId, TrackId};

/// Why a sheet has no strike to run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoStrike {
    /// No levers on the sheet.
    #[error("no levers on the sheet")]
    NoLevers,
    /// No `[strike]` on the sheet.
    #[error("no strike on the sheet")]
    NoStrike,
    /// Nothing on the sheet strikes.
    #[error("nothing on the sheet strikes")]
    NoHammer,
    /// Counts and angles together need finer steps than are reckoned with here.
    #[error("counts and angles that need steps too fine")]
    TooFine,
    /// Tracks, tips and levers together make more edges than are reckoned with here: [`bounds::MOST_PAIRS`],
    /// [`bounds::MOST_HEIGHTS`].
    #[error("tracks, tips and levers that make too many edges")]
    TooMany,
}

/// How a run ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum End {
    /// Everything stands as it stood at the start.
    SamePlace,
    /// All hours were run, but something stands elsewhere.
    AnotherPlace,
    /// Something does not get past something else; the last event tells where all stood.
    Jam(Jam),
    /// A train runs on and nothing stops it.
    Runaway {
        /// The train, by its place on the sheet.
        train: usize,
        /// Blows since it last stood.
        blows: u32,
    },
    /// So much goes on that it was left off: [`bounds::MOST_WORK`].
    LeftOff,
}

/// What does not get past what.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Jam {
    /// A wall of a track against a lever's tip that nothing lifts.
    Wall {
        /// The lever.
        lever: LeverId,
        /// The track.
        track: TrackId,
        /// Whether it is the hand that is held, and with it the going train.
        hand: bool,
    },
    /// A step of the snail against the rack's tail.
    Snail {
        /// The snail.
        track: TrackId,
    },
    /// The rack fell past its last tooth.
    PastRack,
    /// An arm in the path of a pin that the going train carries.
    HandHeld {
        /// The pin.
        pin: PinId,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_reason_says_another_thing() {
        let all = [
            NoStrike::NoLevers,
            NoStrike::NoStrike,
            NoStrike::NoHammer,
            NoStrike::TooFine,
            NoStrike::TooMany,
        ];
        let said: std::collections::BTreeSet<String> = all
            .iter()
            .map(|unfit| (unfit as &dyn std::error::Error).to_string())
            .collect();
        assert_eq!(said.len(), all.len(), "{said:?}");
    }
}
