//! Blows against the cycle: which hour each strike was, and which is missing, doubled, late, or struck a wrong number. Which cycle the
//! clock should strike comes in as an argument; what to do about it is said elsewhere.

use crate::bands::whole;
use crate::strike::HeardStrike;

/// What a clock strikes in twelve hours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cycle {
    /// The hours.
    Hours,
    /// The hours, and one blow at each half.
    HoursAndHalves,
    /// The hours, and one blow at each half but half past twelve and half past one.
    HoursAndTenHalves,
    /// One to eight, one more at each half hour.
    ShipsBells,
}

/// What was heard where a strike was due.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// The hour, 1 to 12; at a half, the one before it. By ship's bells it is one of three: they come round every four hours.
    pub hour: u8,
    /// Whether it is the half after it.
    pub half: bool,
    /// What it is called where the clock strikes ship's bells, which tell no hour.
    pub bells: Option<usize>,
    /// When it was due, seconds from the beginning, by its neighbours.
    pub due_s: f64,
    /// Blows due.
    pub blows: usize,
    /// Which of the strikes heard answer to it: none if it is missing, two if doubled.
    pub heard: Vec<usize>,
    /// How late the first came, seconds.
    pub late_s: Option<f64>,
}

/// What is wrong with one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HourFault {
    /// Nothing was heard.
    Missing,
    /// Struck more than once.
    Doubled,
    /// Another number of blows.
    Number,
    /// More than [`LATE_S`] off.
    Late,
}

/// Off by more than this, a strike is early or late, seconds: hands may be set no better than a minute.
pub const LATE_S: f64 = 120.0;
const STEP_S: f64 = 1_800.0;

impl Due {
    /// What is wrong with it, the gravest first; nothing if it is right.
    pub fn wrong(&self, strikes: &[HeardStrike]) -> Option<HourFault> {
        match self.heard[..] {
            [] => Some(HourFault::Missing),
            [one] if strikes[one].blow_times_s.len() != self.blows => Some(HourFault::Number),
            [_] => self
                .late_s
                .filter(|late| late.abs() > LATE_S)
                .map(|_| HourFault::Late),
            _ => Some(HourFault::Doubled),
        }
    }
}

/// Holds strikes against a cycle; nothing for fewer than two strikes, or where not even half of them fit.
pub fn against(strikes: &[HeardStrike], cycle: Cycle) -> Option<Vec<Due>> {
    if strikes.len() < 2 {
        return None;
    }
    let at: Vec<f64> = strikes.iter().map(|s| s.blow_times_s[0]).collect();
    // In steps of half an hour from the first, which may itself be an hour or a half, and any of the twelve.
    let mut best: Option<(usize, usize, Vec<usize>)> = None;
    for anchor in 0..at.len() {
        let steps: Vec<i64> = at
            .iter()
            .map(|t| crate::bands::whole_number((t - at[anchor]) / STEP_S))
            .collect();
        let base = steps.iter().copied().min().unwrap_or(0);
        let steps: Vec<usize> = steps
            .iter()
            .map(|s| usize::try_from(s - base).unwrap_or(0))
            .collect();
        for start in 0..24 {
            let right = (steps.iter().zip(strikes))
                .filter(|(step, strike)| due(start + **step, cycle) == strike.blow_times_s.len())
                .count();
            if best.as_ref().is_none_or(|(most, _, _)| right > *most) {
                best = Some((right, start, steps.clone()));
            }
        }
    }
    let (right, start, steps) = best?;
    if 2 * right < strikes.len() {
        return None;
    }
    let last = steps.iter().copied().max()?;
    // The hour by the clock's own strikes: the middle one of all that each says of the first.
    let mut zero: Vec<f64> = at
        .iter()
        .zip(&steps)
        .map(|(t, s)| t - whole(*s) * STEP_S)
        .collect();
    let zero = crate::contour::quantile64(&mut zero, 0.5);
    let mut told = Vec::new();
    for step in 0..=last {
        let blows = due(start + step, cycle);
        let heard: Vec<usize> = (0..strikes.len()).filter(|&i| steps[i] == step).collect();
        if blows == 0 && heard.is_empty() {
            continue;
        }
        let due_s = zero + whole(step) * STEP_S;
        let hour = ((start + step) / 2 + 11) % 12 + 1;
        told.push(Due {
            hour: u8::try_from(hour).unwrap_or(12),
            half: (start + step) % 2 == 1,
            bells: (cycle == Cycle::ShipsBells).then_some(blows),
            due_s,
            blows,
            late_s: heard.first().map(|&i| at[i] - due_s),
            heard,
        });
    }
    Some(told)
}

/// Blows due at a half hour counted from twelve o'clock.
fn due(step: usize, cycle: Cycle) -> usize {
    let hour = (step / 2 + 11) % 12 + 1;
    match (step % 2, cycle) {
        (_, Cycle::ShipsBells) => (step + 7) % 8 + 1,
        (0, _) => hour,
        (_, Cycle::HoursAndHalves) => 1,
        (_, Cycle::HoursAndTenHalves) if hour != 12 && hour != 1 => 1,
        _ => 0,
    }
}

/// How the pace falls: seconds between blows of each strike of three blows and more, by when it was struck.
fn paces(strikes: &[HeardStrike]) -> Vec<(f64, f64)> {
    strikes
        .iter()
        .filter(|s| s.blow_times_s.len() >= 3)
        .filter_map(|s| Some((s.blow_times_s[0], s.pace_s()?)))
        .collect()
}

/// The seconds between blows at the beginning and at the end, by a straight line through all; nothing for fewer than six.
pub fn pace_falls(strikes: &[HeardStrike]) -> Option<(f64, f64)> {
    let all = paces(strikes);
    if all.len() < 6 {
        return None;
    }
    let n = whole(all.len());
    let (t, p) = all
        .iter()
        .fold((0.0, 0.0), |(t, p), x| (t + x.0 / n, p + x.1 / n));
    let lever: f64 = all.iter().map(|x| (x.0 - t).powi(2)).sum();
    let slope = all.iter().map(|x| (x.0 - t) * (x.1 - p)).sum::<f64>() / lever;
    let (first, last) = (all.first()?.0, all.last()?.0);
    Some((p + slope * (first - t), p + slope * (last - t)))
}
