//! Turns of arbors: for one turn of another, for a blow, for an hour, for a winding.

use movement::{ArborId, Movement};
use quantity::{Exact, whole};

/// Seconds in an hour.
pub const HOUR_S: i64 = 3600;

/// Turns of `of` in one turn of `per`, without direction; nothing where no path of meshes joins them.
pub fn speed(movement: &Movement, of: ArborId, per: ArborId) -> Option<Exact> {
    movement
        .same_train(of, per)
        .then(|| movement.turns(of) / movement.turns(per))
}

/// Turns of an arbor at each blow; nothing without a strike or outside its train.
pub fn per_blow(movement: &Movement, arbor: ArborId) -> Option<Exact> {
    let strike = movement.strike()?;
    Some(speed(movement, arbor, strike.read_at)? / &strike.blows_per_turn)
}

/// Turns of an arbor in an hour.
///
/// In a train where some arbor has `turn_s`, the measured or known seconds of one turn, from that. Otherwise, in the
/// strike train, the mean over twelve hours: 78 blows, or 90 with a blow at each half.
pub fn per_hour(movement: &Movement, arbor: ArborId) -> Option<Exact> {
    let timed = movement.arbors().find_map(|(id, a)| {
        let seconds = a.measured("turn_s")?;
        Some(speed(movement, arbor, id)? * whole(HOUR_S) / seconds)
    });
    timed.or_else(|| {
        let blows = movement.strike()?.blows.in_twelve_hours();
        Some(per_blow(movement, arbor)? * Exact::new(blows.into(), 12.into()))
    })
}

/// The arbor of `arbor`'s train that has `winding_turns`, the turns of one whole winding, and how many.
pub fn winding_arbor(movement: &Movement, arbor: ArborId) -> Option<(ArborId, &Exact)> {
    movement
        .arbors()
        .filter(|(id, _)| movement.same_train(*id, arbor))
        .find_map(|(id, a)| Some((id, a.measured("winding_turns")?)))
}

/// Turns of an arbor in one winding, where the sheet says how many turns a winding is.
pub fn per_winding(movement: &Movement, arbor: ArborId) -> Option<Exact> {
    let (wound, turns) = winding_arbor(movement, arbor)?;
    Some(speed(movement, arbor, wound)? * turns)
}
