//! All counts that keep all rules: count by count, each only in the span that the rules leave open.
//!
//! Exact: spans are rounded outward in whole numbers, and every set of counts that is left is held against every rule.

use super::rules::{Fraction, LinearConstraint, Product, Rule};
use super::watch::{MOST_STEPS, SoFar, Watch};
use quantity::Bounds;
use std::ops::ControlFlow;

/// No more sets than this are listed; what is longer is no answer but a want of measurements.
pub const MOST_FITS: usize = 50_000;

/// All sets of `unknown` counts within `bounds` that keep every rule, in rising order, and whether the list was cut short: at
/// [`MOST_FITS`], or after [`MOST_STEPS`], in which every set of three from 6 to 144 is tried with room to spare.
pub fn fitting(rules: &[Rule], unknown: usize, bounds: Bounds) -> (Vec<Vec<u16>>, bool) {
    let mut look = |_: &SoFar<'_>| ControlFlow::Continue(());
    let mut watch = Watch::new(MOST_STEPS, &mut look);
    fitting_watched(rules, unknown, bounds, &mut watch)
}

/// The same, in no more steps than are left, with somebody looking on.
pub(crate) fn fitting_watched(
    rules: &[Rule],
    unknown: usize,
    bounds: Bounds,
    watch: &mut Watch<'_>,
) -> (Vec<Vec<u16>>, bool) {
    let mut search = Search {
        rules,
        bounds,
        counts: vec![bounds.least; unknown],
        found: Vec::new(),
        watch,
        cut_short: false,
    };
    search.from(0);
    (search.found, search.cut_short)
}

struct Search<'a, 'l> {
    rules: &'a [Rule],
    bounds: Bounds,
    counts: Vec<u16>,
    found: Vec<Vec<u16>>,
    watch: &'a mut Watch<'l>,
    cut_short: bool,
}

impl Search<'_, '_> {
    fn from(&mut self, at: usize) {
        if self.cut_short {
            return;
        }
        self.cut_short = !self.watch.step(&self.found);
        if at == self.counts.len() {
            if self.rules.iter().all(|rule| rule.keeps(&self.counts)) {
                self.found.push(self.counts.clone());
            }
            self.cut_short |= self.found.len() >= MOST_FITS;
            return;
        }
        let Some((from, to)) = span(self.rules, self.bounds, &self.counts[..at]) else {
            return;
        };
        for count in from..=to {
            self.counts[at] = count;
            self.from(at + 1);
        }
    }
}

/// The counts that the rules leave open for the next blank, those before it being set.
pub(crate) fn span(rules: &[Rule], bounds: Bounds, set: &[u16]) -> Option<(u16, u16)> {
    let next = Next { set, bounds };
    let mut span = (u128::from(bounds.least), u128::from(bounds.most));
    for rule in rules {
        let (from, to) = match rule {
            Rule::Product(rule) => next.by_product(rule),
            Rule::Line(line) => next.by_line(line),
            Rule::Never => return None,
            Rule::Whole(_) => continue,
        };
        span = (span.0.max(from), span.1.min(to));
        if span.0 > span.1 {
            return None;
        }
    }
    Some((u16::try_from(span.0).ok()?, u16::try_from(span.1).ok()?))
}

/// A blank whose turn it is: those before it are set, those after it may be anything within the bounds.
struct Next<'a> {
    set: &'a [u16],
    bounds: Bounds,
}

impl Next<'_> {
    /// `least ≤ set · x^power · rest ≤ most`, `rest` being anything that the blanks after this one can make.
    fn by_product(&self, rule: &Product) -> (u128, u128) {
        const OPEN: (u128, u128) = (0, u128::MAX);
        let at = self.set.len();
        let (mut low, mut high) = (Fraction::ONE, Fraction::ONE);
        for (i, power) in rule.powers.iter().enumerate().filter(|(i, _)| *i != at) {
            let (least, most) = if i < at {
                (self.set[i], self.set[i])
            } else {
                (self.bounds.least, self.bounds.most)
            };
            let (least, most) = (u128::from(least), u128::from(most));
            for _ in 0..power.unsigned_abs() {
                if *power > 0 {
                    low.above *= least;
                    high.above *= most;
                } else {
                    low.below *= most;
                    high.below *= least;
                }
            }
        }
        let (least, most) = (rule.least.widened(), rule.most.widened());
        match rule.powers[at] {
            // x ≥ least / high, x ≤ most / low.
            1 => (
                (least.above * high.below).div_ceil(least.below * high.above),
                (most.above * low.below) / (most.below * low.above),
            ),
            // x ≥ low / most, x ≤ high / least.
            -1 => (
                (low.above * most.below).div_ceil((low.below * most.above).max(1)),
                if least.above == 0 {
                    u128::MAX
                } else {
                    (high.above * least.below) / (high.below * least.above)
                },
            ),
            _ => OPEN,
        }
    }

    /// `weight · x + the rest ≥ 0`, the rest being at most what the blanks after this one can make of it.
    fn by_line(&self, line: &LinearConstraint) -> (u128, u128) {
        let at = self.set.len();
        let mut rest = i128::from(line.plus);
        for (i, weight) in line.weights.iter().enumerate().filter(|(i, _)| *i != at) {
            let count = if i < at {
                self.set[i]
            } else if *weight > 0 {
                self.bounds.most
            } else {
                self.bounds.least
            };
            rest += i128::from(*weight) * i128::from(count);
        }
        let weight = i128::from(line.weights[at]);
        let up = |n: i128, d: i128| u128::try_from(-(-n).div_euclid(d)).unwrap_or(0);
        match weight {
            0 if rest < 0 => (1, 0),
            0 => (0, u128::MAX),
            1.. => (up(-rest, weight), u128::MAX),
            _ if rest < 0 => (1, 0),
            _ => (0, u128::try_from(rest.div_euclid(-weight)).unwrap_or(0)),
        }
    }
}
