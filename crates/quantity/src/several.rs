//! Several measures of one thing: their mean, and how surely it is known.

use crate::{Exact, to_f64, whole};

/// A mean, and one standard deviation of it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct MeanSpread {
    pub(crate) mean: Exact,
    pub(crate) spread: f64,
}

/// By how much the spread of a mean is larger where it is known from few measures only: Student's t for 68.27 in 100, by the
/// degrees of freedom from one (JCGM 100:2008, Guide to the expression of uncertainty in measurement, table G.2).
const FEW: [f64; 10] = [1.84, 1.32, 1.20, 1.14, 1.11, 1.09, 1.08, 1.07, 1.06, 1.05];

/// Beyond the table, where it is nearly nothing.
const MANY: f64 = 1.05;

/// The mean of some measures, at least one, that were read to a step.
///
/// # Formula
/// `u² = (t·s/√n)² + δ²/12`: how they scatter, and how finely they were read.
///
/// # Source
/// JCGM 100:2008, 4.2.3 (the mean), G.3.2 (few measures), F.2.2.1 (0.29 δ of a step δ). What all of them are out by together, as by
/// a calliper that does not close at nought, is not in it.
pub(crate) fn mean_spread(each: &[Exact], step: &Exact) -> MeanSpread {
    let n = i64::try_from(each.len()).unwrap_or(i64::MAX).max(1);
    let sum = each.iter().fold(whole(0), |sum, one| sum + one);
    let mean = sum / whole(n);
    let square = |x: f64| x * x;
    let scatter = if n > 1 {
        let off = each.iter().map(|one| square(to_f64(&(one - &mean))));
        let variance = off.sum::<f64>() / to_f64(&whole(n - 1));
        let few = FEW.get(each.len() - 2).copied().unwrap_or(MANY);
        square(few) * variance / to_f64(&whole(n))
    } else {
        0.0
    };
    let read = square(to_f64(step)) / 12.0;
    MeanSpread {
        spread: (scatter + read).sqrt(),
        mean,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parse_decimal;

    fn of(each: &[&str], step: &str) -> MeanSpread {
        let number = |text: &&str| parse_decimal(text).expect("a decimal");
        let each: Vec<Exact> = each.iter().map(number).collect();
        mean_spread(&each, &number(&step))
    }

    /// The flatness of the table's first rows has a closed form: with one degree of freedom t = tan(πp/2), with two
    /// t = p·√(2/(1−p²)).
    #[test]
    fn few_measures_count_for_less() {
        let p: f64 = 0.6827;
        let one = (std::f64::consts::PI * p / 2.0).tan();
        let two = p * (2.0 / (1.0 - p * p)).sqrt();
        assert!((FEW[0] - one).abs() < 0.005 && (FEW[1] - two).abs() < 0.005);
        assert!(FEW.windows(2).all(|pair| pair[0] > pair[1]));
    }

    #[test]
    fn three_measures_of_a_strip() {
        // s = √((0.0033² + 0.0167² + 0.0133²)/2) = 0.01528; 1.32 s/√3 = 0.01164; with 0.01/√12 = 0.00289 in all 0.0120.
        let strip = of(&["2.51", "2.53", "2.50"], "0.01");
        assert!((strip.spread - 0.0120).abs() < 5e-5, "{strip:?}");
        assert_eq!(strip.mean * whole(300), whole(754));
    }

    #[test]
    fn what_does_not_scatter_was_still_read_to_a_step_only() {
        let alike = of(&["2.5", "2.5"], "0.1");
        assert!((alike.spread - 0.1 / 12.0_f64.sqrt()).abs() < 1e-12);
    }
}
