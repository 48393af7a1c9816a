//! A log gone over from its start: what is believed now, and what was made of the last shift.

use crate::belief::{Belief, Bench, Handling, Tension};
use crate::eye::{Eye, Shown};
use crate::reading::{Look, Reading, ReadingFault, Said, read};
use crate::round::{Shifted, last_round};
use entries::{AtMesh, Kind, Log, Moved, Seen, Sight, Told};
use movement::{ArborId, CountedBy, MeshId, Movement, Plate, Witness, WitnessId};
use quantity::{Chance, to_f64};
use std::collections::{BTreeMap, BTreeSet};

/// Why a log cannot be summed up.
#[derive(Debug, Clone, PartialEq)]
pub enum RecallFault {
    /// An entry of a kind that is not known here may matter, and cannot be passed over.
    UnknownKind {
        /// The entry.
        n: usize,
        /// What it calls itself.
        kind: String,
    },
    /// An entry names an arbor, mesh or witness that is not on the sheet.
    UnknownName {
        /// The entry.
        n: usize,
        /// What it names.
        name: String,
    },
    /// A mesh on a loop cannot have been shifted alone.
    OnALoop {
        /// The entry.
        n: usize,
        /// The mesh.
        mesh: String,
    },
    /// A reading cannot be used.
    Reading {
        /// The entry.
        n: usize,
        /// The witness.
        witness: String,
        /// Why.
        fault: ReadingFault,
    },
    /// A witness whose arbor, or its moment's, is out.
    ArborOut {
        /// The entry.
        n: usize,
        /// The witness.
        witness: String,
        /// The arbor.
        arbor: String,
    },
    /// A slot read in the long slot that serves twelve and one.
    LongSlot {
        /// The entry.
        n: usize,
        /// The witness.
        witness: String,
        /// The hour last struck.
        hour: u8,
    },
}

/// What came of one mesh of the last shift, as far as looks since then tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Handled {
    /// The mesh.
    pub mesh: MeshId,
    /// Its number in the last round of shifts, from 1, and how many shifts that was of.
    pub nth: (usize, usize),
    /// The chance that it went as said.
    pub as_said: Chance,
    /// The chance that it went the other way.
    pub other_way: Chance,
    /// The chance that it slipped a tooth.
    pub slipped: Chance,
}

/// What a log comes to.
#[derive(Debug, Clone)]
pub struct Recalled {
    /// What is believed now.
    pub belief: Belief,
    /// Witnesses that can be read now.
    pub readable: Vec<WitnessId>,
    /// Arbors that are out.
    pub out: Vec<ArborId>,
    /// The hour last struck, as far as that was told.
    pub hour: Option<u8>,
    /// The readings of the last look, if nothing was moved since.
    pub last_look: Vec<Reading>,
    /// The newest reading of each witness of what is timed, where anything was read of it since something last moved in its
    /// train.
    pub newest: Vec<(WitnessId, Option<Reading>)>,
    /// Openings so far: shifts for which plates were spread.
    pub openings: usize,
    /// For each mesh of the last shift that was looked at since, what came of it.
    pub handled: Vec<Handled>,
    /// The shifts of the last round.
    pub round: Vec<Shifted>,
    /// The chance, for each witness, that its lever is bent or its part has slipped on its arbor.
    pub bent: Vec<(WitnessId, Chance)>,
    /// What all that was seen shows of the eye.
    pub eye: Shown,
    /// The witnesses of what is timed.
    pub timed: Vec<WitnessId>,
    /// The last entry that concerns what is timed; nothing before the first.
    pub last: Option<usize>,
}

/// The hours after which the lever lies in the long slot.
const LONG_SLOT: [u8; 2] = [12, 1];

/// Something that happened, with all its names found.
#[derive(Debug, Clone)]
enum Event {
    Look(Vec<Reading>, Tension),
    /// The entry; for each mesh its teeth, and how it was handled where that was told.
    Shift(usize, Vec<(MeshId, i64, Option<Handling>)>),
    Moved(MeshId, i64),
    Lost(ArborId),
    Bent(WitnessId, f64, f64),
}

/// Whether a witness is a slot of the count wheel: it has as many places a turn as blows are struck, or more, and a blow
/// moves it by one.
pub fn is_slot(movement: &Movement, witness: &Witness) -> bool {
    movement.strike().is_some_and(|strike| {
        strike.counted_by == CountedBy::CountWheel
            && witness.repeats.get() >= strike.blows.in_twelve_hours()
    })
}

impl Bench<'_> {
    /// Goes over a log.
    ///
    /// # Errors
    /// The first entry that cannot be summed up, and why.
    pub fn recall(&self, log: &Log) -> Result<Recalled, RecallFault> {
        let reversed: Vec<(usize, Option<&str>)> = log
            .of_this_sheet()
            .filter_map(|entry| match &entry.told {
                Told::Known(Kind::OtherWay { of, mesh }) => Some((*of, mesh.as_deref())),
                _ => None,
            })
            .collect();
        let mut reader = Reader {
            movement: self.movement,
            n: 0,
            out: BTreeSet::new(),
            hour: None,
            events: Vec::new(),
            openings: 0,
            newest: BTreeMap::new(),
            shifted: BTreeMap::new(),
        };
        let mut last = None;
        for entry in log.of_this_sheet() {
            reader.n = entry.n;
            let before = reader.events.len();
            match &entry.told {
                Told::Known(kind) => {
                    reader.take(kind, &reversed)?;
                    let new = reader.events.split_off(before);
                    reader
                        .events
                        .extend(new.into_iter().filter_map(|e| self.own(e)));
                    if reader.events.len() > before {
                        last = Some(entry.n);
                    }
                }
                Told::Unknown { kind, .. } => {
                    return Err(RecallFault::UnknownKind {
                        n: entry.n,
                        kind: kind.clone(),
                    });
                }
            }
        }
        let Reader {
            out,
            hour,
            events,
            openings,
            mut newest,
            ..
        } = reader;
        let (before, since) = events.split_at(last_shift(&events).unwrap_or(0));
        let until_then = self.go_over(self.start(), before, None);
        let round = last_round(self.movement, log);
        let handled = self.handled(&until_then, since, &round);
        let belief = self.go_over(until_then, since, None);
        let readable = self.readable(&out, hour);
        let last_look = match events.last() {
            Some(Event::Look(readings, _)) => readings.clone(),
            _ => Vec::new(),
        };
        let (bent, eye) = self.suspected(&events, &belief);
        Ok(Recalled {
            handled,
            round,
            bent,
            eye: self.priors.eye.shown(&eye),
            belief,
            readable,
            out: out.into_iter().collect(),
            hour,
            last_look,
            newest: (self.timed().iter())
                .map(|id| (*id, newest.remove(id)))
                .collect(),
            openings,
            timed: self.timed().to_vec(),
            last,
        })
    }

    /// What of an event concerns the train that is timed.
    fn own(&self, event: Event) -> Option<Event> {
        let at = |mesh: MeshId| self.is_of(self.movement.mesh(mesh).driver.arbor);
        match event {
            Event::Look(mut readings, tension) => {
                readings.retain(|reading| self.timed().contains(&reading.witness));
                (!readings.is_empty()).then_some(Event::Look(readings, tension))
            }
            Event::Shift(n, mut meshes) => {
                meshes.retain(|(mesh, ..)| at(*mesh));
                (!meshes.is_empty()).then_some(Event::Shift(n, meshes))
            }
            Event::Moved(mesh, _) => at(mesh).then_some(event),
            Event::Lost(arbor) => self.is_of(arbor).then_some(event),
            Event::Bent(witness, ..) => self.timed().contains(&witness).then_some(event),
        }
    }

    /// All events in turn; `known` says how one mesh of one shift was handled.
    fn go_over(
        &self,
        mut belief: Belief,
        events: &[Event],
        known: Option<(usize, MeshId, Handling)>,
    ) -> Belief {
        for (i, event) in events.iter().enumerate() {
            match event {
                Event::Look(readings, tension) => self.look(&mut belief, readings, *tension),
                Event::Shift(_, meshes) => {
                    for &(mesh, teeth, handling) in meshes {
                        let known = known
                            .filter(|(at, m, _)| (*at, *m) == (i, mesh))
                            .map(|(.., handling)| handling);
                        let likely = self.shift_one(&mut belief, mesh, teeth, known.or(handling));
                        if known.is_some() {
                            belief.fit += libm::log(likely);
                        }
                    }
                }
                Event::Moved(mesh, teeth) => self.moved(&mut belief, *mesh, *teeth),
                Event::Lost(arbor) => self.jumped(&mut belief, *arbor),
                Event::Bent(witness, by, spread) => self.bent(&mut belief, *witness, *by, *spread),
            }
        }
        belief
    }

    /// Witnesses whose arbors are in, and that are no slot while the lever lies in the long one.
    fn readable(&self, out: &BTreeSet<ArborId>, hour: Option<u8>) -> Vec<WitnessId> {
        let long = hour.is_some_and(|hour| LONG_SLOT.contains(&hour));
        (self.movement.witnesses())
            .filter(|(_, witness)| {
                let moment = self.movement.moment(witness.at).arbor;
                let is_out = out.contains(&witness.on) || out.contains(&moment);
                let unreadable = is_out || (long && is_slot(self.movement, witness));
                !unreadable
            })
            .map(|(id, _)| id)
            .collect()
    }

    /// How each mesh of the last shift of which nobody has said was handled, if it was looked at since: by what was believed
    /// until then, and what happened from that shift on.
    fn handled(&self, until_then: &Belief, since: &[Event], round: &[Shifted]) -> Vec<Handled> {
        let Some(Event::Shift(entry, meshes)) = since.first() else {
            return Vec::new();
        };
        if !since.iter().any(|e| matches!(e, Event::Look(..))) {
            return Vec::new();
        }
        if meshes.iter().all(|(.., told)| told.is_some()) {
            return Vec::new();
        }
        meshes
            .iter()
            .zip(1..)
            .filter(|((.., told), _)| told.is_none())
            .map(|(&(mesh, ..), nth)| {
                let fits: Vec<f64> = [Handling::AsSaid, Handling::OtherWay, Handling::Slipped]
                    .iter()
                    .map(|handling| {
                        self.go_over(until_then.clone(), since, Some((0, mesh, *handling)))
                            .fit
                    })
                    .collect();
                let shares = shares(&fits);
                let in_round = (round.iter()).position(|s| s.entry == *entry && s.mesh == mesh);
                Handled {
                    mesh,
                    nth: match in_round {
                        Some(at) => (at + 1, round.len()),
                        None => (nth, meshes.len()),
                    },
                    as_said: Chance::of(shares[0]),
                    other_way: Chance::of(shares[1]),
                    slipped: Chance::of(shares[2]),
                }
            })
            .collect()
    }

    /// How likely each witness's lever is bent, and what all that was seen shows of the eye: how well it fits if nothing is known
    /// of that witness beforehand, against how well it fits a sound movement, each with any eye. A rough eye is off by another
    /// amount at each look, a bent lever by the same.
    fn suspected(&self, events: &[Event], sound: &Belief) -> (Vec<(WitnessId, Chance)>, Eye) {
        let ids = self.timed().to_vec();
        let prior = self.priors.bent.get();
        let looked = events.iter().any(|e| matches!(e, Event::Look(..)));
        if ids.is_empty() || !looked || prior <= 0.0 {
            return (Vec::new(), sound.eye());
        }
        let each = prior / ids.len() as f64;
        let (events, set_right) = told_since(events);
        let fit = if set_right.is_empty() {
            sound.fit
        } else {
            // A lever that was bent may have been right before, or may have been set right by it.
            let as_told = self.go_over(self.start(), &events, None).fit;
            let right = self.go_over(self.start(), &set_right, None).fit;
            let most = as_told.max(right);
            let both = libm::exp(as_told - most) + libm::exp(right - most);
            most + libm::log(0.5 * both)
        };
        let mut fits = vec![fit + libm::log(1.0 - prior)];
        let mut eyes = vec![sound.eye()];
        for id in &ids {
            let belief = self.go_over(self.start_doubting(Some(*id)), &events, None);
            fits.push(belief.fit + libm::log(each));
            eyes.push(belief.eye());
        }
        let shares = shares(&fits);
        let bent = (ids.into_iter())
            .zip(shares[1..].iter().map(|share| Chance::of(*share)))
            .collect();
        (bent, Eye::mixed(&eyes, &shares))
    }
}

/// Where the last shift stands.
fn last_shift(events: &[Event]) -> Option<usize> {
    (events.iter()).rposition(|event| matches!(event, Event::Shift(..)))
}

/// All events but what was read of a witness before its lever was bent or its part turned: that told of the lever as it was.
/// Beside it the same as if that had brought each of them right; empty where none was.
fn told_since(events: &[Event]) -> (Vec<Event>, Vec<Event>) {
    let mut last: BTreeMap<WitnessId, usize> = BTreeMap::new();
    for (i, event) in events.iter().enumerate() {
        if let Event::Bent(id, ..) = event {
            last.insert(*id, i);
        }
    }
    if last.is_empty() {
        return (events.to_vec(), Vec::new());
    }
    let told: Vec<Event> = (events.iter().enumerate())
        .filter_map(|(i, event)| match event {
            Event::Look(readings, tension) => {
                let mut readings = readings.clone();
                readings.retain(|r| last.get(&r.witness).is_none_or(|bent| *bent < i));
                (!readings.is_empty()).then_some(Event::Look(readings, *tension))
            }
            other => Some(other.clone()),
        })
        .collect();
    let right = (told.iter().cloned())
        .map(|event| match event {
            Event::Bent(id, _, spread) => Event::Bent(id, 0.0, spread),
            other => other,
        })
        .collect();
    (told, right)
}

/// What each share of the whole is, from logarithms.
fn shares(logs: &[f64]) -> Vec<f64> {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !most.is_finite() {
        return vec![1.0 / logs.len() as f64; logs.len()];
    }
    let parts: Vec<f64> = logs.iter().map(|log| libm::exp(log - most)).collect();
    let whole: f64 = parts.iter().sum();
    parts.into_iter().map(|part| part / whole).collect()
}

/// Goes over entries, finds what they name, and keeps what is in and out.
struct Reader<'a> {
    movement: &'a Movement,
    n: usize,
    out: BTreeSet<ArborId>,
    hour: Option<u8>,
    events: Vec<Event>,
    openings: usize,
    /// What was read of each witness since anything last moved in its train.
    newest: BTreeMap<WitnessId, Reading>,
    /// The arbors that each shift moved, by its entry.
    shifted: BTreeMap<usize, Vec<ArborId>>,
}

impl Reader<'_> {
    /// Something moved in the train of an arbor: what was read there before tells no more how it stands.
    fn stir(&mut self, arbor: ArborId) {
        let movement = self.movement;
        self.newest
            .retain(|id, _| !movement.same_train(movement.witness(*id).on, arbor));
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
    fn take(&mut self, kind: &Kind, reversed: &[(usize, Option<&str>)]) -> Result<(), RecallFault> {
        match kind {
            Kind::Look { tension, readings } => {
                let readings = readings
                    .iter()
                    .map(|reading| self.reading(reading))
                    .collect::<Result<Vec<_>, _>>()?;
                let tension = match tension {
                    entries::Tension::Tensioned => Tension::Tensioned,
                    entries::Tension::Slack => Tension::Slack,
                };
                for reading in &readings {
                    self.newest.insert(reading.witness, reading.clone());
                }
                self.events.push(Event::Look(readings, tension));
            }
            Kind::Shift(meshes) => {
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
                let spread = meshes.iter().any(|(mesh, ..)| {
                    self.movement.mesh(*mesh).reached == movement::Reached::Plates
                });
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
            Kind::OtherWay { of, mesh } => {
                let one = mesh.as_ref().and_then(|mesh| self.movement.find_mesh(mesh));
                let one = one.map(|mesh| vec![self.movement.mesh(mesh).driver.arbor]);
                let all = || self.shifted.get(of).cloned().unwrap_or_default();
                for arbor in one.unwrap_or_else(all) {
                    self.stir(arbor);
                }
            }
            Kind::Slipped(at) => {
                let (mesh, teeth) = self.at_mesh(at)?;
                self.stir(self.movement.mesh(mesh).driver.arbor);
                self.events.push(Event::Moved(mesh, teeth));
            }
            Kind::Jumped { arbor } => {
                let arbor = self.arbor(arbor)?;
                self.lost(arbor);
            }
            Kind::Bent(moved) | Kind::Turned(moved) => self.bent(moved)?,
            Kind::ArborOut { arbor } => {
                let arbor = self.arbor(arbor)?;
                self.out.insert(arbor);
                self.lost(arbor);
            }
            Kind::ArborIn { arbor } => {
                let arbor = self.arbor(arbor)?;
                self.out.remove(&arbor);
                self.lost(arbor);
            }
            Kind::Struck { hour } => self.hour = Some(*hour),
            // Nor is the train timed by anything that concerns the job as a whole.
            Kind::Undo { .. } | Kind::Work(_) => {}
        }
        Ok(())
    }

    /// An arbor's place at its meshes is lost.
    fn lost(&mut self, arbor: ArborId) {
        self.stir(arbor);
        self.events.push(Event::Lost(arbor));
    }

    fn bent(&mut self, moved: &Moved) -> Result<(), RecallFault> {
        let id = self.witness(&moved.witness)?;
        self.stir(self.movement.witness(id).on);
        let by = moved.deg.degrees().to_f64();
        // Bent or turned by eye: to a tenth of what it was, unless more is known. Common practice, no source.
        let spread =
            (moved.spread.as_ref()).map_or(0.1 * by.abs(), |spread| to_f64(spread.exact()));
        self.events.push(Event::Bent(id, by, spread));
        Ok(())
    }

    fn reading(&self, reading: &entries::Reading) -> Result<Reading, RecallFault> {
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
            && is_slot(self.movement, witness)
        {
            return Err(RecallFault::LongSlot {
                n: self.n,
                witness: reading.witness.clone(),
                hour,
            });
        }
        let said = self.said(&reading.seen)?;
        read(self.movement, id, &said).map_err(|fault| RecallFault::Reading {
            n: self.n,
            witness: reading.witness.clone(),
            fault,
        })
    }

    fn said(&self, seen: &Seen) -> Result<Said, RecallFault> {
        Ok(match seen {
            Seen::Number { deg, spread } => Said::Degrees(
                deg.degrees(),
                spread.as_ref().map(|spread| spread.exact().clone()),
            ),
            Seen::Look { look } => Said::Look(match look {
                Sight::In => Look::In,
                Sight::EdgeShort => Look::EdgeShort,
                Sight::EdgeAhead => Look::EdgeAhead,
                Sight::Rim => Look::Rim,
            }),
            Seen::Teeth { teeth, of } => {
                let part = self
                    .movement
                    .find_part(of)
                    .ok_or_else(|| self.unknown(of))?;
                Said::Teeth(teeth.exact().clone(), Some(part))
            }
            Seen::Clock { oclock, from } => Said::Oclock(
                oclock.hours(),
                match from {
                    entries::Plate::Front => Plate::Front,
                    entries::Plate::Back => Plate::Back,
                },
            ),
        })
    }
}
