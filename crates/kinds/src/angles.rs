//! Angles as parts of a blow, of a turn, of an hour, or of what was measured.

use crate::kind::{AngleUnit, Proportion, Term, TrainStepBy};
use crate::places::known;
use crate::role::{StrikeWork, first, places};
use crate::train::{PartName, Trains};
use crate::works::works;
use crate::{Kind, WorkRole};
use num_traits::Zero;
use quantity::{Exact, Teeth, fraction, whole};
use sheet::SheetTable;
use sheet::edit::{SheetText, TableAt};

/// What is needed of a text to work its angles out, and stays as it is while counts and angles are written into it.
pub(crate) struct Angles {
    step: TrainStepBy,
    pub(crate) works: Vec<StrikeWork>,
    pub(crate) trains: Trains,
}

/// The usual count of a part, where it is known.
pub(crate) type Usual<'t> = &'t dyn Fn(&PartName) -> Option<Teeth>;

/// A text in which counts that are wanting are taken as they usually are.
#[derive(Clone, Copy)]
pub(crate) struct Counts<'t> {
    pub(crate) text: &'t SheetText,
    pub(crate) usual: Usual<'t>,
}

impl Counts<'_> {
    fn of(self, part: &PartName) -> Option<Exact> {
        let written = known(self.text.count(&part.0, &part.1));
        let teeth = written.or_else(|| (self.usual)(part))?;
        Some(whole(teeth.get().into()))
    }
}

impl Angles {
    pub(crate) fn of(text: &SheetText, kind: &Kind) -> Angles {
        Angles {
            step: kind.step,
            works: works(text),
            trains: Trains::of(text),
        }
    }

    /// Turns of one arbor in one turn of another.
    fn turns(&self, counts: Counts<'_>, from: &str, to: &str) -> Option<Exact> {
        self.trains.turns(from, to, &|part| counts.of(part))
    }

    /// What an arbor turns in a blow, in turns: what lifts the hammer has as many places as it gives blows in a turn.
    pub(crate) fn true_blow(&self, counts: Counts<'_>, arbor: &str) -> Option<Exact> {
        self.step_of(counts, first(&self.works, WorkRole::Lifters)?, arbor)
    }

    /// What the train of an arbor goes on by.
    pub(crate) fn stepped_by(&self, arbor: &str) -> Option<&StrikeWork> {
        let by: &[WorkRole] = match self.step {
            TrainStepBy::Blow => &[WorkRole::Lifters, WorkRole::ChimeCountWheel],
            TrainStepBy::Place => &[WorkRole::CountWheel, WorkRole::ChimeCountWheel],
        };
        let mut by = by.iter().filter_map(|role| first(&self.works, *role));
        by.find(|work| {
            let on = work.on.as_ref();
            on.is_some_and(|on| self.trains.way(on, arbor).is_some())
        })
    }

    /// What an arbor turns in a step of its train, in turns.
    pub(crate) fn blow(&self, counts: Counts<'_>, arbor: &str) -> Option<Exact> {
        self.step_of(counts, self.stepped_by(arbor)?, arbor)
    }

    fn step_of(&self, counts: Counts<'_>, by: &StrikeWork, arbor: &str) -> Option<Exact> {
        let steps = places(counts.text, by).filter(|steps| !steps.is_zero())?;
        Some(self.turns(counts, by.on.as_ref()?, arbor)? / steps)
    }

    fn term(&self, counts: Counts<'_>, term: &Term, own: &StrikeWork) -> Option<Exact> {
        let of = match term.at {
            Some(role) => first(&self.works, role)?,
            None => own,
        };
        let angle = match (&term.key, term.unit) {
            (Some(key), _) => counts.text.get(&of.at, key)?.list().first()?.number()?,
            (None, Some(AngleUnit::Turn)) => whole(360),
            (None, Some(AngleUnit::Hour)) => whole(360) / of.hours.clone()?,
            (None, Some(AngleUnit::Blow)) => self.blow(counts, of.on.as_ref()?)? * whole(360),
            (None, None) => return None,
        };
        let turns = match (&of.on, &own.on) {
            (Some(from), Some(to)) if from != to => self.turns(counts, from, to)?,
            _ => whole(1),
        };
        let [part, of] = term.part;
        Some(angle * turns * fraction(part, of))
    }

    fn sum(&self, counts: Counts<'_>, terms: &[Term], own: &StrikeWork) -> Option<Exact> {
        let mut sum = Exact::zero();
        for term in terms {
            sum += self.term(counts, term, own)?;
        }
        Some(sum)
    }

    /// The usual angle, to the tenth of a degree; nothing where a count that it needs is not known.
    pub(crate) fn usual(
        &self,
        counts: Counts<'_>,
        proportion: &Proportion,
        nth: usize,
        own: &StrikeWork,
    ) -> Option<Exact> {
        let or = || (!proportion.or.is_empty()).then(|| self.sum(counts, &proportion.or, own));
        let mut angle = self.sum(counts, &proportion.is, own).or_else(|| or()?)?;
        if let Some(least) = self.sum(counts, &proportion.at_least, own)
            && !proportion.at_least.is_empty()
        {
            angle = angle.max(least);
        }
        if let Some(each) = &proportion.each {
            angle += self.term(counts, each, own)? * whole(i64::try_from(nth).ok()?);
        }
        if matches!(own.at, TableAt::Nth(SheetTable::Pin, _)) {
            angle = turned(&angle);
        }
        Some((angle * whole(10)).round() / whole(10))
    }
}

pub(crate) fn turned(angle: &Exact) -> Exact {
    angle - (angle / whole(360)).floor() * whole(360)
}
