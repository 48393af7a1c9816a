//! The distances between arbors that were measured: what every drawing of a movement is sized by, and how it is laid out by them.

use draw::{Layout, Mm};
use entries::{Log, Unit, Work};
use movement::{MeshId, Movement};
use quantity::{Length, to_f64};
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

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

/// How a movement is laid out by the distances that were measured: sought when it is first drawn, which takes half of the time that a
/// page of timing does (measured), and kept while they stay.
#[derive(Debug)]
pub(crate) struct Laid {
    centres: Vec<(MeshId, Mm)>,
    layout: OnceLock<Layout>,
}

impl Laid {
    /// By the distances on the sheet and in a log.
    pub(crate) fn of(movement: &Movement, log: &Log) -> Laid {
        Laid {
            centres: centres(movement, Some(log)),
            layout: OnceLock::new(),
        }
    }

    /// The same movement after more was entered in its log.
    pub(crate) fn then(self: &Arc<Laid>, movement: &Movement, log: &Log) -> Arc<Laid> {
        let then = Laid::of(movement, log);
        if then.centres == self.centres {
            Arc::clone(self)
        } else {
            Arc::new(then)
        }
    }

    /// The movement that this is of, laid out.
    pub(crate) fn layout(&self, movement: &Movement) -> &Layout {
        (self.layout).get_or_init(|| draw::layout(movement, &self.centres))
    }
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
