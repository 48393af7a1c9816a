//! Missing counts.

use super::{ByName, First, MeasuredValue, Version, measured_value};
use movement::{Movement, PartId};
use quantity::{Duration, Length, Teeth};
use schemars::JsonSchema;
use serde::Serialize;
use workshop::counts::{self, CountsFound, Demanded, Puzzle};

/// All that fit, up to so many.
const MOST: usize = 10_000;

/// What `trundle count` answers: the sets of counts that fit where some are missing or in doubt.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CountAnswer {
    /// The version of this answer's form.
    answer: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// The counts that are missing or in doubt.
    unknown: Vec<Unknown>,
    /// The fewest teeth that were tried.
    from: u16,
    /// The most teeth that were tried.
    to: u16,
    /// How many sets fit, as far as was searched.
    fit: usize,
    /// Whether the search was cut short, so that there may be more.
    cut_short: bool,
    /// How the search ended.
    ended: Ended,
    /// Whether the sets are in the order of their chances; else as they were found.
    likeliest_first: bool,
    /// Runs that were asked for and stand against the sheet.
    clashes: Vec<Clash>,
    /// How many of the sets are listed.
    listed: usize,
    /// The sets that fit.
    fits: Vec<Fit>,
}

/// A count that is missing or in doubt.
#[derive(Debug, Serialize, JsonSchema)]
struct Unknown {
    /// The part, as ARBOR.PART.
    part: String,
    /// The count that stands there in doubt; null where none does.
    written: Option<u16>,
}

/// How a search ended.
#[derive(Debug, Serialize, JsonSchema)]
enum Ended {
    /// All was tried.
    #[serde(rename = "whole")]
    Whole,
    /// More fit than are listed.
    #[serde(rename = "more than are listed")]
    Full,
    /// After as many steps as it may take; `--longer` goes on.
    #[serde(rename = "steps")]
    Steps,
    /// It was stopped.
    #[serde(rename = "stopped")]
    Stopped,
}

/// A run that was asked for, and what the sheet gives.
#[derive(Debug, Serialize, JsonSchema)]
struct Clash {
    /// The arbor that is wound.
    arbor: String,
    /// The run that the sheet gives, in seconds.
    sheet_s: MeasuredValue,
    /// The run that was asked for, in seconds.
    asked_s: MeasuredValue,
}

/// A set of counts that fits.
#[derive(Debug, Serialize, JsonSchema)]
struct Fit {
    /// The count of each unknown part, as ARBOR.PART.
    counts: ByName<u16>,
    /// Its chance among all sets that fit.
    chance: f64,
    /// What comes out with it.
    comes_out: Vec<Outcome>,
    /// The modules that its sizes ask for, in millimetres.
    modules_mm: Vec<MeasuredValue>,
}

/// What comes out, and what should.
#[derive(Debug, Serialize, JsonSchema)]
struct Outcome {
    /// What: "beats an hour", "hours of a winding of ARBOR" or "turns".
    what: String,
    /// What it comes to.
    is: f64,
    /// What it should come to.
    aim: f64,
    /// How surely that is known, one standard deviation.
    spread: f64,
}

impl CountAnswer {
    /// What is not known, how many sets fit, and each of them.
    pub fn of(movement: &Movement, puzzle: &Puzzle, found: &CountsFound) -> CountAnswer {
        let name = |part: PartId| movement.part_name(part);
        let fits = found.fits.iter().take(MOST).map(|fit| {
            let counts = puzzle.blanks.iter().zip(&fit.counts);
            let outcomes = fit.outcomes.iter();
            let modules = fit.modules.iter();
            Fit {
                counts: counts
                    .map(|(blank, count)| (name(blank.part), *count))
                    .collect(),
                chance: fit.chance.get(),
                comes_out: outcomes.map(|o| outcome(movement, o)).collect(),
                modules_mm: modules
                    .map(|(_, m)| measured_value(m, Length::as_mm))
                    .collect(),
            }
        });
        let fits: Vec<Fit> = fits.collect();
        let unknown = puzzle.blanks.iter().map(|blank| Unknown {
            part: name(blank.part),
            written: blank.written.map(Teeth::get),
        });
        let clashes = puzzle.clashes.iter().map(|clash| Clash {
            arbor: movement.arbor(clash.arbor).id.clone(),
            sheet_s: measured_value(&clash.sheet, Duration::as_s),
            asked_s: measured_value(&clash.asked, Duration::as_s),
        });
        CountAnswer {
            answer: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            unknown: unknown.collect(),
            from: puzzle.bounds.least,
            to: puzzle.bounds.most,
            fit: found.fits.len(),
            cut_short: found.is_cut_short(),
            ended: match found.ended {
                counts::SearchEnd::Whole => Ended::Whole,
                counts::SearchEnd::Full => Ended::Full,
                counts::SearchEnd::Steps => Ended::Steps,
                counts::SearchEnd::Stopped => Ended::Stopped,
            },
            likeliest_first: found.likeliest,
            clashes: clashes.collect(),
            listed: fits.len(),
            fits,
        }
    }
}

fn outcome(movement: &Movement, outcome: &counts::Outcome) -> Outcome {
    let what = match outcome.what {
        Demanded::Beats => "beats an hour".to_owned(),
        Demanded::Run(arbor) => format!("hours of a winding of {}", movement.arbor(arbor).id),
        _ => "turns".to_owned(),
    };
    Outcome {
        what,
        is: outcome.is,
        aim: outcome.aim,
        spread: outcome.spread,
    }
}
