//! What the beats say of the clock: beats an hour, gaining or losing, out of beat by how much, how it drifts. The interval holds for
//! noise that wanders as well as for noise that does not, and carries the recorder's own clock. What to turn is not said here.

use crate::bands::whole;
use crate::deviation::{Deviation, deviation};
use crate::follow::Beat;
use crate::line::{Line, Point, number};

/// Seconds in a day and in an hour.
pub const DAY_S: f64 = 86_400.0;
const HOUR_S: f64 = 3_600.0;
/// Within so many standard deviations lies 95 in 100 of a normal spread.
const NORMAL_95: f64 = 1.959_964;

/// The recorder's own clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recorder {
    /// By how much it is known to run fast, parts in a million.
    pub fast_ppm: f64,
    /// How surely that is known, one standard deviation, parts in a million.
    pub spread_ppm: f64,
}

impl Default for Recorder {
    /// Never compared with known time: a crystal good to 50 parts in a million.
    fn default() -> Recorder {
        Recorder {
            fast_ppm: 0.0,
            spread_ppm: crate::assumed::CLOCK_PPM.value,
        }
    }
}

/// A value with the bounds within which it lies 95 times in 100.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Within {
    /// The value.
    pub value: f64,
    /// From here.
    pub low: f64,
    /// To here.
    pub high: f64,
}

/// A part of the recording and the rate in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Its middle, seconds from the beginning.
    pub at_s: f64,
    /// Beats an hour.
    pub per_hour: f64,
    /// One standard deviation of that, the recorder's clock apart.
    pub spread_per_hour: f64,
}

/// What the beats say.
#[derive(Debug, Clone, PartialEq)]
pub struct Pace {
    /// Beats heard that it rests on: the longest run that was counted through.
    pub beats: usize,
    /// From the first of them to the last, seconds.
    pub span_s: f64,
    /// Seconds from tick to tick, in true time, and one standard deviation, the recorder's clock apart.
    pub full_period_s: f64,
    /// See `full_period_s`.
    pub full_period_spread_s: f64,
    /// Beats an hour.
    pub per_hour: Within,
    /// Beats an hour, the recorder's clock taken as true.
    pub per_hour_recorded: Within,
    /// The longer of the two halves of the swing less the shorter, seconds.
    pub out_of_beat_s: f64,
    /// One standard deviation of that.
    pub out_of_beat_spread_s: f64,
    /// Whether the half from an even beat to an odd one is the longer.
    pub even_is_longer: bool,
    /// Scatter of one beat about an even pace, seconds.
    pub jitter_s: f64,
    /// How much wider the interval is than noise without memory would make it, 1 where it has none.
    pub wander: f64,
    /// Each beat's number, time, and how late it is, in seconds, on an even pace.
    pub late: Vec<(i64, f64, f64)>,
    /// Rates of equal parts of a long recording.
    pub pieces: Vec<Piece>,
    line: Line,
}

/// What the beats say; nothing for fewer than four in a run.
pub fn pace(beats: &[Beat], recorder: Recorder) -> Option<Pace> {
    let run = longest(beats);
    let points: Vec<Point> = (run.iter())
        .map(|beat| Point {
            n: beat.n,
            at_s: beat.at_s,
            sd_s: f64::from(beat.sd_s),
        })
        .collect();
    if points.len() < 4 {
        return None;
    }
    let line = Line::through(&points)?;
    let off: Vec<f64> = points.iter().map(|p| p.at_s - line.at(p.n)).collect();
    let wander = wander(&off);
    let free = whole(points.len()) - 3.0;
    let relative = wander * line.half_sd_s / line.half_s;
    let statistic = student_95(free) * relative;
    let clock = NORMAL_95 * recorder.spread_ppm * 1e-6;
    // A recorder that runs fast counts too many seconds between beats.
    let true_half = line.half_s / (1.0 + recorder.fast_ppm * 1e-6);
    let within = |half: f64, part: f64| {
        let value = HOUR_S / half;
        Within {
            value,
            low: value * (1.0 - part),
            high: value * (1.0 + part),
        }
    };
    let first = points.first()?.at_s;
    let last = points.last()?.at_s;
    Some(Pace {
        beats: points.len(),
        span_s: last - first,
        full_period_s: 2.0 * true_half,
        full_period_spread_s: 2.0 * true_half * relative,
        per_hour: within(true_half, statistic.hypot(clock)),
        per_hour_recorded: within(line.half_s, statistic),
        out_of_beat_s: 2.0 * line.late_s.abs(),
        out_of_beat_spread_s: 2.0 * line.late_sd_s,
        even_is_longer: line.late_s > 0.0,
        jitter_s: line.jitter_s,
        wander,
        late: points
            .iter()
            .zip(&off)
            .map(|(p, off)| (p.n, p.at_s, *off))
            .collect(),
        pieces: pieces(&points),
        line,
    })
}

impl Pace {
    /// Gains (more than nought) or loses, seconds a day, against beats an hour that are right.
    pub fn rate_s_per_day(&self, right_per_hour: f64) -> Within {
        rate(self.per_hour, right_per_hour)
    }

    /// The same, the recorder's clock taken as true.
    pub fn rate_recorded_s_per_day(&self, right_per_hour: f64) -> Within {
        rate(self.per_hour_recorded, right_per_hour)
    }

    /// How the rate changes, seconds a day for each day, where the recording is long enough to tell, with its bounds.
    pub fn drift_s_per_day_per_day(&self) -> Option<Within> {
        if self.pieces.len() < 4 {
            return None;
        }
        let mean: f64 =
            self.pieces.iter().map(|p| p.per_hour).sum::<f64>() / whole(self.pieces.len());
        let at: Vec<f64> = self.pieces.iter().map(|p| p.at_s / DAY_S).collect();
        let rate: Vec<f64> = self
            .pieces
            .iter()
            .map(|p| DAY_S * (p.per_hour / mean - 1.0))
            .collect();
        let middle = at.iter().sum::<f64>() / whole(at.len());
        let lever: f64 = at.iter().map(|a| (a - middle).powi(2)).sum();
        let slope = at
            .iter()
            .zip(&rate)
            .map(|(a, r)| (a - middle) * r)
            .sum::<f64>()
            / lever;
        let left: f64 = at
            .iter()
            .zip(&rate)
            .map(|(a, r)| (r - slope * (a - middle)).powi(2))
            .sum();
        let free = whole(at.len()) - 2.0;
        let part = student_95(free) * (left / free / lever).sqrt();
        Some(Within {
            value: slope,
            low: slope - part,
            high: slope + part,
        })
    }

    /// Deviations over times that double, of the phase at every tick: the time, and the value. Beats that were missed are
    /// filled in from their neighbours; nothing where more than a tenth is missing.
    pub fn deviations(&self, which: Deviation) -> Vec<(f64, f64)> {
        let full = 2.0 * self.line.half_s;
        let ticks: Vec<(i64, f64)> = (self.late.iter())
            .filter(|(n, _, _)| n.rem_euclid(2) == 0)
            .map(|(n, _, off)| (n / 2, *off))
            .collect();
        let (Some(first), Some(last)) = (ticks.first(), ticks.last()) else {
            return Vec::new();
        };
        let all = crate::bands::count(number(last.0 - first.0)) + 1;
        if 10 * ticks.len() < 9 * all {
            return Vec::new();
        }
        let mut phase = Vec::with_capacity(all);
        for w in ticks.windows(2) {
            let steps = w[1].0 - w[0].0;
            for k in 0..steps {
                phase.push(w[0].1 + (w[1].1 - w[0].1) * number(k) / number(steps));
            }
        }
        phase.push(last.1);
        // A clock that is late tells less time than passed.
        phase.iter_mut().for_each(|x| *x = -*x);
        let mut told = Vec::new();
        let mut m = 1;
        while 4 * m < phase.len() {
            if let Some(value) = deviation(which, &phase, full, m) {
                told.push((whole(m) * full, value));
            }
            m *= 2;
        }
        told
    }
}

fn rate(per_hour: Within, right: f64) -> Within {
    let of = |x: f64| DAY_S * (x / right - 1.0);
    Within {
        value: of(per_hour.value),
        low: of(per_hour.low),
        high: of(per_hour.high),
    }
}

/// The standard deviation that no unbiased estimate of the beats an hour can be below, for beats each off by so many seconds,
/// normally and independently: the Cramér–Rao bound for a slope.
pub fn least_spread_per_hour(beats: usize, half_s: f64, onset_s: f64) -> f64 {
    let n = whole(beats);
    // With the lateness of odd beats unknown too, the sum of squares about the mean is that within each kind.
    let lever = n * (n * n - 4.0).max(1.0) / 12.0;
    HOUR_S / half_s * (onset_s / half_s) / lever.sqrt()
}

/// The run with the most beats.
fn longest(beats: &[Beat]) -> &[Beat] {
    beats
        .chunk_by(|a, b| a.run == b.run)
        .max_by_key(|run| run.len())
        .unwrap_or(&[])
}

/// How much more the slowest parts of what is left swing than the rest, as a factor on deviations: 1 unless they stand out by more
/// than noise without memory would let them once in three hundred recordings.
fn wander(off: &[f64]) -> f64 {
    const SLOWEST: usize = 6;
    const STANDS_OUT: f64 = 2.5;
    let n = off.len();
    if n < 64 {
        return 1.0;
    }
    // Outliers are held to four times the middle scatter.
    let most = 4.0 * crate::pulse::robust_sd(off);
    let mut x: Vec<f64> = off.iter().map(|x| x.clamp(-most, most)).collect();
    let mean = x.iter().sum::<f64>() / whole(n);
    x.iter_mut().for_each(|x| *x -= mean);
    // Of all turns of a wave over the recording the slowest by themselves; the mean of all by the sum of squares (Parseval).
    let wave = |turns: usize| {
        let step = std::f64::consts::TAU * whole(turns) / whole(n);
        let (re, im) = x.iter().enumerate().fold((0.0, 0.0), |(re, im), (k, x)| {
            let (sin, cos) = (step * whole(k)).sin_cos();
            (re + x * cos, im + x * sin)
        });
        re * re + im * im
    };
    let slow = (1..=SLOWEST).map(wave).sum::<f64>() / whole(SLOWEST);
    let all = x.iter().map(|x| x * x).sum::<f64>();
    let ratio = slow / all;
    if ratio > STANDS_OUT {
        ratio.sqrt()
    } else {
        1.0
    }
}

/// Student's 97.5 in 100 point (expansion in 1/n about the normal point; Abramowitz and Stegun 26.7.5, from memory).
pub(crate) fn student_95(free: f64) -> f64 {
    if free < 1.5 {
        return 12.706;
    }
    if free < 2.5 {
        return 4.303;
    }
    NORMAL_95 + 2.372_27 / free + 2.822_5 / free.powi(2) + 2.555_8 / free.powi(3)
}

/// Equal parts of a recording of two hours and more, at most 48.
fn pieces(points: &[Point]) -> Vec<Piece> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    let span = last.at_s - first.at_s;
    if span < 2.0 * HOUR_S {
        return Vec::new();
    }
    let parts = crate::bands::count(span / (HOUR_S / 2.0)).clamp(4, 48);
    let long = span / whole(parts);
    (0..parts)
        .filter_map(|k| {
            let from = first.at_s + whole(k) * long;
            let begin = points.partition_point(|p| p.at_s < from);
            let end = points.partition_point(|p| p.at_s < from + long);
            let line = Line::through(&points[begin..end])?;
            let per_hour = HOUR_S / line.half_s;
            Some(Piece {
                at_s: from + 0.5 * long,
                per_hour,
                spread_per_hour: per_hour * line.half_sd_s / line.half_s,
            })
        })
        .collect()
}
