//! The account that is kept while the strike runs: blows to their hours, and at each lock how near all was.

use crate::End;
use crate::hours::{AtRest, Fallen, Gap, Hour, Lock, Struck};
use crate::machine::{Feeler, HAND, Machine, Path, Tick};
use crate::run::{Heard, Listener, Run};
use crate::watch::{Event, Pose, Poser, Seen, heights, in_teeth};
use movement::{ArborId, Carrier, LeverId, Movement, Side};
use num_traits::{One, Zero};
use quantity::{Degrees, Exact};

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

/// Listens to a run and keeps the account.
pub(crate) struct Record<'m> {
    movement: &'m Movement,
    machine: &'m Machine,
    poser: Poser,
    pub(crate) struck: Struck,
    /// The driver of the strike's own train.
    own: Option<usize>,
    watched: bool,
    /// Where each train began to run.
    began: Vec<Tick>,
    drops: Vec<Option<Drop>>,
    /// For each tip, how near it came to a slot since it last locked: ticks since the last edge and until the next.
    rims: Vec<Option<(Tick, Tick)>>,
    /// Heights before the instant that is under way.
    before: Vec<Exact>,
}

impl<'m> Record<'m> {
    /// An account of these hours, with nothing in it yet: the strike's own driver, and whether every event is kept.
    pub(crate) fn new(
        movement: &'m Movement,
        machine: &'m Machine,
        own: Option<usize>,
        watched: bool,
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
                end: End::AnotherPlace,
                events: Vec::new(),
                motion: Vec::new(),
            },
            own,
            watched,
            began: vec![0; machine.drivers.len()],
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

    pub(crate) fn event(&mut self, run: &Run<'_>, seen: Seen) {
        if self.watched {
            let pose = self.poser.pose(run);
            let step = self.stand(pose.clone());
            self.struck.events.push(Event { seen, pose, step });
        }
    }

    /// Keeps where all stands; which of the poses that is.
    fn stand(&mut self, pose: Pose) -> usize {
        let motion = &mut self.struck.motion;
        if motion.last() != Some(&pose) {
            motion.push(pose);
        }
        motion.len() - 1
    }

    fn blow(&mut self, run: &Run<'_>, feeler: &Feeler) {
        let own = Some(feeler.driver) == self.own || feeler.driver == HAND;
        let now = run.at[HAND];
        let ticks = self.machine.drivers[HAND].ticks;
        match self.hour(run) {
            Some(hour) if own => {
                hour.blows += 1;
                if now * 60 < ticks * Tick::from(hour.minutes) {
                    hour.early += 1;
                }
            }
            Some(hour) => hour.notes += 1,
            None if own => self.struck.before += 1,
            None => {}
        }
    }

    /// A tip left an edge: its arbor drops, or is held by another of its tips.
    fn drop(&mut self, run: &Run<'_>, feeler: usize) {
        let machine = self.machine;
        let felt = &machine.feelers[feeler];
        let lying = &machine.arbors[felt.arbor].feelers;
        let own = |f: &&usize| machine.feelers[**f].driver == felt.driver;
        let since = lying.iter().filter(own).map(|&f| (f, run.around(f).1));
        let Some((last, _)) = run.between(feeler) else {
            return;
        };
        // The drop before was not the last one: what lay on its rim then was as near to a slot as this.
        for &f in lying.iter().filter(own) {
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
        Degrees::turns(&Exact::new(ticks.into(), feeler.turn.into()))
    }

    fn gap(&self, feeler: usize, short: Tick, ahead: Tick) -> Option<Gap> {
        let felt = &self.machine.feelers[feeler];
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
        let works = self.movement.works()?;
        let Carrier::Arbor(arbor) = works.track(feeler.track).carrier else {
            return None;
        };
        let part = self.movement.meshes().find_map(|(id, mesh)| {
            let far = self.movement.far_arbor(id) == Some(arbor);
            let side = if mesh.driven.arbor == arbor {
                Side::Driven
            } else {
                Side::Driver
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

    fn lock(
        &mut self,
        run: &Run<'_>,
        driver: usize,
        lever_arbor: usize,
        by: (LeverId, Option<usize>),
    ) {
        let machine = self.machine;
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
        let pin = by.1.map(|arm| machine.arms[arm].pin);
        let lead = drop.as_ref().zip(pin).map(|(drop, pin)| {
            let on = self.movement.works().map(|works| works.pin(pin).on);
            let ticks = run.at[driver] - drop.at;
            on.map_or_else(Degrees::zero, |on: ArborId| self.poser.turned(on, ticks))
        });
        let fall = drop.as_ref().zip(dropped).and_then(|(drop, arbor)| {
            let deepest = &machine.arbors[arbor].deepest;
            let whole = &drop.from - deepest;
            let fell = &drop.from - &heights(run)[arbor];
            (whole > Exact::zero()).then(|| (fell / whole).max(Exact::zero()).min(Exact::one()))
        });
        let since = drop.as_ref().map_or(&[][..], |drop| &drop.since);
        // A wall that a tip is meant to lock on is no edge to keep clear of.
        let clear = since.iter().filter(|(f, _)| !machine.feelers[*f].locks);
        let gaps = clear.filter_map(|&(f, short)| {
            let ahead = run.around(f).0;
            self.gap(f, short, ahead)
        });
        let gaps = gaps.collect();
        let rims = since.iter().filter_map(|&(f, _)| {
            let (short, ahead) = self.rims[f]?;
            self.gap(f, short, ahead)
        });
        let rim = rims.min_by_key(|gap| (&gap.short).min(&gap.ahead).clone());
        let hammers = (machine.feelers.iter().enumerate())
            .filter(|(_, feeler)| feeler.hammer && feeler.driver == driver)
            .filter_map(|(f, feeler)| {
                let (until, since) = run.around(f);
                let at_rest = run.between(f).is_none_or(|(last, next)| {
                    let (last, next) = (&feeler.marks[last], &feeler.marks[next]);
                    last.behind == next.before && last.falls
                });
                Some(AtRest {
                    lever: feeler.lever?,
                    at_rest,
                    since: self.on_track(feeler, since),
                    until: self.on_track(feeler, until),
                    tooth: self.tooth(feeler),
                })
            })
            .collect();
        let lock = Lock {
            by: by.0,
            pin,
            lead,
            fall,
            gaps,
            rim,
            hammers,
        };
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
            } else {
                hour.chime_lock = Some(lock);
            }
        }
    }

    fn stopped(&mut self, run: &Run<'_>, driver: usize, arm: usize) {
        let machine = self.machine;
        let met = &machine.arms[arm];
        let by = met.lever;
        let pin = met.pin;
        if matches!(met.path, Path::Above(_)) {
            self.event(run, Seen::Warned { pin, by });
            let own = Some(driver) == self.own;
            let ticks = run.at[driver] - self.began[driver];
            let turns = Exact::new(ticks.into(), met.period.into());
            if let Some(hour) = self.hour(run) {
                if own {
                    hour.warning = Some(turns);
                } else {
                    hour.chime_warning = Some(turns);
                }
            }
        } else {
            let locked = Seen::Locked { pin: Some(pin), by };
            self.event(run, locked);
            self.lock(run, driver, met.arbor, (by, Some(arm)));
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
            Seen::RackFalls {
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
        let fallen = Fallen {
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
                if self.watched {
                    self.before = heights(run);
                    self.stand(self.poser.pose(run));
                }
            }
            Heard::Passed => {
                if self.watched {
                    self.stand(self.poser.pose(run));
                }
            }
            Heard::Runs(driver) => {
                self.began[driver] = run.at[driver];
                if let Some(train) = machine.drivers[driver].train {
                    self.event(run, Seen::Runs(train));
                }
            }
            Heard::Stops { driver, arm } => self.stopped(run, driver, arm),
            Heard::Locks { driver, feeler } => {
                if let Some(by) = lever(feeler) {
                    self.event(run, Seen::Locked { pin: None, by });
                    self.lock(run, driver, machine.feelers[feeler].arbor, (by, None));
                }
            }
            Heard::Blow { feeler } => {
                self.blow(run, &machine.feelers[feeler]);
                if let Some(lever) = lever(feeler) {
                    self.event(run, Seen::Blow(lever));
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
                    let to = Degrees::deg(heights(run)[felt.arbor].clone());
                    let deepest = deg(&machine.arbors[felt.arbor].deepest);
                    let held = (0..machine.feelers.len()).any(|f| self.slower(f, feeler));
                    if from != to || held {
                        let falls = Seen::Falls {
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
                    self.event(run, Seen::Lifts(lever));
                }
            }
            Heard::RackFalls { from } => self.rack_fell(run, from),
            Heard::Gathers => {
                if let Some(rack) = &machine.rack {
                    let left = in_teeth(run.left, rack.tooth);
                    self.event(run, Seen::Gathers { left });
                }
            }
        }
    }
}
