//! What a text takes over from its kind's pattern: things of the works, and whole trains.

use crate::kind::TrainSort;
use crate::pattern::Beside;
use crate::proportions::set_usual;
use crate::role::{StrikeWork, first};
use crate::train::{PartName, Trains};
use crate::works::works;
use crate::{DescribeFault, Kind, WorkRole};
use movement::ToothForm;
use sheet::SheetTable;
use sheet::edit::{CountWritten, SheetText, SheetValue, TableAt};

/// What was taken over just now: what the pattern calls it, and what the text does.
#[derive(Debug, Default)]
pub(crate) struct Fresh {
    /// Things of the works, with what they are.
    pub(crate) works: Vec<FreshWork>,
    arbors: Vec<(String, String)>,
}

/// A thing of the works that was taken over.
#[derive(Debug)]
pub(crate) struct FreshWork {
    pub(crate) role: WorkRole,
    its: String,
    pub(crate) id: String,
}

impl Fresh {
    fn arbor(&self, its: &str) -> Option<String> {
        let found = self.arbors.iter().find(|(theirs, _)| theirs == its);
        found.map(|(_, mine)| mine.clone())
    }

    /// The id of the first that is this.
    pub(crate) fn first(&self, role: WorkRole) -> Option<&String> {
        let found = self.works.iter().find(|work| work.role == role);
        found.map(|work| &work.id)
    }
}

/// Takes what the pattern has of this over, onto the arbors that stand for the pattern's.
pub(crate) fn take_over(
    text: &mut SheetText,
    kind: &Kind,
    role: WorkRole,
    fresh: &mut Fresh,
) -> Result<(), DescribeFault> {
    let beside = Beside::of(text, kind).ok_or(DescribeFault::NoWork(role))?;
    let lain = Lain {
        its: works(&beside.pattern),
        beside,
    };
    let its = lain.its.iter();
    for work in its.filter(|work| work.role == role) {
        let Some(from) = lain.beside.pattern.table(&work.at) else {
            continue;
        };
        let sort = work.at.sort();
        let (at, id) = match sort {
            SheetTable::Chime | SheetTable::Rack => (work.at.clone(), work.id.clone()),
            _ => {
                let mut id = work.id.clone();
                while text.nth(sort, &id).is_some() {
                    id.push_str("_2");
                }
                (text.add(sort, &id)?, id)
            }
        };
        for key in from.keys().iter().filter(|key| *key != "id") {
            let Some(value) = from.get(key) else {
                continue;
            };
            let value = match value.text() {
                Some(named) => {
                    let mine = lain.mine(text, fresh, work, key);
                    SheetValue::Text(mine.unwrap_or_else(|| named.to_owned()))
                }
                None => value,
            };
            text.set(&at, key, &value)?;
        }
        let rows = kind.proportions.iter().filter(|row| row.of == role);
        let usual: Vec<String> = rows
            .filter(|row| from.get(&row.key).is_some())
            .map(|row| row.key.clone())
            .collect();
        if sort != SheetTable::Chime && sort != SheetTable::Witness {
            set_usual(text, &at, &usual)?;
        }
        fresh.works.push(FreshWork {
            role,
            its: work.id.clone(),
            id,
        });
    }
    Ok(())
}

/// A pattern with its works, beside a text.
struct Lain {
    beside: Beside,
    its: Vec<StrikeWork>,
}

impl Lain {
    /// What the text calls that which stands under a key of the pattern: an arbor of the train, or what is felt, stopped or lifted.
    fn mine(
        &self,
        text: &SheetText,
        fresh: &Fresh,
        work: &StrikeWork,
        key: &str,
    ) -> Option<String> {
        let pattern = &self.beside.pattern;
        let named = pattern.table(&work.at)?.text(key)?;
        let is_lever = work.at.sort() == SheetTable::Lever;
        match key {
            "on" if !is_lever => fresh
                .arbor(&named)
                .or_else(|| self.beside.mine(&named).cloned()),
            "feels" | "stops" | "snail" | "pallet" => {
                let taken = fresh.works.iter().find(|work| work.its == named);
                if let Some(taken) = taken {
                    return Some(taken.id.clone());
                }
                let twin = self.its.iter().find(|twin| twin.id == named)?;
                Some(first(&works(text), twin.role)?.id.clone())
            }
            // A lever arbor is known by what else is on it.
            "on" | "lifts" | "hook" => {
                let here = |twin: &&StrikeWork| {
                    let table = pattern.table(&twin.at);
                    let on = table.and_then(|table| table.text("on"));
                    twin.at.sort() == SheetTable::Lever && on.as_ref() == Some(&named)
                };
                let mine = works(text);
                let arbor =
                    |twin: &StrikeWork| text.table(&first(&mine, twin.role)?.at)?.text("on");
                self.its.iter().filter(here).find_map(arbor)
            }
            _ => None,
        }
    }
}

/// Takes a train of the pattern over, none of it counted, with what is read on it, unless the text has one of that sort.
pub(crate) fn take_train(
    text: &mut SheetText,
    kind: &Kind,
    sort: TrainSort,
    fresh: &mut Fresh,
) -> Result<(), DescribeFault> {
    if !Trains::of(text).of_sort(text, sort).is_empty() {
        return Ok(());
    }
    let pattern = SheetText::new(kind.pattern())?;
    let theirs = Trains::of(&pattern);
    for train in theirs.of_sort(&pattern, sort) {
        for arbor in theirs.all(train) {
            let mut name = arbor.to_owned();
            while text.arbors().contains(&name) {
                name.push_str("_2");
            }
            text.add_arbor(&name)?;
            let parts = pattern.parts(arbor);
            for part in &parts {
                text.add_part(&name, part, CountWritten::Blank)?;
                if let Some(form) = pattern
                    .form(arbor, part)
                    .filter(|form| *form != ToothForm::Cut)
                {
                    text.set_form(&name, part, form)?;
                }
            }
            copy(
                text,
                &pattern,
                &TableAt::Arbor(arbor.to_owned()),
                &TableAt::Arbor(name.clone()),
                &parts,
            )?;
            fresh.arbors.push((arbor.to_owned(), name));
        }
    }
    for (nth, [driver, driven]) in pattern.meshes().into_iter().enumerate() {
        let mine = |side: &str| -> Option<PartName> {
            let (arbor, part) = side.split_once('.')?;
            Some((fresh.arbor(arbor)?, part.to_owned()))
        };
        if let (Some(one), Some(other)) = (mine(&driver), mine(&driven)) {
            text.add_mesh([&one.0, &one.1], [&other.0, &other.1])?;
            let last = TableAt::Nth(SheetTable::Mesh, text.tables(SheetTable::Mesh).len() - 1);
            let sides = ["driver".to_owned(), "driven".to_owned()];
            copy(
                text,
                &pattern,
                &TableAt::Nth(SheetTable::Mesh, nth),
                &last,
                &sides,
            )?;
        }
    }
    for (table, key) in READ_ON {
        for (nth, from) in pattern.tables(table).iter().enumerate() {
            let on = from.text(key).and_then(|on| fresh.arbor(&on));
            let id = from.text("id").filter(|id| text.nth(table, id).is_none());
            if let (Some(on), Some(id)) = (on, id) {
                let at = text.add(table, &id)?;
                copy(
                    text,
                    &pattern,
                    &TableAt::Nth(table, nth),
                    &at,
                    &["id".to_owned()],
                )?;
                text.set(&at, key, &SheetValue::Text(on))?;
            }
        }
    }
    Ok(())
}

/// What is read on an arbor, and the key that names it.
const READ_ON: [(SheetTable, &str); 2] =
    [(SheetTable::Moment, "arbor"), (SheetTable::Witness, "on")];

/// Copies all keys of a table of the pattern but some.
pub(crate) fn copy(
    text: &mut SheetText,
    pattern: &SheetText,
    from: &TableAt,
    to: &TableAt,
    but: &[String],
) -> Result<(), DescribeFault> {
    let Some(table) = pattern.table(from) else {
        return Ok(());
    };
    for key in table.keys().iter().filter(|key| !but.contains(key)) {
        if let Some(value) = table.get(key) {
            text.set(to, key, &value)?;
        }
    }
    Ok(())
}

/// The arbors of each train of a sort.
pub(crate) fn trains_of(text: &SheetText, sort: TrainSort) -> Vec<Vec<String>> {
    let trains = Trains::of(text);
    let firsts = trains.of_sort(text, sort).into_iter();
    let all = |first: &String| trains.all(first).into_iter().map(str::to_owned).collect();
    firsts.map(all).collect()
}

/// Takes a train away, with all that is on it.
pub(crate) fn drop_train(text: &mut SheetText, arbors: &[String]) -> Result<(), DescribeFault> {
    let mut gone: Vec<String> = Vec::new();
    for (table, key) in READ_ON {
        for nth in (0..text.tables(table).len()).rev() {
            let at = TableAt::Nth(table, nth);
            let named = |key| text.table(&at).and_then(|table| table.text(key));
            let there = named(key).is_some_and(|on| arbors.contains(&on));
            let then = named("at").is_some_and(|at| gone.contains(&at));
            if there || then {
                gone.extend(named("id").filter(|_| table == SheetTable::Moment));
                text.take_away(&at)?;
            }
        }
    }
    for arbor in arbors {
        text.remove_arbor(arbor)?;
    }
    Ok(())
}
