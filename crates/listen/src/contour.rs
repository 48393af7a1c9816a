//! One curve out of the octaves: how far the sound stands above what the room always makes, each octave counted by how sharply it
//! is struck. In natural logarithms of power, so that a tick twice as loud is the same shape. No decision is made here.

use crate::bands::{count, whole, whole32};
use crate::logs::ln_1p;

/// Power below which nothing is sound: half a step of 16 bits, squared.
const LEAST_POWER: f32 = 1e-10;
/// Seconds over which the room's own noise is taken as the same.
const ROOM_S: f64 = 2.0;
/// The part of the time in which nothing but the room is heard, even where it ticks fast and each tick dies slowly.
const QUIET_PART: f64 = 0.3;
/// How far below the loudest an octave's noise is believed: packed sound leaves holes that no room has. Power, 65 decibels.
const HOLES: f32 = 3e-7;

/// How much each octave counts. They are weighed once and then kept, since another weighing would move where a tick begins.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Weights(Vec<f32>);

/// The curve.
#[derive(Debug, Clone)]
pub(crate) struct Contour {
    /// Height above the room, natural logarithm of (1 + power over the room's).
    pub(crate) height: Vec<f32>,
    /// Frames a second.
    pub(crate) rate: f64,
}

/// Each octave's height above the room, smoothed over three frames.
pub(crate) struct Heights {
    octaves: Vec<Vec<f32>>,
    rate: f64,
}

impl Heights {
    /// Of the mean powers of all octaves, so many frames a second.
    pub(crate) fn new(power: &[Vec<f32>], rate: f64) -> Heights {
        let octaves = power.iter().map(|power| above_room(power, rate)).collect();
        Heights { octaves, rate }
    }

    /// Weighs the octaves: by how far the loudest fiftieth of the time stands above the middle.
    pub(crate) fn weigh(&self) -> Weights {
        let contrast = |octave: &Vec<f32>| {
            let mut some: Vec<f32> = octave.iter().step_by(2).copied().collect();
            let loud = quantile(&mut some, 0.98);
            let middle = quantile(&mut some, 0.5);
            (loud - middle).max(0.0).powi(2)
        };
        let mut weights: Vec<f32> = self.octaves.iter().map(contrast).collect();
        let sum: f32 = weights.iter().sum();
        let even = 1.0 / whole32(weights.len());
        for weight in &mut weights {
            *weight = if sum > 0.0 { *weight / sum } else { even };
        }
        Weights(weights)
    }

    /// The octaves together.
    pub(crate) fn join(&self, weights: &Weights) -> Contour {
        let mut height = vec![0.0; self.octaves.first().map_or(0, Vec::len)];
        for (octave, weight) in self.octaves.iter().zip(&weights.0) {
            for (sum, x) in height.iter_mut().zip(octave) {
                *sum += weight * x;
            }
        }
        Contour {
            height,
            rate: self.rate,
        }
    }
}

fn above_room(power: &[f32], rate: f64) -> Vec<f32> {
    let n = power.len();
    let mut smooth = Vec::with_capacity(n);
    // At the ends two frames are all there is.
    smooth.extend(power.first().zip(power.get(1)).map(|(a, b)| 0.5 * (a + b)));
    smooth.extend(power.windows(3).map(|w| (w[0] + w[1] + w[2]) * (1.0 / 3.0)));
    if let [.., a, b] = power {
        smooth.push(0.5 * (a + b));
    } else {
        smooth.extend_from_slice(power);
    }
    let loudest = smooth.iter().copied().fold(0.0, f32::max);
    let least = LEAST_POWER.max(loudest * HOLES);
    // The room in each stretch; between the middles of stretches it goes over evenly.
    let stretch = count(ROOM_S * rate).max(1);
    let rooms: Vec<f32> = smooth
        .chunks(stretch)
        .map(|part| {
            let mut some: Vec<f32> = part.iter().step_by(4).copied().collect();
            quantile(&mut some, QUIET_PART).max(least)
        })
        .collect();
    let last = rooms.len().saturating_sub(1);
    let mut height = Vec::with_capacity(n);
    let mut i = 0;
    while i < n {
        // Sixteen frames share one floor: it hardly moves in ten milliseconds.
        let place = (whole(i) / whole(stretch) - 0.5).max(0.0);
        let k = count(place.floor()).min(last);
        #[expect(clippy::cast_possible_truncation, reason = "a part of one")]
        let part = (place - whole(k)).clamp(0.0, 1.0) as f32;
        let room = rooms[k] * (1.0 - part) + rooms[(k + 1).min(last)] * part;
        let over = 1.0 / room;
        let to = (i + 16).min(n);
        height.extend(smooth[i..to].iter().map(|p| ln_1p(p * over)));
        i = to;
    }
    height
}

/// The value below which such a part of the numbers lies; nought where there are none. Reorders them.
pub(crate) fn quantile(some: &mut [f32], part: f64) -> f32 {
    if some.is_empty() {
        return 0.0;
    }
    let at = count(part * whole(some.len() - 1)).min(some.len() - 1);
    *some.select_nth_unstable_by(at, f32::total_cmp).1
}

/// The same of numbers of double length.
pub(crate) fn quantile64(some: &mut [f64], part: f64) -> f64 {
    if some.is_empty() {
        return 0.0;
    }
    let at = count(part * whole(some.len() - 1)).min(some.len() - 1);
    *some.select_nth_unstable_by(at, f64::total_cmp).1
}

/// A sound that begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Start {
    /// Seconds from the curve's beginning.
    pub(crate) at_s: f64,
    /// How far it rises out of what is still ringing, or stands above the middle, whichever is less.
    pub(crate) height: f64,
}

/// How fast a room lets a sound die, natural logarithm of power a second: 60 decibels in 0.4 s. What falls slower than this after
/// a sound is a further sound.
const DYING: f64 = 34.5;
/// Seconds within which only the strongest beginning counts: sounds of one tick.
const TOGETHER_S: f64 = 0.03;

/// Where sounds begin, in order of time, each the strongest near it.
pub(crate) fn starts(contour: &Contour) -> Vec<Start> {
    let h = &contour.height;
    let n = h.len();
    let ahead = count(0.004 * contour.rate).max(2);
    #[expect(clippy::cast_possible_truncation, reason = "far within")]
    let fall = (DYING / contour.rate) as f32;
    let middle = quantile(&mut h.iter().step_by(3).copied().collect::<Vec<_>>(), 0.5);
    let mut rise = vec![0.0_f32; n];
    let mut ring = middle;
    for i in 0..n.saturating_sub(ahead) {
        let next = h[i..i + ahead].iter().sum::<f32>() / whole32(ahead);
        rise[i] = (next - ring).max(0.0);
        if i >= ahead {
            // A tick takes some milliseconds to rise, and packed sound begins it early.
            ring = (ring - fall).max(h[i - ahead]).max(middle);
        }
    }
    let near = count(TOGETHER_S * contour.rate).max(1);
    let peak = count(0.03 * contour.rate).max(1);
    let mut starts: Vec<Start> = Vec::new();
    let mut i = 0;
    while i < n {
        if rise[i] <= 0.0 {
            i += 1;
            continue;
        }
        // The strongest from here on that nothing stronger follows soon.
        let mut best = i;
        let mut k = i + 1;
        while k < n && k <= best + near {
            if rise[k] > rise[best] {
                best = k;
            }
            k += 1;
        }
        let top = h[best..(best + peak).min(n)]
            .iter()
            .copied()
            .fold(0.0, f32::max);
        let height = f64::from((top - middle).min(1.3 * rise[best]));
        let start = Start {
            at_s: whole(best) / contour.rate,
            height,
        };
        match starts.last_mut() {
            Some(last) if start.at_s - last.at_s < TOGETHER_S => {
                if start.height > last.height {
                    *last = start;
                }
            }
            _ => starts.push(start),
        }
        i = best + near;
    }
    starts
}
