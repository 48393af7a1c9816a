//! A digest a line, each over the one before: whatever is altered, swapped, cut off or put in is found by going along it.
//!
//! It is no lock: who can write the file can make the chain anew. It tells of what happens to a file by itself.

use crate::aside::{self, Aside};
use crate::{Halt, JobId};
use rusqlite::{Connection, OptionalExtension, Row, Transaction};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;

/// A digest as it is kept.
pub(crate) type Sum = [u8; 32];

/// What the first link is made over.
const NOTHING_BEFORE: Sum = [0; 32];

/// All that belongs to a line and can be read: the columns that a link is made of, in their order. The name and the first
/// sheet of a job belong to its first line.
const CONTENT: &str = "line.sequence, line.job, line.n, line.text,
    CASE line.n WHEN 0 THEN job.name END, CASE line.n WHEN 0 THEN job.sheet END,
    blob.digest, blob.form, blob.bytes, blob.width, blob.height";
const OF_LINE: &str = "line LEFT JOIN job ON job.id = line.job
    LEFT JOIN shown ON shown.sequence = line.sequence LEFT JOIN blob ON blob.digest = shown.digest";

/// The columns of [`CONTENT`], of which the first names the place among all lines, and the fourth is the text.
const COLUMNS: usize = 11;
const TEXT: usize = 3;

/// Takes in one field after another: each with its count of bytes before it, so that none can run into the next.
#[derive(Clone)]
pub(crate) struct Fields(Sha256);

impl Fields {
    pub(crate) fn over(before: &[u8]) -> Fields {
        Fields(Sha256::new_with_prefix(before))
    }

    /// What is there as `BYTES:` and the bytes, what is not there as `-`; a comma ends both.
    pub(crate) fn put(&mut self, field: Option<&[u8]>) {
        match field {
            Some(bytes) => {
                self.0.update(format!("{}:", bytes.len()));
                self.0.update(bytes);
                self.0.update(",");
            }
            None => self.0.update("-,"),
        }
    }

    pub(crate) fn sum(self) -> Sum {
        self.0.finalize().into()
    }
}

/// A column as it is put into a sum: numbers in figures.
pub(crate) fn column(row: &Row<'_>, at: usize) -> rusqlite::Result<Option<Vec<u8>>> {
    use rusqlite::types::ValueRef;
    Ok(match row.get_ref(at)? {
        ValueRef::Null => None,
        ValueRef::Integer(number) => Some(number.to_string().into_bytes()),
        ValueRef::Real(number) => Some(number.to_string().into_bytes()),
        ValueRef::Text(bytes) | ValueRef::Blob(bytes) => Some(bytes.to_vec()),
    })
}

/// One line with all that belongs to it.
struct Content(Vec<Option<Vec<u8>>>);

impl Content {
    /// Of a row that begins with [`CONTENT`].
    fn of(row: &Row<'_>) -> rusqlite::Result<Content> {
        (0..COLUMNS)
            .map(|at| column(row, at))
            .collect::<Result<_, _>>()
            .map(Content)
    }

    /// Its link over the one before.
    fn link(&self, before: &Sum) -> Sum {
        let mut fields = Fields::over(before);
        for field in &self.0 {
            fields.put(field.as_deref());
        }
        fields.sum()
    }
}

/// Where the chain ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct End {
    pub(crate) links: i64,
    pub(crate) link: Sum,
    pub(crate) found: i64,
}

/// Reads where the chain ends; nothing where that is not told.
pub(crate) fn end(store: &Connection) -> Result<Option<End>, Halt> {
    let mut found = store.prepare_cached("SELECT links, link, found FROM chain_end")?;
    let end = found.query_row((), |row| {
        let link: Vec<u8> = row.get(1)?;
        let (links, found) = (row.get(0)?, row.get(2)?);
        Ok(link.try_into().ok().map(|link| End { links, link, found }))
    });
    Ok(end.optional()?.flatten())
}

/// Keeps where the chain ends.
fn ends(change: &Connection, end: &End) -> Result<(), Halt> {
    let mut keep = change.prepare_cached(
        "INSERT OR REPLACE INTO chain_end (one, links, link, found) VALUES (1, ?1, ?2, ?3)",
    )?;
    keep.execute((end.links, &end.link[..], end.found))?;
    aside::sum_up(change, Aside::End)
}

/// Adds the links of the lines with these places, which were written just now.
pub(crate) fn add(change: &Transaction<'_>, sequences: &[i64]) -> Result<(), Halt> {
    let Some(mut end) = end(change)? else {
        return Err(broken("where its lines end is not told"));
    };
    let mut content = change.prepare_cached(&format!(
        "SELECT {CONTENT} FROM {OF_LINE} WHERE line.sequence = ?1"
    ))?;
    for sequence in sequences {
        let content = content.query_row([sequence], Content::of)?;
        end = one(change, &content, *sequence, end)?;
    }
    ends(change, &end)
}

/// Keeps the link of one line behind the last.
fn one(change: &Connection, content: &Content, sequence: i64, end: End) -> Result<End, Halt> {
    let link = content.link(&end.link);
    let mut insert = change.prepare_cached(
        "INSERT OR IGNORE INTO chain (sequence, job, n, link) SELECT sequence, job, n, ?2 FROM line WHERE sequence = ?1",
    )?;
    // Where a line was cut off the end, its place is taken anew; its link tells that there was one.
    if insert.execute((sequence, &link[..]))? == 0 {
        return Err(broken("lines are missing at its end"));
    }
    let links = end.links + 1;
    Ok(End { links, link, ..end })
}

fn broken(why: &str) -> Halt {
    Halt::Damaged(format!("{why}; `trundle book verify` tells more"))
}

/// Makes the chain anew from this place on, over whatever stands there now. Nothing of what it was stays.
pub(crate) fn anew(change: &Transaction<'_>, from: i64) -> Result<(), Halt> {
    let told = end(change)?.map_or(0, |end| end.found);
    change.execute("DELETE FROM chain WHERE sequence >= ?1", [from])?;
    let before = change.query_row(
        "SELECT count(*), (SELECT link FROM chain ORDER BY sequence DESC LIMIT 1) FROM chain",
        (),
        |row| Ok((row.get(0)?, row.get::<_, Option<Vec<u8>>>(1)?)),
    )?;
    let link = before.1.and_then(|link| link.try_into().ok());
    let mut end = End {
        links: before.0,
        link: link.unwrap_or(NOTHING_BEFORE),
        found: told,
    };
    let mut lines = change.prepare(&format!(
        "SELECT {CONTENT} FROM {OF_LINE} WHERE line.sequence >= ?1 ORDER BY line.sequence"
    ))?;
    let mut rows = lines.query([from])?;
    while let Some(row) = rows.next()? {
        end = one(change, &Content::of(row)?, row.get(0)?, end)?;
    }
    ends(change, &end)
}

/// Takes all lines that are there for what was found, whatever was before: the chain begins with them.
pub(crate) fn begin(change: &Transaction<'_>) -> Result<(), Halt> {
    anew(change, i64::MIN)?;
    if let Some(end) = end(change)? {
        let found = end.links;
        ends(change, &End { found, ..end })?;
    }
    Ok(())
}

/// What became of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineWas {
    /// It, or what belongs to it, is another than was written.
    Altered,
    /// It stands in the place of another, and that in its.
    Swapped,
    /// It was written, and is not there.
    Missing,
    /// It is there, and was never written by this program.
    PutIn,
}

/// What is wrong along the chain.
#[derive(Debug, Default)]
pub(crate) struct Broken {
    pub(crate) lines: BTreeMap<(JobId, LineWas), Vec<usize>>,
    /// Links that were made, and links that are there, where they are fewer.
    pub(crate) cut: Option<(u64, u64)>,
    /// Links and end do not agree otherwise.
    pub(crate) end: bool,
}

/// A line on the way along the chain.
struct OnTheWay {
    at: i64,
    job: i64,
    n: i64,
    content: Content,
}

fn next_line(lines: &mut rusqlite::Rows<'_>) -> rusqlite::Result<Option<OnTheWay>> {
    let Some(row) = lines.next()? else {
        return Ok(None);
    };
    Ok(Some(OnTheWay {
        at: row.get(0)?,
        job: row.get(1)?,
        n: row.get(2)?,
        content: Content::of(row)?,
    }))
}

/// So many altered lines are held against each other, each against each, to find those that were swapped.
const MOST_HELD: usize = 64;

/// Goes along the chain.
pub(crate) fn along(store: &Connection) -> Result<Broken, Halt> {
    let mut broken = Broken::default();
    let mut say = |job: i64, n: i64, was: LineWas| {
        let numbers = broken.lines.entry((JobId(job), was)).or_default();
        numbers.push(usize::try_from(n).unwrap_or(0));
    };
    // Lines and links side by side, each by its place.
    let mut lines = store.prepare(&format!(
        "SELECT {CONTENT} FROM {OF_LINE} ORDER BY line.sequence"
    ))?;
    let mut lines = lines.query(())?;
    let mut made = store.prepare("SELECT sequence, job, n, link FROM chain ORDER BY sequence")?;
    let mut made = made.query(())?;
    let mut line = next_line(&mut lines)?;
    let (mut before, mut links, mut altered) = (NOTHING_BEFORE, 0_u64, Vec::new());
    while let Some(row) = made.next()? {
        let (at, job, n): (i64, i64, i64) = (row.get(0)?, row.get(1)?, row.get(2)?);
        while let Some(put_in) = line.take_if(|line| line.at < at) {
            say(put_in.job, put_in.n, LineWas::PutIn);
            line = next_line(&mut lines)?;
        }
        let link: Vec<u8> = row.get(3)?;
        let link: Sum = link.try_into().unwrap_or(NOTHING_BEFORE);
        links += 1;
        match line.take_if(|line| line.at == at) {
            None => say(job, n, LineWas::Missing),
            Some(there) => {
                if there.content.link(&before) != link {
                    altered.push((job, n, there.content, before, link));
                }
                line = next_line(&mut lines)?;
            }
        }
        before = link;
    }
    while let Some(put_in) = line {
        say(put_in.job, put_in.n, LineWas::PutIn);
        line = next_line(&mut lines)?;
    }
    for (at, (job, n, content, before, link)) in altered.iter().enumerate() {
        let others = altered.iter().take(MOST_HELD).enumerate();
        let swapped = at < MOST_HELD
            && others
                .filter(|(other, _)| *other != at)
                .any(|(_, (_, _, other, _, _))| {
                    let mut as_it_was = Content(content.0.clone());
                    as_it_was.0[TEXT..].clone_from_slice(&other.0[TEXT..]);
                    as_it_was.link(before) == *link
                });
        say(
            *job,
            *n,
            if swapped {
                LineWas::Swapped
            } else {
                LineWas::Altered
            },
        );
    }
    match end(store)? {
        Some(end) if end.links.unsigned_abs() > links => {
            broken.cut = Some((end.links.unsigned_abs(), links));
        }
        Some(end) => broken.end = end.links.unsigned_abs() < links || end.link != before,
        None => broken.end = true,
    }
    Ok(broken)
}
