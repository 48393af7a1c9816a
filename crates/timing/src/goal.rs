//! The windows to be met, and sets of meshes with the lattice of where they can bring all.

use crate::effort::Effort;
use crate::lattice::{Halt, Lattice, Point, Sought, Whole, scale_of};
use crate::system::System;
use num_integer::Integer;
use num_traits::Zero;
use quantity::{BigInt, Degrees};

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
    pub(crate) fn lattice<I: Whole>(&self, scale: &[f64]) -> Result<Lattice<I>, Halt> {
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
}
