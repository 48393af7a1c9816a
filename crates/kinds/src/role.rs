//! What each track, pin and lever of a sheet may be.

use quantity::{Exact, whole};
use serde::Deserialize;
use sheet::edit::{SheetText, SheetValue, TableAt};

/// What a track, a pin, a lever or the rack is in the works.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WorkRole {
    /// A track with the counts of the blows.
    CountWheel,
    /// A track with notches.
    Cam,
    /// Pins or cams of a train that lift a hammer.
    Lifters,
    /// A cam or pins of the motion work that lift a hammer themselves.
    PassingCam,
    /// Pins of the motion work that let the strike off.
    LiftingPins,
    /// The snail of the rack.
    Snail,
    /// A pin that an arm stops to lock the train, whether it is caught for the warning too or not.
    LockingPin,
    /// A pin that is caught for the warning only.
    WarningPin,
    /// The pin that gathers the rack.
    Pallet,
    /// The pallet's tail, which the rack stops.
    PalletTail,
    /// A lever that feels the count wheel.
    CountLever,
    /// A lever that falls into the notch of a cam.
    DropLever,
    /// A tail that the train's pins lift, and that strikes.
    Hammer,
    /// The same, lifted by the motion work.
    PassingTail,
    /// A lever that the motion work's pins lift.
    LiftingLever,
    /// An arm that lifts another lever arbor along.
    LiftingArm,
    /// An arm that locks.
    LockingArm,
    /// An arm that warns.
    WarningArm,
    /// The pin of the rack.
    RackPin,
    /// The hook of the rack.
    Hook,
    /// The rack itself.
    Rack,
    /// A further track of the train with pins that lift what strikes: a bellows, a second hammer.
    FurtherLifters,
    /// What it lifts.
    FurtherHammer,
    /// A further hammer of the same pins.
    SecondHammer,
    /// A track with the counts of the chime's changes.
    ChimeCountWheel,
    /// A track with notches that the chime's drop lever falls into.
    ChimeCam,
    /// Pins of the chime train that lift its hammers.
    ChimeNotes,
    /// A notch of the chime train that the correction falls into.
    CorrectionCam,
    /// What lets the strike off as the chime ends.
    Handover,
    /// Pins of the motion work that let the chime off.
    QuarterPins,
    /// A pin that an arm stops to lock the chime.
    ChimePin,
    /// A lever that feels the count wheel of the chime.
    ChimeCountLever,
    /// A lever that falls into the notch of the chime's cam.
    ChimeDropLever,
    /// A hammer of the chime.
    ChimeHammer,
    /// A lever that the pins of the quarters lift.
    ChimeLiftingLever,
    /// An arm that lifts the chime's levers along.
    ChimeLiftingArm,
    /// An arm that locks the chime.
    ChimeLockingArm,
    /// An arm that warns the chime.
    ChimeWarningArm,
    /// A lever that falls into the notch of the correction.
    CorrectionLever,
    /// An arm of it that locks the chime.
    CorrectionArm,
    /// An arm that lifts it out again.
    CorrectionWire,
    /// What the chime owes.
    Chime,
    /// A witness of the fly.
    FlyVane,
}

impl WorkRole {
    /// Its word in the data of kinds, by which messages choose.
    pub fn word(self) -> &'static str {
        match self {
            WorkRole::CountWheel => "count-wheel",
            WorkRole::Cam => "cam",
            WorkRole::Lifters => "lifters",
            WorkRole::PassingCam => "passing-cam",
            WorkRole::LiftingPins => "lifting-pins",
            WorkRole::Snail => "snail",
            WorkRole::LockingPin => "locking-pin",
            WorkRole::WarningPin => "warning-pin",
            WorkRole::Pallet => "pallet",
            WorkRole::PalletTail => "pallet-tail",
            WorkRole::CountLever => "count-lever",
            WorkRole::DropLever => "drop-lever",
            WorkRole::Hammer => "hammer",
            WorkRole::PassingTail => "passing-tail",
            WorkRole::LiftingLever => "lifting-lever",
            WorkRole::LiftingArm => "lifting-arm",
            WorkRole::LockingArm => "locking-arm",
            WorkRole::WarningArm => "warning-arm",
            WorkRole::RackPin => "rack-pin",
            WorkRole::Hook => "hook",
            WorkRole::Rack => "rack",
            WorkRole::FurtherLifters => "further-lifters",
            WorkRole::FurtherHammer => "further-hammer",
            WorkRole::SecondHammer => "second-hammer",
            WorkRole::ChimeCountWheel => "chime-count-wheel",
            WorkRole::ChimeCam => "chime-cam",
            WorkRole::ChimeNotes => "chime-notes",
            WorkRole::CorrectionCam => "correction-cam",
            WorkRole::Handover => "handover",
            WorkRole::QuarterPins => "quarter-pins",
            WorkRole::ChimePin => "chime-pin",
            WorkRole::ChimeCountLever => "chime-count-lever",
            WorkRole::ChimeDropLever => "chime-drop-lever",
            WorkRole::ChimeHammer => "chime-hammer",
            WorkRole::ChimeLiftingLever => "chime-lifting-lever",
            WorkRole::ChimeLiftingArm => "chime-lifting-arm",
            WorkRole::ChimeLockingArm => "chime-locking-arm",
            WorkRole::ChimeWarningArm => "chime-warning-arm",
            WorkRole::CorrectionLever => "correction-lever",
            WorkRole::CorrectionArm => "correction-arm",
            WorkRole::CorrectionWire => "correction-wire",
            WorkRole::Chime => "chime",
            WorkRole::FlyVane => "fly-vane",
        }
    }
}

/// A table of the works and what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct StrikeWork {
    /// The table.
    pub at: TableAt,
    /// What it is.
    pub role: WorkRole,
    /// Its id.
    pub id: String,
    /// The arbor of a train whose degrees its places are, where there is one.
    pub on: Option<String>,
    /// Hours of one turn of what carries it, where the motion work does.
    pub hours: Option<Exact>,
}

/// The first of the works that is this.
pub(crate) fn first(works: &[StrikeWork], role: WorkRole) -> Option<&StrikeWork> {
    works.iter().find(|work| work.role == role)
}

/// How many places a track or pin has in a turn: slots of a count wheel by their blows.
pub(crate) fn places(text: &SheetText, work: &StrikeWork) -> Option<Exact> {
    let table = text.table(&work.at)?;
    if let Some(counts) = table.get("counts") {
        let all: Option<Vec<Exact>> = counts.list().iter().map(SheetValue::number).collect();
        return Some(all?.into_iter().sum());
    }
    if let Some(pins) = table.get("pins") {
        return pins.number();
    }
    let listed = ["notches_deg", "places_deg", "at", "at_deg"];
    let list = listed.iter().find_map(|key| table.get(key))?;
    Some(whole(i64::try_from(list.list().len()).ok()?))
}
