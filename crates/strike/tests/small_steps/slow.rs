//! The same machines by small steps of time, in floating point: the train creeps, tips are looked at where they lie, and
//! whatever passed a place since the last step has passed it. Nothing of this is shared with the exact run.

use crate::plan::{Counted, Plan, Rack, Wheel, blows_at_halves};

/// How it ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Outcome {
    Through,
    Jam(&'static str),
    Runaway,
}

/// What was struck.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Slow {
    pub(crate) before: u32,
    pub(crate) struck: Vec<u32>,
    pub(crate) outcome: Outcome,
}

/// A machine under way. Angles in degrees, the train told by its locking arbor.
struct Creeping<'a> {
    plan: &'a Plan,
    step: f64,
    hand: f64,
    train: f64,
    /// Teeth left to gather.
    left: f64,
    /// Whether the train stands with its pin at an arm.
    at_pin: bool,
    slots: Vec<(f64, f64)>,
    /// For each place of the count wheel the slot it lies in, and where the next place begins.
    owners: Vec<Option<usize>>,
    borders: Vec<f64>,
    notches: Vec<(f64, f64)>,
    before: u32,
    struck: Vec<u32>,
}

/// A plan's number in degrees.
fn deg(mil: i64) -> f64 {
    let thousandths = i32::try_from(mil).expect("small");
    f64::from(thousandths) / 1000.0
}

fn num(n: i64) -> f64 {
    f64::from(i32::try_from(n).expect("small"))
}

/// How far past a place something that turns stands, from 0 to less than 360.
fn past(angle: f64, place: f64) -> f64 {
    (angle - place).rem_euclid(360.0)
}

/// Whether a place came by while something turned from one angle to another.
fn came_by(from: f64, to: f64, place: f64) -> bool {
    ((from - place) / 360.0).floor() < ((to - place) / 360.0).floor()
}

/// The part of its lift that slots leave a tip, whose middle stands at `angle`: 1 on the rim.
fn in_slots<'s>(
    slots: impl Iterator<Item = &'s (f64, f64)>,
    ramp: f64,
    angle: f64,
    tip: f64,
) -> f64 {
    let mut lowest: f64 = 1.0;
    for (from, to) in slots {
        // The tip's short end past the edge it falls from; how far its other end then is.
        let back = past(angle - tip / 2.0, *from);
        let front = back + tip;
        let width = to - from;
        if front <= width {
            lowest = 0.0;
        } else if front < width + ramp {
            lowest = lowest.min((front - width) / ramp);
        }
    }
    lowest
}

/// The slots of a count wheel, and for each of its places the slot it lies in.
fn count_slots(plan: &Plan, wheel: &Wheel) -> (Vec<(f64, f64)>, Vec<Option<usize>>) {
    let counts = plan.counts();
    let pitch = 360.0 / num(counts.iter().sum());
    let half = deg(wheel.slot) / 2.0;
    // Place 0 is the end of twelve, and the ones that come right after it run on in its slot.
    let ones = counts.iter().take_while(|&&count| count == 1).count();
    let mut place = num(i64::try_from(ones).expect("few")) * pitch;
    let mut slots = vec![(-half, place + half)];
    let mut owners: Vec<Option<usize>> = vec![Some(0); ones + 1];
    for &count in &counts[ones..counts.len() - 1] {
        place += num(count) * pitch;
        owners.extend((1..count).map(|_| None));
        owners.push(Some(slots.len()));
        slots.push((place - half, place + half));
    }
    owners.extend((1..counts[counts.len() - 1]).map(|_| None));
    (slots, owners)
}

impl Creeping<'_> {
    /// The height of the arbor that the hand lifts.
    fn lifted(&self, hand: f64) -> f64 {
        let plan = self.plan;
        let (rise, hold) = (deg(plan.hand_rise), deg(plan.hand_hold));
        let mut height: f64 = 0.0;
        let places: &[f64] = if blows_at_halves(plan) {
            &[0.0, 180.0]
        } else {
            &[0.0]
        };
        for place in places {
            let to_go = past(*place, hand);
            if to_go <= hold && to_go > 0.0 {
                height = 1.0;
            } else if to_go < hold + rise && to_go > 0.0 {
                height = height.max((hold + rise - to_go) / rise);
            }
        }
        height * deg(plan.hand_lift)
    }

    fn wire(&self, hand: f64) -> f64 {
        self.lifted(hand) - deg(self.plan.wire_from) + deg(self.plan.bends[2])
    }

    /// The heights of count lever and drop lever, and what else lifts their arbor, at a place of the train.
    fn levers(&self, wheel: &Wheel, train: f64) -> [f64; 3] {
        let plan = self.plan;
        let all = num(plan.counts().iter().sum());
        let shifted = num(wheel.shift) * 360.0 / all;
        let count = train * num(wheel.notches) / all + shifted;
        // Only slots about the place under the tip can be felt.
        let near = self.near(count * all / 360.0);
        let lie = in_slots(near, deg(wheel.slot_ramp), count, deg(wheel.tip));
        let cam = train + deg(plan.cam_slip);
        let notch = in_slots(
            self.notches.iter(),
            deg(wheel.notch_ramp),
            cam,
            deg(wheel.notch_tip),
        );
        [
            lie * deg(wheel.lift) - deg(plan.bends[0]),
            notch * deg(wheel.notch_lift) - deg(plan.bends[1]),
            self.wire(self.hand).max(0.0),
        ]
    }

    fn blow(&mut self) {
        let step = if blows_at_halves(self.plan) {
            180.0
        } else {
            360.0
        };
        let nearest = (self.hand / step + 0.5).floor();
        let index = (0..self.struck.len()).find(|&i| {
            let n = u32::try_from(i + 1).expect("few");
            (f64::from(n) - nearest).abs() < 0.25
        });
        match index {
            Some(index) => self.struck[index] += 1,
            None => self.before += 1,
        }
    }

    /// The hammer pins that came by in a step.
    fn hammer(&mut self, from: f64, to: f64) {
        let plan = self.plan;
        let second = num(plan.blows_per_turn()) / num(plan.pins);
        for pin in 0..plan.pins {
            let place = deg(plan.pin_first) + num(pin) * 360.0 / num(plan.pins);
            if plan.missing != Some(pin) && came_by(from * second, to * second, place) {
                self.blow();
            }
        }
    }

    /// Where the stop pin stands at a place, for a train that went from one angle to another: the first place it came to.
    fn stop_reached(&self, from: f64, to: f64, place: f64) -> Option<f64> {
        let warning = num(self.plan.warning);
        let turns = ((to * warning - place) / 360.0).floor();
        came_by(from * warning, to * warning, place).then_some((turns * 360.0 + place) / warning)
    }

    /// Lets the train run until it stands.
    fn run(&mut self) -> Result<(), Outcome> {
        if self.at_pin {
            // What it stood at is behind it.
            self.train += 1e-6;
            self.at_pin = false;
        }
        let began = self.train;
        let all: i64 = self.plan.counts().iter().sum();
        let turns = num(all) / num(self.plan.blows_per_turn());
        let most = 360.0 * (turns * 2.0 + 3.0);
        loop {
            let stood = match &self.plan.counted {
                Counted::Wheel(wheel) => self.step_wheel(wheel)?,
                Counted::Rack(rack) => self.step_rack(rack),
            };
            if stood {
                if std::env::var("N").is_ok() && self.train > began + 0.5 {
                    println!(
                        "slow hand {:.3} train {:.3} from {began:.3}",
                        self.hand / 360.0,
                        self.train
                    );
                }
                return Ok(());
            }
            if self.train - began > most {
                return Err(Outcome::Runaway);
            }
        }
    }

    /// The slots of the places about one.
    fn near(&self, place: f64) -> impl Iterator<Item = &(f64, f64)> {
        let places = self.owners.len();
        let round = num(i64::try_from(places).expect("few"));
        let place = place.rem_euclid(round);
        let here = self.borders.partition_point(|border| *border <= place);
        let about = (here + places - 1)..=(here + places + 1);
        about.filter_map(move |place| Some(&self.slots[self.owners[place % places]?]))
    }

    fn step_wheel(&mut self, wheel: &Wheel) -> Result<bool, Outcome> {
        let plan = self.plan;
        let (from, to) = (self.train, self.train + self.step);
        let (old, new) = (self.levers(wheel, from), self.levers(wheel, to));
        let top = |heights: [f64; 3]| heights.into_iter().fold(0.0, f64::max);
        let lift = deg(wheel.lift).min(deg(wheel.notch_lift));
        // A wall: a tip would have to rise at once, and nothing else holds its arbor so high.
        for (lever, ramp) in [(0, wheel.slot_ramp), (1, wheel.notch_ramp)] {
            let jumps = ramp == 0 && new[lever] - old[lever] > 0.5 * lift;
            let mut others = new;
            others[lever] = 0.0;
            if jumps && top(others) < new[lever] - 1e-9 {
                if lever == 1 && wheel.by_wall {
                    return Ok(true);
                }
                return Err(Outcome::Jam(["count_lever", "drop_lever"][lever]));
            }
        }
        let height = top(old).max(top(new));
        let mut met: Option<f64> = None;
        let mut meet = |in_path: bool, place: f64| {
            let reached = self.stop_reached(from, to, place);
            if in_path && let Some(reached) = reached {
                met = Some(met.map_or(reached, |met: f64| met.min(reached)));
            }
        };
        meet(
            !wheel.by_wall && height < deg(wheel.below),
            deg(plan.stop_at),
        );
        let warned = self.lifted(self.hand) >= deg(plan.above);
        meet(warned, deg(plan.stop_at) + deg(plan.further));
        Ok(self.go_or_stand(met, to))
    }

    fn step_rack(&mut self, rack: &Rack) -> bool {
        let plan = self.plan;
        let (from, to) = (self.train, self.train + self.step);
        let mut met: Option<f64> = None;
        let mut meet = |in_path: bool, place: f64| {
            let reached = self.stop_reached(from, to, place);
            if in_path && let Some(reached) = reached {
                met = Some(met.map_or(reached, |met: f64| met.min(reached)));
            }
        };
        meet(self.left < 0.5, deg(plan.stop_at));
        let warned = self.lifted(self.hand) >= deg(plan.above);
        meet(warned, deg(plan.stop_at) + deg(plan.further));
        let stood = self.go_or_stand(met, to);
        if !stood && came_by(from, self.train, deg(rack.pallet)) && self.left > 0.0 {
            let on_teeth = deg(rack.hook_lift) - deg(plan.bends[0]);
            let hook = on_teeth.max(self.wire(self.hand)).max(0.0);
            if hook < deg(rack.free) {
                // The pallet sweeps one tooth's way and brings what it takes to its place.
                let strokes = (self.left - 0.5).ceil().max(1.0);
                self.left = strokes - 1.0;
            }
        }
        stood
    }

    /// Moves on, or stands where a pin is met.
    fn go_or_stand(&mut self, met: Option<f64>, to: f64) -> bool {
        let from = self.train;
        self.train = met.unwrap_or(to);
        self.hammer(from, self.train);
        if met.is_some() {
            self.at_pin = true;
        }
        met.is_some()
    }

    /// Whether an arm still holds the pin where the train stands; a train that a wall holds is looked at by its next step.
    fn held(&self) -> bool {
        let plan = self.plan;
        let warning = self.train * num(plan.warning);
        let at = |place: f64| {
            let off = past(warning, place);
            off.min(360.0 - off) < 1e-6
        };
        let locked = match &plan.counted {
            Counted::Wheel(wheel) if wheel.by_wall => false,
            Counted::Wheel(wheel) => {
                let heights = self.levers(wheel, self.train);
                heights.into_iter().fold(0.0, f64::max) < deg(wheel.below)
            }
            Counted::Rack(_) => self.left < 0.5,
        };
        let warned = self.lifted(self.hand) >= deg(plan.above);
        (locked && at(deg(plan.stop_at))) || (warned && at(deg(plan.stop_at) + deg(plan.further)))
    }

    /// Lets the hand go on by a step, the rack fall, and the train run where nothing holds it.
    fn tick(&mut self) -> Result<(), Outcome> {
        self.hand += self.step / 8.0;
        if let Counted::Rack(rack) = &self.plan.counted {
            let snail = self.hand / 12.0;
            // Under the tail lies the least fall of all that the tip touches.
            let step = |angle: f64| {
                let n = ((angle - deg(rack.from)).rem_euclid(360.0) / 30.0).floor();
                let index = (0..12_usize).find(|&i| {
                    let i = f64::from(u32::try_from(i).expect("few"));
                    (i - n).abs() < 0.25
                });
                deg(rack.falls[index.unwrap_or(0)])
            };
            let half = deg(rack.tail) / 2.0;
            let fall = step(snail - half).min(step(snail + half)).min(step(snail));
            if self.left > fall + 1e-9 {
                return Err(Outcome::Jam("snail"));
            }
            let teeth = if self.left > 0.0 {
                deg(rack.hook_lift)
            } else {
                0.0
            };
            let hook = (teeth - deg(self.plan.bends[0]))
                .max(self.wire(self.hand))
                .max(0.0);
            if hook >= deg(rack.free) {
                self.left = self.left.max(fall);
                if self.left > num(rack.teeth) {
                    return Err(Outcome::Jam("rack"));
                }
            }
        }
        if self.held() {
            return Ok(());
        }
        self.run()
    }
}

/// Runs a plan through twelve hours by steps of so many degrees of the locking arbor.
pub(crate) fn slow(plan: &Plan, step: f64) -> Slow {
    let hours = if blows_at_halves(plan) { 24 } else { 12 };
    let (mut slots, mut owners, mut notches) = Default::default();
    if let Counted::Wheel(wheel) = &plan.counted {
        (slots, owners) = count_slots(plan, wheel);
        let half = deg(wheel.notch) / 2.0;
        let middle = |n| deg(wheel.notch_middle) + num(n) * 180.0;
        let notch = |middle| (middle - half, middle + half);
        notches = (0..wheel.notches).map(middle).map(notch).collect();
    }
    let places = i64::try_from(owners.len()).expect("few");
    let mut creeping = Creeping {
        plan,
        step,
        slots,
        owners,
        borders: (0..places).map(|n| num(n) + 0.5).collect(),
        notches,
        hand: 0.0,
        train: 0.0,
        left: 0.0,
        at_pin: false,
        before: 0,
        struck: vec![0; hours],
    };
    let outcome = whole_round(&mut creeping);
    Slow {
        before: creeping.before,
        struck: creeping.struck,
        outcome: outcome.err().unwrap_or(Outcome::Through),
    }
}

fn whole_round(creeping: &mut Creeping<'_>) -> Result<(), Outcome> {
    creeping.run()?;
    // Twelve turns of the hand, and just past the last hour's letting go.
    while creeping.hand < 12.0 * 360.0 + 0.01 {
        creeping.tick()?;
    }
    Ok(())
}
