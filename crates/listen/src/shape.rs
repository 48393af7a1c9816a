//! What one clock's tick and its tock look like on the curve, learned from the recording itself, and where a sound like it
//! lies. A tick is a cluster of clicks: the whole of it is laid on, not its first edge, so that which click is loudest does
//! not matter. Which sounds are beats is decided elsewhere.

use crate::bands::{count, whole, whole32};
use crate::contour::Contour;
use std::ops::Range;

/// Seconds before a beat's beginning that belong to its shape.
const BEFORE_S: f64 = 0.03;
/// And after it: clicks and the first of the echo.
const AFTER_S: f64 = 0.07;
/// Of a beat that is cut off by an end, this much after its beginning must be there.
const LEAST_AFTER_S: f64 = 0.012;
/// Neighbouring frames are not independent: smoothing joins three.
const JOINED: f64 = 3.0;

/// The mean curve about a beat.
#[derive(Debug, Clone)]
pub(crate) struct Shape {
    height: Vec<f32>,
    /// Frames of it before the place it is laid on by.
    before: usize,
    /// From that place to where the sound begins, seconds.
    pub(crate) begins_s: f64,
}

/// A shape laid on the curve.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fit {
    /// Where its place is, seconds from the curve's beginning.
    pub(crate) at_s: f64,
    /// One standard deviation of that, from what of the curve the shape does not explain.
    pub(crate) sd_s: f64,
    /// Likeness, 1 at most.
    pub(crate) alike: f64,
    /// How large beside the shape.
    pub(crate) size: f64,
}

impl Shape {
    /// The mean curve about some places, where beats follow each other after so many seconds at least; nothing without places.
    pub(crate) fn learn(contour: &Contour, places: &[f64], apart_s: f64) -> Option<Shape> {
        let before = count(BEFORE_S.min(0.3 * apart_s) * contour.rate).max(2);
        let after = count(AFTER_S.min(0.55 * apart_s) * contour.rate).max(4);
        let mut sum = vec![0.0_f32; before + after];
        let mut used = 0;
        for place in places {
            let from = place * contour.rate - whole(before);
            if from < 0.0 || from + whole(sum.len()) + 2.0 > whole(contour.height.len()) {
                continue;
            }
            let first = count(from.floor());
            #[expect(clippy::cast_possible_truncation, reason = "a part of one")]
            let part = (from - whole(first)) as f32;
            for (k, sum) in sum.iter_mut().enumerate() {
                let (a, b) = (contour.height[first + k], contour.height[first + k + 1]);
                *sum += a + part * (b - a);
            }
            used += 1;
        }
        if used == 0 {
            return None;
        }
        sum.iter_mut().for_each(|x| *x /= whole32(used));
        let mut shape = Shape {
            height: sum,
            before,
            begins_s: 0.0,
        };
        shape.begins_s = shape.beginning() / contour.rate;
        Some(shape)
    }

    /// Frames from the place to where the mean curve has risen by two fifths of the way to its top.
    fn beginning(&self) -> f64 {
        let top = self.height.iter().copied().fold(0.0, f32::max);
        let least = self.height.iter().copied().fold(f32::MAX, f32::min);
        let level = least + 0.4 * (top - least);
        let at = self.height.iter().position(|&x| x >= level).unwrap_or(0);
        let below = self.height[at.saturating_sub(1)];
        let rise = f64::from(self.height[at] - below);
        let part = if at > 0 && rise > 0.0 {
            f64::from(level - below) / rise
        } else {
            1.0
        };
        whole(at) - 1.0 + part - whole(self.before)
    }

    /// Lays the shape on the curve at the place most like it, no further than so many seconds from the expected one.
    pub(crate) fn lay(&self, contour: &Contour, expected_s: f64, reach_s: f64) -> Option<Fit> {
        let h = &contour.height;
        let reach = count(reach_s * contour.rate).max(2);
        let middle = count((expected_s * contour.rate).max(0.0));
        let least = count(LEAST_AFTER_S * contour.rate);
        let mut curve = Vec::with_capacity(2 * reach + 1);
        let mut best = 0;
        for k in 0..=2 * reach {
            // Where the shape's place falls, shifted so as not to go below nought.
            let place = middle + k;
            let laid = (place >= reach && place - reach + least < h.len())
                .then(|| self.match_at(h, place - reach))
                .flatten();
            curve.push(laid);
            let alike = |k: usize| {
                curve
                    .get(k)
                    .copied()
                    .flatten()
                    .map_or(-1.0, |m: Match| m.similarity)
            };
            if alike(k) > alike(best) {
                best = k;
            }
        }
        let found = curve[best]?;
        let side = |k: usize| curve.get(k).copied().flatten().map(|m| m.similarity);
        let (left, right) = (best.checked_sub(1).and_then(side), side(best + 1));
        let between = match (left, right) {
            (Some(l), Some(r)) => {
                let bend = l - 2.0 * found.similarity + r;
                if bend < 0.0 {
                    (0.5 * (l - r) / bend).clamp(-0.5, 0.5)
                } else {
                    0.0
                }
            }
            _ => 0.0,
        };
        let at = whole(middle + best) - whole(reach) + between;
        Some(Fit {
            at_s: at / contour.rate,
            sd_s: self.spread(h.len(), middle + best - reach, found) / contour.rate,
            alike: found.similarity,
            size: found.size,
        })
    }

    /// Which frames of a curve so long, and which of the shape, lie on each other with its place at a frame.
    fn overlap(&self, length: usize, place: usize) -> Option<(Range<usize>, Range<usize>)> {
        let skip = self.before.saturating_sub(place);
        let from = (place + skip).checked_sub(self.before)?;
        let to = (place + self.height.len() - self.before).min(length);
        Some((from..to, skip..skip + to - from))
    }

    /// The shape on the curve with its place at a frame.
    fn match_at(&self, h: &[f32], place: usize) -> Option<Match> {
        let (x, t) = self.overlap(h.len(), place)?;
        let (x, t) = (&h[x], &self.height[t]);
        let n = whole32(x.len());
        let [sx, st, sxx, stt, sxt] = sums(x, t);
        let (vx, vt, c) = (sxx - sx * sx / n, stt - st * st / n, sxt - sx * st / n);
        if vt <= 0.0 || vx <= 0.0 {
            return None;
        }
        Some(Match {
            similarity: f64::from(c / (vx * vt).sqrt()),
            size: f64::from(c / vt),
            left: f64::from((vx - c * c / vt).max(0.0) / n),
        })
    }

    /// One standard deviation of where it lies, in frames: the steeper the shape, the surer.
    fn spread(&self, length: usize, place: usize, found: Match) -> f64 {
        let t = self.overlap(length, place).map_or(0..0, |(_, t)| t);
        let steps = self.height[t].windows(2);
        let slopes: f32 = steps.map(|w| (w[1] - w[0]).powi(2)).sum();
        let steep = found.size.powi(2) * f64::from(slopes);
        (JOINED * found.left / steep.max(1e-12)).sqrt().max(0.1)
    }
}

#[derive(Debug, Clone, Copy)]
struct Match {
    similarity: f64,
    size: f64,
    /// Mean square of what the shape does not explain.
    left: f64,
}

/// Sums of two curves, of their squares, and of their products, eight at a time.
fn sums(x: &[f32], t: &[f32]) -> [f32; 5] {
    let mut lanes = [[0.0_f32; 8]; 5];
    let (xs, x_rest) = x.as_chunks::<8>();
    let (ts, t_rest) = t.as_chunks::<8>();
    let mut add = |k: usize, x: f32, t: f32| {
        for (lane, value) in lanes.iter_mut().zip([x, t, x * x, t * t, x * t]) {
            lane[k] += value;
        }
    };
    for (x, t) in xs.iter().zip(ts) {
        for k in 0..8 {
            add(k, x[k], t[k]);
        }
    }
    for (&x, &t) in x_rest.iter().zip(t_rest) {
        add(0, x, t);
    }
    lanes.map(|lane| lane.iter().sum())
}
