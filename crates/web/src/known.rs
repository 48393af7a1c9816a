//! What other rooms computed for each stage of a job, a line each; what is not known yet is said plainly.

use entries::Stage;
use movement::{Movement, Strike};
use report::page::struck as said;
use report::{Words, say};
use tasks::{Gone, Wrongs};

/// The lines of a stage.
pub(crate) fn known(words: &Words, gone: &Gone, stage: Stage) -> Vec<String> {
    let Some(movement) = gone.movement() else {
        return vec![say!(words, "known-no-sheet")];
    };
    match stage {
        Stage::In => counted(words, movement),
        Stage::Down => vec![say!(words, "known-down")],
        Stage::Look => vec![say!(words, "known-look")],
        Stage::Together => match movement.strike() {
            Some(_) => vec![say!(
                words,
                "known-together",
                witnesses = movement.witnesses().len()
            )],
            None => vec![say!(words, "known-no-strike")],
        },
        Stage::Prove => match movement.strike() {
            Some(strike) => proved(words, movement, strike),
            None => vec![say!(words, "known-no-strike")],
        },
        Stage::Rate => vec![say!(words, "known-rate")],
        Stage::Out => vec![say!(words, "known-out")],
    }
}

/// What the strike comes to, run through its hours from the levers on the sheet; without them what it owes.
fn proved(words: &Words, movement: &Movement, strike: &Strike) -> Vec<String> {
    match tasks::prove(movement, &Wrongs::default(), true) {
        Ok((_, struck)) => said::summary(words, movement, &struck),
        Err(_) => vec![say!(
            words,
            "known-prove",
            blows = strike.blows.in_twelve_hours()
        )],
    }
}

/// What is on the sheet.
fn counted(words: &Words, movement: &Movement) -> Vec<String> {
    vec![say!(
        words,
        "known-counted",
        trains = movement.trains(),
        arbors = movement.arbors().len(),
        meshes = movement.meshes().len()
    )]
}
