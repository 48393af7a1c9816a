//! Where the arbors stand: a search over the angles at which each is set against the one before it.
//!
//! What counts is what a repairer must see: no arbor under a wheel of another, pinions and witnesses open to view, the
//! great wheel at the bottom. The search keeps the best few arrangements at each arbor; it is no proof of the best.

use crate::pitch::{CLEAR, Pitches, first_arbors};
use kurbo::{Circle, Point, Rect, Vec2};
use movement::{ArborId, MeshId, Movement};
use std::f64::consts::TAU;

/// What an arbor takes up about its middle.
#[derive(Debug, Clone)]
pub(crate) struct Footprint {
    /// Rings of metal as inner and outer radius.
    pub(crate) bands: Vec<(f64, f64)>,
    /// The smallest toothed part, which should be seen.
    pub(crate) pinion: f64,
    /// Whether a witness is on it.
    pub(crate) witnessed: bool,
}

impl Footprint {
    pub(crate) fn outer(&self) -> f64 {
        self.bands.iter().map(|b| b.1).fold(1.0, f64::max)
    }

    /// How deep another arbor's middle, so far away, lies under it; a ring's own pinion stands free inside it.
    fn covers(&self, distance: f64, inside: bool) -> f64 {
        let depth = |&(bore, outer): &(f64, f64)| {
            let from_outside = outer + CLEAR - distance;
            let from_inside = distance + CLEAR - bore;
            if inside && bore > 0.0 {
                from_outside.min(from_inside)
            } else {
                from_outside
            }
        };
        self.bands.iter().map(depth).fold(0.0, f64::max)
    }
}

/// Angles tried for each arbor: every five degrees.
const ANGLES: u32 = 72;
/// Between two trains set side by side, in millimetres.
const APART: f64 = 6.0;
/// How bad it is for an arbor to lie under another's wheel: more than all else together.
const UNDER: f64 = 400.0;
/// How bad it is if a mesh of a loop cannot be made to touch.
const UNMESHED: f64 = 1e6;

#[derive(Clone)]
struct Arrangement {
    at: Vec<Option<Point>>,
    bounds: Rect,
    cost: f64,
}

/// An arbor in the order in which a train is placed.
struct Turn {
    arbor: ArborId,
    /// The mesh by which it is set against one that stands already; nothing for the first of a train.
    hangs_by: Option<MeshId>,
    /// Meshes that close a loop once it stands.
    closing: Vec<MeshId>,
}

struct Search<'a> {
    movement: &'a Movement,
    pitches: &'a Pitches,
    footprints: &'a [Footprint],
    /// Meshes whose module may follow from the places, as nothing else hangs on it.
    elastic: Vec<bool>,
    partners: Vec<(usize, usize)>,
    meshes: Vec<(usize, usize)>,
}

/// A place for every arbor, y downward, and the modules of those loops that follow from the places.
pub(crate) fn place(
    movement: &Movement,
    pitches: &mut Pitches,
    footprints: &[Footprint],
) -> Vec<Point> {
    let ends = |m: &movement::Mesh| {
        let [a, b] = [m.driver.arbor.index(), m.driven.arbor.index()];
        (a.min(b), a.max(b))
    };
    let search = Search {
        movement,
        pitches,
        footprints,
        elastic: vec![false; movement.meshes().len()],
        partners: movement
            .meshes()
            .filter(|(_, m)| m.internal)
            .map(|(_, m)| ends(m))
            .collect(),
        meshes: movement.meshes().map(|(_, m)| ends(m)).collect(),
    };
    let mut search = search;
    let mut centres = vec![Point::ZERO; movement.arbors().len()];
    let mut trains = Vec::new();
    for first in first_arbors(movement) {
        let (arrangement, elastic) = search.train(first);
        let mut members = Vec::new();
        for (i, at) in arrangement.at.iter().enumerate() {
            if let Some(at) = at {
                centres[i] = *at;
                members.push(i);
            }
        }
        search.elastic = elastic;
        trains.push((members, arrangement.bounds));
    }
    let elastic = search.elastic;
    side_by_side(&mut centres, &trains);
    for (id, mesh) in movement.meshes() {
        if elastic[id.index()] {
            let distance =
                centres[mesh.driver.arbor.index()].distance(centres[mesh.driven.arbor.index()]);
            let group = pitches.part(mesh.driver).group;
            let module = pitches.part(mesh.driver).module;
            let unit = pitches.distance(mesh) / module;
            if unit > 1e-6 && distance > 1e-6 {
                pitches.set_module(group, distance / unit);
            }
        }
    }
    centres
}

/// Trains in a row, and in further rows under it where there are many; wheels of one row stand on one line.
fn side_by_side(centres: &mut [Point], trains: &[(Vec<usize>, Rect)]) {
    let area: f64 = trains.iter().map(|(_, b)| b.area()).sum();
    let widest = trains.iter().map(|(_, b)| b.width()).fold(0.0, f64::max);
    let row = widest.max((area * 2.5).sqrt());
    let mut corner = Point::ZERO;
    let mut start = 0;
    while start < trains.len() {
        let mut end = start;
        let mut width = 0.0;
        while end < trains.len() && (end == start || width + trains[end].1.width() <= row) {
            width += trains[end].1.width() + APART;
            end += 1;
        }
        let height = trains[start..end]
            .iter()
            .map(|(_, b)| b.height())
            .fold(0.0, f64::max);
        corner.x = 0.0;
        for (members, bounds) in &trains[start..end] {
            let shift = Vec2::new(corner.x - bounds.x0, corner.y + height - bounds.y1);
            for &i in members {
                centres[i] += shift;
            }
            corner.x += bounds.width() + APART;
        }
        corner.y += height + APART;
        start = end;
    }
}

impl Search<'_> {
    /// The arbors of a train from its first outward.
    fn order(&self, first: ArborId) -> Vec<Turn> {
        let turn = |arbor, hangs_by| Turn {
            arbor,
            hangs_by,
            closing: Vec::new(),
        };
        let mut order = vec![turn(first, None)];
        let mut used = vec![false; self.meshes.len()];
        let mut next = 0;
        while next < order.len() {
            let here = order[next].arbor;
            next += 1;
            for (id, mesh) in self.movement.meshes() {
                let ends = [mesh.driver.arbor, mesh.driven.arbor];
                let Some(side) = ends.iter().position(|&a| a == here) else {
                    continue;
                };
                if std::mem::replace(&mut used[id.index()], true) {
                    continue;
                }
                let there = ends[1 - side];
                match order.iter().position(|o| o.arbor == there) {
                    // The loop is closed by whichever of its ends is placed last.
                    Some(placed) => {
                        let here = order.iter().position(|o| o.arbor == here).unwrap_or(placed);
                        order[placed.max(here)].closing.push(id);
                    }
                    None => order.push(turn(there, Some(id))),
                }
            }
        }
        order
    }

    fn train(&self, first: ArborId) -> (Arrangement, Vec<bool>) {
        let order = self.order(first);
        let mut elastic = self.elastic.clone();
        for turn in &order {
            for &mesh in &turn.closing {
                let group = self.pitches.part(self.movement.mesh(mesh).driver).group;
                let members = self.pitches.parts.iter().filter(|p| p.group == group);
                elastic[mesh.index()] = members.count() == 2;
            }
        }
        let keep = (60_000 / (order.len() * order.len()).max(1)).clamp(4, 120);
        let outer = self.footprints[first.index()].outer();
        let mut at = vec![None; self.footprints.len()];
        at[first.index()] = Some(Point::ZERO);
        let mut best = vec![Arrangement {
            at,
            bounds: Rect::new(-outer, -outer, outer, outer),
            cost: 0.0,
        }];
        for turn in &order {
            let arbor = turn.arbor;
            let Some(hangs_by) = turn.hangs_by else {
                continue;
            };
            let rigid: Vec<MeshId> = (turn.closing)
                .iter()
                .copied()
                .filter(|m| !elastic[m.index()])
                .collect();
            let mut tried = Vec::new();
            for (from, arrangement) in best.iter().enumerate() {
                for (place, unmeshed) in self.candidates(arrangement, arbor, hangs_by, &rigid) {
                    let (cost, bounds) = self.cost(arrangement, arbor, place, first);
                    let cost = arrangement.cost + cost + unmeshed;
                    tried.push((cost + frame(&bounds), from, place, bounds, cost));
                }
            }
            // Sorting is stable, so that arrangements as good as each other keep their order.
            tried.sort_by(|a, b| a.0.total_cmp(&b.0));
            best = tried
                .into_iter()
                .take(keep)
                .map(|(_, from, place, bounds, cost)| {
                    let mut at = best[from].at.clone();
                    at[arbor.index()] = Some(place);
                    Arrangement { at, bounds, cost }
                })
                .collect();
        }
        let arrangement = best.swap_remove(0);
        (arrangement, elastic)
    }

    /// The places where an arbor meshes: all round the arbor it hangs by, or where a loop closes.
    fn candidates(
        &self,
        so_far: &Arrangement,
        arbor: ArborId,
        hangs_by: MeshId,
        rigid: &[MeshId],
    ) -> Vec<(Point, f64)> {
        // The circle about what it meshes with on which it then stands.
        let circle = |id: MeshId| {
            let mesh = self.movement.mesh(id);
            let other = if mesh.driver.arbor == arbor {
                mesh.driven.arbor
            } else {
                mesh.driver.arbor
            };
            let centre = so_far.at[other.index()].unwrap_or(Point::ZERO);
            Circle::new(centre, self.pitches.distance(mesh))
        };
        let around = circle(hangs_by);
        let miss = |p: Point, id: MeshId| {
            let wanted = circle(id);
            let off = (p.distance(wanted.center) - wanted.radius).abs();
            if off < 1e-6 {
                0.0
            } else {
                UNMESHED * (1.0 + off)
            }
        };
        let misses = |p: Point| rigid.iter().map(|&id| miss(p, id)).sum::<f64>();
        if let Some(&loop_mesh) = rigid.first() {
            let crossing = crossings(around, circle(loop_mesh));
            if !crossing.is_empty() {
                return crossing.into_iter().map(|p| (p, misses(p))).collect();
            }
        }
        (0..ANGLES)
            .map(|i| {
                let angle = TAU * f64::from(i) / f64::from(ANGLES);
                let p = around.center + Vec2::from_angle(angle) * around.radius;
                (p, misses(p))
            })
            .collect()
    }

    fn cost(
        &self,
        so_far: &Arrangement,
        arbor: ArborId,
        place: Point,
        first: ArborId,
    ) -> (f64, Rect) {
        let here = arbor.index();
        let own = &self.footprints[here];
        let outer = own.outer();
        let mut cost = 0.0;
        for (there, at) in so_far.at.iter().enumerate() {
            let Some(at) = at else { continue };
            let other = &self.footprints[there];
            let ends = (here.min(there), here.max(there));
            let distance = place.distance(*at);
            let far = outer.max(other.outer()) + CLEAR;
            let overlap = outer + other.outer() - distance;
            if distance > far && overlap <= 0.0 {
                continue;
            }
            let inside = self.partners.contains(&ends);
            let under = own.covers(distance, inside) + other.covers(distance, inside);
            if under > 0.0 {
                cost += UNDER * (1.0 + under);
            }
            if overlap > 0.0 && !self.meshes.contains(&ends) {
                let hidden_pinions = (outer + other.pinion - distance).max(0.0)
                    + (other.outer() + own.pinion - distance).max(0.0);
                let weight = if own.witnessed || other.witnessed {
                    0.9
                } else {
                    0.3
                };
                cost += 3.0 * hidden_pinions + weight * overlap;
            }
        }
        let bottom = self.footprints[first.index()].outer();
        cost += 3.0 * (place.y + outer - bottom).max(0.0);
        cost += 0.8 * (place.y + 0.4 * bottom).max(0.0);
        // Of two mirror images, the one whose later arbors stand to the right: one must be taken.
        cost += 0.04 * place.x.abs() - 0.01 * place.x;
        let reach = Vec2::new(outer, outer);
        let bounds = so_far
            .bounds
            .union(Rect::from_points(place - reach, place + reach));
        (cost, bounds)
    }
}

/// What a frame costs: its size, and how far it is from being a little higher than wide, as plates are.
fn frame(bounds: &Rect) -> f64 {
    let shape = (bounds.width() / bounds.height().max(1.0) / 0.85)
        .ln()
        .abs();
    0.8 * bounds.area().sqrt() + 6.0 * shape
}

/// Where two circles cross; nothing where they do not.
pub(crate) fn crossings(one: Circle, other: Circle) -> Vec<Point> {
    let (a, ra) = (one.center, one.radius);
    let (b, rb) = (other.center, other.radius);
    let d = a.distance(b);
    if d < 1e-9 || d > ra + rb || d < (ra - rb).abs() {
        return Vec::new();
    }
    let along = (ra * ra - rb * rb + d * d) / (2.0 * d);
    let across = (ra * ra - along * along).max(0.0).sqrt();
    let axis = (b - a) / d;
    let foot = a + axis * along;
    let normal = Vec2::new(-axis.y, axis.x);
    vec![foot + normal * across, foot - normal * across]
}
