//! What one tooth at a mesh does to a witness.

use movement::{MeshId, MeshSide, Movement, WitnessId};
use quantity::{Degrees, Exact, whole};

/// How far one tooth at `mesh`, its far side left one tooth further ahead, moves `witness`: degrees of the witness's
/// own arbor, ahead positive. Nothing where the mesh closes a loop and cannot be shifted alone; zero where the witness
/// and its moment's arbor lie on one side.
///
/// # Formula
/// `Δ = 360°/T_far · |dθ_w/dθ_far|` for a witness on the far side with its moment on the near one, and
/// `Δ = −360°/T_near · |dθ_w/dθ_near|` the other way round: the near part is then the one that is left behind.
pub fn step(movement: &Movement, mesh: MeshId, witness: WitnessId) -> Option<Degrees> {
    let far = movement.far_side(mesh)?;
    let near = match far {
        MeshSide::Driver => MeshSide::Driven,
        MeshSide::Driven => MeshSide::Driver,
    };
    let witness = movement.witness(witness);
    let moment = movement.moment(witness.at).arbor;
    let moved = movement.beyond(mesh, witness.on);
    if moved == movement.beyond(mesh, moment) {
        return Some(Degrees::zero());
    }
    let part = movement.mesh(mesh).part(if moved { far } else { near });
    let teeth = Exact::from_integer(movement.part(part).teeth.get().into());
    let turns = movement.turns(witness.on) / movement.turns(part.arbor) / teeth;
    Some(Degrees::turns(&if moved {
        turns
    } else {
        turns * whole(-1)
    }))
}

/// The meshes whose shift moves no witness, so that they may be put together anyhow. Loops are not among them. Where a witness has no
/// window it is not known what it is read by, and no mesh is told to be free of it.
pub fn no_witness_beyond(movement: &Movement) -> Vec<MeshId> {
    if !movement.unjudged().is_empty() {
        return Vec::new();
    }
    movement
        .meshes()
        .map(|(mesh, _)| mesh)
        .filter(|&mesh| {
            movement.far_side(mesh).is_some()
                && movement
                    .witnesses()
                    .all(|(w, _)| step(movement, mesh, w).is_some_and(|step| step.is_zero()))
        })
        .collect()
}
