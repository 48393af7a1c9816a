//! What sets of counts weigh: what was measured, against what clocks have.
//!
//! The habits are those of the table of going trains of The Modern Clock, Chicago 1905, p. 258, smoothed: ratios of wheel to
//! pinion about nine and a half, the leaves it has, and two even wheels for each odd one. They only rank; they rule nothing out.

use super::puzzle::{Puzzle, Size};
use super::sizes::tips;
use crate::assumed::{ANY_RATIO, DOUBTFUL_COUNT, WHEEL_TO_PINION, WHEEL_TO_PINION_LOG};
use movement::{Blank, Movement, PartId, ToothForm};
use quantity::{Known, Length};

/// Measured sizes of one module each, where a blank is among what was measured.
pub(super) fn groups(puzzle: &Puzzle) -> Vec<Vec<&Size>> {
    let mut groups: Vec<usize> = puzzle.sizes.iter().map(|s| s.group).collect();
    groups.sort_unstable();
    groups.dedup();
    let of =
        |group: usize| -> Vec<&Size> { puzzle.sizes.iter().filter(|s| s.group == group).collect() };
    let unknown = |sizes: &Vec<&Size>| sizes.iter().any(|s| s.weights.iter().any(|w| *w != 0.0));
    groups.into_iter().map(of).filter(unknown).collect()
}

pub(super) fn teeth(movement: &Movement, blanks: &[Blank], counts: &[u16], part: PartId) -> u16 {
    match blanks.iter().position(|blank| blank.part == part) {
        Some(i) => counts[i],
        None => movement.part(part).teeth.get(),
    }
}

/// How likely the measured sizes are with these counts, whatever the module, and the module that fits them best.
///
/// # Formula
/// Sizes `yᵢ = m·cᵢ` with spreads `sᵢ`: `m = Σ cᵢyᵢ/sᵢ² / A`, `A = Σ cᵢ²/sᵢ²`; over all `m`, each as likely in proportion
/// to its size, `exp(−½ Σ (yᵢ − m cᵢ)²/sᵢ²) / (m √A Π sᵢ)`.
pub(super) fn by_size(
    movement: &Movement,
    blanks: &[Blank],
    sizes: &[&Size],
    counts: &[u16],
) -> (f64, Known<Length>) {
    let modules = |size: &Size| {
        let known: f64 = (size.weights.iter().zip(counts))
            .map(|(w, x)| w * f64::from(*x))
            .sum();
        let (tip, tip_spread) = size.tips.map_or((0.0, 0.0), |part| {
            let lantern = movement.part(part).form == ToothForm::Lantern;
            tips(lantern, Some(teeth(movement, blanks, counts, part))).usual
        });
        (known + size.plus + tip, tip_spread)
    };
    let rough = sizes
        .iter()
        .map(|s| s.measured.value.as_mm() / modules(s).0)
        .sum::<f64>()
        / sizes.len() as f64;
    let terms: Vec<(f64, f64, f64)> = sizes
        .iter()
        .map(|s| {
            let (c, tip_spread) = modules(s);
            let spread = s.measured.spread.as_mm().hypot(rough * tip_spread);
            (s.measured.value.as_mm(), c, spread)
        })
        .collect();
    let a: f64 = terms.iter().map(|(_, c, s)| (c / s).powi(2)).sum();
    let m = terms.iter().map(|(y, c, s)| c * y / (s * s)).sum::<f64>() / a;
    let off: f64 = terms
        .iter()
        .map(|(y, c, s)| ((y - m * c) / s).powi(2))
        .sum();
    let spreads: f64 = terms.iter().map(|(_, _, s)| s.ln()).sum();
    let weight = -off / 2.0 - m.abs().max(1e-9).ln() - a.sqrt().ln() - spreads;
    (
        weight,
        Known::new(Length::mm(m), Length::mm(1.0 / a.sqrt())),
    )
}

/// How common such counts are.
pub(super) fn habit(movement: &Movement, blanks: &[Blank], counts: &[u16]) -> f64 {
    let mut weight = 0.0;
    for (blank, count) in blanks.iter().zip(counts) {
        if let Some(written) = blank.written {
            weight += doubtful(written.get(), *count);
        }
    }
    for (_, mesh) in movement.meshes() {
        let blank = |part| blanks.iter().any(|b| b.part == part);
        if !blank(mesh.driver) && !blank(mesh.driven) {
            continue;
        }
        let [driver, driven] =
            [mesh.driver, mesh.driven].map(|p| teeth(movement, blanks, counts, p));
        weight += pair([(driver, blank(mesh.driver)), (driven, blank(mesh.driven))]);
    }
    weight
}

/// How common a driver and what it drives are, with the counts of those that are blanks.
pub(super) fn pair(both: [(u16, bool); 2]) -> f64 {
    let blanks = both.iter().filter(|(_, blank)| *blank);
    ratio(both[0].0, both[1].0) + blanks.map(|(count, _)| common(*count)).sum::<f64>()
}

/// Seven times in ten a doubtful count is as it was written; else off by one or a few (ours).
pub(super) fn doubtful(written: u16, count: u16) -> f64 {
    let off = f64::from(written.abs_diff(count));
    if off == 0.0 {
        DOUBTFUL_COUNT.value.ln()
    } else {
        // Two sides, halving with every tooth.
        let one_side: f64 = (1.0 - DOUBTFUL_COUNT.value) / 2.0;
        one_side.ln() - off * 2.0_f64.ln()
    }
}

/// Wheel to pinion: in the table the middle is 9.6 and the logarithm spreads by 0.23; half as much again for trains of
/// other kinds, and one in seven anywhere, as motion work is.
fn ratio(driver: u16, driven: u16) -> f64 {
    const MIDDLE: f64 = WHEEL_TO_PINION.value;
    const SPREAD: f64 = WHEEL_TO_PINION_LOG.value;
    const ANYWHERE: f64 = ANY_RATIO.value;
    let x = (f64::from(driver) / f64::from(driven)).ln();
    let off = (x - MIDDLE.ln()) / SPREAD;
    let usual = (-off * off / 2.0).exp() / (SPREAD * std::f64::consts::TAU.sqrt());
    // From a pinion of 6 on a wheel of 144 to the other way round.
    let wide = 2.0 * (144.0_f64 / 6.0).ln();
    ((1.0 - ANYWHERE) * usual + ANYWHERE / wide).ln()
}

/// Leaves as often as in the table, with one more of each; wheels two even ones to one odd.
pub(super) fn common(count: u16) -> f64 {
    let often: f64 = match count {
        6 => 4.0,
        7 => 7.0,
        8 => 12.0,
        10 => 4.0,
        12 => 3.0,
        9 | 11 | 13..=16 => 1.0,
        _ if count.is_multiple_of(2) => 0.6,
        _ => 0.3,
    };
    often.ln()
}
