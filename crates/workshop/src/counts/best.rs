//! The likeliest sets of counts where there are too many to try them all: the best of all beginnings is carried on first.
//!
//! No beginning is rated lower than any set that comes of it, so the first whole set that comes up is the likeliest of all,
//! the next one the next.

use super::puzzle::Puzzle;
use super::rules::Rule;
use super::scale::Scale;
use super::search::span;
use super::watch::Watch;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// So many of the likeliest are told where there are too many.
pub(crate) const MOST_LIKELY: usize = 1000;

/// Beginnings that are rated before the search is given up, whatever the patience: some fifty megabytes, and a second or so.
pub(crate) const MOST_RATED: u64 = 1_000_000;

struct Beginning {
    /// The weight of the best set that may come of it, or more.
    at_most: f64,
    counts: Vec<u16>,
}

impl Ord for Beginning {
    fn cmp(&self, other: &Self) -> Ordering {
        // Of two as likely the one with the smaller counts, as where all are listed.
        (self.at_most.total_cmp(&other.at_most)).then_with(|| other.counts.cmp(&self.counts))
    }
}

impl PartialOrd for Beginning {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Beginning {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Beginning {}

/// The likeliest sets, the first first, and whether they are all that there are.
pub(crate) fn likeliest(
    scale: &Scale<'_>,
    puzzle: &Puzzle,
    rules: &[Rule],
    watch: &mut Watch<'_>,
) -> (Vec<Vec<u16>>, bool) {
    let unknown = puzzle.blanks.len();
    let mut found = Vec::new();
    let mut beginnings = BinaryHeap::from([Beginning {
        at_most: f64::INFINITY,
        counts: Vec::new(),
    }]);
    while let Some(best) = beginnings.pop() {
        if best.counts.len() == unknown {
            found.push(best.counts);
            if found.len() == MOST_LIKELY {
                return (found, false);
            }
            continue;
        }
        let Some((from, to)) = span(rules, puzzle.bounds, &best.counts) else {
            continue;
        };
        for count in from..=to {
            let mut counts = best.counts.clone();
            counts.push(count);
            if counts.len() == unknown && !rules.iter().all(|rule| rule.keeps(&counts)) {
                continue;
            }
            if !watch.step(&found) {
                return (found, false);
            }
            let at_most = scale.at_most(&counts);
            beginnings.push(Beginning { at_most, counts });
        }
    }
    (found, true)
}
