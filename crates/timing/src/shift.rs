//! A shift: a mesh, so many teeth, which way.

use movement::MeshId;

/// Which way a far arbor is shifted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
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
    pub way: Way,
}

impl Shift {
    /// Teeth, ahead positive; `either` counts as ahead.
    pub fn signed(&self) -> i64 {
        match self.way {
            Way::Back => -self.teeth,
            Way::Ahead | Way::Either => self.teeth,
        }
    }
}
