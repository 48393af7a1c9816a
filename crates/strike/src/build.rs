//! From the works on a sheet to whole numbers: each driver's way in ticks so fine that every corner and every pin comes at
//! a whole one, and each lever arbor's height as how many of the heights that matter it has reached.

use crate::bounds::MOST_HEIGHTS;
use crate::machine::{
    Arm, Carried, Class, Driver, Feeler, HAND, Hook, LeverArbor, Machine, Mark, Path, RackRun, Tick,
};
use crate::profile::{Pairs, Profile, into_turn};
use crate::put_in::{ahead, bend, pin_slip, tail_bend, timed_by, track_slip};
use crate::{NoStrike, PlantedFault};
use movement::{
    ArborId, Carrier, Felt, LeverArborId, LeverId, Movement, PinId, Rack, Reach, Shape, TrackId,
    Works,
};
use num_integer::Integer;
use num_traits::{One, ToPrimitive, Zero};
use quantity::{BigInt, Exact, whole};

/// Bits of the ticks of a driver: room is left for some thousand turns of the slowest arbor.
pub(crate) const MOST_BITS: u64 = 100;

/// The edge under a tip, in degrees of its lever arbor.
struct Tip {
    /// Nothing where it is the rack's tail.
    lever: Option<LeverId>,
    /// Its lever arbor, by index.
    arbor: usize,
    track: TrackId,
    profile: Profile,
}

/// Where a pin comes to each place that matters.
struct PinWay {
    /// The lever to whose arm it comes; nothing where it gathers.
    lever: Option<LeverId>,
    pin: PinId,
    carried: Carried,
    /// In turns of what carries it.
    places: Vec<Exact>,
}

struct Builder<'a> {
    movement: &'a Movement,
    works: &'a Works,
    put_in: &'a [PlantedFault],
    /// For each train of the sheet, its driver: the hand's where it is timed.
    driver_of: Vec<usize>,
    drivers: Vec<Driver>,
    /// Seconds of one turn of each train's first arbor, where it is timed.
    seconds: Vec<Option<Exact>>,
    /// Whether slopes are cut at every height that is compared with another as a train locks too, not only where something moves.
    split: bool,
}

impl Machine {
    /// The works of a movement as they are, with an instant wherever a height passes one that it is compared with.
    pub(crate) fn split(movement: &Movement) -> Result<Machine, NoStrike> {
        let works = works_of(movement)?;
        let mut builder = Builder::new(movement, works, &[]);
        builder.split = true;
        builder.build()
    }

    /// The works of a movement with what was put in wrong.
    pub(crate) fn of(movement: &Movement, put_in: &[PlantedFault]) -> Result<Machine, NoStrike> {
        let works = works_of(movement)?;
        Builder::new(movement, works, put_in).build()
    }
}

/// The works that strike.
fn works_of(movement: &Movement) -> Result<&Works, NoStrike> {
    movement.strike().ok_or(NoStrike::NoStrike)?;
    movement.works().ok_or(NoStrike::NoLevers)
}

impl<'a> Builder<'a> {
    fn new(movement: &'a Movement, works: &'a Works, put_in: &'a [PlantedFault]) -> Builder<'a> {
        let seconds: Vec<Option<Exact>> = (0..movement.trains())
            .map(|train| {
                let (id, turn) = timed_by(movement, train)?;
                Some(turn * movement.turns(id))
            })
            .collect();
        let mut drivers = vec![Driver {
            train: None,
            ticks: 1,
        }];
        let mut driver_of = vec![HAND; movement.trains()];
        for (train, seconds) in seconds.iter().enumerate() {
            if seconds.is_none() {
                driver_of[train] = drivers.len();
                drivers.push(Driver {
                    train: Some(train),
                    ticks: 1,
                });
            }
        }
        Builder {
            movement,
            works,
            put_in,
            driver_of,
            drivers,
            seconds,
            split: false,
        }
    }

    fn carried(&self, carrier: &Carrier<ArborId>) -> Carried {
        match carrier {
            Carrier::Hours(hours) => Carried {
                driver: HAND,
                rate: hours.recip(),
                ahead: Exact::zero(),
            },
            Carrier::Arbor(arbor) => {
                let train = self.movement.train_of(*arbor);
                let turns = self.movement.turns(*arbor);
                Carried {
                    driver: self.driver_of[train],
                    rate: match &self.seconds[train] {
                        Some(seconds) => turns * whole(3600) / seconds,
                        None => turns.clone(),
                    },
                    ahead: ahead(self.movement, *arbor, self.put_in),
                }
            }
        }
    }

    fn build(mut self) -> Result<Machine, NoStrike> {
        let lever_arbors = self.works.lever_arbors().len();
        let mut arbors = vec![LeverArbor::default(); lever_arbors];
        let order = self.order(lever_arbors);
        // The edges under all tips, in degrees of the lever arbors.
        let mut tips = Vec::new();
        let mut pairs = Pairs::default();
        for (id, lever) in self.works.levers() {
            if let (Some(feels), Some(track)) = (lever.feels(), lever.track()) {
                let lift = &feels.lift;
                let part = match lift.is_zero() {
                    true => Exact::zero(),
                    false => bend(id, self.put_in) / lift.exact(),
                };
                let profile = self.edge(track, &part).felt(&feels.tip, &mut pairs)?;
                let profile = profile.raised(lift.exact(), &Exact::zero()).at_rest();
                tips.push(Tip {
                    lever: Some(id),
                    arbor: lever.on.index(),
                    track,
                    profile,
                });
            }
        }
        if let Some(rack) = self.works.rack() {
            let bent = tail_bend(self.put_in) / rack.tooth.exact();
            let profile = self.edge(rack.snail, &bent).felt(&rack.tip, &mut pairs)?;
            let profile = profile.at_most(&Exact::zero());
            tips.push(Tip {
                lever: None,
                arbor: rack.on.index(),
                track: rack.snail,
                profile,
            });
        }
        self.heights_that_matter(&mut arbors, &order, &tips)?;
        for tip in &mut tips {
            if tip.lever.is_some() {
                let heights = &arbors[tip.arbor].heights;
                pairs.take(tip.profile.corners.len(), heights.len())?;
                tip.profile = tip.profile.clone().split_at(heights);
            }
        }
        let carried: Vec<Carried> = (tips.iter())
            .map(|tip| {
                let mut carried = self.carried(&self.works.track(tip.track).carrier);
                carried.ahead += track_slip(tip.track, self.put_in);
                carried
            })
            .collect();
        let pins = self.pins();
        self.ticks(&tips, &carried, &pins)?;
        let mut feelers = Vec::new();
        for (tip, carried) in tips.iter().zip(&carried) {
            let heights = &arbors[tip.arbor].heights;
            let mut feeler = self.feeler(tip.track, &tip.profile, carried, heights)?;
            feeler.arbor = tip.arbor;
            feeler.lever = tip.lever;
            if let Some(lever) = tip.lever
                && let Some(feels) = self.works.lever(lever).feels()
            {
                feeler.locks = feels.locks;
                feeler.hammer = feels.strikes.is_some();
                arbors[tip.arbor].feelers.push(feelers.len());
            }
            feelers.push(feeler);
        }
        self.voices(&mut feelers);
        let mut hooks = Vec::new();
        for (id, lever) in self.works.levers() {
            if let Some(feels) = lever.feels().filter(|feels| feels.felt == Felt::Rack) {
                let arbor = lever.on.index();
                let bent = bend(id, self.put_in);
                let rest = Exact::zero();
                let height =
                    [-&bent, feels.lift.exact() - &bent].map(|height| height.max(rest.clone()));
                let class = [0, 1].map(|i| class_of(&arbors[arbor].heights, &height[i]));
                arbors[arbor].hooks.push(hooks.len());
                hooks.push(Hook { class, height });
            }
        }
        for &arbor in &order {
            self.lifts(&mut arbors, arbor);
            let rest = Exact::zero();
            let lying = arbors[arbor].feelers.iter();
            let deepest = lying
                .map(|&f| feelers[f].lowest().clone())
                .fold(rest, Exact::max);
            arbors[arbor].rest = class_of(&arbors[arbor].heights, &Exact::zero());
            arbors[arbor].deepest = deepest;
        }
        let (arms, rack) = self.arms(&arbors, &pins, &feelers)?;
        let each = self.movement.arbors();
        let carried = each.map(|(id, _)| self.carried(&Carrier::Arbor(id)));
        Ok(Machine {
            carried: carried.collect(),
            drivers: self.drivers,
            feelers,
            hooks,
            arms,
            arbors,
            order,
            rack,
        })
    }

    fn edge(&self, track: TrackId, bent: &Exact) -> Profile {
        Profile::of(track, &self.works.track(track).shape, self.put_in, bent)
    }

    /// Lever arbors, each after those that lift it.
    fn order(&self, count: usize) -> Vec<usize> {
        let mut order = Vec::new();
        while order.len() < count {
            let before = order.len();
            for arbor in 0..count {
                let ready = self.works.levers().all(|(_, lever)| {
                    let lifted = (lever.lifts()).is_some_and(|lifts| lifts.arbor.index() == arbor);
                    !lifted || order.contains(&lever.on.index())
                });
                if ready && !order.contains(&arbor) {
                    order.push(arbor);
                }
            }
            if order.len() == before {
                break;
            }
        }
        order
    }

    /// For each lever arbor the heights at which something changes: arms come and go, walls pass, the rack is free; on
    /// arbors that lift it too.
    fn heights_that_matter(
        &self,
        arbors: &mut [LeverArbor],
        order: &[usize],
        tips: &[Tip],
    ) -> Result<(), NoStrike> {
        for (id, lever) in self.works.levers() {
            if let Some(stops) = lever.stops() {
                let height = self.reach(id, &stops.reach);
                arbors[lever.on.index()].heights.push(height);
            }
        }
        if let Some(rack) = self.works.rack() {
            let free = rack.free.exact().clone();
            arbors[rack.hook.index()].heights.push(free);
        }
        for tip in tips {
            if tip.lever.is_some() {
                let walls = tip.profile.corners.iter().filter(|c| c.after > c.before);
                arbors[tip.arbor]
                    .heights
                    .extend(walls.map(|c| c.after.clone()));
            }
        }
        if self.split {
            self.heights_at_rest(arbors, tips);
        }
        let mut all = 0;
        for &arbor in order.iter().rev() {
            arbors[arbor].heights.sort();
            arbors[arbor].heights.dedup();
            all += arbors[arbor].heights.len();
            let heights = arbors[arbor].heights.clone();
            for (id, lever) in self.works.levers() {
                if let Some(lifts) = lever.lifts()
                    && lifts.arbor.index() == arbor
                {
                    let from = lifts.from.exact() - bend(id, self.put_in);
                    let below = heights.iter().map(|height| height + &from);
                    arbors[lever.on.index()].heights.extend(below);
                    all += heights.len();
                    if all > MOST_HEIGHTS {
                        return Err(NoStrike::TooMany);
                    }
                }
            }
        }
        Ok(())
    }

    /// For each lever arbor the lowest that it comes, and where a hook stands behind the last tooth.
    fn heights_at_rest(&self, arbors: &mut [LeverArbor], tips: &[Tip]) {
        for (arbor, levers) in arbors.iter_mut().enumerate() {
            let lying = tips
                .iter()
                .filter(|tip| tip.lever.is_some() && tip.arbor == arbor);
            let deepest = lying.map(|tip| {
                let corners = tip.profile.corners.iter();
                let heights = corners.flat_map(|corner| [&corner.before, &corner.after]);
                heights.min().unwrap_or(&tip.profile.level).clone()
            });
            let deepest = deepest.fold(Exact::zero(), Exact::max);
            levers.heights.extend([Exact::zero(), deepest]);
        }
        for (id, lever) in self.works.levers() {
            if lever.feels().is_some_and(|feels| feels.felt == Felt::Rack) {
                let low = (-bend(id, self.put_in)).max(Exact::zero());
                arbors[lever.on.index()].heights.push(low);
            }
        }
    }

    /// What lifts an arbor, class for class.
    fn lifts(&self, arbors: &mut [LeverArbor], arbor: usize) {
        let mut lifted = Vec::new();
        for (id, lever) in self.works.levers() {
            if let Some(lifts) = lever.lifts()
                && lifts.arbor.index() == arbor
            {
                let from = lifts.from.exact() - bend(id, self.put_in);
                let by = lever.on.index();
                let mut classes = vec![class_of(&arbors[arbor].heights, &Exact::zero())];
                for height in &arbors[by].heights {
                    let here = class_of(&arbors[arbor].heights, &(height - &from));
                    classes.push(here.max(classes[0]));
                }
                lifted.push((by, from, classes));
            }
        }
        arbors[arbor].lifted = lifted;
    }

    /// Where each pin comes to each place that matters: to an arm, or to gather.
    fn pins(&self) -> Vec<PinWay> {
        let place = |pin: PinId, further: &Exact| {
            let there = self.works.pin(pin);
            let mut carried = self.carried(&Carrier::Arbor(there.on));
            carried.ahead += pin_slip(pin, self.put_in);
            let missing = |n: usize| {
                let gone = PlantedFault::MissingPin { pin, place: n };
                self.put_in.contains(&gone)
            };
            let places = (there.places.iter().enumerate())
                .filter(|(n, _)| !missing(*n))
                .map(|(_, place)| (place.exact() + further) / whole(360))
                .collect();
            (carried, places)
        };
        let mut pins = Vec::new();
        for (id, lever) in self.works.levers() {
            if let Some(stops) = lever.stops() {
                let (carried, places) = place(stops.pin, stops.further.exact());
                pins.push(PinWay {
                    lever: Some(id),
                    pin: stops.pin,
                    carried,
                    places,
                });
            }
        }
        if let Some(rack) = self.works.rack() {
            let (carried, places) = place(rack.pallet, &Exact::zero());
            pins.push(PinWay {
                lever: None,
                pin: rack.pallet,
                carried,
                places,
            });
        }
        pins
    }

    /// Sets each driver's ticks so that every place comes at a whole one.
    fn ticks(
        &mut self,
        tips: &[Tip],
        carried: &[Carried],
        pins: &[PinWay],
    ) -> Result<(), NoStrike> {
        let mut finest = vec![BigInt::one(); self.drivers.len()];
        // Halves of a quarter of an hour come at a whole tick, since blows belong to the nearest hour.
        finest[HAND] = BigInt::from(8);
        let mut fit = |carried: &Carried, places: &mut dyn Iterator<Item = &Exact>| {
            let finest = &mut finest[carried.driver];
            let mut take = |way: Exact| {
                // Finer than is reckoned with already: that is told below.
                if finest.bits() > MOST_BITS {
                    return;
                }
                let left = way * Exact::from_integer(finest.clone());
                *finest *= left.denom();
            };
            take(carried.rate.recip());
            take(&carried.ahead / &carried.rate);
            for place in places {
                take(place / &carried.rate);
            }
        };
        for (tip, carried) in tips.iter().zip(carried) {
            let corners = tip.profile.corners.iter();
            fit(carried, &mut corners.map(|corner| &corner.at));
        }
        for way in pins {
            fit(&way.carried, &mut way.places.iter());
        }
        for (driver, finest) in self.drivers.iter_mut().zip(finest) {
            driver.ticks = finest
                .to_i128()
                .filter(|ticks| *ticks < 1 << MOST_BITS)
                .ok_or(NoStrike::TooFine)?;
        }
        Ok(())
    }

    fn tick(&self, carried: &Carried, place: &Exact) -> Result<Tick, NoStrike> {
        let turns = into_turn(&(place - &carried.ahead));
        self.way(carried, &turns)
    }

    fn way(&self, carried: &Carried, turns: &Exact) -> Result<Tick, NoStrike> {
        let ticks = Exact::from_integer(self.drivers[carried.driver].ticks.into());
        let way = turns / &carried.rate * ticks;
        way.to_integer().to_i128().ok_or(NoStrike::TooFine)
    }

    fn feeler(
        &self,
        track: TrackId,
        profile: &Profile,
        carried: &Carried,
        heights: &[Exact],
    ) -> Result<Feeler, NoStrike> {
        let turn = self.way(carried, &Exact::one())?;
        let n = profile.corners.len();
        let mut marks = Vec::with_capacity(n);
        for (i, corner) in profile.corners.iter().enumerate() {
            let next = &profile.corners[(i + 1) % n];
            let came = &profile.corners[(i + n - 1) % n];
            let falls = corner.after < corner.before;
            let highest = (&corner.before).max(&corner.after);
            // On a slope that leads on down, what is reached at the corner is left at once.
            let behind = (&corner.after).min(&next.before);
            marks.push(Mark {
                tick: self.tick(carried, &corner.at)?,
                at: class_of(heights, highest),
                after: class_of(heights, behind),
                wall: corner.after > corner.before,
                falls,
                rises: !falls && next.before > corner.after && came.after >= corner.before,
                before: corner.before.clone(),
                behind: corner.after.clone(),
            });
        }
        marks.sort_by_key(|mark| mark.tick);
        let period = least_period(&mut marks, turn);
        Ok(Feeler {
            lever: None,
            arbor: 0,
            track,
            on: match self.works.track(track).carrier {
                Carrier::Arbor(on) => Some(on),
                Carrier::Hours(_) => None,
            },
            driver: carried.driver,
            period,
            turn,
            marks,
            flat: class_of(heights, &profile.level),
            level: profile.level.clone(),
            locks: false,
            hammer: false,
            voice_of: 0,
        })
    }

    /// Which hammers make one blow together: those let go by one track, and those of which each alone is let go once for every
    /// blow of the strike.
    fn voices(&self, feelers: &mut [Feeler]) {
        for f in 0..feelers.len() {
            let alike = |&other: &usize| {
                let (one, other) = (&feelers[other], &feelers[f]);
                let every =
                    self.lets_go_every_blow(one.track) && self.lets_go_every_blow(other.track);
                one.hammer && (one.track == other.track || every)
            };
            feelers[f].voice_of = (0..f).find(alike).unwrap_or(f);
        }
    }

    /// Whether a track lets go once for every blow of the strike, with nothing missing.
    fn lets_go_every_blow(&self, track: TrackId) -> bool {
        let track = self.works.track(track);
        let (Carrier::Arbor(on), Shape::Lobes { places, .. }, Some(strike)) =
            (&track.carrier, &track.shape, self.movement.strike())
        else {
            return false;
        };
        let read_at = strike.read_at;
        self.movement.same_train(*on, read_at) && {
            let speed = self.movement.turns(*on) / self.movement.turns(read_at);
            Exact::from_integer(places.len().into()) * speed == strike.blows_per_turn
        }
    }

    fn arms(
        &self,
        arbors: &[LeverArbor],
        pins: &[PinWay],
        feelers: &[Feeler],
    ) -> Result<(Vec<Arm>, Option<RackRun>), NoStrike> {
        let mut arms = Vec::new();
        let mut run = None;
        for way in pins {
            let PinWay {
                lever,
                pin,
                carried,
                places,
            } = way;
            let period = self.way(carried, &Exact::one())?;
            let mut ticks = Vec::new();
            for place in places {
                ticks.push(self.tick(carried, place)?);
            }
            ticks.sort_unstable();
            ticks.dedup();
            let Some(lever) = lever else {
                let rack = self.works.rack().ok_or(NoStrike::NoLevers)?;
                let tail = feelers.iter().position(|f| f.lever.is_none());
                let tail = tail.ok_or(NoStrike::NoLevers)?;
                let tooth = self.parts_of_a_tooth(rack, &feelers[tail])?;
                let fall = |height: &Exact| parts(&-height, tooth);
                let mut falls = Vec::new();
                for mark in &feelers[tail].marks {
                    falls.push([fall(&mark.before)?, fall(&mark.behind)?]);
                }
                run = Some(RackRun {
                    arbor: rack.on.index(),
                    pallet: rack.pallet,
                    on: self.works.pin(rack.pallet).on,
                    tail,
                    hook: rack.hook.index(),
                    free: class_of(&arbors[rack.hook.index()].heights, rack.free.exact()),
                    driver: carried.driver,
                    period,
                    places: ticks,
                    tooth,
                    falls,
                    flat: fall(&feelers[tail].level)?,
                    enters: parts(&rack.enters, tooth)?,
                    teeth: tooth * Tick::from(rack.teeth),
                    tooth_deg: rack.tooth.exact().clone(),
                });
                continue;
            };
            let Some(stops) = self.works.lever(*lever).stops() else {
                continue;
            };
            let reach = &stops.reach;
            let arbor = self.works.lever(*lever).on;
            arms.push(Arm {
                lever: *lever,
                pin: *pin,
                on: self.works.pin(*pin).on,
                arbor: arbor.index(),
                driver: carried.driver,
                period,
                places: ticks,
                path: self.path(*lever, arbor, reach, arbors),
                reach: self.reach(*lever, reach),
            });
        }
        if let Some(run) = &run {
            for arm in &mut arms {
                let teeth = &arm.reach / &run.tooth_deg;
                match &mut arm.path {
                    Path::RackBelow(left) | Path::RackAbove(left) => {
                        *left = parts(&teeth, run.tooth)?;
                    }
                    _ => {}
                }
            }
        }
        Ok((arms, run))
    }

    /// So many parts of a tooth that every fall, every arm's height and what the pallet leaves out is a whole number of them.
    fn parts_of_a_tooth(&self, rack: &Rack, tail: &Feeler) -> Result<Tick, NoStrike> {
        let mut all = rack.enters.denom().lcm(tail.level.denom());
        for mark in &tail.marks {
            all = all.lcm(mark.before.denom()).lcm(mark.behind.denom());
        }
        for (id, lever) in self.works.levers() {
            if let Some(stops) = lever.stops()
                && lever.on == rack.on
            {
                all = all.lcm((self.reach(id, &stops.reach) / rack.tooth.exact()).denom());
            }
        }
        all.to_i128()
            .filter(|all| *all < 1 << 100)
            .ok_or(NoStrike::TooFine)
    }

    /// The height of its arbor at which an arm comes into the path or leaves it: bent up, a lower one.
    fn reach(&self, lever: LeverId, reach: &Reach) -> Exact {
        let (Reach::Below(height) | Reach::Above(height)) = reach;
        height.exact() - bend(lever, self.put_in)
    }

    fn path(
        &self,
        lever: LeverId,
        arbor: LeverArborId,
        reach: &Reach,
        arbors: &[LeverArbor],
    ) -> Path {
        let class = class_of(&arbors[arbor.index()].heights, &self.reach(lever, reach));
        match (reach, self.works.rack()) {
            // Told in teeth, as the rack is; made whole with the falls.
            (Reach::Below(_), Some(rack)) if rack.on == arbor => Path::RackBelow(0),
            (Reach::Above(_), Some(rack)) if rack.on == arbor => Path::RackAbove(0),
            (Reach::Below(_), _) => Path::Below(class),
            (Reach::Above(_), _) => Path::Above(class),
        }
    }
}

/// A number of teeth in parts of one.
fn parts(teeth: &Exact, tooth: Tick) -> Result<Tick, NoStrike> {
    let parts = teeth * Exact::from_integer(tooth.into());
    parts.to_integer().to_i128().ok_or(NoStrike::TooFine)
}

/// How many of some heights, in order, are at or below this one.
pub(crate) fn class_of(heights: &[Exact], height: &Exact) -> Class {
    heights.partition_point(|h| h <= height)
}

/// The ticks after which marks come again, which are then left out.
fn least_period(marks: &mut Vec<Mark>, turn: Tick) -> Tick {
    let n = marks.len();
    for parts in (2..=n).rev() {
        let Ok(count) = Tick::try_from(parts) else {
            continue;
        };
        if !n.is_multiple_of(parts) || turn % count != 0 {
            continue;
        }
        let (each, period) = (n / parts, turn / count);
        let same = (0..n).all(|i| {
            let (here, there) = (&marks[i], &marks[(i + each) % n]);
            let gone = (there.tick - here.tick).mod_floor(&turn);
            gone == period
                && (here.at, here.after, here.wall, here.falls)
                    == (there.at, there.after, there.wall, there.falls)
                && (&here.before, &here.behind) == (&there.before, &there.behind)
        });
        if same {
            marks.truncate(each);
            return period;
        }
    }
    turn
}
