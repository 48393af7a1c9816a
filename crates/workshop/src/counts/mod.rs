//! Missing and doubtful counts: every set of teeth that gives what must come out and fits what can be measured.
//!
//! [`puzzle`] makes rules in whole numbers of a sheet; [`solve`] finds all counts that keep them, exactly, and ranks them
//! by how likely they are. It knows no makers and no habits beyond those of published trains.

mod again;
mod best;
mod puzzle;
mod rank;
mod rules;
mod scale;
mod search;
mod sizes;
mod watch;
mod ways;
mod weight;

pub use again::{Amiss, Asks, CountAgain, Miscount, Miscounted, count_again};
pub use puzzle::{
    Clash, Demand, Demanded, MOST_BLANKS, Must, Puzzle, PuzzleFault, SPREADS, Sized, Wants, puzzle,
};
pub use rank::{Broken, CountsFound, Fit, Outcome, SearchEnd, ranked, solve, solve_watched};
pub use rules::{Fraction, LinearConstraint, Product, Rule, Whole};
pub use search::{MOST_FITS, fitting};
pub use watch::{MOST_STEPS, SearchWatcher, SoFar};
