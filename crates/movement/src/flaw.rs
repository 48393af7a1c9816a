//! What can be wrong with a draft, as data: where, what was got, what it clashes with. Words come later.

use crate::MeshSide;
use quantity::{Degrees, Exact, Teeth};
use std::fmt;

/// A point of a draft, by index in its lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DraftPlace {
    /// The whole sheet.
    Sheet,
    /// An arbor.
    Arbor(usize),
    /// The direction written on an arbor.
    Runs(usize),
    /// A mesh as a whole.
    Mesh(usize),
    /// One side of a mesh.
    MeshSide(usize, MeshSide),
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
    /// The id of a winding square or a bell.
    Fixture(usize),
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
pub struct LoopPath {
    /// The meshes passed.
    pub hops: Vec<Hop>,
    /// Turns of the last arbor for one turn of the first; negative when it turns the other way.
    pub turns: Exact,
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FlawKind {
    /// Counts that are not known, so that no ratio follows from them.
    #[error("no count for `{part}`, nor for {more} more")]
    Uncounted {
        /// The first such part.
        part: String,
        /// How many more there are.
        more: usize,
    },
    /// Two witnesses have one id.
    #[error("two witnesses are called `{id}`, the first at {first}")]
    DoubledWitness {
        /// The id.
        id: String,
        /// Where it was first.
        first: DraftPlace,
    },
    /// Two moments have one id.
    #[error("two moments are called `{id}`, the first at {first}")]
    DoubledMoment {
        /// The id.
        id: String,
        /// Where it was first.
        first: DraftPlace,
    },
    /// A moment takes the name of the one that is always there.
    #[error("a moment has the name of the one that is always there")]
    DropIsGiven,
    /// No arbor has this id.
    #[error("no arbor `{got}`{}", meant(near.as_deref()))]
    UnknownArbor {
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// The arbor has no such part.
    #[error("no part `{got}` on arbor `{arbor}`{}", meant(near.as_deref()))]
    UnknownPart {
        /// The arbor.
        arbor: String,
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// A part that nothing names, where what names it is spelt as other parts are.
    #[error("no mesh has part `{got}` of arbor `{arbor}`, perhaps `{meant}`")]
    MisspeltPart {
        /// The arbor.
        arbor: String,
        /// How it is written.
        got: String,
        /// What its mesh has.
        meant: String,
    },
    /// No moment has this id.
    #[error("no moment `{got}`{}", meant(near.as_deref()))]
    UnknownMoment {
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// Both parts sit on one arbor.
    #[error("both parts of a mesh sit on arbor `{arbor}`")]
    OneArbor {
        /// The arbor.
        arbor: String,
    },
    /// The same two parts are in mesh twice.
    #[error("the same two parts mesh twice, first at {first}")]
    MeshedTwice {
        /// Where they were first.
        first: DraftPlace,
    },
    /// The part is driven by two others.
    #[error("`{part}` is driven twice, first at {first}")]
    DrivenTwice {
        /// The part.
        part: String,
        /// Where it was driven first.
        first: DraftPlace,
    },
    /// The arbor is in no mesh.
    #[error("arbor `{arbor}` is in no mesh")]
    InNoMesh {
        /// The arbor.
        arbor: String,
    },
    /// A train has two arbors that nothing drives.
    #[error("nothing drives `{one}` at {first}, and nothing drives `{other}` in the same train")]
    TwoUndriven {
        /// The first of them.
        one: String,
        /// Another.
        other: String,
        /// Where the first is.
        first: DraftPlace,
    },
    /// In a train each arbor is driven by another: no power comes in.
    #[error("each arbor of the train of `{arbor}` is driven by another")]
    NoneUndriven {
        /// An arbor of that train.
        arbor: String,
    },
    /// A loop of meshes does not close.
    #[error("the ways from `{start}` to `{end}` disagree: {} turns and {} turns", ways[0].turns, ways[1].turns)]
    LoopOpen {
        /// Where the ways part.
        start: String,
        /// Where they meet again.
        end: String,
        /// Both ways round.
        ways: Box<[LoopPath; 2]>,
    },
    /// No arbor of a train says which way it runs.
    #[error("no arbor of a train says which way it runs: {}", arbors.join(", "))]
    NoRuns {
        /// The arbors of the train.
        arbors: Vec<String>,
    },
    /// Two arbors of a train say what cannot both be.
    #[error("`{other}` runs against what `{one}` says at {first}")]
    RunsContradict {
        /// The first that says.
        one: String,
        /// The one that contradicts it.
        other: String,
        /// Where the first is.
        first: DraftPlace,
    },
    /// Witnesses but no strike: nothing to read them against.
    #[error("witnesses but no strike")]
    NoStrike,
    /// No path of meshes joins a witness to its moment's arbor.
    #[error("no meshes join `{on}` to `{arbor}`, the arbor of moment `{moment}`")]
    NotJoined {
        /// The arbor the witness is on.
        on: String,
        /// The moment.
        moment: String,
        /// The moment's arbor.
        arbor: String,
    },
    /// The window's ends are the wrong way about, or it has no width.
    #[error("the window is empty: from {} to {} degrees", from.to_f64(), to.to_f64())]
    UpsideDown {
        /// From.
        from: Degrees,
        /// To.
        to: Degrees,
    },
    /// The window is wider than the angle after which its places repeat.
    #[error("the window is {} degrees wide, the period only {}", width.to_f64(), period.to_f64())]
    TooWide {
        /// Its width.
        width: Degrees,
        /// The period.
        period: Degrees,
    },
    /// The best place is outside the window.
    #[error("the best place, {} degrees, is not between {} and {}", best.to_f64(), from.to_f64(), to.to_f64())]
    BestOutside {
        /// The best place.
        best: Degrees,
        /// From.
        from: Degrees,
        /// To.
        to: Degrees,
    },
    /// Only one of slot and tip is given.
    #[error("only one of slot and tip is given")]
    SlotWithoutTip,
    /// The tip does not go into the slot, or both together fill the pitch.
    #[error("a tip of {} degrees does not go with a slot of {} in a period of {}", tip.to_f64(), slot.to_f64(), period.to_f64())]
    SlotMisfit {
        /// Slot width.
        slot: Degrees,
        /// Tip width.
        tip: Degrees,
        /// The angle from one slot to the next.
        period: Degrees,
    },
    /// Two of one kind have one id.
    #[error("two of kind {kind} are called `{id}`, the first at {first}")]
    DoubledId {
        /// The kind.
        kind: NamedWork,
        /// The id.
        id: String,
        /// Where it was first.
        first: DraftPlace,
    },
    /// Nothing of this kind has this id.
    #[error("no {kind} `{got}`{}", meant(near.as_deref()))]
    UnknownId {
        /// The kind.
        kind: NamedWork,
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
    },
    /// What is cut into a track, or stands out of it, leaves no room for what comes next.
    #[error("{} degrees are taken up where there are {}", takes.to_f64(), room.to_f64())]
    NoRoom {
        /// What one place takes up.
        takes: Degrees,
        /// What there is from it to the next.
        room: Degrees,
    },
    /// The heights are not as many as the places.
    #[error("{got} heights for {places} places")]
    HeightsMiscounted {
        /// Heights.
        got: usize,
        /// Places.
        places: usize,
    },
    /// Places of an outline that do not go on round one turn.
    #[error("the outline goes back, or past one turn, at {} degrees", at.to_f64())]
    OutlineBack {
        /// The place that goes back, or past the turn.
        at: Degrees,
    },
    /// Lever arbors that lift each other in a circle.
    #[error("lever arbor `{arbor}` lifts itself by way of others")]
    LiftsRound {
        /// One of them.
        arbor: String,
    },
    /// The rack's own arbor is lifted or lies on a track: only its tail on the snail moves it.
    #[error("the arbor of the rack is lifted or lies on a track")]
    RackDriven,
    /// A lever of the rack's on a sheet without one.
    #[error("a lever of the rack, and no rack")]
    NoRack,
    /// A track of another form where a snail belongs, or a snail where another does.
    #[error("track `{track}` is a snail where none belongs, or none where one does")]
    NotASnail {
        /// The track.
        track: String,
    },
    /// More of something than any movement has.
    #[error("{got} {kind}, of which {most} are taken")]
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
    /// Winding squares and bells.
    Fixtures,
}

/// What has an id of its own among the works of the strike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NamedWork {
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
    /// A winding square or a bell.
    Fixture,
}

/// Something wrong, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {what}")]
pub struct Flaw {
    /// Where.
    pub place: DraftPlace,
    /// What.
    pub what: FlawKind,
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
    /// A witness without a window, on a sheet without levers: nothing can be said of where it stands.
    NoWindow {
        /// The witness.
        witness: String,
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
    pub place: DraftPlace,
    /// What.
    pub what: Misgiving,
}

impl FlawKind {
    /// The place of the first of two that are doubled or contradict each other.
    pub fn first(&self) -> Option<DraftPlace> {
        match self {
            FlawKind::DoubledWitness { first, .. }
            | FlawKind::DoubledMoment { first, .. }
            | FlawKind::MeshedTwice { first }
            | FlawKind::DrivenTwice { first, .. }
            | FlawKind::TwoUndriven { first, .. }
            | FlawKind::RunsContradict { first, .. }
            | FlawKind::DoubledId { first, .. } => Some(*first),
            _ => None,
        }
    }
}

/// What may have been meant, as the end of a line.
fn meant(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!(", perhaps `{near}`"))
}

/// For whoever builds on this crate: numbers count from 1, in the order of the sheet.
impl fmt::Display for DraftPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            DraftPlace::Sheet => write!(f, "the sheet"),
            DraftPlace::Arbor(i) => write!(f, "arbor {}", i + 1),
            DraftPlace::Runs(i) => write!(f, "runs of arbor {}", i + 1),
            DraftPlace::Mesh(i) => write!(f, "mesh {}", i + 1),
            DraftPlace::MeshSide(i, MeshSide::Driver) => write!(f, "driver of mesh {}", i + 1),
            DraftPlace::MeshSide(i, MeshSide::Driven) => write!(f, "driven of mesh {}", i + 1),
            DraftPlace::ReadAt => write!(f, "read_at of the strike"),
            DraftPlace::Strike => write!(f, "the strike"),
            DraftPlace::MomentId(i) => write!(f, "id of moment {}", i + 1),
            DraftPlace::MomentArbor(i) => write!(f, "arbor of moment {}", i + 1),
            DraftPlace::WitnessId(i) => write!(f, "id of witness {}", i + 1),
            DraftPlace::WitnessOn(i) => write!(f, "arbor of witness {}", i + 1),
            DraftPlace::WitnessAt(i) => write!(f, "moment of witness {}", i + 1),
            DraftPlace::Window(i) => write!(f, "window of witness {}", i + 1),
            DraftPlace::Best(i) => write!(f, "best place of witness {}", i + 1),
            DraftPlace::Slot(i) => write!(f, "slot of witness {}", i + 1),
            DraftPlace::Track(i, key) => write!(f, "{key} of track {}", i + 1),
            DraftPlace::Pin(i, key) => write!(f, "{key} of pin {}", i + 1),
            DraftPlace::Lever(i, key) => write!(f, "{key} of lever {}", i + 1),
            DraftPlace::Rack(key) => write!(f, "{key} of the rack"),
            DraftPlace::Count(arbor, part) => write!(f, "part {} of arbor {}", part + 1, arbor + 1),
            DraftPlace::HeldBy(i) => write!(f, "held of arbor {}", i + 1),
            DraftPlace::Pillar(i) => write!(f, "id of pillar {}", i + 1),
            DraftPlace::Pivot(i) => write!(f, "id of pivot {}", i + 1),
            DraftPlace::Fixture(i) => write!(f, "id of fixture {}", i + 1),
        }
    }
}

impl fmt::Display for Plural {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Plural::Arbors => "arbors",
            Plural::Meshes => "meshes",
            Plural::Witnesses => "witnesses",
            Plural::Moments => "moments",
            Plural::Tracks => "tracks",
            Plural::Pins => "pins",
            Plural::Levers => "levers",
            Plural::Pillars => "pillars",
            Plural::Pivots => "pivots",
            Plural::Fixtures => "fixtures",
        })
    }
}

impl fmt::Display for NamedWork {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NamedWork::Track => "track",
            NamedWork::Pin => "pin",
            NamedWork::Lever => "lever",
            NamedWork::LeverArbor => "lever arbor",
            NamedWork::Pillar => "pillar",
            NamedWork::Pivot => "pivot",
            NamedWork::Fixture => "fixture",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flaw_says_its_place_and_its_values() {
        let deg = |n| Degrees::deg(quantity::whole(n));
        let way = |n| LoopPath {
            hops: Vec::new(),
            turns: quantity::fraction(n, 2),
        };
        for (place, what, says) in [
            (
                DraftPlace::MeshSide(1, MeshSide::Driven),
                FlawKind::UnknownPart {
                    arbor: "third".to_owned(),
                    got: "weel".to_owned(),
                    near: Some("wheel".to_owned()),
                },
                "driven of mesh 2: no part `weel` on arbor `third`, perhaps `wheel`",
            ),
            (
                DraftPlace::Count(2, 0),
                FlawKind::Uncounted {
                    part: "third.wheel".to_owned(),
                    more: 2,
                },
                "part 1 of arbor 3: no count for `third.wheel`, nor for 2 more",
            ),
            (
                DraftPlace::Mesh(3),
                FlawKind::LoopOpen {
                    start: "centre".to_owned(),
                    end: "hour".to_owned(),
                    ways: Box::new([way(1), way(-1)]),
                },
                "mesh 4: the ways from `centre` to `hour` disagree: 1/2 turns and -1/2 turns",
            ),
            (
                DraftPlace::Best(0),
                FlawKind::BestOutside {
                    best: deg(9),
                    from: deg(-3),
                    to: deg(4),
                },
                "best place of witness 1: the best place, 9 degrees, is not between -3 and 4",
            ),
            (
                DraftPlace::Pivot(4),
                FlawKind::DoubledId {
                    kind: NamedWork::LeverArbor,
                    id: "lift".to_owned(),
                    first: DraftPlace::Lever(0, "arbor"),
                },
                "id of pivot 5: two of kind lever arbor are called `lift`, the first at arbor of lever 1",
            ),
            (
                DraftPlace::Sheet,
                FlawKind::TooMany {
                    kind: Plural::Witnesses,
                    got: 70,
                    most: 64,
                },
                "the sheet: 70 witnesses, of which 64 are taken",
            ),
        ] {
            let flaw: Box<dyn std::error::Error> = Box::new(Flaw { place, what });
            assert_eq!(flaw.to_string(), says);
        }
    }
}
