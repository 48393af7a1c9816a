//! How long a winding lasts.

use movement::{ArborId, Movement};
use quantity::{Duration, Exact, Known, Number, reckon, to_f64, whole};

/// How long a train goes on one winding.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// How long.
    pub time: Known<Duration>,
    /// Turns of the wound arbor in an hour, exactly, from the counts.
    pub per_hour: Exact,
    /// Blows, where it is the strike train.
    pub blows: Option<Known<Number>>,
}

/// How long so many turns of an arbor last; nothing where no time is known of its train.
pub fn runs(movement: &Movement, wound: ArborId, turns: Known<Number>) -> Option<Run> {
    let per_hour = kinematics::per_hour(movement, wound)?;
    let hourly = to_f64(&per_hour);
    let blows = kinematics::per_blow(movement, wound).map(|per_blow| {
        let per_turn = to_f64(&(whole(1) / per_blow));
        reckon([turns.given()], |[turns]| turns * per_turn)
    });
    Some(Run {
        time: reckon([turns.given()], |[turns]| turns / hourly * 3600.0),
        per_hour,
        blows,
    })
}
