//! What other rooms computed for each stage of a job, a line each; what is not known yet is said plainly.

use crate::desk::Whole;
use crate::pages::sums::Sum;
use entries::Stage;
use movement::{Movement, Strike};
use report::page::struck as said;
use report::{Locale, oil, say};
use tasks::{OilRoom, OilState, Wrongs};

/// The lines of a stage.
pub(crate) fn known_lines(job: &Whole, stage: Stage) -> Vec<String> {
    let locale = &job.locale;
    let mut lines = of_itself(job, stage);
    if job.state.movement().is_some() || (stage == Stage::In && job.state.open.is_some()) {
        lines.extend(Sum::at(stage).flat_map(|sum| (sum.known)(job)));
    } else if job.state.struck().is_none() {
        lines = vec![say!(locale, "known-no-sheet")];
    }
    lines
}

/// What is known beside the sums of a stage.
fn of_itself(job: &Whole, stage: Stage) -> Vec<String> {
    let locale = &job.locale;
    let Some(movement) = job.state.struck() else {
        return Vec::new();
    };
    match stage {
        Stage::In | Stage::Down | Stage::Rate => Vec::new(),
        Stage::Look => vec![say!(locale, "known-look")],
        Stage::Together => vec![match movement.strike() {
            Some(_) => say!(
                locale,
                "known-together",
                witnesses = movement.witnesses().len()
            ),
            None => say!(locale, "known-no-strike"),
        }],
        Stage::Prove => match movement.strike() {
            Some(strike) => proved(locale, movement, strike),
            None => vec![say!(locale, "known-no-strike")],
        },
        Stage::Out => vec![back(job)],
    }
}

/// What the strike comes to by the sheet, run through its hours from the levers on it; without them what it owes.
fn proved(locale: &Locale, movement: &Movement, strike: &Strike) -> Vec<String> {
    match tasks::prove(movement, &Wrongs::default(), true) {
        Ok((_, struck)) => std::iter::once(say!(locale, "known-by-sheet"))
            .chain(said::summary(locale, movement, &struck))
            .collect(),
        Err(_) => vec![say!(
            locale,
            "known-prove",
            blows = strike.blows.in_twelve_hours()
        )],
    }
}

/// When to come back for its oil.
fn back(job: &Whole) -> String {
    let locale = &job.locale;
    match tasks::oil(job.sheet.as_bytes(), OilState::Clean, OilRoom::Lived, &[]) {
        Ok(oiled) => oil::back(locale, &oiled.plan),
        Err(_) => say!(locale, "known-out"),
    }
}
