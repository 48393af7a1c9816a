//! The rule of choice: of all shifts that bring every witness that was read into its window, which.
//!
//! Fewest meshes that spread plates, then fewest outside; then the greatest chance, equal within [`ALIKE`]; then the
//! least lean, the largest distance from best in half windows; then fewest teeth; then meshes earlier on the sheet; then
//! ahead before back. Whether a place is in its window is decided in whole numbers, always.

use crate::chance::{Target, all_in_quickly};
use crate::dense;
use crate::lattice::{Lattice, Point, Sought, Whole, scale_of};
use crate::system::System;
use crate::teeth::{Doing, ahead_first, centred, fewest_teeth, total};
use num_integer::Integer;
use num_traits::Zero;
use quantity::{BigInt, Degrees, Exact, nearest_alike};
use std::cmp::Ordering;
use std::collections::HashSet;

/// Chances nearer than this are equal.
pub(crate) const ALIKE: f64 = 1e-9;

/// Leans nearer than this are told apart exactly; a few hundred times the rounding of a quotient.
pub(crate) const CLOSE: f64 = 1e-13;

/// A box with no more points than this is looked through whole; one with more is first made smaller.
const WHOLE_BOX: usize = 1000;

/// Sets of meshes that are tried before the search stops being exhaustive and says so. Fifteen meshes have 32,767 sets.
const MOST_SETS: usize = 40_000;

/// The windows to be met.
pub(crate) struct Goal<'a> {
    pub(crate) system: &'a System,
    /// One for each axis.
    pub(crate) spans: Vec<Span>,
}

/// The window of one axis, or what stands for it.
pub(crate) struct Span {
    /// In degrees.
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// In units from where the axis stands.
    pub(crate) low: BigInt,
    pub(crate) high: BigInt,
    /// Whether the axis is in as it stands.
    still_in: bool,
}

impl<'a> Goal<'a> {
    /// `windows` are one pair of degrees for each axis.
    pub(crate) fn of(system: &'a System, windows: &[(Degrees, Degrees)]) -> Goal<'a> {
        let spans = (system.axes.iter().zip(windows))
            .map(|(axis, (from, to))| {
                let (low, high) = axis.units(from, to);
                Span {
                    from: from.to_f64(),
                    to: to.to_f64(),
                    // Some whole number of periods must lie between them.
                    still_in: low.div_ceil(&axis.around) <= high.div_floor(&axis.around),
                    low,
                    high,
                }
            })
            .collect();
        Goal { system, spans }
    }

    /// The windows of the sheet.
    pub(crate) fn windows(system: &'a System) -> Goal<'a> {
        let windows: Vec<_> = (system.axes.iter())
            .map(|axis| (axis.from.clone(), axis.to.clone()))
            .collect();
        Goal::of(system, &windows)
    }

    /// All the movers there are.
    pub(crate) fn everything(&self) -> Set<'_> {
        Set::of(self, (0..self.system.movers.len()).collect())
    }
}

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
    pub(crate) goal: &'a Goal<'a>,
    pub(crate) movers: Vec<usize>,
    /// The axes that some mover of the set moves.
    pub(crate) moved: Vec<usize>,
}

impl<'a> Set<'a> {
    pub(crate) fn of(goal: &'a Goal<'a>, movers: Vec<usize>) -> Set<'a> {
        let system = goal.system;
        let moved = (0..system.axes.len())
            .filter(|&w| movers.iter().any(|&m| !system.movers[m].steps[w].is_zero()))
            .collect();
        Set {
            goal,
            movers,
            moved,
        }
    }

    /// The axes that stay where they are.
    pub(crate) fn still(&self) -> impl Iterator<Item = usize> {
        (0..self.goal.spans.len()).filter(|w| !self.moved.contains(w))
    }

    /// The box of units in which the moved axes are in their windows: low ends and high ends.
    pub(crate) fn window_box<I: Whole>(&self) -> Option<(Vec<I>, Vec<I>)> {
        let spans = || self.moved.iter().map(|&w| &self.goal.spans[w]);
        let low = spans()
            .map(|span| I::of(&span.low))
            .collect::<Option<_>>()?;
        let high = spans()
            .map(|span| I::of(&span.high))
            .collect::<Option<_>>()?;
        Some((low, high))
    }

    /// Periods of the moved axes, and for each mover how far it moves them.
    pub(crate) fn columns<I: Whole>(&self) -> Option<(Vec<I>, Vec<Vec<I>>)> {
        let system = self.goal.system;
        let periods = (self.moved.iter())
            .map(|&w| I::of(&system.axes[w].around))
            .collect::<Option<_>>()?;
        let steps = |m: usize| {
            let steps = &system.movers[m].steps;
            self.moved.iter().map(|&w| I::of(&steps[w])).collect()
        };
        let steps = (self.movers.iter())
            .map(|&m| steps(m))
            .collect::<Option<_>>()?;
        Some((periods, steps))
    }

    /// The lattice of where the moved axes can go.
    pub(crate) fn lattice<I: Whole>(&self) -> Option<Lattice<I>> {
        let (periods, steps) = self.columns::<I>()?;
        let cycles: Vec<I> = (self.movers.iter())
            .map(|&m| I::of(&self.goal.system.movers[m].cycle))
            .collect::<Option<_>>()?;
        Some(Lattice::spanned(&periods, &steps, Some(&cycles)).0)
    }

    /// Whether some shift of this set brings all in; nothing where that would take too long to find out.
    pub(crate) fn does(&self) -> Option<bool> {
        match self.sought() {
            Sought::Point(_) => Some(true),
            Sought::Nothing => Some(false),
            Sought::LeftOff => None,
        }
    }

    /// Where all stand after some shift of this set that brings them in.
    pub(crate) fn some_places(&self) -> Option<Vec<Degrees>> {
        match self.sought() {
            Sought::Point(point) => Some(self.places(&point.places)),
            Sought::Nothing | Sought::LeftOff => None,
        }
    }

    fn sought(&self) -> Sought<BigInt> {
        if self.still().any(|w| !self.goal.spans[w].still_in) {
            return Sought::Nothing;
        }
        (self.sought_in::<i128>())
            .or_else(|| self.sought_in::<BigInt>())
            .unwrap_or(Sought::LeftOff)
    }

    fn sought_in<I: Whole>(&self) -> Option<Sought<BigInt>> {
        let (low, high) = self.window_box::<I>()?;
        if low.iter().zip(&high).any(|(low, high)| low > high) {
            return Some(Sought::Nothing);
        }
        let mut lattice = self.lattice::<I>()?;
        lattice.reduce(&scale_of(&low, &high));
        Some(match lattice.any_within(&low, &high) {
            Sought::Point(point) => Sought::Point(Point {
                places: point.places.into_iter().map(Into::into).collect(),
                teeth: point.teeth.into_iter().map(Into::into).collect(),
            }),
            Sought::Nothing => Sought::Nothing,
            Sought::LeftOff => Sought::LeftOff,
        })
    }

    /// The points that bring all in, each rated; those that another beats in chance and lean are left out.
    fn rated(&self) -> Vec<Rough> {
        if self.still().any(|w| !self.goal.spans[w].still_in) {
            return Vec::new();
        }
        (self.rated_in::<i128>())
            .or_else(|| self.rated_in::<BigInt>())
            .unwrap_or_default()
    }

    fn rated_in<I: Whole>(&self) -> Option<Vec<Rough>> {
        let (low, high) = self.window_box::<I>()?;
        if low.iter().zip(&high).any(|(low, high)| low > high) {
            return Some(Vec::new());
        }
        let mut lattice = self.lattice::<I>()?;
        lattice.reduce(&scale_of(&low, &high));
        Some(match lattice.points_within(&low, &high, WHOLE_BOX) {
            Some(points) => self.front(points),
            None => dense::points(self, &lattice),
        })
    }

    /// Rates points, and keeps those that no other beats both in chance and in lean.
    pub(crate) fn front<I: Whole>(&self, points: Vec<Point<I>>) -> Vec<Rough> {
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
        (self.goal.system.axes.iter().enumerate())
            .map(|(w, axis)| {
                let moved = self.moved.iter().position(|&m| m == w);
                axis.after(moved.map_or(&still, |i| &units[i]))
            })
            .collect()
    }

    /// Of places that are as good, the one with the fewest teeth, and those teeth.
    fn said(&self, alike: &[&Rough]) -> Option<Choice> {
        let first = alike.first()?;
        let mut low = first.units.clone();
        let mut high = first.units.clone();
        for rough in alike {
            for (w, units) in rough.units.iter().enumerate() {
                low[w] = low[w].clone().min(units.clone());
                high[w] = high[w].clone().max(units.clone());
            }
        }
        let which: HashSet<&[BigInt]> = alike.iter().map(|rough| &rough.units[..]).collect();
        let doing = Doing {
            low,
            high,
            which: &|units| which.contains(units),
        };
        let known = (alike.iter())
            .map(|rough| centred(self, &rough.teeth))
            .min_by_key(|teeth| total(teeth))?;
        let teeth = fewest_teeth(self, &doing, &known);
        let shifts: Vec<(usize, BigInt)> = (self.movers.iter().copied())
            .zip(teeth)
            .filter(|(_, teeth)| !teeth.is_zero())
            .collect();
        Some(Choice {
            places: self.goal.system.places(&shifts),
            shifts,
        })
    }
}

/// Rates many points of one set in floating point.
pub(crate) struct Rater<'a> {
    set: &'a Set<'a>,
    stands: Vec<f64>,
    units: Vec<f64>,
    best: Vec<f64>,
    half: Vec<f64>,
    targets: Vec<Target>,
    /// The chance of each axis as it stands.
    still: Vec<f64>,
}

impl<'a> Rater<'a> {
    pub(crate) fn of(set: &'a Set<'a>) -> Rater<'a> {
        let axes = &set.goal.system.axes;
        let targets = set.goal.system.targets();
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

    pub(crate) fn chance<I: Whole>(&self, point: &Point<I>) -> f64 {
        all_in_quickly(&self.targets, &self.places(point))
    }

    /// Between what the chance of a point lies, and its lean.
    pub(crate) fn bounds<I: Whole>(&self, point: &Point<I>) -> (f64, f64, f64) {
        let places = self.places(point);
        let mut alone = self.still.clone();
        for &w in &self.set.moved {
            alone[w] = self.targets[w].alone(places[w]);
        }
        let lean = (0..places.len())
            .map(|w| {
                let period = self.targets[w].period;
                let off = places[w] - self.best[w];
                (off - period * (off / period).round()).abs() / self.half[w]
            })
            .fold(0.0, f64::max);
        let (least, most) = crate::chance::bounds(&self.targets, &alone);
        (least, most, lean)
    }
}

/// The largest distance from best, in half windows, exactly.
fn lean(system: &System, places: &[Degrees]) -> Exact {
    (system.axes.iter().zip(places))
        .map(|(axis, place)| (place - &axis.best).abs().exact() / axis.half().exact())
        .max()
        .unwrap_or_else(Exact::zero)
}

/// Chooses by the rule among shifts that bring every axis into its window; the empty set is not among them.
pub(crate) fn choose(goal: &Goal<'_>) -> Found {
    let all = goal.everything();
    if all.does() == Some(false) {
        return Found::Nothing;
    }
    // A mesh without which nothing does is in every set that is worth trying.
    let (needed, free): (Vec<usize>, Vec<usize>) = (all.movers.iter()).partition(|&&m| {
        let others = all.movers.iter().copied().filter(|other| *other != m);
        Set::of(goal, others.collect()).does() == Some(false)
    });
    let movers = &goal.system.movers;
    let (outside, plates): (Vec<usize>, Vec<usize>) =
        free.into_iter().partition(|&m| movers[m].outside);
    let mut tried = 0;
    for spread in 0..=plates.len() {
        for beside in 0..=outside.len() {
            if spread + beside + needed.len() == 0 {
                continue;
            }
            let mut pool: Vec<(Set<'_>, Vec<Rough>)> = Vec::new();
            for some_plates in combinations(&plates, spread) {
                for some_outside in combinations(&outside, beside) {
                    tried += 1;
                    if tried > MOST_SETS {
                        return cut_short(all);
                    }
                    let mut movers = [&needed[..], &some_plates, &some_outside].concat();
                    movers.sort_unstable();
                    let set = Set::of(goal, movers);
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
    // Every set was tried and none did, but for what was left off as too long a search.
    cut_short(all)
}

/// Any shift that does, where the sets are too many to try them all.
fn cut_short(all: Set<'_>) -> Found {
    let rated = all.rated();
    best_of(&[(all, rated)]).map_or(Found::Nothing, Found::CutShort)
}

/// The best of a pool of sets that open as many meshes.
fn best_of(pool: &[(Set<'_>, Vec<Rough>)]) -> Option<Choice> {
    let each = || pool.iter().flat_map(|(_, rated)| rated);
    let top = each().map(|rough| rough.chance).max_by(f64::total_cmp)?;
    let alike = |rough: &&Rough| rough.chance >= top - ALIKE;
    let least = (each().filter(alike).map(|rough| rough.lean)).min_by(f64::total_cmp)?;
    let mut exact: Vec<(Exact, usize, &Rough)> = Vec::new();
    for (s, (set, rated)) in pool.iter().enumerate() {
        for rough in rated.iter().filter(alike) {
            if rough.lean <= least + 2.0 * CLOSE {
                let lean = lean(set.goal.system, &set.places(&rough.units));
                exact.push((lean, s, rough));
            }
        }
    }
    let least = exact.iter().map(|(lean, ..)| lean.clone()).min()?;
    exact.retain(|(lean, ..)| *lean == least);
    (pool.iter().enumerate())
        .filter_map(|(s, (set, _))| {
            let of_set = exact.iter().filter(|(_, other, _)| *other == s);
            set.said(&of_set.map(|(.., rough)| *rough).collect::<Vec<_>>())
        })
        .min_by(by_teeth_then_sheet)
}

/// Fewest teeth, then meshes earlier on the sheet, then ahead before back, then fewer teeth at the earlier mesh.
fn by_teeth_then_sheet(a: &Choice, b: &Choice) -> Ordering {
    let teeth = |choice: &Choice| -> Vec<BigInt> {
        (choice.shifts.iter().map(|(_, teeth)| teeth.clone())).collect()
    };
    let meshes = |choice: &Choice| choice.shifts.iter().map(|(m, _)| *m).collect::<Vec<_>>();
    let (teeth_a, teeth_b) = (teeth(a), teeth(b));
    total(&teeth_a)
        .cmp(&total(&teeth_b))
        .then_with(|| meshes(a).cmp(&meshes(b)))
        .then_with(|| ahead_first(&teeth_a, &teeth_b))
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
    let goal = Goal::of(system, &windows);
    // Where that is too long a search, nobody is accused of a bent lever.
    (system.axes.iter().zip(reach)).all(|(axis, reach)| near(axis, reach))
        || goal.everything().does() != Some(false)
}
