//! The motion of a movement, as text for people.

use super::numbers::ratio;
use super::{degrees, plate, turning};
use kinematics::{
    meeting, no_witness_beyond, per_blow, per_hour, per_winding, same_teeth_everywhere, speed, step,
};
use movement::{ArborId, Movement, Plate};
use quantity::Exact;
use workshop::pendulum::{escapement, train_beats};

/// Every arbor and mesh, `per` one turn of an arbor; trains without it are told per turn of their own first arbor.
pub fn train_text(movement: &Movement, per: ArborId) -> String {
    let mut text = vec![movement.name().to_owned()];
    for train in 0..movement.trains() {
        let members: Vec<ArborId> = movement
            .arbors()
            .map(|(id, _)| id)
            .filter(|id| movement.train_of(*id) == train)
            .collect();
        let Some(&first) = members.first() else {
            continue;
        };
        let per = if members.contains(&per) { per } else { first };
        text.push(String::new());
        text.push(format!(
            "Turns for one turn of the {} arbor; the way it runs from the {} and from the {}",
            movement.arbor(per).id,
            plate(Plate::Front),
            plate(Plate::Back)
        ));
        for id in members {
            arbor(movement, id, per, &mut text);
        }
    }
    for (id, mesh) in movement.meshes() {
        let again = meeting(movement, id);
        text.push(String::new());
        text.push(format!(
            "{}: the same teeth meet again after {} turns of {} and {} of {}",
            movement.mesh_name(id),
            again.driver_turns,
            movement.part_name(mesh.driver),
            again.driven_turns,
            movement.part_name(mesh.driven)
        ));
        if movement.far_side(id).is_none() {
            text.push("  closes a loop: cannot be shifted alone".to_owned());
            continue;
        }
        let mut moved = false;
        for (w, witness) in movement.witnesses() {
            if let Some(step) = step(movement, id, w).filter(|step| !step.is_zero()) {
                moved = true;
                text.push(format!(
                    "  one tooth moves {} {}",
                    witness.id,
                    degrees(&step)
                ));
            }
        }
        if !moved && movement.unjudged().is_empty() {
            text.push("  no witness lies beyond it".to_owned());
        }
    }
    let unjudged: Vec<&str> = (movement.unjudged().iter())
        .map(|witness| &witness.id[..])
        .collect();
    if !unjudged.is_empty() {
        text.push(String::new());
        text.push(format!(
            "What one tooth moves is not told of {}: no window is known for it",
            unjudged.join(", ")
        ));
    }
    let free = no_witness_beyond(movement);
    if !free.is_empty() {
        let names: Vec<String> = free.iter().map(|&m| movement.mesh_name(m)).collect();
        text.push(String::new());
        text.push(format!(
            "Any tooth will do, nothing is read beyond: {}",
            names.join(", ")
        ));
    }
    text.push(String::new());
    text.join("\n")
}

fn arbor(movement: &Movement, id: ArborId, per: ArborId, text: &mut Vec<String>) {
    let turns = speed(movement, id, per)
        .as_ref()
        .map(ratio)
        .unwrap_or_default();
    text.push(format!(
        "  {:12} {:>18}   {}, {}",
        movement.arbor(id).id,
        turns,
        turning(movement.runs(id, Plate::Front)),
        turning(movement.runs(id, Plate::Back))
    ));
    let mut more = |label: &str, turns: Option<Exact>| {
        if let Some(turns) = turns {
            text.push(format!("      {label} {}", ratio(&turns)));
        }
    };
    more("a blow:", per_blow(movement, id));
    more("an hour:", per_hour(movement, id));
    more("a winding:", per_winding(movement, id));
    let beats = escapement(movement).filter(|escapement| escapement.arbor == id);
    more(
        "beats an hour:",
        beats.and_then(|escapement| train_beats(movement, &escapement)),
    );
    text.push(format!(
        "      every tooth of the train as it was after {} turns",
        same_teeth_everywhere(movement, id)
    ));
}
