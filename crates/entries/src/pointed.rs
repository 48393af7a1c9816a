//! What entries of several kinds point at: an earlier entry, and meshes with their teeth.

use crate::line::{Object, Value};
use crate::{AtMesh, Entry, LogFault, LogFaultKind};
use std::collections::HashSet;

/// The number of an earlier entry.
pub(crate) fn pointed_at(value: Value<'_>, earlier: &[Entry]) -> Result<usize, LogFault> {
    let got = value.count()?;
    let of = usize::try_from(got).unwrap_or(usize::MAX);
    if !(1..=earlier.len()).contains(&of) {
        let n = earlier.len() + 1;
        return Err(value.fault(LogFaultKind::PointsNowhere { of: got, n }));
    }
    Ok(of)
}

/// The meshes of one opening: one said plainly, or several as a list.
pub(crate) fn shifted(object: &mut Object<'_>) -> Result<Vec<AtMesh>, LogFault> {
    let mut named = HashSet::new();
    let Some(list) = object.take("meshes") else {
        return Ok(vec![at_mesh(object, &mut named)?]);
    };
    let mut one = |mut object: Object<'_>| {
        let shifted = at_mesh(&mut object, &mut named)?;
        object.finish()?;
        Ok(shifted)
    };
    list.list()?.into_iter().map(&mut one).collect()
}

/// A mesh that was not `named` before in the same opening, and its teeth.
pub(crate) fn at_mesh(
    object: &mut Object<'_>,
    named: &mut HashSet<String>,
) -> Result<AtMesh, LogFault> {
    let name = object.need("mesh")?;
    let mesh = name.text()?;
    if !named.insert(mesh.clone()) {
        return Err(name.fault(LogFaultKind::Twice { name: mesh }));
    }
    let teeth = object.need("teeth")?.teeth()?;
    Ok(AtMesh { mesh, teeth })
}
