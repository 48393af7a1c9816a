//! Whether a train can come out: what pins, slots and hands ask of its counts, and which miscount would explain that it does not.

use super::puzzle::SPREADS;
use super::ways::{Monomial, ways};
use super::weight::common;
use crate::pendulum;
use kinematics::{HOUR_S, speed};
use movement::{ArborId, Blank, Blows, Carrier, Hop, MeshId, Movement, PartId, Shape, Strike};
use quantity::{Exact, Teeth, fraction, to_f64, whole};

/// From this many places in a turn they are counted one by one, and a blow is one of them; fewer need only come back to where
/// they were.
const COUNTED_FROM: u16 = 4;

/// So far from the ratio of two times of turning a train may be: times are measured, and rounded.
const TIMES: f64 = 0.002;

/// What is counted or timed on one arbor and must go with the rest of the train.
#[derive(Debug, Clone, PartialEq)]
pub enum Asks {
    /// Places on this arbor, of which each blow is one: slots, pins.
    EachBlow {
        /// The witness or track that has them.
        of: String,
        /// How many.
        places: u16,
    },
    /// Places on this arbor that each blow must bring back to where they were.
    Back {
        /// The witness or pin that has them.
        of: String,
        /// How many.
        places: u16,
    },
    /// The seconds of a turn, against those of the other arbor.
    Seconds,
    /// Beats of the escapement on this arbor, against those of the pendulum on the sheet.
    Beats {
        /// Beats an hour of the train.
        train: f64,
        /// Beats an hour of the pendulum.
        pendulum: f64,
        /// One standard deviation of that, as a part of it.
        spread: f64,
        /// The escape wheel, where beats are two for each of its teeth.
        wheel: Option<PartId>,
    },
}

/// A demand that the counts do not meet.
#[derive(Debug, Clone, PartialEq)]
pub struct Amiss {
    /// What is asked.
    pub asks: Asks,
    /// The arbor it is asked on.
    pub on: ArborId,
    /// The arbor it is reckoned against: the one that is read at, or the other that has a time.
    pub per: ArborId,
    /// Turns of `per` in one turn of `on` that are asked for; of places that must come back, the turns of `on` at a blow.
    pub wanted: Exact,
    /// What the counts give.
    pub given: Exact,
    /// The counts on the way from `on` to `per`.
    pub way: Vec<Hop>,
}

/// A count that, changed so, makes everything come out.
#[derive(Debug, Clone, PartialEq)]
pub struct Miscount {
    /// Which.
    pub part: Miscounted,
    /// As it is written.
    pub written: u16,
    /// What it would have to be.
    pub would_be: u16,
    /// How likely it is beside the others, all of them together 1.
    pub chance: f64,
}

/// What may have been miscounted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Miscounted {
    /// The teeth of a part.
    Teeth(PartId),
    /// The places of this witness or track.
    Places(String),
}

/// What does not come out, and the single miscounts by one or two that would explain all of it, the likeliest first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CountAgain {
    /// In sheet order.
    pub amiss: Vec<Amiss>,
    /// Nothing where no single one does.
    pub miscounts: Vec<Miscount>,
}

/// One demand, met or not.
struct Demand {
    asks: Asks,
    on: ArborId,
    per: ArborId,
    /// `given` is asked to be this, or where places must come back, to make a whole number with it.
    wanted: Exact,
}

/// Holds the counts of a movement against all that its sheet asks of them.
pub fn count_again(movement: &Movement) -> CountAgain {
    let demands = demands(movement);
    let amiss: Vec<Amiss> = (demands.iter())
        .filter_map(|demand| {
            let given = given(movement, demand)?;
            (!demand.stands(movement, &given)).then(|| Amiss {
                asks: demand.asks.clone(),
                on: demand.on,
                per: demand.per,
                wanted: demand.wanted.clone(),
                given,
                way: way(movement, demand.on, demand.per),
            })
        })
        .collect();
    let miscounts = match amiss[..] {
        [] => Vec::new(),
        _ => miscounts(movement, &demands),
    };
    CountAgain { amiss, miscounts }
}

impl Demand {
    /// Whether what the counts of the sheet give is what is asked for.
    fn stands(&self, movement: &Movement, given: &Exact) -> bool {
        match self.asks {
            // A blow may be several places, as where two tails lift in turn; but never a part of one.
            Asks::EachBlow { places, .. } | Asks::Back { places, .. } => movement
                .places_by_a_blow(self.on, places)
                .is_none_or(|places| places.is_integer()),
            Asks::Seconds | Asks::Beats { .. } => self.explained(given),
        }
    }

    /// Whether it would be if the counts gave this, for what a miscount is to explain: a blow is one place.
    fn explained(&self, given: &Exact) -> bool {
        match self.asks {
            Asks::EachBlow { .. } => *given == self.wanted,
            Asks::Back { places, .. } => (given * whole(places.into())).is_integer(),
            Asks::Seconds => off(given, &self.wanted) <= TIMES,
            Asks::Beats { spread, .. } => off(given, &self.wanted) <= SPREADS * spread,
        }
    }
}

/// How far two numbers are from each other, as a part of them.
fn off(a: &Exact, b: &Exact) -> f64 {
    (to_f64(a) / to_f64(b)).ln().abs()
}

/// What the counts give for a demand: turns of `per` in one of `on`, or where places must come back, of `on` at a blow.
fn given(movement: &Movement, demand: &Demand) -> Option<Exact> {
    match demand.asks {
        Asks::Back { .. } => kinematics::per_blow(movement, demand.on),
        _ => speed(movement, demand.per, demand.on),
    }
}

fn demands(movement: &Movement) -> Vec<Demand> {
    let mut demands = Vec::new();
    if let Some(strike) = movement.strike()
        && strike.blows != Blows::ShipsBells
    {
        for Alike { id, on, places } in witnesses_alike(movement, strike) {
            let doubled = |d: &Demand| {
                d.on == on
                    && matches!(&d.asks, Asks::EachBlow { places: p, .. } | Asks::Back { places: p, .. } if *p == places)
            };
            if demands.iter().any(doubled) {
                continue;
            }
            let (asks, wanted) = if places >= COUNTED_FROM {
                let wanted = whole(places.into()) / &strike.blows_per_turn;
                (Asks::EachBlow { of: id, places }, wanted)
            } else {
                (Asks::Back { of: id, places }, fraction(1, places.into()))
            };
            demands.push(Demand {
                asks,
                on,
                per: strike.read_at,
                wanted,
            });
        }
    }
    let timed: Vec<(ArborId, &Exact)> = (movement.arbors())
        .filter_map(|(id, arbor)| Some((id, arbor.measured("turn_s")?)))
        .collect();
    for (i, (on, seconds)) in timed.iter().enumerate() {
        let other = timed[..i]
            .iter()
            .find(|(other, _)| movement.same_train(*other, *on));
        demands.extend(other.map(|(per, other)| Demand {
            asks: Asks::Seconds,
            on: *on,
            per: *per,
            wanted: *seconds / *other,
        }));
    }
    demands.extend(beats(movement, &timed));
    demands
}

/// The escapement's beats against those of the pendulum, where both are on the sheet.
fn beats(movement: &Movement, timed: &[(ArborId, &Exact)]) -> Option<Demand> {
    let escapement = pendulum::escapement(movement)?;
    let (on, per_turn) = (
        escapement.arbor,
        pendulum::beats_per_turn(movement, &escapement)?,
    );
    let length = pendulum::by_the_bob(pendulum::length_on_sheet(movement, on)?);
    (length.value.as_mm() > 0.0).then_some(())?;
    let beats = pendulum::beats(length, pendulum::anywhere());
    let (per, seconds) = (timed.iter()).find(|(per, _)| movement.same_train(*per, on))?;
    let an_hour = Exact::from_float(beats.value.as_per_hour())?;
    Some(Demand {
        asks: Asks::Beats {
            train: to_f64(&pendulum::train_beats(movement, &escapement)?),
            pendulum: beats.value.as_per_hour(),
            spread: beats.spread.as_per_hour() / beats.value.as_per_hour(),
            wheel: escapement.wheel.filter(|_| escapement.told.is_none()),
        },
        on,
        per: *per,
        wanted: per_turn * whole(HOUR_S) / *seconds / an_hour,
    })
}

/// Something with places alike.
struct Alike {
    /// Its name.
    id: String,
    /// Its arbor.
    on: ArborId,
    /// How many in a turn.
    places: u16,
}

/// Everything with places on an arbor of the strike train.
fn witnesses_alike(movement: &Movement, strike: &Strike) -> Vec<Alike> {
    let alike = |id: &str, on, places| Alike {
        id: id.to_owned(),
        on,
        places,
    };
    let mut all: Vec<Alike> = (movement.witnesses())
        .map(|(_, w)| alike(&w.id, w.on, w.repeats.get()))
        .collect();
    all.extend((movement.unjudged().iter()).map(|w| alike(&w.id, w.on, w.repeats.get())));
    if let Some(works) = movement.works() {
        for (id, track) in works.tracks() {
            let struck = works
                .levers()
                .any(|(_, lever)| lever.hammered() == Some(id));
            let many = match &track.shape {
                Shape::Counts { counts, .. } => Some(counts.iter().sum()),
                Shape::Lobes { places, .. } if struck && even(places) => {
                    u16::try_from(places.len()).ok()
                }
                _ => None,
            };
            if let (Carrier::Arbor(on), Some(many)) = (&track.carrier, many) {
                all.push(alike(&track.id, *on, many));
            }
        }
    }
    all.retain(|it| movement.same_train(it.on, strike.read_at));
    all
}

/// Whether places are alike all round.
fn even(places: &[quantity::Degrees]) -> bool {
    let period = whole(360) / whole(i64::try_from(places.len()).unwrap_or(1).max(1));
    let Some(first) = places.first() else {
        return false;
    };
    places.iter().all(|place| {
        let turns = (place.exact() - first.exact()) / &period;
        turns.is_integer()
    })
}

/// The counts passed on the way from one arbor to another.
fn way(movement: &Movement, from: ArborId, to: ArborId) -> Vec<Hop> {
    let mut before: Vec<Option<(MeshId, ArborId)>> = vec![None; movement.arbors().len()];
    let mut reached = vec![from];
    let mut next = 0;
    while let Some(&here) = reached.get(next) {
        next += 1;
        for (id, mesh) in movement.meshes() {
            let (driver, driven) = (mesh.driver.arbor, mesh.driven.arbor);
            let there = match here {
                _ if driver == here => driven,
                _ if driven == here => driver,
                _ => continue,
            };
            if there != from && before[there.index()].is_none() {
                before[there.index()] = Some((id, here));
                reached.push(there);
            }
        }
    }
    let mut hops = Vec::new();
    let mut at = to;
    while let Some((mesh, here)) = before[at.index()] {
        let mesh = movement.mesh(mesh);
        let teeth = |part| movement.part(part).teeth;
        let (near, far) = match mesh.driver.arbor == here {
            true => (mesh.driver, mesh.driven),
            false => (mesh.driven, mesh.driver),
        };
        hops.push(Hop {
            here: teeth(near),
            there: teeth(far),
        });
        at = here;
    }
    hops.reverse();
    hops
}

/// Every single count that, one or two more or fewer, makes all demands come out.
fn miscounts(movement: &Movement, demands: &[Demand]) -> Vec<Miscount> {
    let mut found: Vec<(f64, Miscount)> = Vec::new();
    let mut weigh = |part, written: u16, would_be: u16| {
        // A tooth more or less is twice as likely as two; of many teeth one is sooner lost than of few; and what clocks
        // commonly have is likelier than what they have not (ours).
        let off = f64::from(written.abs_diff(would_be)) * 2_f64.ln();
        let weight = f64::from(written).ln() + common(would_be) - common(written) - off;
        let chance = 0.0;
        found.push((
            weight,
            Miscount {
                part,
                written,
                would_be,
                chance,
            },
        ));
    };
    for (arbor, _) in movement.arbors() {
        for (id, part) in movement.parts(arbor) {
            let written = part.teeth.get();
            let blanks = [Blank {
                part: id,
                written: Some(part.teeth),
            }];
            for would_be in around(written) {
                if explains(movement, demands, &blanks, would_be) {
                    weigh(Miscounted::Teeth(id), written, would_be);
                }
            }
        }
    }
    for (i, demand) in demands.iter().enumerate() {
        let Asks::EachBlow { of, places } = &demand.asks else {
            continue;
        };
        let others = demands.iter().enumerate().all(|(j, other)| {
            i == j || given(movement, other).is_none_or(|given| other.stands(movement, &given))
        });
        for would_be in around(*places).filter(|_| others) {
            let wanted = &demand.wanted * fraction(would_be.into(), (*places).into());
            if given(movement, demand).is_some_and(|given| given == wanted) {
                weigh(Miscounted::Places(of.clone()), *places, would_be);
            }
        }
    }
    let most = found.iter().map(|f| f.0).fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = found.iter().map(|f| (f.0 - most).exp()).sum();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    (found.into_iter())
        .map(|(weight, miscount)| Miscount {
            chance: (weight - most).exp() / sum,
            ..miscount
        })
        .collect()
}

/// One or two fewer or more.
fn around(count: u16) -> impl Iterator<Item = u16> {
    let fewer = [2, 1].into_iter().filter_map(move |n| count.checked_sub(n));
    fewer.chain([count + 1, count + 2]).filter(|n| *n >= 1)
}

/// Whether all demands are met, and all loops close, with one part's count changed.
fn explains(movement: &Movement, demands: &[Demand], blanks: &[Blank; 1], would_be: u16) -> bool {
    if Teeth::new(would_be.into()).is_none() {
        return false;
    }
    let value = |of: &Monomial| {
        let count = whole(would_be.into());
        (0..of.powers[0].unsigned_abs()).fold(of.times.clone(), |product, _| {
            match of.powers[0] > 0 {
                true => product * &count,
                false => product / &count,
            }
        })
    };
    let mut changes = false;
    for demand in demands {
        let from = ways(movement, blanks, demand.on);
        if !from
            .loops
            .iter()
            .all(|(_, around)| value(around) == whole(1))
        {
            return false;
        }
        let Some(turns) = &from.turns[demand.per.index()] else {
            continue;
        };
        changes |= !turns.is_known();
        let turns = value(turns);
        let given = match (&demand.asks, movement.strike()) {
            (Asks::Back { .. }, Some(strike)) => whole(1) / turns / &strike.blows_per_turn,
            _ => turns,
        };
        let given = match demand.asks {
            Asks::Beats { wheel, .. } if wheel == Some(blanks[0].part) => {
                changes = true;
                let written = blanks[0].written.map_or(would_be, Teeth::get);
                given * fraction(written.into(), would_be.into())
            }
            _ => given,
        };
        // What the change does not touch need only be as it was.
        let met = demand.explained(&given)
            || (given_is(movement, demand, &given) && demand.stands(movement, &given));
        if !met {
            return false;
        }
    }
    changes
}

fn given_is(movement: &Movement, demand: &Demand, is: &Exact) -> bool {
    given(movement, demand).is_some_and(|given| given == *is)
}
