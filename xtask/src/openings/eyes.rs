//! What eyes make of where a witness stands: it is seen off by an error of its own, and with all others of the drop by how
//! the arbor they are read against happened to be held.

use super::dice::Dice;
use super::world::{Witness, World};
use movement::WitnessId;

/// How surely the arbor is held at the drop, in its own degrees, one standard deviation.
pub const HOLD_DEG: f64 = 0.5;

/// How surely a slot is read, in degrees of its wheel.
pub const SLOT_DEG: f64 = 0.3;
/// How surely pins of a pin wheel or a star are.
pub const PIN_WHEEL_DEG: f64 = 2.0;
/// How surely a single pin or vane is.
pub const PIN_DEG: f64 = 6.0;

/// What a repairer says of how surely a witness is read, by its kind: a pin has at most two alike places in a turn, a pin
/// wheel some dozen, a wheel of slots as many as there are blows.
pub fn stated_spread(witness: &Witness) -> f64 {
    match witness.repeats {
        ..=2 => PIN_DEG,
        3..=24 => PIN_WHEEL_DEG,
        _ => SLOT_DEG,
    }
}

/// What was seen of one witness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Which.
    pub witness: WitnessId,
    /// Where it seems to stand: of alike places the one nearest best, in degrees.
    pub deg: f64,
}

/// Eyes, and the finger that holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eyes {
    /// How many times as bad as is said of them; 0 sees exactly.
    pub times: f64,
    /// Whether they look at rest, once the train has locked.
    pub at_rest: bool,
}

/// How surely one sees how far a tip went into its notch, in degrees of the arbor that is held at the drop.
pub const NOTCH_DEG: f64 = 2.0;

impl Eyes {
    /// One look at some witnesses.
    ///
    /// At rest it was run on from the drop until the pin is at its arm: each witness stands farther on by that, and the pin itself is told
    /// by the notch.
    pub fn look(self, world: &World, state: usize, at: &[WitnessId], dice: &mut Dice) -> Vec<Seen> {
        if self.at_rest {
            return self.look_at_rest(world, state, at, dice);
        }
        let held = self.times * HOLD_DEG * dice.normal();
        (world.witnesses.iter().enumerate())
            .filter(|(_, witness)| at.contains(&witness.id))
            .map(|(w, witness)| {
                let own = self.times * stated_spread(witness) * dice.normal();
                let swayed = if witness.at_drop {
                    held * witness.speed
                } else {
                    0.0
                };
                let off = world.stands(state, w) + own + swayed - witness.best;
                let periods = (off / witness.period).round();
                Seen {
                    witness: witness.id,
                    deg: witness.best + off - periods * witness.period,
                }
            })
            .collect()
    }

    fn look_at_rest(
        self,
        world: &World,
        state: usize,
        at: &[WitnessId],
        dice: &mut Dice,
    ) -> Vec<Seen> {
        let pin = world.locks;
        let lead = pin.map(|pin| {
            let left = (-world.stands(state, pin)).rem_euclid(world.witnesses[pin].period);
            // What is at its arm as the lever drops comes there again after a round.
            if left > 1e-9 {
                left
            } else {
                world.witnesses[pin].period
            }
        });
        (world.witnesses.iter().enumerate())
            .filter(|(_, witness)| at.contains(&witness.id))
            .map(|(w, witness)| {
                let thrown = self.times * dice.normal();
                let stands = match (pin, lead) {
                    (Some(pin), Some(lead)) if w == pin => {
                        -lead + thrown * NOTCH_DEG * witness.speed
                    }
                    (Some(pin), Some(lead)) if witness.at_drop => {
                        let ran = lead * witness.speed / world.witnesses[pin].speed;
                        world.stands(state, w) + ran + thrown * stated_spread(witness)
                    }
                    _ => world.stands(state, w) + thrown * stated_spread(witness),
                };
                Seen {
                    witness: witness.id,
                    deg: stands,
                }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::openings::{dice::Purpose, fleet};

    #[test]
    fn errors_are_as_wide_and_as_much_in_common_as_is_said() {
        let fleets = fleet::all();
        let world = &fleets[0].world;
        let all: Vec<WitnessId> = world.witnesses.iter().map(|w| w.id).collect();
        let eyes = Eyes {
            times: 2.0,
            at_rest: false,
        };
        let mut dice = Dice::of(3, 3, Purpose::Eyes);
        let n = 50_000;
        let mut offs = Vec::new();
        for _ in 0..n {
            let seen = eyes.look(world, World::SOUND, &all, &mut dice);
            let off = |w: usize| seen[w].deg - world.witnesses[w].best;
            offs.push([off(0), off(1), off(2)]);
        }
        let mean =
            |a: usize, b: usize| offs.iter().map(|off| off[a] * off[b]).sum::<f64>() / f64::from(n);
        // Worked by hand from the counts: the third arbor held to 1°, the star a ninth, the slot 9 · 6/52 of that, the pin
        // eight times; own errors 0.6°, 4°, 12°.
        let speeds = [6.0 / 52.0 / 9.0, 1.0 / 9.0, 8.0];
        let own = [0.6, 4.0, 12.0];
        for a in 0..3 {
            for b in 0..3 {
                let meant = speeds[a] * speeds[b] + if a == b { own[a] * own[a] } else { 0.0 };
                let scale = f64::hypot(own[a], speeds[a]) * f64::hypot(own[b], speeds[b]);
                // The mean of n products is off by about √(2/n) of the scale; four times that does not happen by chance.
                let off = (mean(a, b) - meant).abs() / scale;
                assert!(
                    off < 4.0 * (2.0 / f64::from(n)).sqrt(),
                    "{a} {b}: {} {meant}",
                    mean(a, b)
                );
            }
        }
    }

    #[test]
    fn exact_eyes_see_every_place() {
        for fleet in fleet::all() {
            let world = &fleet.world;
            let all: Vec<WitnessId> = world.witnesses.iter().map(|w| w.id).collect();
            let mut dice = Dice::of(3, 4, Purpose::Eyes);
            for state in 0..world.states() {
                let seen = Eyes {
                    times: 0.0,
                    at_rest: false,
                }
                .look(world, state, &all, &mut dice);
                for (w, seen) in seen.iter().enumerate() {
                    let off = (world.stands(state, w) - seen.deg) / world.witnesses[w].period;
                    assert!((off - off.round()).abs() < 1e-9);
                }
            }
        }
    }
}
