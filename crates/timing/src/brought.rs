//! Readings of a train at rest, brought to the drop: less what it ran since.

use crate::assumed::EVEN_RANGE;
use crate::reading::{Reading, ReadingFault, widest_spread};
use crate::rest::{Rest, StandsAtRest};
use movement::{Movement, WitnessId};
use quantity::{Degrees, Spread, nearest_alike, to_f64};

impl Rest {
    /// A reading at rest as it stood at the drop, by where what locks stood then.
    pub(crate) fn brought(
        &self,
        movement: &Movement,
        reading: &Reading,
        stood: &dyn Fn(WitnessId) -> Option<LockStood>,
    ) -> Reading {
        let (ran, more) = match self.at_rest(reading.witness) {
            StandsAtRest::RunsOn(degrees) => (degrees.clone(), 0.0),
            StandsAtRest::WithLock { lock, turns } => {
                let stood = stood(*lock).unwrap_or_else(|| self.usual(movement, *lock));
                let lead = self.lead(*lock, &stood.place);
                let lead = lead.unwrap_or_else(Degrees::zero);
                (&lead * turns, stood.spread * to_f64(turns))
            }
            StandsAtRest::AsItIs | StandsAtRest::Locks { .. } | StandsAtRest::Unknown => {
                return reading.clone();
            }
        };
        let witness = movement.witness(reading.witness);
        let stands = &reading.stands - &ran;
        let spread = reading.spread.as_deg().hypot(more);
        Reading {
            stands: nearest_alike(&stands, &witness.period(), &witness.best),
            spread: Spread::deg(spread).unwrap_or(reading.spread),
            ..reading.clone()
        }
    }

    /// Where what locks stands as usual, and how surely where nobody looked: before a train is timed it may have anything from
    /// nothing to a whole round to go, each as likely.
    fn usual(&self, movement: &Movement, lock: WitnessId) -> LockStood {
        let witness = movement.witness(lock);
        let (round, lead) = (
            self.arms(lock).map(|arms| arms.round.to_f64()),
            self.lead(lock, &witness.best),
        );
        let spread = round.zip(lead).map(|(round, lead)| {
            let aside = 0.5 * round - lead.to_f64();
            (round * EVEN_RANGE.value).hypot(aside)
        });
        LockStood {
            place: witness.best.clone(),
            spread: spread.unwrap_or_default(),
        }
    }
}

/// Where what locks stood at the drop, and how surely.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LockStood {
    pub(crate) place: Degrees,
    /// One standard deviation, in its degrees.
    pub(crate) spread: f64,
}

/// Readings of one look at rest as they stood at the drop, however roughly that is known: by where what locks stood in the same look, else
/// by where it usually stands. For telling what was seen; what is gone by is [`brought_to_the_drop`].
pub fn stood_at_the_drop(movement: &Movement, readings: &[Reading]) -> Vec<Reading> {
    let rest = Rest::of(movement);
    let stood = |lock: WitnessId| {
        let read = readings.iter().find(|reading| reading.witness == lock);
        read.map(|reading| LockStood {
            place: reading.stands.clone(),
            spread: reading.spread.as_deg(),
        })
    };
    let each = readings.iter();
    each.map(|reading| rest.brought(movement, reading, &stood))
        .collect()
}

/// Readings of one look at rest as they stood at the drop: by where what locks stood, as the notch shows it; where that was not looked at,
/// by where it usually stands, and the less surely. Beside them what was read without it.
///
/// # Errors
/// One that is no longer good enough to tell one place from the next, with its witness.
pub fn brought_to_the_drop(
    movement: &Movement,
    readings: &[Reading],
) -> Result<Brought, (WitnessId, ReadingFault)> {
    let rest = Rest::of(movement);
    let read = |lock: WitnessId| readings.iter().any(|reading| reading.witness == lock);
    let mut brought = Brought::default();
    for (reading, then) in readings.iter().zip(stood_at_the_drop(movement, readings)) {
        let most = widest_spread(movement.witness(reading.witness));
        let spread = then.spread.as_deg();
        if spread >= most.to_f64() {
            return Err((reading.witness, ReadingFault::TooCoarse { spread, most }));
        }
        if let StandsAtRest::WithLock { lock, .. } = rest.at_rest(reading.witness)
            && !read(*lock)
            && !brought.usual.contains(lock)
        {
            brought.usual.push(*lock);
        }
        brought.readings.push(then);
    }
    Ok(brought)
}

/// Readings that were brought to the drop.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Brought {
    /// Each, as it stood then.
    pub readings: Vec<Reading>,
    /// What locks and was not looked at: it was taken to have stood as usual.
    pub usual: Vec<WitnessId>,
}
