//! Wheels turned by hand: a movement taken apart at a mesh, one side turned some teeth, closed, and read.
//!
//! Nothing but the teeth of the wheels in mesh, from arbor to arbor. It uses no ratio and no formula of the crates it
//! serves to check.

use movement::{ArborId, MeshId, Movement, Plate, Turning, WitnessId};
use quantity::{Degrees, Exact, whole};

/// How far each arbor has been turned, in turns clockwise as seen from the front.
#[derive(Debug, Clone)]
pub struct Wheels<'m> {
    movement: &'m Movement,
    turned: Vec<Exact>,
}

impl<'m> Wheels<'m> {
    /// As the movement stood.
    pub fn of(movement: &'m Movement) -> Wheels<'m> {
        let turned = vec![whole(0); movement.arbors().len()];
        Wheels { movement, turned }
    }

    /// The arbors of a mesh's far side, the one in mesh first, as seen from `read_at`; nothing for a mesh in a loop, in
    /// another train, or without a strike.
    pub fn far_side(&self, mesh: MeshId) -> Option<Vec<ArborId>> {
        let from = self.movement.strike()?.read_at;
        let near = self.reached(from, Some(mesh));
        let [driver, driven] = self.arbors(mesh);
        let far = match (near.contains(&driver), near.contains(&driven)) {
            (true, false) => driven,
            (false, true) => driver,
            _ => return None,
        };
        Some(self.reached(far, Some(mesh)))
    }

    /// Opens a mesh, turns its far side so many teeth ahead in its own direction of running, and closes it. Nothing is
    /// done where [`Wheels::far_side`] finds none.
    pub fn shift(&mut self, mesh: MeshId, teeth: i64) {
        let Some(far) = self.far_side(mesh).and_then(|far| far.first().copied()) else {
            return;
        };
        let ahead = quantity::fraction(teeth, self.teeth(mesh, far));
        self.turn(far, &(ahead * whole(self.sense(far))), Some(mesh));
    }

    /// Where a witness now stands when the arbor of its moment is brought back to where it was: degrees ahead of where
    /// the witness stood at first.
    pub fn ahead(&self, witness: WitnessId) -> Degrees {
        let witness = self.movement.witness(witness);
        let held = self.movement.moment(witness.at).arbor;
        let mut together = self.clone();
        together.turn(held, &-self.turned[held.index()].clone(), None);
        let turned = &together.turned[witness.on.index()] * whole(self.sense(witness.on));
        Degrees::turns(&turned)
    }

    /// Turns an arbor, and all that is in mesh with it but over `open`.
    fn turn(&mut self, first: ArborId, turns: &Exact, open: Option<MeshId>) {
        let mut turns_of = vec![None; self.turned.len()];
        turns_of[first.index()] = Some(turns.clone());
        let mut edge = vec![first];
        while let Some(here) = edge.pop() {
            let turns = turns_of[here.index()].clone().unwrap_or_else(|| whole(0));
            self.turned[here.index()] += &turns;
            for (mesh, there) in self.neighbours(here, open) {
                if turns_of[there.index()].is_none() {
                    let teeth = &turns * whole(self.teeth(mesh, here));
                    let back = teeth / whole(self.teeth(mesh, there));
                    let internal = self.movement.mesh(mesh).internal;
                    turns_of[there.index()] = Some(if internal { back } else { -back });
                    edge.push(there);
                }
            }
        }
    }

    fn reached(&self, first: ArborId, open: Option<MeshId>) -> Vec<ArborId> {
        let mut reached = vec![first];
        let mut next = 0;
        while let Some(&here) = reached.get(next) {
            next += 1;
            for (_, there) in self.neighbours(here, open) {
                if !reached.contains(&there) {
                    reached.push(there);
                }
            }
        }
        reached
    }

    fn neighbours(
        &self,
        arbor: ArborId,
        open: Option<MeshId>,
    ) -> impl Iterator<Item = (MeshId, ArborId)> {
        self.movement.meshes().filter_map(move |(id, _)| {
            let [driver, driven] = self.arbors(id);
            match (Some(id) == open, arbor == driver, arbor == driven) {
                (false, true, _) => Some((id, driven)),
                (false, _, true) => Some((id, driver)),
                _ => None,
            }
        })
    }

    fn arbors(&self, mesh: MeshId) -> [ArborId; 2] {
        let mesh = self.movement.mesh(mesh);
        [mesh.driver.arbor, mesh.driven.arbor]
    }

    /// The teeth an arbor has in a mesh.
    fn teeth(&self, mesh: MeshId, arbor: ArborId) -> i64 {
        let mesh = self.movement.mesh(mesh);
        let part = if mesh.driver.arbor == arbor {
            mesh.driver
        } else {
            mesh.driven
        };
        self.movement.part(part).teeth.get().into()
    }

    /// 1 where an arbor runs clockwise as seen from the front, and −1 where it does not.
    fn sense(&self, arbor: ArborId) -> i64 {
        match self.movement.runs(arbor, Plate::Front) {
            Turning::Clockwise => 1,
            Turning::Counterclockwise => -1,
        }
    }
}
