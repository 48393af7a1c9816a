//! The chance that a witness stands in its window, and that all do.
//!
//! Spreads are normal and summed over alike places. The hold moves all witnesses of the drop together, each by its
//! speed; what is left of each is its own.

use gauss_quad::GaussLegendre;
use libm::erfc;
use std::f64::consts::SQRT_2;
use std::num::NonZeroUsize;
use std::sync::LazyLock;

/// A witness as far as its chance goes; all in degrees of its own arbor.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Target {
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) period: f64,
    /// The reading's own spread.
    pub(crate) spread: f64,
    /// How far one standard deviation of the hold moves it; 0 where the hold does not.
    pub(crate) held: f64,
}

/// Beyond so many standard deviations a normal spread has less than 1e-17 left: nothing, in double precision.
const TAIL: f64 = 8.6;

/// A spread of one and a half periods leaves every place alike as likely as the next to within e^-44.
const EVEN: f64 = 1.5;

/// A hold that moves a witness by two periods says nothing of where in its period it stands (e^-79), nor does it tie it
/// to its neighbours.
const LOOSE: f64 = 2.0;

impl Target {
    fn width(&self) -> f64 {
        self.to - self.from
    }

    /// Whether the hold moves it, and not so far that nothing is known of it any more.
    fn swayed(&self) -> bool {
        self.held > 0.0 && self.held < LOOSE * self.period
    }

    /// The chance that it is in its window when it was read at `place`, hold and all.
    pub(crate) fn alone(&self, place: f64) -> f64 {
        self.within(place, self.spread.hypot(self.held))
    }

    fn within(&self, place: f64, spread: f64) -> f64 {
        if spread > EVEN * self.period {
            return self.width() / self.period;
        }
        // From the alike place nearest the middle of the window, as many periods either way as have weight.
        let middle = 0.5 * (self.from + self.to);
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
        let middle = 0.5 * (self.from + self.to);
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
fn normal_between(a: f64, b: f64) -> f64 {
    if a > 0.0 {
        0.5 * (erfc(a / SQRT_2) - erfc(b / SQRT_2))
    } else if b < 0.0 {
        0.5 * (erfc(-b / SQRT_2) - erfc(-a / SQRT_2))
    } else {
        1.0 - 0.5 * (erfc(-a / SQRT_2) + erfc(b / SQRT_2))
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

/// The chance that all targets are in their windows when read at these places.
pub(crate) fn all_in(targets: &[Target], places: &[f64]) -> f64 {
    let pairs = || targets.iter().zip(places.iter().copied());
    let apart: f64 = pairs()
        .filter(|(target, _)| !target.swayed())
        .map(|(target, place)| target.alone(place))
        .product();
    let together: Vec<(&Target, f64)> = pairs().filter(|(target, _)| target.swayed()).collect();
    match together[..] {
        [] => apart,
        [(target, place)] => apart * target.alone(place),
        _ => apart * over_the_hold(&together),
    }
}

/// The chance that all are in, over how the hold may have been: one normal variable common to all.
fn over_the_hold(targets: &[(&Target, f64)]) -> f64 {
    // The panels are narrow where some window's edge makes the chance change fast, and never wider than one spread.
    let mut cuts: Vec<f64> = (-17..=17).map(|i| 0.5 * f64::from(i)).collect();
    for (target, place) in targets {
        let sharp = target.spread / target.held;
        let reach = TAIL * (target.held + target.spread);
        for edge in [target.from, target.to] {
            let mut periods = ((edge - place - reach) / target.period).ceil();
            while periods * target.period <= edge - place + reach {
                let at = (edge - place - periods * target.period) / target.held;
                for step in [-8.0, -4.0, -2.0, -1.0, 0.0, 1.0, 2.0, 4.0, 8.0] {
                    cuts.push(at + step * sharp);
                }
                periods += 1.0;
            }
        }
    }
    cuts.retain(|cut| cut.abs() <= TAIL);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let density = |h: f64| (-0.5 * h * h).exp() / (2.0 * std::f64::consts::PI).sqrt();
    cuts.windows(2)
        .map(|panel| {
            let (middle, half) = (0.5 * (panel[0] + panel[1]), 0.5 * (panel[1] - panel[0]));
            half * NODES
                .iter()
                .map(|(node, weight)| {
                    let h = middle + half * node;
                    let all: f64 = targets
                        .iter()
                        .map(|(t, place)| t.within(place + h * t.held, t.spread))
                        .product();
                    weight * density(h) * all
                })
                .sum::<f64>()
        })
        .sum::<f64>()
        .clamp(0.0, 1.0)
}
