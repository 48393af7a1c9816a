//! Entries in which something of what was removed may still stand, known by their places until somebody decides. Nothing of what was
//! removed is kept for it, no word and no digest of one: it would lie in the book and in every backup from then on.

use crate::aside::{self, Aside};
use crate::book::Book;
use crate::fault::BookFault;
use crate::fields::Places;
use crate::id::JobId;
use crate::turn::Halt;
use entries::Emptied;
use rusqlite::{Connection, OptionalExtension, Transaction};

/// Under this name, behind the job that it was removed from, the places are settled: a line each, of the job, the number of the
/// entry and its fields.
const LEFT: &str = "left of a removal from ";

impl Book {
    /// The entries in which something of what was removed from a job may still stand, with the fields.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn left_of(&self, id: JobId) -> Result<Places, BookFault> {
        self.read(|store| of(store, id))
    }

    /// Says that these entries may stay as they are; they are no longer told.
    ///
    /// # Errors
    /// The book cannot be written.
    pub fn let_stay(&self, id: JobId) -> Result<(), BookFault> {
        self.write(|change| keep(change, id, &Places::new()))
    }
}

/// What is left of the removals from a job.
pub(crate) fn of(store: &Connection, id: JobId) -> Result<Places, Halt> {
    let mut found = store.prepare_cached("SELECT text FROM setting WHERE name = ?1")?;
    let text = found.query_row([format!("{LEFT}{id}")], |row| row.get::<_, String>(0));
    let mut places = Places::new();
    for line in text.optional()?.unwrap_or_default().lines() {
        let mut parts = line.split(' ');
        let place = || {
            let job = parts.next()?.parse().ok()?;
            let of = parts.next()?.parse().ok()?;
            Some((JobId(job), of, parts.map(str::to_owned).collect()))
        };
        if let Some((job, of, fields)) = place() {
            places.entry(job).or_default().push(Emptied { of, fields });
        }
    }
    Ok(places)
}

/// Keeps what is left of the removals from a job, in place of what was known before.
pub(crate) fn keep(change: &Transaction<'_>, id: JobId, places: &Places) -> Result<(), Halt> {
    let name = format!("{LEFT}{id}");
    let lines = places.iter().flat_map(|(job, entries)| {
        (entries.iter())
            .map(move |entry| format!("{job} {} {}\n", entry.of, entry.fields.join(" ")))
    });
    let text: String = lines.collect();
    aside::change(change, Aside::Setting, &name, || {
        if text.is_empty() {
            change.execute("DELETE FROM setting WHERE name = ?1", [&name])?;
        } else {
            change.execute(
                "INSERT OR REPLACE INTO setting (name, text) VALUES (?1, ?2)",
                (&name, &text),
            )?;
        }
        Ok(())
    })
}
