//! Places that are only about right, as on a photograph or by eye, brought to a distance that was measured between two of them later.

use crate::lying::{FARTHEST, on_plate};
use draw::Mm;
use movement::{MeshId, Movement, PlatePoint};
use quantity::{Exact, parse_number, to_f64};
use sheet::SheetTable;
use sheet::edit::{EditFault, SheetText, SheetValue, TableAt};

/// Tables of which a sheet has several, each with a place.
const PLACED: [SheetTable; 3] = [SheetTable::Pillar, SheetTable::Pivot, SheetTable::Fixture];

/// How many times larger the places are to be, by the distances that were measured between arbors that have one; nothing where none
/// was, or the places were measured themselves, or something would come to lie off all plates.
///
/// # Formula
/// `Σ dm / Σ d²`, in least squares over the meshes: d as they are said to be apart, m as measured.
pub(crate) fn size_of_places(movement: &Movement, centres: &[(MeshId, Mm)]) -> Option<f64> {
    let frame = movement.frame();
    if frame.placed_measured {
        return None;
    }
    let at = |place: &PlatePoint| on_plate(place).map(|at| [at.right.mm(), at.up.mm()]);
    let (mut square, mut both) = (0.0, 0.0);
    for (mesh, mm) in centres {
        let mesh = movement.mesh(*mesh);
        let ends = [mesh.driver, mesh.driven]
            .map(|part| movement.arbor(part.arbor).at.as_ref().and_then(at));
        if let [Some(one), Some(other)] = ends {
            let apart = (one[0] - other[0]).hypot(one[1] - other[1]);
            square += apart * apart;
            both += apart * mm.mm();
        }
    }
    let by = (square > 0.0 && both > 0.0).then(|| both / square)?;
    let arbors = movement.arbors().filter_map(|(_, arbor)| arbor.at.as_ref());
    let others = (frame.pillars.iter().map(|pillar| &pillar.at))
        .chain(frame.pivots.iter().filter_map(|pivot| pivot.at.as_ref()))
        .chain(frame.fixtures.iter().map(|fixture| &fixture.at));
    let farthest = arbors
        .chain(others)
        .flat_map(|place| [&place.right, &place.up])
        .map(|side| to_f64(side).abs())
        .fold(0.0, f64::max);
    (farthest * by <= FARTHEST).then_some(by)
}

/// Makes every place of a sheet so many times larger, and says that they were measured.
pub(crate) fn size_places(text: &mut SheetText, by: f64) -> Result<(), EditFault> {
    let arbors = text.arbors().into_iter().map(TableAt::Arbor);
    let mut tables: Vec<TableAt> = arbors.collect();
    for sort in PLACED {
        tables.extend((0..text.tables(sort).len()).map(|nth| TableAt::Nth(sort, nth)));
    }
    for table in tables {
        if let Some(SheetValue::List(sides)) = text.get(&table, "at_mm") {
            let sized = sides.iter().map(|side| sized(side, by)).collect();
            text.set(&table, "at_mm", &SheetValue::List(sized))?;
        }
    }
    let measured = SheetValue::Text("measured".to_owned());
    text.set(&TableAt::One(SheetTable::Plates), "placed", &measured)
}

/// A side of a place so many times as long, to the tenth of a millimetre.
fn sized(side: &SheetValue, by: f64) -> SheetValue {
    let long = side.number().as_ref().map_or(0.0, to_f64) * by;
    let tenths: Option<Exact> = parse_number(&format!("{:.1}", long + 0.0)).ok();
    SheetValue::Decimal(tenths.unwrap_or_default())
}
