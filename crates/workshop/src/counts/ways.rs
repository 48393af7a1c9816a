//! Ratios in which unknown counts stand: a known number times unknown counts, above and below the line.

use movement::{ArborId, Blank, MeshId, Movement, PartId};
use quantity::{Exact, whole};

/// `times · Π countᵢ^powerᵢ`, the counts being those of the blanks in their order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Monomial {
    pub(crate) times: Exact,
    pub(crate) powers: Vec<i32>,
}

impl Monomial {
    pub(crate) fn of(times: Exact, blanks: usize) -> Monomial {
        Monomial {
            times,
            powers: vec![0; blanks],
        }
    }

    /// The count of a part.
    pub(crate) fn count(movement: &Movement, blanks: &[Blank], part: PartId) -> Monomial {
        let mut count = Monomial::of(whole(1), blanks.len());
        match blanks.iter().position(|blank| blank.part == part) {
            Some(i) => count.powers[i] = 1,
            None => count.times = whole(movement.part(part).teeth.get().into()),
        }
        count
    }

    pub(crate) fn times(&self, other: &Monomial) -> Monomial {
        self.combined(other, 1)
    }

    pub(crate) fn over(&self, other: &Monomial) -> Monomial {
        self.combined(other, -1)
    }

    fn combined(&self, other: &Monomial, sign: i32) -> Monomial {
        let powers = self.powers.iter().zip(&other.powers);
        Monomial {
            times: if sign > 0 {
                &self.times * &other.times
            } else {
                &self.times / &other.times
            },
            powers: powers.map(|(a, b)| a + sign * b).collect(),
        }
    }

    pub(crate) fn scaled(mut self, by: &Exact) -> Monomial {
        self.times *= by;
        self
    }

    /// Whether no unknown count stands in it.
    pub(crate) fn is_known(&self) -> bool {
        self.powers.iter().all(|power| *power == 0)
    }
}

/// Turns of every arbor of a train for one turn of one of them, and for each mesh that closes a loop what must be 1.
pub(crate) struct Ways {
    pub(crate) turns: Vec<Option<Monomial>>,
    pub(crate) loops: Vec<(MeshId, Monomial)>,
}

/// Walks the train of `from`, mesh by mesh.
pub(crate) fn ways(movement: &Movement, blanks: &[Blank], from: ArborId) -> Ways {
    let mut turns: Vec<Option<Monomial>> = vec![None; movement.arbors().len()];
    turns[from.index()] = Some(Monomial::of(whole(1), blanks.len()));
    let mut used = vec![false; movement.meshes().len()];
    let mut loops = Vec::new();
    let mut reached = vec![from];
    let mut next = 0;
    while let Some(&here) = reached.get(next) {
        next += 1;
        for (id, mesh) in movement.meshes() {
            let (own, other) = if mesh.driver.arbor == here {
                (mesh.driver, mesh.driven)
            } else if mesh.driven.arbor == here {
                (mesh.driven, mesh.driver)
            } else {
                continue;
            };
            if std::mem::replace(&mut used[id.index()], true) {
                continue;
            }
            let count = |part| Monomial::count(movement, blanks, part);
            let Some(way) = turns[here.index()]
                .as_ref()
                .map(|t| t.times(&count(own)).over(&count(other)))
            else {
                continue;
            };
            match &turns[other.arbor.index()] {
                Some(known) => loops.push((id, way.over(known))),
                None => {
                    turns[other.arbor.index()] = Some(way);
                    reached.push(other.arbor);
                }
            }
        }
    }
    Ways { turns, loops }
}
