//! Where places lie too dense to be listed: the same rule, in boxes made small enough.
//!
//! First the greatest chance there is, then the least lean among places with that chance, then, where a witness that
//! does not move keeps the lean from falling, the fewest teeth.

use crate::choose::{ALIKE, Rater, Rough, Set};
use crate::lattice::{Lattice, Point, Whole};
use num_traits::Zero;
use quantity::{BigInt, Exact, to_f64};

/// A box is made smaller until it holds about so many points: enough that it is hardly ever empty.
const SMALL_BOX: f64 = 500.0;

/// Points that are listed at once at most.
const MOST_LISTED: usize = 20_000;

/// Shifts that are tried tooth by tooth. Where places are dense a window is met every few teeth.
const MOST_WALKED: usize = 200_000;

/// From and to in degrees, for each moved axis.
type Spans = Vec<(f64, f64)>;

/// The best points of a set whose window box holds too many.
pub(crate) fn points<I: Whole + Into<BigInt>>(
    set: &Set<'_>,
    lattice: &Lattice<I>,
    cell: f64,
    whole: &impl Fn(&BigInt) -> Option<I>,
) -> Vec<Rough> {
    let dense = Dense {
        set,
        lattice,
        cell,
        whole,
    };
    let peak = dense.peak();
    let top = dense.greatest_chance(peak);
    let near_top = top - ALIKE;
    let found = dense.least_lean(near_top);
    if found.is_empty() {
        dense.fewest_teeth(near_top).into_iter().collect()
    } else {
        found
    }
}

struct Dense<'a, I, F> {
    set: &'a Set<'a>,
    lattice: &'a Lattice<I>,
    cell: f64,
    whole: &'a F,
}

impl<I: Whole + Into<BigInt>, F: Fn(&BigInt) -> Option<I>> Dense<'_, I, F> {
    /// The greatest chance that any place could have, were they dense without end.
    fn peak(&self) -> f64 {
        let targets = self.set.system.targets();
        (self.set.moved.iter())
            .map(|&w| {
                let target = targets[w];
                target.alone(0.5 * (target.from + target.to))
            })
            .fold(1.0, f64::min)
    }

    /// Where each moved axis alone has at least this chance.
    fn likely(&self, chance: f64) -> Spans {
        let targets = self.set.system.targets();
        (self.set.moved.iter())
            .map(|&w| {
                let middle = 0.5 * (targets[w].from + targets[w].to);
                let radius = targets[w].radius(chance);
                (middle - radius, middle + radius)
            })
            .collect()
    }

    /// How many points a box is expected to hold.
    fn expected(&self, spans: &Spans) -> f64 {
        let volume: f64 = (self.set.moved.iter().zip(spans))
            .map(|(&w, (from, to))| (to - from).max(0.0) / self.set.system.axes[w].unit_f64())
            .product();
        volume / self.cell
    }

    /// The points of a box that are in every window, if they are not too many.
    fn listed(&self, spans: &Spans) -> Option<Vec<Rough>> {
        let units = |degrees: f64, w: usize, up: bool| {
            let axis = &self.set.system.axes[w];
            let units = (degrees - axis.stands.to_f64()) / axis.unit_f64();
            let units = if up { units.ceil() } else { units.floor() };
            Exact::from_float(units).and_then(|units| (self.whole)(&units.to_integer()))
        };
        let ends = |up: bool| -> Option<Vec<I>> {
            (self.set.moved.iter().zip(spans))
                .map(|(&w, span)| units(if up { span.1 } else { span.0 }, w, up))
                .collect()
        };
        let points = self
            .lattice
            .points_within(&ends(false)?, &ends(true)?, MOST_LISTED)?;
        let admitted = points
            .into_iter()
            .filter(|point| self.admits(point))
            .collect();
        Some(self.set.front(admitted))
    }

    fn admits(&self, point: &Point<I>) -> bool {
        (self.set.moved.iter().zip(&point.places)).all(|(&w, units)| {
            let (from, to) = &self.set.windows[w];
            let axis = &self.set.system.axes[w];
            let (low, high) = axis.units(from, to);
            let above: BigInt = Into::<BigInt>::into(units.clone()) - low.clone();
            use num_integer::Integer;
            above.mod_floor(&axis.around) <= high - low
        })
    }

    fn greatest_chance(&self, peak: f64) -> f64 {
        // Where the chance is flat at its peak there is always a point on the flat.
        if self.expected(&self.likely(peak - 0.1 * ALIKE)) > SMALL_BOX {
            return peak;
        }
        let (mut low, mut high) = (0.0, peak);
        for _ in 0..50 {
            let mid = 0.5 * (low + high);
            if self.expected(&self.likely(mid)) > SMALL_BOX {
                low = mid;
            } else {
                high = mid;
            }
        }
        let best = |chance: f64| {
            let listed = self.listed(&self.likely(chance)).unwrap_or_default();
            listed.iter().map(|rough| rough.chance).fold(0.0, f64::max)
        };
        // The best of the first box bounds where a better one could be.
        best(best(low).min(low))
    }

    /// The points of least lean among those with at least this chance; none if they are too many to list.
    fn least_lean(&self, chance: f64) -> Vec<Rough> {
        let likely = self.likely(chance);
        let leaning = |lean: f64| -> Spans {
            (self.set.moved.iter().zip(&likely))
                .map(|(&w, (from, to))| {
                    let axis = &self.set.system.axes[w];
                    let reach = lean * axis.half().to_f64();
                    let best = axis.best.to_f64();
                    ((best - reach).max(*from), (best + reach).min(*to))
                })
                .collect()
        };
        // No lean is less than that of a witness that does not move.
        let floor = (0..self.set.system.axes.len())
            .filter(|w| !self.set.moved.contains(w))
            .map(|w| {
                let axis = &self.set.system.axes[w];
                let off = &axis.after(&BigInt::zero()) - &axis.best;
                to_f64(&(off.abs().exact() / axis.half().exact()))
            })
            .fold(0.0, f64::max);
        let (mut low, mut high) = (floor, 2.0);
        if self.expected(&leaning(low)) > SMALL_BOX {
            return Vec::new();
        }
        for _ in 0..50 {
            let mid = 0.5 * (low + high);
            if self.expected(&leaning(mid)) > SMALL_BOX {
                high = mid;
            } else {
                low = mid;
            }
        }
        let near = |lean: f64| -> Option<Vec<Rough>> {
            let mut listed = self.listed(&leaning(lean))?;
            listed.retain(|rough| rough.chance >= chance);
            Some(listed)
        };
        let first = near(low).unwrap_or_default();
        let least = first
            .iter()
            .map(|rough| rough.lean)
            .fold(f64::INFINITY, f64::min);
        if least.is_finite() && least > low {
            near(least).unwrap_or(first)
        } else {
            first
        }
    }

    /// Walks shifts of one tooth, two, three, until one has at least this chance; the lean is then as good as any.
    fn fewest_teeth(&self, chance: f64) -> Option<Rough> {
        let rater = Rater::of(self.set);
        let mut walked = 0;
        let mut best: Option<Rough> = None;
        for total in self.set.movers.len().. {
            for teeth in signed_sums(self.set.movers.len(), total) {
                walked += 1;
                if walked > MOST_WALKED {
                    return best;
                }
                let point = self.point(&teeth)?;
                if !self.admits(&point) {
                    continue;
                }
                let (_, most, lean) = rater.bounds(&point);
                let rough = Rough {
                    units: point.places.into_iter().map(Into::into).collect(),
                    teeth: teeth.iter().map(|t| BigInt::from(*t)).collect(),
                    chance: most,
                    lean,
                };
                if most >= chance {
                    return Some(rough);
                }
                if best.as_ref().is_none_or(|best| most > best.chance) {
                    best = Some(rough);
                }
            }
        }
        best
    }

    fn point(&self, teeth: &[i64]) -> Option<Point<I>> {
        let places = (self.set.moved.iter())
            .map(|&w| {
                let units: BigInt = (self.set.movers.iter().zip(teeth))
                    .map(|(&m, teeth)| BigInt::from(*teeth) * &self.set.system.movers[m].steps[w])
                    .sum();
                (self.whole)(&(units % &self.set.system.axes[w].around))
            })
            .collect::<Option<_>>()?;
        Some(Point {
            places,
            teeth: Vec::new(),
        })
    }
}

/// Every list of `count` whole numbers, none of them 0, whose sizes add up to `total`; ahead before back.
fn signed_sums(count: usize, total: usize) -> Vec<Vec<i64>> {
    if count == 0 {
        return if total == 0 {
            vec![Vec::new()]
        } else {
            Vec::new()
        };
    }
    let mut all = Vec::new();
    for first in 1..=total.saturating_sub(count - 1) {
        if count == 1 && first != total {
            continue;
        }
        let Ok(size) = i64::try_from(first) else {
            continue;
        };
        for sign in [size, -size] {
            for rest in signed_sums(count - 1, total - first) {
                all.push([vec![sign], rest].concat());
            }
        }
    }
    all
}
