//! The rule of choice: of all shifts of some sets of meshes that bring every witness that was read into its window, which.
//! Which sets do is found in `sets`.
//!
//! Fewest meshes that spread plates, then fewest outside; then the greatest chance, equal within [`ALIKE`]; then the
//! least lean, the largest distance from best in half windows; then fewest teeth; then meshes earlier on the sheet; then
//! ahead before back. Whether a place is in its window is decided in whole numbers, always.

use crate::dense;
use crate::goal::Set;
use crate::lattice::{Halt, Whole, scale_of};
use crate::rated::{ALIKE, CLOSE, Rough};
use crate::system::System;
use crate::teeth::{Doing, ahead_first, centred, fewest_teeth, total};
use num_traits::Zero;
use quantity::{BigInt, Degrees, Exact};
use std::cmp::Ordering;
use std::collections::HashSet;

/// A box with no more points than this is looked through whole; one with more is first made smaller.
const WHOLE_BOX: usize = 1000;

/// What was chosen.
#[derive(Debug, Clone)]
pub(crate) struct Choice {
    /// Movers, in sheet order, and their teeth, ahead positive.
    pub(crate) shifts: Vec<(usize, BigInt)>,
    /// Where every axis then stands.
    pub(crate) places: Vec<Degrees>,
}

impl Set<'_> {
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

    /// Of places that are as good, the one with the fewest teeth, and those teeth.
    fn choice_among(&self, alike: &[&Rough]) -> Option<Choice> {
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

/// The largest distance from best, in half windows, exactly.
pub(crate) fn lean(system: &System, places: &[Degrees]) -> Exact {
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
        effort.within(share, || set.choice_among(alike)).0
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
