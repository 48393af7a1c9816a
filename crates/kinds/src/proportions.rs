//! What stands on a sheet as usual, worked out from its counts: angles as parts of a blow, of a turn, or of what was measured.

use crate::kind::{AngleUnit, Proportion, Term};
use crate::pattern::{Beside, read_at};
use crate::places::known;
use crate::role::{StrikeWork, first, places, works};
use crate::train::{PartName, Trains};
use crate::{Kind, WorkRole};
use num_traits::Zero;
use quantity::{Exact, fraction, whole};
use sheet::SheetTable;
use sheet::edit::{EditFault, SheetText, SheetValue, TableAt};

/// The key that lists those that stand as usual.
pub(crate) const USUAL: &str = "usual";

/// A text with what is needed to work angles out.
pub(crate) struct Angles<'t> {
    text: &'t SheetText,
    pub(crate) works: Vec<StrikeWork>,
    pub(crate) trains: Trains,
    beside: Option<&'t Beside>,
}

impl<'t> Angles<'t> {
    /// Counts that are wanting are taken as they usually are, where `beside` is given.
    pub(crate) fn of(text: &'t SheetText, beside: Option<&'t Beside>) -> Angles<'t> {
        Angles {
            text,
            works: works(text),
            trains: Trains::of(text),
            beside,
        }
    }

    fn count(&self, part: &PartName) -> Option<Exact> {
        let written = known(self.text.count(&part.0, &part.1));
        let usual = || self.beside.and_then(|beside| beside.usual(part));
        let teeth = written.or_else(usual)?;
        Some(whole(teeth.get().into()))
    }

    /// Turns of one arbor in one turn of another.
    pub(crate) fn turns(&self, from: &str, to: &str) -> Option<Exact> {
        self.trains.turns(from, to, &|part| self.count(part))
    }

    /// What an arbor turns in a blow, in turns: what lifts the hammer has as many places as it gives blows in a turn.
    pub(crate) fn blow(&self, arbor: &str) -> Option<Exact> {
        let lifters = first(&self.works, WorkRole::Lifters)?;
        let blows = places(self.text, lifters).filter(|blows| !blows.is_zero())?;
        Some(self.turns(lifters.on.as_ref()?, arbor)? / blows)
    }

    fn term(&self, term: &Term, own: &StrikeWork) -> Option<Exact> {
        let of = match term.at {
            Some(role) => first(&self.works, role)?,
            None => own,
        };
        let angle = match (&term.key, term.unit) {
            (Some(key), _) => self.text.get(&of.at, key)?.list().first()?.number()?,
            (None, Some(AngleUnit::Turn)) => whole(360),
            (None, Some(AngleUnit::Hour)) => whole(360) / of.hours.clone()?,
            (None, Some(AngleUnit::Blow)) => self.blow(of.on.as_ref()?)? * whole(360),
            (None, None) => return None,
        };
        let turns = match (&of.on, &own.on) {
            (Some(from), Some(to)) if from != to => self.turns(from, to)?,
            _ => whole(1),
        };
        let [part, of] = term.part;
        Some(angle * turns * fraction(part, of))
    }

    fn sum(&self, terms: &[Term], own: &StrikeWork) -> Option<Exact> {
        let mut sum = Exact::zero();
        for term in terms {
            sum += self.term(term, own)?;
        }
        Some(sum)
    }

    /// The usual angle, to the tenth of a degree; nothing where a count that it needs is not known.
    fn usual(&self, proportion: &Proportion, own: &StrikeWork) -> Option<Exact> {
        let or = || (!proportion.or.is_empty()).then(|| self.sum(&proportion.or, own));
        let mut angle = self.sum(&proportion.is, own).or_else(|| or()?)?;
        if let Some(least) = self.sum(&proportion.at_least, own)
            && !proportion.at_least.is_empty()
        {
            angle = angle.max(least);
        }
        if matches!(own.at, TableAt::Nth(SheetTable::Pin, _)) {
            angle = turned(&angle);
        }
        Some((angle * whole(10)).round() / whole(10))
    }
}

fn turned(angle: &Exact) -> Exact {
    angle - (angle / whole(360)).floor() * whole(360)
}

/// The keys of a table that stand as usual.
pub(crate) fn usual_keys(text: &SheetText, at: &TableAt) -> Vec<String> {
    let listed = text.get(at, USUAL);
    let keys = listed.iter().flat_map(|listed| listed.list());
    keys.filter_map(SheetValue::text)
        .map(str::to_owned)
        .collect()
}

/// Writes which keys of a table stand as usual; none of them, no list.
pub(crate) fn set_usual(
    text: &mut SheetText,
    at: &TableAt,
    keys: &[String],
) -> Result<(), EditFault> {
    if keys.is_empty() {
        return text.unset(at, USUAL).map(|_| ());
    }
    let keys = keys.iter().cloned().map(SheetValue::Text).collect();
    text.set(at, USUAL, &SheetValue::List(keys))
}

/// Marks every key that has a proportion as usual, where it is written.
pub(crate) fn mark_all(text: &mut SheetText, kind: &Kind) -> Result<(), EditFault> {
    for work in works(text) {
        let rows = kind.proportions.iter().filter(|row| row.of == work.role);
        let keys: Vec<String> = rows
            .filter(|row| text.get(&work.at, &row.key).is_some())
            .map(|row| row.key.clone())
            .collect();
        set_usual(text, &work.at, &keys)?;
    }
    Ok(())
}

/// Works out anew all that stands as usual, what a turn of the arbor that is held takes in blows, and how many alike places each
/// witness has.
pub(crate) fn derive(text: &mut SheetText, kind: &Kind) -> Result<(), EditFault> {
    let beside = Beside::of(text, kind);
    for proportion in &kind.proportions {
        let all = works(text);
        for own in all.iter().filter(|work| work.role == proportion.of) {
            if !usual_keys(text, &own.at).contains(&proportion.key) {
                continue;
            }
            let angles = Angles::of(text, beside.as_ref());
            let Some(angle) = angles.usual(proportion, own) else {
                continue;
            };
            let value = match text.get(&own.at, &proportion.key) {
                Some(SheetValue::List(list)) => around(&angle, list.len()),
                _ => SheetValue::Decimal(angle),
            };
            text.set(&own.at, &proportion.key, &value)?;
        }
    }
    let angles = Angles::of(text, beside.as_ref());
    let blow = read_at(text).and_then(|arbor| angles.blow(&arbor));
    if let Some(blow) = blow.filter(|blow| !blow.is_zero()) {
        let at = TableAt::One(SheetTable::Strike);
        text.set(&at, "blows_per_turn", &SheetValue::Decimal(blow.recip()))?;
    }
    alike(text)
}

/// So many places alike all round, the first of them given.
fn around(first: &Exact, places: usize) -> SheetValue {
    let all = i64::try_from(places).unwrap_or(1).max(1);
    let place = |nth| turned(&(first + whole(360) * fraction(nth, all)));
    SheetValue::List(
        (0..all)
            .map(|nth| SheetValue::Decimal(place(nth)))
            .collect(),
    )
}

/// What a pin is that is read against an arm.
const STOPPED: [WorkRole; 3] = [
    WorkRole::LockingPin,
    WorkRole::WarningPin,
    WorkRole::PalletTail,
];

/// Alike places of each witness of a train's works: as many as what is on its arbor has.
fn alike(text: &mut SheetText) -> Result<(), EditFault> {
    let all = works(text);
    for nth in 0..text.tables(SheetTable::Witness).len() {
        let at = TableAt::Nth(SheetTable::Witness, nth);
        let said = |key| Some(text.get(&at, key)?.text()?.to_owned());
        let (on, kind) = (said("on"), said("kind"));
        let roles: &[WorkRole] = match kind.as_deref().and_then(movement::WitnessKind::called) {
            Some(kind) => match kind.looks {
                movement::WitnessDrawing::Slots => &[WorkRole::CountWheel],
                movement::WitnessDrawing::Pins => &[WorkRole::Lifters],
                movement::WitnessDrawing::Stop => &STOPPED,
                _ => &[],
            },
            None => &[],
        };
        let mut here = all.iter().filter(|work| work.on == on);
        let work = here.find(|work| roles.contains(&work.role));
        let repeats = work.and_then(|work| places(text, work));
        if let Some(repeats) = repeats {
            text.set(&at, "repeats", &SheetValue::Decimal(repeats))?;
        }
    }
    Ok(())
}
