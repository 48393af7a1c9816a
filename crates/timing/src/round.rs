//! The last round of shifts: those with no look between them, however many entries they were told in.

use entries::{EntryContent, EntryKind, Log};
use movement::{MeshId, Movement};

/// A shift of one mesh.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shifted {
    /// The entry that tells it.
    pub entry: usize,
    /// The mesh.
    pub mesh: MeshId,
    /// Whether it was said to have gone the other way.
    pub other_way: bool,
}

/// The shifts since the last look before the last of them, in the order in which they were told: what is called by number is
/// counted in this list, from 1. Looks at other trains, and shifts of them, do not count.
pub fn last_round(movement: &Movement, log: &Log) -> Vec<Shifted> {
    let mut round: Vec<Shifted> = Vec::new();
    let mut train = None;
    for entry in log.of_this_sheet().rev() {
        match &entry.told {
            EntryContent::Known(EntryKind::Shift(meshes)) => {
                let shifted = meshes.iter().rev().filter_map(|at| {
                    let mesh = movement.find_mesh(&at.mesh)?;
                    Some(Shifted {
                        entry: entry.n,
                        mesh,
                        other_way: told_other_way(log, entry.n, &at.mesh),
                    })
                });
                for shifted in shifted {
                    let of = movement.train_of(movement.mesh(shifted.mesh).driver.arbor);
                    if *train.get_or_insert(of) == of {
                        round.push(shifted);
                    }
                }
            }
            EntryContent::Known(EntryKind::Look { readings, .. }) => {
                let here = |reading: &entries::LoggedReading| {
                    (movement.find_witness(&reading.witness)).is_some_and(|witness| {
                        train == Some(movement.train_of(movement.witness(witness).on))
                    })
                };
                if readings.iter().any(here) {
                    break;
                }
            }
            _ => {}
        }
    }
    round.reverse();
    round
}

fn told_other_way(log: &Log, entry: usize, name: &str) -> bool {
    log.of_this_sheet().any(|told| match &told.told {
        EntryContent::Known(EntryKind::OtherWay { of, mesh }) => {
            *of == entry && mesh.as_deref().is_none_or(|mesh| mesh == name)
        }
        _ => false,
    })
}
