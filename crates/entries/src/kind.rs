//! What can be seen and done, as it stands in a log. Nothing is turned into anything else here, and no name is looked
//! up: arbors, meshes (`driver>driven`) and witnesses are the sheet's names as they were said.

use crate::mesh::one_or_several;
use crate::{AtMesh, Day, Decimal, Oclock, Work};
use serde::Serialize;

/// One line of a log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its number: the first is 1, and each is one more than the one before.
    pub n: usize,
    /// When it was written down, in the words of whoever wrote it. Order never rests on it.
    pub at: Option<String>,
    /// What it tells.
    pub told: EntryContent,
}

/// What an entry tells, if that can be understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EntryContent {
    /// A kind of thing that is known here.
    Known(EntryKind),
    /// A kind that is not known here, from a later version perhaps. A sum that would pass over it would be wrong
    /// without saying so: who sums must refuse.
    Unknown {
        /// What the line calls its kind.
        kind: String,
        /// The whole line, word for word.
        line: String,
    },
}

impl Entry {
    /// What it tells, if that is of a known kind.
    pub(crate) fn known_kind(&self) -> Option<&EntryKind> {
        match &self.told {
            EntryContent::Known(kind) => Some(kind),
            EntryContent::Unknown { .. } => None,
        }
    }

    /// What it tells of the job as a whole; where it corrects an earlier entry, what that should have said.
    pub fn work(&self) -> Option<&Work> {
        match self.known_kind() {
            Some(EntryKind::Work(work)) => Some(work.as_corrected()),
            _ => None,
        }
    }

    /// The day it was written down, where what it says of that begins with one: `2026-03-01 before noon`.
    pub fn day(&self) -> Option<Day> {
        Day::parse(self.at.as_deref()?.get(..10)?)
    }
}

/// What was seen or done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum EntryKind {
    /// The movement was looked at, and all this was read under one hold.
    Look {
        /// Whether the train was pressed on.
        tension: LoggedTension,
        /// At least one reading, each witness once.
        readings: Vec<LoggedReading>,
    },
    /// How it stood at rest while it struck right, before anything was let down or moved: it tells where windows lie, and nothing of where
    /// all stands now.
    Stood {
        /// Hours that were watched struck right as it stood so, at least 1.
        #[serde(skip_serializing_if = "Option::is_none")]
        hours: Option<u16>,
        /// At least one reading at rest, each witness once.
        readings: Vec<LoggedReading>,
    },
    /// Wheels were shifted, all in one opening: at least one mesh, each once, in the order of doing.
    Shift(#[serde(serialize_with = "one_or_several")] Vec<AtMesh>),
    /// A shift went the other way from what its entry says: every mesh of it, or one.
    OtherWay {
        /// The number of the shift.
        of: usize,
        /// The one mesh of it that did; nothing where all of them did.
        #[serde(skip_serializing_if = "Option::is_none")]
        mesh: Option<String>,
    },
    /// A mesh slipped, and it is known how far.
    Slipped(AtMesh),
    /// An arbor jumped out and was put back anyhow: its place is lost.
    Jumped {
        /// The arbor.
        arbor: String,
    },
    /// A lever was bent, and its witness reads otherwise from now on.
    Bent(Moved),
    /// A part was turned on its arbor, and its witness stands otherwise from now on.
    Turned(Moved),
    /// An arbor was taken out.
    ArborOut {
        /// The arbor.
        arbor: String,
    },
    /// An arbor was put in.
    ArborIn {
        /// The arbor.
        arbor: String,
    },
    /// The hour that was last struck.
    Struck {
        /// From 1 to 12.
        hour: u8,
    },
    /// An earlier entry is taken back; if that was an undo, what it took back counts again.
    Undo {
        /// The number of the entry.
        of: usize,
    },
    /// What concerns the job as a whole, and no sum about the timing of its train.
    #[serde(untagged)]
    Work(Work),
}

/// How the train was held during a look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LoggedTension {
    /// Pressed on the way it runs, so that every mesh is loaded.
    Tensioned,
    /// Loose: readings carry the lash.
    Slack,
    /// At rest after a strike: locked, power let down, pressed lightly on. All stands farther on than at the drop, by what the
    /// train ran from there to the lock.
    AtRest,
}

/// What was seen of one witness.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LoggedReading {
    /// The witness.
    pub witness: String,
    /// What was seen.
    #[serde(flatten)]
    pub seen: LoggedSight,
}

/// The ways of saying where a witness stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum LoggedSight {
    /// By number.
    Number {
        /// Degrees from the place it is meant for, ahead positive.
        deg: Decimal,
        /// One standard deviation in degrees, more than 0.
        #[serde(skip_serializing_if = "Option::is_none")]
        spread: Option<Decimal>,
    },
    /// By look.
    Look {
        /// How the lever's tip lies.
        look: Sight,
    },
    /// By teeth.
    Teeth {
        /// Teeth from the place it is meant for, ahead positive; parts of a tooth are allowed.
        teeth: Decimal,
        /// The wheel or pinion whose teeth were counted, as `arbor.part`.
        of: String,
    },
    /// As on a clock face.
    Clock {
        /// The place.
        oclock: Oclock,
        /// The plate it was looked at from.
        from: LoggedPlate,
    },
    /// By quarters of the way from one of its places to the next.
    Quarters {
        /// Quarters from the place it is meant for, ahead positive; parts of one are allowed.
        quarters: Decimal,
    },
    /// Of what locks the train, at rest: through the notch that the lever's tip fell into.
    Notch {
        /// Degrees that the arbor which is held at the drop ran on since the tip left the edge of its notch.
        notch: Decimal,
        /// One standard deviation in the same degrees, more than 0.
        #[serde(skip_serializing_if = "Option::is_none")]
        spread: Option<Decimal>,
    },
}

/// How a lever's tip lies to its slot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sight {
    /// In the slot.
    In,
    /// On the slot's edge: the wheel is not far enough on.
    EdgeShort,
    /// On the slot's edge: the wheel is too far on.
    EdgeAhead,
    /// On the rim, clear of any slot.
    Rim,
}

/// One of the two plates. The front is the dial side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LoggedPlate {
    /// The dial side.
    Front,
    /// The other one.
    Back,
}

/// By how much a witness reads further ahead than before, with no tooth moved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Moved {
    /// The witness.
    pub witness: String,
    /// Degrees of its own arbor, ahead positive.
    pub deg: Decimal,
    /// One standard deviation in degrees, more than 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread: Option<Decimal>,
}
