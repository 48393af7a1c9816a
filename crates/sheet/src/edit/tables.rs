//! Which table of a sheet is meant, and the way to it: by its place in its list, or by its id.

use crate::SheetTable;
use crate::edit::{EditFault, SheetText, SheetValue};
use crate::written::is_name;
use toml_edit::{ArrayOfTables, Item, Table, TableLike, Value};

/// A table of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TableAt {
    /// The one of its sort: the sheet itself, `[strike]`, `[rack]`, `[chime]`, `[plates]`.
    One(SheetTable),
    /// `[arbor.ID]`.
    Arbor(String),
    /// One of a list, by its place from nought.
    Nth(SheetTable, usize),
    /// One of a list, by its `id`.
    Named(SheetTable, String),
}

impl TableAt {
    /// Of which sort it is.
    pub fn sort(&self) -> SheetTable {
        match self {
            TableAt::One(table) | TableAt::Nth(table, _) | TableAt::Named(table, _) => *table,
            TableAt::Arbor(_) => SheetTable::Arbor,
        }
    }
}

/// A table as it stands.
#[derive(Clone, Copy)]
pub struct SheetTableRef<'t>(&'t dyn TableLike);

impl SheetTableRef<'_> {
    /// What stands under a key.
    pub fn get(&self, key: &str) -> Option<SheetValue> {
        SheetValue::of(self.0.get(key)?)
    }

    /// Its keys, in order of writing.
    pub fn keys(&self) -> Vec<String> {
        self.0.iter().map(|(key, _)| key.to_owned()).collect()
    }

    /// The text under a key.
    pub fn text(&self, key: &str) -> Option<String> {
        Some(self.get(key)?.text()?.to_owned())
    }
}

/// The key under which tables of a sort stand.
pub(crate) fn heading(table: SheetTable) -> &'static str {
    match table {
        SheetTable::Sheet | SheetTable::Part => "",
        SheetTable::Arbor => "arbor",
        SheetTable::Mesh => "mesh",
        SheetTable::Strike => "strike",
        SheetTable::Moment => "moment",
        SheetTable::Witness => "witness",
        SheetTable::Track => "track",
        SheetTable::Pin => "pin",
        SheetTable::Lever => "lever",
        SheetTable::Rack => "rack",
        SheetTable::Chime => "chime",
        SheetTable::Pillar => "pillar",
        SheetTable::Pivot => "pivot",
        SheetTable::Fixture => "fixture",
        SheetTable::Plates => "plates",
    }
}

impl SheetText {
    /// The names of its arbors, in order of writing.
    pub fn arbors(&self) -> Vec<String> {
        let arbors = self.doc.get("arbor").and_then(Item::as_table_like);
        arbors.map_or_else(Vec::new, |arbors| {
            arbors.iter().map(|(name, _)| name.to_owned()).collect()
        })
    }

    /// All tables of a list, in order of writing.
    pub fn tables(&self, table: SheetTable) -> Vec<SheetTableRef<'_>> {
        match self.doc.get(heading(table)) {
            Some(Item::ArrayOfTables(tables)) => {
                tables.iter().map(|table| SheetTableRef(table)).collect()
            }
            Some(Item::Value(Value::Array(tables))) => tables
                .iter()
                .filter_map(|value| value.as_inline_table())
                .map(|table| SheetTableRef(table))
                .collect(),
            _ => Vec::new(),
        }
    }

    /// A table, where it is there.
    pub fn table(&self, at: &TableAt) -> Option<SheetTableRef<'_>> {
        match at {
            TableAt::One(SheetTable::Sheet) => Some(SheetTableRef(self.doc.as_table())),
            TableAt::One(table) => {
                let item = self.doc.get(heading(*table))?;
                item.as_table_like().map(SheetTableRef)
            }
            TableAt::Arbor(name) => {
                let arbors = self.doc.get("arbor")?.as_table_like()?;
                arbors.get(name)?.as_table_like().map(SheetTableRef)
            }
            TableAt::Nth(table, nth) => self.tables(*table).get(*nth).copied(),
            TableAt::Named(table, id) => {
                let mut all = self.tables(*table).into_iter();
                all.find(|here| here.text("id").as_deref() == Some(id))
            }
        }
    }

    /// The place in its list of the table with an id.
    pub fn nth(&self, table: SheetTable, id: &str) -> Option<usize> {
        let all = self.tables(table);
        all.iter()
            .position(|here| here.text("id").as_deref() == Some(id))
    }

    pub(crate) fn table_mut(&mut self, at: &TableAt) -> Result<&mut dyn TableLike, EditFault> {
        let missing = |table, id: &str| EditFault::NoTable {
            table,
            id: id.to_owned(),
        };
        let (table, nth) = match at {
            TableAt::One(SheetTable::Sheet) => return Ok(self.doc.as_table_mut()),
            TableAt::One(table) => {
                let item = self.doc.get_mut(heading(*table));
                let found = item.and_then(Item::as_table_like_mut);
                return found.ok_or_else(|| missing(*table, heading(*table)));
            }
            TableAt::Arbor(name) => return self.arbor_mut(name),
            TableAt::Nth(table, nth) => (*table, Some(*nth)),
            TableAt::Named(table, id) => (*table, self.nth(*table, id)),
        };
        let id = match at {
            TableAt::Named(_, id) => id.clone(),
            _ => heading(table).to_owned(),
        };
        let nth = nth.ok_or_else(|| missing(table, &id))?;
        let found = match self.doc.get_mut(heading(table)) {
            Some(Item::ArrayOfTables(tables)) => {
                tables.get_mut(nth).map(|table| table as &mut dyn TableLike)
            }
            Some(Item::Value(Value::Array(tables))) => (tables.get_mut(nth))
                .and_then(|value| value.as_inline_table_mut())
                .map(|table| table as &mut dyn TableLike),
            _ => None,
        };
        found.ok_or_else(|| missing(table, &id))
    }

    /// The table; one by itself is begun where it is not there.
    pub(crate) fn begun(&mut self, at: &TableAt) -> Result<&mut dyn TableLike, EditFault> {
        if let TableAt::One(table) = at
            && !self.doc.contains_key(heading(*table))
            && *table != SheetTable::Sheet
        {
            self.doc.insert(heading(*table), Item::Table(fresh_table()));
        }
        self.table_mut(at)
    }

    /// Puts a table behind the last of its list.
    pub(crate) fn append(&mut self, heading: &str, mut table: Table) {
        if table.decor().prefix().is_none() {
            table.decor_mut().set_prefix("\n");
        }
        let list = self
            .doc
            .entry(heading)
            .or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
        match list {
            Item::ArrayOfTables(tables) => tables.push(table),
            Item::Value(Value::Array(tables)) => tables.push(table.into_inline_table()),
            _ => {}
        }
    }

    /// Adds a track, pin, lever, witness, moment, pillar, pivot or fixture with an id of its own.
    ///
    /// # Errors
    /// The id is none, or taken.
    pub fn add(&mut self, table: SheetTable, id: &str) -> Result<TableAt, EditFault> {
        named(id)?;
        if self.nth(table, id).is_some() {
            let name = id.to_owned();
            return Err(EditFault::Taken { name });
        }
        let mut fresh = fresh_table();
        fresh.insert("id", toml_edit::value(id));
        self.append(heading(table), fresh);
        Ok(TableAt::Named(table, id.to_owned()))
    }

    /// Takes a whole table away; what names it still is left as it stands.
    ///
    /// # Errors
    /// No such table.
    pub fn take_away(&mut self, at: &TableAt) -> Result<(), EditFault> {
        self.table_mut(at)?;
        let nth = match at {
            TableAt::Nth(_, nth) => Some(*nth),
            TableAt::Named(table, id) => self.nth(*table, id),
            TableAt::Arbor(name) => {
                if let Some(arbors) = self.doc.get_mut("arbor").and_then(Item::as_table_like_mut) {
                    arbors.remove(name);
                }
                None
            }
            TableAt::One(table) => {
                self.doc.remove(heading(*table));
                None
            }
        };
        let key = heading(at.sort());
        match (self.doc.get_mut(key), nth) {
            (Some(Item::ArrayOfTables(tables)), Some(nth)) => {
                tables.remove(nth);
                if tables.is_empty() {
                    self.doc.remove(key);
                }
            }
            (Some(Item::Value(Value::Array(tables))), Some(nth)) => {
                tables.remove(nth);
            }
            _ => {}
        }
        Ok(())
    }
}

/// A table that begins after an empty line.
pub(crate) fn fresh_table() -> Table {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    table
}

/// Whether what was given is a name.
pub(crate) fn named(got: &str) -> Result<(), EditFault> {
    match is_name(got) {
        true => Ok(()),
        false => Err(EditFault::NotAName {
            got: got.to_owned(),
        }),
    }
}
