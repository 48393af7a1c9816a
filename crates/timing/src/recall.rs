//! A log gone over from its start: what is believed now, and what was made of the last shift.

use crate::belief::Belief;
use crate::bench::{Bench, Tension};
use crate::events::{Event, LONG_SLOT, Reader, RecallFault, is_lost_in_the_long_slot};
use crate::eye::{Eye, Shown};
use crate::hands::Handling;
use crate::reading::Reading;
use crate::rest::StandsAtRest;
use crate::round::{Shifted, last_round};
use crate::runs::{Along, Course, Reached, Runs};
use entries::{EntryContent, EntryKind, Log};
use movement::{ArborId, MeshId, WitnessId};
use quantity::Chance;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

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
    /// The readings of the last look, if nothing was moved since; what was read at rest as it stood at the drop, by where what locks
    /// is now believed to have stood.
    pub last_look: Vec<Reading>,
    /// Each look at rest by the number of its entry: its readings as they stood at the drop, by what was believed when it was entered.
    pub at_rest: Vec<(usize, Vec<Reading>)>,
    /// Whether a part was turned on its arbor last, and nothing was read since.
    pub turned_unseen: bool,
    /// The newest reading of each witness of what is timed, brought to its moment as those of the last look, where anything was read of it since something last moved in its
    /// train.
    pub newest: Vec<(WitnessId, Option<Reading>)>,
    /// What locks, and was read since anything last moved in its train, but only at rest: through its notch. So it is inferred where it
    /// stood, as nobody saw it there.
    pub inferred: Vec<WitnessId>,
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
    /// How it was come to, to go on from.
    runs: Arc<Runs>,
}

impl Bench<'_> {
    /// Goes over a log.
    ///
    /// # Errors
    /// The first entry that cannot be summed up, and why.
    pub fn recall(&self, log: &Log) -> Result<Recalled, RecallFault> {
        self.recall_along(log, &Runs::default())
    }

    /// The same of a log of which this very bench made `before` when it was shorter: only what is further in it takes time. Where
    /// something of it was taken back or told otherwise since, it is gone over from where one was before that.
    ///
    /// # Errors
    /// As [`Bench::recall`].
    pub fn recall_further(&self, log: &Log, before: &Recalled) -> Result<Recalled, RecallFault> {
        self.recall_along(log, &before.runs)
    }

    fn recall_along(&self, log: &Log, before: &Runs) -> Result<Recalled, RecallFault> {
        let reversed: Vec<(usize, Option<&str>)> = log
            .of_this_sheet()
            .filter_map(|entry| match &entry.told {
                EntryContent::Known(EntryKind::OtherWay { of, mesh }) => {
                    Some((*of, mesh.as_deref()))
                }
                _ => None,
            })
            .collect();
        let mut reader = Reader::of(&self.movement, &self.rest);
        let mut last = None;
        let mut looked = Vec::new();
        let sheet = log.sheet().map_or(0, |sheet| sheet.n);
        for entry in log.of_this_sheet() {
            reader.n = entry.n;
            reader.binding = entry.n > sheet;
            let before = reader.events.len();
            match &entry.told {
                EntryContent::Known(kind) => {
                    match reader.take(kind, &reversed) {
                        Err(_) if !reader.binding => continue,
                        taken => taken?,
                    }
                    let new = reader.events.split_off(before);
                    let new: Vec<Event> = new.into_iter().filter_map(|e| self.own(e)).collect();
                    if !new.is_empty() {
                        last = Some(entry.n);
                    }
                    for event in new {
                        let at_rest = matches!(event, Event::Look(_, Tension::AtRest));
                        reader.happened(event);
                        looked.extend(at_rest.then_some((entry.n, reader.events.len())));
                    }
                }
                EntryContent::Unknown { kind, .. } => {
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
            seen_itself,
            ..
        } = reader;
        let shift = last_shift(&events);
        let all = events.len();
        let mut along = Along::of(self, events, before);
        let sound = Course::default();
        let at_rest = self.looks_at_rest(&mut along, &looked);
        let until_then = along.bring(sound, along.start(sound), shift.unwrap_or(0));
        let round = last_round(&self.movement, log);
        let handled = self.handled(&mut along, &until_then, &round);
        let belief = along.bring(sound, until_then, all).belief;
        let readable = self.readable(&out, hour);
        let last_look = match along.events().last() {
            Some(Event::Look(readings, tension)) => (readings.iter())
                .map(|reading| self.at_its_moment(&belief, reading, *tension))
                .collect(),
            _ => Vec::new(),
        };
        let locks = |id: &&WitnessId| {
            matches!(self.rest.at_rest(**id), StandsAtRest::Locks { .. })
                && newest.contains_key(*id)
                && !seen_itself.contains(*id)
        };
        let inferred = self.timed().iter().filter(locks).copied().collect();
        let newest = (self.timed().iter())
            .map(|id| {
                let newest = newest.remove(id);
                let brought = |(reading, tension)| self.at_its_moment(&belief, &reading, tension);
                (*id, newest.map(brought))
            })
            .collect();
        let turned_unseen = matches!(along.events().last(), Some(Event::Turned(_)));
        let (bent, eye) = self.suspected(&mut along, &belief);
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
            at_rest,
            turned_unseen,
            newest,
            inferred,
            openings,
            timed: self.timed().to_vec(),
            last,
            runs: Arc::new(along.runs()),
        })
    }

    /// The readings of looks at rest, each brought to its moment by what was believed right after it; a look is told by the number of its
    /// entry and how many things had happened with it.
    fn looks_at_rest(
        &self,
        along: &mut Along<'_>,
        looked: &[(usize, usize)],
    ) -> Vec<(usize, Vec<Reading>)> {
        let sound = Course::default();
        let mut reached = along.start(sound);
        let mut looks = Vec::new();
        for &(n, gone) in looked {
            reached = along.bring(sound, reached, gone);
            if let Some(Event::Look(readings, tension)) = along.events().get(gone - 1) {
                let brought = readings
                    .iter()
                    .map(|reading| self.at_its_moment(&reached.belief, reading, *tension));
                looks.push((n, brought.collect()));
            }
        }
        looks
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
            Event::Turned(mut moves) => {
                moves.retain(|(id, ..)| self.timed().contains(id));
                (!moves.is_empty()).then_some(Event::Turned(moves))
            }
        }
    }

    /// Witnesses whose arbors are in, and that are no slot while the lever lies in the long one.
    fn readable(&self, out: &BTreeSet<ArborId>, hour: Option<u8>) -> Vec<WitnessId> {
        let long = hour.is_some_and(|hour| LONG_SLOT.contains(&hour));
        (self.movement.witnesses())
            .filter(|(_, witness)| {
                let moment = self.movement.moment(witness.at).arbor;
                let is_out = out.contains(&witness.on) || out.contains(&moment);
                let lost = long && is_lost_in_the_long_slot(&self.movement, witness);
                let unreadable = is_out || lost;
                !unreadable
            })
            .map(|(id, _)| id)
            .collect()
    }

    /// How each mesh of the last shift of which nobody has said was handled, if it was looked at since: by what was believed
    /// until then, and what happened from that shift on.
    fn handled(
        &self,
        along: &mut Along<'_>,
        until_then: &Reached,
        round: &[Shifted],
    ) -> Vec<Handled> {
        let (at, all) = (until_then.gone, along.events().len());
        let since = &along.events()[at..];
        let Some(Event::Shift(entry, meshes)) = since.first().cloned() else {
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
                let likelihoods: Vec<f64> =
                    [Handling::AsSaid, Handling::OtherWay, Handling::Slipped]
                        .iter()
                        .map(|handling| {
                            let course = Course {
                                known: Some((at, mesh, *handling)),
                                ..Course::default()
                            };
                            along
                                .bring(course, until_then.clone(), all)
                                .belief
                                .log_likelihood
                        })
                        .collect();
                let shares = shares(&likelihoods);
                let in_round = (round.iter()).position(|s| s.entry == entry && s.mesh == mesh);
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
    fn suspected(&self, along: &mut Along<'_>, sound: &Belief) -> (Vec<(WitnessId, Chance)>, Eye) {
        let ids = self.timed();
        let prior = self.priors.bent.get();
        let looked = (along.events().iter()).any(|e| matches!(e, Event::Look(..)));
        if ids.is_empty() || !looked || prior <= 0.0 {
            return (Vec::new(), sound.eye());
        }
        let (likelihood, doubting) = match self.told_since(along.events()) {
            None => (sound.log_likelihood, self.doubting(along)),
            Some((told, set_right)) => {
                let anew = Runs::default();
                let mut told = Along::of(self, told, &anew);
                let mut set_right = Along::of(self, set_right, &anew);
                // A lever that was bent may have been right before, or may have been set right by it.
                let as_told = told.whole(Course::default()).log_likelihood;
                let right = set_right.whole(Course::default()).log_likelihood;
                let most = as_told.max(right);
                let both = libm::exp(as_told - most) + libm::exp(right - most);
                (most + libm::log(0.5 * both), self.doubting(&mut told))
            }
        };
        let each = libm::log(prior / ids.len() as f64);
        let sound = (likelihood + libm::log(1.0 - prior), sound.eye());
        let doubting = doubting
            .into_iter()
            .map(|(likelihood, eye)| (likelihood + each, eye));
        let (likelihoods, eyes): (Vec<f64>, Vec<Eye>) =
            std::iter::once(sound).chain(doubting).unzip();
        let shares = shares(&likelihoods);
        let bent = (ids.iter().copied())
            .zip(shares[1..].iter().map(|share| Chance::of(*share)))
            .collect();
        (bent, Eye::mixed(&eyes, &shares))
    }

    /// All events but what was read of a witness before its lever was bent or its part turned: that told of the lever as it was.
    /// Beside it the same as if that had brought each of them right. Nothing where none was: then all of them tell.
    fn told_since(&self, events: &[Event]) -> Option<(Vec<Event>, Vec<Event>)> {
        let mut last: BTreeMap<WitnessId, usize> = BTreeMap::new();
        for (i, event) in events.iter().enumerate() {
            let moved = match event {
                Event::Bent(id, ..) => vec![*id],
                Event::Turned(moves) => moves.iter().map(|(id, ..)| *id).collect(),
                _ => Vec::new(),
            };
            last.extend(moved.into_iter().map(|id| (id, i)));
        }
        if last.is_empty() {
            return None;
        }
        let told: Vec<Event> = (events.iter().enumerate())
            .filter_map(|(i, event)| match event {
                Event::Look(readings, tension) => {
                    let mut readings = readings.clone();
                    let since = |id: &WitnessId| last.get(id).is_none_or(|bent| *bent < i);
                    // What was read at rest tells of what locked it too.
                    let told = |id: &WitnessId| match (tension, self.rest.at_rest(*id)) {
                        (Tension::AtRest, StandsAtRest::WithLock { lock, .. }) => {
                            since(id) && since(lock)
                        }
                        _ => since(id),
                    };
                    readings.retain(|r| told(&r.witness));
                    (!readings.is_empty()).then_some(Event::Look(readings, *tension))
                }
                other => Some(other.clone()),
            })
            .collect();
        let right = (told.iter().cloned())
            .map(|event| match event {
                Event::Bent(id, _, spread) => Event::Bent(id, 0.0, spread),
                Event::Turned(moves) => {
                    let still = moves.into_iter().map(|(id, _, spread)| (id, 0.0, spread));
                    Event::Turned(still.collect())
                }
                other => other,
            })
            .collect();
        Some((told, right))
    }

    /// How well what happened fits, and with which eye, for each witness that is timed if nothing is known of it beforehand.
    fn doubting(&self, along: &mut Along<'_>) -> Vec<(f64, Eye)> {
        (self.timed().iter())
            .map(|id| {
                let belief = along.whole(Course {
                    doubting: Some(*id),
                    ..Course::default()
                });
                (belief.log_likelihood, belief.eye())
            })
            .collect()
    }
}

/// Where the last shift stands.
fn last_shift(events: &[Event]) -> Option<usize> {
    (events.iter()).rposition(|event| matches!(event, Event::Shift(..)))
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
