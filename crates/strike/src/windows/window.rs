//! What is told of a window that was worked out, and why there is none.

use super::raw::Limit;
use crate::{End, FailedPoint, LeastLead, NoStrike};
use movement::{
    FallBy, FromWorks, Movement, PinId, PointOf, WindowFromWorks, WindowLimit, WorksFigure,
};
use quantity::{Degrees, Exact, fraction};

/// What a window is, in parts of the way after which its places are the same, either way from the best place, where the strike does
/// not judge it: that of a warning pin, from a quarter to three quarters of a turn, is as wide (common practice, no source).
pub(crate) const USUAL_WINDOW: (i64, i64) = (1, 4);

/// Why there are no windows to be had from the works.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NoWindows {
    /// Nothing strikes.
    #[error(transparent)]
    NoStrike(NoStrike),
    /// The works do not strike right as they are on the sheet.
    #[error("the works do not strike right as they are on the sheet")]
    Wrong(Limit),
    /// A witness has no room where the works have it: it stands on an edge.
    #[error("{witness} stands on an edge where the works have it")]
    NoRoom {
        /// Its id.
        witness: String,
        /// What does not hold short of it, and ahead; nothing where that is good.
        limits: [Option<Limit>; 2],
    },
    /// Windows of one train have no room together, however far they are drawn in.
    #[error("no room for {} together", witnesses.join(", "))]
    NoRoomTogether {
        /// Their ids.
        witnesses: Vec<String>,
    },
    /// So much had to be tried that it was left off before there was a window.
    #[error("so much had to be tried that it was left off")]
    LeftOff,
}

impl From<NoStrike> for NoWindows {
    fn from(why: NoStrike) -> NoWindows {
        NoWindows::NoStrike(why)
    }
}

/// By what the best place is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BestBy {
    /// The sheet says it.
    Written,
    /// By what is usual in the trade.
    Practice,
    /// It is where the works have it.
    Works,
}

/// One end of a window that was worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WindowEnd {
    /// Where it is, before the windows of its train were drawn in.
    pub raw: Degrees,
    /// Whether that place itself is good.
    pub inside: bool,
    /// What is wrong beyond; nothing where it was not sought any farther.
    pub limit: Option<Limit>,
}

/// The window of a witness for which none is written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkedOutWindow {
    /// Which, among [`Movement::unjudged`].
    pub witness: usize,
    /// The first place in which it may stand.
    pub from: Degrees,
    /// The last.
    pub to: Degrees,
    /// Where it should stand.
    pub best: Degrees,
    /// By what that is known.
    pub best_by: BestBy,
    /// Where the works have it.
    pub meant: Degrees,
    /// Both ends; nothing where the strike goes on as well wherever it stands, and the window is only what is usual.
    pub ends: Option<[WindowEnd; 2]>,
    /// How surely its ends are known: one standard deviation of either, in degrees.
    pub spread: Degrees,
    /// What of the works is taken as is usual and moves an end of it, what moves it most first.
    pub rests_on: Vec<WorksFigure>,
}

/// How far the windows of a train were drawn in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DrawnIn {
    /// The train.
    pub train: usize,
    /// The factor, from 0 to 1.
    pub by: Exact,
}

/// All windows that were worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Windows {
    /// One for each witness without a written one, in sheet order.
    pub windows: Vec<WorkedOutWindow>,
    /// For each train that has more than one how far they were drawn in.
    pub drawn_in: Vec<DrawnIn>,
    /// Whether it was left off before all was tried ([`crate::bounds::MOST_WINDOW_WORK`]): they may be wider then.
    pub cut_short: bool,
}

impl Windows {
    /// The movement with them among its witnesses.
    pub fn given_to(&self, movement: &Movement) -> Movement {
        let windows = self.windows.iter().map(WorkedOutWindow::given);
        movement.with_windows(windows.collect())
    }
}

impl WorkedOutWindow {
    /// It as a movement takes it.
    pub fn given(&self) -> WindowFromWorks {
        let limit = |end: &WindowEnd| {
            let limit = end.limit.as_ref()?;
            Some(match limit.first() {
                Some((_, point)) => WindowLimit {
                    point: point.number(),
                    of: point.of(),
                },
                // It does not come through the cycle.
                None => WindowLimit {
                    point: 1,
                    of: PointOf::Strike,
                },
            })
        };
        WindowFromWorks {
            from: self.from.clone(),
            to: self.to.clone(),
            best: self.best.clone(),
            source: FromWorks {
                limits: self.ends.as_ref().map(|ends| ends.each_ref().map(limit)),
                fall_by: self.fall_by(),
                spread: self.spread.clone(),
                rests_on: self.rests_on.clone(),
            },
        }
    }

    /// Whether the strike judges it: if not, its window is only what is usual.
    pub fn is_judged(&self) -> bool {
        self.ends.is_some()
    }

    /// By what it is known how far a pin goes while a lever falls, where an end is where it is because of that.
    pub fn fall_by(&self) -> Option<FallBy> {
        self.too_soon().next().map(|(_, least)| least.by)
    }

    /// Pins that come too soon after a lever began to fall beyond an end of it, and what they should have had to go.
    pub(super) fn too_soon(&self) -> impl Iterator<Item = (PinId, &LeastLead)> {
        let ends = self.ends.iter().flatten();
        let limits = ends.filter_map(|end| end.limit.as_ref()?.first());
        limits.filter_map(|(_, point)| match point {
            FailedPoint::Lead { pin, least, .. } => Some((*pin, least)),
            _ => None,
        })
    }

    /// Makes it what is usual.
    pub(super) fn make_usual(&mut self, period: &Degrees) {
        let (over, under) = USUAL_WINDOW;
        let wide = period * &fraction(over, under);
        (self.from, self.to) = (&self.best - &wide, &self.best + &wide);
    }
}

impl Limit {
    /// Whether it says anything of how it ended rather than of a point.
    pub fn is_end(&self) -> bool {
        self.points.is_empty() && !matches!(self.end, End::SamePlace | End::AnotherPlace)
    }
}
