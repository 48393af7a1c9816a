//! What can be wrong with a draft, as data: where, what was got, what it clashes with. Words come later.

use crate::Side;
use quantity::{Degrees, Exact, Teeth};

/// A point of a draft, by index in its lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// The whole sheet.
    Sheet,
    /// An arbor.
    Arbor(usize),
    /// The direction written on an arbor.
    Runs(usize),
    /// A mesh as a whole.
    Mesh(usize),
    /// One side of a mesh.
    MeshSide(usize, Side),
    /// `read_at` of the strike.
    ReadAt,
    /// The strike as a whole.
    Strike,
    /// A moment's id.
    MomentId(usize),
    /// A moment's arbor.
    MomentArbor(usize),
    /// A witness's id.
    WitnessId(usize),
    /// The arbor a witness is on.
    WitnessOn(usize),
    /// The moment a witness is judged at.
    WitnessAt(usize),
    /// A witness's window.
    Window(usize),
    /// A witness's best place.
    Best(usize),
    /// A witness's slot width.
    Slot(usize),
    /// What stands under a key of a track.
    Track(usize, &'static str),
    /// What stands under a key of a pin.
    Pin(usize, &'static str),
    /// What stands under a key of a lever.
    Lever(usize, &'static str),
    /// What stands under a key of the rack.
    Rack(&'static str),
    /// The count of a part: the arbor, and the part on it.
    Count(usize, usize),
    /// How the parts of an arbor are held.
    HeldBy(usize),
    /// A pillar's id.
    Pillar(usize),
    /// The id of a pivot in no train.
    Pivot(usize),
}

/// One step from arbor to arbor on the way round a loop: the counts of the two parts, as passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hop {
    /// Teeth on the arbor it comes from.
    pub here: Teeth,
    /// Teeth on the arbor it goes to.
    pub there: Teeth,
}

/// One way round a loop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// The meshes passed.
    pub hops: Vec<Hop>,
    /// Turns of the last arbor for one turn of the first; negative when it turns the other way.
    pub turns: Exact,
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// Counts that are not known, so that no ratio follows from them.
    Uncounted {
        /// The first such part.
        part: String,
        /// How many more there are.
        more: usize,
    },
    /// Two witnesses have one id.
    DoubledWitness {
        /// The id.
        id: String,
        /// Where it was first.
        first: Place,
    },
    /// Two moments have one id.
    DoubledMoment {
        /// The id.
        id: String,
        /// Where it was first.
        first: Place,
    },
    /// A moment takes the name of the one that is always there.
    DropIsGiven,
    /// No arbor has this id.
    UnknownArbor {
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// The arbor has no such part.
    UnknownPart {
        /// The arbor.
        arbor: String,
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// No moment has this id.
    UnknownMoment {
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// Both parts sit on one arbor.
    OneArbor {
        /// The arbor.
        arbor: String,
    },
    /// The same two parts are in mesh twice.
    MeshedTwice {
        /// Where they were first.
        first: Place,
    },
    /// The part is driven by two others.
    DrivenTwice {
        /// The part.
        part: String,
        /// Where it was driven first.
        first: Place,
    },
    /// The arbor is in no mesh.
    InNoMesh {
        /// The arbor.
        arbor: String,
    },
    /// A train has two arbors that nothing drives.
    TwoUndriven {
        /// The first of them.
        one: String,
        /// Another.
        other: String,
        /// Where the first is.
        first: Place,
    },
    /// In a train each arbor is driven by another: no power comes in.
    NoneUndriven {
        /// An arbor of that train.
        arbor: String,
    },
    /// A loop of meshes does not close.
    LoopOpen {
        /// Where the ways part.
        start: String,
        /// Where they meet again.
        end: String,
        /// Both ways round.
        ways: Box<[Way; 2]>,
    },
    /// No arbor of a train says which way it runs.
    NoRuns {
        /// The arbors of the train.
        arbors: Vec<String>,
    },
    /// Two arbors of a train say what cannot both be.
    RunsContradict {
        /// The first that says.
        one: String,
        /// The one that contradicts it.
        other: String,
        /// Where the first is.
        first: Place,
    },
    /// Witnesses but no strike: nothing to read them against.
    NoStrike,
    /// No path of meshes joins a witness to its moment's arbor.
    NotJoined {
        /// The arbor the witness is on.
        on: String,
        /// The moment.
        moment: String,
        /// The moment's arbor.
        arbor: String,
    },
    /// The window's ends are the wrong way about, or it has no width.
    UpsideDown {
        /// From.
        from: Degrees,
        /// To.
        to: Degrees,
    },
    /// The window is wider than the angle after which its places repeat.
    TooWide {
        /// Its width.
        width: Degrees,
        /// The period.
        period: Degrees,
    },
    /// The best place is outside the window.
    BestOutside {
        /// The best place.
        best: Degrees,
        /// From.
        from: Degrees,
        /// To.
        to: Degrees,
    },
    /// Only one of slot and tip is given.
    SlotWithoutTip,
    /// The tip does not go into the slot, or both together fill the pitch.
    SlotMisfit {
        /// Slot width.
        slot: Degrees,
        /// Tip width.
        tip: Degrees,
        /// The angle from one slot to the next.
        period: Degrees,
    },
    /// Two of one kind have one id.
    DoubledId {
        /// The kind.
        kind: Named,
        /// The id.
        id: String,
        /// Where it was first.
        first: Place,
    },
    /// Nothing of this kind has this id.
    UnknownId {
        /// The kind.
        kind: Named,
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// What is cut into a track, or stands out of it, leaves no room for what comes next.
    NoRoom {
        /// What one place takes up.
        takes: Degrees,
        /// What there is from it to the next.
        room: Degrees,
    },
    /// The heights are not as many as the places.
    HeightsMiscounted {
        /// Heights.
        got: usize,
        /// Places.
        places: usize,
    },
    /// Places of an outline that do not go on round one turn.
    OutlineBack {
        /// The place that goes back, or past the turn.
        at: Degrees,
    },
    /// Lever arbors that lift each other in a circle.
    LiftsRound {
        /// One of them.
        arbor: String,
    },
    /// The rack's own arbor is lifted or lies on a track: only its tail on the snail moves it.
    RackDriven,
    /// A lever of the rack's on a sheet without one.
    NoRack,
    /// A track of another form where a snail belongs, or a snail where another does.
    NotASnail {
        /// The track.
        track: String,
    },
    /// More of something than any movement has.
    TooMany {
        /// What there is too much of.
        kind: Plural,
        /// How many were written.
        got: usize,
        /// How many are taken.
        most: usize,
    },
}

/// What there can be too many of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plural {
    /// Arbors.
    Arbors,
    /// Meshes.
    Meshes,
    /// Witnesses.
    Witnesses,
    /// Moments.
    Moments,
    /// Tracks.
    Tracks,
    /// Pins.
    Pins,
    /// Levers.
    Levers,
    /// Pillars.
    Pillars,
    /// Pivots in no train.
    Pivots,
}

/// What has an id of its own among the works of the strike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Named {
    /// A track.
    Track,
    /// A pin.
    Pin,
    /// A lever.
    Lever,
    /// A lever arbor.
    LeverArbor,
    /// A pillar.
    Pillar,
    /// A pivot or an arbor: they share one set of ids.
    Pivot,
}

/// Something wrong, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flaw {
    /// Where.
    pub place: Place,
    /// What.
    pub what: What,
}

/// What is odd about a movement that is otherwise good.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Misgiving {
    /// A blow moves a witness by no whole number of its places, so it cannot show the same thing at every blow.
    NotWhole {
        /// The witness.
        witness: String,
        /// Places it moves at each blow.
        places: Exact,
        /// Degrees it moves at each blow.
        blow: Degrees,
        /// Degrees from one place to the next.
        period: Degrees,
    },
    /// The window lets the tip stand where slot and tip do not.
    WiderThanSlot {
        /// The witness.
        witness: String,
        /// The farthest from the middle that slot and tip allow.
        allowed: Degrees,
        /// From.
        from: Degrees,
        /// To.
        to: Degrees,
    },
    /// A witness without a window: nothing can be said of where it stands.
    NoWindow {
        /// The witness.
        witness: String,
        /// Whether the sheet has levers.
        levers: bool,
    },
    /// A count that was written as doubtful, and is taken as it is written.
    Doubtful {
        /// The part.
        part: String,
        /// The count.
        teeth: Teeth,
    },
}

/// A misgiving, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// Where.
    pub place: Place,
    /// What.
    pub what: Misgiving,
}

impl What {
    /// The place of the first of two that are doubled or contradict each other.
    pub fn first(&self) -> Option<Place> {
        match self {
            What::DoubledWitness { first, .. }
            | What::DoubledMoment { first, .. }
            | What::MeshedTwice { first }
            | What::DrivenTwice { first, .. }
            | What::TwoUndriven { first, .. }
            | What::RunsContradict { first, .. }
            | What::DoubledId { first, .. } => Some(*first),
            _ => None,
        }
    }
}
