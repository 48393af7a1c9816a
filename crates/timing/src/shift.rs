//! A shift: a mesh, so many teeth, which way.

use movement::{MeshId, Movement};

/// Which way a far arbor is shifted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShiftWay {
    /// Further on in its own direction of running.
    Ahead,
    /// Against it.
    Back,
    /// Both ways come to the same places.
    Either,
}

/// One mesh opened, its far arbor turned some teeth, closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shift {
    /// The mesh.
    pub mesh: MeshId,
    /// How many teeth; from 1.
    pub teeth: i64,
    /// Which way.
    pub way: ShiftWay,
}

impl Shift {
    /// Teeth, ahead positive; `either` counts as ahead.
    pub fn signed(&self) -> i64 {
        match self.way {
            ShiftWay::Back => -self.teeth,
            ShiftWay::Ahead | ShiftWay::Either => self.teeth,
        }
    }

    /// Whole turns of the far arbor's part, and the teeth left over.
    pub fn turns(&self, movement: &Movement) -> (i64, i64) {
        let Some(side) = movement.far_side(self.mesh) else {
            return (0, self.teeth);
        };
        let part = movement.part(movement.mesh(self.mesh).part(side));
        let around = i64::from(part.teeth.get());
        (self.teeth / around, self.teeth % around)
    }

    /// Whether it is more than one whole turn: exact by the counts, and no advice, as nobody counts off so many.
    pub fn beyond_a_turn(&self, movement: &Movement) -> bool {
        self.turns(movement) > (1, 0)
    }
}
