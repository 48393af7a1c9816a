//! Movements grown from a seed, one arbor after the other.

use crate::Dice;
use crate::names::{clock, fresh, one};
use crate::plan::{
    ArborPlan, MeshPlan, MomentPlan, MovementPlan, PartPlace, PartPlan, StrikePlan, Thousandths,
    WitnessPlan,
};
use num_traits::ToPrimitive;
use quantity::{Exact, fraction, whole};
use rand::RngExt;
use std::ops::RangeInclusive;

/// What kind of movement is wanted. Chances are from 0 to 1.
#[derive(Debug, Clone)]
pub struct Taste {
    /// Arbors in the striking train.
    pub arbors: RangeInclusive<usize>,
    /// Witnesses that are aimed at.
    pub witnesses: RangeInclusive<usize>,
    /// Leaves of a pinion.
    pub pinions: RangeInclusive<u16>,
    /// The chance of a count that no maker would choose, up to a thousand.
    pub odd_count: f64,
    /// The chance that an arbor does not follow the last one, but branches off an earlier one.
    pub branch: f64,
    /// The chance of a second way round between two arbors.
    pub closed_loop: f64,
    /// The chance that `hold_deg` is said.
    pub hold: f64,
    /// The chance of a going train beside the striking train.
    pub going: f64,
    /// Whether a blow moves every witness by a whole number of its places.
    pub whole_blows: bool,
}

impl Taste {
    /// As clocks are made.
    pub fn realistic() -> Taste {
        Taste {
            arbors: 3..=8,
            witnesses: 1..=4,
            pinions: 6..=12,
            odd_count: 0.0,
            branch: 0.2,
            closed_loop: 0.03,
            hold: 0.3,
            going: 0.15,
            whole_blows: true,
        }
    }

    /// As the form of the sheet allows.
    pub fn wild() -> Taste {
        Taste {
            arbors: 3..=10,
            witnesses: 0..=6,
            pinions: 4..=30,
            odd_count: 0.15,
            branch: 0.4,
            closed_loop: 0.2,
            hold: 0.5,
            going: 0.3,
            whole_blows: false,
        }
    }
}

const WAYS: [&str; 2] = ["clockwise", "counterclockwise"];

/// A movement to that taste.
pub fn grow(taste: &Taste, dice: &mut Dice) -> MovementPlan {
    let mut growing = Growing {
        taste,
        plan: MovementPlan {
            name: clock(dice),
            seen_from: one(&["front", "back"], dice),
            arbors: Vec::new(),
            meshes: Vec::new(),
            strike: None,
            moments: Vec::new(),
            witnesses: Vec::new(),
        },
        turns: Vec::new(),
        dice,
    };
    let arbors = growing.among(&taste.arbors);
    growing.train(arbors);
    if growing.likely(taste.closed_loop) {
        growing.close_loop();
    }
    growing.strike();
    let witnesses = growing.among(&taste.witnesses);
    for _ in 0..witnesses {
        growing.witness();
    }
    if growing.likely(taste.going) {
        growing.train(3);
    }
    growing.measurements();
    growing.plan
}

struct Growing<'a> {
    taste: &'a Taste,
    plan: MovementPlan,
    /// Turns of each arbor in one of its train's first, negative where it turns the other way.
    turns: Vec<Exact>,
    dice: &'a mut Dice,
}

impl Growing<'_> {
    fn likely(&mut self, chance: f64) -> bool {
        self.dice.random_bool(chance)
    }

    fn among(&mut self, range: &RangeInclusive<usize>) -> usize {
        self.dice.random_range(range.clone())
    }

    /// A train of so many arbors, the first driving all the others.
    fn train(&mut self, arbors: usize) {
        let first = self.plan.arbors.len();
        self.arbor(whole(1));
        for i in first + 1..first + arbors {
            let branch = self.likely(self.taste.branch);
            let from = if branch {
                self.among(&(first..=i - 1))
            } else {
                i - 1
            };
            self.driven_by(from, branch);
        }
        let says = if self.likely(0.8) {
            first
        } else {
            self.among(&(first..=first + arbors - 1))
        };
        self.plan.arbors[says].runs = Some(one(&WAYS, self.dice));
    }

    fn arbor(&mut self, turns: Exact) -> usize {
        let id = fresh(self.plan.arbors.iter().map(|a| a.id.as_str()), self.dice);
        self.plan.arbors.push(ArborPlan {
            id,
            runs: None,
            parts: Vec::new(),
            measured: Vec::new(),
        });
        self.turns.push(turns);
        self.turns.len() - 1
    }

    fn part(&mut self, arbor: usize, usual: &str, teeth: u16) -> PartPlace {
        let taken = || {
            self.plan.arbors[arbor]
                .parts
                .iter()
                .map(|p| p.name.as_str())
        };
        let name = if taken().any(|name| name == usual) {
            fresh(taken(), self.dice)
        } else {
            usual.to_owned()
        };
        let lantern = teeth < 13 && self.likely(0.3);
        let parts = &mut self.plan.arbors[arbor].parts;
        parts.push(PartPlan {
            name,
            teeth,
            lantern,
        });
        PartPlace {
            arbor,
            part: parts.len() - 1,
        }
    }

    /// A wheel and a pinion that go together.
    fn counts(&mut self) -> (u16, u16) {
        if self.likely(self.taste.odd_count) {
            return (
                self.dice.random_range(4..=1000),
                self.dice.random_range(4..=1000),
            );
        }
        let pinion = self.dice.random_range(self.taste.pinions.clone());
        let wheel = pinion * self.dice.random_range(4..=9);
        let tooth_more = u16::from(!self.taste.whole_blows && self.likely(0.5));
        (wheel + tooth_more, pinion)
    }

    /// A new arbor, driven by an earlier one: faster down the train, or slower where it is a count wheel to one side.
    fn driven_by(&mut self, from: usize, branch: bool) {
        let (wheel, pinion) = self.counts();
        let slower = branch && self.likely(0.5);
        let (drives, driven) = if slower {
            (pinion, wheel)
        } else {
            (wheel, pinion)
        };
        let shared = self.plan.arbors[from].parts.len();
        let driver = if shared > 0 && self.likely(0.2) {
            PartPlace {
                arbor: from,
                part: self.among(&(0..=shared - 1)),
            }
        } else {
            self.part(from, if slower { "pinion" } else { "wheel" }, drives)
        };
        let drives = self.plan.arbors[from].parts[driver.part].teeth;
        let internal = self.likely(0.1);
        let turns = &self.turns[from] * fraction(drives.into(), driven.into());
        let new = self.arbor(if internal { turns } else { -turns });
        let driven = self.part(new, if slower { "wheel" } else { "pinion" }, driven);
        let outside = self.likely(if slower { 0.5 } else { 0.1 });
        let lash = self.likely(0.15).then(|| "0.2".to_owned());
        self.plan.meshes.push(MeshPlan {
            driver,
            driven,
            internal,
            lash,
            outside,
        });
    }

    /// A second way between two arbors that comes to the same turns, where there are counts for it.
    fn close_loop(&mut self) {
        let last = self.plan.arbors.len() - 1;
        // Something must drive the first; the train hangs from it.
        let (a, b) = (self.among(&(0..=last)), self.among(&(1..=last)));
        let ratio = &self.turns[b] / &self.turns[a];
        let small = |n: &quantity::BigInt| n.magnitude().to_u16().filter(|n| *n <= 250);
        let (Some(turns_b), Some(turns_a)) = (small(ratio.numer()), small(ratio.denom())) else {
            return;
        };
        if a == b {
            return;
        }
        let driver = self.part(a, "round", turns_b * 4);
        let driven = self.part(b, "round", turns_a * 4);
        self.plan.meshes.push(MeshPlan {
            driver,
            driven,
            internal: ratio > whole(0),
            lash: None,
            outside: false,
        });
    }

    fn strike(&mut self) {
        let last = self.plan.arbors.len() - 1;
        let read_at = self.among(&(0..=last));
        self.plan.strike = Some(StrikePlan {
            rack: self.likely(0.3),
            halves: self.likely(0.4),
            read_at,
            blows_per_turn: if self.likely(0.8) {
                1
            } else {
                self.dice.random_range(1..=12)
            },
            hold: self
                .likely(self.taste.hold)
                .then(|| one(&["0.5", "0.25", "0.05", "1", "0"], self.dice).to_owned()),
        });
        for id in ["lock", "warned"] {
            if self.likely(0.3) {
                let arbor = self.among(&(0..=last));
                let id = id.to_owned();
                self.plan.moments.push(MomentPlan { id, arbor });
            }
        }
    }

    /// How many alike places a witness on an arbor has; nothing where no number will do.
    fn repeats(&mut self, on: usize) -> Option<u16> {
        if !self.taste.whole_blows {
            return Some(if self.likely(0.1) {
                self.dice.random_range(1..=1000)
            } else {
                self.dice.random_range(1..=12)
            });
        }
        let strike = self.plan.strike.as_ref()?;
        let turns =
            &self.turns[on] / &self.turns[strike.read_at] / whole(strike.blows_per_turn.into());
        let least = turns.denom().to_u16().filter(|k| *k <= 300)?;
        Some(if least < 30 {
            least * self.dice.random_range(1..=3)
        } else {
            least
        })
    }

    /// A witness somewhere, if the arbor tried will bear one.
    fn witness(&mut self) {
        let on = self.among(&(0..=self.plan.arbors.len() - 1));
        let Some(repeats) = self.repeats(on) else {
            return;
        };
        let period = 360_000 / i64::from(repeats);
        // Widths in round figures, as one would set them.
        let width = (period * self.dice.random_range(15..=70) / 100).max(2);
        let width = if width > 1000 {
            width / 100 * 100
        } else {
            width
        };
        let best = if self.likely(0.4) {
            0
        } else {
            self.dice.random_range(-period..=period) / 10 * 10
        };
        let from = best - width * self.dice.random_range(2..=8) / 10;
        let taken = self.plan.witnesses.iter().map(|w| w.id.as_str());
        let id = fresh(taken, self.dice);
        let moments = self.plan.moments.len();
        let at = (moments > 0 && self.likely(0.3)).then(|| self.among(&(0..=moments - 1)));
        let look = self
            .likely(0.2)
            .then(|| (Thousandths(period / 2), Thousandths((period / 5).max(1))));
        let oclock = self.likely(0.2).then_some(4);
        self.plan.witnesses.push(WitnessPlan {
            id,
            on,
            repeats,
            window: (Thousandths(from), Thousandths(from + width)),
            best: Thousandths(best),
            at,
            look,
            oclock,
        });
    }

    fn measurements(&mut self) {
        for arbor in &mut self.plan.arbors {
            if self.dice.random_bool(0.1) {
                let key = one(
                    &[
                        "length_mm",
                        "pivot_um",
                        "end_shake_mm",
                        "mass_g",
                        "turn_s",
                        "winding_turns",
                    ],
                    self.dice,
                );
                let value = one(&["0.8", "12", "31.25", "900"], self.dice);
                arbor.measured.push((key.to_owned(), value.to_owned()));
            }
        }
    }
}
