//! What is seen as the strike runs: one event after another, each with where everything stands.

use crate::Jam;
use crate::machine::{Feeler, HAND, Machine, Tick};
use crate::run::Run;
use movement::{ArborId, LeverArborId, LeverId, PinId};
use num_integer::Integer;
use num_traits::{ToPrimitive, Zero};
use quantity::{Degrees, Exact, whole};
use std::sync::Arc;

/// Where everything stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MovementPose {
    /// Hours that the hand has gone since the start.
    pub hours: Exact,
    /// For each arbor of the sheet, how far it stands ahead of its place at the drop of the last hour, in degrees of its own
    /// and its own way of running.
    pub arbors: Vec<Degrees>,
    /// The height of each lever arbor above where it comes to rest.
    pub levers: Vec<Degrees>,
    /// Teeth of the rack that are left to gather, where there is one.
    pub rack: Option<Exact>,
}

/// What is seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StrikeEvent {
    /// Everything is put together and held at the drop of the last hour.
    Held,
    /// A lever begins to be lifted.
    Lifts(LeverId),
    /// A train is let run: by its place on the sheet.
    Runs(usize),
    /// An arm that was raised catches its pin: warned.
    Warned {
        /// The pin.
        pin: PinId,
        /// The arm.
        by: LeverId,
    },
    /// An arm that has come down catches its pin, or a tip the wall it is to lock on.
    Locked {
        /// The pin; nothing where a wall locks.
        pin: Option<PinId>,
        /// The arm, or the lever of the tip.
        by: LeverId,
    },
    /// A tip leaves an edge, and its lever arbor falls.
    Falls {
        /// The lever whose tip it is.
        lever: LeverId,
        /// The lever arbor.
        arbor: LeverArborId,
        /// The height it falls from.
        from: Degrees,
        /// The height it falls to.
        to: Degrees,
        /// The height a full fall would come to.
        deepest: Degrees,
    },
    /// A hammer is let go: a blow.
    Blow(LeverId),
    /// A further hammer is let go within the same blow: another of its voices.
    Voice(LeverId),
    /// The rack falls.
    RackFalls {
        /// Teeth, from where it was.
        teeth: Exact,
    },
    /// The pallet gathers.
    Gathers {
        /// Teeth left.
        left: Exact,
    },
    /// Something does not get past something else.
    Jams(Jam),
    /// A train runs on and nothing stops it.
    RunsOn(usize),
    /// It was left off.
    LeftOff,
    /// The last hour of the cycle is over.
    Over,
}

/// One event.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// What is seen.
    pub seen: StrikeEvent,
    /// Where all stands then, after whatever fell has fallen.
    pub pose: Arc<MovementPose>,
    /// Which of the poses of the motion that is.
    pub step: usize,
}

/// From ticks back to degrees.
pub(crate) struct Poser {
    arbors: Vec<Turning>,
}

/// How an arbor is turned by its driver.
struct Turning {
    driver: usize,
    /// In degrees.
    per_tick: Exact,
    /// How far ahead it was put together, in degrees.
    ahead: Exact,
    /// Both over one denominator, where that is small enough for sums of the processor's own.
    small: Option<(i128, i128, i128)>,
}

impl Turning {
    fn of(driver: usize, per_tick: Exact, ahead: Exact) -> Turning {
        let common = per_tick.denom().lcm(ahead.denom());
        let over = |it: &Exact| (it.numer() * (&common / it.denom())).to_i128();
        let small = over(&per_tick).zip(over(&ahead)).zip(common.to_i128());
        Turning {
            driver,
            small: small.map(|((per_tick, ahead), common)| (per_tick, ahead, common)),
            per_tick,
            ahead,
        }
    }

    /// Where the arbor stands after so many ticks of its driver, in degrees.
    fn place(&self, ticks: Tick) -> Exact {
        let small = self.small.and_then(|(per_tick, ahead, common)| {
            let turned = per_tick.checked_mul(ticks)?.checked_add(ahead)?;
            let both = turned.gcd(&common);
            Some(Exact::new_raw(
                (turned / both).into(),
                (common / both).into(),
            ))
        });
        small.unwrap_or_else(|| &self.per_tick * Exact::from_integer(ticks.into()) + &self.ahead)
    }
}

impl Poser {
    pub(crate) fn new(machine: &Machine) -> Poser {
        let arbors = machine.carried.iter().map(|carried| {
            let ticks = Exact::from_integer(machine.drivers[carried.driver].ticks.into());
            let per_tick = &carried.rate * whole(360) / ticks;
            Turning::of(carried.driver, per_tick, &carried.ahead * whole(360))
        });
        Poser {
            arbors: arbors.collect(),
        }
    }

    /// Degrees that an arbor turns in so many ticks of its driver.
    pub(crate) fn turned(&self, arbor: ArborId, ticks: Tick) -> Degrees {
        let per_tick = &self.arbors[arbor.index()].per_tick;
        Degrees::deg(per_tick * Exact::from_integer(ticks.into()))
    }

    pub(crate) fn pose(&self, run: &Run<'_>) -> MovementPose {
        let place = |arbor: &Turning| Degrees::deg(arbor.place(run.at[arbor.driver]));
        MovementPose {
            hours: hours(run.machine, run.at[HAND]),
            arbors: self.arbors.iter().map(place).collect(),
            levers: heights(run).into_iter().map(Degrees::deg).collect(),
            rack: (run.machine.rack.as_ref()).map(|rack| in_teeth(run.left, rack.tooth)),
        }
    }
}

/// Ticks of the hand in hours.
pub(crate) fn hours(machine: &Machine, ticks: Tick) -> Exact {
    Exact::new(ticks.into(), machine.drivers[HAND].ticks.into())
}

/// Parts of a tooth in teeth.
pub(crate) fn in_teeth(parts: Tick, tooth: Tick) -> Exact {
    part(parts, tooth)
}

/// Ticks as a part of a turn of so many, by sums of the processor's own.
pub(crate) fn part(ticks: Tick, turn: Tick) -> Exact {
    let both = ticks.gcd(&turn).max(1);
    Exact::new_raw((ticks / both).into(), (turn / both).into())
}

/// How high a tip holds its arbor where it stands.
fn tip_height(run: &Run<'_>, index: usize, feeler: &Feeler) -> Exact {
    let Some((last, next)) = run.between(index) else {
        return feeler.level.clone();
    };
    let (from, to) = (&feeler.marks[last].behind, &feeler.marks[next].before);
    if from == to {
        return from.clone();
    }
    let (ahead, behind) = run.around(index);
    from + (to - from) * part(behind, ahead + behind)
}

/// The height of every lever arbor.
pub(crate) fn heights(run: &Run<'_>) -> Vec<Exact> {
    let machine = run.machine;
    let mut heights = vec![Exact::zero(); machine.arbors.len()];
    for &arbor in &machine.order {
        heights[arbor] = height_by(run, arbor, &|by| heights[by].clone());
    }
    heights
}

/// The height of one lever arbor.
pub(crate) fn height(run: &Run<'_>, arbor: usize) -> Exact {
    height_by(run, arbor, &|by| height(run, by))
}

/// The same, by how high those stand that lift it.
fn height_by(run: &Run<'_>, arbor: usize, lifting: &dyn Fn(usize) -> Exact) -> Exact {
    let machine = run.machine;
    if let Some(rack) = machine.rack.as_ref().filter(|rack| rack.arbor == arbor) {
        return in_teeth(run.left, rack.tooth) * &rack.tooth_deg;
    }
    let levers = &machine.arbors[arbor];
    let mut height = Exact::zero();
    for &f in &levers.feelers {
        height = height.max(tip_height(run, f, &machine.feelers[f]));
    }
    for &h in &levers.hooks {
        height = height.max(machine.hooks[h].height[usize::from(run.left > 0)].clone());
    }
    for (by, from, _) in &levers.lifted {
        height = height.max(&lifting(*by) - from);
    }
    height
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::fraction;

    #[test]
    fn an_arbor_stands_where_its_fractions_say_small_or_not() {
        for (per_tick, ahead) in [
            (fraction(3, 7), fraction(-5, 12)),
            (fraction(-360, 1_000_003), fraction(0, 1)),
            (fraction(i64::MAX, 7), fraction(1, i64::MAX - 24)),
        ] {
            for ticks in [0, 1, -8, 12_345_678_901, Tick::MAX] {
                let turning = Turning::of(0, per_tick.clone(), ahead.clone());
                let place = turning.place(ticks);
                let exact = &per_tick * Exact::from_integer(ticks.into()) + &ahead;
                assert_eq!(place, exact);
                assert_eq!(place.denom(), exact.denom(), "in its lowest terms");
            }
        }
    }
}
