//! In what order arbors go in, and where to hold them so that they go in at their place the first time.
//!
//! From nothing: the lower arbors first, pressed by finger, with no power in the spring at all, since nothing would stop the
//! train; then the pin's arbor, and the fly last. With nothing known to be wrong, all stay in.

use kinematics::step;
use movement::{ArborId, MeshId, Movement, WitnessId};
use std::collections::BTreeSet;

/// One arbor put in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PutIn {
    /// Which.
    pub arbor: ArborId,
    /// The meshes that close as it goes in, with arbors that are in by then.
    pub meshes: Vec<MeshId>,
    /// The witnesses whose places those meshes settle: each should stand at its best while its moment's arbor is held.
    pub settles: Vec<WitnessId>,
}

/// The order in which these arbors go in, all others being in.
pub fn order(movement: &Movement, out: &[ArborId]) -> Vec<PutIn> {
    let mut waiting: Vec<ArborId> = out.to_vec();
    waiting.sort_by_key(|arbor| (rank(movement, *arbor), from_power(movement, *arbor), *arbor));
    waiting.dedup();
    let mut present: BTreeSet<ArborId> = (movement.arbors())
        .map(|(id, _)| id)
        .filter(|id| !out.contains(id))
        .collect();
    let mut steps = Vec::new();
    for arbor in waiting {
        let meshes: Vec<MeshId> = movement
            .meshes()
            .filter(|(_, mesh)| {
                let ends = [mesh.driver.arbor, mesh.driven.arbor];
                ends.contains(&arbor)
                    && ends
                        .iter()
                        .any(|end| *end != arbor && present.contains(end))
            })
            .map(|(id, _)| id)
            .collect();
        present.insert(arbor);
        let settles = movement
            .witnesses()
            .filter(|(w, witness)| {
                let moment = movement.moment(witness.at).arbor;
                joined(movement, witness.on, moment, &present)
                    && meshes
                        .iter()
                        .any(|mesh| step(movement, *mesh, *w).is_some_and(|step| !step.is_zero()))
            })
            .map(|(w, _)| w)
            .collect();
        steps.push(PutIn {
            arbor,
            meshes,
            settles,
        });
    }
    steps
}

/// Whether a path of meshes over arbors that are in joins two arbors.
fn joined(movement: &Movement, from: ArborId, to: ArborId, present: &BTreeSet<ArborId>) -> bool {
    let mut reached = BTreeSet::from([from]);
    loop {
        let more: Vec<ArborId> = movement
            .meshes()
            .flat_map(|(_, mesh)| {
                let (a, b) = (mesh.driver.arbor, mesh.driven.arbor);
                [(a, b), (b, a)]
            })
            .filter(|(a, b)| reached.contains(a) && !reached.contains(b))
            .filter(|(a, b)| present.contains(a) && present.contains(b))
            .map(|(_, b)| b)
            .collect();
        if reached.contains(&to) {
            return present.contains(&from) && present.contains(&to);
        }
        if more.is_empty() {
            return false;
        }
        reached.extend(more);
    }
}

/// Arbors that wait for others: the pin's, and after it the fly.
fn rank(movement: &Movement, arbor: ArborId) -> u8 {
    let drives = movement
        .meshes()
        .any(|(_, mesh)| mesh.driver.arbor == arbor);
    let has = |repeats: std::ops::RangeInclusive<u16>| {
        (movement.witnesses()).any(|(_, w)| w.on == arbor && repeats.contains(&w.repeats.get()))
    };
    let deepest = (movement.arbors())
        .filter(|(id, _)| movement.same_train(*id, arbor))
        .map(|(id, _)| from_power(movement, id))
        .max();
    if !drives && deepest == Some(from_power(movement, arbor)) {
        2
    } else {
        u8::from(has(1..=1))
    }
}

/// Meshes between an arbor and the one that its train takes its power from.
fn from_power(movement: &Movement, arbor: ArborId) -> usize {
    let mut arbor = arbor;
    let mut passed = 0;
    // Each arbor but the first is driven; a train has no ring of drivers, and no more arbors than there are.
    while let Some((_, mesh)) = movement.meshes().find(|(_, m)| m.driven.arbor == arbor) {
        arbor = mesh.driver.arbor;
        passed += 1;
        if passed > movement.arbors().len() {
            break;
        }
    }
    passed
}
