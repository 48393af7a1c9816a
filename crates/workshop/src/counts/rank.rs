//! How likely each set of counts is: what was measured, weighed against what clocks have.

use super::best::{MOST_LIKELY, MOST_RATED, likeliest};
use super::puzzle::{Demanded, Puzzle, Sized};
use super::scale::Scale;
use super::search::{MOST_FITS, fitting_watched};
use super::watch::{MOST_STEPS, SearchWatcher, Watch};
use super::weight::{by_size, groups, habit};
use movement::{Movement, Open};
use quantity::{Chance, Known, Length};
use std::ops::ControlFlow;

/// What comes out of a set of counts where something of nature was aimed at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    /// What.
    pub what: Demanded,
    /// What it comes to: beats an hour, hours of a run, turns.
    pub is: f64,
    /// What was aimed at.
    pub aim: f64,
    /// One standard deviation of that.
    pub spread: f64,
}

/// A set of counts that fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The counts of the blanks, in their order.
    pub counts: Vec<u16>,
    /// How likely it is, among all that fit.
    pub chance: Chance,
    /// What comes out.
    pub outcomes: Vec<Outcome>,
    /// The modules of what was measured beside a blank, each by its first measurement.
    pub modules: Vec<(Sized, Known<Length>)>,
}

/// All that fit.
#[derive(Debug, Clone, PartialEq)]
pub struct CountsFound {
    /// The likeliest first.
    pub fits: Vec<Fit>,
    /// How the search ended.
    pub ended: SearchEnd,
    /// Whether those that are listed are the likeliest of all: always, but where a search that was cut short did not come so far.
    pub likeliest: bool,
    /// Where nothing fits: the demands without which something would.
    pub broken: Vec<Broken>,
    /// Whether that was tried to the end for each of them.
    pub told_all: bool,
}

/// How a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SearchEnd {
    /// All was tried.
    Whole,
    /// More fit than are listed.
    Full,
    /// After as many steps as it may take: with more of them it goes on.
    Steps,
    /// By whoever looked on.
    Stopped,
}

impl CountsFound {
    /// Whether the search was cut short, so that there may be more.
    pub fn is_cut_short(&self) -> bool {
        self.ended != SearchEnd::Whole
    }
}

/// A demand that stands against all others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Broken {
    /// Its number.
    pub demand: usize,
    /// What comes nearest to what it aims at, of all that the others allow.
    pub nearest: Option<f64>,
}

/// Finds all counts that fit and ranks them.
pub fn solve(open: &Open, puzzle: &Puzzle) -> CountsFound {
    solve_watched(open, puzzle, 1, &mut |_| ControlFlow::Continue(()))
}

/// The same with so many times the patience, and with somebody looking on who may have it stopped: then what was found so far is
/// told.
pub fn solve_watched(
    open: &Open,
    puzzle: &Puzzle,
    patience: u32,
    look: SearchWatcher<'_>,
) -> CountsFound {
    let unknown = puzzle.blanks.len();
    let rules = puzzle.rules();
    let patience = u64::from(patience.max(1));
    let mut watch = Watch::new(MOST_STEPS * patience, look);
    let (mut all, cut_short) = fitting_watched(&rules, unknown, puzzle.bounds, &mut watch);
    let mut ended = match (cut_short, all.len() >= MOST_FITS) {
        (false, _) => SearchEnd::Whole,
        (true, true) => SearchEnd::Full,
        (true, false) => SearchEnd::Steps,
    };
    let mut first = !cut_short;
    if cut_short && !watch.is_stopped() {
        watch.grant(MOST_RATED);
        let scale = Scale::of(open.movement(), puzzle);
        let (best, whole) = likeliest(&scale, puzzle, &rules, &mut watch);
        if whole {
            ended = SearchEnd::Whole;
        }
        if best.len() == MOST_LIKELY {
            ended = SearchEnd::Full;
        }
        first = whole || !best.is_empty();
        if first {
            all = best;
        }
    }
    let fits = ranked(open.movement(), puzzle, all);
    let (broken, told_all) = if fits.is_empty() && ended == SearchEnd::Whole {
        broken(puzzle, patience, &mut watch)
    } else {
        (Vec::new(), true)
    };
    if watch.is_stopped() && ended != SearchEnd::Whole {
        ended = SearchEnd::Stopped;
    }
    CountsFound {
        fits,
        ended,
        likeliest: first,
        broken,
        told_all,
    }
}

/// Sets of counts, the likeliest first; of two as likely the one with the smaller counts.
pub fn ranked(movement: &Movement, puzzle: &Puzzle, all: Vec<Vec<u16>>) -> Vec<Fit> {
    let mut weighed: Vec<(f64, Fit)> = all
        .into_iter()
        .map(|counts| weigh(movement, puzzle, counts))
        .collect();
    let most = weighed
        .iter()
        .map(|w| w.0)
        .fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = weighed.iter().map(|w| (w.0 - most).exp()).sum();
    weighed.sort_by(|a, b| {
        b.0.total_cmp(&a.0)
            .then_with(|| a.1.counts.cmp(&b.1.counts))
    });
    weighed
        .into_iter()
        .map(|(weight, mut fit)| {
            fit.chance = Chance::of((weight - most).exp() / sum);
            fit
        })
        .collect()
}

/// The demands without each of which alone something would fit, and whether each was tried to the end.
fn broken(puzzle: &Puzzle, patience: u64, watch: &mut Watch<'_>) -> (Vec<Broken>, bool) {
    let mut all = Vec::new();
    let mut whole = true;
    // Each has as much of the steps as the others.
    let each = MOST_STEPS * patience / puzzle.demands.len().max(1) as u64;
    for (demand, without) in puzzle.demands.iter().enumerate() {
        let rest = puzzle.demands.iter().enumerate();
        let rules: Vec<_> = rest
            .filter(|(i, _)| *i != demand)
            .flat_map(|(_, demand)| demand.rules.iter().cloned())
            .collect();
        watch.grant(each);
        let (some, cut) = fitting_watched(&rules, puzzle.blanks.len(), puzzle.bounds, watch);
        whole &= !(cut && some.is_empty());
        if some.is_empty() {
            continue;
        }
        let aim = without.aimed().map_or(0.0, |(aim, _)| aim);
        let come = some.iter().filter_map(|counts| without.comes_to(counts));
        let nearest = come.min_by(|a, b| (a - aim).abs().total_cmp(&(b - aim).abs()));
        // Of those that were not all found, the nearest is not known.
        let nearest = nearest.filter(|_| !cut);
        all.push(Broken { demand, nearest });
    }
    (all, whole)
}

fn weigh(movement: &Movement, puzzle: &Puzzle, counts: Vec<u16>) -> (f64, Fit) {
    let mut weight = habit(movement, &puzzle.blanks, &counts);
    let mut outcomes = Vec::new();
    for demand in &puzzle.demands {
        let (Some((aim, spread)), Some(is)) = (demand.aimed(), demand.comes_to(&counts)) else {
            continue;
        };
        if spread > 0.0 {
            weight -= ((is - aim) / spread).powi(2) / 2.0;
        }
        outcomes.push(Outcome {
            what: demand.what,
            is,
            aim,
            spread,
        });
    }
    let mut modules = Vec::new();
    for sizes in groups(puzzle) {
        let (fits, of) = by_size(movement, &puzzle.blanks, &sizes, &counts);
        weight += fits;
        modules.push((sizes[0].of, of));
    }
    let fit = Fit {
        counts,
        chance: Chance::of(0.0),
        outcomes,
        modules,
    };
    (weight, fit)
}
