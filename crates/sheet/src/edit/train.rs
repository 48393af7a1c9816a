//! Arbors, their parts and meshes: counted, added, renamed, taken away, with whatever names them.

use crate::SheetTable;
use crate::edit::tables::{fresh_table, named};
use crate::edit::value::put;
use crate::edit::{EditFault, SheetTableRef, SheetText, SheetValue, TableAt};
use crate::keys::{self, KeyUnit};
use movement::ToothForm;
use quantity::Teeth;
use toml_edit::{InlineTable, Item, Table, TableLike, Value};

/// What stands for a count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountWritten {
    /// `"?"`: there is none.
    Blank,
    /// `72`.
    Known(Teeth),
    /// `"72?"`: it is in doubt.
    Doubtful(Teeth),
}

impl CountWritten {
    fn value(self) -> SheetValue {
        match self {
            CountWritten::Blank => SheetValue::Text("?".to_owned()),
            CountWritten::Known(teeth) => SheetValue::Whole(teeth.get().into()),
            CountWritten::Doubtful(teeth) => SheetValue::Text(format!("{teeth}?")),
        }
    }

    fn of(value: &SheetValue) -> Option<CountWritten> {
        let teeth = |n: i64| Teeth::pins(n);
        match value {
            SheetValue::Whole(n) => teeth(*n).map(CountWritten::Known),
            SheetValue::Text(text) => match text.strip_suffix('?')? {
                "" => Some(CountWritten::Blank),
                count => teeth(count.parse().ok()?).map(CountWritten::Doubtful),
            },
            _ => None,
        }
    }
}

/// Keys that name an arbor of the train, by the list they stand in.
pub(super) const NAMES_ARBOR: [(SheetTable, &str); 4] = [
    (SheetTable::Track, "on"),
    (SheetTable::Pin, "on"),
    (SheetTable::Witness, "on"),
    (SheetTable::Moment, "arbor"),
];
/// The two sides of a mesh.
pub(super) const SIDES: [&str; 2] = ["driver", "driven"];

/// Whether a key on an arbor is a part.
fn is_part(key: &str) -> bool {
    KeyUnit::of(key).is_none() && (key == "PART" || keys::find(SheetTable::Arbor, key).is_none())
}

pub(super) fn joined(arbor: &str, part: &str) -> String {
    format!("{arbor}.{part}")
}

/// Both sides of a mesh as written.
pub(crate) fn sides(mesh: &SheetTableRef<'_>) -> [Option<String>; 2] {
    SIDES.map(|side| mesh.text(side))
}

impl SheetText {
    /// The parts of an arbor, in order of writing.
    pub fn parts(&self, arbor: &str) -> Vec<String> {
        let here = self.table(&TableAt::Arbor(arbor.to_owned()));
        let keys = here.map_or_else(Vec::new, |here| here.keys());
        keys.into_iter().filter(|key| is_part(key)).collect()
    }

    /// The count of a part as it stands; nothing where there is no such part, or no count can be made of what stands there.
    pub fn count(&self, arbor: &str, part: &str) -> Option<CountWritten> {
        match self.get(&TableAt::Arbor(arbor.to_owned()), part)? {
            SheetValue::Table(keys) => {
                let (_, teeth) = keys.iter().find(|(key, _)| key == "teeth")?;
                CountWritten::of(teeth)
            }
            plain => CountWritten::of(&plain),
        }
    }

    /// How the teeth of a part are made: cut, where nothing is said.
    pub fn form(&self, arbor: &str, part: &str) -> Option<ToothForm> {
        match self.get(&TableAt::Arbor(arbor.to_owned()), part)? {
            SheetValue::Table(keys) => {
                let form = keys.iter().find(|(key, _)| key == "form");
                Some(match form.and_then(|(_, form)| form.text()) {
                    Some("lantern") => ToothForm::Lantern,
                    Some("pins") => ToothForm::Pins,
                    _ => ToothForm::Cut,
                })
            }
            _ => Some(ToothForm::Cut),
        }
    }

    /// The meshes, as `[driver, driven]`, each `ARBOR.PART`; those of which a side is not written are left out.
    pub fn meshes(&self) -> Vec<[String; 2]> {
        let meshes = self.tables(SheetTable::Mesh);
        let both = meshes.iter().map(sides);
        both.filter_map(|[driver, driven]| Some([driver?, driven?]))
            .collect()
    }

    pub(crate) fn arbor_mut(&mut self, name: &str) -> Result<&mut dyn TableLike, EditFault> {
        let there = self.arbors();
        let near = movement::near(name, there.iter().map(String::as_str));
        let none = EditFault::NoArbor {
            got: name.to_owned(),
            near: near.map(str::to_owned),
        };
        let arbors = self.doc.get_mut("arbor").and_then(Item::as_table_like_mut);
        let arbor = arbors.and_then(|arbors| arbors.get_mut(name));
        arbor.and_then(Item::as_table_like_mut).ok_or(none)
    }

    pub(super) fn part_mut(&mut self, arbor: &str, part: &str) -> Result<&mut Item, EditFault> {
        let parts = self.parts(arbor);
        let here = self.arbor_mut(arbor)?;
        let near = movement::near(part, parts.iter().map(String::as_str));
        let none = EditFault::NoPart {
            arbor: arbor.to_owned(),
            got: part.to_owned(),
            near: near.map(str::to_owned),
        };
        match parts.iter().any(|name| name == part) {
            true => here.get_mut(part).ok_or(none),
            false => Err(none),
        }
    }

    /// Sets the count of a part that is there; its form stays.
    ///
    /// # Errors
    /// No such arbor or part.
    pub fn set_count(
        &mut self,
        arbor: &str,
        part: &str,
        count: CountWritten,
    ) -> Result<(), EditFault> {
        let item = self.part_mut(arbor, part)?;
        match item.as_table_like_mut() {
            Some(table) => put(table, "teeth", &count.value()),
            None => put(self.arbor_mut(arbor)?, part, &count.value()),
        }
        Ok(())
    }

    /// Sets how the teeth of a part are made; its count stays.
    ///
    /// # Errors
    /// No such arbor or part.
    pub fn set_form(&mut self, arbor: &str, part: &str, form: ToothForm) -> Result<(), EditFault> {
        let item = self.part_mut(arbor, part)?;
        let word = match form {
            ToothForm::Cut => "cut",
            ToothForm::Lantern => "lantern",
            ToothForm::Pins => "pins",
        };
        if item.as_table_like().is_none() && form != ToothForm::Cut {
            let Item::Value(plain) = item else {
                return Ok(());
            };
            let decor = plain.decor().clone();
            let mut table = InlineTable::new();
            let mut count = plain.clone();
            count.decor_mut().clear();
            table.insert("teeth", count);
            *plain = Value::InlineTable(table);
            *plain.decor_mut() = decor;
        }
        if let Some(table) = item.as_table_like_mut() {
            put(table, "form", &SheetValue::Text(word.to_owned()));
        }
        Ok(())
    }

    /// Adds an arbor behind the last.
    ///
    /// # Errors
    /// The name is none, or taken.
    pub fn add_arbor(&mut self, name: &str) -> Result<(), EditFault> {
        named(name)?;
        if self.arbors().iter().any(|there| there == name) {
            return Err(EditFault::Taken {
                name: name.to_owned(),
            });
        }
        let arbors = self.doc.entry("arbor").or_insert_with(|| {
            let mut arbors = Table::new();
            arbors.set_implicit(true);
            Item::Table(arbors)
        });
        if let Some(arbors) = arbors.as_table_like_mut() {
            arbors.insert(name, Item::Table(fresh_table()));
        }
        Ok(())
    }

    /// Adds a part to an arbor.
    ///
    /// # Errors
    /// No such arbor; the name is none, or taken, or that of a measurement.
    pub fn add_part(
        &mut self,
        arbor: &str,
        part: &str,
        count: CountWritten,
    ) -> Result<(), EditFault> {
        self.free_part(arbor, part)?;
        put(self.arbor_mut(arbor)?, part, &count.value());
        Ok(())
    }

    /// Whether a part of that name may come on an arbor.
    pub(super) fn free_part(&mut self, arbor: &str, part: &str) -> Result<(), EditFault> {
        named(part)?;
        if !is_part(part) {
            return Err(EditFault::NotAName {
                got: part.to_owned(),
            });
        }
        match self.arbor_mut(arbor)?.contains_key(part) {
            true => Err(EditFault::Taken {
                name: joined(arbor, part),
            }),
            false => Ok(()),
        }
    }

    /// Adds a mesh of two parts that are there.
    ///
    /// # Errors
    /// No such part, or the mesh is there already.
    pub fn add_mesh(&mut self, driver: [&str; 2], driven: [&str; 2]) -> Result<(), EditFault> {
        for [arbor, part] in [driver, driven] {
            self.part_mut(arbor, part)?;
        }
        let both = [driver, driven].map(|[arbor, part]| joined(arbor, part));
        if self.meshes().contains(&both) {
            let [driver, driven] = both;
            let name = format!("{driver}>{driven}");
            return Err(EditFault::Taken { name });
        }
        let mut mesh = fresh_table();
        for (side, part) in SIDES.iter().zip(both) {
            mesh.insert(side, toml_edit::value(part));
        }
        self.append("mesh", mesh);
        Ok(())
    }

    /// Takes a mesh away; its parts stay.
    ///
    /// # Errors
    /// No such mesh.
    pub fn remove_mesh(&mut self, driver: &str, driven: &str) -> Result<(), EditFault> {
        let meshes = self.tables(SheetTable::Mesh);
        let is = |mesh: &SheetTableRef<'_>| {
            sides(mesh) == [Some(driver.to_owned()), Some(driven.to_owned())]
        };
        match meshes.iter().position(is) {
            Some(nth) => self.take_away(&TableAt::Nth(SheetTable::Mesh, nth)),
            None => Err(EditFault::NoMesh {
                driver: driver.to_owned(),
                driven: driven.to_owned(),
            }),
        }
    }

    /// Takes a part away that meshes with nothing.
    ///
    /// # Errors
    /// No such part, or it meshes still.
    pub fn remove_part(&mut self, arbor: &str, part: &str) -> Result<(), EditFault> {
        self.part_mut(arbor, part)?;
        let name = joined(arbor, part);
        for [driver, driven] in self.meshes() {
            let other = [(&driver, &driven), (&driven, &driver)];
            if let Some((_, carries)) = other.iter().find(|(one, _)| **one == name) {
                let carries = (*carries).clone();
                return Err(EditFault::Carries { name, carries });
            }
        }
        let here = self.arbor_mut(arbor)?;
        here.remove(part);
        here.remove(&format!("{part}{}", keys::OUTSIDE));
        self.of_parts(arbor, part, None);
        Ok(())
    }

    /// Takes an arbor away with its parts and their meshes.
    ///
    /// # Errors
    /// No such arbor, or something is on it that is no toothed part, or is read on it.
    pub fn remove_arbor(&mut self, name: &str) -> Result<(), EditFault> {
        self.arbor_mut(name)?;
        let carried = |carries: String| EditFault::Carries {
            name: name.to_owned(),
            carries,
        };
        for (sort, key) in NAMES_ARBOR {
            for table in self.tables(sort) {
                if table.text(key).as_deref() == Some(name) {
                    return Err(carried(table.text("id").unwrap_or_default()));
                }
            }
        }
        let read_at = self.get(&TableAt::One(SheetTable::Strike), "read_at");
        if read_at.as_ref().and_then(SheetValue::text) == Some(name) {
            return Err(carried("read_at".to_owned()));
        }
        let of_it = |side: &str| side.split_once('.').is_some_and(|(on, _)| on == name);
        for [driver, driven] in self.meshes() {
            if of_it(&driver) || of_it(&driven) {
                self.remove_mesh(&driver, &driven)?;
            }
        }
        self.take_away(&TableAt::Arbor(name.to_owned()))
    }
}
