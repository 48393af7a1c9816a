//! What each track, pin and lever of a sheet is, by what it does and what is done to it.

use quantity::{Exact, whole};
use serde::Deserialize;
use sheet::SheetTable;
use sheet::edit::{SheetTableRef, SheetText, SheetValue, TableAt};

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

/// The keys of which a track has one, and which tell its places.
const LOBES: [&str; 3] = ["places_deg", "pins", "divisions"];

struct Reader<'t> {
    tracks: Vec<SheetTableRef<'t>>,
    pins: Vec<SheetTableRef<'t>>,
    levers: Vec<SheetTableRef<'t>>,
    rack: Option<SheetTableRef<'t>>,
}

/// Every table of the works whose part in them is known, in order of writing: tracks, pins, levers, the rack.
pub fn works(text: &SheetText) -> Vec<StrikeWork> {
    let reader = Reader {
        tracks: text.tables(SheetTable::Track),
        pins: text.tables(SheetTable::Pin),
        levers: text.tables(SheetTable::Lever),
        rack: text.table(&TableAt::One(SheetTable::Rack)),
    };
    let mut works = Vec::new();
    let lists = [
        (SheetTable::Track, &reader.tracks),
        (SheetTable::Pin, &reader.pins),
        (SheetTable::Lever, &reader.levers),
    ];
    for (sort, tables) in lists {
        for (nth, table) in tables.iter().enumerate() {
            let role = match sort {
                SheetTable::Track => reader.track(table),
                SheetTable::Pin => reader.pin(table),
                _ => reader.lever(table),
            };
            let carrier = match sort {
                SheetTable::Lever => reader.touched(table),
                _ => Some(*table),
            };
            if let Some(role) = role {
                works.push(StrikeWork {
                    at: TableAt::Nth(sort, nth),
                    role,
                    id: table.text("id").unwrap_or_default(),
                    on: carrier.and_then(|carrier| carrier.text("on")),
                    hours: carrier.and_then(|carrier| carrier.get("hours")?.number()),
                });
            }
        }
    }
    if reader.rack.is_some() {
        works.push(StrikeWork {
            at: TableAt::One(SheetTable::Rack),
            role: WorkRole::Rack,
            id: movement::RACK.to_owned(),
            on: None,
            hours: None,
        });
    }
    works
}

impl<'t> Reader<'t> {
    fn named(tables: &[SheetTableRef<'t>], id: Option<String>) -> Option<SheetTableRef<'t>> {
        let id = id?;
        let mut all = tables.iter();
        all.find(|table| table.text("id").as_ref() == Some(&id))
            .copied()
    }

    /// What a lever feels or stops.
    fn touched(&self, lever: &SheetTableRef<'t>) -> Option<SheetTableRef<'t>> {
        Self::named(&self.tracks, lever.text("feels"))
            .or_else(|| Self::named(&self.pins, lever.text("stops")))
    }

    fn of_rack(&self, key: &str, id: &Option<String>) -> bool {
        let named = self.rack.and_then(|rack| rack.text(key));
        named.is_some() && named == *id
    }

    fn track(&self, track: &SheetTableRef<'t>) -> Option<WorkRole> {
        let id = track.text("id");
        if track.get("counts").is_some() {
            return Some(WorkRole::CountWheel);
        }
        if track.get("notches_deg").is_some() {
            return Some(WorkRole::Cam);
        }
        if self.of_rack("snail", &id) {
            return Some(WorkRole::Snail);
        }
        LOBES.iter().find(|key| track.get(key).is_some())?;
        let mut feeling = (self.levers.iter()).filter(|lever| lever.text("feels") == id);
        let strikes = feeling.any(|lever| lever.get("strikes").is_some());
        Some(match (strikes, track.get("hours").is_some()) {
            (true, false) => WorkRole::Lifters,
            (true, true) => WorkRole::PassingCam,
            (false, _) => WorkRole::LiftingPins,
        })
    }

    fn pin(&self, pin: &SheetTableRef<'t>) -> Option<WorkRole> {
        let id = pin.text("id");
        if self.of_rack("pallet", &id) {
            return Some(WorkRole::Pallet);
        }
        let arms: Vec<WorkRole> = (self.levers.iter())
            .filter(|lever| lever.text("stops") == id)
            .filter_map(|lever| self.lever(lever))
            .collect();
        let known = [
            (WorkRole::RackPin, WorkRole::PalletTail),
            (WorkRole::LockingArm, WorkRole::LockingPin),
            (WorkRole::WarningArm, WorkRole::WarningPin),
        ];
        let found = known.iter().find(|(arm, _)| arms.contains(arm));
        found.map(|(_, pin)| *pin)
    }

    fn lever(&self, lever: &SheetTableRef<'t>) -> Option<WorkRole> {
        let on_rack = lever.text("on").as_deref() == Some(movement::RACK);
        if lever.get("stops").is_some() {
            return Some(match lever.get("above_deg").is_some() {
                _ if on_rack => WorkRole::RackPin,
                true => WorkRole::WarningArm,
                false => WorkRole::LockingArm,
            });
        }
        if lever.get("lifts").is_some() {
            return Some(WorkRole::LiftingArm);
        }
        if lever.text("feels").as_deref() == Some(movement::RACK) {
            return Some(WorkRole::Hook);
        }
        let felt = Self::named(&self.tracks, lever.text("feels"))?;
        Some(match self.track(&felt)? {
            WorkRole::CountWheel => WorkRole::CountLever,
            WorkRole::Cam => WorkRole::DropLever,
            WorkRole::Lifters => WorkRole::Hammer,
            WorkRole::PassingCam => WorkRole::PassingTail,
            WorkRole::LiftingPins => WorkRole::LiftingLever,
            _ => return None,
        })
    }
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
