//! From where sounds begin to a pulse: the full period, and where in it tick and tock fall. Of all pulses the one is taken
//! that explains the most of the strong sounds and foretells the fewest that are not there. No sound is measured here.

use crate::bands::{count, whole};
use crate::contour::{Start, quantile64};

/// Full periods that are looked for, seconds: from a timer's quick balance to a tower's pendulum of two seconds.
pub(crate) const PERIODS_S: std::ops::RangeInclusive<f64> = 0.22..=4.6;
/// The part of the period from tick to tock: further out of beat no clock runs.
const SPLITS: std::ops::RangeInclusive<f64> = 0.3..=0.7;
/// Sounds of one tick may begin this far from where it is expected, seconds, as long as the best is not yet known.
const WIDTH_S: f64 = 0.022;
/// What a foretold beat costs, in parts of a usual one: a pulse that is right less often than this explains nothing.
const COST: f64 = 0.34;
/// Below the usual loudness by this much (natural logarithm of power, 20 decibels) a sound no longer counts as a beat.
const FADES: f64 = 4.6;
/// Width of a bin of time when periods are looked for, seconds.
const BIN_S: f64 = 0.005;

/// Two beats in each full period.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pulse {
    /// Seconds from tick to tick.
    pub(crate) full_s: f64,
    /// When some tick falls.
    pub(crate) tick_s: f64,
    /// Seconds from tick to tock.
    pub(crate) tock_s: f64,
    /// What it explains, less what it costs, in usual beats.
    pub(crate) score: f64,
}

/// A sound's weight as a beat, from 0 to 1: as loud as the usual beat, and far above what merely happens.
fn weigh(starts: &[Start], length_s: f64) -> Vec<(f64, f64)> {
    let mut heights: Vec<f64> = starts.iter().map(|start| start.height).collect();
    heights.sort_by(|a, b| b.total_cmp(a));
    let Some(&usual) = heights.get(count(length_s / 2.0).min(heights.len().saturating_sub(1)))
    else {
        return Vec::new();
    };
    let usual = usual.max(0.3);
    starts
        .iter()
        .map(|start| {
            let loud = 1.0 - (usual - start.height) / FADES;
            let clear = start.height / usual;
            (start.at_s, loud.min(clear).clamp(0.0, 1.0))
        })
        .filter(|(_, g)| *g > 0.05)
        .collect()
}

/// The stretch in which a pulse is looked for: its length in seconds, and the parts of it in which nothing can be heard.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Span<'a> {
    pub(crate) length_s: f64,
    pub(crate) struck: &'a [(f64, f64)],
}

impl Span<'_> {
    fn is_open(self, at: f64) -> bool {
        at < self.length_s
            && !self
                .struck
                .iter()
                .any(|(from, to)| (*from..*to).contains(&at))
    }

    fn open_s(self) -> f64 {
        let part = |(from, to): &(f64, f64)| (to.min(self.length_s) - from.max(0.0)).max(0.0);
        (self.length_s - self.struck.iter().map(part).sum::<f64>()).max(0.5)
    }
}

/// The pulse in sounds that begin within a stretch, or nothing.
pub(crate) fn find(starts: &[Start], span: Span<'_>) -> Option<Pulse> {
    let length_s = span.length_s;
    let weighed = weigh(starts, span.open_s());
    if weighed.len() < 3 {
        return None;
    }
    let mut best: Option<Pulse> = None;
    for full in candidates(&weighed, length_s) {
        if let Some(pulse) = best_pulse(&weighed, full, span)
            && best.is_none_or(|best| pulse.score > best.score)
        {
            best = Some(pulse);
        }
    }
    best.filter(|pulse| pulse.score > 0.0)
}

/// Periods at which the sounds resemble themselves.
fn candidates(weighed: &[(f64, f64)], length_s: f64) -> Vec<f64> {
    let most = PERIODS_S.end().min(length_s * 0.75);
    let bins = count(most / BIN_S) + 8;
    // Pairs of sounds, by the time between them: the same as an autocorrelation, for the few sounds there are.
    let mut alike = vec![0.0; bins];
    for (i, &(a, g)) in weighed.iter().enumerate() {
        for &(b, f) in &weighed[i + 1..] {
            let lag = b - a;
            if lag > most + WIDTH_S {
                break;
            }
            let at = lag / BIN_S;
            let near = count(at - 4.0);
            let far = count(at + 4.0).min(bins - 1);
            for (k, sum) in alike.iter_mut().enumerate().take(far + 1).skip(near) {
                let off = (whole(k) - at).abs() / 4.4;
                if off < 1.0 {
                    *sum += g * f * (1.0 - off);
                }
            }
        }
    }
    let share = |k: usize| alike[k] / (length_s - whole(k) * BIN_S).max(0.25 * length_s);
    let mut peaks: Vec<(f64, f64)> = Vec::new();
    for k in 1..bins - 1 {
        let period = whole(k) * BIN_S;
        if alike[k] > 0.0
            && alike[k] >= alike[k - 1]
            && alike[k] > alike[k + 1]
            && period >= 0.5 * PERIODS_S.start()
        {
            peaks.push((share(k), period));
        }
    }
    peaks.sort_by(|a, b| b.0.total_cmp(&a.0));
    peaks.truncate(30);
    let mut periods: Vec<f64> = Vec::new();
    for (_, lag) in peaks {
        // A beat alone, where tick and tock are alike, gives half the period.
        for period in [lag, 2.0 * lag] {
            if PERIODS_S.contains(&period) && period <= most {
                periods.push(period);
            }
        }
    }
    periods.sort_by(f64::total_cmp);
    periods.dedup_by(|a, b| (*a - *b).abs() < 0.4 * BIN_S);
    periods
}

/// How far from its place a beat may fall at such a period.
fn width(full_s: f64) -> f64 {
    WIDTH_S.min(0.06 * full_s)
}

/// The best pulse near a period: first the period sharpened until the folded sounds are most gathered, then tick and tock.
fn best_pulse(weighed: &[(f64, f64)], full_s: f64, span: Span<'_>) -> Option<Pulse> {
    let length_s = span.length_s;
    let width = width(full_s);
    let cycles = (length_s / full_s).max(1.0);
    // Over all cycles an error of the period may smear by no more than the width of a beat.
    let step = 0.3 * width / cycles;
    let steps = count((1.5 * BIN_S / step).min(60.0));
    let mut sharpest = (0.0, full_s);
    for k in 0..=2 * steps {
        let period = full_s + (whole(k) - whole(steps)) * step;
        let profile = fold(weighed, period, width);
        let gathered: f64 = profile.iter().map(|p| p * p).sum::<f64>() / whole(profile.len());
        if gathered > sharpest.0 {
            sharpest = (gathered, period);
        }
    }
    let period = sharpest.1;
    let profile = fold(weighed, period, width);
    let bin = period / whole(profile.len());
    let n = profile.len();
    let mut peaks: Vec<usize> = (0..n)
        .filter(|&k| {
            profile[k] > 0.0
                && profile[k] >= profile[(k + n - 1) % n]
                && profile[k] > profile[(k + 1) % n]
        })
        .collect();
    peaks.sort_by(|&a, &b| profile[b].total_cmp(&profile[a]));
    peaks.truncate(8);
    let mut best: Option<Pulse> = None;
    for &a in &peaks {
        for &b in &peaks {
            let split = whole((b + n - a) % n) / whole(n);
            if !SPLITS.contains(&split) {
                continue;
            }
            let mut pulse = Pulse {
                full_s: period,
                tick_s: whole(a) * bin,
                tock_s: split * period,
                score: 0.0,
            };
            let score = explained(weighed, &pulse, span, width);
            // Far out of beat is less likely than near; a fifth of the score at a split of a third.
            let unlikely = 1.0 - 0.2 * ((split - 0.5) / 0.17).powi(2);
            pulse.score = score * if score > 0.0 { unlikely } else { 1.0 };
            if best.is_none_or(|best| pulse.score > best.score) {
                best = Some(pulse);
            }
        }
    }
    best
}

/// The sounds laid over each other at a period: for each part of it the mean weight in a cycle.
fn fold(weighed: &[(f64, f64)], period: f64, width: f64) -> Vec<f64> {
    let n = count(period / (width / 4.0)).max(16);
    let bin = period / whole(n);
    let mut profile = vec![0.0; n];
    let reach = count(width / bin);
    for &(at, g) in weighed {
        let place = (at / period).rem_euclid(1.0) * whole(n);
        let middle = count(place);
        for k in 0..=2 * reach {
            let index = middle + k + n - reach;
            let off = (whole(index) - whole(n) - place).abs() * bin / width;
            if off < 1.0 {
                profile[index % n] += g * (1.0 - off);
            }
        }
    }
    profile
}

/// What a pulse explains less what it costs: at each foretold beat the strongest sound near it.
fn explained(weighed: &[(f64, f64)], pulse: &Pulse, span: Span<'_>, width: f64) -> f64 {
    let length_s = span.length_s;
    let mut score = 0.0;
    for phase in [pulse.tick_s, pulse.tick_s + pulse.tock_s] {
        let mut at = phase.rem_euclid(pulse.full_s);
        let mut next = 0;
        while at < length_s {
            while next < weighed.len() && weighed[next].0 < at - width {
                next += 1;
            }
            let near = weighed[next..].iter().take_while(|(t, _)| *t <= at + width);
            let best = near.map(|(_, g)| *g).fold(0.0, f64::max);
            // At the very ends a beat may be cut off.
            let cut = at < width || at > length_s - 2.0 * width;
            let cut = cut || !span.is_open(at);
            score += best - if cut && best <= 0.0 { 0.0 } else { COST };
            at += pulse.full_s;
        }
    }
    score
}

/// Half the distance between the quartiles, times what makes it the standard deviation of a normal spread.
pub(crate) fn robust_sd(values: &[f64]) -> f64 {
    let mut some = values.to_vec();
    let upper = quantile64(&mut some, 0.75);
    let lower = quantile64(&mut some, 0.25);
    (upper - lower) / 1.349
}
