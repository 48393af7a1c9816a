//! The rule of choice: of all shifts of some sets of meshes that bring every witness that was read into its window, which.
//! Which sets do is found in `sets`.
//!
//! Fewest meshes that spread plates, then fewest outside; then the greatest chance, equal within [`ALIKE`]; then the
//! least lean, the largest distance from best in half windows; then fewest teeth; then meshes earlier on the sheet; then
//! ahead before back. Whether a place is in its window is decided in whole numbers, always.

use crate::chance::{Target, all_in_quickly, work, work_alone};
use crate::dense;
use crate::effort::Effort;
use crate::lattice::{Halt, Lattice, Point, Sought, Whole, scale_of};
use crate::system::System;
use crate::teeth::{Doing, ahead_first, centred, fewest_teeth, total};
use num_integer::Integer;
use num_traits::Zero;
use quantity::{BigInt, Degrees, Exact};
use std::cmp::Ordering;
use std::collections::HashSet;

/// Chances nearer than this are equal.
pub(crate) const ALIKE: f64 = 1e-9;

/// Leans nearer than this are told apart exactly; a few hundred times the rounding of a quotient.
pub(crate) const CLOSE: f64 = 1e-13;

/// A box with no more points than this is looked through whole; one with more is first made smaller.
const WHOLE_BOX: usize = 1000;

/// The windows to be met.
pub(crate) struct Goal<'a> {
    pub(crate) system: &'a System,
    /// What the search for them may take.
    pub(crate) effort: &'a Effort<'a>,
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
    pub(crate) still_in: bool,
}

impl<'a> Goal<'a> {
    /// `windows` are one pair of degrees for each axis.
    pub(crate) fn of(
        system: &'a System,
        windows: &[(Degrees, Degrees)],
        effort: &'a Effort<'a>,
    ) -> Goal<'a> {
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
        Goal {
            system,
            effort,
            spans,
        }
    }

    /// The windows of the sheet.
    pub(crate) fn windows(system: &'a System, effort: &'a Effort<'a>) -> Goal<'a> {
        let windows: Vec<_> = (system.axes.iter())
            .map(|axis| (axis.from.clone(), axis.to.clone()))
            .collect();
        Goal::of(system, &windows, effort)
    }

    /// All the movers there are.
    pub(crate) fn everything(&self) -> Vec<usize> {
        (0..self.system.movers.len()).collect()
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
        let every = 0..goal.system.axes.len();
        Set::on(goal, movers, every)
    }

    /// The same, with only some of the axes looked at.
    pub(crate) fn on(
        goal: &'a Goal<'a>,
        movers: Vec<usize>,
        axes: impl IntoIterator<Item = usize>,
    ) -> Set<'a> {
        let movers_of = &goal.system.movers;
        let moves = |w: &usize| movers.iter().any(|&m| !movers_of[m].steps[*w].is_zero());
        let moved = axes.into_iter().filter(moves).collect();
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

    /// The lattice of where the moved axes can go, by a short basis.
    fn lattice<I: Whole>(&self, scale: &[f64]) -> Result<Lattice<I>, Halt> {
        let (periods, steps) = self.columns::<I>().ok_or(Halt::TooLarge)?;
        let cycles: Vec<I> = (self.movers.iter())
            .map(|&m| I::of(&self.goal.system.movers[m].cycle))
            .collect::<Option<_>>()
            .ok_or(Halt::TooLarge)?;
        let effort = self.goal.effort;
        let (mut lattice, _) = Lattice::spanned(&periods, &steps, Some(&cycles), effort)?;
        lattice.reduce(scale, effort)?;
        Ok(lattice)
    }

    /// Some shift of this set that brings all its moved axes in.
    pub(crate) fn sought(&self) -> Sought<Point<BigInt>> {
        (self.sought_in::<i128>())
            .or_else(|| self.sought_in::<BigInt>())
            .unwrap_or(Sought::LeftOff)
    }

    fn sought_in<I: Whole>(&self) -> Option<Sought<Point<BigInt>>> {
        let (low, high) = self.window_box::<I>()?;
        if low.iter().zip(&high).any(|(low, high)| low > high) {
            return Some(Sought::Nothing);
        }
        let lattice = match self.lattice::<I>(&scale_of(&low, &high)) {
            Ok(lattice) => lattice,
            Err(Halt::TooLarge) => return None,
            Err(Halt::TooLong) => return Some(Sought::LeftOff),
        };
        Some(match lattice.any_within(&low, &high, self.goal.effort) {
            Sought::Point(point) => Sought::Point(Point {
                places: point.places.into_iter().map(Into::into).collect(),
                teeth: point.teeth.into_iter().map(Into::into).collect(),
            }),
            Sought::Nothing => Sought::Nothing,
            Sought::LeftOff => Sought::LeftOff,
        })
    }

    /// The points that bring all in, each rated; those that another beats in chance and lean are left out.
    pub(crate) fn rated(&self) -> Vec<Rough> {
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
        let lattice = match self.lattice::<I>(&scale_of(&low, &high)) {
            Ok(lattice) => lattice,
            Err(Halt::TooLarge) => return None,
            Err(Halt::TooLong) => return Some(Vec::new()),
        };
        Some(
            match lattice.points_within(&low, &high, WHOLE_BOX, self.goal.effort) {
                Some(points) => self.front(points),
                None => dense::points(self, &lattice),
            },
        )
    }

    /// Rates points, and keeps those that no other beats both in chance and in lean.
    pub(crate) fn front<I: Whole>(&self, points: Vec<Point<I>>) -> Vec<Rough> {
        let rater = Rater::of(self);
        let effort = self.goal.effort;
        let mut rated: Vec<(f64, f64, f64, Point<I>)> = points
            .into_iter()
            .map(|point| {
                effort.spend(rater.work_alone);
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
            } else if effort.spend(rater.work) {
                rater.chance(&point)
            } else {
                worst
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
    /// Steps that a chance takes.
    pub(crate) work: usize,
    /// Steps that the bounds of a chance take.
    pub(crate) work_alone: usize,
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
            work: work(&targets),
            work_alone: work_alone(&targets),
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

/// The best of a pool of sets that open as many meshes, and are of one goal.
pub(crate) fn best_of(pool: &[(Set<'_>, Vec<Rough>)]) -> Option<Choice> {
    let effort = pool.first()?.0.goal.effort;
    let each = || pool.iter().flat_map(|(_, rated)| rated);
    let top = each().map(|rough| rough.chance).max_by(f64::total_cmp)?;
    let alike = |rough: &&Rough| rough.chance >= top - ALIKE;
    let least = (each().filter(alike).map(|rough| rough.lean)).min_by(f64::total_cmp)?;
    let mut exact: Vec<(Exact, usize, &Rough)> = Vec::new();
    for (s, (set, rated)) in pool.iter().enumerate() {
        for rough in rated.iter().filter(alike) {
            let sums = BigInt::DEAR * 8 * set.goal.spans.len();
            if rough.lean <= least + 2.0 * CLOSE && (exact.is_empty() || effort.spend(sums)) {
                let lean = lean(set.goal.system, &set.places(&rough.units));
                exact.push((lean, s, rough));
            }
        }
    }
    let least = exact.iter().map(|(lean, ..)| lean.clone()).min()?;
    exact.retain(|(lean, ..)| *lean == least);
    let alike_in = |s: usize| -> Vec<&Rough> {
        let of_set = exact.iter().filter(|(_, other, _)| *other == s);
        of_set.map(|(.., rough)| *rough).collect()
    };
    let sets: Vec<(&Set<'_>, Vec<&Rough>)> = (pool.iter().enumerate())
        .map(|(s, (set, _))| (set, alike_in(s)))
        .filter(|(_, alike)| !alike.is_empty())
        .collect();
    let choices = (sets.iter().enumerate()).filter_map(|(n, (set, alike))| {
        let share = effort.left() / (sets.len() - n) as u64;
        effort.within(share, || set.said(alike)).0
    });
    choices.min_by(by_teeth_then_sheet)
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
