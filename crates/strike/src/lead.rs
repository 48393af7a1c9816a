//! What a pin must still have to go as a lever begins to fall, so that the lever is right down before it comes.

use crate::assumed::LEVER_FALL;
use movement::{ArborId, FallBy, MeasuredSeconds, Movement, StrikePace};
use num_traits::Zero;
use quantity::{Degrees, Exact, fraction, parse_number, to_f64, whole};

/// What the pin should at least still have to go as the lever drops, in turns of its arbor: an eighth, usually a fifth. It stands
/// for the time a lever takes to fall, as long as no pace is known. Common practice, no source.
pub const LEAD: (i64, i64) = (1, 8);
/// However fast the pin, no more is asked, in turns of its arbor: what is usually best, a fifth, stays well inside. Ours.
const MOST_LEAD: (i64, i64) = (1, 6);
/// Parts of a degree to which such a way is told: as finely as windows are.
const PARTS: i64 = 50;

/// The least way that a pin should have to go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeastLead {
    /// In degrees of its arbor, to the next fiftieth; a sixth of a turn at most.
    pub degrees: Degrees,
    /// By what it is known.
    pub by: FallBy,
}

impl LeastLead {
    /// That of a pin on an arbor: what it goes while the lever falls, where a pace of its train was measured; else the usual part of
    /// a turn.
    ///
    /// # Formula
    /// `turns of the pin's arbor to a blow × fall / time from blow to blow`: the train goes evenly. It is never more than a sixth: a pin on a
    /// fast arbor goes farther than its whole lead while a lever falls, and such trains lock all the same.
    pub(crate) fn of(movement: &Movement, pin_on: ArborId) -> LeastLead {
        let Some((pace, turns)) = paced(movement, pin_on) else {
            return LeastLead {
                degrees: Degrees::turns(&fraction(LEAD.0, LEAD.1)),
                by: FallBy::Usual,
            };
        };
        let by = match &pace.fall {
            Some(_) => FallBy::PaceAndFall,
            None => FallBy::Pace,
        };
        let goes = goes(pace, turns).min(fraction(MOST_LEAD.0, MOST_LEAD.1));
        let parts = (goes * whole(360) * whole(PARTS)).ceil();
        LeastLead {
            degrees: Degrees::deg(parts / whole(PARTS)),
            by,
        }
    }
}

/// Turns that a pin makes while a lever falls, where its arbor makes so many to a blow.
fn goes(pace: &StrikePace, turns: Exact) -> Exact {
    let fall = pace.fall.as_ref().map(|fall| fall.is.clone());
    turns * fall.unwrap_or_else(usual_fall) / &pace.blow.is
}

/// How surely the least way is known, as a part of it: one standard deviation; nothing where no pace was measured, or where more would be
/// asked than ever is.
pub(crate) fn spread(movement: &Movement, pin_on: ArborId) -> Option<f64> {
    let (pace, turns) = paced(movement, pin_on)?;
    if goes(pace, turns) >= fraction(MOST_LEAD.0, MOST_LEAD.1) {
        return None;
    }
    let part = |seconds: &MeasuredSeconds| to_f64(&(&seconds.spread / &seconds.is));
    let fall = match &pace.fall {
        Some(fall) => part(fall),
        None => LEVER_FALL.spread / LEVER_FALL.value,
    };
    Some(part(&pace.blow).hypot(fall))
}

/// The pace of the strike, and the turns of an arbor of its train to a blow; nothing for another train.
fn paced(movement: &Movement, on: ArborId) -> Option<(&StrikePace, Exact)> {
    let strike = movement.strike()?;
    let pace = strike.pace.as_ref()?;
    let turns = movement.turns(on) / movement.turns(strike.read_at) / &strike.blows_per_turn;
    let turns = match turns < Exact::zero() {
        true => -turns,
        false => turns,
    };
    movement
        .same_train(on, strike.read_at)
        .then_some((pace, turns))
}

fn usual_fall() -> Exact {
    // A row of the table is a decimal as written.
    parse_number(&LEVER_FALL.value.to_string()).unwrap_or_else(|_| fraction(6, 100))
}
