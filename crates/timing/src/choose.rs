//! The rule of choice: of all shifts that bring every witness that was read into its window, which.
//!
//! Fewest meshes that spread plates, then fewest outside; then the greatest chance, equal within [`ALIKE`]; then the
//! least lean, the largest distance from best in half windows; then fewest teeth; then meshes earlier on the sheet; then
//! ahead before back. Whether a place is in its window is decided in whole numbers, always.

use crate::dense;
use crate::lattice::{Lattice, Point, Whole};
use crate::system::System;
use crate::teeth::fewest_teeth;
use num_traits::{ToPrimitive, Zero};
use quantity::{BigInt, Degrees, Exact, nearest_alike, to_f64};
use std::cmp::Ordering;

/// Chances nearer than this are equal.
pub(crate) const ALIKE: f64 = 1e-9;

/// Leans nearer than this are told apart exactly; a few hundred times the rounding of a quotient.
const CLOSE: f64 = 1e-13;

/// A box with no more points than this is looked through whole; one with more is first made smaller.
const WHOLE_BOX: usize = 20_000;

/// Sets of meshes that are tried before the search stops being exhaustive and says so. Fifteen meshes have 32,767 sets.
const MOST_SETS: usize = 40_000;

/// Windows to be met: from and to, one pair for each axis.
pub(crate) type Windows = [(Degrees, Degrees)];

/// What was chosen.
#[derive(Debug, Clone)]
pub(crate) struct Choice {
    /// Movers, in sheet order, and their teeth, ahead positive.
    pub(crate) shifts: Vec<(usize, BigInt)>,
    /// Where every axis then stands.
    pub(crate) places: Vec<Degrees>,
}

/// What came of looking for a choice.
#[derive(Debug, Clone)]
pub(crate) enum Found {
    /// The best by the rule.
    Best(Choice),
    /// No shift of any number of meshes does.
    Nothing,
    /// There are shifts that do, of more meshes than could be tried; this is one.
    CutShort(Choice),
}

/// A point of a set's lattice: where the moved axes go, the teeth that lead there, and how good it is.
#[derive(Debug, Clone)]
pub(crate) struct Rough {
    pub(crate) units: Vec<BigInt>,
    pub(crate) teeth: Vec<BigInt>,
    pub(crate) chance: f64,
    pub(crate) lean: f64,
}

/// A set of movers with what it moves.
pub(crate) struct Set<'a> {
    pub(crate) system: &'a System,
    pub(crate) windows: &'a Windows,
    pub(crate) movers: Vec<usize>,
    /// The axes that some mover of the set moves.
    pub(crate) moved: Vec<usize>,
}

impl<'a> Set<'a> {
    pub(crate) fn of(system: &'a System, windows: &'a Windows, movers: Vec<usize>) -> Set<'a> {
        let moved = (0..system.axes.len())
            .filter(|&w| movers.iter().any(|&m| !system.movers[m].steps[w].is_zero()))
            .collect();
        Set {
            system,
            windows,
            movers,
            moved,
        }
    }

    /// Whether every axis that the set does not move is in its window as it stands.
    fn leaves_the_rest_in(&self) -> bool {
        (0..self.system.axes.len())
            .filter(|w| !self.moved.contains(w))
            .all(|w| {
                let (from, to) = &self.windows[w];
                let axis = &self.system.axes[w];
                let (low, high) = axis.units(from, to);
                // Some whole number of periods must lie between them.
                use num_integer::Integer;
                low.div_ceil(&axis.around) <= high.div_floor(&axis.around)
            })
    }

    /// The box of units in which the moved axes are in their windows.
    fn window_box(&self) -> (Vec<BigInt>, Vec<BigInt>) {
        self.moved
            .iter()
            .map(|&w| {
                let (from, to) = &self.windows[w];
                self.system.axes[w].units(from, to)
            })
            .unzip()
    }

    /// Periods, steps and cycles of the moved axes, as the whole numbers wanted.
    fn lattice<I: Whole>(&self, whole: impl Fn(&BigInt) -> Option<I>) -> Option<Lattice<I>> {
        let axes = &self.system.axes;
        let movers = || self.movers.iter().map(|&m| &self.system.movers[m]);
        let periods: Vec<I> = self
            .moved
            .iter()
            .map(|&w| whole(&axes[w].around))
            .collect::<Option<_>>()?;
        let steps: Vec<Vec<I>> = movers()
            .map(|mover| self.moved.iter().map(|&w| whole(&mover.steps[w])).collect())
            .collect::<Option<_>>()?;
        let cycles: Vec<I> = movers()
            .map(|mover| whole(&mover.cycle))
            .collect::<Option<_>>()?;
        Some(Lattice::spanned(&periods, &steps, Some(&cycles)).0)
    }

    /// The points of the window box, each rated; those that another beats in chance and lean are left out.
    fn rated(&self) -> Vec<Rough> {
        if !self.leaves_the_rest_in() {
            return Vec::new();
        }
        // Products of two such numbers stay within a machine word of 128 bits.
        let small = |x: &BigInt| x.to_i128().filter(|x| x.unsigned_abs() < 1 << 60);
        match self.lattice(small) {
            Some(lattice) => self.rated_in(lattice, &small),
            None => match self.lattice(|x| Some(x.clone())) {
                Some(lattice) => self.rated_in(lattice, &|x: &BigInt| Some(x.clone())),
                None => Vec::new(),
            },
        }
    }

    fn rated_in<I: Whole + Into<BigInt>>(
        &self,
        mut lattice: Lattice<I>,
        whole: &impl Fn(&BigInt) -> Option<I>,
    ) -> Vec<Rough> {
        let cell = lattice.cell();
        let (low, high) = self.window_box();
        let scale: Vec<f64> = (low.iter().zip(&high))
            .map(|(low, high)| 2.0 / (to_f64(&Exact::from_integer(high - low)) + 1.0))
            .collect();
        if scale.iter().any(|scale| *scale <= 0.0) {
            return Vec::new();
        }
        lattice.reduce(&scale);
        let ints = |list: &[BigInt]| list.iter().map(whole).collect::<Option<Vec<I>>>();
        let points = ints(&low)
            .zip(ints(&high))
            .and_then(|(low, high)| lattice.points_within(&low, &high, WHOLE_BOX));
        match points {
            Some(points) => self.front(points),
            None => dense::points(self, &lattice, cell, whole),
        }
    }

    /// Rates points, and keeps those that no other beats both in chance and in lean.
    pub(crate) fn front<I: Whole + Into<BigInt>>(&self, points: Vec<Point<I>>) -> Vec<Rough> {
        let rater = Rater::of(self);
        let mut rated: Vec<(f64, f64, f64, Point<I>)> = points
            .into_iter()
            .map(|point| {
                let (worst, best, lean) = rater.bounds(&point);
                (worst, best, lean, point)
            })
            .collect();
        // Only with a common hold do the bounds differ, and then the sum over the hold is the dear part.
        rated.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut top = f64::NEG_INFINITY;
        let mut settled: Vec<(f64, f64, Point<I>)> = Vec::new();
        for (worst, best, lean, point) in rated {
            if best < top - ALIKE {
                break;
            }
            let chance = if best - worst < 1e-3 * ALIKE {
                best
            } else {
                rater.chance(&point)
            };
            top = top.max(chance);
            settled.push((chance, lean, point));
        }
        settled.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.total_cmp(&b.1)));
        let mut least = f64::INFINITY;
        settled
            .into_iter()
            .filter(|(_, lean, _)| {
                let kept = *lean <= least + CLOSE;
                least = least.min(*lean);
                kept
            })
            .map(|(chance, lean, point)| Rough {
                units: point.places.into_iter().map(Into::into).collect(),
                teeth: point.teeth.into_iter().map(Into::into).collect(),
                chance,
                lean,
            })
            .collect()
    }

    /// Where every axis stands after the moved ones went so many units.
    pub(crate) fn places(&self, units: &[BigInt]) -> Vec<Degrees> {
        let still = BigInt::zero();
        (self.system.axes.iter().enumerate())
            .map(|(w, axis)| {
                let moved = self.moved.iter().position(|&m| m == w);
                axis.after(moved.map_or(&still, |i| &units[i]))
            })
            .collect()
    }
}

/// Rates many points of one set in floating point.
pub(crate) struct Rater<'a> {
    set: &'a Set<'a>,
    stands: Vec<f64>,
    units: Vec<f64>,
    best: Vec<f64>,
    half: Vec<f64>,
    targets: Vec<crate::chance::Target>,
    /// The chance of each axis as it stands.
    still: Vec<f64>,
    swayed: bool,
}

impl<'a> Rater<'a> {
    pub(crate) fn of(set: &'a Set<'a>) -> Rater<'a> {
        let axes = &set.system.axes;
        let targets = set.system.targets();
        let stands: Vec<f64> = axes.iter().map(|a| a.stands.to_f64()).collect();
        Rater {
            set,
            still: (targets.iter().zip(&stands))
                .map(|(target, at)| target.alone(*at))
                .collect(),
            stands,
            units: axes.iter().map(|a| a.unit_f64()).collect(),
            best: axes.iter().map(|a| a.best.to_f64()).collect(),
            half: axes.iter().map(|a| a.half().to_f64()).collect(),
            swayed: targets.iter().filter(|t| t.held > 0.0).count() > 1,
            targets,
        }
    }

    fn places<I: Whole>(&self, point: &Point<I>) -> Vec<f64> {
        let mut places = self.stands.clone();
        for (&w, units) in self.set.moved.iter().zip(&point.places) {
            places[w] += units.to_f64().unwrap_or(0.0) * self.units[w];
        }
        places
    }

    fn chance<I: Whole>(&self, point: &Point<I>) -> f64 {
        crate::chance::all_in(&self.targets, &self.places(point))
    }

    /// Between what the chance of a point lies, and its lean.
    pub(crate) fn bounds<I: Whole>(&self, point: &Point<I>) -> (f64, f64, f64) {
        let places = self.places(point);
        let (mut product, mut least, mut missing, mut lean) = (1.0, 1.0f64, 0.0, 0.0f64);
        for (w, place) in places.iter().enumerate() {
            let alone = if self.set.moved.contains(&w) {
                self.targets[w].alone(*place)
            } else {
                self.still[w]
            };
            product *= alone;
            least = least.min(alone);
            missing += 1.0 - alone;
            let period = self.targets[w].period;
            let off = place - self.best[w];
            lean = lean.max((off - period * (off / period).round()).abs() / self.half[w]);
        }
        if self.swayed {
            ((1.0 - missing).max(0.0), least, lean)
        } else {
            (product, product, lean)
        }
    }
}

/// The largest distance from best, in half windows, exactly.
pub(crate) fn lean(system: &System, places: &[Degrees]) -> Exact {
    (system.axes.iter().zip(places))
        .map(|(axis, place)| (place - &axis.best).abs().exact() / axis.half().exact())
        .max()
        .unwrap_or_else(Exact::zero)
}

/// Chooses by the rule among shifts that bring every axis into its window; the empty set is not among them.
pub(crate) fn choose(system: &System, windows: &Windows) -> Found {
    let all = Set::of(system, windows, (0..system.movers.len()).collect());
    if all.rated().is_empty() {
        return Found::Nothing;
    }
    let (outside, plates): (Vec<usize>, Vec<usize>) =
        (0..system.movers.len()).partition(|&m| system.movers[m].outside);
    let mut tried = 0;
    for spread in 0..=plates.len() {
        for beside in 0..=outside.len() {
            if spread + beside == 0 {
                continue;
            }
            let mut pool: Vec<(Set<'_>, Vec<Rough>)> = Vec::new();
            for some_plates in combinations(&plates, spread) {
                for some_outside in combinations(&outside, beside) {
                    tried += 1;
                    if tried > MOST_SETS {
                        return cut_short(all);
                    }
                    let mut movers = [some_plates.clone(), some_outside].concat();
                    movers.sort_unstable();
                    let set = Set::of(system, windows, movers);
                    let rated = set.rated();
                    if !rated.is_empty() {
                        pool.push((set, rated));
                    }
                }
            }
            if let Some(choice) = best_of(&pool) {
                return Found::Best(choice);
            }
        }
    }
    Found::Nothing
}

/// Any shift that does, where the sets are too many to try them all.
fn cut_short(all: Set<'_>) -> Found {
    let rated = all.rated();
    best_of(&[(all, rated)]).map_or(Found::Nothing, Found::CutShort)
}

/// The best of a pool of sets that open as many meshes.
fn best_of(pool: &[(Set<'_>, Vec<Rough>)]) -> Option<Choice> {
    let each = || {
        pool.iter()
            .flat_map(|(set, rated)| rated.iter().map(move |rough| (set, rough)))
    };
    let top = each()
        .map(|(_, rough)| rough.chance)
        .max_by(f64::total_cmp)?;
    let alike = || each().filter(|(_, rough)| rough.chance >= top - ALIKE);
    let least = alike()
        .map(|(_, rough)| rough.lean)
        .min_by(f64::total_cmp)?;
    let mut exact: Vec<_> = alike()
        .filter(|(_, rough)| rough.lean <= least + 2.0 * CLOSE)
        .map(|(set, rough)| {
            let places = set.places(&rough.units);
            (lean(set.system, &places), places, set, rough)
        })
        .collect();
    let least = exact.iter().map(|(lean, ..)| lean.clone()).min()?;
    exact.retain(|(lean, ..)| *lean == least);
    exact
        .into_iter()
        .map(|(_, places, set, rough)| Choice {
            shifts: (set.movers.iter().copied())
                .zip(fewest_teeth(set, &rough.teeth))
                .filter(|(_, teeth)| !teeth.is_zero())
                .collect(),
            places,
        })
        .min_by(by_teeth_then_sheet)
}

/// Fewest teeth, then meshes earlier on the sheet, then ahead before back, then fewer teeth at the earlier mesh.
fn by_teeth_then_sheet(a: &Choice, b: &Choice) -> Ordering {
    let sum = |choice: &Choice| -> BigInt {
        choice
            .shifts
            .iter()
            .map(|(_, teeth)| BigInt::from(teeth.magnitude().clone()))
            .sum()
    };
    let meshes = |choice: &Choice| choice.shifts.iter().map(|(m, _)| *m).collect::<Vec<_>>();
    sum(a)
        .cmp(&sum(b))
        .then_with(|| meshes(a).cmp(&meshes(b)))
        .then_with(|| {
            let teeth = |choice: &Choice| -> Vec<BigInt> {
                choice
                    .shifts
                    .iter()
                    .map(|(_, teeth)| teeth.clone())
                    .collect()
            };
            crate::teeth::ahead_first(&teeth(a), &teeth(b))
        })
}

/// Every way to take `count` of a list, earlier ones first.
fn combinations(list: &[usize], count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for (i, first) in list.iter().enumerate() {
        for rest in combinations(&list[i + 1..], count - 1) {
            all.push([vec![*first], rest].concat());
            // The caller stops there in any case; a list of all would not fit.
            if all.len() > MOST_SETS {
                return all;
            }
        }
    }
    all
}

/// Whether some shift, or none, brings every axis to within `reach` of its best.
pub(crate) fn reachable(system: &System, reach: &[Degrees]) -> bool {
    let windows: Vec<(Degrees, Degrees)> = (system.axes.iter().zip(reach))
        .map(|(axis, reach)| (&axis.best - reach, &axis.best + reach))
        .collect();
    let near = |axis: &crate::system::Axis, reach: &Degrees| {
        let off = &nearest_alike(&axis.stands, &axis.period, &axis.best) - &axis.best;
        off.abs() <= *reach
    };
    (system.axes.iter().zip(reach)).all(|(axis, reach)| near(axis, reach))
        || !Set::of(system, &windows, (0..system.movers.len()).collect())
            .rated()
            .is_empty()
}
