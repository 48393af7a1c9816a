//! One hour of the cycle: what was struck against what should be, and how near each edge and each pin was.

use crate::LeastLead;
use movement::{LeverId, PinId, TrackId};
use num_traits::Zero;
use quantity::{Degrees, Exact};

/// How far a tip was from both edges of its slot: short when its arbor dropped, ahead when the train locked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gap {
    /// The lever.
    pub lever: LeverId,
    /// The track.
    pub track: TrackId,
    /// Degrees of the track since the edge it fell from; nought for the tip whose edge made the drop.
    pub short: Degrees,
    /// Degrees of the track until the edge that lifts it.
    pub ahead: Degrees,
    /// Degrees that a tip has from edge to edge in the narrowest slot of the track.
    pub room: Degrees,
    /// Degrees of the track to one tooth of its wheel, where it has one.
    pub tooth: Option<Degrees>,
}

impl Gap {
    /// The nearer edge, and how far it is as a part of the room; of the tip that made the drop only the edge ahead.
    pub fn nearer(&self) -> (&Degrees, Exact) {
        let nearer = if self.short.is_zero() || self.ahead <= self.short {
            &self.ahead
        } else {
            &self.short
        };
        let part = match self.room.is_zero() {
            true => Exact::zero(),
            false => nearer.exact() / self.room.exact(),
        };
        (nearer, part)
    }
}

/// How the rack fell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RackFall {
    /// Teeth it fell.
    pub teeth: Exact,
    /// Teeth less that would strike one less.
    pub short: Exact,
    /// Teeth more that would strike one more.
    pub ahead: Exact,
    /// Degrees of the snail since its last edge, as the rack fell.
    pub edge_short: Degrees,
    /// Degrees of the snail until its next edge, as the strike began.
    pub edge_ahead: Degrees,
}

/// A hammer as the train locked, or while it is warned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtRest {
    /// The hammer.
    pub lever: LeverId,
    /// Whether it lies on its stop: nothing lifts it.
    pub at_rest: bool,
    /// How high it is held, in degrees of its arbor.
    pub height: Degrees,
    /// Degrees of its wheel since it was let go.
    pub since: Degrees,
    /// Degrees of its wheel until it is lifted again.
    pub until: Degrees,
    /// Degrees of its wheel to one tooth, where it has one.
    pub tooth: Option<Degrees>,
}

/// A locking arm while its train is warned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arm {
    /// The arm.
    pub lever: LeverId,
    /// How much its arbor is too low, or too high, to be clear of its pin, in degrees; nothing where it is clear.
    pub in_path: Option<Degrees>,
    /// Degrees of the pin's arbor since the pin was at the arm.
    pub past: Degrees,
}

/// The gathering pallet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pallet {
    /// Its pin.
    pub pin: PinId,
    /// Degrees of its arbor until it has gathered the next tooth, were there one; nought where it still lies against the one
    /// that it just gathered.
    pub to_go: Degrees,
}

/// Where hook and pallet of a rack are as the train locks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HookDown {
    /// How much higher the hook's arbor stands than it would behind the last tooth, in degrees.
    pub up: Degrees,
    /// Teeth that are still to be gathered.
    pub left: Exact,
    /// The pallet.
    pub pallet: Pallet,
}

/// How a train was warned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warned {
    /// The arm that caught the pin.
    pub by: LeverId,
    /// The warning run, in turns of the pin's arbor.
    pub turns: Exact,
    /// The hammers of that train.
    pub hammers: Vec<AtRest>,
    /// Its locking arms.
    pub arms: Vec<Arm>,
    /// Its pallet, where it gathers a rack.
    pub pallet: Option<Pallet>,
}

/// How the strike train locked after the hour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lock {
    /// What locked it: an arm, or a tip on its wall.
    pub by: LeverId,
    /// The pin, where an arm did.
    pub pin: Option<PinId>,
    /// Degrees of the pin's arbor from the drop until it met the arm.
    pub lead: Option<Degrees>,
    /// What that should be at least.
    pub least_lead: Option<LeastLead>,
    /// How full the fall was: 1 to the bottom, 0 none.
    pub fall: Option<Exact>,
    /// Each tip of that lever arbor against the edges of its slot.
    pub gaps: Vec<Gap>,
    /// How near a tip that should stay on its rim came to a slot, at the drops before the last; the nearest.
    pub rim: Option<Gap>,
    /// The hammers of that train.
    pub hammers: Vec<AtRest>,
    /// The arm that should have warned it, where there is one.
    pub warns: Option<LeverId>,
    /// Hook and pallet, where it gathers a rack.
    pub hook: Option<HookDown>,
}

/// What one train of the strike did at an hour.
pub(crate) struct TrainAtHour<'h> {
    /// How it was warned.
    pub(crate) warned: Option<&'h Warned>,
    /// How it was locked.
    pub(crate) lock: Option<&'h Lock>,
    /// How often it sounded.
    pub(crate) sounds: u32,
}

/// One hour, half or quarter of the cycle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hour {
    /// Minutes since the start.
    pub minutes: u32,
    /// Blows it should strike.
    pub expected: u32,
    /// Blows it struck: a blow is one lifting, however many hammers that lets go.
    pub blows: u32,
    /// What sounded: each hammer of each blow.
    pub voices: u32,
    /// Blows struck before their time.
    pub early: u32,
    /// Notes the chime owes, where there is one.
    pub owed: Option<u32>,
    /// Notes it gave.
    pub notes: u32,
    /// How it was warned.
    pub warned: Option<Warned>,
    /// Arms that are to warn and stood too low for that as their trains were let go, by so much.
    pub too_low: Vec<(LeverId, Degrees)>,
    /// How the rack fell.
    pub fallen: Option<RackFall>,
    /// How it locked; nothing where it did not run or not stop.
    pub lock: Option<Lock>,
    /// How the chime was warned.
    pub chime_warned: Option<Warned>,
    /// How the chime locked.
    pub chime_lock: Option<Lock>,
}

impl Hour {
    /// The hour on the dial, 1 to 12: for a half or a quarter the one before it.
    pub fn hour(&self) -> u32 {
        (self.minutes / 60 + 11) % 12 + 1
    }

    /// The minute of the hour.
    pub fn minute(&self) -> u32 {
        self.minutes % 60
    }

    /// What the strike's own train did, and the chime's.
    pub(crate) fn trains(&self) -> [TrainAtHour<'_>; 2] {
        [
            TrainAtHour {
                warned: self.warned.as_ref(),
                lock: self.lock.as_ref(),
                sounds: self.blows,
            },
            TrainAtHour {
                warned: self.chime_warned.as_ref(),
                lock: self.chime_lock.as_ref(),
                sounds: self.notes,
            },
        ]
    }
}
