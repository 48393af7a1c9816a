//! A movement as a sheet tells it: names instead of references, nothing checked against anything else.

use crate::{
    Blows, CountedBy, DraftFrame, DraftWorks, HeldBy, Plate, PlatePoint, Reached, StrikePace,
    ToothForm, Turning, WitnessKind,
};
use quantity::{Degrees, Exact, Repeats, Teeth};

/// The moment that is always there: the drop lever's tip leaves the edge of its cam notch.
pub const DROP: &str = "drop";

/// A toothed part as written.
#[derive(Debug, Clone)]
pub struct DraftPart {
    /// Its name on its arbor.
    pub name: String,
    /// Its count; nothing where it is not known, or was written wrongly and that is already told.
    pub teeth: Option<Teeth>,
    /// Whether it was written with a question mark: `"?"` is not known, `"72?"` is doubtful.
    pub doubted: bool,
    /// How its teeth are made.
    pub form: ToothForm,
}

/// An arbor as written.
#[derive(Debug, Clone)]
pub struct DraftArbor {
    /// Its id.
    pub id: String,
    /// Which way it turns when it runs, as seen from the sheet's plate.
    pub runs: Option<Turning>,
    /// Whether `runs` was there but could not be read, which is already told.
    pub runs_unread: bool,
    /// Its toothed parts in order of writing.
    pub parts: Vec<DraftPart>,
    /// Its measurements by key, in order of writing.
    pub measured: Vec<(String, Exact)>,
    /// How surely some of them are known: one standard deviation by key.
    pub spreads: Vec<(String, Exact)>,
    /// Where it stands on the plate.
    pub at: Option<PlatePoint>,
    /// Beats in one turn of it, for an escapement that does not give two for each tooth.
    pub beats_per_turn: Option<Exact>,
    /// How all its parts are held on it.
    pub held_by: Option<HeldBy>,
    /// How some of them are, by name.
    pub parts_held_by: Vec<(String, HeldBy)>,
    /// Whether it has a small cock of its own.
    pub cock: bool,
}

/// A part as written: `ARBOR.PART`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DraftPartName {
    /// The arbor that it is on.
    pub arbor: String,
    /// Its own name there.
    pub part: String,
}

/// A mesh as written: `ARBOR.PART` twice.
#[derive(Debug, Clone)]
pub struct DraftMesh {
    /// The part that drives; nothing where it was written wrongly and that is already told.
    pub driver: Option<DraftPartName>,
    /// The part that is driven.
    pub driven: Option<DraftPartName>,
    /// Whether the driver's teeth are on the inside of a ring.
    pub internal: bool,
    /// The whole free travel of the driven part with the driver held, in teeth.
    pub lash_teeth: Option<Exact>,
    /// What must be opened to shift it.
    pub reached: Reached,
    /// Its measurements by key, in order of writing.
    pub measured: Vec<(String, Exact)>,
    /// How surely some of them are known: one standard deviation by key.
    pub spreads: Vec<(String, Exact)>,
}

/// The strike as written.
#[derive(Debug, Clone)]
pub struct DraftStrike {
    /// What counts the blows.
    pub counted_by: CountedBy,
    /// What is struck.
    pub blows: Blows,
    /// The arbor everything is read against; nothing where it was missing and that is already told.
    pub read_at: Option<String>,
    /// Blows in one turn of `read_at`.
    pub blows_per_turn: Option<Exact>,
    /// How surely `read_at` is held, one standard deviation.
    pub hold: Option<Degrees>,
    /// Hours after which the whole works stand as they did.
    pub cycle_hours: Option<u16>,
    /// How fast it strikes, where that was measured.
    pub pace: Option<StrikePace>,
}

/// A further moment as written.
#[derive(Debug, Clone)]
pub struct DraftMoment {
    /// Its id; nothing where it was missing and that is already told.
    pub id: Option<String>,
    /// The arbor that counts as fixed then.
    pub arbor: Option<String>,
    /// What it is, in the sheet's words.
    pub says: String,
}

/// A witness as written.
#[derive(Debug, Clone)]
pub struct DraftWitness {
    /// Its id; nothing where it was missing and that is already told.
    pub id: Option<String>,
    /// What it is, in the sheet's words.
    pub says: String,
    /// The arbor it is on.
    pub on: Option<String>,
    /// What it is; nothing where that is not written.
    pub kind: Option<WitnessKind>,
    /// Alike places in a turn.
    pub repeats: Option<Repeats>,
    /// From and to; nothing where it is not written.
    pub window: Option<(Degrees, Degrees)>,
    /// Where it should stand; nothing where it is not written.
    pub best: Option<Degrees>,
    /// The moment it is judged at.
    pub at: Option<String>,
    /// Width of the slot.
    pub slot: Option<Degrees>,
    /// Width of the lever's tip.
    pub tip: Option<Degrees>,
    /// The hour at which its place 0 stands, as seen from the sheet's plate.
    pub arm_oclock: Option<Exact>,
}

/// A whole movement as written.
#[derive(Debug, Clone)]
pub struct Draft {
    /// What the clock is called.
    pub name: String,
    /// The plate that all directions on the sheet are seen from.
    pub seen_from: Option<Plate>,
    /// Arbors in order of writing.
    pub arbors: Vec<DraftArbor>,
    /// Meshes in order of writing.
    pub meshes: Vec<DraftMesh>,
    /// The strike, if the sheet has one.
    pub strike: Option<DraftStrike>,
    /// Whether `[strike]` was there but could not be read, which is already told.
    pub strike_unread: bool,
    /// Moments in order of writing, without the drop.
    pub moments: Vec<DraftMoment>,
    /// Witnesses in order of writing.
    pub witnesses: Vec<DraftWitness>,
    /// Levers and tracks.
    pub works: DraftWorks,
    /// Plates, pillars and the pivots of levers.
    pub frame: DraftFrame,
}
