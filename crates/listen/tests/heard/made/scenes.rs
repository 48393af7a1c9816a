//! Whole scenes: a clock's onsets with noise, the same as sound, twelve hours of striking, an arbor that is not true.

use super::voices::{Struck, Tick};
use super::{Sound, between, dice, normal};
use listen::Beat;
use rand::{Rng, RngExt};

/// A clock's beats: seconds of half a period, how late tocks are, how far each strays.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Going {
    pub(crate) half_s: f64,
    pub(crate) late_s: f64,
    pub(crate) jitter_s: f64,
}

impl Going {
    pub(crate) fn some(dice: &mut impl Rng) -> Going {
        Going {
            half_s: between(dice, 0.2, 1.0),
            late_s: between(dice, -0.015, 0.015),
            jitter_s: between(dice, 0.0005, 0.003),
        }
    }

    /// Times of the beats within so many seconds, some of them not heard.
    pub(crate) fn times(&self, seconds: f64, dice: &mut impl Rng) -> Vec<(i64, f64)> {
        let first = between(dice, 0.1, 0.6);
        (0..)
            .map(|n: i64| {
                let late = if n % 2 == 1 { self.late_s } else { 0.0 };
                (
                    n,
                    first + self.half_s * n as f64 + late + self.jitter_s * normal(dice),
                )
            })
            .take_while(|(_, at)| *at < seconds - 0.15)
            .collect()
    }
}

pub(crate) fn beats(times: &[(i64, f64)], recorder_ppm: f64) -> Vec<Beat> {
    let beat = |&(n, at): &(i64, f64)| Beat {
        n,
        at_s: at * (1.0 + recorder_ppm * 1e-6),
        sd_s: 0.0002,
        run: 0,
    };
    times.iter().map(beat).collect()
}

/// The beats as sound, in noise so far below the ticks in decibels, both as root mean squares, the ticks' over 20 ms from their start.
pub(crate) fn ticking(
    times: &[(i64, f64)],
    seconds: f64,
    rate: f64,
    below_db: f64,
    dice: &mut impl Rng,
) -> Sound {
    let (tick, tock) = (Tick::pallet(dice), Tick::pallet(dice));
    let mut sound = Sound::silent(seconds, rate);
    let mut power = Vec::new();
    for (n, at) in times {
        let one = if n % 2 == 0 { &tick } else { &tock }.sound(rate, dice);
        let part = (0.02 * rate) as usize;
        power.push(
            one[..part]
                .iter()
                .map(|&x| f64::from(x).powi(2))
                .sum::<f64>()
                / part as f64,
        );
        sound.add_between(&one, *at, 0.2);
    }
    let level = 0.2 * (power.iter().sum::<f64>() / power.len() as f64).sqrt();
    sound.hiss(level * 10.0_f64.powf(-below_db / 20.0), dice);
    sound
}

/// Strikes of one cycle as sound: for each, seconds at which it begins and the blows. `gap_s` from one hour to the next, cut short
/// or whole. Somebody talks and the room sounds, together so far below the bell in decibels.
pub(crate) fn cycle(
    seed: u64,
    gap_s: f64,
    rate: f64,
    below_db: f64,
) -> (Vec<usize>, impl Iterator<Item = Sound>) {
    let mut rolled = dice(seed);
    let bell = if rolled.random() {
        Struck::bell(&mut rolled)
    } else {
        Struck::rod(&mut rolled)
    };
    let pace = between(&mut rolled, 0.8, 2.2);
    let first = rolled.random_range(1..=12_usize);
    let hours: Vec<usize> = (0..12).map(|k| (first + k - 1) % 12 + 1).collect();
    // The level of this bell, from one blow.
    let blow = bell.blow(2.0 * pace, rate, &mut rolled);
    let mut probe = Sound::silent(2.0 * pace, rate);
    probe.add(&blow, 0.0, 0.1);
    let level = probe.rms_between(0.0, pace);
    let noise = level * 10.0_f64.powf(-below_db / 20.0) / 2.0_f64.sqrt();
    let mut whole = hours.clone().into_iter();
    let tick = Tick::pallet(&mut rolled);
    let sounds = std::iter::from_fn(move || {
        let blows = whole.next()?;
        let mut sound = Sound::silent(gap_s.max(14.0 + pace * blows as f64), rate);
        let mut at = between(&mut rolled, 3.0, 4.0);
        for _ in 0..blows {
            // The lifting click before the blow, then the blow, ringing on into the next.
            let click = tick.sound(rate, &mut rolled);
            sound.add(&click, at - between(&mut rolled, 0.1, 0.25), 0.03);
            sound.add(
                &bell.blow(6.0, rate, &mut rolled),
                at,
                0.1 * between(&mut rolled, 0.75, 1.25),
            );
            at += pace * between(&mut rolled, 0.96, 1.04);
        }
        sound.room(noise, &mut rolled);
        sound.speech(noise, &mut rolled);
        Some(sound)
    });
    (hours, sounds)
}

/// Lateness of an arbor that is not true.
pub(crate) fn untrue(times: &mut [(i64, f64)], turn_s: f64, size_s: f64, phase: f64) {
    for (_, at) in times {
        *at += size_s * (std::f64::consts::TAU * *at / turn_s + phase).sin();
    }
}
