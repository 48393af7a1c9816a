//! A log gone over from its start: what is believed now, and what was made of the last shift.

use crate::belief::Belief;
use crate::bench::Bench;
use crate::events::{Event, LONG_SLOT, Reader, RecallFault, is_lost_in_the_long_slot};
use crate::eye::{Eye, Shown};
use crate::hands::Handling;
use crate::reading::Reading;
use crate::round::{Shifted, last_round};
use entries::{EntryContent, EntryKind, Log};
use movement::{ArborId, MeshId, WitnessId};
use quantity::Chance;
use std::collections::{BTreeMap, BTreeSet};

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

impl Bench<'_> {
    /// Goes over a log.
    ///
    /// # Errors
    /// The first entry that cannot be summed up, and why.
    pub fn recall(&self, log: &Log) -> Result<Recalled, RecallFault> {
        let reversed: Vec<(usize, Option<&str>)> = log
            .of_this_sheet()
            .filter_map(|entry| match &entry.told {
                EntryContent::Known(EntryKind::OtherWay { of, mesh }) => {
                    Some((*of, mesh.as_deref()))
                }
                _ => None,
            })
            .collect();
        let mut reader = Reader::of(&self.movement);
        let mut last = None;
        for entry in log.of_this_sheet() {
            reader.n = entry.n;
            let before = reader.events.len();
            match &entry.told {
                EntryContent::Known(kind) => {
                    reader.take(kind, &reversed)?;
                    let new = reader.events.split_off(before);
                    reader
                        .events
                        .extend(new.into_iter().filter_map(|e| self.own(e)));
                    if reader.events.len() > before {
                        last = Some(entry.n);
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
            ..
        } = reader;
        let (before, since) = events.split_at(last_shift(&events).unwrap_or(0));
        let until_then = self.go_over(self.start(), before, None);
        let round = last_round(&self.movement, log);
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
                            belief.log_likelihood += libm::log(likely);
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
                let lost = long && is_lost_in_the_long_slot(&self.movement, witness);
                let unreadable = is_out || lost;
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
                let likelihoods: Vec<f64> =
                    [Handling::AsSaid, Handling::OtherWay, Handling::Slipped]
                        .iter()
                        .map(|handling| {
                            self.go_over(until_then.clone(), since, Some((0, mesh, *handling)))
                                .log_likelihood
                        })
                        .collect();
                let shares = shares(&likelihoods);
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
        let likelihood = if set_right.is_empty() {
            sound.log_likelihood
        } else {
            // A lever that was bent may have been right before, or may have been set right by it.
            let as_told = self.go_over(self.start(), &events, None).log_likelihood;
            let right = self.go_over(self.start(), &set_right, None).log_likelihood;
            let most = as_told.max(right);
            let both = libm::exp(as_told - most) + libm::exp(right - most);
            most + libm::log(0.5 * both)
        };
        let mut likelihoods = vec![likelihood + libm::log(1.0 - prior)];
        let mut eyes = vec![sound.eye()];
        for id in &ids {
            let belief = self.go_over(self.start_doubting(Some(*id)), &events, None);
            likelihoods.push(belief.log_likelihood + libm::log(each));
            eyes.push(belief.eye());
        }
        let shares = shares(&likelihoods);
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
