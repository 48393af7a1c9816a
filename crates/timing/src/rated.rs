//! How good the points of a set's lattice are: each its chance, and its lean.

use crate::chance::{Target, all_in_quickly, work, work_alone};
use crate::goal::Set;
use crate::lattice::{Point, Whole};
use quantity::BigInt;

/// Chances nearer than this are equal.
pub(crate) const ALIKE: f64 = 1e-9;

/// Leans nearer than this are told apart exactly; a few hundred times the rounding of a quotient.
pub(crate) const CLOSE: f64 = 1e-13;

/// A point of a set's lattice: where the moved axes go, the teeth that lead there, and how good it is.
#[derive(Debug, Clone)]
pub(crate) struct Rough {
    pub(crate) units: Vec<BigInt>,
    pub(crate) teeth: Vec<BigInt>,
    pub(crate) chance: f64,
    pub(crate) lean: f64,
}

impl Set<'_> {
    /// Rates points, and keeps those that no other beats both in chance and in lean.
    pub(crate) fn front<I: Whole>(&self, points: Vec<Point<I>>) -> Vec<Rough> {
        let rater = Rater::of(self);
        let effort = self.goal.effort;
        let mut rated: Vec<(Bounded, Point<I>)> = points
            .into_iter()
            .map(|point| {
                effort.spend(rater.work_alone);
                (rater.bounds(&point), point)
            })
            .collect();
        // Only with a common hold do the bounds differ, and then the sum over the hold is the dear part.
        rated.sort_by(|(a, _), (b, _)| b.most.total_cmp(&a.most));
        let mut top = f64::NEG_INFINITY;
        let mut settled: Vec<(f64, f64, Point<I>)> = Vec::new();
        for (Bounded { least, most, lean }, point) in rated {
            if most < top - ALIKE {
                break;
            }
            let chance = if most - least < 1e-3 * ALIKE {
                most
            } else if effort.spend(rater.work) {
                rater.chance(&point)
            } else {
                least
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
}

/// How good a point is, as far as that is told without the sum over the hold.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bounded {
    /// Its chance is no less than this.
    pub(crate) least: f64,
    /// Nor more than this.
    pub(crate) most: f64,
    pub(crate) lean: f64,
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

    /// How good a point is, without the sum over the hold.
    pub(crate) fn bounds<I: Whole>(&self, point: &Point<I>) -> Bounded {
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
        Bounded { least, most, lean }
    }
}
