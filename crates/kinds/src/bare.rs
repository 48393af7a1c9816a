//! A bare train that is told to strike like a kind: the kind's works are laid upon the arbors that there are, as near as they come by
//! their places in the train; where each really is, the kind's questions ask.

use crate::kind::TrainSort;
use crate::proportions::mark_all;
use crate::take::{Fresh, take_over};
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
    }
    mark_all(text, kind)?;
    for question in &kind.questions {
        as_usual(text, kind, question, false)?;
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
