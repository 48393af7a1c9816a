//! The works of the strike: tracks that are felt, pins that are stopped, the levers that do both, and a rack.
//!
//! Every angle here is told as it comes: so many degrees that its arbor runs on from the drop of the last hour of the
//! cycle. Heights are degrees of the lever arbor above where it comes to rest.

use crate::ids::id;
use crate::{ArborId, HeldBy, LeverKind};
use quantity::{Degrees, Exact};

id!(
    /// A track of this movement.
    TrackId
);
id!(
    /// A pin of this movement.
    PinId
);
id!(
    /// A lever of this movement.
    LeverId
);
id!(
    /// A lever arbor: the levers on it turn together.
    LeverArborId
);

/// The name of the lever arbor that is the rack's own.
pub const RACK: &str = "rack";

/// What a track goes round with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Carrier<A> {
    /// An arbor of the sheet.
    Arbor(A),
    /// The motion work: one turn in so many hours.
    Hours(Exact),
}

/// The form of a track, as written. The rim is height 1, the bottom 0.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shape {
    /// A count wheel: a slot after each of these counts of places; ones after the greatest count share its slot.
    Counts {
        /// Places from slot to slot, the first after the drop of the last hour.
        counts: Vec<u16>,
        /// How a slot is cut.
        cut: Cut,
    },
    /// A cam or a plain wheel with slots at these places.
    Notches {
        /// The middle of each.
        middles: Vec<Degrees>,
        /// How each is cut.
        cut: Cut,
    },
    /// Pins, cams or stars that lift what lies on them and let it go.
    Lobes {
        /// Where each lets go.
        places: Vec<Degrees>,
        /// Degrees over which each lifts.
        rise: Degrees,
        /// Degrees over which it then holds what it has lifted.
        hold: Degrees,
        /// How high each lifts, as a part of the whole; nothing where all lift alike.
        heights: Vec<Exact>,
    },
    /// A snail: steps of equal width, told by the teeth that the rack falls on each.
    Steps {
        /// Teeth of the rack.
        teeth: Vec<Exact>,
        /// Where the first step begins.
        from: Degrees,
        /// The minute at which a star jumps to the next step; nothing where the snail creeps.
        star_minute: Option<Exact>,
    },
    /// Any other form: places with their heights, straight between them.
    Outline(Vec<(Degrees, Exact)>),
}

/// How a slot is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// Its width at the bottom.
    pub width: Degrees,
    /// The slope beyond that, which lifts a tip out again; none for a square wall.
    pub ramp: Degrees,
}

/// A slot of a count wheel, told by its places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// The place it is cut at; 0 is the end of the turn.
    pub place: u16,
    /// How many places further it goes.
    pub further: u16,
}

/// The slots of a count wheel: one after each of these counts of places, ones after the greatest count in its slot.
pub fn slots_of(counts: &[u16]) -> Vec<Slot> {
    let places = counts.iter().sum::<u16>().max(1);
    let greatest = counts.iter().max();
    // Begun after a greatest count, so that the ones after it come right behind it.
    let begin = counts.iter().rposition(|n| Some(n) == greatest);
    let (first, then) = counts.split_at(begin.unwrap_or(0));
    let mut place: u16 = first.iter().sum();
    let mut slots: Vec<Slot> = Vec::new();
    let mut joins = false;
    for count in then.iter().chain(first) {
        place = (place + count) % places;
        joins = Some(count) == greatest || (joins && *count == 1);
        match slots.last_mut() {
            Some(slot) if joins && Some(count) != greatest => slot.further += 1,
            _ => slots.push(Slot { place, further: 0 }),
        }
    }
    slots
}

/// A wheel's edge that levers feel.
#[derive(Debug, Clone)]
pub struct Track {
    /// Its id on the sheet.
    pub id: String,
    /// What it goes round with.
    pub carrier: Carrier<ArborId>,
    /// Its form.
    pub shape: Shape,
    /// How it is held on its arbor, where the sheet says so.
    pub held_by: Option<HeldBy>,
}

/// Pins of one arbor that arms can stop.
#[derive(Debug, Clone)]
pub struct Pin {
    /// Its id on the sheet.
    pub id: String,
    /// The arbor it is on.
    pub on: ArborId,
    /// Where each comes to the arm.
    pub places: Vec<Degrees>,
    /// How they are held on their arbor, where the sheet says so.
    pub held_by: Option<HeldBy>,
}

/// What a follower lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Felt {
    /// A track.
    Track(TrackId),
    /// The rack: its teeth are the rim, and past the last of them the hook falls.
    Rack,
}

/// When an arm is in the path of its pin.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reach {
    /// While its lever arbor stands lower than this.
    Below(Degrees),
    /// While its lever arbor stands at this height or higher.
    Above(Degrees),
}

/// Lies on a track, or on the rack.
#[derive(Debug, Clone)]
pub struct Feels {
    /// What it lies on.
    pub felt: Felt,
    /// Width of its tip, in degrees of the track's arbor.
    pub tip: Degrees,
    /// What the rim lifts its arbor above the bottom.
    pub lift: Degrees,
    /// Whether a wall that meets it is meant to lock the train.
    pub locks: bool,
    /// The bell it strikes each time it is let go, for a hammer.
    pub strikes: Option<String>,
}

/// Stands in the path of a pin.
#[derive(Debug, Clone)]
pub struct Stops {
    /// Which.
    pub pin: PinId,
    /// When.
    pub reach: Reach,
    /// How much further on than the pin's place it stands.
    pub further: Degrees,
}

/// Lifts another lever arbor along.
#[derive(Debug, Clone)]
pub struct Lifts {
    /// Which.
    pub arbor: LeverArborId,
    /// The height of its own arbor at which it begins to.
    pub from: Degrees,
}

/// What a lever does.
#[derive(Debug, Clone)]
pub enum Does {
    /// Lies on a track.
    Feels(Feels),
    /// Stands in the path of a pin.
    Stops(Stops),
    /// Lifts another lever arbor along.
    Lifts(Lifts),
}

/// Whether a lever may be bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeverMade {
    /// Of soft wire or strip, made to be bent.
    Soft,
    /// Hardened or cast: it breaks.
    Hardened,
}

/// One arm of a lever arbor.
#[derive(Debug, Clone)]
pub struct Lever {
    /// Its id on the sheet.
    pub id: String,
    /// The lever arbor it is on.
    pub on: LeverArborId,
    /// What the sheet says it is; [`LeverKind::of`] tells it where nothing is said.
    pub kind: Option<LeverKind>,
    /// Whether it may be bent, where the sheet says so.
    pub made: Option<LeverMade>,
    /// What it does.
    pub does: Does,
}

impl Lever {
    /// What it lies on, if it lies on anything.
    pub fn feels(&self) -> Option<&Feels> {
        match &self.does {
            Does::Feels(feels) => Some(feels),
            _ => None,
        }
    }

    /// What it stands in the path of, if it stands in any.
    pub fn stops(&self) -> Option<&Stops> {
        match &self.does {
            Does::Stops(stops) => Some(stops),
            _ => None,
        }
    }

    /// What it lifts, if it lifts anything.
    pub fn lifts(&self) -> Option<&Lifts> {
        match &self.does {
            Does::Lifts(lifts) => Some(lifts),
            _ => None,
        }
    }

    /// The track that it lies on.
    pub fn track(&self) -> Option<TrackId> {
        match self.feels()?.felt {
            Felt::Track(track) => Some(track),
            Felt::Rack => None,
        }
    }

    /// The bell that it strikes, for a hammer.
    pub fn bell(&self) -> Option<&str> {
        self.feels()?.strikes.as_deref()
    }

    /// The track that lifts it, for a hammer.
    pub fn hammered(&self) -> Option<TrackId> {
        self.bell().and_then(|_| self.track())
    }
}

/// A rack that falls on a snail and is gathered tooth by tooth.
#[derive(Debug, Clone)]
pub struct Rack {
    /// Its own lever arbor; its height is how far the rack has fallen.
    pub on: LeverArborId,
    /// The snail.
    pub snail: TrackId,
    /// Width of the tail's tip, in degrees of the snail.
    pub tip: Degrees,
    /// Teeth that can be gathered.
    pub teeth: u16,
    /// Degrees of the rack to a tooth.
    pub tooth: Degrees,
    /// The gathering pallet: it gathers as it comes to its place.
    pub pallet: PinId,
    /// The lever arbor of the hook.
    pub hook: LeverArborId,
    /// The height of that arbor from which the rack is free.
    pub free: Degrees,
    /// How much less than a tooth the pallet still takes for one: what of the fall it leaves out.
    pub enters: Exact,
}

/// A figure of the works.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorksFigure {
    /// The track, pin or lever that it is of, by its id; [`RACK`] for the rack.
    pub of: String,
    /// Its key.
    pub key: String,
}

/// All of it.
#[derive(Debug, Clone)]
pub struct Works {
    pub(crate) tracks: Vec<Track>,
    pub(crate) pins: Vec<Pin>,
    pub(crate) lever_arbors: Vec<String>,
    pub(crate) levers: Vec<Lever>,
    pub(crate) rack: Option<Rack>,
    pub(crate) chime: Option<Vec<u16>>,
    pub(crate) usual: Vec<WorksFigure>,
    pub(crate) measured: Vec<(WorksFigure, Degrees)>,
}

impl Works {
    /// Every track in sheet order.
    pub fn tracks(&self) -> impl ExactSizeIterator<Item = (TrackId, &Track)> {
        self.tracks.iter().enumerate().map(|(i, t)| (TrackId(i), t))
    }

    /// Every pin in sheet order.
    pub fn pins(&self) -> impl ExactSizeIterator<Item = (PinId, &Pin)> {
        self.pins.iter().enumerate().map(|(i, p)| (PinId(i), p))
    }

    /// Every lever in sheet order.
    pub fn levers(&self) -> impl ExactSizeIterator<Item = (LeverId, &Lever)> {
        self.levers.iter().enumerate().map(|(i, l)| (LeverId(i), l))
    }

    /// Every lever arbor in the order of its first lever, with its name.
    pub fn lever_arbors(&self) -> impl ExactSizeIterator<Item = (LeverArborId, &str)> {
        (self.lever_arbors.iter().enumerate()).map(|(i, name)| (LeverArborId(i), name.as_str()))
    }

    /// The rack, where the blows are counted by one.
    pub fn rack(&self) -> Option<&Rack> {
        self.rack.as_ref()
    }

    /// Notes that the chime owes at each quarter, where there is one.
    pub fn chime(&self) -> Option<&[u16]> {
        self.chime.as_deref()
    }

    /// What of it stands as is usual, not measured, in sheet order.
    pub fn usual(&self) -> &[WorksFigure] {
        &self.usual
    }

    /// What of it was measured so surely: each figure with one standard deviation of it, in its own degrees.
    pub fn measured(&self) -> &[(WorksFigure, Degrees)] {
        &self.measured
    }

    /// How all that is felt or stopped on an arbor is held there; nothing where that is not said, or one thing is held otherwise than
    /// another.
    pub fn marks_held_by(&self, on: ArborId) -> Option<HeldBy> {
        let tracks = (self.tracks.iter())
            .filter(|track| track.carrier == Carrier::Arbor(on))
            .map(|track| track.held_by);
        let pins = (self.pins.iter())
            .filter(|pin| pin.on == on)
            .map(|pin| pin.held_by);
        let mut all = tracks.chain(pins);
        let first = all.next()??;
        all.all(|held| held == Some(first)).then_some(first)
    }

    /// One track.
    pub fn track(&self, id: TrackId) -> &Track {
        &self.tracks[id.index()]
    }

    /// One pin.
    pub fn pin(&self, id: PinId) -> &Pin {
        &self.pins[id.index()]
    }

    /// One lever.
    pub fn lever(&self, id: LeverId) -> &Lever {
        &self.levers[id.index()]
    }

    /// The track named so.
    pub fn find_track(&self, name: &str) -> Option<TrackId> {
        self.tracks.iter().position(|t| t.id == name).map(TrackId)
    }

    /// The pin named so.
    pub fn find_pin(&self, name: &str) -> Option<PinId> {
        self.pins.iter().position(|p| p.id == name).map(PinId)
    }

    /// The lever named so.
    pub fn find_lever(&self, name: &str) -> Option<LeverId> {
        self.levers.iter().position(|l| l.id == name).map(LeverId)
    }
}

/// How well the figures of a part of the works are known, as written.
#[derive(Debug, Clone, Default)]
pub struct DraftKnown {
    /// Keys of it that stand as is usual, not measured.
    pub usual: Vec<String>,
    /// Keys of it that were measured, with one standard deviation in degrees.
    pub spread: Vec<(String, Degrees)>,
}

/// A track as written.
#[derive(Debug, Clone)]
pub struct DraftTrack {
    /// Its id; nothing where it was missing and that is already told, here and below.
    pub id: Option<String>,
    /// What it goes round with.
    pub carrier: Option<Carrier<String>>,
    /// Its form.
    pub shape: Option<Shape>,
    /// How it is held.
    pub held_by: Option<HeldBy>,
    /// How well its figures are known.
    pub known: DraftKnown,
}

/// Pins as written.
#[derive(Debug, Clone)]
pub struct DraftPin {
    /// Its id.
    pub id: Option<String>,
    /// The arbor it is on.
    pub on: Option<String>,
    /// Where each comes to the arm.
    pub places: Option<Vec<Degrees>>,
    /// How they are held.
    pub held_by: Option<HeldBy>,
    /// How well its figures are known.
    pub known: DraftKnown,
}

/// What a lever does, as written.
#[derive(Debug, Clone)]
pub enum DraftDoes {
    /// Lies on a track, or on the rack.
    Feels {
        /// Which.
        felt: Option<String>,
        /// Width of its tip.
        tip: Degrees,
        /// What the rim lifts it.
        lift: Option<Degrees>,
        /// Whether a wall locks.
        locks: bool,
        /// The bell.
        strikes: Option<String>,
    },
    /// Stands in the path of a pin.
    Stops {
        /// Which.
        pin: Option<String>,
        /// When.
        reach: Option<Reach>,
        /// How much further on.
        further: Degrees,
    },
    /// Lifts another lever arbor.
    Lifts {
        /// Which.
        arbor: Option<String>,
        /// From which height.
        from: Degrees,
    },
}

/// A lever as written.
#[derive(Debug, Clone)]
pub struct DraftLever {
    /// Its id.
    pub id: Option<String>,
    /// Its lever arbor.
    pub on: Option<String>,
    /// What it is; nothing where that is not written.
    pub kind: Option<LeverKind>,
    /// Whether it may be bent, where that is written.
    pub made: Option<LeverMade>,
    /// What it does.
    pub does: Option<DraftDoes>,
    /// How well its figures are known.
    pub known: DraftKnown,
}

/// A rack as written.
#[derive(Debug, Clone)]
pub struct DraftRack {
    /// The snail.
    pub snail: Option<String>,
    /// Width of the tail's tip.
    pub tip: Degrees,
    /// Teeth that can be gathered.
    pub teeth: Option<u16>,
    /// Degrees of a tooth.
    pub tooth: Option<Degrees>,
    /// The gathering pallet.
    pub pallet: Option<String>,
    /// The lever arbor of the hook.
    pub hook: Option<String>,
    /// From which height of it the rack is free.
    pub free: Option<Degrees>,
    /// What of the fall the pallet leaves out, in teeth.
    pub enters: Exact,
    /// How well its figures are known.
    pub known: DraftKnown,
}

/// The works as written.
#[derive(Debug, Clone, Default)]
pub struct DraftWorks {
    /// Tracks in order of writing.
    pub tracks: Vec<DraftTrack>,
    /// Pins in order of writing.
    pub pins: Vec<DraftPin>,
    /// Levers in order of writing.
    pub levers: Vec<DraftLever>,
    /// The rack.
    pub rack: Option<DraftRack>,
    /// Notes of the chime at each quarter.
    pub chime: Option<Vec<u16>>,
}

impl DraftWorks {
    /// Whether nothing of it is on the sheet.
    pub fn is_empty(&self) -> bool {
        self.tracks.is_empty()
            && self.pins.is_empty()
            && self.levers.is_empty()
            && self.rack.is_none()
            && self.chime.is_none()
    }
}
