//! As it stood while it struck right: where the window of a witness lies, which is known from usual proportions alone.
//!
//! What was read then is inside the window, not best. Of the window it is held that its width is right, and that all of it may lie
//! further ahead or back than usual. From that follows how far it lies off, how surely, and how far from an edge the witness stood.
//! Of where anything stands now it tells nothing.

use crate::chance::normal_between;
use num_traits::ToPrimitive;

/// How a window was worked out, and what is known of a place in it while the strike was right; all in degrees of one witness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct StoodInside {
    /// The ends of the window as usual.
    pub(crate) window: [f64; 2],
    /// How far all of it may lie off: one standard deviation; zero where it is known.
    pub(crate) doubt: f64,
    /// Where the witness was read, and how surely: one standard deviation, above zero.
    pub(crate) read: [f64; 2],
    /// How much it stands otherwise from one strike to the next: one standard deviation, above zero.
    pub(crate) sway: f64,
    /// How many strikes were right.
    pub(crate) strikes: u16,
}

/// Where a window lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WindowLies {
    /// How likely it was beforehand that it stood inside at every strike.
    pub(crate) chance: f64,
    /// How much further ahead than usual all of the window lies: the mean, and one standard deviation.
    pub(crate) by: [f64; 2],
    /// How far from the nearer edge it stood at least, at odds of nineteen in twenty; below zero where it may have stood beyond.
    pub(crate) inside: f64,
}

/// So many steps go into one standard deviation of what is summed over: the sum over a normal density is then good to the last figure.
const STEPS: f64 = 8.0;

/// So many into one of where the witness stood, of which a part is counted up.
const FINE: f64 = 40.0;

/// Beyond so many standard deviations nothing is left.
const REACH: f64 = 8.0;

/// How far from an edge is told to such a part of half the window.
const BINS: usize = 2000;

/// The odds at which that is told: nineteen in twenty.
const AT_LEAST: f64 = 0.05;

/// Even steps over a normal density: where, and how likely.
fn nodes(spread: f64, step: f64) -> Vec<(f64, f64)> {
    if spread <= 0.0 {
        return vec![(0.0, 1.0)];
    }
    let step = step.min(spread / STEPS);
    let (mut all, mut at) = (Vec::new(), -REACH * spread);
    let mut whole = 0.0;
    while at <= REACH * spread {
        let weight = libm::exp(-0.5 * (at / spread) * (at / spread));
        whole += weight;
        all.push((at, weight));
        at += step;
    }
    for (_, weight) in &mut all {
        *weight /= whole;
    }
    all
}

impl StoodInside {
    /// What follows from it.
    ///
    /// # Formula
    /// Of a window `[f, t]` that lies `b` off, and of a place `x`, `n` strikes are right with chance
    /// `(Φ((t + b − x)/s) − Φ((f + b − x)/s))ⁿ`, `s` the sway. Beforehand `b` is normal about nothing, `x` about what was read. Sums in
    /// even steps over both, by Bayes.
    pub(crate) fn lies(&self) -> WindowLies {
        let [from, to] = self.window;
        let [read, spread] = self.read;
        let half = 0.5 * (to - from);
        let strikes = f64::from(self.strikes.max(1));
        // Finer than the sum needs: how far inside is told by which of them lie there.
        let places = nodes(spread, (self.sway / 2.0).min(spread / FINE));
        let mut inside = vec![0.0; BINS + 1];
        let (mut whole, mut mean, mut square) = (0.0, 0.0, 0.0);
        for (by, likely) in nodes(self.doubt, f64::INFINITY) {
            for (off, weight) in &places {
                let place = read + off;
                let (back, ahead) = (place - (from + by), (to + by) - place);
                let right = normal_between(-back / self.sway, ahead / self.sway);
                let weight = likely * weight * libm::pow(right, strikes);
                whole += weight;
                mean += weight * by;
                square += weight * by * by;
                inside[bin(back.min(ahead) / half)] += weight;
            }
        }
        if whole <= 0.0 {
            // It was not inside by any figure.
            return WindowLies {
                chance: 0.0,
                by: [0.0, self.doubt],
                inside: -half,
            };
        }
        let mut beyond = 0.0;
        let least = inside.iter().position(|weight| {
            beyond += weight;
            beyond > AT_LEAST * whole
        });
        mean /= whole;
        WindowLies {
            chance: whole,
            by: [mean, (square / whole - mean * mean).max(0.0).sqrt()],
            inside: half * at_bin(least.unwrap_or_default()),
        }
    }
}

/// Of half a window: from as far beyond the edge to its middle, in even bins.
fn bin(part: f64) -> usize {
    let steps = (part.clamp(-1.0, 1.0) + 1.0) * 0.5 * BINS as f64;
    libm::floor(steps).to_usize().unwrap_or_default()
}

fn at_bin(bin: usize) -> f64 {
    2.0 * bin as f64 / BINS as f64 - 1.0
}

#[cfg(test)]
mod tests;
