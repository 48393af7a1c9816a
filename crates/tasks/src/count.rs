//! Which counts fit where some are missing or in doubt.

use crate::{QuestionFault, Refusal};
use movement::{Blank, Movement, Open, PartId};
use quantity::{Bounds, DecimalError, Exact, Teeth, parse_decimal, whole};
use std::ops::ControlFlow;
use workshop::counts::{
    CountsFound, Must, Puzzle, PuzzleFault, SoFar, Wants, puzzle, solve_watched,
};

/// What must come out, as it is written on a command line.
#[derive(Debug, Clone, Default)]
pub struct CountAsk<'a> {
    /// Beats an hour: `7200~20`, `120/min`.
    pub beats: Option<&'a str>,
    /// How long it runs: `8days~0.5`.
    pub runs: Option<&'a str>,
    /// Ratios: `hour:centre=1/12`.
    pub must: &'a [String],
    /// The escape wheel, `ARBOR.PART`.
    pub escape: Option<&'a str>,
    /// The fewest and the most teeth to be tried.
    pub teeth: Option<(u16, u16)>,
    /// How many times as far as usual the search may go; nought is once.
    pub patience: u32,
}

/// The most times as far as usual that a search may go.
pub const MOST_PATIENCE: u32 = 1000;

/// What fits.
#[derive(Debug)]
pub struct Counted {
    /// The movement with its blanks.
    pub open: Open,
    /// What its counts must do.
    pub puzzle: Puzzle,
    /// The ratios that were asked for.
    pub must: Vec<Must>,
    /// What does it.
    pub found: CountsFound,
    /// Counts in doubt that were taken as they are written, since with them there is too much to be worked out.
    pub believed: Vec<Blank>,
}

/// From 6 leaves to 144 teeth, as clocks have (The Modern Clock, Chicago 1905, pp. 258 and 492: 6 to 144).
const USUAL: Bounds = Bounds {
    least: 6,
    most: 144,
};

/// Finds all counts that fit.
///
/// # Errors
/// The sheet's faults, or what is wrong with what was asked.
pub fn count(sheet: &[u8], ask: &CountAsk<'_>) -> Result<Counted, Refusal> {
    count_watched(sheet, ask, &mut |_| ControlFlow::Continue(()))
}

/// How far a search has come, for whoever looks on.
#[derive(Debug, Clone, Copy)]
pub struct Searched<'a> {
    /// The movement, with stand-ins for its blanks.
    pub movement: &'a Movement,
    /// Its blanks.
    pub blanks: &'a [Blank],
    /// How far.
    pub so_far: SoFar<'a>,
}

/// The same, with somebody looking on: each time told how far it has come, and asked whether to go on.
///
/// # Errors
/// As [`count`].
pub fn count_watched(
    sheet: &[u8],
    ask: &CountAsk<'_>,
    look: &mut dyn FnMut(&Searched<'_>) -> ControlFlow<()>,
) -> Result<Counted, Refusal> {
    let (open, _) = crate::check_counts_apart(sheet)?;
    let movement = open.movement();
    let bounds = match ask.teeth {
        None => USUAL,
        Some((least, most))
            if least <= most
                && Teeth::new(least.into()).is_some()
                && Teeth::new(most.into()).is_some() =>
        {
            Bounds { least, most }
        }
        Some((least, most)) => {
            return Err(QuestionFault::NoCounts { least, most }.into());
        }
    };
    let must = ask
        .must
        .iter()
        .map(|written| parse_must(movement, written))
        .collect::<Result<Vec<_>, _>>()?;
    let escape = ask
        .escape
        .map(|name| {
            let unknown = || QuestionFault::UnknownPart(name.to_owned());
            movement.find_part(name).ok_or_else(unknown)
        })
        .transpose()?;
    let wants = Wants {
        beats: crate::pendulum::beats(ask.beats)?,
        runs: crate::run(ask.runs)?,
        must: must.clone(),
        escape,
        gravity: None,
    };
    let (open, believed, puzzle) = match puzzle(&open, &wants, bounds) {
        Err(PuzzleFault::TooMany { .. }) if open.blanks().iter().any(is_missing) => {
            let doubted = open.blanks().iter().filter(|blank| !is_missing(blank));
            let believed: Vec<Blank> = doubted.copied().collect();
            let open = open.believing().unwrap_or(open);
            let puzzle = puzzle(&open, &wants, bounds);
            (open, believed, puzzle)
        }
        puzzle => (open, Vec::new(), puzzle),
    };
    let puzzle = puzzle.map_err(QuestionFault::Puzzle)?;
    let movement = open.movement();
    let mut look = |so_far: &SoFar<'_>| {
        look(&Searched {
            movement,
            blanks: &puzzle.blanks,
            so_far: *so_far,
        })
    };
    let patience = ask.patience.min(MOST_PATIENCE);
    let found = solve_watched(&open, &puzzle, patience, &mut look);
    Ok(Counted {
        open,
        puzzle,
        must,
        found,
        believed,
    })
}

/// Whether nothing is written for it.
fn is_missing(blank: &Blank) -> bool {
    blank.written.is_none()
}

fn parse_must(movement: &Movement, written: &str) -> Result<Must, QuestionFault> {
    let bad = || QuestionFault::NoRatio(written.to_owned());
    let (arbors, turns) = written.split_once('=').ok_or_else(bad)?;
    let (of, per) = arbors.split_once(':').ok_or_else(bad)?;
    let find = |id: &str| {
        let unknown = || QuestionFault::unknown_arbor(movement, id);
        movement.find_arbor(id).ok_or_else(unknown)
    };
    let (turns, spread) = turns.split_once('~').unwrap_or((turns, "0"));
    let (turns, spread) = (
        fraction(turns).map_err(|_| bad())?,
        fraction(spread).map_err(|_| bad())?,
    );
    if turns <= whole(0) || spread < whole(0) {
        return Err(bad());
    }
    Ok(Must {
        of: find(of)?,
        per: find(per)?,
        turns,
        spread,
    })
}

/// A decimal, or one over another.
fn fraction(text: &str) -> Result<Exact, DecimalError> {
    match text.split_once('/') {
        None => parse_decimal(text),
        Some((over, under)) => {
            let under = parse_decimal(under)?;
            if under == whole(0) {
                return Err(DecimalError::NotFinite);
            }
            Ok(parse_decimal(over)? / under)
        }
    }
}

impl Counted {
    /// The movement with the likeliest counts; with stand-ins where none fits.
    pub fn likeliest(&self) -> Movement {
        let counts: Option<Vec<Teeth>> = self.found.fits.first().and_then(|fit| {
            let teeth = fit.counts.iter().map(|n| Teeth::new((*n).into()));
            teeth.collect()
        });
        counts
            .and_then(|counts| self.open.with(&counts).ok())
            .unwrap_or_else(|| self.open.movement().clone())
    }

    /// The likeliest different counts of each blank, at most three.
    pub fn of_each(&self) -> Vec<(PartId, Vec<u16>)> {
        const TOLD: usize = 3;
        let blanks = self.puzzle.blanks.iter().enumerate();
        blanks
            .map(|(i, blank)| {
                let mut counts = Vec::new();
                for fit in &self.found.fits {
                    if !counts.contains(&fit.counts[i]) && counts.len() < TOLD {
                        counts.push(fit.counts[i]);
                    }
                }
                (blank.part, counts)
            })
            .collect()
    }
}
