//! Where places lie too dense to be listed: the same rule, in boxes made small enough.
//!
//! First the greatest chance there is, then the least lean among places with that chance, then, where a witness that
//! can only stand here or there keeps the lean from falling, the fewest teeth. Each time a box is drawn in until it holds
//! some places, but not too many; where it cannot be, because many are exactly as good, some of them stand for all.

use crate::chance::{Target, bounds, needed, work_alone};
use crate::goal::Set;
use crate::lattice::{Lattice, Point, Search, Sought, Whole};
use crate::rated::{ALIKE, CLOSE, Rater, Rough};
use crate::teeth::{Doing, fewest_teeth};
use num_integer::Integer;
use num_traits::Zero;
use quantity::{BigInt, Exact, to_f64};
use std::cell::Cell;

/// Points that are listed at once at most.
const MOST_LISTED: usize = 400;

/// The same where the hold ties chances together, and each is an integral.
const MOST_TIED: usize = 60;

/// So many integrals over the hold are made for one set in looking for the least lean; places that are surely likely
/// enough need none.
const MOST_INTEGRALS: usize = 200;

/// A box is drawn in by halves; after so many, what is left is below the last figure of a double.
const MOST_HALVES: usize = 52;

/// How often the peaks are lowered to what can be reached; each time is for one more axis that has few places.
const MOST_LOWERED: usize = 3;

/// From and to in degrees, for each moved axis.
type Spans = Vec<(f64, f64)>;

/// The best points of a set whose window box holds too many.
pub(crate) fn points<I: Whole>(set: &Set<'_>, lattice: &Lattice<I>) -> Vec<Rough> {
    let mut dense = Dense::of(set, lattice);
    let (mut likeliest, mut whole) = dense.likeliest();
    for _ in 0..MOST_LOWERED {
        if dense.tied || whole || top(&likeliest) >= dense.most() - 0.5 * ALIKE {
            break;
        }
        dense.lower_peaks(top(&likeliest));
        let lower = dense.likeliest();
        if top(&lower.0) >= top(&likeliest) {
            (likeliest, whole) = lower;
        }
    }
    let near_top = top(&likeliest) - ALIKE;
    let box_near_top = dense.likely(near_top);
    let near = dense.listed(&box_near_top, dense.most_listed());
    if near.whole && !near.points.is_empty() {
        return set.front(near.points);
    }
    // Where the hold ties chances together, no two places are as likely but by accident.
    if dense.tied {
        return likeliest;
    }
    let leaning = dense.least_lean(&box_near_top, near_top);
    if leaning.is_empty() {
        likeliest
    } else {
        leaning
    }
}

/// The greatest chance of some points.
fn top(rated: &[Rough]) -> f64 {
    rated.iter().map(|rough| rough.chance).fold(0.0, f64::max)
}

struct Dense<'a, I> {
    set: &'a Set<'a>,
    lattice: &'a Lattice<I>,
    targets: Vec<Target>,
    /// For each axis the greatest chance that it alone is in.
    peaks: Vec<f64>,
    /// Whether the chance of all does not follow from the chance of each.
    tied: bool,
    /// Steps that it takes to find the chance of each.
    work_alone: usize,
}

/// Between which measures a box is drawn in.
#[derive(Debug, Clone, Copy)]
struct Draw {
    /// Where there may be too many points in it.
    wide: f64,
    /// Where there may be too few.
    tight: f64,
}

/// Points of a box.
struct Listed<I> {
    points: Vec<Point<I>>,
    /// Whether it holds no others.
    whole: bool,
    /// How far the box was drawn in.
    at: f64,
}

impl<'a, I: Whole> Dense<'a, I> {
    fn of(set: &'a Set<'a>, lattice: &'a Lattice<I>) -> Dense<'a, I> {
        let targets = set.goal.system.targets();
        let axes = &set.goal.system.axes;
        let mut peaks: Vec<f64> = (targets.iter())
            .map(|target| target.alone(target.middle()))
            .collect();
        for w in set.still() {
            peaks[w] = targets[w].alone(axes[w].stands.to_f64());
        }
        let (least, most) = bounds(&targets, &peaks);
        Dense {
            set,
            lattice,
            work_alone: work_alone(&targets),
            targets,
            peaks,
            tied: most - least > ALIKE,
        }
    }

    fn most_listed(&self) -> usize {
        if self.tied { MOST_TIED } else { MOST_LISTED }
    }

    /// What no chance is greater than.
    fn most(&self) -> f64 {
        bounds(&self.targets, &self.peaks).1
    }

    /// The box outside which no place has this chance.
    fn likely(&self, chance: f64) -> Spans {
        // Sixty halvings for each.
        (self.set.goal.effort).spend(60 * self.work_alone);
        (self.set.moved.iter())
            .map(|&w| {
                let target = self.targets[w];
                let radius = target.radius(needed(&self.targets, &self.peaks, w, chance));
                let (middle, span) = (target.middle(), &self.set.goal.spans[w]);
                (
                    (middle - radius).max(span.from),
                    (middle + radius).min(span.to),
                )
            })
            .collect()
    }

    /// Points about the likeliest place there is, and whether they are all of those.
    fn likeliest(&self) -> (Vec<Rough>, bool) {
        let tight = self.most() - 1e-3 * ALIKE;
        let most = self.most_listed();
        let likely = |chance| self.likely(chance);
        let listed = self.drawn_in(Draw { wide: 0.0, tight }, most, likely, |_| true);
        if listed.points.is_empty()
            && let Some((low, high)) = self.set.window_box::<I>()
            && let Sought::Point(any) = (self.lattice).any_within(&low, &high, self.set.goal.effort)
        {
            return (self.set.front(vec![any]), false);
        }
        (self.set.front(listed.points), listed.whole)
    }

    /// An axis that can stand only here or there may never come to the middle of its window: its peak is what it reaches
    /// in the box where all have this chance.
    fn lower_peaks(&mut self, chance: f64) {
        let wide = self.likely(chance);
        for (i, &w) in self.set.moved.iter().enumerate() {
            let (middle, radius) = (self.targets[w].middle(), 0.5 * (wide[i].1 - wide[i].0));
            let within = |reach: f64| {
                let mut spans = wide.clone();
                spans[i].0 = wide[i].0.max(middle - reach);
                spans[i].1 = wide[i].1.min(middle + reach);
                spans
            };
            let draw = Draw {
                wide: 2.0 * radius,
                tight: 0.0,
            };
            let nearest = self.drawn_in(draw, 1, within, |_| true);
            let off = (nearest.points.iter())
                .map(|point| {
                    let axis = &self.set.goal.system.axes[w];
                    let units = to_f64(&Exact::from_integer(point.places[i].clone().into()));
                    (axis.stands.to_f64() + units * axis.unit_f64() - middle).abs()
                })
                .fold(f64::INFINITY, f64::min);
            if nearest.at > 0.0 && off.is_finite() {
                self.peaks[w] = self.targets[w].alone(middle + off);
            }
        }
    }

    /// Draws a box in until it holds some points that will do, but not too many.
    fn drawn_in(
        &self,
        draw: Draw,
        most: usize,
        spans: impl Fn(f64) -> Spans,
        will_do: impl Fn(&Point<I>) -> bool,
    ) -> Listed<I> {
        let Draw {
            mut wide,
            mut tight,
        } = draw;
        let look = |at: f64| {
            let listed = self.listed(&spans(at), most);
            let some = listed.points.iter().any(&will_do);
            (some, Listed { at, ..listed })
        };
        let (some, listed) = look(tight);
        if some {
            return listed;
        }
        let mut last = None;
        for _ in 0..MOST_HALVES {
            let at = 0.5 * (wide + tight);
            let (some, listed) = look(at);
            if some && listed.whole {
                return listed;
            }
            if listed.whole {
                tight = at;
            } else {
                wide = at;
                if some {
                    last = Some(listed);
                }
            }
        }
        last.unwrap_or_else(|| look(wide).1)
    }

    /// The ends of a box in units: low and high.
    fn ends(&self, spans: &Spans) -> Option<(Vec<I>, Vec<I>)> {
        let units = |degrees: f64, w: usize, up: bool| {
            let axis = &self.set.goal.system.axes[w];
            let units = (degrees - axis.stands.to_f64()) / axis.unit_f64();
            let units = if up { units.ceil() } else { units.floor() };
            Exact::from_float(units).and_then(|units| I::of(&units.to_integer()))
        };
        let ends = |up: bool| -> Option<Vec<I>> {
            (self.set.moved.iter().zip(spans))
                .map(|(&w, span)| units(if up { span.1 } else { span.0 }, w, up))
                .collect()
        };
        Some((ends(false)?, ends(true)?))
    }

    /// Points of a box that are in every window: all of them, if they are not too many.
    fn listed(&self, spans: &Spans, most: usize) -> Listed<I> {
        let mut points = Vec::new();
        let whole = self.ends(spans).is_some_and(|(low, high)| {
            let search = Search {
                low: &low,
                high: &high,
                left: 20 * most + 2000,
                effort: self.set.goal.effort,
            };
            self.lattice.search(&search, |point| {
                if self.admits(&point) {
                    points.push(point);
                }
                points.len() < most
            })
        });
        Listed {
            points,
            whole,
            at: 0.0,
        }
    }

    fn admits(&self, point: &Point<I>) -> bool {
        (self.set.moved.iter().zip(&point.places)).all(|(&w, units)| {
            let (span, axis) = (&self.set.goal.spans[w], &self.set.goal.system.axes[w]);
            let above: BigInt = Into::<BigInt>::into(units.clone()) - &span.low;
            above.mod_floor(&axis.around) <= &span.high - &span.low
        })
    }

    /// The points of least lean among those with at least this chance, all of them in the box `likely`.
    fn least_lean(&self, likely: &Spans, chance: f64) -> Vec<Rough> {
        let axes = &self.set.goal.system.axes;
        let leaning = |lean: f64| -> Spans {
            (self.set.moved.iter().zip(likely))
                .map(|(&w, (from, to))| {
                    let reach = (lean + CLOSE) * axes[w].half().to_f64();
                    let best = axes[w].best.to_f64();
                    ((best - reach).max(*from), (best + reach).min(*to))
                })
                .collect()
        };
        let most = (self.set.moved.iter().zip(likely))
            .map(|(&w, (from, to))| {
                let best = axes[w].best.to_f64();
                (best - from).max(to - best) / axes[w].half().to_f64()
            })
            .fold(0.0, f64::max);
        // No lean is less than that of a witness that does not move.
        let floor = (self.set.still())
            .map(|w| {
                let off = &axes[w].after(&BigInt::zero()) - &axes[w].best;
                to_f64(&(off.abs().exact() / axes[w].half().exact()))
            })
            .fold(0.0, f64::max);
        let rater = Rater::of(self.set);
        let integrals = Cell::new(MOST_INTEGRALS);
        let effort = self.set.goal.effort;
        let will_do = |point: &Point<I>| {
            effort.spend(rater.work_alone);
            let bounds = rater.bounds(point);
            if bounds.least >= chance || bounds.most < chance {
                return bounds.least >= chance;
            }
            let left = integrals.get();
            integrals.set(left.saturating_sub(1));
            left > 0 && effort.spend(rater.work) && rater.chance(point) >= chance
        };
        let draw = Draw {
            wide: most,
            tight: floor,
        };
        let least = self.drawn_in(draw, self.most_listed(), leaning, will_do);
        let mut rated = self.set.front(least.points);
        rated.retain(|rough| rough.chance >= chance);
        if least.whole {
            return rated;
        }
        // So many lean as little that the teeth decide.
        let Some(known) = (rated.iter()).min_by(|a, b| a.lean.total_cmp(&b.lean)) else {
            return Vec::new();
        };
        let will_do = |rough: &Rough| rough.chance >= chance && rough.lean <= known.lean + CLOSE;
        let best = self.fewest(&leaning(least.at), known, will_do);
        vec![best.unwrap_or_else(|| known.clone())]
    }

    /// Of the points of a box that will do, as `known` does, the one with the fewest teeth.
    fn fewest(
        &self,
        spans: &Spans,
        known: &Rough,
        will_do: impl Fn(&Rough) -> bool,
    ) -> Option<Rough> {
        let (low, high) = self.ends(spans)?;
        let rater = Rater::of(self.set);
        let rough = |units: &[BigInt]| -> Option<Rough> {
            let point = Point {
                places: units.iter().map(I::of).collect::<Option<_>>()?,
                teeth: Vec::new(),
            };
            self.admits(&point).then(|| Rough {
                units: units.to_vec(),
                teeth: Vec::new(),
                chance: rater.chance(&point),
                lean: rater.bounds(&point).lean,
            })
        };
        let doing = Doing {
            low: low.into_iter().map(Into::into).collect(),
            high: high.into_iter().map(Into::into).collect(),
            which: &|units| rough(units).is_some_and(|rough| will_do(&rough)),
        };
        let teeth = fewest_teeth(self.set, &doing, &known.teeth);
        let units: Vec<BigInt> = (self.set.moved.iter())
            .map(|&w| {
                let system = self.set.goal.system;
                let moved = (self.set.movers.iter().zip(&teeth))
                    .map(|(&m, teeth)| teeth * &system.movers[m].steps[w])
                    .sum::<BigInt>();
                let span = &self.set.goal.spans[w];
                (moved - &span.low).mod_floor(&system.axes[w].around) + &span.low
            })
            .collect();
        let rough = rough(&units)?;
        Some(Rough { teeth, ..rough })
    }
}
