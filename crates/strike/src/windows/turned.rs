//! Works of which arbors can be turned by themselves, all that is fixed on them together, and the places at which that changes
//! anything.
//!
//! Every place is a whole tick, so a turn is a whole number of ticks taken off all that an arbor carries: nothing is rounded and
//! no edge is made anew.

use crate::bounds::MOST_CYCLES;
use crate::build::MOST_BITS;
use crate::hours::{minutes_apart, through_cycles};
use crate::machine::{HAND, Machine, Mark, Path, RackRun, Tick};
use crate::record::Account;
use crate::run::pitches;
use crate::{LeastLead, NoStrike, Struck};
use movement::{ArborId, Movement};
use num_integer::Integer;
use num_traits::ToPrimitive;
use quantity::{Degrees, Exact, whole};
use std::cell::Cell;
use std::collections::BTreeMap;

/// Finer by so much, a hundredth of a degree of every arbor that carries anything is a whole number of ticks, and so is half of
/// any place that [`Breaks`] tells: those are eighths, quarters and halves of what was whole before, and fiftieths of a degree.
const FINER: Tick = 36_000;
/// The bits that ticks may have once they are finer: a day's cycle many times over has room left.
const MOST_FINE_BITS: u64 = MOST_BITS + 4;

/// Works to be turned.
pub(super) struct Turnable<'m> {
    pub(super) movement: &'m Movement,
    pub(super) machine: Machine,
    /// Work that is left.
    left: Cell<u64>,
}

/// An arbor, and by how many ticks it is turned ahead.
pub(super) type Turned = (ArborId, Tick);

impl<'m> Turnable<'m> {
    /// The works of a movement, for so much work.
    pub(super) fn of(movement: &'m Movement, work: u64) -> Result<Turnable<'m>, NoStrike> {
        Ok(Turnable {
            machine: Machine::split(movement)?.finer()?,
            movement,
            left: Cell::new(work),
        })
    }

    /// The strike with these arbors turned, through cycle after cycle until all stands as it did; nothing where no work is left.
    ///
    /// That is the whole cycle begun at every lock at once: blows move the train on by the same way whatever is turned, so one that
    /// is begun at another hour with the same arbors turned goes through the same places.
    pub(super) fn run(&self, turned: &[Turned]) -> Option<Struck> {
        if self.left.get() == 0 {
            return None;
        }
        let mut machine = self.machine.clone();
        for (arbor, by) in turned {
            machine.turn(*arbor, *by);
        }
        let struck = through_cycles(self.movement, &machine, Account::Points, MOST_CYCLES).ok()?;
        self.left.set(self.left.get().saturating_sub(struck.work));
        Some(struck)
    }

    /// Work that is left.
    pub(super) fn left(&self) -> u64 {
        self.left.get()
    }

    /// Some of it went into works that are a little other.
    pub(super) fn spend(&self, work: u64) {
        self.left.set(self.left.get().saturating_sub(work));
    }

    /// Whether it was left off before all was tried.
    pub(super) fn is_cut_short(&self) -> bool {
        self.left.get() == 0
    }

    /// Whether an arbor carries anything that the strike feels or stops.
    pub(super) fn carries(&self, arbor: ArborId) -> bool {
        let machine = &self.machine;
        (machine.feelers.iter()).any(|f| f.on == Some(arbor) && !f.marks.is_empty())
            || (machine.arms.iter()).any(|a| a.on == arbor && !a.places.is_empty())
            || (machine.rack.iter()).any(|r| r.on == arbor && !r.places.is_empty())
    }

    /// Ticks in one turn of an arbor.
    pub(super) fn turn(&self, arbor: ArborId) -> Exact {
        let carried = &self.machine.carried[arbor.index()];
        let ticks = Exact::from_integer(self.machine.drivers[carried.driver].ticks.into());
        ticks / &carried.rate
    }

    /// Ticks of an arbor in degrees of it.
    pub(super) fn degrees(&self, arbor: ArborId, ticks: Tick) -> Degrees {
        Degrees::turns(&(Exact::from_integer(ticks.into()) / self.turn(arbor)))
    }

    /// Degrees of an arbor in its ticks. What lies between two ticks is taken as the odd one: what changes does so at even ticks,
    /// so that nothing lies between the two.
    pub(super) fn ticks(&self, arbor: ArborId, by: &Degrees) -> Tick {
        let ticks = by.exact() / whole(360) * self.turn(arbor);
        let under = ticks.floor().to_integer().to_i128().unwrap_or(Tick::MAX);
        if ticks.is_integer() || under.is_odd() {
            under
        } else {
            under + 1
        }
    }
}

impl Machine {
    /// With finer ticks.
    fn finer(mut self) -> Result<Machine, NoStrike> {
        for driver in &mut self.drivers {
            driver.ticks *= FINER;
            if driver.ticks >= 1 << MOST_FINE_BITS {
                return Err(NoStrike::TooFine);
            }
        }
        for feeler in &mut self.feelers {
            feeler.period *= FINER;
            feeler.turn *= FINER;
            for mark in &mut feeler.marks {
                mark.tick *= FINER;
            }
        }
        for arm in &mut self.arms {
            arm.period *= FINER;
            for place in &mut arm.places {
                *place *= FINER;
            }
        }
        if let Some(rack) = &mut self.rack {
            rack.period *= FINER;
            for place in &mut rack.places {
                *place *= FINER;
            }
        }
        Ok(self)
    }

    /// Turns an arbor ahead with all that is fixed on it: it comes to every place so much sooner.
    fn turn(&mut self, arbor: ArborId, by: Tick) {
        for feeler in &mut self.feelers {
            if feeler.on != Some(arbor) || feeler.marks.is_empty() {
                continue;
            }
            let tail = feeler.lever.is_none();
            let period = feeler.period;
            let first = sooner(
                &mut feeler.marks,
                |mark: &mut Mark| &mut mark.tick,
                by,
                period,
            );
            if tail && let Some(rack) = &mut self.rack {
                rack.falls.rotate_left(first);
            }
        }
        for arm in &mut self.arms {
            if arm.on == arbor {
                sooner(&mut arm.places, |place| place, by, arm.period);
            }
        }
        if let Some(rack) = &mut self.rack
            && rack.on == arbor
        {
            sooner(&mut rack.places, |place| place, by, rack.period);
        }
    }
}

/// Brings what comes round in order so many ticks sooner, after a period again; which of it is then the first.
fn sooner<T>(all: &mut [T], tick: impl Fn(&mut T) -> &mut Tick, by: Tick, period: Tick) -> usize {
    for one in all.iter_mut() {
        let tick = tick(one);
        *tick = (*tick - by).mod_floor(&period);
    }
    let ticks: Vec<Tick> = all.iter_mut().map(|one| *tick(one)).collect();
    let first = (1..ticks.len()).find(|&i| ticks[i] < ticks[i - 1]);
    let first = first.unwrap_or(0);
    all.rotate_left(first);
    first
}

/// What comes round with an arbor, or stands.
struct Feature {
    /// Nothing for what no arbor carries.
    on: Option<ArborId>,
    driver: usize,
    /// After which it comes again; nought for what is but once.
    period: Tick,
    ticks: Vec<Tick>,
    what: What,
}

/// What it is.
#[derive(Clone, Copy)]
enum What {
    /// The corners of a track under a tip: of which group of lever arbors that lift each other, and whether it locks.
    Tip { group: usize, locks: bool },
    /// The same of a hammer: which hammers it makes one blow with, and the way from blow to blow.
    Hammer {
        group: usize,
        voice_of: usize,
        pitch: Tick,
    },
    /// A pin at its arm; one turn of the pin.
    Arm {
        warns: bool,
        turn: Tick,
        /// What it should have to go as a lever begins to fall.
        lead: Tick,
    },
    /// The pallet as it has gathered; one turn of it.
    Pallet { turn: Tick },
    /// The start; or, for the hand, where it goes from hour to hour.
    Start,
}

impl What {
    /// The group of lever arbors that it moves, of a tip on which nothing locks.
    fn moves(self) -> Option<usize> {
        match self {
            What::Tip {
                group,
                locks: false,
            }
            | What::Hammer { group, .. } => Some(group),
            _ => None,
        }
    }

    /// Whether it makes no difference which of two instants comes first: lever arbors that have nothing to do with each other move at
    /// them, and no train stops. (Of two trains that run at once nothing on a sheet tells which is ahead by so little.)
    fn is_apart(self, other: What) -> bool {
        let groups = self.moves().zip(other.moves());
        groups.is_some_and(|(one, other)| one != other)
    }

    /// Whether it is a pin at its arm where its train may stop.
    fn may_stand_over(self, other: What) -> bool {
        let stops = |what| matches!(what, What::Arm { .. } | What::Tip { locks: true, .. });
        let arm = |what| matches!(what, What::Arm { .. });
        (arm(self) && stops(other)) || (stops(self) && arm(other))
    }

    /// How much later than another instant this one may come for a point to begin or cease to hold.
    fn later_than(self, other: What) -> Vec<Tick> {
        match (self, other) {
            // The lead of a pin, since a lever began to fall or the last tooth was gathered.
            (What::Arm { lead, .. }, What::Tip { locks: false, .. } | What::Pallet { .. }) => {
                vec![lead]
            }
            // The same; and the warning run, from where the train stood.
            (
                What::Arm { turn, warns, lead },
                What::Tip { .. } | What::Arm { .. } | What::Start,
            ) => match warns {
                true => vec![lead, turn / 4, turn / 4 * 3],
                false => vec![lead],
            },
            // The pallet in the teeth, as the train stops.
            (What::Pallet { turn }, _) => vec![turn / 4],
            // Two hammers of one blow.
            (
                What::Hammer {
                    voice_of, pitch, ..
                },
                What::Hammer { voice_of: of, .. },
            ) if voice_of == of => {
                vec![pitch / 2]
            }
            _ => Vec::new(),
        }
    }
}

/// The places of one arbor at which anything may change as it is turned by itself; between two neighbours the strike goes the same
/// way and all that the seven points ask for is on the same side of its bound.
///
/// A run goes by nothing but the order of instants and, of points, by whether two of them are farther apart than a fixed way: the
/// least lead of a pin, a quarter, three quarters of a turn, half a blow. The distance of an instant of this arbor to one of any other changes
/// evenly as it is turned; where it is none of these ways, a little more or less makes no difference. Heights are asked for at instants,
/// and all that are compared are split at corners, which are instants too.
pub(super) struct Breaks(Vec<Again>);

/// Places that come again after so many ticks.
struct Again {
    at: Tick,
    after: Tick,
    alone: bool,
}

/// A place at which something may change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Break {
    pub(super) at: Tick,
    /// Whether it may be bad though it is good on both sides: a pin just under an arm, as its train stops. Of everything else what is
    /// due together goes as on one of the sides.
    pub(super) alone: bool,
}

impl Breaks {
    /// Of an arbor of these works.
    pub(super) fn of(works: &Turnable<'_>, arbor: ArborId) -> Breaks {
        let all = features(works);
        let mut breaks = BTreeMap::new();
        for turned in all.iter().filter(|f| f.on == Some(arbor)) {
            let other = |f: &&Feature| f.driver == turned.driver && f.on != Some(arbor);
            for still in all.iter().filter(other) {
                let mut ways = vec![0];
                ways.extend(turned.what.later_than(still.what));
                let sooner = still.what.later_than(turned.what);
                ways.extend(sooner.iter().map(|way| -way));
                if ways.len() == 1 && turned.what.is_apart(still.what) {
                    continue;
                }
                let again = turned.period.gcd(&still.period);
                for (here, there) in pairs(&turned.ticks, &still.ticks) {
                    for way in &ways {
                        let place = ((here - there - way).mod_floor(&again), again);
                        let alone = turned.what.may_stand_over(still.what);
                        *breaks.entry(place).or_insert(alone) |= alone;
                    }
                }
            }
        }
        let again = breaks.into_iter();
        Breaks(
            again
                .map(|((at, after), alone)| Again { at, after, alone })
                .collect(),
        )
    }

    /// The next one ahead of a place.
    pub(super) fn after(&self, place: Tick) -> Option<Break> {
        let next = |again: &Again| place + 1 + (again.at - place - 1).mod_floor(&again.after);
        let nearest = self.0.iter().map(next).min()?;
        Some(self.at(nearest))
    }

    /// The next one short of a place.
    pub(super) fn before(&self, place: Tick) -> Option<Break> {
        let next = |again: &Again| place - 1 - (place - 1 - again.at).mod_floor(&again.after);
        let nearest = self.0.iter().map(next).max()?;
        Some(self.at(nearest))
    }

    fn at(&self, at: Tick) -> Break {
        let here = |again: &Again| (at - again.at).mod_floor(&again.after) == 0;
        let alone = self.0.iter().any(|again| again.alone && here(again));
        Break { at, alone }
    }
}

fn pairs<'a>(some: &'a [Tick], others: &'a [Tick]) -> impl Iterator<Item = (Tick, Tick)> + 'a {
    some.iter()
        .flat_map(|&one| others.iter().map(move |&other| (one, other)))
}

/// All that comes round.
fn features(works: &Turnable<'_>) -> Vec<Feature> {
    let machine = &works.machine;
    let groups = groups(machine);
    let mut all = Vec::new();
    for (feeler, pitch) in machine.feelers.iter().zip(pitches(machine)) {
        all.push(Feature {
            on: feeler.on,
            driver: feeler.driver,
            period: feeler.period,
            ticks: feeler.marks.iter().map(|mark| mark.tick).collect(),
            what: match feeler.hammer {
                true => What::Hammer {
                    group: groups[feeler.arbor],
                    voice_of: feeler.voice_of,
                    pitch,
                },
                false => What::Tip {
                    group: groups[feeler.arbor],
                    locks: feeler.locks,
                },
            },
        });
    }
    for arm in &machine.arms {
        all.push(Feature {
            on: Some(arm.on),
            driver: arm.driver,
            period: arm.period,
            ticks: arm.places.clone(),
            what: What::Arm {
                warns: matches!(arm.path, Path::Above(_)),
                turn: arm.period,
                lead: works.ticks(arm.on, &LeastLead::of(works.movement, arm.on).degrees),
            },
        });
    }
    all.extend(machine.rack.as_ref().map(|rack: &RackRun| Feature {
        on: Some(rack.on),
        driver: rack.driver,
        period: rack.period,
        ticks: rack.places.clone(),
        what: What::Pallet { turn: rack.period },
    }));
    for (driver, it) in machine.drivers.iter().enumerate() {
        let period = match driver {
            // What is struck belongs to the nearest quarter, half or hour, and is early before it.
            HAND => it.ticks * Tick::from(minutes_apart(works.movement)) / 120,
            _ => 0,
        };
        all.push(Feature {
            on: None,
            driver,
            period,
            ticks: vec![0],
            what: What::Start,
        });
    }
    all
}

/// For each lever arbor the first of those that it lifts, is lifted by, or has the rack in common with.
fn groups(machine: &Machine) -> Vec<usize> {
    let mut groups: Vec<usize> = (0..machine.arbors.len()).collect();
    let mut join = |one: usize, other: usize| {
        let (one, other) = (groups[one], groups[other]);
        for group in &mut groups {
            if *group == one.max(other) {
                *group = one.min(other);
            }
        }
    };
    for (arbor, levers) in machine.arbors.iter().enumerate() {
        for (by, _, _) in &levers.lifted {
            join(arbor, *by);
        }
    }
    if let Some(rack) = &machine.rack {
        join(rack.arbor, rack.hook);
        for (arbor, levers) in machine.arbors.iter().enumerate() {
            if !levers.hooks.is_empty() {
                join(arbor, rack.hook);
            }
        }
    }
    groups
}
