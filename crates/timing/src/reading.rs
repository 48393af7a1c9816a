//! A reading: what was seen of one witness, however it was said.

use crate::assumed::{EVEN_RANGE, LEAST_TELLING, NOTCH, OCLOCK, READING_SPREAD};
use crate::rest::{Rest, StandsAtRest};
use movement::{Movement, PartId, Plate, Turning, Witness, WitnessId};
use quantity::{Degrees, Exact, Spread, fraction, nearest_alike, to_f64, whole};

/// What was seen of one witness, and how surely.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Which.
    pub witness: WitnessId,
    /// Where it stands: of all alike places the one nearest its best.
    pub stands: Degrees,
    /// One standard deviation.
    pub spread: Spread,
    /// What was said, where that is so far off that a point or a figure may have slipped.
    pub far_off: Option<FarOff>,
}

/// A reading that was said so far off that nobody reads it so: a place alike stands for it, and it is to be looked at again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FarOff {
    /// As it was said.
    pub said: Degrees,
    /// Whether it is more than a turn of the arbor.
    pub turn: bool,
}

/// How a tip looks against its slot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TipLook {
    /// It goes in.
    In,
    /// It falls on the edge: the wheel has not come far enough.
    EdgeShort,
    /// It falls on the edge: the wheel has gone too far.
    EdgeAhead,
    /// It falls on the rim between two slots.
    Rim,
}

/// A reading as it was said.
#[derive(Debug, Clone, PartialEq)]
pub enum SaidReading {
    /// In degrees of the witness's arbor, with or without a spread in degrees.
    Degrees(Degrees, Option<Exact>),
    /// As it looks.
    Look(TipLook),
    /// In teeth of a part, ahead positive; without one, of the largest part on the witness's arbor.
    Teeth(Exact, Option<PartId>),
    /// As on a clock face, in hours from 0 to 12, from a plate.
    Oclock(Exact, Plate),
    /// In quarters of the way from one of its places to the next, ahead positive.
    Quarters(Exact),
    /// Of what locks, at rest: degrees that the arbor which is held at the drop ran on since, as the tip in its notch shows; with or
    /// without a spread in the same degrees.
    Notch(Degrees, Option<Exact>),
}

/// Why a reading cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ReadingFault {
    /// The spread is not above zero and below a quarter of the way to the next place.
    #[error("a spread of {got} degrees, expected above 0 and below {}", most.to_f64())]
    Spread {
        /// What was said.
        got: f64,
        /// What it must stay below.
        most: Degrees,
    },
    /// The sheet gives no slot and tip for this witness.
    #[error("no slot and tip on the sheet for this witness")]
    NoLook,
    /// The sheet does not say at what hour its arm stands.
    #[error("no hour on the sheet for the arm of this witness")]
    NoHour,
    /// No part with teeth sits on its arbor, and none was named.
    #[error("no part with teeth on the arbor of this witness")]
    NoTeeth,
    /// The named part is in another train.
    #[error("part `{part}` is in another train")]
    OtherTrain {
        /// The part.
        part: String,
    },
    /// Places lie too near each other to be told apart this way.
    #[error("said to {spread} degrees, expected below {}", most.to_f64())]
    TooCoarse {
        /// How finely it can be said this way: one standard deviation.
        spread: f64,
        /// What that must stay below.
        most: Degrees,
    },
    /// It is said by the notch, which shows at rest how far what locks had still to go, and nothing else.
    #[error("the notch tells nothing of this witness here")]
    NoNotch,
    /// It was read at rest, where what locks stands at its arm whatever was wrong.
    #[error("at rest what locks stands at its arm")]
    AtItsArm,
    /// It was read at rest, and what locks is not known from the sheet, or has no witness.
    #[error("what locks at rest is not known")]
    NotAtRest,
}

/// A twentieth of the window's width: someone who looks closely tells a tenth of the half window.
pub fn default_spread(witness: &Witness) -> Exact {
    // As it is written, to the ten-thousandth.
    let part = Exact::from_float((READING_SPREAD.value * 1e4).round()).unwrap_or_default();
    witness.width().exact() * part / whole(10_000)
}

/// A spread must be less than a quarter of the way from place to place: beyond it a reading tells one place from the
/// next no better than a hypothesis.
pub fn widest_spread(witness: &Witness) -> Degrees {
    &witness.period() * &fraction(1, 4)
}

/// What a range looks like when all of it is as likely: its width over the square root of twelve.
fn even_spread(width: f64) -> f64 {
    width * EVEN_RANGE.value
}

/// So many places from its best, a witness is read no more: it would be another of its places that one looks at. Common
/// practice, no source.
const FAR_PLACES: i64 = 2;

/// Whether a place is said so far off that nobody reads it so: more than a turn, either way, or more than two places from where
/// the witness belongs. A sheet may tell a best that is a turn off.
fn far_off(witness: &Witness, place: &Degrees, meant: &Degrees) -> Option<FarOff> {
    let (one, half) = (Degrees::turns(&whole(1)), Degrees::turns(&fraction(1, 2)));
    let off = (place - meant).abs();
    let turn = place.abs() > one && off > half;
    let places = off > &witness.period() * &whole(FAR_PLACES);
    (turn || places).then(|| FarOff {
        said: place.clone(),
        turn,
    })
}

/// Turns what was said into a reading.
///
/// # Errors
/// Says why it cannot be used.
pub fn read(
    movement: &Movement,
    id: WitnessId,
    said: &SaidReading,
) -> Result<Reading, ReadingFault> {
    taken(movement, id, said, &movement.witness(id).best)
}

/// The same of a train at rest: where it stands there, of all alike places the one nearest where it stands with all as it is meant. Of
/// what locks it is where that stood at the drop, as the notch shows.
///
/// # Errors
/// Says why it cannot be used.
pub fn read_at_rest(
    movement: &Movement,
    rest: &Rest,
    id: WitnessId,
    said: &SaidReading,
) -> Result<Reading, ReadingFault> {
    let witness = movement.witness(id);
    match (rest.at_rest(id), said) {
        (StandsAtRest::Unknown, _) => Err(ReadingFault::NotAtRest),
        (StandsAtRest::Locks { turns }, SaidReading::Notch(ran, spread)) => {
            let spread = (spread.as_ref()).map_or(NOTCH.value, to_f64) * to_f64(turns);
            let spread = coarse(witness, spread)?;
            let stood = rest.stood(id, &(ran * turns));
            Ok(Reading {
                witness: id,
                stands: nearest_alike(&stood, &witness.period(), &witness.best),
                spread,
                far_off: None,
            })
        }
        (StandsAtRest::Locks { .. }, _) => Err(ReadingFault::AtItsArm),
        _ => {
            let meant = &witness.best + &rest.usually(movement, id);
            taken(movement, id, said, &meant)
        }
    }
}

/// What was said, of all alike places the one nearest where it is meant to be.
fn taken(
    movement: &Movement,
    id: WitnessId,
    said: &SaidReading,
    meant: &Degrees,
) -> Result<Reading, ReadingFault> {
    let witness = movement.witness(id);
    let (place, spread) = match said {
        SaidReading::Degrees(place, spread) => {
            let spread = spread.clone().unwrap_or_else(|| default_spread(witness));
            (place.clone(), check_spread(witness, &spread)?)
        }
        SaidReading::Look(look) => read_look(witness, *look)?,
        SaidReading::Teeth(teeth, part) => read_teeth(movement, witness, teeth, *part)?,
        SaidReading::Oclock(hour, plate) => read_oclock(movement, witness, hour, *plate)?,
        SaidReading::Quarters(quarters) => {
            let quarter = &witness.period() * &fraction(1, 4);
            let spread = even_spread(to_f64(quarter.exact()));
            (&quarter * quarters, coarse(witness, spread)?)
        }
        SaidReading::Notch(..) => return Err(ReadingFault::NoNotch),
    };
    let far_off = match said {
        SaidReading::Degrees(..) | SaidReading::Teeth(..) | SaidReading::Quarters(_) => {
            far_off(witness, &place, meant)
        }
        SaidReading::Look(_) | SaidReading::Oclock(..) | SaidReading::Notch(..) => None,
    };
    Ok(Reading {
        witness: id,
        stands: nearest_alike(&place, &witness.period(), meant),
        spread,
        far_off,
    })
}

fn check_spread(witness: &Witness, spread: &Exact) -> Result<Spread, ReadingFault> {
    let most = widest_spread(witness);
    let fits = *spread > whole(0) && spread < most.exact();
    // A spread so small that it is nothing in floating point is as good as not above zero.
    fits.then(|| Spread::deg(to_f64(spread)))
        .flatten()
        .ok_or(ReadingFault::Spread {
            got: to_f64(spread),
            most,
        })
}

/// A spread that follows from how the reading was said.
fn coarse(witness: &Witness, spread: f64) -> Result<Spread, ReadingFault> {
    let most = widest_spread(witness);
    Spread::deg(spread)
        .filter(|s| s.as_deg() < most.to_f64())
        .ok_or(ReadingFault::TooCoarse { spread, most })
}

/// The tip of width `w` goes into the slot of width `W` within `(W − w)/2` of its middle, and lies on an edge up to `(W + w)/2`.
fn read_look(witness: &Witness, look: TipLook) -> Result<(Degrees, Spread), ReadingFault> {
    let widths = witness.look.as_ref().ok_or(ReadingFault::NoLook)?;
    let (slot, tip, period) = (&widths.slot, &widths.tip, witness.period());
    let half = fraction(1, 2);
    let (place, range) = match look {
        TipLook::In => (Degrees::zero(), slot - tip),
        TipLook::EdgeAhead => (slot * &half, tip.clone()),
        TipLook::EdgeShort => (-&(slot * &half), tip.clone()),
        TipLook::Rim => (&period * &half, &period - &(slot + tip)),
    };
    let most = widest_spread(witness).to_f64() * LEAST_TELLING.value;
    let spread = coarse(witness, even_spread(to_f64(range.exact())).min(most))?;
    Ok((place, spread))
}

fn read_teeth(
    movement: &Movement,
    witness: &Witness,
    teeth: &Exact,
    part: Option<PartId>,
) -> Result<(Degrees, Spread), ReadingFault> {
    let largest = || {
        movement
            .parts(witness.on)
            .max_by_key(|(_, part)| part.teeth)
            .map(|(id, _)| id)
    };
    let part = part.or_else(largest).ok_or(ReadingFault::NoTeeth)?;
    let turns = kinematics::speed(movement, witness.on, part.arbor).ok_or_else(|| {
        ReadingFault::OtherTrain {
            part: movement.part_name(part),
        }
    })?;
    let tooth = Degrees::turns(&(turns / whole(movement.part(part).teeth.get().into())));
    // Counted to the nearest tooth; but never surer than a careful look in degrees.
    let spread = even_spread(to_f64(tooth.exact())).max(to_f64(&default_spread(witness)));
    Ok((&tooth * teeth, coarse(witness, spread)?))
}

fn read_oclock(
    movement: &Movement,
    witness: &Witness,
    hour: &Exact,
    plate: Plate,
) -> Result<(Degrees, Spread), ReadingFault> {
    let arm = witness.arm_oclock.as_ref().ok_or(ReadingFault::NoHour)?;
    // Seen from the other plate the face is mirrored: what stood at four stands at eight.
    let hour = if plate == movement.seen_from() {
        hour.clone()
    } else {
        whole(12) - hour
    };
    let clockwise = Degrees::deg((hour - arm) * whole(30));
    let ahead = match movement.runs(witness.on, movement.seen_from()) {
        Turning::Clockwise => clockwise,
        Turning::Counterclockwise => -&clockwise,
    };
    let spread = coarse(witness, even_spread(OCLOCK.value))?;
    Ok((ahead, spread))
}
