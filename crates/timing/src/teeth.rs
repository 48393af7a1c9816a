//! Shifts that put every witness in the same place are one shift; it is said with the fewest teeth.

use crate::goal::Set;
use crate::lattice::{Lattice, Search, Whole, radius_of, scale_of};
use num_integer::Integer;
use num_traits::Signed;
use quantity::BigInt;
use std::cmp::Ordering;

/// As many steps as are ever made in one search for fewer teeth.
const MOST_TRIED: usize = 100_000;

/// Places that will do, as units of the moved axes: a box, and which in it.
pub(crate) struct Doing<'a> {
    pub(crate) low: Vec<BigInt>,
    pub(crate) high: Vec<BigInt>,
    pub(crate) which: &'a dyn Fn(&[BigInt]) -> bool,
}

/// Of all teeth that lead to a place that will do, the fewest; of as few, ahead before back. `known` do.
pub(crate) fn fewest_teeth(set: &Set<'_>, doing: &Doing<'_>, known: &[BigInt]) -> Vec<BigInt> {
    let known = centred(set, known);
    if known.len() < 2 && doing.low == doing.high {
        return known;
    }
    fewest_in::<i128>(set, doing, &known)
        .or_else(|| fewest_in::<BigInt>(set, doing, &known))
        .unwrap_or(known)
}

/// How many teeth in all.
pub(crate) fn total(teeth: &[BigInt]) -> BigInt {
    teeth.iter().map(Signed::abs).sum()
}

/// Each mesh by itself, to within half its cycle either way; half a cycle itself is said ahead.
pub(crate) fn centred(set: &Set<'_>, teeth: &[BigInt]) -> Vec<BigInt> {
    (teeth.iter().zip(&set.movers))
        .map(|(teeth, &m)| {
            let cycle = &set.goal.system.movers[m].cycle;
            let ahead = teeth.mod_floor(cycle);
            let back = &ahead - cycle;
            if ahead <= back.abs() { ahead } else { back }
        })
        .collect()
}

fn fewest_in<I: Whole>(set: &Set<'_>, doing: &Doing<'_>, known: &[BigInt]) -> Option<Vec<BigInt>> {
    let (periods, steps) = set.columns::<I>()?;
    let mut lattice = Lattice::with_teeth(&periods, &steps);
    let ints = |list: &[BigInt]| list.iter().map(I::of).collect::<Option<Vec<I>>>();
    let (low, high) = (ints(&doing.low)?, ints(&doing.high)?);
    let mut best = known.to_vec();
    let mut fewest = I::of(&total(known))?;
    let mut reach = BigInt::from(1);
    // Shifts of at most `reach` teeth in all, or a few more; twice as many each time, until one of so few is found.
    loop {
        reach = reach.min(total(&best));
        let teeth = vec![I::of(&reach)?; steps.len()];
        let back: Vec<I> = teeth.iter().map(|t| -t.clone()).collect();
        // So many teeth in all are, squared and added up, no more than all of them at one mesh.
        let radius = radius_of(&low, &high) + 1.0;
        let (low, high) = ([&low[..], &back].concat(), [&high[..], &teeth].concat());
        let effort = set.goal.effort;
        lattice.reduce(&scale_of(&low, &high), effort).ok()?;
        let search = Search {
            low: &low,
            high: &high,
            left: MOST_TRIED,
            effort,
        };
        let ended = lattice.search_ball(&search, radius, |point| {
            let (units, teeth) = point.places.split_at(periods.len());
            let size = teeth.iter().fold(I::zero(), |size, t| size + t.abs());
            if size <= fewest {
                let teeth: Vec<BigInt> = teeth.iter().cloned().map(Into::into).collect();
                let units: Vec<BigInt> = units.iter().cloned().map(Into::into).collect();
                let fewer = size < fewest || ahead_first(&teeth, &best) == Ordering::Less;
                if fewer && (doing.which)(&units) {
                    best = teeth;
                    fewest = size;
                }
            }
            true
        });
        if !ended {
            return Some(best);
        }
        if total(&best) <= reach {
            return Some(best);
        }
        reach *= 2i32;
    }
}

/// Ahead before back, then fewer teeth at the earlier mesh.
pub(crate) fn ahead_first(a: &[BigInt], b: &[BigInt]) -> Ordering {
    let signs = |teeth: &[BigInt]| -> Vec<bool> { teeth.iter().map(Signed::is_negative).collect() };
    let sizes = |teeth: &[BigInt]| -> Vec<BigInt> { teeth.iter().map(Signed::abs).collect() };
    signs(a)
        .cmp(&signs(b))
        .then_with(|| sizes(a).cmp(&sizes(b)))
}
