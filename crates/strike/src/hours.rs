//! The cycle hour by hour: what was struck against what should be, and how near each edge and each pin was.

use crate::machine::{HAND, Machine, Tick};
use crate::points::{IN_THE_RACK, Point, points};
use crate::record::Record;
use crate::run::Run;
use crate::watch::{Event, Pose, Seen};
use crate::{End, PutIn, Unfit};
use movement::{Blows, LeverId, Movement, PinId, TrackId};
use num_traits::Zero;
use quantity::{Degrees, Exact, fraction};
use std::sync::Arc;

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

/// A hammer as the train locked, or while it is warned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtRest {
    /// The hammer.
    pub lever: LeverId,
    /// Whether it lies on its stop: nothing lifts it.
    pub at_rest: bool,
    /// How high it is held, in degrees of its arbor.
    pub height: Degrees,
    /// Degrees of its wheel since it was let go.
    pub since: Degrees,
    /// Degrees of its wheel until it is lifted again.
    pub until: Degrees,
    /// Degrees of its wheel to one tooth, where it has one.
    pub tooth: Option<Degrees>,
}

/// A locking arm while its train is warned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arm {
    /// The arm.
    pub lever: LeverId,
    /// How much its arbor is too low, or too high, to be clear of its pin, in degrees; nothing where it is clear.
    pub in_path: Option<Degrees>,
    /// Degrees of the pin's arbor since the pin was at the arm.
    pub past: Degrees,
}

/// The gathering pallet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pallet {
    /// Its pin.
    pub pin: PinId,
    /// Degrees of its arbor until it has gathered the next tooth, were there one; nought where it still lies against the one
    /// that it just gathered.
    pub to_go: Degrees,
}

impl Pallet {
    /// That it is in the rack's teeth, if it is.
    pub(crate) fn in_teeth(&self, warned: bool) -> Option<Point> {
        let (over, under) = IN_THE_RACK;
        let is_in = self.to_go < Degrees::turns(&fraction(over, under));
        is_in.then(|| Point::PalletIn {
            pallet: self.pin,
            to_go: self.to_go.clone(),
            warned,
        })
    }
}

/// Where hook and pallet of a rack are as the train locks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HookDown {
    /// How much higher the hook's arbor stands than it would behind the last tooth, in degrees.
    pub up: Degrees,
    /// Teeth that are still to be gathered.
    pub left: Exact,
    /// The pallet.
    pub pallet: Pallet,
}

/// How a train was warned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warned {
    /// The arm that caught the pin.
    pub by: LeverId,
    /// The warning run, in turns of the pin's arbor.
    pub turns: Exact,
    /// The hammers of that train.
    pub hammers: Vec<AtRest>,
    /// Its locking arms.
    pub arms: Vec<Arm>,
    /// Its pallet, where it gathers a rack.
    pub pallet: Option<Pallet>,
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
    /// The arm that should have warned it, where there is one.
    pub warns: Option<LeverId>,
    /// Hook and pallet, where it gathers a rack.
    pub hook: Option<HookDown>,
}

/// One hour, half or quarter of the cycle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hour {
    /// Minutes since the start.
    pub minutes: u32,
    /// Blows it should strike.
    pub expected: u32,
    /// Blows it struck: a blow is one lifting, however many hammers that lets go.
    pub blows: u32,
    /// What sounded: each hammer of each blow.
    pub voices: u32,
    /// Blows struck before their time.
    pub early: u32,
    /// Notes the chime owes, where there is one.
    pub owed: Option<u32>,
    /// Notes it gave.
    pub notes: u32,
    /// How it was warned.
    pub warned: Option<Warned>,
    /// Arms that are to warn and stood too low for that as their trains were let go, by so much.
    pub too_low: Vec<(LeverId, Degrees)>,
    /// How the rack fell.
    pub fallen: Option<Fallen>,
    /// How it locked; nothing where it did not run or not stop.
    pub lock: Option<Lock>,
    /// How the chime was warned.
    pub chime_warned: Option<Warned>,
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

    /// Whether all seven points of a good place hold, as far as they can be judged.
    pub fn is_right(&self) -> bool {
        points(self).is_empty()
    }

    /// Whether it struck, and chimed, what it should, and nothing before its time: the first of the points alone.
    pub fn is_number_right(&self) -> bool {
        points(self).iter().all(|point| point.number() > 1)
    }

    /// How the strike's own train was warned and locked and how often it sounded, and the same of the chime.
    pub(crate) fn trains(&self) -> [(Option<&Warned>, Option<&Lock>, u32); 2] {
        let (warned, lock) = (self.chime_warned.as_ref(), self.chime_lock.as_ref());
        [
            (self.warned.as_ref(), self.lock.as_ref(), self.blows),
            (warned, lock, self.notes),
        ]
    }
}

/// A whole run.
#[derive(Debug, Clone)]
pub struct Struck {
    /// Every hour, half and quarter of the cycle that was reached.
    pub hours: Vec<Hour>,
    /// Blows that the whole cycle owes.
    pub expected: u32,
    /// Blows struck while it came to rest at the start, or went on until it was given up.
    pub before: u32,
    /// Whether it came to rest at the start, so that the hours could begin.
    pub came_to_rest: bool,
    /// How it ended.
    pub end: End,
    /// What was seen, in order, where that was asked for.
    pub events: Vec<Event>,
    /// Where all stood, in order, so close that everything goes straight from one to the next; where that was asked for.
    pub motion: Vec<Arc<Pose>>,
    /// Whether more was seen than is kept: [`MOST_EVENTS`](crate::bounds::MOST_EVENTS),
    /// [`MOST_PLACES_SHOWN`](crate::bounds::MOST_PLACES_SHOWN). The hours are told to the end all the same.
    pub cut_short: bool,
}

impl Struck {
    /// Whether every hour of the cycle was run: nothing jammed, no train ran away and nothing was left off.
    pub fn is_whole(&self) -> bool {
        !matches!(self.end, End::Jam(_) | End::Runaway { .. } | End::LeftOff)
    }

    /// Whether every hour of the cycle was reached and is right.
    pub fn is_right(&self) -> bool {
        self.is_whole() && self.hours.iter().all(Hour::is_right)
    }

    /// Blows of all hours that were reached.
    pub fn total(&self) -> u32 {
        self.hours.iter().map(|hour| hour.blows).sum()
    }

    /// Blows that those hours owe.
    pub fn due(&self) -> u32 {
        self.hours.iter().map(|hour| hour.expected).sum()
    }

    /// The hours that were got past: all, or where it jams or runs on those before the last it reached.
    pub fn past(&self) -> &[Hour] {
        let last = usize::from(!self.is_whole());
        &self.hours[..self.hours.len().saturating_sub(last)]
    }

    /// Of an event that was kept, the one before the last: what was seen last before it ended there. Nothing where more was
    /// seen than is kept.
    pub fn last_good(&self) -> Option<(&Event, &Event)> {
        match &self.events[..] {
            [.., good, last] if !self.cut_short => Some((good, last)),
            _ => None,
        }
    }

    /// For each hour the number of its first event: an event is of the hour, half or quarter that the hand is nearest to, of
    /// two the later. After the last hour how many events there are.
    pub fn first_events(&self) -> Vec<usize> {
        let mut first = vec![0];
        for hour in &self.hours {
            let until = Exact::new((hour.minutes + self.hours[0].minutes / 2).into(), 60.into());
            let later = self
                .events
                .iter()
                .position(|event| event.pose.hours >= until);
            first.push(later.unwrap_or(self.events.len()));
        }
        if let Some(last) = first.last_mut() {
            *last = self.events.len();
        }
        first
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
    let own = (machine.drivers.iter()).position(|d| d.train == Some(train));
    let mut record = Record::new(movement, &machine, own, watched, owed);
    let mut run = Run::new(&machine);
    record.event(&run, Seen::Held);
    let ended = through(&mut run, &mut record, cycle);
    record.struck.end = match ended {
        Ok(true) => End::SamePlace,
        Ok(false) => End::AnotherPlace,
        Err(end) => end,
    };
    let last = match record.struck.end {
        End::Jam(jam) => Seen::Jams(jam),
        End::Runaway { train, .. } => Seen::RunsOn(train),
        End::LeftOff => Seen::LeftOff,
        _ => Seen::Over,
    };
    record.event(&run, last);
    if !record.struck.is_whole() {
        let reached = record.index(&run).unwrap_or(0);
        record.struck.hours.truncate(reached);
    }
    Ok(record.struck)
}

/// Through the whole cycle; whether all then stands as it did.
fn through(run: &mut Run<'_>, record: &mut Record<'_>, cycle: u32) -> Result<bool, End> {
    run.settle(record)?;
    record.struck.came_to_rest = true;
    let start = run.at.clone();
    let until = run.machine.drivers[HAND].ticks * Tick::from(cycle);
    while run.step_hand(until, record)? {}
    let machine = run.machine;
    let back = |driver: usize, period: Tick| (run.at[driver] - start[driver]) % period == 0;
    let mut felt = machine.feelers.iter().filter(|f| !f.marks.is_empty());
    let tracks = felt.all(|f| back(f.driver, f.period));
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
            voices: 0,
            early: 0,
            owed: chime.map(|notes| {
                let quarter = (minutes / 15 + 3) % 4;
                let notes = usize::try_from(quarter).ok().and_then(|q| notes.get(q));
                notes.map_or(0, |&n| n.into())
            }),
            notes: 0,
            warned: None,
            too_low: Vec::new(),
            fallen: None,
            lock: None,
            chime_warned: None,
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
