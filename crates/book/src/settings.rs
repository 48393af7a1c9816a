//! What a shop has settled for all its jobs: its own lists, its units, its language. What it means is known elsewhere.

use crate::aside::{self, Aside};
use crate::book::Book;
use crate::fault::BookFault;
use rusqlite::OptionalExtension;

impl Book {
    /// What was settled under this name.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn setting(&self, name: &str) -> Result<Option<String>, BookFault> {
        self.read(|store| {
            let mut found = store.prepare_cached("SELECT text FROM setting WHERE name = ?1")?;
            Ok(found.query_row([name], |row| row.get(0)).optional()?)
        })
    }

    /// Settles something, in place of what was settled under this name before.
    ///
    /// # Errors
    /// The book cannot be written.
    pub fn settle(&self, name: &str, text: &str) -> Result<(), BookFault> {
        self.write(|change| {
            aside::change(change, Aside::Setting, &name, || {
                change.execute(
                    "INSERT OR REPLACE INTO setting (name, text) VALUES (?1, ?2)",
                    (name, text),
                )?;
                Ok(())
            })
        })
    }
}
