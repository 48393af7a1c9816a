//! The cycle hour by hour: what was struck against what should be, and how near each edge and each pin was.

use crate::build::{Feeler, HAND, Machine, Path, Tick};
use crate::run::{Heard, Listener, Run};
use crate::watch::{Event, Poser, Seen, heights, in_teeth};
use crate::{End, PutIn, Unfit};
use movement::{ArborId, Blows, Carrier, LeverArborId, LeverId, Movement, PinId, Side, TrackId};
use num_traits::{One, Zero};
use quantity::{Degrees, Exact};

/// How far a tip was from both edges of its slot: short when its arbor dropped, ahead when the train locked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gap {
    /// The lever.
    pub lever: LeverId,
    /// The track.
    pub track: TrackId,
    /// Degrees of the track since the edge it fell from; nought for the tip whose edge made the drop.
    pub short: Degrees,
    /// Degrees of the track until the edge that lifts it.
    pub ahead: Degrees,
    /// Degrees that a tip has from edge to edge in the narrowest slot of the track.
    pub room: Degrees,
    /// Degrees of the track to one tooth of its wheel, where it has one.
    pub tooth: Option<Degrees>,
}

impl Gap {
    /// The nearer edge, and how far it is as a part of the room; of the tip that made the drop only the edge ahead.
    pub fn nearer(&self) -> (&Degrees, Exact) {
        let nearer = if self.short.is_zero() || self.ahead <= self.short {
            &self.ahead
        } else {
            &self.short
        };
        let part = match self.room.is_zero() {
            true => Exact::zero(),
            false => nearer.exact() / self.room.exact(),
        };
        (nearer, part)
    }
}

/// How the rack fell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fallen {
    /// Teeth it fell.
    pub teeth: Exact,
    /// Teeth less that would strike one less.
    pub short: Exact,
    /// Teeth more that would strike one more.
    pub ahead: Exact,
    /// Degrees of the snail since its last edge, as the rack fell.
    pub edge_short: Degrees,
    /// Degrees of the snail until its next edge, as the strike began.
    pub edge_ahead: Degrees,
}

/// A hammer as the train locked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtRest {
    /// The hammer.
    pub lever: LeverId,
    /// Whether nothing lifts it.
    pub at_rest: bool,
    /// Degrees of its wheel since it was let go.
    pub since: Degrees,
    /// Degrees of its wheel until it is lifted again.
    pub until: Degrees,
    /// Degrees of its wheel to one tooth, where it has one.
    pub tooth: Option<Degrees>,
}

/// How the strike train locked after the hour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lock {
    /// What locked it: an arm, or a tip on its wall.
    pub by: LeverId,
    /// The pin, where an arm did.
    pub pin: Option<PinId>,
    /// Degrees of the pin's arbor from the drop until it met the arm.
    pub lead: Option<Degrees>,
    /// How full the fall was: 1 to the bottom, 0 none.
    pub fall: Option<Exact>,
    /// Each tip of that lever arbor against the edges of its slot.
    pub gaps: Vec<Gap>,
    /// How near a tip that should stay on its rim came to a slot, at the drops before the last; the nearest.
    pub rim: Option<Gap>,
    /// The hammers of that train.
    pub hammers: Vec<AtRest>,
}

/// One hour, half or quarter of the cycle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hour {
    /// Minutes since the start.
    pub minutes: u32,
    /// Blows it should strike.
    pub expected: u32,
    /// Blows it struck.
    pub blows: u32,
    /// Those of them struck before their time.
    pub early: u32,
    /// Notes the chime owes, where there is one.
    pub owed: Option<u32>,
    /// Notes it gave.
    pub notes: u32,
    /// The warning run, in turns of the warning pin's arbor.
    pub warning: Option<Exact>,
    /// How the rack fell.
    pub fallen: Option<Fallen>,
    /// How it locked; nothing where it did not run or not stop.
    pub lock: Option<Lock>,
    /// The warning run of the chime.
    pub chime_warning: Option<Exact>,
    /// How the chime locked.
    pub chime_lock: Option<Lock>,
}

impl Hour {
    /// The hour on the dial, 1 to 12: for a half or a quarter the one before it.
    pub fn hour(&self) -> u32 {
        (self.minutes / 60 + 11) % 12 + 1
    }

    /// The minute of the hour.
    pub fn minute(&self) -> u32 {
        self.minutes % 60
    }

    /// Whether it struck, and chimed, what it should, and nothing before its time.
    pub fn is_right(&self) -> bool {
        let chimed = self.owed.is_none_or(|owed| owed == self.notes);
        self.blows == self.expected && self.early == 0 && chimed
    }
}

/// A whole run.
#[derive(Debug, Clone)]
pub struct Struck {
    /// Every hour, half and quarter of the cycle that was reached.
    pub hours: Vec<Hour>,
    /// Blows that the whole cycle owes.
    pub expected: u32,
    /// Blows struck while it came to rest at the start.
    pub before: u32,
    /// How it ended.
    pub end: End,
    /// What was seen, in order, where that was asked for.
    pub events: Vec<Event>,
}

impl Struck {
    /// Blows of the whole cycle.
    pub fn total(&self) -> u32 {
        self.hours.iter().map(|hour| hour.blows).sum()
    }
}

/// Runs the strike of a movement through its whole cycle, with what is put in wrong.
///
/// # Errors
/// That the sheet has no strike to run.
pub fn strike(movement: &Movement, put_in: &[PutIn], watched: bool) -> Result<Struck, Unfit> {
    let strike = movement.strike().ok_or(Unfit::NoStrike)?;
    let machine = Machine::of(movement, put_in)?;
    if !machine.feelers.iter().any(|f| f.hammer) {
        return Err(Unfit::NoHammer);
    }
    let cycle = u32::from(strike.cycle_hours);
    let train = movement.train_of(strike.read_at);
    let owed = owed(movement, cycle);
    let mut record = Record {
        movement,
        machine: &machine,
        poser: Poser::new(movement, &machine, put_in),
        struck: Struck {
            expected: owed.iter().map(|hour| hour.expected).sum(),
            hours: owed,
            before: 0,
            end: End::AnotherPlace,
            events: Vec::new(),
        },
        own: (machine.drivers.iter()).position(|d| d.train == Some(train)),
        watched,
        began: vec![0; machine.drivers.len()],
        drops: vec![None; machine.arbors.len()],
        rims: vec![None; machine.feelers.len()],
        before: Vec::new(),
    };
    let mut run = Run::new(&machine);
    record.event(&run, Seen::Held);
    let ended = through(&mut run, &mut record, cycle);
    record.struck.end = match ended {
        Ok(same) if same => End::SamePlace,
        Ok(_) => End::AnotherPlace,
        Err(end) => end,
    };
    let last = match record.struck.end {
        End::Jam(jam) => Seen::Jams(jam),
        End::Runaway { train, .. } => Seen::RunsOn(train),
        _ => Seen::Over,
    };
    record.event(&run, last);
    if matches!(record.struck.end, End::Jam(_) | End::Runaway { .. }) {
        let reached = record.index(&run).unwrap_or(0);
        record.struck.hours.truncate(reached);
    }
    Ok(record.struck)
}

/// Through the whole cycle; whether all then stands as it did.
fn through(run: &mut Run<'_>, record: &mut Record<'_>, cycle: u32) -> Result<bool, End> {
    run.settle(record)?;
    let start = run.at.clone();
    let until = run.machine.drivers[HAND].ticks * Tick::from(cycle);
    while run.step_hand(until, record)? {}
    let machine = run.machine;
    let back = |driver: usize, period: Tick| (run.at[driver] - start[driver]) % period == 0;
    let tracks = machine.feelers.iter().all(|f| back(f.driver, f.period));
    let pins = machine.arms.iter().all(|a| back(a.driver, a.period));
    Ok(tracks && pins && run.left == 0)
}

/// What each hour, half and quarter of the cycle owes.
fn owed(movement: &Movement, cycle: u32) -> Vec<Hour> {
    let blows = movement
        .strike()
        .map_or(Blows::Hours, |strike| strike.blows);
    let chime = movement.works().and_then(|works| works.chime());
    let step = match (chime, blows) {
        (Some(_), _) => 15,
        (None, Blows::Hours) => 60,
        (None, _) => 30,
    };
    (1..=cycle * 60 / step)
        .map(|n| n * step)
        .map(|minutes| Hour {
            minutes,
            expected: blows_at(blows, minutes),
            blows: 0,
            early: 0,
            owed: chime.map(|notes| {
                let quarter = (minutes / 15 + 3) % 4;
                let notes = usize::try_from(quarter).ok().and_then(|q| notes.get(q));
                notes.map_or(0, |&n| n.into())
            }),
            notes: 0,
            warning: None,
            fallen: None,
            lock: None,
            chime_warning: None,
            chime_lock: None,
        })
        .collect()
}

/// Blows that are due so many minutes after twelve.
fn blows_at(blows: Blows, minutes: u32) -> u32 {
    let hour = (minutes / 60 + 11) % 12 + 1;
    match (blows, minutes % 60) {
        (Blows::ShipsBells, 0 | 30) => (minutes / 30 + 7) % 8 + 1,
        (Blows::ShipsBells, _) => 0,
        (_, 0) => hour,
        (Blows::HoursAndHalves | Blows::HoursAndPassingHalves, 30) => 1,
        (Blows::HoursAndTenHalves, 30) if hour != 12 && hour != 1 => 1,
        _ => 0,
    }
}

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
struct Record<'m> {
    movement: &'m Movement,
    machine: &'m Machine,
    poser: Poser<'m>,
    struck: Struck,
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

impl Record<'_> {
    /// Of hours, halves and quarters the one that the hand is nearest to, of two the later: its number from 1, or 0.
    fn index(&self, run: &Run<'_>) -> Option<usize> {
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

    fn event(&mut self, run: &Run<'_>, seen: Seen) {
        if self.watched {
            let pose = self.poser.pose(run);
            self.struck.events.push(Event { seen, pose });
        }
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
                    && let (Some(lever), Some(arbor)) = (felt.lever, self.lever_arbor(felt.arbor))
                {
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

impl Record<'_> {
    fn lever_arbor(&self, index: usize) -> Option<LeverArborId> {
        let mut arbors = self.movement.works()?.lever_arbors();
        arbors.nth(index).map(|(id, _)| id)
    }
}
