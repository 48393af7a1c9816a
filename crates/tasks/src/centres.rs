//! The distances between arbors that were measured: what every drawing of a movement is sized by.

use draw::Mm;
use entries::{Log, Unit, Work};
use movement::{MeshId, Movement};
use quantity::{Length, to_f64};
use std::collections::BTreeMap;

/// The distances between arbors that were measured, each at a mesh: those on the sheet, and where a log has a measure of
/// `second.wheel:third.pinion`, the last of those that count.
pub fn centres(movement: &Movement, log: Option<&Log>) -> Vec<(MeshId, Mm)> {
    let on_sheet = movement
        .meshes()
        .filter_map(|(id, mesh)| Some((id, Mm::of(to_f64(mesh.measured("centre_mm")?))?)));
    let mut centres: BTreeMap<MeshId, Mm> = on_sheet.collect();
    for entry in log.iter().flat_map(|log| log.standing()) {
        if let Some((mesh, mm)) = entry.work().and_then(|work| measured(movement, work)) {
            centres.insert(mesh, mm);
        }
    }
    centres.into_iter().collect()
}

/// The mesh at which an entry measures the distance.
fn measured(movement: &Movement, work: &Work) -> Option<(MeshId, Mm)> {
    let Work::Measurement {
        what, value, unit, ..
    } = work
    else {
        return None;
    };
    let mesh = movement.find_mesh(what.here()?.trim())?;
    let number = value.text().parse::<f64>().ok().filter(|x| *x > 0.0)?;
    let mm = match unit {
        Unit::Mm => number,
        Unit::Um => number / 1000.0,
        Unit::In => number * Length::MM_IN_INCH,
        _ => return None,
    };
    Some((mesh, Mm::of(mm)?))
}
