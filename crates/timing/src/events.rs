//! A log's entries, read one after another: what they name is found on the sheet, and what is in and out is kept.

use crate::bench::Tension;
use crate::hands::Handling;
use crate::reading::{Reading, ReadingFault, read, read_at_rest};
use crate::rest::Rest;
use crate::said::reading_as_said;
use crate::turn::BY_EYE;
use entries::{AtMesh, EntryContent, EntryKind, Log, Moved};
use kinematics::{Turnable, turnables};
use movement::{ArborId, CountedBy, MeshId, Movement, Witness, WitnessId};
use quantity::{to_f64, whole};
use std::collections::{BTreeMap, BTreeSet};

/// Why a log cannot be summed up.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RecallFault {
    /// An entry of a kind that is not known here may matter, and cannot be passed over.
    #[error("entry {n} is of an unknown kind, `{kind}`")]
    UnknownKind {
        /// The entry.
        n: usize,
        /// What it calls itself.
        kind: String,
    },
    /// An entry names an arbor, mesh or witness that is not on the sheet.
    #[error("entry {n} names `{name}`, which is not on the sheet")]
    UnknownName {
        /// The entry.
        n: usize,
        /// What it names.
        name: String,
    },
    /// A mesh on a loop cannot have been shifted alone.
    #[error("entry {n} shifts mesh `{mesh}`, which is on a loop")]
    OnALoop {
        /// The entry.
        n: usize,
        /// The mesh.
        mesh: String,
    },
    /// A reading cannot be used.
    #[error("entry {n} has a reading of `{witness}` that cannot be used")]
    Reading {
        /// The entry.
        n: usize,
        /// The witness.
        witness: String,
        /// Why.
        #[source]
        fault: ReadingFault,
    },
    /// A witness whose arbor, or its moment's, is out.
    #[error("entry {n} reads `{witness}` while arbor `{arbor}` is out")]
    ArborOut {
        /// The entry.
        n: usize,
        /// The witness.
        witness: String,
        /// The arbor.
        arbor: String,
    },
    /// A slot read in the long slot that serves twelve and one.
    #[error("entry {n} reads `{witness}` in the long slot, after {hour} was struck")]
    LongSlot {
        /// The entry.
        n: usize,
        /// The witness.
        witness: String,
        /// The hour last struck.
        hour: u8,
    },
}

/// The hours after which the lever lies in the long slot.
pub(crate) const LONG_SLOT: [u8; 2] = [12, 1];

/// Something that happened, with all its names found.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Event {
    Look(Vec<Reading>, Tension),
    /// The entry; for each mesh its teeth, and how it was handled where that was told.
    Shift(usize, Vec<(MeshId, i64, Option<Handling>)>),
    Moved(MeshId, i64),
    Lost(ArborId),
    Bent(WitnessId, f64, f64),
    /// A part that the sheet says can be turned was: all that it carries, each with its spread.
    Turned(Vec<(WitnessId, f64, f64)>),
}

/// Whether a witness cannot be read while the lever lies in the long slot: any single slot of the wheel that counts the hours
/// would do for it, and that one has no walls beside the tip.
pub(crate) fn is_lost_in_the_long_slot(movement: &Movement, witness: &Witness) -> bool {
    movement.strike().is_some_and(|strike| {
        strike.counted_by == CountedBy::CountWheel
            && witness.is_any_slot()
            && movement.same_train(strike.read_at, witness.on)
    })
}

/// Goes over entries, finds what they name, and keeps what is in and out.
pub(crate) struct Reader<'a> {
    movement: &'a Movement,
    rest: &'a Rest,
    /// The entry that is being read.
    pub(crate) n: usize,
    /// Whether it came after the last sheet: what came before and can be read by it no more is passed over.
    pub(crate) binding: bool,
    pub(crate) out: BTreeSet<ArborId>,
    pub(crate) hour: Option<u8>,
    pub(crate) events: Vec<Event>,
    pub(crate) openings: usize,
    /// What was read of each witness since anything last moved in its train.
    pub(crate) newest: BTreeMap<WitnessId, (Reading, Tension)>,
    /// What was read at its moment, and not only at rest, since anything last moved in its train.
    pub(crate) seen_itself: BTreeSet<WitnessId>,
    /// The arbors that each shift moved, by its entry.
    shifted: BTreeMap<usize, Vec<ArborId>>,
    turnables: Vec<Turnable>,
}

impl<'a> Reader<'a> {
    /// Before the first entry.
    pub(crate) fn of(movement: &'a Movement, rest: &'a Rest) -> Reader<'a> {
        Reader {
            movement,
            rest,
            n: 0,
            binding: true,
            out: BTreeSet::new(),
            hour: None,
            events: Vec::new(),
            openings: 0,
            newest: BTreeMap::new(),
            seen_itself: BTreeSet::new(),
            shifted: BTreeMap::new(),
            turnables: turnables(movement),
        }
    }

    /// Something moved in the train of an arbor: what was read there before tells no more how it stands.
    fn stir(&mut self, arbor: ArborId) {
        let movement = self.movement;
        let stays = |id: &WitnessId| !movement.same_train(movement.witness(*id).on, arbor);
        self.newest.retain(|id, _| stays(id));
        self.seen_itself.retain(stays);
    }

    fn unknown(&self, name: &str) -> RecallFault {
        RecallFault::UnknownName {
            n: self.n,
            name: name.to_owned(),
        }
    }

    fn arbor(&self, id: &str) -> Result<ArborId, RecallFault> {
        self.movement.find_arbor(id).ok_or_else(|| self.unknown(id))
    }

    fn witness(&self, id: &str) -> Result<WitnessId, RecallFault> {
        self.movement
            .find_witness(id)
            .ok_or_else(|| self.unknown(id))
    }

    fn at_mesh(&self, at: &AtMesh) -> Result<(MeshId, i64), RecallFault> {
        let mesh = self
            .movement
            .find_mesh(&at.mesh)
            .ok_or_else(|| self.unknown(&at.mesh))?;
        if self.movement.far_side(mesh).is_none() {
            return Err(RecallFault::OnALoop {
                n: self.n,
                mesh: at.mesh.clone(),
            });
        }
        Ok((mesh, i64::from(at.teeth)))
    }

    /// Takes in what an entry tells; of the shifts and meshes that are `reversed` it was told that they went the other way.
    pub(crate) fn take(
        &mut self,
        kind: &EntryKind,
        reversed: &[(usize, Option<&str>)],
    ) -> Result<(), RecallFault> {
        match kind {
            EntryKind::Look { tension, readings } => {
                let tension = match tension {
                    entries::LoggedTension::Tensioned => Tension::Tensioned,
                    entries::LoggedTension::Slack => Tension::Slack,
                    entries::LoggedTension::AtRest => Tension::AtRest,
                };
                let readings = readings
                    .iter()
                    .map(|reading| self.reading(reading, tension))
                    .filter(|read| self.binding || read.is_ok())
                    .collect::<Result<Vec<_>, _>>()?;
                for reading in &readings {
                    let newest = (reading.clone(), tension);
                    self.newest.insert(reading.witness, newest);
                    if tension != Tension::AtRest {
                        self.seen_itself.insert(reading.witness);
                    }
                }
                self.events.push(Event::Look(readings, tension));
            }
            // It tells where windows lie, and nothing of where anything stands now.
            EntryKind::Stood { readings, .. } => {
                for reading in readings.iter().filter(|_| self.binding) {
                    self.read_at_rest(reading)?;
                }
            }
            EntryKind::Shift(meshes) => {
                let other_way = |name: &str| {
                    let told = |(of, mesh): &(usize, Option<&str>)| {
                        *of == self.n && mesh.is_none_or(|mesh| mesh == name)
                    };
                    reversed.iter().any(told).then_some(Handling::OtherWay)
                };
                let meshes = meshes
                    .iter()
                    .map(|at| {
                        let (mesh, teeth) = self.at_mesh(at)?;
                        Ok((mesh, teeth, other_way(&at.mesh)))
                    })
                    .collect::<Result<Vec<_>, _>>()?;
                let spread = meshes
                    .iter()
                    .any(|(mesh, ..)| self.movement.opened(*mesh) == movement::MeshAccess::Plates);
                self.openings += usize::from(spread);
                let arbors = (meshes.iter())
                    .map(|(mesh, ..)| self.movement.mesh(*mesh).driver.arbor)
                    .collect::<Vec<_>>();
                for arbor in &arbors {
                    self.stir(*arbor);
                }
                self.shifted.insert(self.n, arbors);
                self.events.push(Event::Shift(self.n, meshes));
            }
            // Said of a shift, and taken into account there; what was read before it was said is to be read again.
            EntryKind::OtherWay { of, mesh } => {
                let one = mesh.as_ref().and_then(|mesh| self.movement.find_mesh(mesh));
                let one = one.map(|mesh| vec![self.movement.mesh(mesh).driver.arbor]);
                let all = || self.shifted.get(of).cloned().unwrap_or_default();
                for arbor in one.unwrap_or_else(all) {
                    self.stir(arbor);
                }
            }
            EntryKind::Slipped(at) => {
                let (mesh, teeth) = self.at_mesh(at)?;
                self.stir(self.movement.mesh(mesh).driver.arbor);
                self.events.push(Event::Moved(mesh, teeth));
            }
            EntryKind::Jumped { arbor } => {
                let arbor = self.arbor(arbor)?;
                self.lost(arbor);
            }
            EntryKind::Bent(moved) => {
                let (id, by, spread) = self.moved(moved)?;
                self.events.push(Event::Bent(id, by, spread));
            }
            EntryKind::Turned(moved) => {
                let moved = self.moved(moved)?;
                let carried = |part: &Turnable| *part.moves(moved.0) != whole(0);
                self.events.push(match self.turnables.iter().any(carried) {
                    true => Event::Turned(vec![moved]),
                    false => Event::Bent(moved.0, moved.1, moved.2),
                });
            }
            EntryKind::ArborOut { arbor } => {
                let arbor = self.arbor(arbor)?;
                self.out.insert(arbor);
                self.lost(arbor);
            }
            EntryKind::ArborIn { arbor } => {
                let arbor = self.arbor(arbor)?;
                self.out.remove(&arbor);
                self.lost(arbor);
            }
            EntryKind::Struck { hour } => self.hour = Some(*hour),
            // Nor is the train timed by anything that concerns the job as a whole.
            EntryKind::Undo { .. } | EntryKind::Work(_) => {}
        }
        Ok(())
    }

    /// An arbor's place at its meshes is lost.
    fn lost(&mut self, arbor: ArborId) {
        self.stir(arbor);
        self.events.push(Event::Lost(arbor));
    }

    /// Takes in what happened; what is one turn of one part, told of several witnesses, is one thing that happened.
    pub(crate) fn happened(&mut self, event: Event) {
        if let Event::Turned(then) = &event
            && let Some(Event::Turned(before)) = self.events.last()
            && self.one_turn(before, then)
        {
            let both = [&before[..], &then[..]].concat();
            self.events.pop();
            self.events.push(Event::Turned(both));
        } else {
            self.events.push(event);
        }
    }

    /// Whether what was turned is of one turn of one part with what was told of it just before.
    fn one_turn(&self, before: &[(WitnessId, f64, f64)], then: &[(WitnessId, f64, f64)]) -> bool {
        let all = || before.iter().chain(then);
        let twice = then
            .iter()
            .any(|(id, ..)| before.iter().any(|(other, ..)| id == other));
        let of = |part: &Turnable| {
            let angle = |(id, by, _): &(WitnessId, f64, f64)| by / to_f64(part.moves(*id));
            let first = all().next().map_or(0.0, angle);
            all().all(|moved| (angle(moved) - first).abs() <= 1e-3 * first.abs())
        };
        !twice && self.turnables.iter().any(of)
    }

    fn moved(&mut self, moved: &Moved) -> Result<(WitnessId, f64, f64), RecallFault> {
        let id = self.witness(&moved.witness)?;
        self.stir(self.movement.witness(id).on);
        let by = moved.deg.degrees().to_f64();
        // Bent or turned by eye: to a tenth of what it was, unless more is known. Common practice, no source.
        let spread =
            (moved.spread.as_ref()).map_or(BY_EYE * by.abs(), |spread| to_f64(spread.exact()));
        Ok((id, by, spread))
    }

    /// What was read at rest.
    pub(crate) fn read_at_rest(
        &self,
        reading: &entries::LoggedReading,
    ) -> Result<Reading, RecallFault> {
        self.reading(reading, Tension::AtRest)
    }

    fn reading(
        &self,
        reading: &entries::LoggedReading,
        tension: Tension,
    ) -> Result<Reading, RecallFault> {
        let id = self.witness(&reading.witness)?;
        let witness = self.movement.witness(id);
        let moment = self.movement.moment(witness.at).arbor;
        if let Some(out) = [witness.on, moment].iter().find(|a| self.out.contains(a)) {
            return Err(RecallFault::ArborOut {
                n: self.n,
                witness: reading.witness.clone(),
                arbor: self.movement.arbor(*out).id.clone(),
            });
        }
        if let Some(hour) = self.hour.filter(|hour| LONG_SLOT.contains(hour))
            && is_lost_in_the_long_slot(self.movement, witness)
        {
            return Err(RecallFault::LongSlot {
                n: self.n,
                witness: reading.witness.clone(),
                hour,
            });
        }
        let said =
            reading_as_said(self.movement, &reading.seen).map_err(|part| self.unknown(part))?;
        let read = match tension {
            Tension::AtRest => read_at_rest(self.movement, self.rest, id, &said),
            Tension::Tensioned | Tension::Slack => read(self.movement, id, &said),
        };
        read.map_err(|fault| RecallFault::Reading {
            n: self.n,
            witness: reading.witness.clone(),
            fault,
        })
    }
}

/// The entries of the turn that was told last, the last first: where one turn of a part was told of several witnesses, all of them. None
/// where something else of the timing was told after it.
pub fn last_turn(movement: &Movement, log: &Log) -> Vec<usize> {
    let rest = Rest::of(movement);
    let mut reader = Reader::of(movement, &rest);
    let mut moves: Vec<(WitnessId, f64, f64)> = Vec::new();
    let mut of = Vec::new();
    let timing = log.of_this_sheet().rev();
    for entry in timing.filter(|entry| entry.work().is_none()) {
        let EntryContent::Known(EntryKind::Turned(moved)) = &entry.told else {
            break;
        };
        let Ok(one) = reader.moved(moved) else {
            break;
        };
        if !moves.is_empty() && !reader.one_turn(&moves, &[one]) {
            break;
        }
        moves.push(one);
        of.push(entry.n);
    }
    of
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::error::Error;

    /// A fault with all that lies behind it, as whoever builds on this crate sees it.
    fn chain(fault: &dyn Error) -> String {
        let behind = fault.source().map(chain);
        behind.map_or_else(|| fault.to_string(), |behind| format!("{fault}: {behind}"))
    }

    const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");
    const QUARTERS: &str = include_str!("../../../movements/quarters.toml");

    /// The witnesses that cannot be read while the lever lies in the long slot.
    fn lost(text: &str) -> Vec<String> {
        let movement = sheet::read(text.as_bytes()).expect("good").movement;
        let lost = (movement.witnesses()).filter(|(_, w)| is_lost_in_the_long_slot(&movement, w));
        lost.map(|(_, w)| w.id.clone()).collect()
    }

    #[test]
    fn a_slot_by_its_kind_and_by_nothing_else_is_lost_in_the_long_slot() {
        assert_eq!(lost(SCHOOLROOM), ["slot"]);
        let bare = SCHOOLROOM.split("\n# Levers").next().expect("a text");
        assert_eq!(lost(bare), ["slot"]);
        assert_eq!(lost(&bare.replace("id = \"slot\"", "id = \"a\"")), ["a"]);
        let called = |id: &str, kind: &str| {
            let id = format!("id = \"{id}\"");
            bare.replacen(&id, &format!("{id}\nkind = \"{kind}\""), 1)
        };
        assert!(lost(&called("slot", "plain")).is_empty());
        assert_eq!(lost(&called("star", "slot")), ["slot", "star"]);
        // The chime's own count wheel serves no hours, and one place of it is read where it is.
        assert!(lost(QUARTERS).is_empty());
    }

    #[test]
    fn what_cannot_be_used_says_why() {
        let most = quantity::Degrees::deg(quantity::fraction(5, 2));
        let fault = RecallFault::Reading {
            n: 4,
            witness: "slot".to_owned(),
            fault: ReadingFault::Spread { got: 3.5, most },
        };
        assert_eq!(
            chain(&fault),
            "entry 4 has a reading of `slot` that cannot be used: a spread of 3.5 degrees, expected above 0 and below 2.5"
        );
        let fault = crate::SaidFault::UnknownWitness {
            got: "slit".to_owned(),
            near: Some("slot".to_owned()),
            all: vec!["slot".to_owned(), "star".to_owned()],
        };
        assert_eq!(
            chain(&fault),
            "no witness `slit`, expected one of: slot, star"
        );
        let fault = crate::TooManyPlaces;
        assert_eq!(chain(&fault), "more than 130000 places to keep a belief on");
    }
}
