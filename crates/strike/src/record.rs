//! The account that is kept while the strike runs: blows to their hours, and at each lock how near all was.

use crate::bounds::{EXACT, MOST_EVENTS, MOST_PLACES_SHOWN, MOST_TOO_LOW};
use crate::hour::{Arm, AtRest, Gap, HookDown, Hour, Lock, Pallet, RackFall, Warned};
use crate::hours::Struck;
use crate::machine::{Feeler, HAND, Machine, Path, RackRun, Tick};
use crate::run::{Heard, Listener, Run};
use crate::watch::{Event, MovementPose, Poser, StrikeEvent, height, heights, in_teeth, part};
use crate::{End, LeastLead};
use movement::{ArborId, Carrier, LeverId, MeshSide, Movement};
use num_traits::{One, Zero};
use quantity::{Degrees, Exact};
use std::sync::Arc;

/// The last drop of a lever arbor.
#[derive(Debug, Clone)]
struct Drop {
    /// Where its train stood.
    at: Tick,
    /// The height it dropped from.
    from: Exact,
    /// For each of its tips, ticks since the last edge.
    since: Vec<(usize, Tick)>,
}

/// What locks a train.
#[derive(Debug, Clone, Copy)]
struct Locking {
    by: LeverId,
    /// Its arbor, as the machine has it.
    arbor: usize,
    /// The arm that a pin came to; nothing where a tip does it.
    arm: Option<usize>,
}

/// What is kept of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Account {
    /// What the seven points ask for.
    Points,
    /// How near each edge was, too.
    Hours,
    /// And where all stood.
    Motion,
}

/// Listens to a run and keeps the account.
pub(crate) struct Record<'m> {
    movement: &'m Movement,
    machine: &'m Machine,
    poser: Poser,
    pub(crate) struck: Struck,
    /// The driver of the strike's own train.
    own: Option<usize>,
    account: Account,
    watched: bool,
    /// Where each train began to run.
    began: Vec<Tick>,
    /// How each train was warned since it last locked.
    warned: Vec<Option<Warned>>,
    /// Where each train stood as the last tooth was gathered.
    home: Option<Tick>,
    drops: Vec<Option<Drop>>,
    /// For each tip, how near it came to a slot since it last locked: ticks since the last edge and until the next.
    rims: Vec<Option<(Tick, Tick)>>,
    /// Heights before the instant that is under way.
    before: Vec<Exact>,
}

impl<'m> Record<'m> {
    /// An account of these hours, with nothing in it yet: the strike's own driver, and what is kept.
    pub(crate) fn new(
        movement: &'m Movement,
        machine: &'m Machine,
        own: Option<usize>,
        account: Account,
        owed: Vec<Hour>,
    ) -> Record<'m> {
        Record {
            movement,
            machine,
            poser: Poser::new(machine),
            struck: Struck {
                expected: owed.iter().map(|hour| hour.expected).sum(),
                hours: owed,
                before: 0,
                came_to_rest: false,
                end: End::AnotherPlace,
                events: Vec::new(),
                motion: Vec::new(),
                cut_short: false,
                work: 0,
            },
            own,
            account,
            watched: account == Account::Motion,
            began: vec![0; machine.drivers.len()],
            warned: vec![None; machine.drivers.len()],
            home: None,
            drops: vec![None; machine.arbors.len()],
            rims: vec![None; machine.feelers.len()],
            before: Vec::new(),
        }
    }
}

impl Record<'_> {
    /// Of hours, halves and quarters the one that the hand is nearest to, of two the later: its number from 1, or 0.
    pub(crate) fn index(&self, run: &Run<'_>) -> Option<usize> {
        let step = self.struck.hours.first()?.minutes;
        let ticks = self.machine.drivers[HAND].ticks;
        // A quarter of an hour is at least eight ticks, so half a step is whole.
        let step = ticks * Tick::from(step) / 60;
        let n = (run.at[HAND] * 2 + step) / (step * 2);
        usize::try_from(n).ok()
    }

    /// That hour; nothing before the first.
    fn hour(&mut self, run: &Run<'_>) -> Option<&mut Hour> {
        let n = self.index(run)?;
        self.struck.hours.get_mut(n.checked_sub(1)?)
    }

    pub(crate) fn event(&mut self, run: &Run<'_>, seen: StrikeEvent) {
        if self.has_room() {
            let pose = self.pose(run);
            let step = self.stand(pose);
            let pose = Arc::clone(&self.struck.motion[step]);
            self.struck.events.push(Event { seen, pose, step });
        }
    }

    /// Whether what is seen is kept still: it is watched, and not more is kept than may be.
    fn has_room(&mut self) -> bool {
        let struck = &mut self.struck;
        let places = 1 + self.machine.carried.len() + self.machine.arbors.len();
        let kept = struck.motion.len() * places;
        if self.watched && (struck.events.len() >= MOST_EVENTS || kept >= MOST_PLACES_SHOWN) {
            self.watched = false;
            struck.cut_short = true;
        }
        self.watched
    }

    /// Where all stands.
    fn pose(&self, run: &Run<'_>) -> MovementPose {
        run.spend(EXACT * (self.machine.carried.len() + self.machine.feelers.len()));
        self.poser.pose(run)
    }

    /// The height of every lever arbor.
    fn heights(&self, run: &Run<'_>) -> Vec<Exact> {
        run.spend(EXACT * (self.machine.feelers.len() + self.machine.arbors.len()));
        heights(run)
    }

    /// The height of one lever arbor.
    fn height(&self, run: &Run<'_>, arbor: usize) -> Exact {
        let levers = &self.machine.arbors[arbor];
        run.spend(EXACT * (1 + levers.feelers.len() + levers.lifted.len()));
        height(run, arbor)
    }

    /// Keeps where all stands; which of the poses that is.
    fn stand(&mut self, pose: MovementPose) -> usize {
        let motion = &mut self.struck.motion;
        if motion.last().is_none_or(|last| **last != pose) {
            motion.push(Arc::new(pose));
        }
        motion.len() - 1
    }

    fn blow(&mut self, run: &Run<'_>, feeler: &Feeler, voice: bool) {
        let own = Some(feeler.driver) == self.own || feeler.driver == HAND;
        let now = run.at[HAND];
        let ticks = self.machine.drivers[HAND].ticks;
        match self.hour(run) {
            Some(hour) if own => {
                hour.voices += 1;
                if voice {
                    return;
                }
                hour.blows += 1;
                if now * 60 < ticks * Tick::from(hour.minutes) {
                    hour.early += 1;
                }
            }
            _ if voice => {}
            Some(hour) => hour.notes += 1,
            None if own => self.struck.before += 1,
            None => {}
        }
    }

    /// A tip left an edge: its arbor drops, or is held by another of its tips.
    fn drop(&mut self, run: &Run<'_>, feeler: usize) {
        let machine = self.machine;
        let felt = &machine.feelers[feeler];
        let lying = &machine.arbors[felt.arbor].feelers[..];
        let own = |f: &&usize| machine.feelers[**f].driver == felt.driver;
        let since = lying.iter().filter(own).map(|&f| (f, run.around(f).1));
        let Some((last, _)) = run.between(feeler) else {
            return;
        };
        // The drop before was not the last one: what lay on its rim then was as near to a slot as this.
        let rims = match self.account {
            Account::Points => &[],
            Account::Hours | Account::Motion => lying,
        };
        for &f in rims.iter().filter(own) {
            let (until, since) = run.around(f);
            let other = &machine.feelers[f];
            let on_rim = self.slower(f, feeler)
                && run.between(f).is_some_and(|(last, next)| {
                    let (last, next) = (&other.marks[last], &other.marks[next]);
                    last.behind == next.before && last.behind > last.before && next.falls
                });
            if on_rim {
                let near = since.min(until);
                let rim = &mut self.rims[f];
                if rim.is_none_or(|(a, b)| near < a.min(b)) {
                    *rim = Some((since, until));
                }
            }
        }
        self.drops[felt.arbor] = Some(Drop {
            at: run.at[felt.driver],
            from: felt.marks[last].before.clone(),
            since: since.collect(),
        });
    }

    /// Whether one tip of a lever arbor lies on a slower track of the same train than another.
    fn slower(&self, one: usize, other: usize) -> bool {
        let (one, other) = (&self.machine.feelers[one], &self.machine.feelers[other]);
        one.arbor == other.arbor && one.driver == other.driver && one.turn > other.turn
    }

    /// Degrees of a track in ticks of its driver.
    fn on_track(&self, feeler: &Feeler, ticks: Tick) -> Degrees {
        Degrees::turns(&part(ticks, feeler.turn))
    }

    fn gap(&self, run: &Run<'_>, feeler: usize, short: Tick, ahead: Tick) -> Option<Gap> {
        if self.account == Account::Points {
            return None;
        }
        let felt = &self.machine.feelers[feeler];
        run.spend(EXACT * self.movement.meshes().len() + felt.marks.len());
        Some(Gap {
            lever: felt.lever?,
            track: felt.track,
            short: self.on_track(felt, short),
            ahead: self.on_track(felt, ahead),
            room: self.on_track(felt, felt.narrowest()),
            tooth: self.tooth(felt),
        })
    }

    /// Degrees to one tooth of the wheel that a track is driven by.
    fn tooth(&self, feeler: &Feeler) -> Option<Degrees> {
        if self.account == Account::Points {
            return None;
        }
        let works = self.movement.works()?;
        let Carrier::Arbor(arbor) = works.track(feeler.track).carrier else {
            return None;
        };
        let part = self.movement.meshes().find_map(|(id, mesh)| {
            let far = self.movement.far_arbor(id) == Some(arbor);
            let side = if mesh.driven.arbor == arbor {
                MeshSide::Driven
            } else {
                MeshSide::Driver
            };
            (far && mesh.part(side).arbor == arbor).then(|| mesh.part(side))
        });
        let part = part.or_else(|| {
            let parts = self.movement.parts(arbor);
            parts.max_by_key(|(_, part)| part.teeth).map(|(id, _)| id)
        })?;
        let teeth = self.movement.part(part).teeth.get();
        Some(Degrees::turns(&Exact::new(1.into(), teeth.into())))
    }

    fn lock(&mut self, run: &Run<'_>, driver: usize, locking: Locking) {
        let machine = self.machine;
        let lever_arbor = locking.arbor;
        // What locks may be another arbor than the one that drops; the tips that count are those that dropped last.
        let dropped = match &self.drops[lever_arbor] {
            Some(_) => Some(lever_arbor),
            None => (0..self.drops.len())
                .filter(|&a| {
                    let lying = machine.arbors[a].feelers.iter();
                    self.drops[a].is_some()
                        && lying
                            .map(|&f| machine.feelers[f].driver)
                            .any(|d| d == driver)
                })
                .max_by_key(|&a| self.drops[a].as_ref().map(|drop| drop.at)),
        };
        let drop = dropped.and_then(|arbor| self.drops[arbor].clone());
        let pin = locking.arm.map(|arm| machine.arms[arm].pin);
        // A rack's hook drops as the last tooth is gathered; where the pallet's own tail locks, no lever has to be in time.
        let rack = machine.rack.as_ref().filter(|rack| rack.driver == driver);
        let hooked = rack.filter(|rack| rack.hook == lever_arbor).and(self.home);
        let since = drop.as_ref().map(|drop| drop.at).or(hooked);
        let on = pin.and_then(|pin| Some(self.movement.works()?.pin(pin).on));
        let lead = since.zip(on).map(|(since, on): (Tick, ArborId)| {
            let ticks = run.at[driver] - since;
            self.poser.turned(on, ticks)
        });
        let least_lead = on.map(|on| LeastLead::of(self.movement, on));
        let fall = drop.as_ref().zip(dropped).and_then(|(drop, arbor)| {
            let deepest = &machine.arbors[arbor].deepest;
            let whole = &drop.from - deepest;
            let fell = &drop.from - &self.height(run, arbor);
            (whole > Exact::zero()).then(|| (fell / whole).max(Exact::zero()).min(Exact::one()))
        });
        let since = drop.as_ref().map_or(&[][..], |drop| &drop.since);
        // A wall that a tip is meant to lock on is no edge to keep clear of.
        let clear = since.iter().filter(|(f, _)| !machine.feelers[*f].locks);
        let gaps = clear.filter_map(|&(f, short)| {
            let ahead = run.around(f).0;
            self.gap(run, f, short, ahead)
        });
        let gaps = gaps.collect();
        let rims = since.iter().filter_map(|&(f, _)| {
            let (short, ahead) = self.rims[f]?;
            self.gap(run, f, short, ahead)
        });
        let rim = rims.min_by_key(|gap| (&gap.short).min(&gap.ahead).clone());
        let hammers = self.hammers(run, driver);
        let hook = rack.map(|rack| {
            let lowest = (machine.arbors[rack.hook].hooks.iter())
                .map(|&h| machine.hooks[h].height[0].clone())
                .fold(Exact::zero(), Exact::max);
            HookDown {
                up: Degrees::deg(&self.height(run, rack.hook) - lowest),
                left: in_teeth(run.left, rack.tooth),
                pallet: self.pallet(run, rack),
            }
        });
        let warned = self.warned[driver].take();
        let warns = (machine.arms.iter())
            .find(|arm| arm.driver == driver && matches!(arm.path, Path::Above(_)))
            .map(|arm| arm.lever);
        let lock = Lock {
            by: locking.by,
            pin,
            lead,
            least_lead,
            fall,
            gaps,
            rim,
            hammers,
            warns,
            hook,
        };
        self.home = None;
        for (f, feeler) in machine.feelers.iter().enumerate() {
            if feeler.driver == driver {
                self.rims[f] = None;
                self.drops[feeler.arbor] = None;
            }
        }
        let own = Some(driver) == self.own;
        if let Some(hour) = self.hour(run) {
            if own {
                hour.lock = Some(lock);
                hour.warned = hour.warned.take().or(warned);
            } else {
                hour.chime_lock = Some(lock);
                hour.chime_warned = hour.chime_warned.take().or(warned);
            }
        }
    }

    /// The hammers of a train, as high as they stand.
    fn hammers(&self, run: &Run<'_>, driver: usize) -> Vec<AtRest> {
        let hammers = self.machine.feelers.iter().enumerate();
        let of_train = hammers.filter(|(_, feeler)| feeler.hammer && feeler.driver == driver);
        let at_rest = of_train.filter_map(|(f, feeler)| {
            let (until, since) = run.around(f);
            let height = Degrees::deg(self.height(run, feeler.arbor));
            run.spend(EXACT * self.movement.meshes().len());
            Some(AtRest {
                lever: feeler.lever?,
                at_rest: height.is_zero(),
                height,
                since: self.on_track(feeler, since),
                until: self.on_track(feeler, until),
                tooth: self.tooth(feeler),
            })
        });
        at_rest.collect()
    }

    fn pallet(&self, run: &Run<'_>, rack: &RackRun) -> Pallet {
        let to_go = run.until_gathered();
        Pallet {
            pin: rack.pallet,
            to_go: Degrees::turns(&part(to_go, rack.period)),
        }
    }

    /// The locking arms of a train that is warned.
    fn arms(&self, run: &Run<'_>, driver: usize) -> Vec<Arm> {
        let arms = self.machine.arms.iter().enumerate();
        let of_train = arms.filter(|(_, arm)| arm.driver == driver && !arm.places.is_empty());
        let locking = of_train.filter_map(|(a, arm)| {
            let height = &self.height(run, arm.arbor);
            let in_path = match arm.path {
                Path::Below(_) | Path::RackBelow(_) => &arm.reach - height,
                Path::RackAbove(_) if *height >= arm.reach => height - &arm.reach,
                Path::RackAbove(_) => Exact::zero(),
                Path::Above(_) => return None,
            };
            let past = part(run.since_met(a), arm.period);
            Some(Arm {
                lever: arm.lever,
                in_path: (in_path > Exact::zero()).then(|| Degrees::deg(in_path)),
                past: Degrees::turns(&past),
            })
        });
        locking.collect()
    }

    /// A train that was locked is let go: how much too low the arm that is to warn it stands then.
    fn let_go(&mut self, run: &Run<'_>, driver: usize) {
        let arms = self.machine.arms.iter();
        let mut warns = arms.filter(|a| a.driver == driver && matches!(a.path, Path::Above(_)));
        if let Some(arm) = warns.next() {
            let short = &arm.reach - &self.height(run, arm.arbor);
            let lever = arm.lever;
            if short > Exact::zero()
                && let Some(hour) = self.hour(run)
                && hour.too_low.len() < MOST_TOO_LOW
            {
                hour.too_low.push((lever, Degrees::deg(short)));
            }
        }
    }

    fn stopped(&mut self, run: &Run<'_>, driver: usize, arm: usize) {
        let machine = self.machine;
        let met = &machine.arms[arm];
        let by = met.lever;
        let pin = met.pin;
        if matches!(met.path, Path::Above(_)) {
            self.event(run, StrikeEvent::Warned { pin, by });
            let own = Some(driver) == self.own;
            let ticks = run.at[driver] - self.began[driver];
            let rack = machine.rack.as_ref().filter(|rack| rack.driver == driver);
            let warned = Warned {
                by,
                turns: part(ticks, met.period),
                hammers: self.hammers(run, driver),
                arms: self.arms(run, driver),
                pallet: rack.map(|rack| self.pallet(run, rack)),
            };
            self.warned[driver] = Some(warned.clone());
            if let Some(hour) = self.hour(run) {
                if own {
                    hour.warned = Some(warned);
                } else {
                    hour.chime_warned = Some(warned);
                }
            }
        } else {
            let locked = StrikeEvent::Locked { pin: Some(pin), by };
            self.event(run, locked);
            let locking = Locking {
                by,
                arbor: met.arbor,
                arm: Some(arm),
            };
            self.lock(run, driver, locking);
        }
    }

    /// The rack has fallen: how near the next tooth either way, and the edges of the snail's step.
    fn rack_fell(&mut self, run: &Run<'_>, from: Tick) {
        let Some(rack) = &self.machine.rack else {
            return;
        };
        let tail = &self.machine.feelers[rack.tail];
        let teeth = in_teeth(run.left, rack.tooth);
        self.event(
            run,
            StrikeEvent::RackFalls {
                teeth: in_teeth(run.left - from, rack.tooth),
            },
        );
        let parts = (run.left - rack.enters).max(1);
        let strokes = (parts + rack.tooth - 1) / rack.tooth;
        let short = in_teeth(
            run.left - rack.enters - (strokes - 1) * rack.tooth,
            rack.tooth,
        );
        let ahead = in_teeth(strokes * rack.tooth + rack.enters - run.left, rack.tooth);
        let (until, since) = run.around(rack.tail);
        let fallen = RackFall {
            teeth,
            short,
            ahead,
            edge_short: self.on_track(tail, since),
            edge_ahead: self.on_track(tail, until),
        };
        if let Some(hour) = self.hour(run) {
            hour.fallen = Some(fallen);
        }
    }
}

impl Listener for Record<'_> {
    fn heard(&mut self, run: &Run<'_>, what: Heard) {
        let machine = self.machine;
        let lever = |feeler: usize| machine.feelers[feeler].lever;
        match what {
            Heard::Instant(_) => {
                if self.has_room() {
                    self.before = self.heights(run);
                    let pose = self.pose(run);
                    self.stand(pose);
                }
            }
            Heard::Passed => {
                if self.has_room() {
                    let pose = self.pose(run);
                    self.stand(pose);
                }
            }
            Heard::Runs(driver) => {
                self.began[driver] = run.at[driver];
                if self.warned[driver].is_none() {
                    self.let_go(run, driver);
                }
                if let Some(train) = machine.drivers[driver].train {
                    self.event(run, StrikeEvent::Runs(train));
                }
            }
            Heard::Stops { driver, arm } => self.stopped(run, driver, arm),
            Heard::Locks { driver, feeler } => {
                if let Some(by) = lever(feeler) {
                    self.event(run, StrikeEvent::Locked { pin: None, by });
                    let locking = Locking {
                        by,
                        arbor: machine.feelers[feeler].arbor,
                        arm: None,
                    };
                    self.lock(run, driver, locking);
                }
            }
            Heard::Blow { feeler, voice } => {
                self.blow(run, &machine.feelers[feeler], voice);
                if let Some(lever) = lever(feeler) {
                    let seen = if voice {
                        StrikeEvent::Voice
                    } else {
                        StrikeEvent::Blow
                    };
                    self.event(run, seen(lever));
                }
            }
            Heard::Falls { feeler } => {
                let felt = &machine.feelers[feeler];
                if felt.driver != HAND {
                    self.drop(run, feeler);
                }
                if self.watched
                    && let (Some(lever), Some(works)) = (felt.lever, self.movement.works())
                {
                    let arbor = works.lever(lever).on;
                    let deg = |height: &Exact| Degrees::deg(height.clone());
                    let from = self.before.get(felt.arbor).map_or_else(Degrees::zero, deg);
                    let to = Degrees::deg(self.height(run, felt.arbor));
                    let deepest = deg(&machine.arbors[felt.arbor].deepest);
                    let held = (0..machine.feelers.len()).any(|f| self.slower(f, feeler));
                    if from != to || held {
                        let falls = StrikeEvent::Falls {
                            lever,
                            arbor,
                            from,
                            to,
                            deepest,
                        };
                        self.event(run, falls);
                    }
                }
            }
            Heard::Rises { feeler } => {
                let felt = &machine.feelers[feeler];
                if self.watched
                    && (felt.driver == HAND || felt.hammer)
                    && let Some(lever) = felt.lever
                {
                    self.event(run, StrikeEvent::Lifts(lever));
                }
            }
            Heard::RackFalls { from } => self.rack_fell(run, from),
            Heard::Gathers => {
                if let Some(rack) = &machine.rack {
                    if run.left == 0 {
                        self.home = Some(run.at[rack.driver]);
                    }
                    let left = in_teeth(run.left, rack.tooth);
                    self.event(run, StrikeEvent::Gathers { left });
                }
            }
        }
    }
}
