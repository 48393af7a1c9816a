//! Movements made up from a seed: plain numbers, from which the sheet is written and the slow simulation is fed.

use rand::RngExt;
use rand_pcg::Pcg64Mcg;
use std::fmt::Write;

/// Thousandths of a degree, so that the sheet and the simulation have the same number.
pub(crate) type Mil = i64;

/// How blows are counted.
#[derive(Debug)]
pub(crate) enum Counted {
    Wheel(Wheel),
    Rack(Rack),
}

/// A count wheel, a cam, and how it locks.
#[derive(Debug)]
pub(crate) struct Wheel {
    pub(crate) halves: bool,
    pub(crate) slot: Mil,
    pub(crate) slot_ramp: Mil,
    pub(crate) tip: Mil,
    pub(crate) lift: Mil,
    pub(crate) notches: i64,
    pub(crate) notch_middle: Mil,
    pub(crate) notch: Mil,
    pub(crate) notch_ramp: Mil,
    pub(crate) notch_tip: Mil,
    pub(crate) notch_lift: Mil,
    /// Whether the wall of the cam locks; else an arm.
    pub(crate) by_wall: bool,
    pub(crate) below: Mil,
    pub(crate) shift: i64,
}

/// A rack and its snail.
#[derive(Debug)]
pub(crate) struct Rack {
    pub(crate) falls: Vec<Mil>,
    pub(crate) from: Mil,
    pub(crate) tail: Mil,
    pub(crate) teeth: i64,
    pub(crate) pallet: Mil,
    pub(crate) hook_lift: Mil,
    pub(crate) free: Mil,
}

/// A whole movement with what is wrong with it.
#[derive(Debug)]
pub(crate) struct Plan {
    pub(crate) counted: Counted,
    /// Lifting pins in one turn of the second arbor; one of them may be missing.
    pub(crate) pins: i64,
    pub(crate) missing: Option<i64>,
    pub(crate) pin_first: Mil,
    pub(crate) pin_rise: Mil,
    /// Turns of the warning arbor to one of the locking arbor.
    pub(crate) warning: i64,
    pub(crate) stop_at: Mil,
    pub(crate) further: Mil,
    pub(crate) above: Mil,
    pub(crate) hand_rise: Mil,
    pub(crate) hand_hold: Mil,
    pub(crate) hand_lift: Mil,
    pub(crate) wire_from: Mil,
    /// Bends of the count lever (or the hook), the drop lever, and the wire.
    pub(crate) bends: [Mil; 3],
    pub(crate) cam_slip: Mil,
}

/// A number between two, in tenths of a degree, with a little over so that no two features stand at one place.
fn between(dice: &mut Pcg64Mcg, from: i64, to: i64, over: Mil) -> Mil {
    dice.random_range(from * 10..=to * 10) * 100 + over
}

impl Plan {
    pub(crate) fn throw(dice: &mut Pcg64Mcg) -> Plan {
        let rack = dice.random_range(0..10) < 3;
        // Most are nearly as they should be: what is wrong comes one thing at a time, mostly.
        let odd = |dice: &mut Pcg64Mcg| dice.random_range(0..8) == 0;
        let notches = if dice.random_range(0..3) == 0 { 2 } else { 1 };
        let pins = 2 * dice.random_range(3..=5);
        let counted = if rack {
            let falls = (1..=12).map(|n| {
                let off = if dice.random_range(0..12) == 0 {
                    700
                } else {
                    300
                };
                n * 1000 + dice.random_range(-off..=off)
            });
            Counted::Rack(Rack {
                falls: falls.collect(),
                // Some step so late that the rack lies on it when the next one comes.
                from: if odd(dice) {
                    between(dice, 27, 30, 7)
                } else {
                    between(dice, 8, 22, 7)
                },
                tail: between(dice, 1, 5, 0),
                teeth: if odd(dice) { 11 } else { 14 },
                pallet: between(dice, 0, 40, 23),
                hook_lift: between(dice, 2, 4, 0),
                free: between(dice, 4, 7, 31),
            })
        } else {
            let by_wall = dice.random_range(0..4) == 0;
            let notch = between(dice, 14, 44, 0);
            let notch_tip = if odd(dice) {
                between(dice, 1, 30, 0)
            } else {
                between(dice, 1, 7, 0)
            };
            let slot = between(dice, 1, 2, 0) + dice.random_range(0..6) * 100;
            let ramp = dice.random_range(0..3);
            Counted::Wheel(Wheel {
                halves: dice.random_range(0..2) == 0,
                slot,
                slot_ramp: if ramp == 0 {
                    0
                } else {
                    between(dice, 0, 0, 300) + ramp * 150
                },
                tip: between(dice, 0, 1, 20),
                lift: if odd(dice) {
                    between(dice, 5, 9, 0)
                } else {
                    8000
                },
                notches,
                notch_middle: (notch - notch_tip) / 2 + dice.random_range(-2..=2) * 1000 + 51,
                notch,
                notch_ramp: if by_wall {
                    0
                } else {
                    dice.random_range(0..=2) * 5200
                },
                notch_tip,
                notch_lift: if odd(dice) {
                    between(dice, 5, 9, 0)
                } else {
                    8000
                },
                by_wall,
                below: between(dice, 3, 5, 17),
                shift: if odd(dice) {
                    dice.random_range(-1..=1)
                } else {
                    0
                },
            })
        };
        let bend = |dice: &mut Pcg64Mcg| {
            if odd(dice) {
                dice.random_range(-30..=30) * 100 + 3
            } else {
                0
            }
        };
        let bends = [bend(dice), bend(dice), bend(dice)];
        Plan {
            counted,
            pins,
            missing: odd(dice).then(|| dice.random_range(0..pins)),
            pin_first: between(dice, 15, 30, 11),
            pin_rise: between(dice, 6, 12, 0),
            warning: 2 * dice.random_range(3..=5),
            stop_at: between(dice, 40, 180, 13),
            further: between(dice, 60, 300, 29),
            above: between(dice, 3, 6, 19),
            hand_rise: between(dice, 20, 60, 0),
            hand_hold: between(dice, 0, 15, 40),
            hand_lift: between(dice, 9, 14, 0),
            wire_from: between(dice, 0, 2, 27),
            bends,
            cam_slip: if odd(dice) {
                dice.random_range(-12..=12) * 1000 + 9
            } else {
                0
            },
        }
    }

    /// Blows between drops, in order from the start.
    pub(crate) fn counts(&self) -> Vec<i64> {
        let halves = matches!(&self.counted, Counted::Wheel(wheel) if wheel.halves);
        let mut counts = Vec::new();
        for hour in 1..=12 {
            if halves {
                counts.push(1);
            }
            counts.push(hour);
        }
        counts
    }

    /// Blows to one turn of the locking arbor.
    pub(crate) fn blows_per_turn(&self) -> i64 {
        match &self.counted {
            Counted::Wheel(wheel) => wheel.notches,
            Counted::Rack(_) => 1,
        }
    }

    /// The sheet, as a repairer would write it.
    pub(crate) fn sheet(&self) -> String {
        let mut text =
            String::from("sheet = 1\nname = \"Wren Street made up\"\nseen_from = \"back\"\n");
        let per_turn = self.blows_per_turn();
        let all: i64 = self.counts().iter().sum();
        let wheel = self.pins * 8 / per_turn;
        let _ = write!(
            text,
            "[arbor.second]\nruns = \"clockwise\"\nwheel = {wheel}\ncount_pinion = {}\n[arbor.locking]\npinion = 8\nwheel = {}\n[arbor.warning]\npinion = 6\n[arbor.count]\nwheel = {all}\n",
            self.pins,
            6 * self.warning
        );
        for (driver, driven) in [
            ("second.wheel", "locking.pinion"),
            ("locking.wheel", "warning.pinion"),
            ("second.count_pinion", "count.wheel"),
        ] {
            let _ = write!(
                text,
                "[[mesh]]\ndriver = \"{driver}\"\ndriven = \"{driven}\"\n"
            );
        }
        let (by, blows) = match &self.counted {
            Counted::Wheel(wheel) if wheel.halves => ("count wheel", "hours and halves"),
            Counted::Wheel(_) => ("count wheel", "hours"),
            Counted::Rack(_) => ("rack", "hours"),
        };
        let _ = write!(
            text,
            "[strike]\ncounted_by = \"{by}\"\nblows = \"{blows}\"\nread_at = \"locking\"\nblows_per_turn = {per_turn}\n"
        );
        self.works(&mut text);
        text
    }

    fn works(&self, text: &mut String) {
        let places = if blows_at_halves(self) { "0, 180" } else { "0" };
        let _ = write!(
            text,
            "[[track]]\nid = \"lifters\"\non = \"second\"\npins = {}\nfirst_deg = {}\nrise_deg = {}\n[[track]]\nid = \"hand\"\nhours = 1\nplaces_deg = [{places}]\nrise_deg = {}\nhold_deg = {}\n[[lever]]\nid = \"hammer\"\non = \"hammer\"\nfeels = \"lifters\"\nlift_deg = 20\nstrikes = \"the bell\"\n[[lever]]\nid = \"lifting_lever\"\non = \"lifting\"\nfeels = \"hand\"\nlift_deg = {}\n",
            self.pins,
            deg(self.pin_first),
            deg(self.pin_rise),
            deg(self.hand_rise),
            deg(self.hand_hold),
            deg(self.hand_lift)
        );
        let _ = write!(
            text,
            "[[pin]]\nid = \"stop\"\non = \"warning\"\nat_deg = {}\n[[lever]]\nid = \"warning_arm\"\non = \"lifting\"\nstops = \"stop\"\nabove_deg = {}\nfurther_deg = {}\n",
            deg(self.stop_at),
            deg(self.above),
            deg(self.further)
        );
        let lifted = match &self.counted {
            Counted::Wheel(wheel) => {
                let middles: Vec<String> = (0..wheel.notches)
                    .map(|n| deg(wheel.notch_middle + n * 180_000))
                    .collect();
                let _ = write!(
                    text,
                    "[[track]]\nid = \"slots\"\non = \"count\"\ncounts = {:?}\nslot_deg = {}\nramp_deg = {}\n[[track]]\nid = \"cam\"\non = \"locking\"\nnotches_deg = [{}]\nslot_deg = {}\nramp_deg = {}\n[[lever]]\nid = \"count_lever\"\non = \"levers\"\nfeels = \"slots\"\ntip_deg = {}\nlift_deg = {}\n[[lever]]\nid = \"drop_lever\"\non = \"levers\"\nfeels = \"cam\"\ntip_deg = {}\nlift_deg = {}\nlocks = {}\n",
                    self.counts(),
                    deg(wheel.slot),
                    deg(wheel.slot_ramp),
                    middles.join(", "),
                    deg(wheel.notch),
                    deg(wheel.notch_ramp),
                    deg(wheel.tip),
                    deg(wheel.lift),
                    deg(wheel.notch_tip),
                    deg(wheel.notch_lift),
                    wheel.by_wall
                );
                if !wheel.by_wall {
                    let _ = write!(
                        text,
                        "[[lever]]\nid = \"locking_arm\"\non = \"levers\"\nstops = \"stop\"\nbelow_deg = {}\n",
                        deg(wheel.below)
                    );
                }
                "levers"
            }
            Counted::Rack(rack) => {
                let falls: Vec<String> = rack.falls.iter().map(|&fall| deg(fall)).collect();
                let _ = write!(
                    text,
                    "[[track]]\nid = \"snail\"\nhours = 12\nsteps = [{}]\nfrom_deg = {}\n[[pin]]\nid = \"pallet\"\non = \"locking\"\nat_deg = {}\n[rack]\nsnail = \"snail\"\ntail_deg = {}\nteeth = {}\ntooth_deg = 2\npallet = \"pallet\"\nhook = \"hook\"\nfree_deg = {}\n[[lever]]\nid = \"rack_pin\"\non = \"rack\"\nstops = \"stop\"\nbelow_deg = 1\n[[lever]]\nid = \"count_lever\"\non = \"hook\"\nfeels = \"rack\"\nlift_deg = {}\n",
                    falls.join(", "),
                    deg(rack.from),
                    deg(rack.pallet),
                    deg(rack.tail),
                    rack.teeth,
                    deg(rack.free),
                    deg(rack.hook_lift)
                );
                "hook"
            }
        };
        let _ = write!(
            text,
            "[[lever]]\nid = \"wire\"\non = \"lifting\"\nlifts = \"{lifted}\"\nfrom_deg = {}\n",
            deg(self.wire_from)
        );
    }
}

/// Whether the hand lets go at the halves too.
pub(crate) fn blows_at_halves(plan: &Plan) -> bool {
    matches!(&plan.counted, Counted::Wheel(wheel) if wheel.halves)
}

/// Thousandths as a plain decimal.
fn deg(mil: Mil) -> String {
    let sign = if mil < 0 { "-" } else { "" };
    format!("{sign}{}.{:03}", mil.abs() / 1000, mil.abs() % 1000)
}
