//! What drives each train: the arbor that nothing drives, and whether a spring or a weight is on it.

use movement::{ArborId, Movement};

/// What drives a train.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrivenBy {
    /// A spring.
    Spring,
    /// A weight.
    Weight,
    /// The sheet does not say.
    Unknown,
}

/// Where the power of a train comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The arbor, as the sheet names it.
    pub arbor: String,
    /// What is on it.
    pub power: DrivenBy,
}

/// The power of every train, in sheet order. What is on an arbor is told by what was measured of it.
pub fn sources(movement: &Movement) -> Vec<Source> {
    let driven: Vec<ArborId> = movement
        .meshes()
        .map(|(_, mesh)| mesh.driven.arbor)
        .collect();
    let drives = |id: ArborId| movement.meshes().any(|(_, mesh)| mesh.driver.arbor == id);
    (movement.arbors())
        .filter(|(id, _)| !driven.contains(id) && drives(*id))
        .map(|(_, arbor)| {
            let measured = |starts: &[&str]| {
                (arbor.measured.iter()).any(|(key, _)| starts.iter().any(|s| key.starts_with(s)))
            };
            let power = if measured(&["weight_", "drum_", "fall_"]) {
                DrivenBy::Weight
            } else if measured(&["spring_", "strip_", "barrel_"]) {
                DrivenBy::Spring
            } else {
                DrivenBy::Unknown
            };
            Source {
                arbor: arbor.id.clone(),
                power,
            }
        })
        .collect()
}
