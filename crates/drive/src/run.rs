//! How long a winding lasts.

use movement::{ArborId, Movement};
use quantity::tools::KEY_TURNS;
use quantity::{Duration, Exact, Known, Number, propagate, to_f64, whole};

/// How long a train goes on one winding.
#[derive(Debug, Clone, PartialEq)]
pub struct RunTime {
    /// How long.
    pub time: Known<Duration>,
    /// Turns of the wound arbor in an hour, exactly, from the counts.
    pub per_hour: Exact,
    /// Blows, where it is the strike train.
    pub blows: Option<Known<Number>>,
}

/// The turns of a winding: as they were counted at the key, and as spring or fall give them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Winding {
    /// As they were counted: `winding_turns`.
    pub counted: Option<Known<Number>>,
    /// As spring or fall give them.
    pub given: Option<Known<Number>>,
    /// Whether a weight gives them: its cord is all wound up, while stop work leaves turns in a spring.
    pub falls: bool,
}

/// A measured thing that is so many spreads off another is not the same: of a thousand good ones, three are further.
pub(crate) const SPREADS: f64 = 3.0;

impl Winding {
    /// Turns as they are counted at the key.
    pub fn at_the_key(turns: f64) -> Known<Number> {
        Known::new(Number::plain(turns), Number::plain(KEY_TURNS.value))
    }

    /// What a run is told by: the fewer of both.
    pub fn used(&self) -> Option<Known<Number>> {
        match (self.counted, self.given) {
            (Some(counted), Some(given)) => {
                let fewer = counted.value.as_plain() <= given.value.as_plain();
                Some(if fewer { counted } else { given })
            }
            (counted, given) => counted.or(given),
        }
    }

    /// Both, counted first, where they cannot both be right.
    pub fn clash(&self) -> Option<[Known<Number>; 2]> {
        let (counted, given) = (self.counted?, self.given?);
        let more = counted.value.as_plain() - given.value.as_plain();
        let off = if self.falls { more.abs() } else { more };
        let spread = counted.spread.as_plain().hypot(given.spread.as_plain());
        (off > SPREADS * spread).then_some([counted, given])
    }
}

/// How long so many turns of an arbor last; nothing where no time is known of its train.
pub fn runs(movement: &Movement, wound: ArborId, turns: Known<Number>) -> Option<RunTime> {
    let per_hour = kinematics::per_hour(movement, wound)?;
    let hourly = to_f64(&per_hour);
    let blows = kinematics::per_blow(movement, wound).map(|per_blow| {
        let per_turn = to_f64(&(whole(1) / per_blow));
        propagate([turns.given()], |[turns]| turns * per_turn)
    });
    Some(RunTime {
        time: propagate([turns.given()], |[turns]| turns / hourly * 3600.0),
        per_hour,
        blows,
    })
}
