//! Sound made up for tests: ticks, bells, rooms, speech, from fixed seeds. It is called what it is, made up, and replaces no
//! recording. The voices listening was tuned with are not those it is tested with.

#![allow(dead_code, reason = "each test uses its part of it")]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths and levels of made-up sound"
)]

use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::f64::consts::TAU;

pub(crate) mod scenes;
pub(crate) mod trials;
pub(crate) mod voices;

/// Chance from a seed.
pub(crate) fn dice(seed: u64) -> Pcg64Mcg {
    Pcg64Mcg::seed_from_u64(seed ^ 0x5E_ED0F_C10C)
}

/// A normal deviate (G. E. P. Box and M. E. Muller, 1958).
pub(crate) fn normal(dice: &mut impl Rng) -> f64 {
    let u: f64 = 1.0 - dice.random::<f64>();
    let v: f64 = dice.random();
    (-2.0 * u.ln()).sqrt() * (TAU * v).cos()
}

/// A number from `a` to `b`.
pub(crate) fn between(dice: &mut impl Rng, a: f64, b: f64) -> f64 {
    a + (b - a) * dice.random::<f64>()
}

/// Sound under construction.
pub(crate) struct Sound {
    pub(crate) rate: f64,
    pub(crate) x: Vec<f32>,
}

impl Sound {
    pub(crate) fn silent(seconds: f64, rate: f64) -> Sound {
        Sound {
            rate,
            x: vec![0.0; (seconds * rate) as usize],
        }
    }

    pub(crate) fn rms(&self) -> f64 {
        let sum: f64 = self.x.iter().map(|&x| f64::from(x).powi(2)).sum();
        (sum / self.x.len().max(1) as f64).sqrt()
    }

    /// Root of the mean square between two times.
    pub(crate) fn rms_between(&self, from: f64, to: f64) -> f64 {
        let at = |s: f64| ((s * self.rate).max(0.0) as usize).min(self.x.len());
        let part = &self.x[at(from)..at(to)];
        let sum: f64 = part.iter().map(|&x| f64::from(x).powi(2)).sum();
        (sum / part.len().max(1) as f64).sqrt()
    }

    /// Adds another sound, so much louder, from a time on.
    pub(crate) fn add(&mut self, other: &[f32], at_s: f64, gain: f64) {
        let at = (at_s * self.rate).round() as usize;
        for (x, y) in self.x.iter_mut().skip(at).zip(other) {
            *x += gain as f32 * y;
        }
    }

    /// Sets a sound at a time between samples, by shifting its phase by straight-line interpolation.
    pub(crate) fn add_between(&mut self, other: &[f32], at_s: f64, gain: f64) {
        let place = at_s * self.rate;
        if place < 0.0 {
            return;
        }
        let (at, part) = (place.floor() as usize, (place - place.floor()) as f32);
        let mut last = 0.0;
        for (x, &y) in self.x.iter_mut().skip(at).zip(other.iter().chain(&[0.0])) {
            *x += gain as f32 * (y * (1.0 - part) + last * part);
            last = y;
        }
    }

    /// White noise of such a root mean square.
    pub(crate) fn hiss(&mut self, rms: f64, dice: &mut impl Rng) {
        // Sums of four evenly spread numbers are near enough to normal, and fast.
        let scale = (rms * (3.0_f64).sqrt()) as f32;
        for x in &mut self.x {
            let bits = dice.random::<u64>();
            let part = |k: u32| f32::from((bits >> (16 * k)) as u16) / 65_536.0 - 0.5;
            *x += scale * (part(0) + part(1) + part(2) + part(3));
        }
    }

    /// Noise that falls by 3 decibels an octave or so, as rooms do.
    pub(crate) fn room(&mut self, rms: f64, dice: &mut impl Rng) {
        let mut noise = Sound::silent(0.0, self.rate);
        noise.x.resize(self.x.len(), 0.0);
        noise.hiss(1.0, dice);
        let (mut a, mut b) = (0.0_f32, 0.0_f32);
        for x in &mut noise.x {
            a = 0.97 * a + 0.2 * *x;
            b = 0.6 * b + 0.4 * *x;
            *x = a + b + 0.15 * *x;
        }
        let gain = rms / noise.rms();
        self.add(&noise.x, 0.0, gain);
    }

    /// Somebody talks: syllables of a buzzing voice through three moving resonances, with pauses; of such a root mean square.
    pub(crate) fn speech(&mut self, rms: f64, dice: &mut impl Rng) {
        let n = self.x.len();
        let mut out = vec![0.0_f32; n];
        let mut at = 0;
        let mut pitch = between(dice, 90.0, 210.0);
        while at < n {
            let length = (between(dice, 0.09, 0.32) * self.rate) as usize;
            if dice.random::<f64>() < 0.18 {
                at += 2 * length;
                continue;
            }
            let formants = [
                between(dice, 250.0, 850.0),
                between(dice, 800.0, 2400.0),
                between(dice, 2300.0, 3500.0),
            ];
            let voiced = dice.random::<f64>() < 0.8;
            pitch = (pitch * between(dice, 0.85, 1.18)).clamp(80.0, 260.0);
            let glide = between(dice, -0.25, 0.25);
            let mut states = [(0.0_f64, 0.0_f64); 3];
            let mut phase = 0.0;
            for k in 0..length.min(n - at) {
                let part = k as f64 / length as f64;
                phase += pitch * (1.0 + glide * part) / self.rate;
                let buzz = if voiced {
                    if phase >= 1.0 {
                        phase -= 1.0;
                        1.0
                    } else {
                        0.01 * (dice.random::<f64>() - 0.5)
                    }
                } else {
                    0.3 * (dice.random::<f64>() - 0.5)
                };
                let mut y = 0.0;
                for ((s, hz), gain) in states.iter_mut().zip(formants).zip([1.0, 0.6, 0.3]) {
                    let r = (-std::f64::consts::PI * 90.0 / self.rate).exp();
                    let next = 2.0 * r * (TAU * hz / self.rate).cos() * s.0 - r * r * s.1 + buzz;
                    *s = (next, s.0);
                    y += gain * next;
                }
                let swell = (std::f64::consts::PI * part).sin().powf(0.6);
                out[at + k] += (y * swell) as f32;
            }
            at += length;
        }
        let sum: f64 = out.iter().map(|&x| f64::from(x).powi(2)).sum();
        let own = (sum / n.max(1) as f64).sqrt();
        self.add(&out, 0.0, rms / own.max(1e-12));
    }

    /// As 16-bit WAV.
    pub(crate) fn wav(&self) -> Vec<u8> {
        let rate = self.rate as u32;
        let mut bytes = wav_header(rate, 1, u32::try_from(self.x.len() * 2).unwrap());
        for x in &self.x {
            let whole = (x * 32_767.0).round().clamp(-32_768.0, 32_767.0) as i16;
            bytes.extend(whole.to_le_bytes());
        }
        bytes
    }
}

/// The header of a WAV file with 16-bit samples.
pub(crate) fn wav_header(rate: u32, channels: u16, length: u32) -> Vec<u8> {
    let mut bytes = b"RIFF".to_vec();
    bytes.extend(length.saturating_add(36).to_le_bytes());
    bytes.extend(b"WAVEfmt ");
    bytes.extend(16_u32.to_le_bytes());
    bytes.extend(1_u16.to_le_bytes());
    bytes.extend(channels.to_le_bytes());
    bytes.extend(rate.to_le_bytes());
    bytes.extend((rate * 2 * u32::from(channels)).to_le_bytes());
    bytes.extend((2 * channels).to_le_bytes());
    bytes.extend(16_u16.to_le_bytes());
    bytes.extend(b"data");
    bytes.extend(length.to_le_bytes());
    bytes
}
