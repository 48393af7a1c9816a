//! What a log comes to, as the facts that the rule of closing up asks; and what is advised by them.

use crate::act::{INFERRED, Newest, RuleFacts, WorkLeft};
use crate::advice::Advice;
use crate::another_drop::{AnotherDrop, another_drop};
use crate::answer::{Cure, answer};
use crate::bench::Bench;
use crate::order::Order;
use crate::reading::Reading;
use crate::recall::Recalled;
use crate::turn::Turn;
use kinematics::{Turnable, turnables};
use movement::{HeldBy, Movement, WitnessId};
use num_traits::Zero;
use quantity::{Degrees, fraction, nearest_alike, whole};

impl Newest {
    /// How what was read stands.
    pub(crate) fn of(movement: &Movement, reading: &Reading) -> Newest {
        if reading.far_off.is_some() {
            Newest::FarOff
        } else if movement.witness(reading.witness).admits(&reading.stands) {
            Newest::In
        } else {
            Newest::Out
        }
    }
}

impl Recalled {
    /// Whether what was read last is how a sound train stands at another drop than the one that is meant.
    pub fn another_drop(&self, movement: &Movement) -> Option<AnotherDrop> {
        let stands: Vec<(WitnessId, Degrees)> = (self.newest.iter())
            .filter_map(|(id, reading)| Some((*id, reading.as_ref()?.stands.clone())))
            .collect();
        another_drop(movement, &stands)
    }
}

impl Bench<'_> {
    /// What to do next.
    pub fn advise_on(&self, recalled: &Recalled) -> Advice {
        let order = crate::order(&self.movement, &recalled.out);
        self.advise_with(recalled, &self.facts(recalled, &order))
    }

    /// What to do next with what is timed here, by the facts of all that is timed.
    pub fn advise_with(&self, recalled: &Recalled, facts: &RuleFacts) -> Advice {
        let mut readable = recalled.readable.clone();
        readable.retain(|id| self.timed().contains(id));
        let parts = turnables(&self.movement);
        let turn = self.turn(recalled, &parts);
        let stuck = match turn[..] {
            [] => self.stuck(recalled, &parts),
            _ => Vec::new(),
        };
        let all_are_in = facts.out.is_empty();
        let another_drop = recalled.another_drop(&self.movement).filter(|_| all_are_in);
        let besides = WorkLeft {
            turn,
            stuck,
            another_drop: another_drop.map_or_else(Vec::new, |drop| drop.read),
            turned_unseen: recalled.turned_unseen,
            ..WorkLeft::default()
        };
        self.advise_besides(&recalled.belief, facts, &readable, besides)
    }

    /// Witnesses that have one place alone, whatever is shifted, that nothing which can be turned moves, and that were last read nearer to
    /// the middle between that place and the next than to it: no shift of a sound movement shows them so.
    fn stuck(&self, recalled: &Recalled, parts: &[Turnable]) -> Vec<WitnessId> {
        let stuck = |(id, reading): &(WitnessId, Option<Reading>)| {
            let reading = reading.as_ref()?;
            let witness = self.movement.witness(*id);
            let [place] = &self.places.tracks[id.index()].places[..] else {
                return None;
            };
            let at = nearest_alike(&reading.stands, &witness.period(), place);
            let between = (&at - place).abs() > &witness.period() * &fraction(1, 4);
            let out = Newest::of(&self.movement, reading) == Newest::Out;
            let turned = parts.iter().any(|part| !part.moves(*id).is_zero());
            (out && between && !turned).then_some(*id)
        };
        recalled.newest.iter().filter_map(stuck).collect()
    }

    /// The parts that, turned on their arbors, bring in what was last read outside, where they come before the shifts that do.
    fn turn(&self, recalled: &Recalled, parts: &[Turnable]) -> Vec<Turn> {
        let newest = recalled.newest.iter();
        let readings: Vec<Reading> = (newest.filter_map(|(_, reading)| reading.clone())).collect();
        let out = |reading: &Reading| Newest::of(&self.movement, reading) == Newest::Out;
        if !readings.iter().any(out) || parts.is_empty() {
            return Vec::new();
        }
        let cured =
            |readings: &[Reading]| match answer(&self.movement, readings, self.priors.hands).cure {
                Cure::Turn(turns, _) if !turns.is_empty() => Some(turns),
                _ => None,
            };
        cured(&readings)
            .or_else(|| cured(&self.a_quarter_off(&readings, parts)?))
            .unwrap_or_default()
    }

    /// Readings in which each that is out stands just where a part put otherwise on its square leaves it, where all that are out were read so
    /// roughly that they may: a count wheel on the rim is tried on its square first. Common practice, no source.
    fn a_quarter_off(&self, readings: &[Reading], parts: &[Turnable]) -> Option<Vec<Reading>> {
        let square = |part: &&Turnable| part.held_by == HeldBy::Square;
        let nearest = |reading: &Reading| {
            let witness = self.movement.witness(reading.witness);
            let places = parts.iter().filter(square).flat_map(|part| {
                (1..4).map(|quarters| {
                    let by = part.moves(reading.witness) * whole(90 * quarters);
                    &witness.best - &Degrees::deg(by)
                })
            });
            let places =
                places.map(|place| nearest_alike(&place, &witness.period(), &reading.stands));
            let off = |place: &Degrees| (place - &reading.stands).to_f64().abs();
            let near = places.min_by(|a, b| off(a).total_cmp(&off(b)))?;
            (off(&near) <= reading.spread.as_deg() && !witness.admits(&near)).then_some(near)
        };
        let mut moved = readings.to_vec();
        for reading in &mut moved {
            if Newest::of(&self.movement, reading) == Newest::Out {
                reading.stands = nearest(reading)?;
            }
        }
        Some(moved)
    }

    /// What the rule of closing up asks of what is timed here; `order` is that in which the arbors go in that are out.
    pub fn facts(&self, recalled: &Recalled, order: &Order) -> RuleFacts {
        let newest = |(id, reading): &(WitnessId, Option<Reading>)| {
            let stands = match reading {
                None => Newest::Unread,
                Some(reading) => Newest::of(&self.movement, reading),
            };
            (*id, stands)
        };
        RuleFacts {
            newest: recalled.newest.iter().map(newest).collect(),
            out: order.steps.iter().map(|step| step.arbor).collect(),
            bent: recalled.bent.clone(),
            in_window: self.in_window(&recalled.belief),
            usual: (self.timed().iter().copied())
                .filter(|id| self.movement.is_usual(*id))
                .collect(),
            inferred: (recalled.inferred.iter().copied())
                .filter(|id| self.stands_in(&recalled.belief, *id).get() < INFERRED)
                .collect(),
        }
    }
}
