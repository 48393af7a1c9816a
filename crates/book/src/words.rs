//! The words by which lines are found.

use crate::turn::Halt;
use entries::Log;
use rusqlite::{Connection, Transaction};

/// What can be found by the line that a log begins with.
pub(crate) fn of_first(name: &str, sheet: &str, log: &Log) -> String {
    format!("{name} {} {sheet}", log.header().sheet)
}

/// Keeps the words of a line.
pub(crate) fn put(change: &Transaction<'_>, sequence: i64, said: &str) -> Result<(), Halt> {
    let mut insert = change.prepare_cached("INSERT INTO words (rowid, said) VALUES (?1, ?2)")?;
    insert.execute((sequence, said))?;
    Ok(())
}

/// Keeps other words of a line than before.
pub(crate) fn replace(store: &Connection, sequence: i64, said: &str) -> Result<(), Halt> {
    store.execute(
        "UPDATE words SET said = ?2 WHERE rowid = ?1",
        (sequence, said),
    )?;
    Ok(())
}
