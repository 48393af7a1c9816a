//! Where things are in a drawing, as data beside it: whoever shows it large, or leads a hand to a place, needs no look into its text.

use movement::{ArborId, MeshId, PartId, WitnessId};

/// A round place of a drawing, in its user units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CloseUp {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
    /// How far round.
    pub radius: f64,
}

/// What is at a place of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchored {
    /// The arrow of the shift at this mesh, with the teeth under it.
    Arrow(MeshId),
    /// The arrow of the part that is turned on this arbor.
    Turn(ArborId),
    /// The cam that the drop lever leaves, on this arbor.
    Cam(ArborId),
    /// Where the teeth of this mesh meet.
    Mesh(MeshId),
    /// This arbor, out to the teeth of its widest part.
    Arbor(ArborId),
    /// This toothed part, where that is what may be touched: on the drawing of a movement that is counted.
    Part(PartId),
    /// What shows where this witness stands.
    Witness(WitnessId),
    /// A pillar, by its place among those of the sheet.
    Pillar(usize),
    /// A winding square or a bell, by its place among those of the sheet.
    Fixture(usize),
}

/// A place of a drawing, and what is there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Anchor {
    /// What.
    pub of: Anchored,
    /// Where.
    pub at: CloseUp,
}
