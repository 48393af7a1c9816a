//! What each track, pin and lever of a sheet is, by what it does, what is done to it, and in which train.

use crate::role::{StrikeWork, WorkRole};
use crate::train::Trains;
use crate::train::read_at;
use quantity::{Exact, parse_number, whole};
use sheet::SheetTable;
use sheet::edit::{SheetTableRef, SheetText, TableAt};

/// The keys of which a track has one, and which tell its places.
const LOBES: [&str; 3] = ["places_deg", "pins", "divisions"];

/// Whose train carries something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Carries {
    /// The strike's.
    Strike,
    /// The chime's.
    Chime,
    /// The going train, or the motion work.
    Hands,
}

struct Reader<'t> {
    trains: Trains,
    tracks: Vec<SheetTableRef<'t>>,
    pins: Vec<SheetTableRef<'t>>,
    levers: Vec<SheetTableRef<'t>>,
    rack: Option<SheetTableRef<'t>>,
    /// An arbor of the strike's train.
    strike: Option<String>,
    /// An arbor of the chime's.
    chime: Option<String>,
}

/// Every table of the works whose part in them is known, in order of writing: tracks, pins, levers, the rack, the chime, witnesses.
pub fn works(text: &SheetText) -> Vec<StrikeWork> {
    let reader = Reader::of(text);
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
                let on = carrier.and_then(|carrier| carrier.text("on"));
                let hours = carrier.and_then(|carrier| carrier.get("hours")?.number());
                works.push(StrikeWork {
                    at: TableAt::Nth(sort, nth),
                    role,
                    id: table.text("id").unwrap_or_default(),
                    hours: hours.or_else(|| hours_of(text, on.as_deref()?)),
                    on,
                });
            }
        }
    }
    let one = |table, role, id: &str| {
        let there = text.table(&TableAt::One(table)).is_some();
        there.then(|| StrikeWork {
            at: TableAt::One(table),
            role,
            id: id.to_owned(),
            on: None,
            hours: None,
        })
    };
    works.extend(one(SheetTable::Rack, WorkRole::Rack, movement::RACK));
    works.extend(one(SheetTable::Chime, WorkRole::Chime, ""));
    works.extend(vanes(text));
    works
}

/// Witnesses of a fly.
fn vanes(text: &SheetText) -> impl Iterator<Item = StrikeWork> {
    let witnesses = text.tables(SheetTable::Witness).into_iter().enumerate();
    witnesses.filter_map(|(nth, witness)| {
        let kind = movement::WitnessKind::called(&witness.text("kind")?)?;
        (kind.looks == movement::WitnessDrawing::Vane).then(|| StrikeWork {
            at: TableAt::Nth(SheetTable::Witness, nth),
            role: WorkRole::FlyVane,
            id: witness.text("id").unwrap_or_default(),
            on: witness.text("on"),
            hours: None,
        })
    })
}

/// The hours of one turn of an arbor, where the sheet tells them.
fn hours_of(text: &SheetText, arbor: &str) -> Option<Exact> {
    let turn = text.get(&TableAt::Arbor(arbor.to_owned()), "turn_s")?;
    let hour = parse_number("3600").ok()?;
    Some(turn.number()? / hour).filter(|hours| *hours > whole(0))
}

impl<'t> Reader<'t> {
    fn of(text: &'t SheetText) -> Reader<'t> {
        let mut reader = Reader {
            trains: Trains::of(text),
            tracks: text.tables(SheetTable::Track),
            pins: text.tables(SheetTable::Pin),
            levers: text.tables(SheetTable::Lever),
            rack: text.table(&TableAt::One(SheetTable::Rack)),
            strike: read_at(text),
            chime: None,
        };
        // Another train than the strike's that counts or drops into a notch is the chime.
        let counts = |track: &&SheetTableRef<'t>| {
            track.get("counts").is_some() || track.get("notches_deg").is_some()
        };
        let counting = reader.tracks.iter().filter(counts);
        let mut on = counting.filter_map(|track| track.text("on"));
        reader.chime = on.find(|on| !reader.of_train(reader.strike.as_ref(), on));
        reader
    }

    fn of_train(&self, arbor: Option<&String>, on: &str) -> bool {
        let Some(arbor) = arbor else {
            // Where no arbor is read at, there is one train and no more.
            return true;
        };
        arbor == on || self.trains.way(arbor, on).is_some()
    }

    fn carries(&self, table: &SheetTableRef<'t>) -> Carries {
        match table.text("on") {
            None => Carries::Hands,
            Some(on) if self.of_train(self.strike.as_ref(), &on) => Carries::Strike,
            Some(on) => match self.chime.is_some() && self.of_train(self.chime.as_ref(), &on) {
                true => Carries::Chime,
                false => Carries::Hands,
            },
        }
    }

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

    fn feeling(&self, track: &SheetTableRef<'t>) -> impl Iterator<Item = &SheetTableRef<'t>> {
        let id = track.text("id");
        self.levers
            .iter()
            .filter(move |lever| lever.text("feels") == id)
    }

    /// The lever arbor with the lever that feels the chime's count wheel.
    fn counts_chime(&self) -> Option<String> {
        let wheel = self
            .tracks
            .iter()
            .find(|track| track.get("counts").is_some() && self.carries(track) == Carries::Chime)?;
        self.feeling(wheel).next()?.text("on")
    }

    /// Whether a lever arbor lifts the one with the chime's count lever.
    fn lifts_chime(&self, lever: &SheetTableRef<'t>) -> bool {
        let arbor = lever.text("on");
        let chime = self.counts_chime();
        let mut lifting = self.levers.iter().filter(|lever| lever.text("on") == arbor);
        chime.is_some() && lifting.any(|lever| lever.text("lifts") == chime)
    }

    fn track(&self, track: &SheetTableRef<'t>) -> Option<WorkRole> {
        let carries = self.carries(track);
        let chime = carries == Carries::Chime;
        if track.get("counts").is_some() {
            return Some(match chime {
                true => WorkRole::ChimeCountWheel,
                false => WorkRole::CountWheel,
            });
        }
        if track.get("notches_deg").is_some() {
            let own = self.counts_chime();
            let drops = self.feeling(track).any(|lever| lever.text("on") == own);
            return Some(match (chime, drops) {
                (false, _) => WorkRole::Cam,
                (true, true) => WorkRole::ChimeCam,
                (true, false) => WorkRole::CorrectionCam,
            });
        }
        if self.of_rack("snail", &track.text("id")) {
            return Some(WorkRole::Snail);
        }
        LOBES.iter().find(|key| track.get(key).is_some())?;
        let strikes = self
            .feeling(track)
            .any(|lever| lever.get("strikes").is_some());
        Some(match (strikes, carries) {
            (true, Carries::Strike) if self.is_further(track) => WorkRole::FurtherLifters,
            (true, Carries::Strike) => WorkRole::Lifters,
            (true, Carries::Chime) => WorkRole::ChimeNotes,
            (true, Carries::Hands) => WorkRole::PassingCam,
            (false, Carries::Chime) => WorkRole::Handover,
            (false, _) => {
                let mut levers = self.feeling(track);
                match levers.any(|lever| self.lifts_chime(lever)) {
                    true => WorkRole::QuarterPins,
                    false => WorkRole::LiftingPins,
                }
            }
        })
    }

    /// Whether another track before this one lifts what the strike's train strikes.
    fn is_further(&self, track: &SheetTableRef<'t>) -> bool {
        let id = track.text("id");
        let before = self
            .tracks
            .iter()
            .take_while(|other| other.text("id") != id);
        let mut before = before.filter(|other| LOBES.iter().any(|key| other.get(key).is_some()));
        before.any(|other| {
            self.carries(other) == Carries::Strike
                && self
                    .feeling(other)
                    .any(|lever| lever.get("strikes").is_some())
        })
    }

    fn pin(&self, pin: &SheetTableRef<'t>) -> Option<WorkRole> {
        let id = pin.text("id");
        if self.of_rack("pallet", &id) {
            return Some(WorkRole::Pallet);
        }
        if self.carries(pin) == Carries::Chime {
            return Some(WorkRole::ChimePin);
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
        let on = lever.text("on");
        let on_rack = on.as_deref() == Some(movement::RACK);
        let own = self.counts_chime();
        if lever.get("stops").is_some() {
            let pin = Self::named(&self.pins, lever.text("stops"));
            let chime = pin.is_some_and(|pin| self.carries(&pin) == Carries::Chime);
            return Some(match (chime, lever.get("above_deg").is_some()) {
                _ if on_rack => WorkRole::RackPin,
                (false, true) => WorkRole::WarningArm,
                (false, false) => WorkRole::LockingArm,
                (true, true) => WorkRole::ChimeWarningArm,
                (true, false) if on == own => WorkRole::ChimeLockingArm,
                (true, false) => WorkRole::CorrectionArm,
            });
        }
        if let Some(lifted) = lever.text("lifts") {
            let mut there = self.levers.iter().filter(|other| {
                other.text("on").as_ref() == Some(&lifted) && other.get("feels").is_some()
            });
            let corrects = |felt: &SheetTableRef<'t>| {
                let track = Self::named(&self.tracks, felt.text("feels"));
                track.and_then(|track| self.track(&track)) == Some(WorkRole::CorrectionCam)
            };
            return Some(match own.as_ref() == Some(&lifted) {
                true => WorkRole::ChimeLiftingArm,
                false if there.any(corrects) => WorkRole::CorrectionWire,
                false => WorkRole::LiftingArm,
            });
        }
        if lever.text("feels").as_deref() == Some(movement::RACK) {
            return Some(WorkRole::Hook);
        }
        let felt = Self::named(&self.tracks, lever.text("feels"))?;
        let first = || self.feeling(&felt).next().and_then(|one| one.text("id"));
        Some(match self.track(&felt)? {
            WorkRole::CountWheel => WorkRole::CountLever,
            WorkRole::Cam => WorkRole::DropLever,
            WorkRole::Lifters if first() == lever.text("id") => WorkRole::Hammer,
            WorkRole::Lifters => WorkRole::SecondHammer,
            WorkRole::FurtherLifters => WorkRole::FurtherHammer,
            WorkRole::PassingCam => WorkRole::PassingTail,
            WorkRole::LiftingPins | WorkRole::Handover => WorkRole::LiftingLever,
            WorkRole::ChimeCountWheel => WorkRole::ChimeCountLever,
            WorkRole::ChimeCam => WorkRole::ChimeDropLever,
            WorkRole::ChimeNotes => WorkRole::ChimeHammer,
            WorkRole::CorrectionCam => WorkRole::CorrectionLever,
            WorkRole::QuarterPins => WorkRole::ChimeLiftingLever,
            _ => return None,
        })
    }
}
