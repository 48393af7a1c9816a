//! The frame: the plates and what fixes them, where arbors and lever pivots stand in them, how a part is held on its arbor.

use crate::Plate;
use quantity::Exact;

/// A place on the plate in millimetres, as seen from the sheet's plate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlatePoint {
    /// To the right.
    pub right: Exact,
    /// Up.
    pub up: Exact,
}

/// How a part is held on its arbor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeldBy {
    /// On a square: four places.
    Square,
    /// By a friction spring.
    Friction,
    /// By a screw.
    Screw,
    /// By a collet.
    Collet,
    /// Pressed or riveted on.
    Pressed,
}

/// What it takes to open a mesh, the least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MeshAccess {
    /// It lies outside.
    Outside,
    /// One of its arbors has a small cock of its own.
    Cock,
    /// The plates are spread.
    Plates,
}

/// What fixes a plate on a pillar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fixing {
    /// A nut, backed off by turns.
    Nut,
    /// A screw, backed off by turns.
    Screw,
    /// A pin, drawn.
    Pin,
}

/// A pillar between the plates.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pillar {
    /// Its id on the sheet.
    pub id: String,
    /// Where it stands.
    pub at: PlatePoint,
    /// What fixes the plate on it.
    pub fixing: Fixing,
    /// Millimetres that one turn of nut or screw gives.
    pub pitch_mm: Option<Exact>,
}

/// A pivot that is in no train: that of a lever arbor or a hammer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pivot {
    /// Its id on the sheet; no arbor has it.
    pub id: String,
    /// Where it stands.
    pub at: Option<PlatePoint>,
    /// Its pivot in the plate that is lifted, from shoulder to tip, in millimetres.
    pub long_mm: Option<Exact>,
    /// Its end shake in millimetres.
    pub shake_mm: Option<Exact>,
}

/// What stands on the plates or beside them and is in no train.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FixtureKind {
    /// The square that the key is put on, where it is not the end of an arbor that is on the sheet.
    WindingSquare,
    /// A bell.
    Bell,
}

impl FixtureKind {
    /// Each with its word on a sheet.
    pub const ALL: [(&'static str, FixtureKind); 2] = [
        ("winding square", FixtureKind::WindingSquare),
        ("bell", FixtureKind::Bell),
    ];
}

/// A winding square or a bell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fixture {
    /// Its id on the sheet.
    pub id: String,
    /// What it is.
    pub kind: FixtureKind,
    /// Where its middle is.
    pub at: PlatePoint,
    /// How wide it is, in millimetres: a square over its flats, a bell over its mouth.
    pub across_mm: Option<Exact>,
}

/// The frame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Frame {
    /// Whether the places on the sheet were measured, and are not only about right.
    pub placed_measured: bool,
    /// The plate that is lifted; that of the sheet where nothing is said.
    pub lifted: Option<Plate>,
    /// What the plate bends, as a margin in millimetres; 0.2 is usual where nothing is said.
    pub bends_mm: Option<Exact>,
    /// How far the plate lifts at a pillar whose pin is drawn, in millimetres; 3 where nothing is said.
    pub pin_lift_mm: Option<Exact>,
    /// How thick the plate is, in millimetres.
    pub thick_mm: Option<Exact>,
    /// The pillars in order of writing.
    pub pillars: Vec<Pillar>,
    /// Pivots in no train, in order of writing.
    pub pivots: Vec<Pivot>,
    /// Winding squares and bells in order of writing.
    pub fixtures: Vec<Fixture>,
}

/// A pillar as written; what is missing was written wrongly, and that is already told.
#[derive(Debug, Clone, Default)]
pub struct DraftPillar {
    /// Its id.
    pub id: Option<String>,
    /// Where it stands.
    pub at: Option<PlatePoint>,
    /// What fixes the plate on it.
    pub fixing: Option<Fixing>,
    /// Millimetres of one turn.
    pub pitch_mm: Option<Exact>,
}

/// A pivot as written.
#[derive(Debug, Clone, Default)]
pub struct DraftPivot {
    /// Its id; nothing where it was missing and that is already told.
    pub id: Option<String>,
    /// Where it stands.
    pub at: Option<PlatePoint>,
    /// From shoulder to tip, in millimetres.
    pub long_mm: Option<Exact>,
    /// Its end shake in millimetres.
    pub shake_mm: Option<Exact>,
}

/// A winding square or a bell as written.
#[derive(Debug, Clone, Default)]
pub struct DraftFixture {
    /// Its id.
    pub id: Option<String>,
    /// What it is.
    pub kind: Option<FixtureKind>,
    /// Where its middle is.
    pub at: Option<PlatePoint>,
    /// How wide it is, in millimetres.
    pub across_mm: Option<Exact>,
}

/// The frame as written.
#[derive(Debug, Clone, Default)]
pub struct DraftFrame {
    /// The plate that is lifted.
    pub lifted: Option<Plate>,
    /// What the plate bends.
    pub bends_mm: Option<Exact>,
    /// How far it lifts where a pin is drawn.
    pub pin_lift_mm: Option<Exact>,
    /// How thick it is.
    pub thick_mm: Option<Exact>,
    /// Pillars in order of writing.
    pub pillars: Vec<DraftPillar>,
    /// Pivots in no train, in order of writing.
    pub pivots: Vec<DraftPivot>,
    /// Winding squares and bells in order of writing.
    pub fixtures: Vec<DraftFixture>,
    /// Whether it is said that places are only about right.
    pub placed_about: bool,
}
