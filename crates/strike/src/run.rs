//! The run itself: instants in order, what is due at each, and what stops.

use crate::bounds::MOST_WORK;
use crate::cursor::{CarriedRound, Cursor};
use crate::machine::{Class, Feeler, HAND, Machine, Mark, Path, Tick};
use crate::{End, Jam};
use num_integer::Integer;
use std::cell::Cell;

/// What tells a run's listener what happens, as it happens.
pub(crate) trait Listener {
    fn heard(&mut self, run: &Run<'_>, what: Heard);
}

/// What happens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Heard {
    /// A train that stood runs.
    Runs(usize),
    /// A train stands: by an arm.
    Stops {
        driver: usize,
        arm: usize,
    },
    /// A train stands by a wall that is meant to lock.
    Locks {
        driver: usize,
        feeler: usize,
    },
    /// Before anything is let go at an instant of a driver, and after all of that.
    Instant(usize),
    Passed,
    /// A hammer was let go: a blow, or a further voice of the last one.
    Blow {
        feeler: usize,
        voice: bool,
    },
    /// A tip was let go, and its arbor has fallen as far as it goes.
    Falls {
        feeler: usize,
    },
    /// A tip begins to be lifted.
    Rises {
        feeler: usize,
    },
    /// The rack fell.
    RackFalls {
        from: Tick,
    },
    /// The pallet gathered.
    Gathers,
}

/// A run under way.
pub(crate) struct Run<'m> {
    pub(crate) machine: &'m Machine,
    /// Where each driver stands.
    pub(crate) at: Vec<Tick>,
    /// Which trains are running.
    moving: Vec<bool>,
    /// Where each train began to run, and its blows since.
    began: Vec<Tick>,
    blows: Vec<u32>,
    /// For each hammer that tells blows, where the last of them began, and the hammers heard since.
    sounded: Vec<(Tick, Vec<usize>)>,
    feelers: Vec<Cursor>,
    arms: Vec<Cursor>,
    pallet: Cursor,
    /// For each train the way after which it is called a runaway.
    rounds: Vec<Tick>,
    /// For each driver what it carries round.
    carried: Vec<CarriedRound>,
    /// How high each tip stands.
    tips: Vec<Class>,
    /// How high each lever arbor stands.
    pub(crate) arbors: Vec<Class>,
    /// What is left to gather, in parts of a tooth.
    pub(crate) left: Tick,
    /// Where the rack's tail would come to on the snail.
    snail: Tick,
    /// For each hammer the way from blow to blow of those that make one blow with it, where it is shortest.
    pitches: Vec<Tick>,
    /// Work that is left of [`MOST_WORK`].
    work: Cell<u64>,
    /// What an instant takes.
    instant: usize,
    /// Tips that were let go at the instant that is under way, and lever arbors that stand otherwise by it; empty between two.
    fell: Vec<usize>,
    altered: Vec<bool>,
}

/// What stops a driver at an instant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stop {
    Arm(usize),
    Lock(usize),
    Jam(Jam),
}

/// A train runs at most so many turns of the slowest thing in it before it is called a runaway, where its whole round
/// is longer than that.
const MOST_TURNS: Tick = 400;

impl<'m> Run<'m> {
    /// Everything at the drop of the last hour, as it is put together; nothing has moved yet.
    pub(crate) fn new(machine: &'m Machine) -> Run<'m> {
        // What comes at the very start is still to come; before it lies the last mark of the turn before.
        let tips = machine
            .feelers
            .iter()
            .map(|feeler| feeler.marks.last().map_or(feeler.flat, |mark| mark.after))
            .collect();
        let snail = machine.rack.as_ref().map_or(0, |rack| {
            rack.falls.last().map_or(rack.flat, |fall| fall[1])
        });
        let mut run = Run {
            machine,
            at: vec![0; machine.drivers.len()],
            moving: vec![false; machine.drivers.len()],
            began: vec![0; machine.drivers.len()],
            blows: vec![0; machine.drivers.len()],
            sounded: vec![(0, Vec::new()); machine.feelers.len()],
            feelers: (machine.feelers.iter())
                .map(|feeler| Cursor::first(feeler.marks.first().map(|mark| mark.tick)))
                .collect(),
            arms: (machine.arms.iter())
                .map(|arm| Cursor::first(arm.places.first().copied()))
                .collect(),
            pallet: Cursor::first(
                (machine.rack.as_ref()).and_then(|rack| rack.places.first().copied()),
            ),
            rounds: (0..machine.drivers.len())
                .map(|driver| machine.round(driver))
                .collect(),
            carried: (0..machine.drivers.len())
                .map(|driver| machine.carried_round(driver))
                .collect(),
            tips,
            arbors: vec![0; machine.arbors.len()],
            left: 0,
            snail,
            pitches: pitches(machine),
            work: Cell::new(MOST_WORK),
            instant: 1 + machine.feelers.len() + machine.arms.len() + machine.arbors.len(),
            fell: Vec::new(),
            altered: vec![false; machine.arbors.len()],
        };
        // The hand has just let go what it lets go at the hour.
        for f in 0..machine.feelers.len() {
            let feeler = &machine.feelers[f];
            if feeler.driver == HAND && run.feeler_due(f) {
                run.let_pass(f);
            }
        }
        for &arbor in &machine.order {
            run.arbors[arbor] = run.height(arbor, None);
        }
        run
    }

    /// Some of the work that the run may take is done.
    pub(crate) fn spend(&self, work: usize) {
        let work = u64::try_from(work).unwrap_or(u64::MAX);
        self.work.set(self.work.get().saturating_sub(work));
    }

    /// Work that it took so far.
    pub(crate) fn worked(&self) -> u64 {
        MOST_WORK - self.work.get()
    }

    /// A feeler's due mark passes under its tip.
    fn let_pass(&mut self, f: usize) -> &'m Mark {
        let feeler = &self.machine.feelers[f];
        let i = self.feelers[f].next;
        let mark = &feeler.marks[i];
        self.tips[f] = mark.after;
        if feeler.lever.is_none() {
            self.snail = self
                .machine
                .rack
                .as_ref()
                .map_or(0, |rack| rack.falls[i][1]);
        }
        let place = |i: usize| feeler.marks[i].tick;
        self.feelers[f].advance(feeler.marks.len(), feeler.period, place);
        mark
    }

    /// Runs the trains until all stand: while several run, each goes on by one instant in turn.
    pub(crate) fn settle(&mut self, listener: &mut impl Listener) -> Result<(), End> {
        loop {
            let mut moved = false;
            for driver in 1..self.at.len() {
                moved |= self.step_train(driver, listener)?;
            }
            if !moved {
                return Ok(());
            }
        }
    }

    /// Moves the hand to its next instant, and then the trains until all stand; false where nothing is due before `until`.
    pub(crate) fn step_hand(
        &mut self,
        until: Tick,
        listener: &mut impl Listener,
    ) -> Result<bool, End> {
        let Some(next) = self.next(HAND).filter(|next| *next <= until) else {
            self.at[HAND] = until;
            return Ok(false);
        };
        self.at[HAND] = next;
        match self.stopped(HAND) {
            None => {}
            Some(Stop::Jam(jam)) => return Err(End::Jam(jam)),
            Some(Stop::Arm(arm)) => {
                let pin = self.machine.arms[arm].pin;
                return Err(End::Jam(Jam::HandHeld { pin }));
            }
            Some(Stop::Lock(feeler)) => {
                let felt = &self.machine.feelers[feeler];
                return Err(End::Jam(wall(felt)));
            }
        }
        self.pass(HAND, listener)?;
        self.settle(listener)?;
        Ok(true)
    }

    /// Lets one train go on to its next instant, if nothing stops it; whether it did.
    fn step_train(&mut self, driver: usize, listener: &mut impl Listener) -> Result<bool, End> {
        if self.next(driver).is_none() {
            // Nothing of this train is felt or stopped: it has no part in the strike.
            return Ok(false);
        }
        if !self.moving[driver] {
            match self.stopped(driver) {
                Some(Stop::Jam(jam)) => return Err(End::Jam(jam)),
                Some(_) => return Ok(false),
                None => {}
            }
            self.moving[driver] = true;
            self.began[driver] = self.at[driver];
            self.blows[driver] = 0;
            listener.heard(self, Heard::Runs(driver));
        }
        self.blows[driver] += self.pass(driver, listener)?;
        let next = self.next(driver).unwrap_or(Tick::MAX);
        if next.saturating_sub(self.began[driver]) > self.rounds[driver] {
            let train = self.machine.drivers[driver].train.unwrap_or(0);
            let blows = self.blows[driver];
            return Err(End::Runaway { train, blows });
        }
        self.at[driver] = next;
        let heard = match self.stopped(driver) {
            None => return Ok(true),
            Some(Stop::Jam(jam)) => return Err(End::Jam(jam)),
            Some(Stop::Arm(arm)) => Heard::Stops { driver, arm },
            Some(Stop::Lock(feeler)) => Heard::Locks { driver, feeler },
        };
        self.moving[driver] = false;
        listener.heard(self, heard);
        Ok(true)
    }

    /// The next instant of a driver.
    fn next(&self, driver: usize) -> Option<Tick> {
        let carried = &self.carried[driver];
        let feelers = carried.feelers.iter().map(|&f| self.feelers[f].due);
        let arms = carried.arms.iter().map(|&a| self.arms[a].due);
        let mut next = feelers.chain(arms).min().unwrap_or(Tick::MAX);
        if carried.pallet {
            next = next.min(self.pallet.due);
        }
        (next < Tick::MAX).then_some(next)
    }

    fn feeler_due(&self, feeler: usize) -> bool {
        self.feelers[feeler].due == self.at[self.machine.feelers[feeler].driver]
    }

    fn arm_due(&self, arm: usize) -> bool {
        self.arms[arm].due == self.at[self.machine.arms[arm].driver]
    }

    /// How high a lever arbor stands; where a driver is given, at its instant, with all that rises there risen and nothing fallen
    /// yet, walls apart.
    fn height(&self, arbor: usize, instant: Option<usize>) -> Class {
        let machine = self.machine;
        let levers = &machine.arbors[arbor];
        let mut height = levers.rest;
        for &f in &levers.feelers {
            height = height.max(self.tips[f]);
            let feeler = &machine.feelers[f];
            if instant == Some(feeler.driver) && self.feeler_due(f) {
                let mark = &feeler.marks[self.feelers[f].next];
                if !mark.wall {
                    height = height.max(mark.at);
                }
            }
        }
        for &h in &levers.hooks {
            let on_teeth = usize::from(self.left > 0);
            height = height.max(machine.hooks[h].class[on_teeth]);
        }
        for (by, _, classes) in &levers.lifted {
            // Between instants those that lift it stand as they were found.
            let lifting = match instant {
                Some(_) => self.height(*by, instant),
                None => self.arbors[*by],
            };
            height = height.max(classes[lifting]);
        }
        height
    }

    /// Lets every lever arbor come to stand as it does now, of which a tip or a hook moved, and those that these lift.
    fn stand(&mut self) {
        let machine = self.machine;
        for &arbor in &machine.order {
            let mut lifted = machine.arbors[arbor].lifted.iter();
            let moved = self.altered[arbor] || lifted.any(|(by, ..)| self.altered[*by]);
            if moved {
                self.arbors[arbor] = self.height(arbor, None);
            }
            self.altered[arbor] = moved;
        }
        self.altered.fill(false);
    }

    /// Marks every arbor of which a hook lies on the rack.
    fn rack_moved(&mut self) {
        for (altered, arbor) in self.altered.iter_mut().zip(&self.machine.arbors) {
            *altered |= !arbor.hooks.is_empty();
        }
    }

    /// Whether anything stops a driver at its instant.
    fn stopped(&self, driver: usize) -> Option<Stop> {
        let machine = self.machine;
        let carried = &self.carried[driver];
        let walled = |f: &usize| {
            self.feeler_due(*f) && machine.feelers[*f].marks[self.feelers[*f].next].wall
        };
        let walls = carried.feelers.iter().copied().filter(walled);
        let met = carried.arms.iter().copied().filter(|a| self.arm_due(*a));
        for a in met {
            let arm = &machine.arms[a];
            let in_path = match arm.path {
                Path::Below(class) => self.height(arm.arbor, Some(driver)) < class,
                Path::Above(class) => self.height(arm.arbor, Some(driver)) >= class,
                Path::RackBelow(left) => self.left < left,
                Path::RackAbove(left) => self.left >= left,
            };
            if in_path {
                return Some(Stop::Arm(a));
            }
        }
        for f in walls {
            let feeler = &machine.feelers[f];
            let mark = &feeler.marks[self.feelers[f].next];
            if feeler.lever.is_none() {
                // The snail: a higher step against a rack that has fallen deeper.
                let rack = machine.rack.as_ref()?;
                if self.left > rack.falls[self.feelers[f].next][1] {
                    let track = feeler.track;
                    return Some(Stop::Jam(Jam::Snail { track }));
                }
                continue;
            }
            if self.height(feeler.arbor, Some(driver)) < mark.at {
                if feeler.locks {
                    return Some(Stop::Lock(f));
                }
                return Some(Stop::Jam(wall(feeler)));
            }
        }
        None
    }

    /// Lets an instant of a driver go by: gathering, hammers, falls. How many blows.
    fn pass(&mut self, driver: usize, listener: &mut impl Listener) -> Result<u32, End> {
        let machine = self.machine;
        self.spend(self.instant);
        if self.work.get() == 0 {
            return Err(End::LeftOff);
        }
        listener.heard(self, Heard::Instant(driver));
        let mut blows = 0;
        if let Some(rack) = &machine.rack
            && rack.driver == driver
            && self.pallet.due == self.at[driver]
        {
            let place = |i: usize| rack.places[i];
            self.pallet.advance(rack.places.len(), rack.period, place);
            let hooked = self.height(rack.hook, Some(driver)) < rack.free;
            if hooked && self.left > 0 {
                // The pallet takes the tooth that lies less than so far short of its way, and brings it to its place.
                let teeth = (self.left - rack.enters).max(1);
                let strokes = (teeth + rack.tooth - 1) / rack.tooth;
                self.left = (strokes - 1) * rack.tooth;
                self.rack_moved();
                listener.heard(self, Heard::Gathers);
            }
        }
        for n in 0..self.carried[driver].arms.len() {
            let a = self.carried[driver].arms[n];
            if self.arm_due(a) {
                let arm = &machine.arms[a];
                let place = |i: usize| arm.places[i];
                self.arms[a].advance(arm.places.len(), arm.period, place);
            }
        }
        let mut fell = std::mem::take(&mut self.fell);
        for n in 0..self.carried[driver].feelers.len() {
            let f = self.carried[driver].feelers[n];
            if !self.feeler_due(f) {
                continue;
            }
            let feeler = &machine.feelers[f];
            let before = self.tips[f];
            let mark = self.let_pass(f);
            self.altered[feeler.arbor] |= self.tips[f] != before;
            if mark.falls {
                fell.push(f);
            } else if mark.rises && feeler.lever.is_some() {
                listener.heard(self, Heard::Rises { feeler: f });
            }
        }
        self.stand();
        for f in fell.drain(..) {
            if machine.feelers[f].hammer {
                let voice = self.is_voice(f);
                blows += u32::from(!voice);
                listener.heard(self, Heard::Blow { feeler: f, voice });
            } else if machine.feelers[f].lever.is_some() {
                listener.heard(self, Heard::Falls { feeler: f });
            }
        }
        self.fell = fell;
        self.let_rack_fall(listener)?;
        listener.heard(self, Heard::Passed);
        Ok(blows)
    }

    /// Whether a hammer that is let go is a further voice of the blow that its train gave last, not half a blow's way before.
    fn is_voice(&mut self, f: usize) -> bool {
        let machine = self.machine;
        let feeler = &machine.feelers[f];
        let at = self.at[feeler.driver];
        let pitch = self.pitches[f];
        let (began, heard) = &mut self.sounded[feeler.voice_of];
        let near = (at - *began) * 2 < pitch;
        if near && !heard.is_empty() && !heard.contains(&f) {
            heard.push(f);
            return true;
        }
        (*began, *heard) = (at, vec![f]);
        false
    }

    fn let_rack_fall(&mut self, listener: &mut impl Listener) -> Result<(), End> {
        let Some(rack) = &self.machine.rack else {
            return Ok(());
        };
        if self.arbors[rack.hook] >= rack.free && self.left < self.snail {
            let from = self.left;
            self.left = self.snail;
            self.rack_moved();
            self.stand();
            listener.heard(self, Heard::RackFalls { from });
            if self.left > rack.teeth {
                return Err(End::Jam(Jam::PastRack));
            }
        }
        Ok(())
    }

    /// Ticks until a feeler's next mark, and since its last; the turn where it has none.
    pub(crate) fn around(&self, feeler: usize) -> (Tick, Tick) {
        let (felt, cursor) = (&self.machine.feelers[feeler], self.feelers[feeler]);
        let n = felt.marks.len();
        if n == 0 {
            return (felt.turn, felt.turn);
        }
        let next = cursor.due;
        let (here, came) = (cursor.next, (cursor.next + n - 1) % n);
        let gone = felt.marks[here].tick - felt.marks[came].tick;
        let last = next
            - if here > came {
                gone
            } else {
                gone + felt.period
            };
        (next - self.at[felt.driver], self.at[felt.driver] - last)
    }

    /// Ticks since an arm last met its pin; nought where it meets it.
    pub(crate) fn since_met(&self, arm: usize) -> Tick {
        let (met, cursor) = (&self.machine.arms[arm], self.arms[arm]);
        let n = met.places.len();
        if n == 0 || self.arm_due(arm) {
            return 0;
        }
        let last = met.places[(cursor.next + n - 1) % n];
        let gap = (met.places[cursor.next] - last).mod_floor(&met.period);
        let gap = if gap == 0 { met.period } else { gap };
        gap - (cursor.due - self.at[met.driver])
    }

    /// Ticks until the pallet has gathered the next tooth, were there one; its turn where it never does.
    pub(crate) fn until_gathered(&self) -> Tick {
        let Some(rack) = &self.machine.rack else {
            return 0;
        };
        match self.pallet.due {
            Tick::MAX => rack.period,
            due => due - self.at[rack.driver],
        }
    }

    /// The marks before and after where a feeler stands, by index.
    pub(crate) fn between(&self, feeler: usize) -> Option<(usize, usize)> {
        let (felt, cursor) = (&self.machine.feelers[feeler], self.feelers[feeler]);
        let n = felt.marks.len();
        (n > 0).then(|| ((cursor.next + n - 1) % n, cursor.next))
    }
}

impl Machine {
    /// The way after which a train that was not stopped never will be: a whole round of all that it feels and meets, and
    /// of gathering besides.
    fn round(&self, driver: usize) -> Tick {
        let feelers = self.feelers.iter().filter(|f| f.driver == driver);
        let arms = self.arms.iter().filter(|a| a.driver == driver);
        let rack = self.rack.as_ref().filter(|rack| rack.driver == driver);
        let gathering = rack.map_or(0, |rack| rack.period * (rack.teeth / rack.tooth + 2));
        let periods = feelers.map(|f| f.period).chain(arms.map(|a| a.period));
        let (mut round, mut longest): (Tick, Tick) = (1, 1);
        for period in periods {
            longest = longest.max(period);
            round = checked_lcm(round, period).unwrap_or(Tick::MAX);
        }
        round
            .min(longest.saturating_mul(MOST_TURNS))
            .saturating_add(gathering)
    }
}

/// For each hammer the way from one letting go to the next, where it is shortest, of those that make one blow with it.
pub(crate) fn pitches(machine: &Machine) -> Vec<Tick> {
    let own: Vec<Tick> = machine.feelers.iter().map(Feeler::pitch).collect();
    let of = |feeler: &Feeler| {
        let all = machine.feelers.iter().zip(&own);
        let together = all.filter(|(other, _)| other.hammer && other.voice_of == feeler.voice_of);
        (together.map(|(_, pitch)| *pitch).min()).unwrap_or(feeler.turn)
    };
    machine.feelers.iter().map(of).collect()
}

/// What does not get past what at a feeler's wall.
fn wall(feeler: &Feeler) -> Jam {
    match feeler.lever {
        Some(lever) => Jam::Wall {
            lever,
            track: feeler.track,
            hand: feeler.driver == HAND,
        },
        None => Jam::Snail {
            track: feeler.track,
        },
    }
}

fn checked_lcm(a: Tick, b: Tick) -> Option<Tick> {
    let mut x = (a, b);
    while x.1 != 0 {
        x = (x.1, x.0 % x.1);
    }
    (a / x.0).checked_mul(b)
}
