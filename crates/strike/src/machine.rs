//! The works in whole numbers: what turns, what is felt, what stands in whose path.

use movement::{ArborId, LeverId, PinId, TrackId};
use num_integer::Integer;
use quantity::Exact;

/// How many of the heights that matter on a lever arbor are reached.
pub(crate) type Class = usize;
/// A driver's way.
pub(crate) type Tick = i128;

/// The hand's driver; the trains follow.
pub(crate) const HAND: usize = 0;

/// What turns by itself: the hand, in hours, or a train, in turns of its first arbor.
#[derive(Debug, Clone)]
pub(crate) struct Driver {
    /// Its train on the sheet; nothing for the hand.
    pub(crate) train: Option<usize>,
    /// Ticks in an hour, or in one turn of its first arbor.
    pub(crate) ticks: Tick,
}

/// How something is carried round: by which driver, how fast, and how far ahead of the sheet it stands.
#[derive(Debug, Clone)]
pub(crate) struct Carried {
    pub(crate) driver: usize,
    /// Turns to an hour, or to one turn of the train's first arbor.
    pub(crate) rate: Exact,
    /// In turns.
    pub(crate) ahead: Exact,
}

/// A corner of a track under a tip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Mark {
    pub(crate) tick: Tick,
    /// As it comes and goes: the higher of the two.
    pub(crate) at: Class,
    /// As it has passed.
    pub(crate) after: Class,
    /// The height that other levers must hold for a wall to pass under the tip.
    pub(crate) wall: bool,
    /// Whether what lies on it is let go.
    pub(crate) falls: bool,
    /// Whether what lay still on it begins to be lifted.
    pub(crate) rises: bool,
    pub(crate) before: Exact,
    pub(crate) behind: Exact,
}

/// A lever's tip on a track.
#[derive(Debug, Clone)]
pub(crate) struct Feeler {
    /// Nothing for the rack's tail.
    pub(crate) lever: Option<LeverId>,
    pub(crate) arbor: usize,
    pub(crate) track: TrackId,
    /// The arbor that carries the track; nothing where the motion work does.
    pub(crate) on: Option<ArborId>,
    pub(crate) driver: usize,
    /// Ticks after which the marks come again, and after which the track has turned once.
    pub(crate) period: Tick,
    pub(crate) turn: Tick,
    pub(crate) marks: Vec<Mark>,
    /// The class where there are no marks.
    pub(crate) flat: Class,
    pub(crate) level: Exact,
    pub(crate) locks: bool,
    pub(crate) hammer: bool,
    /// Of a hammer the first, on the sheet, of those whose voices make one blow together.
    pub(crate) voice_of: usize,
}

impl Feeler {
    /// The lowest that the track lets the tip come.
    pub(crate) fn lowest(&self) -> &Exact {
        let marks = self
            .marks
            .iter()
            .flat_map(|mark| [&mark.before, &mark.behind]);
        marks.min().unwrap_or(&self.level)
    }

    /// Ticks from one letting go to the next where they are fewest.
    pub(crate) fn pitch(&self) -> Tick {
        let falls: Vec<Tick> = (self.marks.iter().filter(|mark| mark.falls))
            .map(|mark| mark.tick)
            .collect();
        let gap = |(i, fall): (usize, &Tick)| {
            let gap = (falls[(i + 1) % falls.len()] - fall).mod_floor(&self.period);
            if gap == 0 { self.period } else { gap }
        };
        falls.iter().enumerate().map(gap).min().unwrap_or(self.turn)
    }

    /// Ticks that the tip has from edge to edge where it has fewest.
    pub(crate) fn narrowest(&self) -> Tick {
        let n = self.marks.len();
        let room = |(i, mark): (usize, &Mark)| {
            let next = &self.marks[(i + 1) % n];
            let room = (next.tick - mark.tick).mod_floor(&self.period);
            mark.falls
                .then_some(if room == 0 { self.period } else { room })
        };
        let rooms = self.marks.iter().enumerate().filter_map(room);
        rooms.min().unwrap_or(self.turn)
    }
}

/// A lever's tip on the rack.
#[derive(Debug, Clone)]
pub(crate) struct Hook {
    /// Past the last tooth, and on the teeth.
    pub(crate) class: [Class; 2],
    pub(crate) height: [Exact; 2],
}

/// When an arm is in the path.
#[derive(Debug, Clone)]
pub(crate) enum Path {
    Below(Class),
    Above(Class),
    /// An arm of the rack: while less than so much is left to gather.
    RackBelow(Tick),
    RackAbove(Tick),
}

/// An arm, and where its pin comes to it.
#[derive(Debug, Clone)]
pub(crate) struct Arm {
    pub(crate) lever: LeverId,
    pub(crate) pin: PinId,
    /// The arbor that carries the pin.
    pub(crate) on: ArborId,
    pub(crate) arbor: usize,
    pub(crate) driver: usize,
    pub(crate) period: Tick,
    pub(crate) places: Vec<Tick>,
    pub(crate) path: Path,
    /// The height of its arbor at which it comes into the path or leaves it.
    pub(crate) reach: Exact,
}

/// A lever arbor: what lies on tracks, and what other arbors lift it.
#[derive(Debug, Clone, Default)]
pub(crate) struct LeverArbor {
    pub(crate) heights: Vec<Exact>,
    pub(crate) feelers: Vec<usize>,
    pub(crate) hooks: Vec<usize>,
    /// Arbors that lift this one: which, from what height, and for each class of theirs the class here.
    pub(crate) lifted: Vec<(usize, Exact, Vec<Class>)>,
    /// The class where it comes to rest.
    pub(crate) rest: Class,
    /// The lowest that its tips let it come.
    pub(crate) deepest: Exact,
}

/// The rack.
#[derive(Debug, Clone)]
pub(crate) struct RackRun {
    pub(crate) arbor: usize,
    pub(crate) pallet: PinId,
    /// The arbor that carries the pallet.
    pub(crate) on: ArborId,
    /// The tail on the snail, among the feelers.
    pub(crate) tail: usize,
    pub(crate) hook: usize,
    pub(crate) free: Class,
    pub(crate) driver: usize,
    pub(crate) period: Tick,
    pub(crate) places: Vec<Tick>,
    /// Parts of a tooth that falls are told in, so that all are whole.
    pub(crate) tooth: Tick,
    /// The fall before and behind each mark of the tail, and where there are none.
    pub(crate) falls: Vec<[Tick; 2]>,
    pub(crate) flat: Tick,
    pub(crate) enters: Tick,
    pub(crate) teeth: Tick,
    pub(crate) tooth_deg: Exact,
}

/// The works, in whole numbers.
#[derive(Debug, Clone)]
pub(crate) struct Machine {
    pub(crate) drivers: Vec<Driver>,
    /// Each arbor of the sheet.
    pub(crate) carried: Vec<Carried>,
    pub(crate) feelers: Vec<Feeler>,
    pub(crate) hooks: Vec<Hook>,
    pub(crate) arms: Vec<Arm>,
    pub(crate) arbors: Vec<LeverArbor>,
    /// Lever arbors in an order in which each comes after those that lift it.
    pub(crate) order: Vec<usize>,
    pub(crate) rack: Option<RackRun>,
}
