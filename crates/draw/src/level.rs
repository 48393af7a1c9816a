//! How deep each part lies along its arbor.

use crate::pitch::{Pitches, Sized};
use kurbo::Point;
use movement::{Movement, Reached};

/// A level for each part: 0 is nearest the plate the sheet is seen from, larger lies deeper, and less than 0 is outside
/// that plate.
///
/// Parts in mesh share a level; parts of one arbor, and parts that overlap, do not. As a sheet does not say more,
/// smaller wheels are put before larger ones, where they hide least.
pub(crate) fn levels(movement: &Movement, pitches: &Pitches, centres: &[Point]) -> Vec<i32> {
    let parts = &pitches.parts;
    let group_of = |part| pitches.part(part).group;
    let mut outside = vec![false; parts.len()];
    for (_, mesh) in movement.meshes() {
        if mesh.reached == Reached::Outside {
            outside[group_of(mesh.driver)] = true;
        }
    }
    let mut size = vec![0.0_f64; parts.len()];
    for part in parts {
        size[part.group] = size[part.group].max(part.outer());
    }
    let clash = |a: &Sized, b: &Sized| {
        let [at, bt] = [a, b].map(|p| centres[p.id.arbor.index()]);
        a.id.arbor == b.id.arbor
            || (at.distance(bt) < a.outer() + b.outer()
                && at.distance(bt) + b.outer() > a.bore()
                && at.distance(bt) + a.outer() > b.bore())
    };
    let mut order: Vec<usize> = (0..parts.len())
        .filter(|&g| parts.iter().any(|p| p.group == g))
        .collect();
    order.sort_by(|&a, &b| {
        outside[b]
            .cmp(&outside[a])
            .then(size[a].total_cmp(&size[b]))
            .then(a.cmp(&b))
    });
    let mut level: Vec<Option<i32>> = vec![None; parts.len()];
    for &group in &order {
        let taken: Vec<i32> = parts
            .iter()
            .filter(|p| p.group == group)
            .flat_map(|own| {
                parts
                    .iter()
                    .filter(|other| other.group != group && clash(own, other))
                    .filter_map(|other| level[other.group])
                    .collect::<Vec<_>>()
            })
            .collect();
        // Behind all it could hide; outside parts from the plate outward.
        level[group] = Some(if outside[group] {
            taken.iter().copied().min().unwrap_or(0).min(0) - 1
        } else {
            taken.iter().copied().max().unwrap_or(-1).max(-1) + 1
        });
    }
    parts.iter().map(|p| level[p.group].unwrap_or(0)).collect()
}
