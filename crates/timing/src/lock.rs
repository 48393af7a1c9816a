//! What locks a train: of all that can stop it at rest, what is met first after the drop.

use kinematics::speed;
use movement::{
    ArborId, Carrier, Cut, Felt, Lever, MomentId, Movement, Reach, Shape, Track, WitnessId, Works,
};
use quantity::{Degrees, Exact, fraction, whole};

/// What locks a train.
#[derive(Debug, Clone)]
pub(crate) struct Lock {
    /// The arbor that it stops.
    pub(crate) on: ArborId,
    /// The moment that is the drop of its train; nothing where no witness is read at one.
    pub(crate) moment: Option<MomentId>,
    /// How far it is from the drop to there.
    pub(crate) locked: Locked,
}

/// How far it is from the drop to the lock.
#[derive(Debug, Clone)]
pub(crate) enum Locked {
    /// So many degrees of the arbor that is stopped, which is the one that is held at the drop.
    RunsOn(Degrees),
    /// As far as this witness still has to its arm.
    Witness(WitnessId, Arms),
    /// It has no witness.
    NoWitness,
}

/// Where what locks comes to its arm: places of its witness, in one round of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Arms {
    /// From zero up to the round, in order.
    pub(crate) at: Vec<Degrees>,
    /// After which they come again.
    pub(crate) round: Degrees,
}

impl Arms {
    /// How far something that stands here still has to go: above zero, to the next of them.
    pub(crate) fn lead(&self, place: &Degrees) -> Degrees {
        let to = |arm: &Degrees| {
            let turns = (arm - place).exact() / self.round.exact();
            let beyond = &turns - turns.ceil() + whole(1);
            Degrees::deg(beyond * self.round.exact())
        };
        self.at
            .iter()
            .map(to)
            .min()
            .unwrap_or_else(|| self.round.clone())
    }
}

/// Something that can lock.
struct Stop {
    on: ArborId,
    /// Degrees from the drop to where it locks, as the sheet has it: above zero, in order.
    places: Vec<Degrees>,
    /// Whether it is a pin that comes to an arm, and its witness stands at 0 there; else a wall that meets a tip, as far beyond where
    /// its witness is meant to stand.
    pin: bool,
    /// Whether its lever falls by the count: with the count lever, or as the rack comes home.
    counted: bool,
}

impl Lock {
    /// What locks this train; nothing where the sheet does not tell.
    pub(crate) fn of(movement: &Movement, train: usize) -> Option<Lock> {
        let Some(works) = movement.works() else {
            return Lock::by_kind(movement, train);
        };
        let mut stops = stops(movement, works, train);
        // The way of the anchor, one measure for all of them.
        let way = |stop: &Stop| {
            let first = stop.places.first().map(Degrees::exact);
            first.map(|first| first / movement.turns(stop.on))
        };
        stops.sort_by(|a, b| {
            let counted = b.counted.cmp(&a.counted);
            counted.then_with(|| way(a).cmp(&way(b)))
        });
        match stops.into_iter().next() {
            Some(first) => Some(first.lock(movement, train)),
            None => Lock::by_kind(movement, train),
        }
    }

    /// The one witness of its train that the sheet calls a locking pin, where no levers are on it.
    fn by_kind(movement: &Movement, train: usize) -> Option<Lock> {
        let mut called = (movement.witnesses()).filter(|(_, witness)| {
            let pin = movement::WitnessKind::called("locking pin");
            movement.train_of(witness.on) == train && Some(witness.kind) == pin
        });
        let (id, witness) = called.next()?;
        if called.next().is_some() || movement.moment(witness.at).arbor == witness.on {
            return None;
        }
        let arms = Arms {
            at: vec![Degrees::zero()],
            round: witness.period(),
        };
        Some(Lock {
            on: witness.on,
            moment: Some(witness.at),
            locked: Locked::Witness(id, arms),
        })
    }
}

impl Stop {
    fn lock(self, movement: &Movement, train: usize) -> Lock {
        let read_at = movement.strike().map(|strike| strike.read_at);
        let drop = |moment: MomentId| movement.moment(moment).id == movement::DROP;
        let main = read_at.is_some_and(|read_at| movement.train_of(read_at) == train);
        let of_train = |on: ArborId| movement.train_of(on) == train;
        let moments = || {
            let all = movement.witnesses().map(|(_, w)| w);
            (all.filter(|w| of_train(w.on)).map(|w| w.at)).filter(|at| !main || drop(*at))
        };
        if main && read_at == Some(self.on) {
            return Lock {
                on: self.on,
                moment: moments().next(),
                locked: self.runs_on(),
            };
        }
        let witness = (movement.witnesses()).find(|(_, w)| {
            let alike = usize::from(w.repeats.get());
            let of_it = w.on == self.on && (alike == 1 || alike == self.places.len());
            of_it && (!main || drop(w.at)) && movement.moment(w.at).arbor != self.on
        });
        if let Some((id, witness)) = witness {
            return Lock {
                on: self.on,
                moment: Some(witness.at),
                locked: Locked::Witness(id, self.arms(witness)),
            };
        }
        // In a train beside: what it is read against may be the very wheel that is stopped, by a wall after its drop. By a pin it
        // would be read as it locks.
        let own = moments().find(|at| movement.moment(*at).arbor == self.on);
        match own {
            Some(own) if !self.pin => Lock {
                on: self.on,
                moment: Some(own),
                locked: self.runs_on(),
            },
            Some(_) => Lock {
                on: self.on,
                moment: None,
                locked: Locked::NoWitness,
            },
            None => Lock {
                on: self.on,
                moment: moments().next(),
                locked: Locked::NoWitness,
            },
        }
    }

    fn runs_on(&self) -> Locked {
        let first = self.places.first().cloned();
        first.map_or(Locked::NoWitness, Locked::RunsOn)
    }

    /// Where it locks, by the places of its witness.
    fn arms(&self, witness: &movement::Witness) -> Arms {
        let round = witness.period();
        let first = self.places.first().cloned().unwrap_or_else(Degrees::zero);
        let zero = if self.pin {
            -&first
        } else {
            witness.best.clone()
        };
        let mut at: Vec<Degrees> = (self.places.iter())
            .map(|place| into(&(place + &zero), &round))
            .collect();
        at.sort();
        at.dedup();
        Arms { at, round }
    }
}

/// All that can lock a train, as its levers have it.
fn stops(movement: &Movement, works: &Works, train: usize) -> Vec<Stop> {
    let turn = Degrees::turns(&whole(1));
    let mut stops = Vec::new();
    for (_, lever) in works.levers() {
        let counted = counts(works, lever);
        let found = match (lever.stops(), lever.feels()) {
            (Some(stops), _) if matches!(stops.reach, Reach::Below(_)) => {
                let pin = works.pin(stops.pin);
                let places = pin.places.iter().map(|place| place + &stops.further);
                Some((pin.on, places.collect::<Vec<_>>(), true))
            }
            (_, Some(feels)) if feels.locks => lever
                .track()
                .map(|track| works.track(track))
                .and_then(|track| walls(track, &feels.tip)),
            _ => None,
        };
        let Some((on, places, pin)) = found else {
            continue;
        };
        if movement.train_of(on) != train {
            continue;
        }
        let mut places: Vec<Degrees> = (places.iter())
            .map(|place| into(place, &turn))
            // What stands at its arm at the drop comes there again after a turn.
            .map(|place| if place.is_zero() { turn.clone() } else { place })
            .collect();
        places.sort();
        stops.push(Stop {
            on,
            places,
            pin,
            counted,
        });
    }
    // One that nothing joins to what is read is none.
    let read = |on: ArborId| {
        let mut witnesses = movement.witnesses();
        witnesses.any(|(_, w)| speed(movement, w.on, on).is_some())
    };
    stops.retain(|stop| !stop.places.is_empty() && read(stop.on));
    stops
}

/// Whether a lever falls by the count.
fn counts(works: &Works, lever: &Lever) -> bool {
    let by_rack = (works.rack()).is_some_and(|rack| [rack.on, rack.hook].contains(&lever.on));
    let with_it = |other: &Lever| {
        let track = other.track().map(|track| works.track(track));
        other.on == lever.on
            && (matches!(track.map(|track| &track.shape), Some(Shape::Counts { .. }))
                || (other.feels()).is_some_and(|feels| feels.felt == Felt::Rack))
    };
    by_rack || works.levers().any(|(_, other)| with_it(other))
}

/// Where the walls of a track's slots meet a tip that fell into them: the arbor, and degrees from the drop.
fn walls(track: &Track, tip: &Degrees) -> Option<(ArborId, Vec<Degrees>, bool)> {
    let Carrier::Arbor(on) = track.carrier else {
        return None;
    };
    let free = |cut: &Cut| &(&cut.width - tip) * &fraction(1, 2);
    let places = match &track.shape {
        Shape::Notches { middles, cut } => {
            let free = free(cut);
            middles.iter().map(|middle| middle + &free).collect()
        }
        Shape::Counts { counts, cut } => {
            let free = free(cut);
            let all: u16 = counts.iter().sum();
            let each = Degrees::turns(&Exact::new(1.into(), all.max(1).into()));
            // Any slot is as far from its own middle.
            (0..all)
                .map(|n| &(&each * &whole(n.into())) + &free)
                .collect()
        }
        Shape::Lobes { .. } | Shape::Steps { .. } | Shape::Outline(_) => return None,
    };
    Some((on, places, false))
}

/// A place from zero up to one round.
fn into(place: &Degrees, round: &Degrees) -> Degrees {
    let turns = place.exact() / round.exact();
    Degrees::deg((&turns - turns.floor()) * round.exact())
}

/// How far an arbor runs with a tip in a notch on it, from the drop until the notch's end meets the tip.
pub(crate) fn notch_way(movement: &Movement, on: ArborId) -> Option<Degrees> {
    let works = movement.works()?;
    let turn = Degrees::turns(&whole(1));
    let mut ways: Vec<Degrees> = Vec::new();
    for (_, lever) in works.levers() {
        let (Some(feels), Some(track)) = (lever.feels(), lever.track()) else {
            continue;
        };
        let track = works.track(track);
        let notches = matches!(track.shape, Shape::Notches { .. });
        if notches && track.carrier == Carrier::Arbor(on) && feels.strikes.is_none() {
            let walls = walls(track, &feels.tip);
            ways.extend(walls.into_iter().flat_map(|(_, places, _)| places));
        }
    }
    let ways = ways.iter().map(|way| into(way, &turn));
    ways.filter(|way| !way.is_zero()).min()
}
