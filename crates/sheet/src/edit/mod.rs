//! A sheet's text edited: what is set, added, renamed or taken away is, and all else stays as it was written, with its remarks,
//! its order and its blanks.
//!
//! Nothing is checked here but that what is named is there and that a key is one: whoever edits reads the text again. An
//! edit that is refused changes nothing.

mod fault;
mod rename;
mod straight;
mod tables;
mod train;
mod value;

pub use fault::EditFault;
pub use straight::straightened;
pub use tables::{SheetTableRef, TableAt};
pub use train::CountWritten;
pub use value::SheetValue;

use crate::{Fault, Faults, SheetFaultKind, Spot, keys};
use toml_edit::DocumentMut;

/// A sheet's text, taken apart so that it can be edited.
#[derive(Debug, Clone)]
pub struct SheetText {
    pub(crate) doc: DocumentMut,
}

impl SheetText {
    /// Takes a text apart, put straight first ([`straightened`]). It need not be a good sheet, but TOML.
    ///
    /// # Errors
    /// [`EditFault::Unreadable`], with the faults that reading it has.
    pub fn new(text: &str) -> Result<SheetText, EditFault> {
        let straight = straightened(text);
        match straight.parse::<DocumentMut>() {
            Ok(doc) => Ok(SheetText { doc }),
            Err(error) => {
                let faults = crate::read_open(straight.as_bytes()).err();
                let says = error.message().to_owned();
                let told = || Fault {
                    spot: Spot { line: 1, column: 1 },
                    what: SheetFaultKind::Toml { says },
                    first: None,
                };
                Err(EditFault::Unreadable(
                    faults.unwrap_or_else(|| Faults::of(vec![told()])),
                ))
            }
        }
    }

    /// The text as it stands now.
    pub fn text(&self) -> String {
        self.doc.to_string()
    }

    /// What stands under a key of a table; nothing where table or key is not there.
    pub fn get(&self, at: &TableAt, key: &str) -> Option<SheetValue> {
        self.table(at).and_then(|table| table.get(key))
    }

    /// Sets a key of a table that is there; `[strike]`, `[rack]`, `[chime]` and `[plates]` are begun where they are not.
    ///
    /// # Errors
    /// No such table, or no such key of it. A part's count is set by [`SheetText::set_count`].
    pub fn set(&mut self, at: &TableAt, key: &str, value: &SheetValue) -> Result<(), EditFault> {
        let table = at.sort();
        if keys::find(table, key).is_none() {
            let got = key.to_owned();
            let near = keys::meant(key, table, &[]);
            return Err(EditFault::NoKey { table, got, near });
        }
        value::put(self.begun(at)?, key, value);
        Ok(())
    }

    /// Takes a key away, and says whether it was there.
    ///
    /// # Errors
    /// No such table.
    pub fn unset(&mut self, at: &TableAt, key: &str) -> Result<bool, EditFault> {
        Ok(self.table_mut(at)?.remove(key).is_some())
    }
}
