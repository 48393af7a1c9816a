//! Arbors and parts given other names, wherever they are named.

use crate::SheetTable;
use crate::edit::tables::named;
use crate::edit::train::{NAMES_ARBOR, SIDES, joined};
use crate::edit::value::put;
use crate::edit::{EditFault, SheetText, SheetValue, TableAt};
use crate::keys;
use toml_edit::{Item, Key, Value};

impl SheetText {
    /// Gives an arbor another name, wherever it is named.
    ///
    /// # Errors
    /// No such arbor; the other name is none, or taken.
    pub fn rename_arbor(&mut self, from: &str, to: &str) -> Result<(), EditFault> {
        self.arbor_mut(from)?;
        named(to)?;
        if self.arbors().iter().any(|name| name == to) {
            let name = to.to_owned();
            return Err(EditFault::Taken { name });
        }
        if let Some(arbors) = self.doc.get_mut("arbor") {
            rename_key(arbors, from, to);
        }
        for (sort, key) in NAMES_ARBOR {
            for nth in 0..self.tables(sort).len() {
                self.reword(&TableAt::Nth(sort, nth), key, |name| {
                    (name == from).then(|| to.to_owned())
                });
            }
        }
        self.reword(&TableAt::One(SheetTable::Strike), "read_at", |name| {
            (name == from).then(|| to.to_owned())
        });
        self.of_meshes(|arbor, part| (arbor == from).then(|| joined(to, part)));
        Ok(())
    }

    /// Gives a part another name, wherever it is named.
    ///
    /// # Errors
    /// No such part; the other name is none, or taken.
    pub fn rename_part(&mut self, arbor: &str, from: &str, to: &str) -> Result<(), EditFault> {
        self.part_mut(arbor, from)?;
        self.free_part(arbor, to)?;
        let here = (self.doc.get_mut("arbor"))
            .and_then(Item::as_table_like_mut)
            .and_then(|arbors| arbors.get_mut(arbor));
        if let Some(here) = here {
            rename_key(here, from, to);
            let outside = |part: &str| format!("{part}{}", keys::OUTSIDE);
            rename_key(here, &outside(from), &outside(to));
            if let Some(spread) = here.get_mut("spread") {
                rename_key(spread, &outside(from), &outside(to));
            }
        }
        self.of_parts(arbor, from, Some(to));
        self.of_meshes(|on, part| (on == arbor && part == from).then(|| joined(arbor, to)));
        Ok(())
    }

    /// What is told of a part beside it on its arbor: how it is held, by its name.
    pub(super) fn of_parts(&mut self, arbor: &str, from: &str, to: Option<&str>) {
        let Ok(here) = self.arbor_mut(arbor) else {
            return;
        };
        if let Some(held) = here.get_mut("held_by")
            && let Some(parts) = held.as_table_like_mut()
        {
            match to {
                Some(to) => rename_key(held, from, to),
                None => {
                    parts.remove(from);
                }
            }
        }
    }

    fn of_meshes(&mut self, to: impl Fn(&str, &str) -> Option<String>) {
        for nth in 0..self.tables(SheetTable::Mesh).len() {
            for side in SIDES {
                self.reword(&TableAt::Nth(SheetTable::Mesh, nth), side, |name| {
                    let (arbor, part) = name.split_once('.')?;
                    to(arbor, part)
                });
            }
        }
    }

    /// Puts another text under a key, if one is to stand there.
    fn reword(&mut self, at: &TableAt, key: &str, to: impl Fn(&str) -> Option<String>) {
        let there = self.get(at, key);
        let text = there.as_ref().and_then(SheetValue::text).and_then(to);
        if let (Some(text), Ok(table)) = (text, self.table_mut(at)) {
            put(table, key, &SheetValue::Text(text));
        }
    }
}

/// Gives a key another name, in its place.
fn rename_key(item: &mut Item, from: &str, to: &str) {
    let renamed = |key: &Key| match key.get() == from {
        true => Key::new(to)
            .with_leaf_decor(key.leaf_decor().clone())
            .with_dotted_decor(key.dotted_decor().clone()),
        false => key.clone(),
    };
    match item {
        Item::Table(table) => {
            let keys: Vec<String> = table.iter().map(|(key, _)| key.to_owned()).collect();
            let all: Vec<(Key, Item)> =
                (keys.iter().filter_map(|key| table.remove_entry(key))).collect();
            for (key, item) in &all {
                table.insert_formatted(&renamed(key), item.clone());
            }
        }
        Item::Value(Value::InlineTable(table)) => {
            let keys: Vec<String> = table.iter().map(|(key, _)| key.to_owned()).collect();
            let all: Vec<(Key, Value)> =
                (keys.iter().filter_map(|key| table.remove_entry(key))).collect();
            for (key, value) in &all {
                table.insert_formatted(&renamed(key), value.clone());
            }
        }
        _ => {}
    }
}
