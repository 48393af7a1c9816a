//! The form of a book: its versions, and whether what lies there is one and sound. What the tables hold is told in
//! `migrations/`.

use crate::fault::BookFault;
use crate::{chain, turn};
use rusqlite::{Connection, Error, Transaction};
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;

/// Each brings a book from the version before to its own, the first from an empty file. Once out, none ever changes.
pub(crate) const MIGRATIONS: [&str; 5] = [
    include_str!("../migrations/1.sql"),
    include_str!("../migrations/2.sql"),
    include_str!("../migrations/3.sql"),
    include_str!("../migrations/4.sql"),
    include_str!("../migrations/5.sql"),
];

/// From this version on the words of all lines are kept, and what a list shows.
pub(crate) const INDEXED: usize = 2;

/// From this version on there is a digest a line.
pub(crate) const CHAINED: usize = 5;

/// What marks a file of this store as a bench book; the letters `Trnd`.
pub(crate) const MARK: i64 = 0x5472_6e64;

/// Sees that this is a book with nothing in it that does not belong there and that its pages are sound; gives its version.
pub(crate) fn sound(look: &Transaction<'_>, path: &Path) -> Result<usize, BookFault> {
    let version = version(look, path)?;
    let pages = look.pragma_query_value(None, "page_count", |row| row.get(0));
    let pages: i64 = pages.map_err(|error| BookFault::of(path, &error))?;
    if version == 0 && pages > 0 {
        // A new book is made at once: pages without a table were left of one, or are its beginning.
        let detail = format!("no table in it, pages: {pages}").into();
        let path = path.to_owned();
        return Err(BookFault::Damaged { path, detail });
    }
    schema(look, version, path)?;
    check(look, path)?;
    Ok(version)
}

/// The same, and that no line is missing or another.
pub(crate) fn whole(look: &Transaction<'_>, path: &Path) -> Result<(), BookFault> {
    if sound(look, path)? < CHAINED {
        return Ok(());
    }
    let broken = chain::along(look).map_err(|halt| halt.of_book_at(path))?;
    if broken.lines.is_empty() && broken.cut.is_none() && !broken.end {
        return Ok(());
    }
    Err(BookFault::Damaged {
        path: path.to_owned(),
        detail: "lines are missing, or are others".into(),
    })
}

/// What a thing in a store is: its kind, its name, what it belongs to, and the statement that makes it.
type Thing = (String, String, String, Option<String>);

/// All things in a store; of the tables that the index of words keeps for itself not how they are made, which differs from one
/// version of the store to the next, and nothing of what the store notes of its own tables.
fn things(store: &Connection) -> rusqlite::Result<BTreeSet<Thing>> {
    let mut found = store.prepare(
        "SELECT type, name, tbl_name, CASE WHEN name GLOB 'words_*' THEN NULL ELSE sql END
        FROM sqlite_schema WHERE name NOT GLOB 'sqlite_stat[0-9]'",
    )?;
    let things = found.query_map((), |row| {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?))
    })?;
    things.collect()
}

/// Sees that the store holds what the migrations up to this version make, and nothing else: what else there is could do
/// anything when it is looked at.
fn schema(look: &Connection, version: usize, path: &Path) -> Result<(), BookFault> {
    static MADE: OnceLock<Vec<BTreeSet<Thing>>> = OnceLock::new();
    let fault = |error: Error| BookFault::of(path, &error);
    let made = match MADE.get() {
        Some(made) => made,
        None => {
            let made = all_versions().map_err(fault)?;
            MADE.get_or_init(|| made)
        }
    };
    let (found, made) = (things(look).map_err(fault)?, &made[version]);
    let told = |(kind, name, ..): &Thing| format!("{kind} {name}");
    let more = found
        .difference(made)
        .map(|thing| format!("{} does not belong to it", told(thing)));
    let less = made
        .difference(&found)
        .map(|thing| format!("{} is not as it should be", told(thing)));
    match more.chain(less).next() {
        None => Ok(()),
        Some(detail) => Err(BookFault::Damaged {
            path: path.to_owned(),
            detail: detail.into(),
        }),
    }
}

/// What each version of a book holds, the first of them an empty file.
fn all_versions() -> rusqlite::Result<Vec<BTreeSet<Thing>>> {
    let store = Connection::open_in_memory()?;
    let mut all = vec![things(&store)?];
    for migration in MIGRATIONS {
        store.execute_batch(migration)?;
        all.push(things(&store)?);
    }
    Ok(all)
}

/// The version of the book's form; 0 where nothing has been written yet. All is read as it stands at one instant.
pub(crate) fn version(store: &Transaction<'_>, path: &Path) -> Result<usize, BookFault> {
    let fault = |error: Error| BookFault::of(path, &error);
    let number = |name: &str| store.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    let mark = number("application_id").map_err(fault)?;
    let got = number("user_version").map_err(fault)?;
    let things: i64 = store
        .query_row("SELECT count(*) FROM sqlite_schema", (), |row| row.get(0))
        .map_err(fault)?;
    let path = path.to_owned();
    if (mark, got, things) == (0, 0, 0) {
        return Ok(0);
    }
    if mark != MARK {
        let detail = format!("marked {mark:#010x}").into();
        return Err(BookFault::NotABook { path, detail });
    }
    match usize::try_from(got) {
        Ok(version) if (1..=MIGRATIONS.len()).contains(&version) => Ok(version),
        Ok(_) if got > 0 => {
            let known = turn::as_number(MIGRATIONS.len());
            Err(BookFault::NewerVersion { path, got, known })
        }
        _ => {
            let detail = format!("version {got}").into();
            Err(BookFault::Damaged { path, detail })
        }
    }
}

/// The store's own quick check of its pages, table by table. That each index agrees with its table is not part of it, nor
/// whether the words are rightly filed: that takes many times as long, and is what `verify` is for.
fn check(store: &Connection, path: &Path) -> Result<(), BookFault> {
    let fault = |error: Error| BookFault::of(path, &error);
    let damaged = |detail: String| BookFault::Damaged {
        path: path.to_owned(),
        detail: detail.into(),
    };
    let tables = || -> Result<Vec<String>, Error> {
        // What is only a way of looking at other tables has no page of its own.
        let mut found = store
            .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND rootpage > 0")?;
        let names = found.query_map((), |row| row.get(0))?;
        names.collect()
    };
    for table in tables().map_err(fault)? {
        let mut found = String::new();
        store
            .pragma(None, "quick_check", &table, |row| {
                found = row.get(0)?;
                Ok(())
            })
            .map_err(fault)?;
        if found != "ok" {
            // The first line only says that it is the book itself that is spoken of.
            let told = found.lines().filter(|line| !line.starts_with("***"));
            return Err(damaged(told.collect::<Vec<_>>().join("; ")));
        }
    }
    Ok(())
}
