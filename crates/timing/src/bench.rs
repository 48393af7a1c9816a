//! A movement made ready to believe things of: its places, how the train sways and plays, and what is held to be so beforehand.

use crate::cost_to_go::{CostToGo, Ground};
use crate::eye::Eye;
use crate::places::{Places, TooManyPlaces};
use crate::priors::Priors;
use crate::rest::Rest;
use crate::resting::Resting;
use crate::slack::Play;
use kinematics::speed;
use movement::{ArborId, Movement, WitnessId};
use quantity::{Degrees, to_f64};
use std::borrow::Cow;
use std::sync::OnceLock;

/// How the train was held during a look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tension {
    /// Pressed on the way it runs, every mesh loaded.
    Tensioned,
    /// Loose: readings carry the lash.
    Slack,
    /// At rest, locked and pressed on: readings carry what the train ran since the drop.
    AtRest,
}

/// A movement with all its places, ready to believe things of.
#[derive(Debug, Clone)]
pub struct Bench<'a> {
    pub(crate) movement: Cow<'a, Movement>,
    /// The train that is timed; all of them where none is named.
    train: Option<usize>,
    /// Its witnesses.
    timed: Vec<WitnessId>,
    pub(crate) places: Places,
    pub(crate) priors: Priors,
    /// For each witness: degrees it moves for one of `read_at`'s hold, 0 at other moments; and the hold itself.
    pub(crate) sway: Vec<f64>,
    pub(crate) hold: f64,
    pub(crate) play: Vec<Play>,
    /// For each witness how surely it is known where its window lies, in degrees: one standard deviation.
    pub(crate) window_spread: Vec<f64>,
    /// How each witness stands at rest, exactly, and as it goes into the sums.
    pub(crate) rest: Rest,
    pub(crate) resting: Resting,
    /// The labour from each way, with no lever bent; worked out when it is first asked for.
    pub(crate) cost_to_go: OnceLock<CostToGo>,
}

impl<'a> Bench<'a> {
    /// Makes ready to believe things of a movement.
    ///
    /// # Errors
    /// If its meshes can stand in more ways than can be kept apart.
    pub fn of(movement: &'a Movement, priors: Priors) -> Result<Bench<'a>, TooManyPlaces> {
        Bench::made(movement, None, priors)
    }

    /// Makes ready to believe things of one train of a movement, as if there were no other: what is seen and done at others
    /// is left out.
    ///
    /// # Errors
    /// If its meshes can stand in more ways than can be kept apart.
    pub fn of_train(
        movement: &'a Movement,
        train: usize,
        priors: Priors,
    ) -> Result<Bench<'a>, TooManyPlaces> {
        Bench::made(movement, Some(train), priors)
    }

    fn made(
        movement: &'a Movement,
        train: Option<usize>,
        priors: Priors,
    ) -> Result<Bench<'a>, TooManyPlaces> {
        let timed: Vec<WitnessId> = (movement.witnesses())
            .filter(|(_, witness)| train.is_none_or(|train| movement.train_of(witness.on) == train))
            .map(|(id, _)| id)
            .collect();
        let hold = movement
            .strike()
            .and_then(|strike| strike.hold.as_ref().map(Degrees::to_f64))
            .unwrap_or(priors.hold_deg);
        let sway = movement
            .witnesses()
            .map(|(_, witness)| {
                (movement.strike())
                    .filter(|_| movement.moment(witness.at).id == movement::DROP)
                    .and_then(|strike| speed(movement, witness.on, strike.read_at))
                    .map_or(0.0, |speed| to_f64(&speed))
            })
            .collect();
        let play = movement
            .witnesses()
            .map(|(id, _)| Play::of(movement, id))
            .collect();
        let rest = Rest::of(movement);
        Ok(Bench {
            places: Places::of(movement, &timed)?,
            movement: Cow::Borrowed(movement),
            train,
            timed,
            priors,
            sway,
            hold,
            play,
            window_spread: (movement.witnesses())
                .map(|(_, witness)| witness.window_spread().to_f64())
                .collect(),
            resting: Resting::of(movement, &rest),
            rest,
            cost_to_go: OnceLock::new(),
        })
    }

    /// The same with a movement of its own, to be kept.
    pub fn kept(self) -> Bench<'static> {
        Bench {
            movement: Cow::Owned(self.movement.into_owned()),
            ..self
        }
    }

    /// What labour is reckoned from.
    pub(crate) fn ground(&self) -> Ground<'_> {
        Ground {
            places: &self.places,
            priors: &self.priors,
        }
    }

    pub(crate) fn witnesses(&self) -> usize {
        self.places.tracks.len()
    }

    /// From now on it begins with this eye.
    pub fn expect(&mut self, eye: Eye) {
        self.priors.eye = eye;
    }

    /// The witnesses that are timed.
    pub fn timed(&self) -> &[WitnessId] {
        &self.timed
    }

    /// How witnesses stand at rest.
    pub fn rest(&self) -> &Rest {
        &self.rest
    }

    /// Whether an arbor is of the train that is timed.
    pub(crate) fn is_of(&self, arbor: ArborId) -> bool {
        (self.train).is_none_or(|train| self.movement.train_of(arbor) == train)
    }

    /// How many ways the meshes can stand that can be told apart.
    pub fn ways(&self) -> usize {
        self.places.count
    }

    /// Of those ways, the one that so many teeth ahead at each mesh lead to from a sound movement; one figure for each mesh that moves a
    /// witness, in sheet order.
    pub fn way(&self, teeth: &[i64]) -> usize {
        self.places.way(teeth)
    }

    /// After how many teeth at each of those meshes all witnesses are back where they were.
    pub fn cycles(&self) -> Vec<usize> {
        (self.places.offsets.iter())
            .map(|offset| offset.cycle)
            .collect()
    }

    /// The movement this is of.
    pub fn movement(&self) -> &Movement {
        &self.movement
    }

    /// What is held to be so beforehand.
    pub fn priors(&self) -> &Priors {
        &self.priors
    }
}
