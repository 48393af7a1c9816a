//! A sheet as it is drawn while it is counted: what is missing has a stand-in of usual size.

use crate::check_counts_apart;
use draw::CountState;
use movement::{Movement, Open, PartId};
use quantity::Teeth;
use sheet::Faults;

/// A movement with a stand-in for each count that is missing: to be drawn, and for nothing else.
#[derive(Debug, Clone)]
pub struct BeingCounted {
    /// It.
    pub movement: Movement,
    /// Each of its parts, and how far it is counted: those of an arbor together, arbors as they follow each other from where power
    /// comes in.
    pub parts: Vec<(PartId, CountState)>,
}

/// A sheet with its missing counts stood in for: by the usual ones where `usual` knows them, else by what is usual beside
/// the part that it meshes with.
///
/// # Errors
/// Every fault of the sheet but missing counts.
pub fn being_counted(
    sheet: &[u8],
    usual: impl Fn(&str, &str) -> Option<Teeth>,
) -> Result<BeingCounted, Faults> {
    let (open, _) = check_counts_apart(sheet)?;
    let bare = open.movement();
    let stand_ins: Vec<Teeth> = (open.blanks().iter())
        .map(|blank| {
            let named = || {
                let arbor = &bare.arbor(blank.part.arbor).id;
                usual(arbor, &bare.part(blank.part).name)
            };
            blank
                .written
                .or_else(named)
                .unwrap_or_else(|| beside(&open, blank.part))
        })
        .collect();
    let movement = open.standing_in(&stand_ins).unwrap_or_else(|| bare.clone());
    let state = |part: PartId| match open.blanks().iter().find(|blank| blank.part == part) {
        None => CountState::Counted,
        Some(blank) if blank.written.is_some() => CountState::NotSure,
        Some(_) => CountState::NotYet,
    };
    let parts = outward(&movement)
        .into_iter()
        .map(|part| (part, state(part)));
    Ok(BeingCounted {
        parts: parts.collect(),
        movement,
    })
}

/// A count of usual size for a part: eight teeth of a wheel to a leaf, sixty-four teeth where nothing is known. Common practice, no
/// source; it is only drawn, dotted.
fn beside(open: &Open, part: PartId) -> Teeth {
    const RATIO: u16 = 8;
    const LEAVES: u16 = 8;
    const WHEEL: u16 = 64;
    const MOST_LEAVES: u16 = 20;
    let movement = open.movement();
    let known = |other: PartId| match open.blanks().iter().find(|blank| blank.part == other) {
        None => Some(movement.part(other).teeth),
        Some(blank) => blank.written,
    };
    let mesh = (movement.meshes()).find(|(_, mesh)| mesh.driver == part || mesh.driven == part);
    let count = match mesh {
        None => WHEEL,
        Some((_, mesh)) => {
            let drives = mesh.driver == part;
            let other = known(if drives { mesh.driven } else { mesh.driver });
            match other.map(Teeth::get) {
                Some(leaves) if leaves <= MOST_LEAVES => leaves.saturating_mul(RATIO).min(120),
                Some(teeth) => (teeth / RATIO).clamp(6, MOST_LEAVES),
                None if drives => WHEEL,
                None => LEAVES,
            }
        }
    };
    Teeth::new(i64::from(count)).unwrap_or(movement.part(part).teeth)
}

/// All parts, from the arbors that nothing drives outward; of each arbor first what is driven, then what drives, then the rest.
fn outward(movement: &Movement) -> Vec<PartId> {
    let driven = |part: PartId| movement.meshes().any(|(_, mesh)| mesh.driven == part);
    let drives = |part: PartId| movement.meshes().any(|(_, mesh)| mesh.driver == part);
    let mut arbors = Vec::new();
    for train in 0..movement.trains() {
        let first = arbors.len();
        let of_train = (movement.arbors()).filter(|(id, _)| movement.train_of(*id) == train);
        let of_train: Vec<_> = of_train.map(|(id, _)| id).collect();
        arbors.extend(
            (of_train.iter().copied())
                .filter(|id| movement.parts(*id).all(|(part, _)| !driven(part))),
        );
        let mut next = first;
        while next < arbors.len() {
            let here = arbors[next];
            next += 1;
            for (_, mesh) in movement.meshes().filter(|(_, m)| m.driver.arbor == here) {
                if !arbors.contains(&mesh.driven.arbor) {
                    arbors.push(mesh.driven.arbor);
                }
            }
        }
        let left = of_train.into_iter().filter(|id| !arbors.contains(id));
        let left: Vec<_> = left.collect();
        arbors.extend(left);
    }
    (arbors.into_iter())
        .flat_map(|arbor| {
            let mut parts: Vec<PartId> = movement.parts(arbor).map(|(id, _)| id).collect();
            parts.sort_by_key(|part| match (driven(*part), drives(*part)) {
                (true, _) => 0,
                (false, true) => 1,
                (false, false) => 2,
            });
            parts
        })
        .collect()
}
