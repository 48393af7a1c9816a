//! At rest: what a locked train tells of how it stood at the drop.
//!
//! Nobody holds a train under power as a lever drops. Locked it stays by itself, and it stands farther on then, by what it ran from the
//! drop to the lock. How far that is, is told by what locks: a pin that comes to its arm, or a wall that meets a tip. Where
//! that sits on the arbor which is held at the drop, it is the same however the meshes stand; else it follows from where its
//! witness stood at the drop, which still had so far to go. Which it is, is known from the sheet's levers, never from a name.

use crate::lock::{Arms, Lock, Locked, notch_way};
use kinematics::speed;
use movement::{ArborId, CountedBy, Movement, WitnessId};
use quantity::{Degrees, Exact};

/// How a witness stands at rest, against how it stood at its moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StandsAtRest {
    /// It is judged at rest, or at a moment of its own: it is read as it stands.
    AsItIs,
    /// So much further on, however the meshes stand.
    RunsOn(Degrees),
    /// Further on by what the train ran until this witness came to its arm.
    WithLock {
        /// The witness of what locks.
        lock: WitnessId,
        /// How fast this one turns beside it.
        turns: Exact,
    },
    /// It is what locks, and stands at its arm: it tells nothing by itself. How far it went is seen in the notch.
    Locks {
        /// How fast it turns beside the arbor that is held at the drop.
        turns: Exact,
    },
    /// What locks is not known, or it has no witness.
    Unknown,
}

/// Every witness at rest.
#[derive(Debug, Clone)]
pub struct Rest {
    each: Vec<StandsAtRest>,
    /// What locks, for each witness that is one: where it comes to its arm.
    arms: Vec<Option<Arms>>,
    /// For each train the arbor that is stopped.
    stopped: Vec<Option<ArborId>>,
}

impl Rest {
    /// As the sheet has it.
    pub fn of(movement: &Movement) -> Rest {
        let many = movement.witnesses().len();
        let mut rest = Rest {
            each: vec![StandsAtRest::Unknown; many],
            arms: vec![None; many],
            stopped: Vec::new(),
        };
        for train in 0..movement.trains() {
            let lock = Lock::of(movement, train);
            rest.fill(movement, train, lock.as_ref());
            rest.stopped.push(lock.map(|lock| lock.on));
        }
        rest
    }

    fn fill(&mut self, movement: &Movement, train: usize, lock: Option<&Lock>) {
        let read_at = movement.strike().map(|strike| strike.read_at);
        let main = read_at.is_some_and(|read_at| movement.train_of(read_at) == train);
        for (id, witness) in movement.witnesses() {
            if movement.train_of(witness.on) != train {
                continue;
            }
            let moment = movement.moment(witness.at);
            let turns = |per: ArborId| speed(movement, witness.on, per);
            // The drop of its train: the drop, or, in a train beside, the moment of what locks.
            let at_the_drop = match lock {
                Some(lock) => lock.moment == Some(witness.at),
                None => !main || moment.id == movement::DROP,
            };
            let at_rest = match lock {
                _ if !at_the_drop => StandsAtRest::AsItIs,
                None => StandsAtRest::Unknown,
                Some(lock) => match &lock.locked {
                    Locked::RunsOn(degrees) => (turns(lock.on))
                        .map_or(StandsAtRest::Unknown, |turns| {
                            StandsAtRest::RunsOn(degrees * &turns)
                        }),
                    Locked::Witness(pin, arms) if *pin == id => {
                        self.arms[id.index()] = Some(arms.clone());
                        turns(moment.arbor)
                            .map_or(StandsAtRest::Unknown, |turns| StandsAtRest::Locks { turns })
                    }
                    Locked::Witness(pin, _) => {
                        turns(lock.on).map_or(StandsAtRest::Unknown, |turns| {
                            StandsAtRest::WithLock { lock: *pin, turns }
                        })
                    }
                    Locked::NoWitness => StandsAtRest::Unknown,
                },
            };
            self.each[id.index()] = at_rest;
        }
    }

    /// How a witness stands at rest.
    pub fn at_rest(&self, id: WitnessId) -> &StandsAtRest {
        &self.each[id.index()]
    }

    /// Whether anything can be read at rest that tells of the drop.
    pub fn is_known(&self) -> bool {
        let tells = |at: &StandsAtRest| {
            matches!(at, StandsAtRest::RunsOn(_) | StandsAtRest::WithLock { .. })
        };
        self.each.iter().any(tells)
    }

    /// The arbor of a train that is stopped at rest, where the sheet tells.
    pub fn stopped(&self, train: usize) -> Option<ArborId> {
        self.stopped.get(train).copied().flatten()
    }

    /// Whether at rest is where a train is looked at first: it counts by a count wheel and has no cam, or by a rack. Then the lever of the count
    /// rides on the rim until it falls, its own arm stops the pin, and no notch has an edge to be led to; or whether the gathering pallet is
    /// clear of the rack is seen before all else, and only there.
    pub fn is_first(&self, movement: &Movement) -> bool {
        let Some(strike) = movement.strike() else {
            return false;
        };
        self.is_known()
            && movement.works().is_some()
            && match strike.counted_by {
                CountedBy::CountWheel => notch_way(movement, strike.read_at).is_none(),
                CountedBy::Rack => true,
            }
    }

    /// Where what locks comes to its arm, if this witness is what locks.
    pub(crate) fn arms(&self, id: WitnessId) -> Option<&Arms> {
        self.arms[id.index()].as_ref()
    }

    /// How far the arbor that is held at the drop can run on with the lever's tip in its notch, from the notch's one end to the other:
    /// that is what shows at rest where this one stood, which is what locks. Nothing where no notch is on the sheet.
    pub fn notch(movement: &Movement, lock: WitnessId) -> Option<Degrees> {
        notch_way(movement, movement.moment(movement.witness(lock).at).arbor)
    }

    /// How far what locks still has to go where it stands here at the drop; nothing for what does not lock.
    pub fn lead(&self, lock: WitnessId, place: &Degrees) -> Option<Degrees> {
        self.arms(lock).map(|arms| arms.lead(place))
    }

    /// Where what locks stood at the drop, if it went so far since to the arm that is its 0.
    pub(crate) fn stood(&self, lock: WitnessId, ran: &Degrees) -> Degrees {
        let first = self.arms(lock).and_then(|arms| arms.at.first().cloned());
        &first.unwrap_or_else(Degrees::zero) - ran
    }

    /// How much further on than at the drop a witness is at rest, as usual: with what locks where it is meant to be.
    pub fn usually(&self, movement: &Movement, id: WitnessId) -> Degrees {
        match self.at_rest(id) {
            StandsAtRest::RunsOn(degrees) => degrees.clone(),
            StandsAtRest::WithLock { lock, turns } => (self
                .lead(*lock, &movement.witness(*lock).best))
            .map_or_else(Degrees::zero, |lead| &lead * turns),
            StandsAtRest::AsItIs | StandsAtRest::Locks { .. } | StandsAtRest::Unknown => {
                Degrees::zero()
            }
        }
    }
}
