//! How the teeth of meshing parts stand: a tooth of one in a space of the other, on the line of centres.

use crate::pitch::{Pitches, ring_of};
use kurbo::Point;
use movement::{Mesh, Movement, PartId};
use std::f64::consts::{PI, TAU};

/// For each part the angle at which the middle of a tooth stands, radians clockwise from three o'clock.
///
/// Each set of parts in mesh is phased by itself, as parts of one arbor may be fixed on it anyhow. Where the same teeth
/// come back to themselves round a loop, the last mesh of it is left as it falls.
pub(crate) fn phases(movement: &Movement, pitches: &Pitches, centres: &[Point]) -> Vec<f64> {
    let mut phases: Vec<Option<f64>> = vec![None; pitches.parts.len()];
    let mut touching: Vec<Vec<&Mesh>> = vec![Vec::new(); pitches.parts.len()];
    for (_, mesh) in movement.meshes() {
        touching[pitches.index(mesh.driver)].push(mesh);
        touching[pitches.index(mesh.driven)].push(mesh);
    }
    for start in 0..phases.len() {
        if phases[start].is_some() {
            continue;
        }
        phases[start] = Some(-PI / 2.0);
        let mut next = vec![start];
        while let Some(here) = next.pop() {
            let Some(phase) = phases[here] else { continue };
            for mesh in &touching[here] {
                let id = pitches.parts[here].id;
                let other = if mesh.driver == id {
                    mesh.driven
                } else {
                    mesh.driver
                };
                let there = pitches.index(other);
                if phases[there].is_none() {
                    let counts = [here, there].map(|i| f64::from(pitches.parts[i].teeth));
                    let contact = contact(movement, mesh, id, other, centres);
                    phases[there] = Some(meshed(phase, counts, contact, mesh.internal));
                    next.push(there);
                }
            }
        }
    }
    phases.into_iter().map(|p| p.unwrap_or(0.0)).collect()
}

/// The directions of the point of contact from the middles of two meshing parts.
fn contact(
    movement: &Movement,
    mesh: &Mesh,
    here: PartId,
    there: PartId,
    centres: &[Point],
) -> [f64; 2] {
    let centre = |part: PartId| centres[part.arbor.index()];
    match ring_of(movement, mesh) {
        None => {
            let along = (centre(there) - centre(here)).atan2();
            [along, along + PI]
        }
        Some(ring) => {
            let pinion = if ring == here { there } else { here };
            let along = (centre(pinion) - centre(ring)).atan2();
            [along, along]
        }
    }
}

/// The phase of the second part. A tooth's offset from the contact, in pitches, is opposite on the two parts of an
/// external mesh, as they turn against each other; half a pitch puts it into a space.
fn meshed(phase: f64, counts: [f64; 2], contact: [f64; 2], internal: bool) -> f64 {
    let offset = counts[0] * (contact[0] - phase) / TAU;
    let other = if internal { offset - 0.5 } else { 0.5 - offset };
    let pitch = TAU / counts[1];
    let phase = contact[1] - other.rem_euclid(1.0) * pitch;
    phase.rem_euclid(TAU)
}
