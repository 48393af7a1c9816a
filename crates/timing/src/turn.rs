//! A part turned on its arbor: by how much, which way, and how far that moves what.

use crate::shift::ShiftWay;
use kinematics::TurnedThing;
use movement::{ArborId, HeldBy, WitnessId};
use quantity::Degrees;

/// By how much a part is turned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TurnBy {
    /// Quarters, from 1 to 3: it sits on a square.
    Quarters(u8),
    /// Degrees of its arbor, above 0.
    Angle(Degrees),
}

impl TurnBy {
    /// In degrees of its arbor.
    pub fn degrees(&self) -> Degrees {
        match self {
            TurnBy::Quarters(quarters) => Degrees::deg(quantity::whole(90 * i64::from(*quarters))),
            TurnBy::Angle(angle) => angle.clone(),
        }
    }
}

/// A part turned on its arbor, every mesh left as it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turn {
    /// What is turned.
    pub thing: TurnedThing,
    /// The arbor that it is on.
    pub arbor: ArborId,
    /// What holds it there.
    pub held_by: HeldBy,
    /// Whether it is the marks of the arbor that go, and the teeth of the part that stay.
    pub teeth_stay: bool,
    /// By how much.
    pub by: TurnBy,
    /// Which way: what goes is further ahead, as its arbor runs, or back.
    pub way: ShiftWay,
    /// Each witness that it moves, in sheet order, and by how many degrees of its own arbor, ahead positive.
    pub moves: Vec<(WitnessId, Degrees)>,
}

/// Turned by eye, how surely: a part of what it was. Common practice, no source.
pub(crate) const BY_EYE: f64 = 0.1;

/// On a square it sits where it sits, but for the play of the square: so many degrees. Common practice, no source.
const SQUARE_PLAY: f64 = 0.1;

impl Turn {
    /// How surely a witness goes as far as it is moved by this, one standard deviation in degrees.
    pub fn spread(&self, moved: &Degrees) -> f64 {
        let by = self.by.degrees().to_f64();
        let times = (moved.to_f64() / by).abs();
        match self.by {
            TurnBy::Quarters(_) => SQUARE_PLAY * times,
            TurnBy::Angle(_) => BY_EYE * by * times,
        }
    }
}
