//! The windows of witnesses for which none is written: worked out from the levers where a sheet is timed, and why they are not.

use crate::check_for_strike;
use movement::{Movement, WindowSource};
use sheet::{Faults, Sheet};
use strike::{Limit, NoStrike};

/// Why no windows can be worked out, by the names on the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WindowsTrouble {
    /// Nothing strikes.
    Unfit(NoStrike),
    /// As the sheet has it, it does not strike right.
    Wrong {
        /// Minutes after twelve at which that shows first; nothing where it does not come so far.
        minutes: Option<u32>,
        /// Which of the seven points does not hold.
        point: u8,
    },
    /// A witness stands on an edge where the sheet has it.
    NoRoom(String),
    /// These have no room together.
    NoRoomTogether(Vec<String>),
    /// It would take too long.
    LeftOff,
}

impl From<strike::NoWindows> for WindowsTrouble {
    fn from(why: strike::NoWindows) -> WindowsTrouble {
        use strike::NoWindows;
        match why {
            NoWindows::NoStrike(why) => WindowsTrouble::Unfit(why),
            NoWindows::Wrong(limit) => wrong(&limit),
            NoWindows::NoRoom { witness, .. } => WindowsTrouble::NoRoom(witness),
            NoWindows::NoRoomTogether { witnesses } => WindowsTrouble::NoRoomTogether(witnesses),
            NoWindows::LeftOff => WindowsTrouble::LeftOff,
        }
    }
}

fn wrong(limit: &Limit) -> WindowsTrouble {
    let first = limit.first();
    WindowsTrouble::Wrong {
        minutes: first.map(|(minutes, _)| *minutes),
        point: first.map_or(1, |(_, point)| point.number()),
    }
}

/// Reads a sheet to have its train timed: windows that are not written are worked out, where the levers on it tell how it strikes. A
/// train beside it, which neither strikes nor is timed, need not be counted.
///
/// # Errors
/// Every fault of it.
pub fn check_timed(sheet: &[u8]) -> Result<Sheet, Faults> {
    Ok(with_windows(check_for_strike(sheet)?))
}

/// A sheet with the windows that are not written among its witnesses; as it is, where none can be worked out.
pub(crate) fn with_windows(mut sheet: Sheet) -> Sheet {
    if can_be_worked_out(&sheet.movement) {
        tracing::debug!("windows are worked out");
        if let Ok(windows) = strike::windows(&sheet.movement) {
            sheet.movement = windows.given_to(&sheet.movement);
        }
    }
    sheet
}

/// The same of what is checked already; and why there are none, where the levers on the sheet tell how it strikes and all the same
/// none can be worked out.
pub fn work_windows_out(movement: &Movement) -> Result<Movement, Option<WindowsTrouble>> {
    if !can_be_worked_out(movement) {
        return Err(None);
    }
    let windows = strike::windows(movement).map_err(|why| Some(why.into()))?;
    Ok(windows.given_to(movement))
}

/// Why witnesses have no window; nothing where there are no levers to work one out from.
pub(crate) fn trouble(movement: &Movement) -> Option<WindowsTrouble> {
    if !can_be_worked_out(movement) {
        return None;
    }
    strike::windows(movement).err().map(WindowsTrouble::from)
}

fn can_be_worked_out(movement: &Movement) -> bool {
    !movement.unjudged().is_empty() && movement.works().is_some()
}

/// Whether the window of a witness is on the sheet.
pub(crate) fn is_written(witness: &movement::Witness) -> bool {
    witness.source == WindowSource::Written
}
