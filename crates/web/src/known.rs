//! What other rooms computed for each stage of a job, a line each; what is not known yet is said plainly.

use crate::record::centres;
use entries::{Log, Stage};
use movement::{Movement, Strike};
use report::en::System;
use report::page::{named, struck as said};
use report::power::Told;
use report::{Units, Words, say};
use tasks::{Gone, OilRoom, OilState, PendulumAsk, PowerAsk, Wrongs};

/// The lines of a stage.
pub(crate) fn known(words: &Words, gone: &Gone, sheet: &str, stage: Stage) -> Vec<String> {
    let Some(movement) = gone.movement() else {
        return vec![say!(words, "known-no-sheet")];
    };
    match stage {
        Stage::In => counted(words, movement, &gone.log),
        Stage::Down => or(springs(words, movement, sheet), say!(words, "known-down")),
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
        Stage::Rate => or(pendulum(words, sheet), say!(words, "known-rate")),
        Stage::Out => or(oil(words, sheet), say!(words, "known-out")),
    }
}

/// What is known, or else that it is not.
fn or(lines: Vec<String>, unknown: String) -> Vec<String> {
    if lines.is_empty() {
        vec![unknown]
    } else {
        lines
    }
}

fn system(words: &Words) -> System {
    match words.units() {
        Units::Millimetre => System::Metric,
        Units::Inch => System::Inch,
    }
}

/// What each spring on the sheet holds.
fn springs(words: &Words, movement: &Movement, sheet: &str) -> Vec<String> {
    let Ok(powered) = tasks::power(sheet.as_bytes(), &PowerAsk::default()) else {
        return Vec::new();
    };
    (powered.driven.iter())
        .filter_map(|driven| match &driven.told {
            Told::Spring { wound, .. } => Some(say!(
                words,
                "known-spring",
                arbor = named(&movement.arbor(driven.arbor).id),
                turns = words.decimal(wound.turns.value.as_plain(), 1),
                stored = words.decimal(wound.stored.value.as_joules(), 1),
                left = words.decimal(wound.left.value.as_joules(), 1)
            )),
            Told::Lost(..) | Told::Weight(..) => None,
        })
        .collect()
}

/// What pendulum the going train wants, and what follows of it. What falls here is told first, and alone is no answer.
fn pendulum(words: &Words, sheet: &str) -> Vec<String> {
    match tasks::pendulum(Some(sheet.as_bytes()), &PendulumAsk::default()) {
        Ok(pendulum) if pendulum.said.len() > 1 => (pendulum.said.iter())
            .map(|said| {
                say!(
                    words,
                    "known-says",
                    says = report::en::pendulum::one(said, system(words))
                )
            })
            .collect(),
        _ => Vec::new(),
    }
}

/// What oil goes where, in a clock that was cleaned.
fn oil(words: &Words, sheet: &str) -> Vec<String> {
    let planned = tasks::oil(sheet.as_bytes(), OilState::Clean, OilRoom::default(), &[]);
    let Ok(oiled) = planned else {
        return Vec::new();
    };
    (oiled.plan.steps.iter())
        .map(|step| {
            let says = report::en::oil::one(&oiled.movement, step, system(words));
            say!(words, "known-says", says = says)
        })
        .collect()
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
fn counted(words: &Words, movement: &Movement, log: &Log) -> Vec<String> {
    let mut lines = vec![say!(
        words,
        "known-counted",
        trains = movement.trains(),
        arbors = movement.arbors().len(),
        meshes = movement.meshes().len()
    )];
    let (measured, all) = (centres(movement, log).len(), movement.meshes().len());
    let one = (movement.meshes().next()).map(|(id, _)| movement.mesh_name(id).replace('>', ":"));
    if let Some(mesh) = one {
        lines.push(if measured == all {
            say!(words, "known-to-scale")
        } else {
            say!(
                words,
                "known-centres",
                measured = measured,
                all = all,
                mesh = mesh
            )
        });
    }
    lines
}
