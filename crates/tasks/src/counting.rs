//! A sheet as it is drawn while it is counted: what is missing has a stand-in of usual size.

use kinds::{CountPlace, Described, PlaceId};
use movement::{Movement, Open, PartId};
use quantity::Teeth;
use sheet::Faults;

/// A movement with a stand-in for each count that is missing: to be drawn, and for nothing else.
#[derive(Debug, Clone)]
pub struct BeingCounted {
    /// It.
    pub movement: Movement,
    /// Each part that is counted, from the great wheel up, one arbor at a time.
    pub places: Vec<(PartId, CountPlace)>,
}

impl BeingCounted {
    /// The place of that name, `ARBOR.PART`.
    pub fn find(&self, name: &str) -> Option<&(PartId, CountPlace)> {
        let part = self.movement.find_part(name)?;
        self.places.iter().find(|(own, _)| *own == part)
    }
}

/// A sheet with its missing counts stood in for: by the usual ones where they are known, else by what is usual beside the part
/// that it meshes with.
///
/// # Errors
/// Every fault of the sheet but missing counts.
pub fn being_counted(described: &Described) -> Result<BeingCounted, Faults> {
    let (open, _) = crate::check_counts_apart(described.text().as_bytes())?;
    let bare = open.movement();
    let places = described.places();
    let stand_ins: Vec<Teeth> = (open.blanks().iter())
        .map(|blank| {
            let usual = || {
                let own = place_id(bare, blank.part);
                places.iter().find(|place| place.id == own)?.usual
            };
            (blank.written.or_else(usual)).unwrap_or_else(|| beside(&open, blank.part))
        })
        .collect();
    let movement = open.standing_in(&stand_ins).unwrap_or_else(|| bare.clone());
    let of = |place: &CountPlace| {
        let PlaceId { arbor, part } = &place.id;
        movement.find_part(&format!("{arbor}.{part}"))
    };
    let places = places
        .into_iter()
        .filter_map(|place| Some((of(&place)?, place)));
    Ok(BeingCounted {
        places: places.collect(),
        movement,
    })
}

/// What a part is called where sheets are made.
fn place_id(movement: &Movement, part: PartId) -> PlaceId {
    PlaceId {
        arbor: movement.arbor(part.arbor).id.clone(),
        part: movement.part(part).name.clone(),
    }
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
