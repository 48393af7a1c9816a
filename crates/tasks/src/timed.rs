//! What the log of a job bears out of the timing of its strike.

use crate::TimingState;
use entries::{EntryContent, EntryKind};
use timing::Act;

/// How the strike stands, as far as the log says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Timed {
    /// It was never looked at, as the sheet is now.
    NeverLooked,
    /// Looked at, and in time: it may be closed up.
    InTime {
        /// Whether anything was shifted for it.
        shifted: bool,
    },
    /// When it was last looked at, something stood outside its window, and nothing was moved since.
    Out,
    /// Something was moved, or came out, since it was last looked at; or one of several trains was not looked at.
    NotLookedSince,
    /// What was looked at stood in its window, and that is not enough to say that all is in time.
    NotSure,
}

/// What the log bears out. That it is in time is said by the rule alone by which it may be closed up.
pub fn timed(noted: &TimingState) -> Timed {
    let any = |is: fn(&EntryKind) -> bool| {
        (noted.log.of_this_sheet())
            .any(|entry| matches!(&entry.told, EntryContent::Known(kind) if is(kind)))
    };
    if !any(|kind| matches!(kind, EntryKind::Look { .. })) {
        return Timed::NeverLooked;
    }
    let movement = &noted.sheet.movement;
    let seen = &noted.recalled.last_look;
    let inside =
        |reading: &timing::Reading| movement.witness(reading.witness).admits(&reading.stands);
    if seen.is_empty() {
        Timed::NotLookedSince
    } else if !seen.iter().all(inside) {
        Timed::Out
    } else if noted.advice.act == Act::Done
        && movement.unjudged().is_empty()
        && movement.comes_out()
    {
        let shifted = any(|kind| matches!(kind, EntryKind::Shift(_)));
        Timed::InTime { shifted }
    } else {
        Timed::NotSure
    }
}
