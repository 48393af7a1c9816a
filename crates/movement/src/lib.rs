//! The checked model of one movement: arbors, meshes, moments, witnesses and the works of the strike, and the exact ratio
//! tree over them.
//!
//! A [`Draft`] is what a sheet says, by name and unchecked. [`Movement::check`] consumes it and gives a [`Movement`]
//! in which every name is resolved, every loop closes and every witness can be reached, or every [`Flaw`] at its
//! [`DraftPlace`]. [`Open`] is one in which counts are missing still. This crate reads no text and says no sentences.

mod altered;
mod build;
mod check;
mod check_frame;
mod check_works;
mod draft;
mod flaw;
mod frame;
mod ids;
mod judged;
mod kinds;
mod lever_kind;
mod model;
mod open;
mod remarks;
mod train;
mod window;
mod witness_kind;
mod works;

pub use check::near;
pub use draft::{
    DROP, Draft, DraftArbor, DraftMesh, DraftMoment, DraftPart, DraftPartName, DraftStrike,
    DraftWitness,
};
pub use flaw::{DraftPlace, Flaw, FlawKind, Hop, LoopPath, Misgiving, NamedWork, Plural, Remark};
pub use frame::{
    DraftFixture, DraftFrame, DraftPillar, DraftPivot, Fixing, Fixture, FixtureKind, Frame, HeldBy,
    MeshAccess, Pillar, Pivot, PlatePoint,
};
pub use ids::{ArborId, MeshId, MomentId, WitnessId};
pub use kinds::{Blows, CountedBy, MeshSide, Plate, Reached, ToothForm, Turning};
pub use lever_kind::{LEVER_KINDS, LeverKind};
pub use model::{
    Arbor, MeasuredSeconds, Mesh, Moment, Movement, Part, PartId, SlotWidths, Strike, StrikePace,
    Unjudged, Witness,
};
pub use open::{Blank, Open};
pub use window::{
    FallBy, FromWorks, PointOf, StoodWindow, WindowFromWorks, WindowLimit, WindowSource,
};
pub use witness_kind::{WITNESS_KINDS, WitnessDrawing, WitnessKind};
pub use works::{
    Carrier, Cut, Does, DraftDoes, DraftKnown, DraftLever, DraftPin, DraftRack, DraftTrack,
    DraftWorks, Feels, Felt, Lever, LeverArborId, LeverId, LeverMade, Lifts, Pin, PinId, RACK,
    Rack, Reach, Shape, Slot, Stops, Track, TrackId, Works, WorksFigure, slots_of,
};

/// The most arbors a sheet may have: more than any clock, few enough that every sum over all pairs is quick.
pub const MOST_ARBORS: usize = 200;
/// The most meshes; each arbor but the first of a train is driven once, and loops are rare.
pub const MOST_MESHES: usize = 400;
/// The most witnesses, and the most moments beside the drop.
pub const MOST_WITNESSES: usize = 60;

/// The most tracks, pins and levers each: more than any chime of eight bells needs.
pub const MOST_LEVERS: usize = 100;
/// The most places on one track or of one pin.
pub const MOST_PLACES: usize = 500;

/// The longest an id or a part's name may be.
pub const LONGEST_NAME: usize = 40;
