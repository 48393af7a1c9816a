//! Shifts that put every witness in the same place are one shift; it is said with the fewest teeth.

use crate::choose::Set;
use crate::lattice::Lattice;
use num_integer::Integer;
use num_traits::Signed;
use quantity::BigInt;
use std::cmp::Ordering;

/// As many alike shifts as are ever compared; the fewest teeth are among the first few.
const MOST_ALIKE: usize = 10_000;

/// Of all teeth that lead where `teeth` do, the fewest; of as few, ahead before back.
pub(crate) fn fewest_teeth(set: &Set<'_>, teeth: &[BigInt]) -> Vec<BigInt> {
    let movers: Vec<_> = set.movers.iter().map(|&m| &set.system.movers[m]).collect();
    // Each mesh by itself, to within half its cycle either way; half a cycle itself is said ahead.
    let centred: Vec<BigInt> = (teeth.iter().zip(&movers))
        .map(|(teeth, mover)| {
            let ahead = teeth.mod_floor(&mover.cycle);
            let back = &ahead - &mover.cycle;
            if ahead <= back.abs() { ahead } else { back }
        })
        .collect();
    if movers.len() < 2 {
        return centred;
    }
    let periods: Vec<BigInt> = (set.moved.iter())
        .map(|&w| set.system.axes[w].around.clone())
        .collect();
    let steps: Vec<Vec<BigInt>> = movers
        .iter()
        .map(|mover| set.moved.iter().map(|&w| mover.steps[w].clone()).collect())
        .collect();
    let (_, nowhere) = Lattice::spanned(&periods, &steps, None);
    let mut nowhere = Lattice::of_teeth(nowhere);
    nowhere.reduce(&vec![1.0; movers.len()]);
    let total = |teeth: &[BigInt]| -> BigInt { teeth.iter().map(Signed::abs).sum() };
    let most = total(&centred);
    let mut reach = BigInt::from(1);
    let mut best = centred.clone();
    // Alike shifts of at most `reach` teeth at each mesh; once one is found, none with fewer in all lies beyond its sum.
    loop {
        let last = reach >= most;
        let low: Vec<BigInt> = centred.iter().map(|t| -t - &reach).collect();
        let high: Vec<BigInt> = centred.iter().map(|t| -t + &reach).collect();
        let Some(points) = nowhere.points_within(&low, &high, MOST_ALIKE) else {
            return best;
        };
        for point in points {
            let alike: Vec<BigInt> = (centred.iter().zip(&point.places))
                .map(|(teeth, more)| teeth + more)
                .collect();
            let order = total(&alike)
                .cmp(&total(&best))
                .then_with(|| ahead_first(&alike, &best));
            if order == Ordering::Less {
                best = alike;
            }
        }
        if last || total(&best) <= reach {
            return best;
        }
        reach = (reach * 2i32).min(most.clone());
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
