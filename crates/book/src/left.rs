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
use serde::{Deserialize, Serialize};

/// Under this name, behind the job that it was removed from, the places are settled.
const LEFT: &str = "left of a removal from ";

/// A place, as it is settled.
#[derive(Serialize, Deserialize)]
struct SettledPlace {
    job: i64,
    of: usize,
    fields: Vec<String>,
}

/// The places that are settled by a text; in older books a line each, of the job, the number of the entry and its fields.
fn settled(text: &str) -> Vec<SettledPlace> {
    let line = |line: &str| {
        let mut parts = line.split(' ');
        Some(SettledPlace {
            job: parts.next()?.parse().ok()?,
            of: parts.next()?.parse().ok()?,
            fields: parts.map(str::to_owned).collect(),
        })
    };
    serde_json::from_str(text).unwrap_or_else(|_| text.lines().filter_map(line).collect())
}

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
    for SettledPlace { job, of, fields } in settled(&text.optional()?.unwrap_or_default()) {
        let entries = places.entry(JobId(job)).or_default();
        entries.push(Emptied { of, fields });
    }
    Ok(places)
}

/// Keeps what is left of the removals from a job, in place of what was known before.
pub(crate) fn keep(change: &Transaction<'_>, id: JobId, places: &Places) -> Result<(), Halt> {
    let name = format!("{LEFT}{id}");
    let places: Vec<SettledPlace> = (places.iter())
        .flat_map(|(job, entries)| {
            entries.iter().map(|entry| SettledPlace {
                job: job.0,
                of: entry.of,
                fields: entry.fields.clone(),
            })
        })
        .collect();
    // Numbers and words are always JSON.
    let text = serde_json::to_string(&places).unwrap_or_default();
    aside::change(change, Aside::Setting, &name, || {
        if places.is_empty() {
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

#[cfg(test)]
mod tests {
    use super::settled;

    #[test]
    fn places_are_read_as_they_were_and_as_they_are_settled() {
        for text in [
            "3 17 says owner\n4 0 sheet\nno place\n",
            r#"[{"job":3,"of":17,"fields":["says","owner"]},{"job":4,"of":0,"fields":["sheet"]}]"#,
        ] {
            let places: Vec<_> = (settled(text).into_iter())
                .map(|place| (place.job, place.of, place.fields.join(" ")))
                .collect();
            let (says, sheet) = ("says owner".to_owned(), "sheet".to_owned());
            assert_eq!(places, [(3, 17, says), (4, 0, sheet)]);
        }
        assert!(settled("").is_empty());
    }
}
