//! A movement mis-timed on purpose, for someone who learns: it is put wrong where nobody sees it, every shift that is made
//! moves what is seen, and the openings are counted.

use entries::{AtMesh, EntryContent, EntryKind, Log, Work};
use kinematics::step;
use movement::{MeshId, Movement, Reached, WitnessId};
use quantity::{Degrees, nearest_alike, whole};
use timing::{Cure, Hands, Reading, SaidReading, answer, read};

/// How far a lesson puts a wheel wrong at most: as far as hands do that slip while a plate goes on (common practice, no
/// source).
const MOST_TEETH: i32 = 3;

/// How a lesson stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lesson {
    /// Where each witness truly stands, nearest its best.
    pub stands: Vec<(WitnessId, Degrees)>,
    /// How often the plates were spread.
    pub openings: usize,
    /// Whether all is in its window.
    pub right: bool,
}

/// The hidden shifts, where a log is of a lesson.
pub fn hidden_of(log: &Log) -> Option<&[AtMesh]> {
    log.standing().find_map(|entry| match entry.work() {
        Some(Work::Lesson { hidden }) => Some(hidden.as_slice()),
        _ => None,
    })
}

/// Puts so many wheels wrong, each by one to three teeth, so that it shows and re-meshing as many cures it. Which is
/// told by `seed`: the same for the same. Nothing where the movement has no such place.
pub fn mistime(movement: &Movement, wheels: usize, seed: u64) -> Option<Vec<AtMesh>> {
    let meshes: Vec<MeshId> = (movement.meshes())
        .filter(|(id, mesh)| mesh.reached == Reached::Plates && movement.far_side(*id).is_some())
        .map(|(id, _)| id)
        .collect();
    let mut state = seed;
    let mut drawn = |below: usize| {
        // Steele and Vigna's splitmix64, from memory: any even mixing will do here.
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % below.max(1) as u64).unwrap_or(0)
    };
    if wheels == 0 || wheels > meshes.len() {
        return None;
    }
    // Most draws show, in a movement with witnesses; one without never does.
    for _ in 0..200 {
        let mut left = meshes.clone();
        let mut hidden: Vec<(MeshId, i32)> = (0..wheels)
            .map(|_| {
                let mesh = left.swap_remove(drawn(left.len()));
                let teeth =
                    1 + i32::try_from(drawn(MOST_TEETH.unsigned_abs() as usize)).unwrap_or(0);
                (mesh, if drawn(2) == 0 { teeth } else { -teeth })
            })
            .collect();
        hidden.sort();
        if shows(movement, &hidden) {
            let named = |(mesh, teeth): &(MeshId, i32)| AtMesh {
                mesh: movement.mesh_name(*mesh),
                teeth: *teeth,
            };
            return Some(hidden.iter().map(named).collect());
        }
    }
    None
}

/// Whether it takes just as many wheels to put this right.
fn shows(movement: &Movement, hidden: &[(MeshId, i32)]) -> bool {
    let readings: Vec<Reading> = (stands(movement, hidden).into_iter())
        .filter_map(|(id, stands)| read(movement, id, &SaidReading::Degrees(stands, None)).ok())
        .collect();
    matches!(answer(movement, &readings, Hands::default()).cure, Cure::Shift(shifts) if shifts.len() == hidden.len())
}

fn stands(movement: &Movement, shifts: &[(MeshId, i32)]) -> Vec<(WitnessId, Degrees)> {
    (movement.witnesses())
        .map(|(id, witness)| {
            let mut place = witness.best.clone();
            for (mesh, teeth) in shifts {
                if let Some(step) = step(movement, *mesh, id) {
                    place = &place + &(&step * &whole(i64::from(*teeth)));
                }
            }
            (id, nearest_alike(&place, &witness.period(), &witness.best))
        })
        .collect()
}

/// Whether plates are spread for a shift: a wheel that is reached from outside needs none.
fn spreads_plates(movement: &Movement, done: &[AtMesh]) -> bool {
    done.iter().any(|at| {
        (movement.find_mesh(&at.mesh))
            .is_some_and(|mesh| movement.mesh(mesh).reached == Reached::Plates)
    })
}

/// How often plates were spread for the shifts among these entries.
pub fn openings<'a>(
    movement: &Movement,
    entries: impl Iterator<Item = &'a entries::Entry>,
) -> usize {
    entries
        .filter(|entry| match &entry.told {
            EntryContent::Known(EntryKind::Shift(done)) => spreads_plates(movement, done),
            _ => false,
        })
        .count()
}

/// How a lesson stands after what was done: the shifts among these entries that count.
pub fn lesson<'a>(
    movement: &Movement,
    hidden: &[AtMesh],
    entries: impl Iterator<Item = &'a entries::Entry>,
) -> Lesson {
    let found = |at: &AtMesh| Some((movement.find_mesh(&at.mesh)?, at.teeth));
    let mut shifts: Vec<(MeshId, i32)> = hidden.iter().filter_map(found).collect();
    let mut openings = 0;
    for entry in entries {
        if let EntryContent::Known(EntryKind::Shift(done)) = &entry.told {
            openings += usize::from(spreads_plates(movement, done));
            shifts.extend(done.iter().filter_map(found));
        }
    }
    let stands = stands(movement, &shifts);
    let right = stands
        .iter()
        .all(|(id, place)| movement.witness(*id).admits(place));
    Lesson {
        stands,
        openings,
        right,
    }
}
