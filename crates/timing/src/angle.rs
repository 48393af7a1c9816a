//! The angles at which a part that may be turned to any has all that it carries in their windows.
//!
//! Each axis is in over runs of angles, one for each place alike; where they overlap all are in. In each such run the angle is the one at
//! which the largest distance from best, in half windows, is least: a corner of a few straight lines, found exactly.

use crate::effort::Effort;
use crate::system::Axis;
use num_traits::{Signed, Zero};
use quantity::{Degrees, Exact, whole};

/// An axis that a part carries.
pub(crate) struct Carried<'a> {
    pub(crate) axis: &'a Axis,
    /// Where it stands.
    pub(crate) stands: &'a Degrees,
    /// Degrees it goes ahead for one degree of the part; not nothing.
    pub(crate) rate: &'a Exact,
}

/// A part is turned by half a turn at most, or as far as it takes to come round to every place of what it carries, up to so many degrees.
const FARTHEST: i64 = 1080;

/// So many runs of angles are looked at, and as many places alike on each.
const MOST_RUNS: usize = 1024;

/// A run of angles over which all are in, with the angle at which each has its best.
struct Run {
    low: Exact,
    high: Exact,
    best: Vec<Exact>,
}

/// One angle for each run, the smaller first; and whether some were left off.
pub(crate) fn angles(carried: &[Carried<'_>], effort: &Effort<'_>) -> (Vec<Exact>, bool) {
    let farthest = (carried.iter())
        .map(|c| c.axis.period.exact() / c.rate.abs() / whole(2))
        .fold(whole(180), Exact::max)
        .min(whole(FARTHEST));
    let mut runs = vec![Run {
        low: -farthest.clone(),
        high: farthest,
        best: Vec::new(),
    }];
    let mut cut = false;
    // What has fewest places first, so that there are never many runs.
    let mut order: Vec<&Carried<'_>> = carried.iter().collect();
    order.sort_by_cached_key(|c| c.rate.abs() / c.axis.period.exact());
    for c in &order {
        let mut narrower = Vec::new();
        for run in &runs {
            let alike = c.alike(run);
            cut |= alike.len() == MOST_RUNS;
            for alike in alike {
                let enough = effort.spend(200);
                if narrower.len() == MOST_RUNS || !enough {
                    cut = true;
                    break;
                }
                narrower.extend(c.within(run, &alike));
            }
        }
        runs = narrower;
    }
    let mut angles: Vec<Exact> = runs
        .iter()
        .filter_map(|run| run.least_lean(&order))
        .collect();
    angles.sort_by(|a, b| a.abs().cmp(&b.abs()).then(b.cmp(a)));
    (angles, cut)
}

impl Carried<'_> {
    /// Numbers of periods by which it may be off and yet come into its window on a run.
    fn alike(&self, run: &Run) -> Vec<Exact> {
        let at = |angle: &Exact| self.stands.exact() + self.rate * angle;
        let (a, b) = (at(&run.low), at(&run.high));
        let (least, most) = if a < b { (a, b) } else { (b, a) };
        let period = self.axis.period.exact();
        let first = ((least - self.axis.to.exact()) / period).ceil();
        let last = ((most - self.axis.from.exact()) / period).floor();
        (0_u16..)
            .map(|n| &first + whole(n.into()))
            .take_while(|alike| *alike <= last)
            .take(MOST_RUNS)
            .collect()
    }

    /// What of a run has it in, with so many periods taken off.
    fn within(&self, run: &Run, alike: &Exact) -> Option<Run> {
        let stands = self.stands.exact() - alike * self.axis.period.exact();
        let to = |place: &Degrees| (place.exact() - &stands) / self.rate;
        let (a, b) = (to(&self.axis.from), to(&self.axis.to));
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        let (low, high) = (low.max(run.low.clone()), high.min(run.high.clone()));
        let mut best = run.best.clone();
        best.push(to(&self.axis.best));
        (low <= high).then_some(Run { low, high, best })
    }

    /// Half windows that it goes for one degree.
    fn leans(&self) -> Exact {
        self.rate.abs() / self.axis.half().exact()
    }
}

impl Run {
    /// The angle at which the largest distance from best is least.
    fn least_lean(&self, carried: &[&Carried<'_>]) -> Option<Exact> {
        let leans: Vec<Exact> = carried.iter().map(|c| c.leans()).collect();
        let mut corners = vec![self.low.clone(), self.high.clone()];
        for (i, a) in self.best.iter().enumerate() {
            corners.push(a.clone());
            for (j, b) in self.best.iter().enumerate().skip(i + 1) {
                corners.push((&leans[i] * a + &leans[j] * b) / (&leans[i] + &leans[j]));
                let apart = &leans[i] - &leans[j];
                if !apart.is_zero() {
                    corners.push((&leans[i] * a - &leans[j] * b) / apart);
                }
            }
        }
        let lean = |angle: &Exact| -> Exact {
            (self.best.iter().zip(&leans))
                .map(|(best, leans)| (angle - best).abs() * leans)
                .fold(whole(0), Exact::max)
        };
        (corners.into_iter())
            .filter(|angle| *angle >= self.low && *angle <= self.high)
            .min_by_key(|angle| (lean(angle), angle.abs()))
    }
}
