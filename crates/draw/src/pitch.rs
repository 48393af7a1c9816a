//! Pitch circles: which parts share a module, how large that is, and the form of every part.
//!
//! Parts in mesh share a module, and so do all that mesh with them. Where the sheet gives no centre distance, sizes
//! follow the habit of clocks: the great wheel largest, every wheel after it smaller, pinions small.

use crate::Mm;
use crate::tooth::{MOST_LEAVES, Mate, Shape, Tooth, addendum, tooth};
use movement::{ArborId, Mesh, MeshId, Movement, PartId, ToothForm, WitnessDrawing};
use std::collections::HashMap;

/// Pitch radius of the first wheel of a train where nothing is measured.
const FIRST: f64 = 40.0;
/// A wheel's pitch radius as a part of that of the wheel before it.
const NEXT: f64 = 0.78;
/// A count wheel is the largest after the great wheel, as it is the one that is read.
const NEXT_COUNT: f64 = 0.85;
/// No wheel is drawn smaller.
const LEAST: f64 = 5.0;
/// A wheel is at least so many times its arbor's pinion, where it can be.
const OVER_PINION: f64 = 2.1;
/// Between the teeth of one arbor and the middle of another: half a stout arbor, and air.
pub(crate) const CLEAR: f64 = 2.4;

/// One toothed part, sized.
#[derive(Debug, Clone)]
pub(crate) struct Sized {
    pub(crate) id: PartId,
    pub(crate) teeth: u16,
    pub(crate) shape: Shape,
    pub(crate) group: usize,
    /// In millimetres.
    pub(crate) module: f64,
    pub(crate) tooth: Tooth,
}

impl Sized {
    pub(crate) fn pitch_radius(&self) -> f64 {
        self.module * f64::from(self.teeth) / 2.0
    }

    /// The radius of the circle that holds all of it.
    pub(crate) fn outer(&self) -> f64 {
        match self.shape {
            Shape::Ring => (self.tooth.root + 1.6) * self.module,
            Shape::Lantern => (self.tooth.pitch + 1.2) * self.module,
            _ => self.tooth.tip * self.module,
        }
    }

    /// The radius within which nothing of it lies: of a ring, that of its tips.
    pub(crate) fn bore(&self) -> f64 {
        match self.shape {
            Shape::Ring => self.tooth.tip * self.module,
            _ => 0.0,
        }
    }
}

/// All toothed parts of a movement, in order of arbors and of writing on them.
#[derive(Debug, Clone)]
pub(crate) struct Pitches {
    pub(crate) parts: Vec<Sized>,
    index: HashMap<PartId, usize>,
    pub(crate) groups: usize,
}

impl Pitches {
    pub(crate) fn index(&self, part: PartId) -> usize {
        self.index[&part]
    }

    pub(crate) fn part(&self, part: PartId) -> &Sized {
        &self.parts[self.index[&part]]
    }

    pub(crate) fn on(&self, arbor: ArborId) -> impl Iterator<Item = &Sized> {
        self.parts.iter().filter(move |p| p.id.arbor == arbor)
    }

    /// The radius of the circle that holds all toothed parts of an arbor.
    pub(crate) fn outer(&self, arbor: ArborId) -> f64 {
        self.on(arbor).map(Sized::outer).fold(1.0, f64::max)
    }

    /// From centre to centre of a mesh's arbors.
    pub(crate) fn distance(&self, mesh: &Mesh) -> f64 {
        let [driver, driven] = [mesh.driver, mesh.driven].map(|p| self.part(p).pitch_radius());
        if mesh.internal {
            (driver - driven).abs()
        } else {
            driver + driven
        }
    }

    pub(crate) fn set_module(&mut self, group: usize, module: f64) {
        for part in self.parts.iter_mut().filter(|p| p.group == group) {
            part.module = module;
        }
    }
}

/// The larger part of an internal mesh is the ring; of two alike, the one that drives.
pub(crate) fn ring_of(movement: &Movement, mesh: &Mesh) -> Option<PartId> {
    let teeth = |part| movement.part(part).teeth;
    mesh.internal
        .then(|| match teeth(mesh.driver) >= teeth(mesh.driven) {
            true => mesh.driver,
            false => mesh.driven,
        })
}

/// Forms and groups of all parts, every module still 1.
fn formed(movement: &Movement) -> Pitches {
    let ids: Vec<PartId> = movement
        .arbors()
        .flat_map(|(a, _)| movement.parts(a).map(|(id, _)| id))
        .collect();
    let index: HashMap<PartId, usize> = ids.iter().enumerate().map(|(i, &id)| (id, i)).collect();
    let mut mates = vec![Vec::new(); ids.len()];
    let mut rings = vec![false; ids.len()];
    let mut inside = vec![false; ids.len()];
    let mut group: Vec<usize> = (0..ids.len()).collect();
    for (_, mesh) in movement.meshes() {
        let [a, b] = [index[&mesh.driver], index[&mesh.driven]];
        mates[a].push(b);
        mates[b].push(a);
        if let Some(ring) = ring_of(movement, mesh) {
            let ring = index[&ring];
            rings[ring] = true;
            inside[a + b - ring] = true;
        }
        let (keep, drop) = (group[a].min(group[b]), group[a].max(group[b]));
        for g in group.iter_mut().filter(|g| **g == drop) {
            *g = keep;
        }
    }
    let shape = |i: usize| {
        let part = movement.part(ids[i]);
        match part.form {
            _ if rings[i] => Shape::Ring,
            ToothForm::Lantern | ToothForm::Pins => Shape::Lantern,
            ToothForm::Cut if mates[i].is_empty() && lets_by(movement, ids[i].arbor) => {
                Shape::Escape
            }
            ToothForm::Cut if inside[i] || part.teeth.get() <= MOST_LEAVES => Shape::Leaf,
            ToothForm::Cut => Shape::Wheel,
        }
    };
    let count = |i: usize| f64::from(movement.part(ids[i]).teeth.get());
    let meets: Vec<Vec<Mate>> = mates
        .iter()
        .map(|mates| {
            mates
                .iter()
                .map(|&m| Mate {
                    shape: shape(m),
                    teeth: count(m),
                })
                .collect()
        })
        .collect();
    let reach: Vec<f64> = (0..ids.len())
        .map(|i| addendum(shape(i), count(i), &meets[i]))
        .collect();
    let parts: Vec<Sized> = (0..ids.len())
        .map(|i| {
            let dip = mates[i].iter().map(|&m| reach[m]).fold(0.5, f64::max);
            Sized {
                id: ids[i],
                teeth: movement.part(ids[i]).teeth.get(),
                shape: shape(i),
                group: group[i],
                module: 1.0,
                tooth: tooth(shape(i), count(i), &meets[i], dip),
            }
        })
        .collect();
    let groups = parts.len();
    Pitches {
        parts,
        index,
        groups,
    }
}

/// Whether an arbor is the last of a train that does not strike: pallets let its wheel by.
fn lets_by(movement: &Movement, arbor: ArborId) -> bool {
    let strikes = (movement.strike()).is_some_and(|s| movement.same_train(arbor, s.read_at));
    let driven = movement.meshes().any(|(_, m)| m.driven.arbor == arbor);
    let drives = movement.meshes().any(|(_, m)| m.driver.arbor == arbor);
    driven && !drives && !strikes
}

/// The arbor of each train that nothing drives; power comes in there.
pub(crate) fn first_arbors(movement: &Movement) -> Vec<ArborId> {
    (0..movement.trains())
        .filter_map(|train| {
            let of_train = || {
                movement
                    .arbors()
                    .map(|(id, _)| id)
                    .filter(move |&id| movement.train_of(id) == train)
            };
            of_train()
                .find(|&id| movement.meshes().all(|(_, m)| m.driven.arbor != id))
                .or_else(|| of_train().next())
        })
        .collect()
}

/// Every part with its module: from the centre distances that are known, else by the habit of clocks.
pub(crate) fn size(movement: &Movement, centres: &[(MeshId, Mm)]) -> Pitches {
    let mut pitches = formed(movement);
    let mut module: Vec<Option<f64>> = vec![None; pitches.groups];
    for &(id, centre) in centres {
        let mesh = movement.mesh(id);
        let unit = pitches.distance(mesh);
        let group = pitches.part(mesh.driver).group;
        if unit > 0.0 && centre.mm() > 0.0 && module[group].is_none() {
            module[group] = Some(centre.mm() / unit);
        }
    }
    for (group, module) in module.iter().enumerate() {
        if let Some(module) = module {
            pitches.set_module(group, *module);
        }
    }
    let mut sizer = Sizer {
        movement,
        pitches,
        known: module.iter().map(Option::is_some).collect(),
        touching: vec![Vec::new(); movement.arbors().len()],
    };
    for (id, mesh) in movement.meshes() {
        sizer.touching[mesh.driver.arbor.index()].push(id);
        sizer.touching[mesh.driven.arbor.index()].push(id);
    }
    for first in first_arbors(movement) {
        sizer.train(first);
    }
    sizer.loose();
    sizer.pitches
}

struct Sizer<'a> {
    movement: &'a Movement,
    pitches: Pitches,
    known: Vec<bool>,
    touching: Vec<Vec<MeshId>>,
}

impl Sizer<'_> {
    /// Sizes the groups of a train outward from its first arbor.
    fn train(&mut self, first: ArborId) {
        let mut next = vec![(first, FIRST / NEXT, 0.0)];
        let mut seen = vec![false; self.touching.len()];
        seen[first.index()] = true;
        let mut at = 0;
        while at < next.len() {
            let (here, before, own) = next[at];
            at += 1;
            let mut meshes = self.touching[here.index()].clone();
            // The wheel that goes on first, then what is driven beside it, so that the latter can keep clear.
            meshes.sort_by_key(|&m| {
                let mesh = self.movement.mesh(m);
                let teeth = |p| self.movement.part(p).teeth.get();
                let onward = mesh.driver.arbor == here && teeth(mesh.driver) >= teeth(mesh.driven);
                (!onward, m)
            });
            for id in meshes {
                let mesh = self.movement.mesh(id).clone();
                let group = self.pitches.part(mesh.driver).group;
                if !self.known[group] {
                    self.choose(here, &mesh, before, own);
                }
                let there = if mesh.driver.arbor == here {
                    mesh.driven
                } else {
                    mesh.driver
                };
                if !std::mem::replace(&mut seen[there.arbor.index()], true) {
                    let largest = self.group_radius(group).min(FIRST.max(before));
                    next.push((
                        there.arbor,
                        largest,
                        self.pitches.part(there).pitch_radius(),
                    ));
                }
            }
        }
    }

    fn group_radius(&self, group: usize) -> f64 {
        let of_group = self.pitches.parts.iter().filter(|p| p.group == group);
        of_group.map(Sized::pitch_radius).fold(0.0, f64::max)
    }

    /// The module of the group of a mesh reached at `here`, where the wheel before had pitch radius `before` and drove a part of
    /// pitch radius `own`.
    fn choose(&mut self, here: ArborId, mesh: &Mesh, before: f64, own: f64) {
        let group = self.pitches.part(mesh.driver).group;
        let counted = self.movement.witnesses().any(|(_, w)| {
            [mesh.driver.arbor, mesh.driven.arbor].contains(&w.on)
                && w.on != here
                && w.kind.looks == WitnessDrawing::Slots
        });
        let unit_radius = self.group_radius(group);
        let unit_distance = self.pitches.distance(mesh);
        // What is driven beside the main wheel is reckoned from that wheel.
        let main = self.touching[here.index()].iter().filter_map(|&id| {
            let part = self.pitches.part(self.movement.mesh(id).driver);
            (part.id.arbor == here && self.known[part.group]).then(|| part.pitch_radius())
        });
        let before = main.fold(before, f64::min);
        let wanted = if counted {
            before * NEXT_COUNT
        } else {
            before * NEXT
        };
        let radius = wanted.max(OVER_PINION * own).min(before).max(LEAST);
        let mut module = radius / unit_radius;
        // The other arbor must stand clear of all that is on this one already ...
        let others = self.pitches.on(here).filter(|p| self.known[p.group]);
        let outer = others.map(Sized::outer).fold(0.0, f64::max);
        if unit_distance > 0.0 && !mesh.internal {
            module = module.max((outer + CLEAR + 1.0) / unit_distance);
        }
        // ... and what is new on this one clear of the arbors that it is already in mesh with.
        let new = if mesh.driver.arbor == here {
            mesh.driver
        } else {
            mesh.driven
        };
        let unit_outer = self.pitches.part(new).outer();
        for &id in &self.touching[here.index()] {
            let other = self.movement.mesh(id);
            if self.known[self.pitches.part(other.driver).group] {
                let room = self.pitches.distance(other) - CLEAR;
                if room > LEAST {
                    module = module.min(room / unit_outer);
                }
            }
        }
        self.known[group] = true;
        self.pitches.set_module(group, module);
    }

    /// How large an escape wheel is: as any wheel beside the one before it, and clear of that one's arbor.
    fn escape_radius(&self, arbor: ArborId) -> f64 {
        let meshes = self.touching[arbor.index()].iter();
        let room = meshes.map(|&id| {
            let mesh = self.movement.mesh(id);
            let before = self.group_radius(self.pitches.part(mesh.driver).group);
            (NEXT * before).min(self.pitches.distance(mesh) - CLEAR)
        });
        room.fold(FIRST, f64::min).max(LEAST)
    }

    /// Parts in no mesh: as fine as their neighbours on the arbor, and not larger; of an escape wheel the pallets decide.
    fn loose(&mut self) {
        for i in 0..self.pitches.parts.len() {
            let part = &self.pitches.parts[i];
            if self.known[part.group] {
                continue;
            }
            let (group, id, teeth) = (part.group, part.id, f64::from(part.teeth));
            let known: Vec<(f64, f64)> = self
                .pitches
                .on(id.arbor)
                .filter(|p| self.known[p.group])
                .map(|p| (p.module, p.pitch_radius()))
                .collect();
            let fine = known.iter().map(|k| k.0).fold(f64::INFINITY, f64::min);
            let most = known.iter().map(|k| k.1).fold(0.0, f64::max);
            let module = if part.shape == Shape::Escape {
                2.0 * self.escape_radius(id.arbor) / teeth
            } else if known.is_empty() {
                2.0 * LEAST / teeth
            } else {
                fine.min(0.8 * most * 2.0 / teeth)
            };
            self.known[group] = true;
            self.pitches.set_module(group, module);
        }
    }
}
