//! What is odd about a sheet that is otherwise good, as data.

use crate::Spot;
use movement::{Blank, DraftPlace, Misgiving, Movement, PartId};
use quantity::{Exact, Teeth};

/// Something odd, and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetWarning {
    /// Where.
    pub spot: Spot,
    /// What.
    pub what: Odd,
}

/// What is odd.
#[derive(Debug, Clone, PartialEq)]
pub enum Odd {
    /// About the movement.
    Movement(Misgiving),
    /// A measurement that nothing reads.
    Unread {
        /// Its key.
        key: String,
        /// The key that may have been meant.
        near: Option<&'static str>,
    },
    /// What was taken for a toothed part, and nothing meshes with.
    Unmeshed {
        /// `ARBOR.PART`.
        part: String,
        /// Its key.
        key: String,
        /// What was taken for its teeth; nothing where the count is lost.
        teeth: Option<Teeth>,
        /// The key that may have been meant.
        near: Option<&'static str>,
    },
    /// A size over its teeth of a part that is not there.
    NoPart {
        /// The key.
        key: String,
        /// The part.
        part: String,
        /// A part of the arbor that may have been meant.
        near: Option<String>,
    },
    /// A number beyond what is usual for its key.
    Unusual {
        /// The key.
        key: String,
        /// The number.
        got: Exact,
        /// The least that is usual.
        least: f64,
        /// The most.
        most: f64,
    },
}

/// Parts that nothing meshes with, but the one at the end of a train that the pallets may work in: each where its count stands.
/// Counts of the blanks may be lost.
pub(crate) fn unmeshed(movement: &Movement, blanks: &[Blank]) -> Vec<(DraftPlace, Odd)> {
    let meshed = |part: PartId| {
        (movement.meshes()).any(|(_, mesh)| mesh.driver == part || mesh.driven == part)
    };
    let lost = |part: PartId| (blanks.iter()).any(|b| b.part == part && b.written.is_none());
    let mut odd = Vec::new();
    for (arbor, here) in movement.arbors() {
        let drives = (movement.meshes()).any(|(_, mesh)| mesh.driver.arbor == arbor);
        let alone: Vec<(usize, PartId)> = (movement.parts(arbor).enumerate())
            .map(|(nth, (id, _))| (nth, id))
            .filter(|(_, id)| !meshed(*id))
            .collect();
        for &(nth, id) in &alone {
            let part = movement.part(id);
            let there: Vec<&str> = here.measured.iter().map(|(key, _)| key.as_str()).collect();
            let near = crate::keys::meant_of_part(&part.name, &there);
            if near.is_none() && !drives && alone.len() == 1 {
                continue;
            }
            let what = Odd::Unmeshed {
                part: movement.part_name(id),
                key: part.name.clone(),
                teeth: (!lost(id)).then_some(part.teeth),
                near,
            };
            odd.push((DraftPlace::Count(arbor.index(), nth), what));
        }
    }
    odd
}
