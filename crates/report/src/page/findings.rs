//! What a log shows besides the answer, and how arbors go in.

use super::arbor_name;
use crate::{Words, say};
use movement::Movement;
use timing::{Act, PutIn, Recalled};

/// A shift that went wrong, a lever that seems bent: a sentence each. Where the lever comes first, the answer has said so.
pub fn findings(words: &Words, movement: &Movement, recalled: &Recalled, act: &Act) -> Vec<String> {
    let mut found = Vec::new();
    for handled in &recalled.handled {
        let mesh = movement.mesh_name(handled.mesh);
        let mesh = match (handled.nth, movement.far_arbor(handled.mesh)) {
            ((_, 1), _) | (_, None) => mesh,
            ((nth, _), Some(far)) => {
                let arbor = arbor_name(movement, far);
                say!(words, "shift-of", n = nth, arbor = arbor, mesh = mesh)
            }
        };
        if handled.other_way.get() >= 0.5 {
            let odds = words.odds(handled.other_way);
            found.push(say!(words, "finding-other-way", mesh = mesh, odds = odds));
        } else if handled.slipped.get() >= 0.5 {
            let odds = words.odds(handled.slipped);
            found.push(say!(words, "finding-slipped", mesh = mesh, odds = odds));
        }
    }
    for (id, chance) in &recalled.bent {
        let answered = matches!(act, Act::Part(at) if at.contains(id));
        if chance.get() >= timing::SOUND && !answered {
            let witness = &movement.witness(*id).id;
            let odds = words.odds(*chance);
            found.push(say!(words, "finding-bent", witness = witness, odds = odds));
        }
    }
    found
}

/// One arbor going in.
pub fn put_in(words: &Words, movement: &Movement, step: &PutIn) -> String {
    let arbor = &movement.arbor(step.arbor).id;
    if step.settles.is_empty() {
        return say!(words, "put-in-anyhow", arbor = arbor);
    }
    let places: Vec<String> = (step.settles.iter())
        .map(|id| {
            let witness = movement.witness(*id);
            let moment = movement.moment(witness.at);
            let degrees = words.degrees(&witness.best);
            let held = &movement.arbor(moment.arbor).id;
            if moment.id == "drop" {
                say!(
                    words,
                    "put-in-drop",
                    witness = &witness.id,
                    degrees = degrees,
                    arbor = held
                )
            } else {
                say!(
                    words,
                    "put-in-place",
                    witness = &witness.id,
                    degrees = degrees,
                    arbor = held,
                    moment = &moment.id
                )
            }
        })
        .collect();
    say!(words, "put-in", arbor = arbor, places = words.list(&places))
}
