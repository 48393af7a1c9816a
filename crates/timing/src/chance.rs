//! The chance that a witness stands in its window, and that all do.
//!
//! Spreads are normal and summed over alike places. The hold moves all witnesses of the drop together, each by its
//! speed; what is left of each is its own.

use gauss_quad::GaussLegendre;
use libm::erfc;
use num_traits::ToPrimitive;
use std::f64::consts::{PI, SQRT_2};
use std::num::NonZeroUsize;
use std::sync::LazyLock;

/// A witness as far as its chance goes; all in degrees of its own arbor.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Target {
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) period: f64,
    /// The reading's own spread, and that of the window's ends.
    pub(crate) spread: f64,
    /// How far one standard deviation of the hold moves it; 0 where the hold does not.
    pub(crate) held: f64,
    /// Whether the hold ties it to others; see [`tie`].
    pub(crate) tied: bool,
}

/// Beyond so many standard deviations a normal spread has less than 1e-17 left: nothing, in double precision.
const TAIL: f64 = 8.6;

/// A spread of one and a half periods leaves every place alike as likely as the next to within e^-44.
const EVEN: f64 = 1.5;

impl Target {
    fn width(&self) -> f64 {
        self.to - self.from
    }

    /// Of all places the likeliest to be in.
    pub(crate) fn middle(&self) -> f64 {
        0.5 * (self.from + self.to)
    }

    /// The chance that it is in its window when it was read at `place`, hold and all.
    pub(crate) fn alone(&self, place: f64) -> f64 {
        self.within(place, self.spread.hypot(self.held))
    }

    /// Steps of work that the chance takes: two values of the normal integral for each alike place that has weight.
    fn work(&self, spread: f64) -> f64 {
        if spread > EVEN * self.period {
            return 10.0;
        }
        let reach = TAIL * spread + 0.5 * self.width();
        100.0 * (1.0 + 2.0 * (reach / self.period + 0.5).floor())
    }

    fn within(&self, place: f64, spread: f64) -> f64 {
        if spread > EVEN * self.period {
            return self.width() / self.period;
        }
        // From the alike place nearest the middle of the window, as many periods either way as have weight.
        let middle = self.middle();
        let near = place - self.period * ((place - middle) / self.period).round();
        let reach = TAIL * spread + 0.5 * self.width();
        let mut sum = 0.0;
        let mut k = 0.0;
        while k * self.period - 0.5 * self.period <= reach {
            for at in [near + k * self.period, near - k * self.period] {
                sum += normal_between((self.from - at) / spread, (self.to - at) / spread);
                if k == 0.0 {
                    break;
                }
            }
            k += 1.0;
        }
        sum.min(1.0)
    }

    /// How far from the middle of its window it may be read and still be in with at least chance `p`; less than 0 where
    /// it nowhere is.
    pub(crate) fn radius(&self, p: f64) -> f64 {
        let middle = self.middle();
        let half = 0.5 * self.period;
        if self.alone(middle) < p {
            return -1.0;
        }
        if self.alone(middle + half) >= p {
            return half;
        }
        // The chance falls from the middle of the window to the middle between two windows.
        let (mut inside, mut outside) = (0.0, half);
        for _ in 0..60 {
            let mid = 0.5 * (inside + outside);
            if self.alone(middle + mid) >= p {
                inside = mid;
            } else {
                outside = mid;
            }
        }
        outside
    }
}

/// The standard normal between two points, exact to rounding in either tail.
pub(crate) fn normal_between(a: f64, b: f64) -> f64 {
    if a > 0.0 {
        above(a) - above(b)
    } else if b < 0.0 {
        above(-b) - above(-a)
    } else {
        1.0 - (above(-a) + above(b))
    }
}

/// The standard normal above a point that is not below its middle.
fn above(z: f64) -> f64 {
    // Most of what is asked is far out, and has an answer without a sum.
    if z > TAIL {
        0.0
    } else {
        0.5 * erfc(z / SQRT_2)
    }
}

/// Nodes and weights on [-1, 1]. Sixteen points integrate a normal step over two of its spreads to 1e-13.
static NODES: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    let sixteen = NonZeroUsize::MIN.saturating_add(15);
    GaussLegendre::new(sixteen)
        .into_node_weight_pairs()
        .into_iter()
        .collect()
});

/// Finds the targets that the hold ties to each other.
///
/// One that it carries through so many places that no other can keep step is as likely in as anywhere, whatever the
/// others do: of the waves that make up its window the first already beats faster than all of theirs together.
pub(crate) fn tie(targets: &mut [Target]) {
    // Beyond 7.8 spreads a wave has gone below e^-30.
    const GONE: f64 = 7.8 / (2.0 * PI);
    for target in targets.iter_mut() {
        target.tied = target.held > 0.0;
    }
    for w in 0..targets.len() {
        let others: f64 = (targets.iter().enumerate())
            .filter(|(other, target)| *other != w && target.tied)
            .map(|(_, target)| GONE * target.held / target.spread)
            .sum();
        let beats = targets[w].held / targets[w].period;
        targets[w].tied &= beats <= others + GONE;
    }
    if targets.iter().filter(|target| target.tied).count() < 2 {
        for target in targets {
            target.tied = false;
        }
    }
}

/// The chance that all targets are in their windows when read at these places.
pub(crate) fn all_in(targets: &[Target], places: &[f64]) -> f64 {
    let tied: Vec<(&Target, f64)> = (targets.iter().zip(places))
        .filter(|(target, _)| target.tied)
        .map(|(target, place)| (target, *place))
        .collect();
    let holds = MOST_WORK_AT_ALL / work_at_a_hold(&tied);
    if !tied.is_empty() && sums(&tied) > holds {
        let apart: f64 = (targets.iter().zip(places))
            .filter(|(target, _)| !target.tied)
            .map(|(target, place)| target.alone(*place))
            .product();
        return apart * in_even_steps(&tied, 2.0 * TAIL / holds);
    }
    all_in_within(targets, places, f64::INFINITY)
}

/// Work that goes into one chance at most. Beyond it the holds that are looked at do not follow every window that is passed: they are a
/// sample, evenly spread, good to some thousandths.
const MOST_WORK_AT_ALL: f64 = 5e7;

/// About how many sums the chance of those that are tied takes.
fn sums(tied: &[(&Target, f64)]) -> f64 {
    (2.0 * TAIL / even_step(tied)).min(sums_in_panels(tied))
}

fn work_at_a_hold(tied: &[(&Target, f64)]) -> f64 {
    (tied.iter())
        .map(|(target, _)| target.work(target.spread))
        .sum()
}

/// Steps of work that it takes to find the chance that each is in by itself.
pub(crate) fn work_alone(targets: &[Target]) -> usize {
    let each = targets
        .iter()
        .map(|target| target.work(target.spread.hypot(target.held)));
    each.sum::<f64>().to_usize().unwrap_or(usize::MAX)
}

/// Steps of work that [`all_in_quickly`] takes.
pub(crate) fn work(targets: &[Target]) -> usize {
    let tied: Vec<(&Target, f64)> = (targets.iter())
        .filter(|target| target.tied)
        .map(|target| (target, 0.0))
        .collect();
    let sums = if tied.is_empty() { 0.0 } else { sums(&tied) };
    let work = if sums > MOST_SUMS {
        0.0
    } else {
        sums * work_at_a_hold(&tied)
    };
    work_alone(targets) + work.to_usize().unwrap_or(usize::MAX)
}

/// The same for one of very many places, where what would take too many sums is taken as if nothing were tied.
pub(crate) fn all_in_quickly(targets: &[Target], places: &[f64]) -> f64 {
    all_in_within(targets, places, MOST_SUMS)
}

/// A hold that carries several witnesses through many places in step takes more sums than this; a choice that hangs on
/// how they keep step is worth little.
const MOST_SUMS: f64 = 2000.0;

fn all_in_within(targets: &[Target], places: &[f64], most_sums: f64) -> f64 {
    let mut apart = 1.0;
    let mut together: Vec<(&Target, f64)> = Vec::new();
    for (target, place) in targets.iter().zip(places) {
        if target.tied {
            together.push((target, *place));
        } else {
            apart *= target.alone(*place);
        }
    }
    if together.is_empty() {
        return apart;
    }
    let even = 2.0 * TAIL / even_step(&together);
    let in_panels = sums_in_panels(&together);
    if even.min(in_panels) > most_sums {
        together
            .iter()
            .fold(apart, |all, (target, place)| all * target.alone(*place))
    } else if even < in_panels {
        apart * in_even_steps(&together, even_step(&together))
    } else {
        apart * over_panels(&together)
    }
}

/// Between what the chance that all are in lies, from the chance of each alone.
pub(crate) fn bounds(targets: &[Target], alone: &[f64]) -> (f64, f64) {
    let (mut apart, mut least, mut missing) = (1.0, 1.0f64, 0.0);
    for (alone, target) in alone.iter().zip(targets) {
        if target.tied {
            least = least.min(*alone);
            missing += 1.0 - alone;
        } else {
            apart *= alone;
        }
    }
    (apart * (1.0f64 - missing).max(0.0), apart * least)
}

/// How likely one target must be in by itself for all to be in with this chance, when the others are at their `peaks`.
pub(crate) fn needed(targets: &[Target], peaks: &[f64], one: usize, chance: f64) -> f64 {
    let (mut apart, mut least) = (1.0, 1.0f64);
    for (w, peak) in peaks.iter().enumerate().filter(|(w, _)| *w != one) {
        // Those that are tied may all be in at once: where this one is, none of the others takes anything from it.
        match (targets[w].tied, targets[one].tied) {
            (true, true) => {}
            (true, false) => least = least.min(*peak),
            (false, _) => apart *= peak,
        }
    }
    let most = apart * least;
    if most > 0.0 { chance / most } else { 0.0 }
}

/// The normal density of the hold times the chance that all are in where it is.
fn all_at(targets: &[(&Target, f64)], hold: f64) -> f64 {
    let mut all = (-0.5 * hold * hold).exp() / (2.0 * PI).sqrt();
    for (target, place) in targets {
        if all > 0.0 {
            all *= target.within(place + hold * target.held, target.spread);
        }
    }
    all
}

/// The chance that all are in, over how the hold may have been, summed in even steps.
fn in_even_steps(targets: &[(&Target, f64)], step: f64) -> f64 {
    let mut sum = all_at(targets, 0.0);
    let mut hold = step;
    while hold <= TAIL {
        sum += all_at(targets, hold) + all_at(targets, -hold);
        hold += step;
    }
    (sum * step).min(1.0)
}

/// The same where even steps would have to be very fine: in panels about the edges of the windows.
fn over_panels(targets: &[(&Target, f64)]) -> f64 {
    let sum: f64 = (panels(targets).windows(2))
        .map(|panel| {
            let (middle, half) = (0.5 * (panel[0] + panel[1]), 0.5 * (panel[1] - panel[0]));
            let weighed =
                |(node, weight): &(f64, f64)| weight * all_at(targets, middle + half * node);
            half * NODES.iter().map(weighed).sum::<f64>()
        })
        .sum();
    sum.clamp(0.0, 1.0)
}

/// How good a sum in even steps is.
const EVEN_ERROR: f64 = 1e-13;

/// The step at which the plain sum over evenly spaced holds is good to [`EVEN_ERROR`].
///
/// # Formula
/// A function analytic in the strip `|Im h| < a`, at most `M` large there in the mean, is summed in steps `δ` to within
/// `2M / (e^(2πa/δ) − 1)`. The normal density times windows blurred by `s` and passed at speed `v` has
/// `M ≤ e^(Ra²/2)` with `R = 1 + Σ(v/s)²`; at the best `a` that is an error of `2·e^(−2π²/(Rδ²))`.
///
/// # Source
/// Trefethen and Weideman, "The exponentially convergent trapezoidal rule", SIAM Review 56 (2014), theorem 5.1
/// (its number from memory).
fn even_step(targets: &[(&Target, f64)]) -> f64 {
    let sharp: f64 = (targets.iter())
        .map(|(target, _)| (target.held / target.spread).powi(2))
        .sum();
    PI * (2.0 / ((2.0 / EVEN_ERROR).ln() * (1.0 + sharp))).sqrt()
}

/// Cuts about each edge of a window, in spreads from it.
const ABOUT_AN_EDGE: [f64; 9] = [-8.0, -4.0, -2.0, -1.0, 0.0, 1.0, 2.0, 4.0, 8.0];

/// About how many sums panels take.
fn sums_in_panels(targets: &[(&Target, f64)]) -> f64 {
    let edges: f64 = (targets.iter())
        .map(|(target, _)| 2.0 + 4.0 * TAIL * target.held / target.period)
        .sum();
    (edges * ABOUT_AN_EDGE.len() as f64 + 35.0) * NODES.len() as f64
}

/// Cuts between panels, narrow where some window's edge makes the chance change fast, and never wider than one spread.
fn panels(targets: &[(&Target, f64)]) -> Vec<f64> {
    let mut cuts: Vec<f64> = (-17..=17).map(|i| 0.5 * f64::from(i)).collect();
    for (target, place) in targets {
        let sharp = target.spread / target.held;
        let reach = TAIL * (target.held + target.spread);
        for edge in [target.from, target.to] {
            let mut periods = ((edge - place - reach) / target.period).ceil();
            while periods * target.period <= edge - place + reach {
                let at = (edge - place - periods * target.period) / target.held;
                for step in ABOUT_AN_EDGE {
                    cuts.push(at + step * sharp);
                }
                periods += 1.0;
            }
        }
    }
    cuts.retain(|cut| cut.abs() <= TAIL);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    cuts
}
