//! What a log tells of how all stood while it struck right: of each witness how far inside its window it stood, and where the windows
//! lie that are known from usual proportions alone.

use crate::assumed::EVEN_RANGE;
use crate::brought::LockStood;
use crate::events::{Reader, RecallFault};
use crate::priors::Priors;
use crate::reading::{Reading, widest_spread};
use crate::rest::{Rest, StandsAtRest};
use crate::stood::{StoodInside, WindowLies};
use entries::{EntryContent, EntryKind, Log, LoggedReading, Work};
use kinematics::speed;
use movement::{Movement, StoodWindow, WitnessId};
use quantity::{Degrees, Exact, fraction, nearest_alike, whole};
use std::collections::BTreeMap;

/// How a witness stood while the strike was right.
#[derive(Debug, Clone, PartialEq)]
pub struct StoodAt {
    /// Which.
    pub witness: WitnessId,
    /// Where that was, brought to its moment.
    pub place: Degrees,
    /// How far from an edge of its window.
    pub told: HowStood,
}

/// How far from an edge of its window a witness stood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HowStood {
    /// So many degrees inside at least, at odds of nineteen in twenty.
    Inside(Degrees),
    /// Near an edge.
    NearAnEdge,
    /// It was read outside, though it struck right: the reading, a width on the sheet or the window is off.
    Outside,
    /// It cannot be told: it was read too coarsely for it.
    CannotTell,
}

/// What a log tells of how all stood while it struck right.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StoodRight {
    /// Each witness that was read so.
    pub each: Vec<StoodAt>,
    /// Where windows lie that are known from usual proportions alone.
    pub windows: Vec<StoodWindow>,
}

/// Nearer to an edge than this part of half the window is near it. Ours.
const NEAR: f64 = 0.1;

/// Less likely than this it was not inside as it was read: then that is not gone by. Ours.
const HARDLY: f64 = 0.01;

/// A sway of less than this part of a reading's spread is lost in it.
const LEAST_SWAY: f64 = 0.1;

/// What a log tells of how all stood while it struck right. Levers that were bent since stand otherwise than they did: of their witnesses
/// it tells nothing any more.
///
/// # Errors
/// A reading that cannot be used, of those that rest on the sheet as it is now.
pub fn stood_right(
    movement: &Movement,
    log: &Log,
    priors: &Priors,
) -> Result<StoodRight, RecallFault> {
    let rest = Rest::of(movement);
    let mut told: BTreeMap<WitnessId, Vec<Reading>> = BTreeMap::new();
    let mut strikes: u16 = 0;
    let this_sheet = log.sheet().map_or(0, |sheet| sheet.n);
    for entry in log.standing() {
        match &entry.told {
            EntryContent::Known(EntryKind::Stood { hours, readings })
                if log.matches(hash_at(log, entry.n)) =>
            {
                strikes = strikes.saturating_add(hours.unwrap_or(1));
                let look = Look {
                    movement,
                    rest: &rest,
                    n: entry.n,
                    binding: entry.n > this_sheet,
                };
                for reading in look.at_the_drop(readings)? {
                    told.entry(reading.witness).or_default().push(reading);
                }
            }
            EntryContent::Known(EntryKind::Bent(moved)) => {
                if let Some(id) = movement.find_witness(&moved.witness) {
                    told.remove(&id);
                }
            }
            _ => {}
        }
    }
    let mut found = StoodRight::default();
    for (id, readings) in told {
        let of = One {
            movement,
            id,
            strikes,
            priors,
        };
        found.each.push(of.told(&readings, &mut found.windows));
    }
    Ok(found)
}

/// The digest of the sheet that an entry rests on.
fn hash_at(log: &Log, n: usize) -> &str {
    let before = (log.standing().rev()).filter(|entry| entry.n < n);
    let mut sheets = before.filter_map(|entry| match entry.work() {
        Some(Work::Sheet { hash, .. }) => Some(hash.as_str()),
        _ => None,
    });
    sheets.next().unwrap_or(&log.header().hash)
}

/// The readings of one entry.
struct Look<'a> {
    movement: &'a Movement,
    rest: &'a Rest,
    n: usize,
    /// Whether it rests on this very sheet text, and not on one that counts the same.
    binding: bool,
}

impl Look<'_> {
    /// Each as it stood at its moment. Where nobody saw how far what locks had to go, it stood in its window, as the strike was right.
    fn at_the_drop(&self, readings: &[LoggedReading]) -> Result<Vec<Reading>, RecallFault> {
        let mut reader = Reader::of(self.movement, self.rest);
        reader.n = self.n;
        let mut read = Vec::new();
        for reading in readings {
            match reader.read_at_rest(reading) {
                Ok(reading) => read.push(reading),
                Err(fault) if self.binding => return Err(fault),
                Err(_) => {}
            }
        }
        let stood = |lock: WitnessId| {
            let seen = read.iter().find(|reading| reading.witness == lock);
            let seen = seen.map(|reading| LockStood {
                place: reading.stands.clone(),
                spread: reading.spread.as_deg(),
            });
            let witness = self.movement.witness(lock);
            Some(seen.unwrap_or_else(|| LockStood {
                place: &(&witness.from + &witness.to) * &fraction(1, 2),
                spread: witness.width().to_f64() * EVEN_RANGE.value,
            }))
        };
        let brought = read.iter();
        Ok(brought
            .map(|reading| self.rest.brought(self.movement, reading, &stood))
            .collect())
    }
}

/// One witness and its readings.
struct One<'a> {
    movement: &'a Movement,
    id: WitnessId,
    strikes: u16,
    priors: &'a Priors,
}

impl One<'_> {
    fn told(&self, readings: &[Reading], windows: &mut Vec<StoodWindow>) -> StoodAt {
        let witness = self.movement.witness(self.id);
        let (place, spread) = self.together(readings);
        let stood = |told: HowStood| StoodAt {
            witness: self.id,
            place: degrees(place),
            told,
        };
        let half = 0.5 * witness.width().to_f64();
        if spread >= widest_spread(witness).to_f64() || spread > half {
            return stood(HowStood::CannotTell);
        }
        let usual = self.movement.is_usual(self.id);
        let lies = StoodInside {
            window: [witness.from.to_f64(), witness.to.to_f64()],
            doubt: witness.window_spread().to_f64(),
            read: [place, spread],
            sway: self.sway().max(LEAST_SWAY * spread),
            strikes: self.strikes,
        }
        .lies();
        let WindowLies { chance, by, inside } = lies;
        if chance < HARDLY {
            return stood(HowStood::Outside);
        }
        if usual {
            windows.push(StoodWindow {
                witness: self.id,
                by: degrees(by[0]),
                spread: degrees(by[1]),
            });
        }
        stood(match inside {
            inside if inside < NEAR * half => HowStood::NearAnEdge,
            inside => HowStood::Inside(degrees(inside)),
        })
    }

    /// All its readings as one: the surer it was read, the more it counts.
    fn together(&self, readings: &[Reading]) -> (f64, f64) {
        let witness = self.movement.witness(self.id);
        let times = self.priors.eye.times();
        let first = readings.first().map_or(&witness.best, |read| &read.stands);
        let (mut sum, mut weights) = (0.0, 0.0);
        for reading in readings {
            let at = nearest_alike(&reading.stands, &witness.period(), first);
            let spread = times * reading.spread.as_deg();
            let weight = 1.0 / (spread * spread);
            sum += weight * at.to_f64();
            weights += weight;
        }
        (sum / weights, (1.0 / weights).sqrt())
    }

    /// How much it stands otherwise from one strike to the next: as the held arbor does.
    fn sway(&self) -> f64 {
        let witness = self.movement.witness(self.id);
        let strike = self.movement.strike();
        let strike = strike.filter(|_| self.movement.moment(witness.at).id == movement::DROP);
        let hold = strike.and_then(|strike| strike.hold.as_ref().map(Degrees::to_f64));
        let hold = hold.unwrap_or(self.priors.hold_deg);
        strike
            .and_then(|strike| speed(self.movement, witness.on, strike.read_at))
            .map_or(0.0, |speed| hold * quantity::to_f64(&speed))
    }
}

/// To the ten-thousandth, as degrees are told.
fn degrees(x: f64) -> Degrees {
    let told = Exact::from_float(libm::round(1e4 * x));
    told.map_or_else(Degrees::zero, |n| Degrees::deg(n / whole(10_000)))
}

/// Whether what is read of a witness at rest tells where it stood at its moment; of what locks only through its notch.
pub fn tells_stood(movement: &Movement, rest: &Rest, id: WitnessId) -> bool {
    match rest.at_rest(id) {
        StandsAtRest::Unknown => false,
        StandsAtRest::Locks { .. } => Rest::notch(movement, id).is_some(),
        StandsAtRest::AsItIs | StandsAtRest::RunsOn(_) | StandsAtRest::WithLock { .. } => true,
    }
}
