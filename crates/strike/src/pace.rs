//! How long what was seen takes when it is shown: no sum of the strike rests on it.
//!
//! What a train does between two blows is spread over one length of time, the hands go much faster than on the wall, and a lever
//! that falls takes some hundredths of a second.

use crate::Struck;
use crate::assumed::LEVER_FALL;
use movement::{ArborId, Carrier, Movement, Shape};
use quantity::{Degrees, to_f64, whole};

/// Seconds from blow to blow, where no pace is on the sheet (common practice, no source).
const BLOW: f64 = 1.25;
/// How much faster the hands go than on the wall, so that an hour passes in six seconds.
pub const HAND: f64 = 600.0;

/// Seconds from blow to blow: as measured, else as is usual.
pub fn blow(movement: &Movement) -> f64 {
    let pace = movement.strike().and_then(|strike| strike.pace.as_ref());
    pace.map_or(BLOW, |pace| to_f64(&pace.blow.is))
}

/// A train that strikes: an arbor of it, and blows in one turn of that.
struct Striking {
    on: ArborId,
    blows: f64,
}

/// For each pose of a run that was watched, the seconds since the first.
pub fn seconds(movement: &Movement, struck: &Struck) -> Vec<f64> {
    let trains = striking(movement);
    let blow = blow(movement);
    let mut now = 0.0;
    let mut seconds = Vec::with_capacity(struck.motion.len());
    let mut last = struck.motion.first();
    for pose in &struck.motion {
        let Some(before) = last.replace(pose) else {
            break;
        };
        let hand = to_f64(&(&pose.hours - &before.hours)) * 3600.0 / HAND;
        let turned =
            |on: ArborId| -> Degrees { &pose.arbors[on.index()] - &before.arbors[on.index()] };
        let mut took = trains
            .iter()
            .map(|train| turned(train.on).to_f64() / 360.0 * train.blows * blow)
            .fold(hand, f64::max);
        if took == 0.0 && (pose.levers != before.levers || pose.rack != before.rack) {
            took = LEVER_FALL.value;
        }
        now += took;
        seconds.push(now);
    }
    seconds
}

/// Every train that carries what lifts a hammer.
fn striking(movement: &Movement) -> Vec<Striking> {
    let mut trains: Vec<Striking> = Vec::new();
    let Some(works) = movement.works() else {
        return trains;
    };
    let mut counted = Vec::new();
    for (_, lever) in works.levers() {
        let Some(id) = lever.hammered() else {
            continue;
        };
        let track = works.track(id);
        let (Carrier::Arbor(on), Shape::Lobes { places, .. }) = (&track.carrier, &track.shape)
        else {
            continue;
        };
        if counted.contains(&id) {
            continue;
        }
        counted.push(id);
        let blows = to_f64(&whole(i64::try_from(places.len()).unwrap_or(1)));
        match trains.iter_mut().find(|t| movement.same_train(t.on, *on)) {
            Some(train) => {
                let speed = movement.turns(*on) / movement.turns(train.on);
                train.blows += blows * to_f64(&speed).abs();
            }
            None => trains.push(Striking { on: *on, blows }),
        }
    }
    trains
}
