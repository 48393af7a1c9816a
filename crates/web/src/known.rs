//! What other rooms computed for each stage of a job, a line each; what is not known yet is said plainly.

use crate::record::centres;
use entries::{Log, Stage};
use movement::Movement;
use report::{Words, say};
use tasks::Gone;

/// The lines of a stage.
pub(crate) fn known(words: &Words, gone: &Gone, stage: Stage) -> Vec<String> {
    let Some(movement) = gone.movement() else {
        return vec![say!(words, "known-no-sheet")];
    };
    match stage {
        Stage::In => counted(words, movement, &gone.log),
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
            Some(strike) => {
                vec![say!(
                    words,
                    "known-prove",
                    blows = strike.blows.in_twelve_hours()
                )]
            }
            None => vec![say!(words, "known-no-strike")],
        },
        Stage::Rate => vec![say!(words, "known-rate")],
        Stage::Out => vec![say!(words, "known-out")],
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
