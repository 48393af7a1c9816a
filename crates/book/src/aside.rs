//! What a person can read in a book and stands in no line: a sum for each kind of it, to be held against what is there.

use crate::sum::{self, Fields, Sum};
use crate::turn::Halt;
use rusqlite::{Connection, ToSql};

/// What stands beside the lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Aside {
    /// How jobs are looked at.
    View,
    /// Which job is worked on.
    Current,
    /// What the shop has settled.
    Setting,
    /// What is known of the pictures.
    Picture,
    /// Where the chain of lines ends.
    End,
}

impl Aside {
    pub(crate) const ALL: [Aside; 5] = [
        Aside::View,
        Aside::Current,
        Aside::Setting,
        Aside::Picture,
        Aside::End,
    ];

    fn rows(self) -> Rows {
        let (name, all, known_by) = match self {
            Aside::View => ("view", "SELECT job, plate, upside_down FROM view", "job"),
            Aside::Current => ("current", "SELECT one, job FROM current", "one"),
            Aside::Setting => ("setting", "SELECT name, text FROM setting", "name"),
            Aside::Picture => (
                "blob",
                "SELECT digest, form, bytes, width, height, preview FROM blob",
                "digest",
            ),
            Aside::End => (
                "chain_end",
                "SELECT one, links, link, found FROM chain_end",
                "one",
            ),
        };
        Rows {
            name,
            all,
            known_by,
        }
    }
}

/// The rows of what stands beside the lines.
struct Rows {
    /// Their name among the sums.
    name: &'static str,
    /// How all of them are asked for.
    all: &'static str,
    /// What one of them is known by.
    known_by: &'static str,
}

/// The sum of these rows, laid over each other.
fn over(store: &Connection, name: &str, rows: &str, key: &[&dyn ToSql]) -> Result<Sum, Halt> {
    let mut found = store.prepare_cached(rows)?;
    let columns = found.column_count();
    let mut rows = found.query(key)?;
    let mut sum = [0; 32];
    while let Some(row) = rows.next()? {
        let mut fields = Fields::over(b"");
        fields.put(Some(name.as_bytes()));
        for at in 0..columns {
            fields.put(sum::column(row, at)?.as_deref());
        }
        lay(&mut sum, &fields.sum());
    }
    Ok(sum)
}

fn lay(sum: &mut Sum, over: &Sum) {
    for (byte, over) in sum.iter_mut().zip(over) {
        *byte ^= over;
    }
}

fn kept(store: &Connection, name: &str) -> Result<Option<Sum>, Halt> {
    let mut found = store.prepare_cached("SELECT sum FROM aside WHERE name = ?1")?;
    let mut rows = found.query([name])?;
    let Some(row) = rows.next()? else {
        return Ok(None);
    };
    let sum: Vec<u8> = row.get(0)?;
    Ok(sum.try_into().ok())
}

fn keep(change: &Connection, name: &str, sum: &Sum) -> Result<(), Halt> {
    let mut keep =
        change.prepare_cached("INSERT OR REPLACE INTO aside (name, sum) VALUES (?1, ?2)")?;
    keep.execute((name, &sum[..]))?;
    Ok(())
}

/// Changes the row with this key, and the sum with it. A sum that was damaged stays so.
pub(crate) fn change<T>(
    change: &Connection,
    what: Aside,
    key: &dyn ToSql,
    how: impl FnOnce() -> Result<T, Halt>,
) -> Result<T, Halt> {
    let rows = what.rows();
    let one = format!("{} WHERE {} = ?1", rows.all, rows.known_by);
    let before = over(change, rows.name, &one, &[key])?;
    let done = how()?;
    let after = over(change, rows.name, &one, &[key])?;
    if before != after
        && let Some(mut sum) = kept(change, rows.name)?
    {
        lay(&mut sum, &before);
        lay(&mut sum, &after);
        keep(change, rows.name, &sum)?;
    }
    Ok(done)
}

/// Sums up all rows as they stand.
pub(crate) fn sum_up(change: &Connection, what: Aside) -> Result<(), Halt> {
    let rows = what.rows();
    let sum = over(change, rows.name, rows.all, &[])?;
    keep(change, rows.name, &sum)
}

/// Whether the rows are those that were summed up.
pub(crate) fn agrees(store: &Connection, what: Aside) -> Result<bool, Halt> {
    let rows = what.rows();
    Ok(kept(store, rows.name)? == Some(over(store, rows.name, rows.all, &[])?))
}
