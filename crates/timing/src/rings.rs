//! Teeth at the meshes of a movement, in whole numbers, rings of meshes and all.
//!
//! Teeth at the meshes of a tree that joins all arbors say how everything stands against everything else. Any other mesh
//! closes a ring: by how many teeth it is off follows from those of the tree, and it goes in only where that comes out whole.

use movement::{ArborId, MeshId, MeshSide, Movement};
use num_integer::Integer;
use num_traits::ToPrimitive;
use quantity::Exact;
use std::collections::BTreeSet;

/// Teeth that each mesh is off, by its place on the sheet; at a mesh outside the tree nought.
pub(crate) type Teeth = Vec<i128>;

/// Arbors joined by some of the meshes of a movement.
#[derive(Debug)]
pub(crate) struct Joined {
    /// For each arbor, the meshes of the tree on the way to it: 1 where teeth there put it ahead, -1 where back.
    ways: Vec<Teeth>,
    tree: BTreeSet<MeshId>,
    closing: Vec<Closing>,
}

/// A mesh that closes a ring.
#[derive(Debug)]
struct Closing {
    mesh: MeshId,
    /// What one tooth at each mesh comes to here, in parts of a tooth.
    parts: Teeth,
    /// Parts of a whole tooth.
    whole: i128,
}

/// Teeth that pass at a mesh while its train's anchor turns once.
pub(crate) fn passing(movement: &Movement, mesh: MeshId) -> Exact {
    let part = movement.mesh(mesh).part(MeshSide::Driver);
    let teeth = Exact::from_integer(movement.part(part).teeth.get().into());
    movement.turns(part.arbor) * teeth
}

impl Joined {
    /// Joined by these meshes; nothing where the figures grow beyond all measure.
    pub(crate) fn by(movement: &Movement, has: impl Fn(MeshId) -> bool) -> Option<Joined> {
        let meshes = movement.meshes().len();
        let mut ways: Vec<Option<Teeth>> = vec![None; movement.arbors().len()];
        let mut tree = BTreeSet::new();
        for (root, _) in movement.arbors() {
            if ways[root.index()].is_some() {
                continue;
            }
            ways[root.index()] = Some(vec![0; meshes]);
            let mut waiting = vec![root];
            while let Some(here) = waiting.pop() {
                for (id, mesh) in movement.meshes().filter(|(id, _)| has(*id)) {
                    let (there, sign) = match [mesh.driver.arbor, mesh.driven.arbor] {
                        [driver, driven] if driver == here => (driven, 1),
                        [driver, driven] if driven == here => (driver, -1),
                        _ => continue,
                    };
                    if ways[there.index()].is_none() {
                        let mut way = ways[here.index()].clone()?;
                        way[id.index()] = sign;
                        ways[there.index()] = Some(way);
                        tree.insert(id);
                        waiting.push(there);
                    }
                }
            }
        }
        let mut joined = Joined {
            ways: ways.into_iter().collect::<Option<_>>()?,
            tree,
            closing: Vec::new(),
        };
        joined.closing = (movement.meshes())
            .filter(|(id, _)| has(*id) && !joined.tree.contains(id))
            .map(|(mesh, _)| Closing::of(movement, &joined, mesh))
            .collect::<Option<_>>()?;
        Some(joined)
    }

    /// Whether some of its meshes make a ring.
    pub(crate) fn has_ring(&self) -> bool {
        !self.closing.is_empty()
    }

    /// By how many teeth of each mesh of the tree one arbor comes to stand ahead of another, as their signs.
    pub(crate) fn between(&self, from: ArborId, to: ArborId) -> Teeth {
        let ways = self.ways[to.index()].iter().zip(&self.ways[from.index()]);
        ways.map(|(to, from)| to - from).collect()
    }

    /// All that can be while only `open` meshes are off: whole sums of these, with whole teeth at every mesh.
    pub(crate) fn off_at(&self, open: impl Fn(MeshId) -> bool) -> Vec<Teeth> {
        let many = self.ways.first().map_or(0, Vec::len);
        let mut all: Vec<Teeth> = (self.tree.iter())
            .filter(|mesh| open(**mesh))
            .map(|mesh| {
                let mut one = vec![0; many];
                one[mesh.index()] = 1;
                one
            })
            .collect();
        for closing in &self.closing {
            let whole = if open(closing.mesh) { closing.whole } else { 0 };
            all = closing.keep_whole(all, whole);
        }
        all
    }

    /// Teeth at every mesh, those that close a ring as well, from those of the tree.
    pub(crate) fn at_all(&self, teeth: &Teeth) -> Teeth {
        let mut all = teeth.clone();
        for closing in &self.closing {
            all[closing.mesh.index()] = closing.comes_to(teeth) / closing.whole;
        }
        all
    }
}

impl Closing {
    fn of(movement: &Movement, joined: &Joined, mesh: MeshId) -> Option<Closing> {
        let here = passing(movement, mesh);
        let ends = movement.mesh(mesh);
        let signs = joined.between(ends.driver.arbor, ends.driven.arbor);
        let parts: Vec<Exact> = (movement.meshes().zip(&signs))
            .map(|((other, _), sign)| {
                &here / passing(movement, other) * Exact::from_integer((*sign).into())
            })
            .collect();
        let whole = (parts.iter()).fold(1.into(), |whole: quantity::BigInt, part| {
            whole.lcm(part.denom())
        });
        let in_parts = |part: &Exact| {
            (part * Exact::from_integer(whole.clone()))
                .to_integer()
                .to_i128()
        };
        Some(Closing {
            mesh,
            parts: parts.iter().map(in_parts).collect::<Option<_>>()?,
            whole: whole.to_i128()?,
        })
    }

    /// By how many parts of a tooth this mesh is off.
    fn comes_to(&self, teeth: &Teeth) -> i128 {
        self.parts.iter().zip(teeth).map(|(part, t)| part * t).sum()
    }

    /// Of all whole sums of these, those that come to a multiple of `whole` here; to nothing, where that is nought. Euclid's
    /// way with whole rows, until one is left that comes to anything.
    fn keep_whole(&self, mut rows: Vec<Teeth>, whole: i128) -> Vec<Teeth> {
        loop {
            let least = (0..rows.len())
                .filter(|&row| self.comes_to(&rows[row]) != 0)
                .min_by_key(|&row| self.comes_to(&rows[row]).abs());
            let Some(least) = least else {
                return rows;
            };
            let pivot = rows[least].clone();
            let one = self.comes_to(&pivot);
            let mut others = false;
            for (n, row) in rows.iter_mut().enumerate() {
                let times = self.comes_to(row).div_euclid(one);
                if n != least && times != 0 {
                    row.iter_mut()
                        .zip(&pivot)
                        .for_each(|(a, b)| *a -= times * b);
                }
                others |= n != least && self.comes_to(row) != 0;
            }
            if !others && whole == 0 {
                rows.remove(least);
            } else if !others {
                let times = whole / whole.gcd(&one);
                rows[least] = pivot.iter().map(|teeth| teeth * times).collect();
            }
            if !others {
                return rows;
            }
        }
    }
}
