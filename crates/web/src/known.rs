//! What other rooms computed for each stage of a job, a line each; what is not known yet is said plainly.

use crate::desk::Whole;
use entries::{Log, Stage};
use movement::{Movement, Strike};
use report::page::struck as said;
use report::{Voice, Words, oil, pendulum, say};
use tasks::{OilRoom, OilState, PendulumAsk, PowerAsk, Wrongs};

/// The lines of a stage.
pub(crate) fn known(job: &Whole, stage: Stage) -> Vec<String> {
    let words = &job.words;
    if let (Stage::In, Some(open)) = (stage, &job.gone.open) {
        let mut lines = counted(words, open.movement(), &job.gone.log);
        lines.push(say!(words, "known-blanks", count = open.blanks().len()));
        return lines;
    }
    let Some(movement) = job.gone.movement() else {
        return vec![say!(words, "known-no-sheet")];
    };
    match stage {
        Stage::In => counted(words, movement, &job.gone.log),
        Stage::Down => driven(job),
        Stage::Look => vec![say!(words, "known-look")],
        Stage::Together => {
            let mut lines = vec![match movement.strike() {
                Some(_) => say!(
                    words,
                    "known-together",
                    witnesses = movement.witnesses().len()
                ),
                None => say!(words, "known-no-strike"),
            }];
            lines.extend(oiled(job));
            lines
        }
        Stage::Prove => match movement.strike() {
            Some(strike) => proved(words, movement, strike),
            None => vec![say!(words, "known-no-strike")],
        },
        Stage::Rate => rated(job),
        Stage::Out => vec![back(job)],
    }
}

/// What the strike comes to by the sheet, run through its hours from the levers on it; without them what it owes.
fn proved(words: &Words, movement: &Movement, strike: &Strike) -> Vec<String> {
    match tasks::prove(movement, &Wrongs::default(), true) {
        Ok((_, struck)) => std::iter::once(say!(words, "known-by-sheet"))
            .chain(said::summary(words, movement, &struck))
            .collect(),
        Err(_) => vec![say!(
            words,
            "known-prove",
            blows = strike.blows.in_twelve_hours()
        )],
    }
}

/// What is on the sheet, and whether it is drawn to scale.
fn counted(words: &Words, movement: &Movement, log: &Log) -> Vec<String> {
    let mut lines = vec![say!(
        words,
        "known-counted",
        trains = movement.trains(),
        arbors = movement.arbors().len(),
        meshes = movement.meshes().len()
    )];
    let centres = tasks::centres(movement, Some(log));
    let (measured, all) = (centres.len(), movement.meshes().len());
    let one = (movement.meshes().next()).map(|(id, _)| movement.mesh_name(id).replace('>', ":"));
    if let Some(mesh) = one {
        lines.push(
            if draw::layout(movement, &centres).to_scale(movement, &centres) {
                say!(words, "known-to-scale")
            } else if measured == all {
                say!(words, "known-no-scale")
            } else {
                say!(
                    words,
                    "known-centres",
                    measured = measured,
                    all = all,
                    mesh = mesh
                )
            },
        );
    }
    lines
}

/// What each spring or weight gives.
fn driven(job: &Whole) -> Vec<String> {
    let words = &job.words;
    let ask = PowerAsk::default();
    match tasks::power(job.sheet.as_bytes(), &ask) {
        Ok(powered) => {
            let each = powered.driven.iter();
            let mut lines: Vec<String> = each
                .map(|driven| report::power::answer(words, &powered.movement, driven))
                .collect();
            lines.push(say!(words, "known-wound"));
            lines
        }
        Err(_) => vec![say!(words, "known-down")],
    }
}

/// The length that the train wants and the nut; and what is lacking.
fn rated(job: &Whole) -> Vec<String> {
    let words = &job.words;
    let voice = Voice::Page(*words);
    let ask = PendulumAsk::default();
    let Ok(told) = tasks::pendulum(Some(job.sheet.as_bytes()), &ask) else {
        return vec![say!(words, "known-rate")];
    };
    let mut lines: Vec<String> = (told.said.iter())
        .filter(|said| pendulum::rates(said))
        .map(|said| pendulum::one(words, said))
        .collect();
    if lines.is_empty() {
        lines.push(say!(words, "known-rate"));
    }
    let lacking = told.wants.iter().map(|want| pendulum::want(&voice, *want));
    lines.extend(lacking.map(|what| say!(words, "known-lacking", what = what)));
    lines
}

/// How many places are to be oiled.
fn oiled(job: &Whole) -> Vec<String> {
    let words = &job.words;
    match tasks::oil(job.sheet.as_bytes(), OilState::Clean, OilRoom::Lived, &[]) {
        Ok(oiled) => vec![oil::answer(words, &oiled.plan)],
        Err(_) => vec![say!(words, "known-out")],
    }
}

/// When to come back for its oil.
fn back(job: &Whole) -> String {
    let words = &job.words;
    match tasks::oil(job.sheet.as_bytes(), OilState::Clean, OilRoom::Lived, &[]) {
        Ok(oiled) => oil::back(words, &oiled.plan),
        Err(_) => say!(words, "known-out"),
    }
}
