//! Arbors that stand where the sheet says: the sizes that follow from their places, what cannot be true of them, and where those
//! are drawn of which nobody said it.

use crate::Mm;
use crate::assumed::{FAR_MODULE, PLACE_OFF, TOUCH_OFF};
use crate::pitch::Pitches;
use crate::place::crossings;
use kurbo::{Circle, Point, Vec2};
use movement::{ArborId, Mesh, MeshId, Movement, PartId, PlatePoint};
use quantity::to_f64;
use std::collections::{HashMap, VecDeque};

/// Two wheels in mesh that cannot reach each other, or that would run into each other, where their arbors are said to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unreached {
    /// Their mesh.
    pub mesh: MeshId,
    /// How far apart their arbors are said to be.
    pub is: Mm,
    /// How far apart they would be with the counts of the sheet and the module of what they mesh with.
    pub fits: Mm,
}

/// A place on the plate as it is drawn: to the right, and downward.
pub(crate) fn drawn_at(at: &PlatePoint) -> Point {
    let place = |exact| Mm::worked_out(to_f64(exact)).mm();
    Point::new(place(&at.right), -place(&at.up))
}

/// Where an arbor is said to be.
pub(crate) fn said(movement: &Movement, arbor: ArborId) -> Option<Point> {
    movement.arbor(arbor).at.as_ref().map(drawn_at)
}

/// The distance of two arbors in mesh, in modules: half the sum of the counts, or of an internal mesh half their difference.
fn modules_apart(movement: &Movement, mesh: &Mesh) -> f64 {
    let [driver, driven] =
        [mesh.driver, mesh.driven].map(|part| f64::from(movement.part(part).teeth.get()));
    if mesh.internal {
        (driver - driven).abs() / 2.0
    } else {
        (driver + driven) / 2.0
    }
}

/// A mesh whose arbors both have a place.
struct PlacedMesh {
    id: MeshId,
    group: usize,
    apart: f64,
    /// In modules.
    modules: f64,
}

/// Meshes by the sets of parts that share one module.
struct Groups {
    of: HashMap<MeshId, usize>,
    /// Of each set, the module that a measured distance gives it.
    measured: Vec<Option<f64>>,
    placed: Vec<PlacedMesh>,
}

impl Groups {
    fn of(movement: &Movement, centres: &[(MeshId, Mm)]) -> Groups {
        let mut group_of: HashMap<PartId, usize> = HashMap::new();
        let mut many = 0;
        for (_, mesh) in movement.meshes() {
            let known = [mesh.driver, mesh.driven].map(|part| group_of.get(&part).copied());
            let own = match known {
                [Some(a), Some(b)] => {
                    for group in group_of.values_mut().filter(|group| **group == b) {
                        *group = a;
                    }
                    a
                }
                [Some(own), None] | [None, Some(own)] => own,
                [None, None] => {
                    many += 1;
                    many - 1
                }
            };
            group_of.extend([(mesh.driver, own), (mesh.driven, own)]);
        }
        let mut groups = Groups {
            of: HashMap::new(),
            measured: vec![None; many],
            placed: Vec::new(),
        };
        for (id, mesh) in movement.meshes() {
            let (group, modules) = (group_of[&mesh.driver], modules_apart(movement, mesh));
            groups.of.insert(id, group);
            let measured = centres.iter().find(|(at, _)| *at == id);
            if let (None, Some((_, mm))) = (groups.measured[group], measured)
                && modules > 0.0
                && mm.mm() > 0.0
            {
                groups.measured[group] = Some(mm.mm() / modules);
            }
            let [a, b] = [mesh.driver, mesh.driven].map(|part| said(movement, part.arbor));
            if let (Some(a), Some(b)) = (a, b)
                && modules > 0.0
            {
                groups.placed.push(PlacedMesh {
                    id,
                    group,
                    apart: a.distance(b),
                    modules,
                });
            }
        }
        groups
    }

    /// What the places of its own arbors make the module of a set: of several the middle one.
    fn by_place(&self, group: usize) -> Option<f64> {
        let own = self.placed.iter().filter(|mesh| mesh.group == group);
        middle(own.map(|mesh| mesh.apart / mesh.modules).collect())
    }

    /// The module of the other sets, as they are measured or placed: of several the middle one.
    fn of_others(&self, group: usize) -> Option<f64> {
        let others = (0..self.measured.len()).filter(|other| *other != group);
        middle(
            others
                .filter_map(|other| self.measured[other].or_else(|| self.by_place(other)))
                .collect(),
        )
    }

    /// The module of a set as it is drawn, where a measure or its places tell it: places that cannot be right tell none.
    fn module(&self, group: usize) -> Option<f64> {
        if self.measured[group].is_some() {
            return self.measured[group];
        }
        let placed = self.by_place(group)?;
        match self.of_others(group) {
            Some(others) if is_far(placed / others) => None,
            _ => Some(placed),
        }
    }
}

fn is_far(times: f64) -> bool {
    !(1.0 / FAR_MODULE.value..=FAR_MODULE.value).contains(&times)
}

/// The middle one of some numbers; of an even count the lower of the two.
fn middle(mut of: Vec<f64>) -> Option<f64> {
    of.sort_by(f64::total_cmp);
    of.get(of.len().checked_sub(1)? / 2).copied()
}

/// The distances of arbors by which a movement is sized: those that were measured, and of each set of meshing parts without one that
/// which follows from its places.
pub(crate) fn distances(movement: &Movement, centres: &[(MeshId, Mm)]) -> Vec<(MeshId, Mm)> {
    let groups = Groups::of(movement, centres);
    let mut known = centres.to_vec();
    for group in 0..groups.measured.len() {
        let (None, Some(module)) = (groups.measured[group], groups.module(group)) else {
            continue;
        };
        let of_it = movement.meshes().find(|(id, _)| groups.of[id] == group);
        if let Some((id, mesh)) = of_it {
            known.push((id, Mm::worked_out(module * modules_apart(movement, mesh))));
        }
    }
    known
}

/// The meshes whose wheels do not reach each other where their arbors are said to be, or reach into each other: by the module of a
/// distance that was measured, else by that of the other meshes of the same teeth, else by those of the whole movement.
pub fn unreached(movement: &Movement, centres: &[(MeshId, Mm)]) -> Vec<Unreached> {
    let groups = Groups::of(movement, centres);
    let mut found: Vec<Unreached> = Vec::new();
    for mesh in &groups.placed {
        let fits = match groups.module(mesh.group) {
            Some(module) => {
                let fits = module * mesh.modules;
                ((fits - mesh.apart).abs() > (PLACE_OFF.value * fits).max(TOUCH_OFF.value))
                    .then_some(fits)
            }
            None => (groups.of_others(mesh.group)).map(|others| others * mesh.modules),
        };
        if let Some(fits) = fits {
            found.push(Unreached {
                mesh: mesh.id,
                is: Mm::worked_out(mesh.apart),
                fits: Mm::worked_out(fits),
            });
        }
    }
    // With two sets alone either may be the one that is off: the later in the train is told, once.
    let sets = (groups.measured.iter().enumerate())
        .filter(|(group, measured)| measured.is_some() || groups.by_place(*group).is_some());
    if sets.count() == 2 && found.len() == 2 {
        found.remove(0);
    }
    found
}

/// Where every arbor stands where all of them are said to; nothing where one is not.
pub(crate) fn all_said(movement: &Movement) -> Option<Vec<Point>> {
    movement
        .arbors()
        .map(|(id, _)| said(movement, id))
        .collect()
}

/// Whether any arbor is said to be anywhere.
pub(crate) fn any_said(movement: &Movement) -> bool {
    movement
        .arbors()
        .any(|(id, _)| said(movement, id).is_some())
}

/// Where every arbor is drawn: where it is said to be, else in mesh with those that are, on the side of them on which it lies as it is
/// `usual`; a train of which nothing is said lies beside the others as is usual.
pub(crate) fn placed(movement: &Movement, pitches: &Pitches, usual: &[Point]) -> Vec<Point> {
    let mut stands: Vec<Option<Point>> = (movement.arbors())
        .map(|(id, _)| said(movement, id))
        .collect();
    let moved = (stands.iter().zip(usual)).find_map(|(said, usual)| Some((*said)? - *usual));
    let moved = moved.unwrap_or(Vec2::ZERO);
    let mut next: VecDeque<ArborId> = (movement.arbors())
        .map(|(id, _)| id)
        .filter(|id| stands[id.index()].is_some())
        .collect();
    let ends = |mesh: &Mesh| [mesh.driver.arbor, mesh.driven.arbor];
    while let Some(here) = next.pop_front() {
        for (id, mesh) in movement.meshes() {
            let ends_here = ends(mesh);
            let Some(side) = ends_here.iter().position(|end| *end == here) else {
                continue;
            };
            let there = ends_here[1 - side];
            let Some(from) = stands[here.index()].filter(|_| stands[there.index()].is_none())
            else {
                continue;
            };
            let along = usual[there.index()] - usual[here.index()];
            let along = if along.hypot() < 1e-6 {
                Vec2::new(0.0, -1.0)
            } else {
                along.normalize()
            };
            let likely = from + pitches.distance(mesh) * along;
            // Between two that stand there are two places at most, and the nearer is taken.
            let other = movement.meshes().find_map(|(other, mesh)| {
                let ends = ends(mesh);
                let side = ends.iter().position(|end| *end == there)?;
                let at = stands[ends[1 - side].index()].filter(|_| other != id)?;
                Some(Circle::new(at, pitches.distance(mesh)))
            });
            let around = Circle::new(from, pitches.distance(mesh));
            let crossing = other.map_or_else(Vec::new, |other| crossings(around, other));
            let nearest = crossing
                .into_iter()
                .min_by(|a, b| a.distance(likely).total_cmp(&b.distance(likely)));
            stands[there.index()] = Some(nearest.unwrap_or(likely));
            next.push_back(there);
        }
    }
    (stands.into_iter().zip(usual))
        .map(|(stands, usual)| stands.unwrap_or(*usual + moved))
        .collect()
}
