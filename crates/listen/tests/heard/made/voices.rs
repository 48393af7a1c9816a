//! What ticks and strikes.

use super::{between, normal};
use rand::{Rng, RngExt};
use std::f64::consts::TAU;

/// A partial: times the lowest, loudness, seconds to fall by 60 decibels.
pub(crate) type Partial = (f64, f64, f64);

/// Something a hammer strikes.
#[derive(Debug, Clone)]
pub(crate) struct Struck {
    pub(crate) base_hz: f64,
    pub(crate) partials: Vec<Partial>,
    /// Loudness of the hammer's own knock.
    pub(crate) knock: f64,
}

impl Struck {
    /// What listening was tuned with: partials of no particular thing.
    pub(crate) fn tuned(dice: &mut impl Rng) -> Struck {
        let base_hz = between(dice, 300.0, 1100.0);
        let partials = (0..6)
            .map(|k| {
                let ratio = 1.0 + f64::from(k) * between(dice, 0.55, 0.9);
                (
                    ratio,
                    0.8_f64.powi(k),
                    between(dice, 1.0, 4.0) / (1.0 + 0.4 * f64::from(k)),
                )
            })
            .collect();
        Struck {
            base_hz,
            partials,
            knock: 0.3,
        }
    }

    /// A bell tuned in five tones: hum an octave below the prime, tierce a minor third above it, quint a fifth, nominal an
    /// octave (the five-tone principle as the trade has it), and above the nominal a fifth and an octave more.
    pub(crate) fn bell(dice: &mut impl Rng) -> Struck {
        let base_hz = between(dice, 350.0, 1300.0);
        let long = between(dice, 1.5, 5.0);
        let partials = vec![
            (0.5, 0.5, 1.6 * long),
            (1.0, 0.7, long),
            (1.2, 0.9, 0.9 * long),
            (1.5, 0.3, 0.6 * long),
            (2.0, 1.0, 0.7 * long),
            (3.0, 0.6, 0.4 * long),
            (4.0, 0.4, 0.3 * long),
        ];
        Struck {
            base_hz,
            partials,
            knock: between(dice, 0.05, 0.5),
        }
    }

    /// A rod held at one end. The partials are the roots of cos x cosh x = -1, squared.
    pub(crate) fn rod(dice: &mut impl Rng) -> Struck {
        let base_hz = between(dice, 60.0, 130.0);
        let first = 1.875_104_f64;
        let partials = [1.875_104, 4.694_091, 7.854_757, 10.995_541, 14.137_168_f64]
            .iter()
            .zip([0.3, 1.0, 0.8, 0.5, 0.25])
            .map(|(x, loud)| ((x / first).powi(2), loud, between(dice, 1.2, 4.5)))
            .collect();
        Struck {
            base_hz,
            partials,
            knock: between(dice, 0.05, 0.4),
        }
    }

    /// One blow, of loudness about 1, that rings for so long.
    pub(crate) fn blow(&self, seconds: f64, rate: f64, dice: &mut impl Rng) -> Vec<f32> {
        let n = (seconds * rate) as usize;
        let mut out = vec![0.0_f32; n];
        for &(ratio, loud, t60) in &self.partials {
            let hz = self.base_hz * ratio;
            if hz > 0.45 * rate {
                continue;
            }
            let loud = loud * between(dice, 0.7, 1.3);
            // A turning pointer, falling as it turns.
            let fall = 10.0_f64.powf(-3.0 / (t60 * rate));
            let (s, c) = (TAU * hz / rate).sin_cos();
            let start = TAU * dice.random::<f64>();
            let (mut re, mut im) = (start.cos() * loud, start.sin() * loud);
            let attack = 0.002 * rate;
            for (k, x) in out.iter_mut().enumerate() {
                let swell = (k as f64 / attack).min(1.0);
                *x += (swell * im) as f32;
                (re, im) = (fall * (re * c - im * s), fall * (re * s + im * c));
            }
        }
        for (k, x) in out.iter_mut().enumerate().take((0.03 * rate) as usize) {
            let fall = (-(k as f64) / (0.004 * rate)).exp();
            *x += (self.knock * fall * normal(dice)) as f32;
        }
        out
    }
}

/// A tick: a cluster of clicks, each with its own delay, loudness and length.
#[derive(Debug, Clone)]
pub(crate) struct Tick {
    /// Seconds after the first, loudness, seconds to fall by a factor e, hertz it rings at (nought: none).
    pub(crate) clicks: Vec<(f64, f64, f64, f64)>,
}

impl Tick {
    /// What listening was tuned with.
    pub(crate) fn tuned(dice: &mut impl Rng) -> Tick {
        let clicks = (0..3)
            .map(|k| {
                let late = f64::from(k) * between(dice, 0.006, 0.012);
                (late, between(dice, 0.4, 1.0), 0.003, 0.0)
            })
            .collect();
        Tick { clicks }
    }

    /// A click of the pallet, a fainter one before it or a knock of the case after it, ringing at a few thousand hertz, then echoes.
    pub(crate) fn pallet(dice: &mut impl Rng) -> Tick {
        let mut clicks = vec![(
            0.0,
            between(dice, 0.5, 1.0),
            0.002,
            between(dice, 2200.0, 5200.0),
        )];
        for _ in 0..dice.random_range(1..4) {
            clicks.push((
                between(dice, 0.003, 0.022),
                between(dice, 0.2, 1.0),
                between(dice, 0.001, 0.004),
                between(dice, 900.0, 4200.0),
            ));
        }
        for k in 1..5 {
            clicks.push((
                between(dice, 0.008, 0.016) * f64::from(k),
                0.4_f64.powi(k),
                0.006,
                0.0,
            ));
        }
        Tick { clicks }
    }

    pub(crate) fn sound(&self, rate: f64, dice: &mut impl Rng) -> Vec<f32> {
        let mut out = vec![0.0_f32; (0.12 * rate) as usize];
        for &(late, loud, length, hz) in &self.clicks {
            let from = (late * rate) as usize;
            let phase = TAU * dice.random::<f64>();
            for (k, x) in out.iter_mut().skip(from).enumerate() {
                let t = k as f64 / rate;
                if t > 8.0 * length {
                    break;
                }
                let body = if hz > 0.0 {
                    (TAU * hz * t + phase).sin() + 0.3 * normal(dice)
                } else {
                    normal(dice)
                };
                *x += (loud * (-t / length).exp() * body) as f32;
            }
        }
        out
    }
}
