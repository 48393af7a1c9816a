//! Trials by the hundred, and what came of them. The tests play a few; `cargo bench -p listen --bench studies` all of them.

use super::scenes::{Going, beats, cycle, ticking, untrue};
use super::{between, dice, normal};
use listen::{ArborTurn, Detector, Recorder, comes_round, least_spread_per_hour, pace};
use rand::RngExt;

/// What came of trials of the rate.
#[derive(Debug, Default)]
pub(crate) struct Rates {
    pub(crate) trials: usize,
    /// Sum of the squares of what each was off, in parts of the Cramér–Rao bound.
    pub(crate) squares: f64,
    /// In how many the interval covered the truth, the recorder's clock included, and apart.
    pub(crate) covered: usize,
    pub(crate) covered_recorded: usize,
}

impl Rates {
    pub(crate) fn ratio(&self) -> f64 {
        (self.squares / self.trials as f64).sqrt()
    }
}

/// Five minutes of onsets with noise, or the same as sound with noise 10 decibels below the ticks.
pub(crate) fn rates(seeds: std::ops::Range<u64>, as_sound: bool) -> Rates {
    const SECONDS: f64 = 300.0;
    let mut came = Rates::default();
    for seed in seeds {
        let dice = &mut dice(1000 + seed);
        let going = Going::some(dice);
        let times = going.times(SECONDS, dice);
        // The recorder's clock, off by a normal 50 parts in a million.
        let ppm = 50.0 * normal(dice);
        let heard = if as_sound {
            let stretched: Vec<(i64, f64)> = times
                .iter()
                .map(|(n, at)| (*n, at * (1.0 + ppm * 1e-6)))
                .collect();
            let sound = ticking(&stretched, SECONDS + 0.5, 16_000.0, 10.0, dice);
            let mut ear = Detector::new(16_000);
            ear.hear(&sound.x);
            ear.finish().beats
        } else {
            beats(&times, ppm)
        };
        came.trials += 1;
        let Some(pace) = pace(&heard, Recorder::default()) else {
            came.squares += 100.0;
            continue;
        };
        let right = 3600.0 / going.half_s;
        let recorded = right / (1.0 + ppm * 1e-6);
        let bound = least_spread_per_hour(times.len(), going.half_s, going.jitter_s);
        came.squares += ((pace.per_hour_recorded.value - recorded) / bound).powi(2);
        came.covered += usize::from(pace.per_hour.low <= right && right <= pace.per_hour.high);
        let own = pace.per_hour_recorded;
        came.covered_recorded += usize::from(own.low <= recorded && recorded <= own.high);
    }
    came
}

/// Cycles of twelve hours of which every hour was counted right.
pub(crate) fn cycles(seeds: std::ops::Range<u64>, gap_s: f64, rate: f64) -> (usize, usize) {
    let (mut right, mut trials) = (0, 0);
    for seed in seeds {
        let (hours, sounds) = cycle(seed, gap_s, rate, 6.0);
        let mut ear = Detector::new(rate as u32);
        let mut ends = Vec::new();
        for sound in sounds {
            ear.hear(&sound.x);
            ends.push(ends.last().copied().unwrap_or(0.0) + sound.x.len() as f64 / rate);
        }
        let heard = ear.finish();
        let counted: Vec<usize> = (0..12)
            .map(|k| {
                let from = if k == 0 { 0.0 } else { ends[k - 1] };
                let here = heard
                    .strikes
                    .iter()
                    .filter(|s| (from..ends[k]).contains(&s.blow_times_s[0]));
                here.map(|s| s.blow_times_s.len()).sum()
            })
            .collect();
        trials += 1;
        if counted == hours {
            right += 1;
        } else {
            println!("  cycle {seed}: struck {hours:?}, counted {counted:?}");
        }
    }
    (right, trials)
}

/// What was heard where a clock ticks in a room and nothing is struck.
#[derive(Debug, Default)]
pub(crate) struct Still {
    pub(crate) strikes: usize,
    pub(crate) chimes: usize,
    pub(crate) beats: usize,
    pub(crate) of: usize,
}

/// Ticking without a strike, in hiss between 13 and 33 decibels below the ticks, and in a room whose noise is as far, less three,
/// below the whole.
pub(crate) fn still(seed: u64, seconds: f64, rate: f64) -> Still {
    let dice = &mut dice(80_000 + seed);
    let going = Going::some(dice);
    let times = going.times(seconds, dice);
    let below = between(dice, 10.0, 30.0);
    let mut sound = ticking(&times, seconds, rate, below + 3.0, dice);
    let noise = sound.rms() * 10.0_f64.powf(-below / 20.0);
    sound.room(noise, dice);
    let mut ear = Detector::new(rate as u32);
    ear.hear(&sound.x);
    let heard = ear.finish();
    Still {
        strikes: heard.strikes.len(),
        chimes: heard.chimes.len(),
        beats: heard.beats.len(),
        of: times.len(),
    }
}

/// What came of trials of an arbor that is not true.
#[derive(Debug, Default)]
pub(crate) struct Arbors {
    pub(crate) trials: usize,
    pub(crate) named: usize,
    pub(crate) false_alarms: usize,
}

/// Ten minutes of onsets, an escape arbor, a third and a fourth, one of them 0.3 ms untrue; and the same with none.
pub(crate) fn arbors(seeds: std::ops::Range<u64>) -> Arbors {
    let mut came = Arbors::default();
    for seed in seeds {
        let dice = &mut dice(50_000 + seed);
        let going = Going {
            half_s: between(dice, 0.25, 0.6),
            late_s: between(dice, -0.01, 0.01),
            jitter_s: between(dice, 0.0005, 0.0015),
        };
        let escape = 60.0 * going.half_s;
        let all = [
            ("escape", escape),
            ("third", 7.5 * escape / 2.0),
            ("pinion", 3.2 * escape / 2.0),
        ];
        let arbors: Vec<ArborTurn> = (all.iter())
            .map(|(name, turn_s)| ArborTurn {
                name: (*name).to_owned(),
                turn_s: *turn_s,
            })
            .collect();
        let times = going.times(600.0, dice);
        came.trials += 1;
        let found = |times: &[(i64, f64)]| {
            let pace = pace(&beats(times, 0.0), Recorder::default()).expect("a pace");
            comes_round(&pace, &arbors)
        };
        came.false_alarms += usize::from(!found(&times).is_empty());
        let guilty = dice.random_range(0..arbors.len());
        let mut untrue_times = times;
        untrue(
            &mut untrue_times,
            arbors[guilty].turn_s,
            0.0003,
            between(dice, 0.0, std::f64::consts::TAU),
        );
        let told = found(&untrue_times);
        came.named += usize::from(
            told.len() == 1
                && told[0].arbors.contains(&arbors[guilty].name)
                && told[0].arbors.len() == 1,
        );
    }
    came
}
