//! Where a witness stands by its own scale as the works have it, and where it would stand best.

use super::raw::RawEnd;
use super::turned::Turnable;
use super::window::BestBy;
use crate::machine::Path;
use crate::points::{BEST_LEAD, BEST_RUN};
use crate::{Hour, Struck};
use movement::{ArborId, DROP, Unjudged, WitnessDrawing};
use quantity::{Degrees, Exact, fraction, whole};

/// The works, and how they strike as they are.
pub(super) struct Scale<'a, 'm> {
    pub(super) works: &'a Turnable<'m>,
    pub(super) struck: &'a Struck,
}

impl Scale<'_, '_> {
    /// Where the works have it. Where a best place is written, that is there; else place 0 is where it is meant to be, but for a pin
    /// that an arm stops: its place 0 is at the arm, so that it stands short of it by what it still has to go.
    pub(super) fn meant(&self, witness: &Unjudged) -> Degrees {
        if let Some(best) = &witness.best {
            return best.clone();
        }
        let zero = Degrees::zero();
        if witness.kind.looks != WitnessDrawing::Stop {
            return zero;
        }
        if self.is_at_the_drop(witness) {
            let to_go = self.to_go(witness);
            return to_go.map_or(zero, |to_go| -&to_go);
        }
        // At rest a warning pin is short of its arm by its run; every other pin is at its own.
        let run = match self.is_locked(witness.on) {
            true => None,
            false => middle(&self.runs(witness.on)),
        };
        run.map_or(zero, |run| -&Degrees::turns(&run))
    }

    /// Whether it is judged as its train drops: for the train that is read at the drop that moment, for another its first.
    fn is_at_the_drop(&self, witness: &Unjudged) -> bool {
        let movement = self.works.movement;
        let moment = movement.moment(witness.at);
        let anchor = movement.anchor(moment.arbor);
        let first = (movement.moments().iter()).position(|m| movement.same_train(m.arbor, anchor));
        moment.id == DROP || first == Some(witness.at.index())
    }

    /// Degrees that a pin of its arbor has still to go to its arm as the train drops: a locking arm, if any stops it, else a warning one.
    fn to_go(&self, witness: &Unjudged) -> Option<Degrees> {
        let machine = &self.works.machine;
        let arms = || machine.arms.iter().filter(|arm| arm.on == witness.on);
        let locks = arms().find(|arm| !matches!(arm.path, Path::Above(_)));
        let arm = locks.or(arms().next())?;
        let first = *arm.places.first()?;
        Some(self.works.degrees(witness.on, first))
    }

    /// Whether a locking arm stops a pin of an arbor.
    fn is_locked(&self, on: ArborId) -> bool {
        let arms = &self.works.machine.arms;
        arms.iter()
            .any(|arm| arm.on == on && !matches!(arm.path, Path::Above(_)))
    }

    /// The warning runs of pins of an arbor, in turns of it.
    fn runs(&self, on: ArborId) -> Vec<Exact> {
        let works = self.works.movement.works();
        let hours = self.struck.hours.iter();
        let warned = hours.flat_map(|hour| [&hour.warned, &hour.chime_warned]);
        let of_arbor = warned.flatten().filter(|warned| {
            works.is_some_and(|works| {
                let stops = works.lever(warned.by).stops();
                stops.is_some_and(|stops| works.pin(stops.pin).on == on)
            })
        });
        of_arbor.map(|warned| warned.turns.clone()).collect()
    }

    /// The leads of pins of an arbor.
    fn leads(&self, on: ArborId) -> Vec<Degrees> {
        let works = self.works.movement.works();
        let hours = self.struck.hours.iter();
        let locks = hours.flat_map(|hour: &Hour| [&hour.lock, &hour.chime_lock]);
        let of_arbor = locks.flatten().filter_map(|lock| {
            let pin = works?.pin(lock.pin?);
            (pin.on == on).then_some(lock.lead.clone()?)
        });
        of_arbor.collect()
    }

    /// Where it should stand, by its own scale: what is written; what practice says, if that is good; where the works have it.
    pub(super) fn best(
        &self,
        witness: &Unjudged,
        meant: &Degrees,
        ends: Option<&[RawEnd; 2]>,
    ) -> (Degrees, BestBy) {
        if witness.best.is_some() {
            return (meant.clone(), BestBy::Written);
        }
        let within = |by: &Degrees| {
            let Some(ends) = ends else {
                return true;
            };
            let ticks = self.works.ticks(witness.on, by);
            let [from, to] = ends.each_ref().map(|end| end.at);
            (from < ticks && ticks < to)
                || (from == ticks && ends[0].inside)
                || (to == ticks && ends[1].inside)
        };
        match self.practice(witness).filter(within) {
            Some(by) => (meant + &by, BestBy::Practice),
            None => (meant.clone(), BestBy::Works),
        }
    }

    /// How far practice would have it turned on from where the works have it. Common practice, no source.
    fn practice(&self, witness: &Unjudged) -> Option<Degrees> {
        match witness.kind.looks {
            // The count lever's tip over the middle of its slot: there the works have it.
            WitnessDrawing::Slots => Some(Degrees::zero()),
            WitnessDrawing::Stop => self.best_of_pin(witness),
            WitnessDrawing::Pins => self.just_let_go(witness),
            WitnessDrawing::Steps => self.middle_of_step(witness),
            WitnessDrawing::Vane | WitnessDrawing::Plain => None,
        }
    }

    /// A locking pin a fifth of a turn from its arm as the lever drops; a warning pin half a turn from its arm at rest.
    fn best_of_pin(&self, witness: &Unjudged) -> Option<Degrees> {
        let on = witness.on;
        if self.is_locked(on) {
            let least = self.leads(on).into_iter().min()?;
            return Some(&least - &Degrees::turns(&fraction(BEST_LEAD.0, BEST_LEAD.1)));
        }
        let best = fraction(BEST_RUN.0, BEST_RUN.1);
        let run = middle(&self.runs(on))?;
        Some(Degrees::turns(&(run - best)))
    }

    /// A hammer's tail just let go: at least a quarter of the pitch short of the next pin as the lever drops; where the works have it
    /// farther from it, there.
    fn just_let_go(&self, witness: &Unjudged) -> Option<Degrees> {
        if !self.is_at_the_drop(witness) {
            return None;
        }
        let machine = &self.works.machine;
        let hammers = || (machine.feelers.iter()).filter(|f| f.hammer && f.on == Some(witness.on));
        let one = hammers().next()?;
        // Of hammers that share the blows between them none says where all of them should be.
        if hammers().any(|other| other.voice_of != one.voice_of) {
            return None;
        }
        let pitch = hammers().map(|hammer| hammer.pitch()).min()?;
        let rises = hammers().flat_map(|hammer| hammer.marks.iter().filter(|mark| mark.rises));
        let first = rises.map(|mark| mark.tick).min()?;
        let back = (first - pitch / 4).min(0);
        (back < 0).then(|| self.works.degrees(witness.on, back))
    }

    /// The rack's tail in the middle of its step as it falls.
    fn middle_of_step(&self, witness: &Unjudged) -> Option<Degrees> {
        let works = self.works.movement.works()?;
        let snail = works.track(works.rack()?.snail);
        if snail.carrier != movement::Carrier::Arbor(witness.on) {
            return None;
        }
        let fallen = || {
            self.struck
                .hours
                .iter()
                .filter_map(|hour| hour.fallen.as_ref())
        };
        let short = fallen().map(|fall| &fall.edge_short).min()?;
        let ahead = fallen().map(|fall| &fall.edge_ahead).min()?;
        Some(&(ahead - short) * &fraction(1, 2))
    }
}

/// Half way between the least and the greatest.
fn middle(all: &[Exact]) -> Option<Exact> {
    let (least, greatest) = (all.iter().min()?, all.iter().max()?);
    Some((least + greatest) / whole(2))
}
