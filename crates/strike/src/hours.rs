//! The cycle, hour by hour.

use crate::hour::Hour;
use crate::machine::{HAND, Machine, Tick};
use crate::record::{Account, Record};
use crate::run::Run;
use crate::watch::{Event, MovementPose, StrikeEvent};
use crate::{End, NoStrike, PlantedFault};
use movement::{Blows, Movement};
use quantity::Exact;
use std::sync::Arc;

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
    pub motion: Vec<Arc<MovementPose>>,
    /// Whether more was seen than is kept: [`MOST_EVENTS`](crate::bounds::MOST_EVENTS),
    /// [`MOST_PLACES_SHOWN`](crate::bounds::MOST_PLACES_SHOWN). The hours are told to the end all the same.
    pub cut_short: bool,
    /// Work that it took, in units of [`MOST_WORK`](crate::bounds::MOST_WORK).
    pub(crate) work: u64,
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
pub fn strike(
    movement: &Movement,
    put_in: &[PlantedFault],
    watched: bool,
) -> Result<Struck, NoStrike> {
    let machine = Machine::of(movement, put_in)?;
    let account = match watched {
        true => Account::Motion,
        false => Account::Hours,
    };
    through_cycles(movement, &machine, account, 1)
}

/// Runs the strike of works that are put together through so many cycles, or fewer, if before that all stands as it did.
pub(crate) fn through_cycles(
    movement: &Movement,
    machine: &Machine,
    account: Account,
    cycles: u32,
) -> Result<Struck, NoStrike> {
    let strike = movement.strike().ok_or(NoStrike::NoStrike)?;
    if !machine.feelers.iter().any(|f| f.hammer) {
        return Err(NoStrike::NoHammer);
    }
    let cycle = u32::from(strike.cycle_hours);
    let train = movement.train_of(strike.read_at);
    let owed = owed(movement, cycle, cycles);
    let own = (machine.drivers.iter()).position(|d| d.train == Some(train));
    let mut record = Record::new(movement, machine, own, account, owed);
    let mut run = Run::new(machine);
    record.event(&run, StrikeEvent::Held);
    record.struck.end = match run.settle(&mut record) {
        Ok(()) => {
            record.struck.came_to_rest = true;
            let start = run.at.clone();
            let cycles = Cycles { cycle, cycles };
            cycles.through(&mut run, &mut record, &start)
        }
        Err(end) => end,
    };
    record.struck.work = run.worked();
    record.struck.expected = (record.struck.hours.iter()).map(|hour| hour.expected).sum();
    let last = match record.struck.end {
        End::Jam(jam) => StrikeEvent::Jams(jam),
        End::Runaway { train, .. } => StrikeEvent::RunsOn(train),
        End::LeftOff => StrikeEvent::LeftOff,
        _ => StrikeEvent::Over,
    };
    record.event(&run, last);
    if !record.struck.is_whole() {
        let reached = record.index(&run).unwrap_or(0);
        record.struck.hours.truncate(reached);
    }
    Ok(record.struck)
}

/// How many cycles are run at most, each of so many hours.
struct Cycles {
    cycle: u32,
    cycles: u32,
}

impl Cycles {
    /// One after the other, until all stands as at the start; of hours only those are kept that were run.
    fn through(&self, run: &mut Run<'_>, record: &mut Record<'_>, start: &[Tick]) -> End {
        let hour = run.machine.drivers[HAND].ticks;
        for ran in 1..=self.cycles {
            let until = hour * Tick::from(self.cycle * ran);
            loop {
                match run.step_hand(until, record) {
                    Ok(true) => {}
                    Ok(false) => break,
                    Err(end) => return end,
                }
            }
            if is_back(run, start) {
                let hours = &mut record.struck.hours;
                let minutes = self.cycle * ran * 60;
                hours.retain(|hour| hour.minutes <= minutes);
                return End::SamePlace;
            }
        }
        End::AnotherPlace
    }
}

/// Whether all stands as it stood at the start.
fn is_back(run: &Run<'_>, start: &[Tick]) -> bool {
    let machine = run.machine;
    let back = |driver: usize, period: Tick| (run.at[driver] - start[driver]) % period == 0;
    let mut felt = machine.feelers.iter().filter(|f| !f.marks.is_empty());
    let tracks = felt.all(|f| back(f.driver, f.period));
    let pins = machine.arms.iter().all(|a| back(a.driver, a.period));
    tracks && pins && run.left == 0
}

/// Minutes from one time at which something may be owed to the next.
pub(crate) fn minutes_apart(movement: &Movement) -> u32 {
    let chime = movement.works().and_then(|works| works.chime());
    match (chime, movement.strike().map(|strike| strike.blows)) {
        (Some(_), _) => 15,
        (None, None | Some(Blows::Hours)) => 60,
        (None, Some(_)) => 30,
    }
}

/// What each hour, half and quarter of so many cycles owes: after each all stands as it did, and the same is owed again.
fn owed(movement: &Movement, cycle: u32, cycles: u32) -> Vec<Hour> {
    let blows = movement
        .strike()
        .map_or(Blows::Hours, |strike| strike.blows);
    let chime = movement.works().and_then(|works| works.chime());
    let step = minutes_apart(movement);
    let a_cycle = cycle * 60 / step;
    (0..a_cycle * cycles)
        .map(|n| ((n + 1) * step, (n % a_cycle + 1) * step))
        .map(|(minutes, of_cycle)| Hour {
            minutes,
            expected: blows_at(blows, of_cycle),
            blows: 0,
            voices: 0,
            early: 0,
            owed: chime.map(|notes| {
                let quarter = (of_cycle / 15 + 3) % 4;
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
