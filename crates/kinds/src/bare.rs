//! A bare train that is told to strike like a kind: the kind's works are laid upon the arbors that there are, as near as they come by
//! their places in the train; where each really is, the kind's questions ask.

use crate::kind::TrainSort;
use crate::moved::is_of;
use crate::proportions::mark_all;
use crate::role::first;
use crate::take::{Fresh, copy, take_over};
use crate::tell::as_usual;
use crate::train::{Trains, read_at};
use crate::works::works;
use crate::{DescribeFault, Kind, WorkRole};
use sheet::SheetTable;
use sheet::edit::{SheetText, SheetValue, TableAt};

const STRIKE: TableAt = TableAt::One(SheetTable::Strike);

impl Kind {
    /// Whether a bare train can be told to strike like it: it has one train that strikes, and no chime.
    pub fn is_of_one_train(&self) -> bool {
        let pattern = SheetText::new(self.pattern());
        pattern.is_ok_and(|pattern| {
            let chimes = Trains::of(&pattern);
            chimes.of_sort(&pattern, TrainSort::Chime).is_empty()
        })
    }
}

/// Lays the works of a kind upon the train of a text that has none.
pub(crate) fn strike_like(text: &mut SheetText, kind: &Kind) -> Result<(), DescribeFault> {
    let pattern = SheetText::new(kind.pattern())?;
    let held = held_like(text, &pattern).ok_or(DescribeFault::NoWork(kind.held))?;
    let strike = pattern.table(&STRIKE);
    for key in strike.iter().flat_map(|strike| strike.keys()) {
        if let Some(value) = pattern.get(&STRIKE, &key) {
            text.set(&STRIKE, &key, &value)?;
        }
    }
    text.set(&STRIKE, "kind", &SheetValue::Text(kind.id.clone()))?;
    text.set(&STRIKE, "read_at", &SheetValue::Text(held))?;
    let mut roles: Vec<WorkRole> = Vec::new();
    for work in works(&pattern) {
        if !roles.contains(&work.role) {
            roles.push(work.role);
        }
    }
    let mut fresh = Fresh::default();
    for role in roles {
        take_over(text, kind, role, &mut fresh)?;
        seat(text)?;
    }
    witnesses(text, &pattern)?;
    mark_all(text, kind)?;
    for question in &kind.questions {
        as_usual(text, kind, question, false)?;
    }
    Ok(())
}

/// Takes over what is read as the lever drops, each on the arbor that now carries what it shows.
fn witnesses(text: &mut SheetText, pattern: &SheetText) -> Result<(), DescribeFault> {
    let (mine, its) = (works(text), works(pattern));
    for (nth, witness) in pattern.tables(SheetTable::Witness).iter().enumerate() {
        let from = TableAt::Nth(SheetTable::Witness, nth);
        let on = witness.text("on");
        let mut carried = its.iter().filter(|work| {
            work.on == on && work.at.sort() != SheetTable::Lever && is_of(pattern, &from, work.role)
        });
        let twin = carried
            .next()
            .and_then(|work| first(&mine, work.role)?.on.clone());
        let id = witness
            .text("id")
            .filter(|id| text.nth(SheetTable::Witness, id).is_none());
        if let (Some(on), Some(id), None) = (twin, id, witness.text("at")) {
            let at = text.add(SheetTable::Witness, &id)?;
            copy(
                text,
                pattern,
                &from,
                &at,
                &["id".to_owned(), "on".to_owned()],
            )?;
            text.set(&at, "on", &SheetValue::Text(on))?;
        }
    }
    Ok(())
}

/// Puts what would sit on an arbor that the train has not onto one that it has: onto what branches off, as a count wheel does, else
/// onto the arbor that is held.
fn seat(text: &mut SheetText) -> Result<(), DescribeFault> {
    let arbors = text.arbors();
    let trains = Trains::of(text);
    let branch = (trains.firsts().first()).and_then(|first| trains.train(first).1.last().copied());
    let seat = branch.map(str::to_owned).or_else(|| read_at(text));
    let Some(seat) = seat else {
        return Ok(());
    };
    for table in [SheetTable::Track, SheetTable::Pin, SheetTable::Witness] {
        for nth in 0..text.tables(table).len() {
            let at = TableAt::Nth(table, nth);
            let on = text
                .get(&at, "on")
                .and_then(|on| on.text().map(str::to_owned));
            if on.is_some_and(|on| !arbors.contains(&on)) {
                text.set(&at, "on", &SheetValue::Text(seat.clone()))?;
            }
        }
    }
    Ok(())
}

/// The arbor that stands where the pattern's held one does, counted from the great wheel; the last, where there are fewer.
fn held_like(text: &SheetText, pattern: &SheetText) -> Option<String> {
    let its = Trains::of(pattern);
    let held = read_at(pattern)?;
    let (spine, _) = its.train(its.first_of(&held)?);
    let nth = spine.iter().position(|arbor| *arbor == held)?;
    let mine = Trains::of(text);
    let firsts = mine.firsts();
    let (spine, _) = mine.train(firsts.first()?);
    spine
        .get(nth)
        .or(spine.last())
        .map(|arbor| (*arbor).to_owned())
}
