//! A digest a line, each over the one before: whatever is altered, swapped, cut off or put in is found by going along it.
//!
//! It is no lock: who can write the file can make the chain anew. It tells of what happens to a file by itself.

use crate::aside::{self, Aside};
use crate::id::JobId;
use crate::picture::Picture;
use crate::sum::{self, Fields, Sum};
use crate::turn::Halt;
use rusqlite::{Connection, OptionalExtension, Row, Transaction};
use std::collections::{BTreeMap, BTreeSet};

/// What the first link is made over.
const NOTHING_BEFORE: Sum = [0; 32];

/// All that belongs to a line and can be read: the columns that a link is made of, in their order. The name and the first
/// sheet of a job belong to its first line.
const CONTENT: &str = "line.sequence, line.job, line.n, line.text,
    CASE line.n WHEN 0 THEN job.name END, CASE line.n WHEN 0 THEN job.sheet END,
    blob.digest, blob.form, blob.bytes, blob.width, blob.height";
const OF_LINE: &str = "line LEFT JOIN job ON job.id = line.job
    LEFT JOIN shown ON shown.sequence = line.sequence LEFT JOIN blob ON blob.digest = shown.digest";

/// The columns of [`CONTENT`], of which the first names the place among all lines, the fourth is the text, and those from the
/// seventh on tell of the picture.
const COLUMNS: usize = 11;
const TEXT: usize = 3;
const OF_PICTURE: usize = 6;

/// One line with all that belongs to it.
struct Content(Vec<Option<Vec<u8>>>);

impl Content {
    /// Of a row that begins with [`CONTENT`].
    fn of(row: &Row<'_>) -> rusqlite::Result<Content> {
        (0..COLUMNS)
            .map(|at| sum::column(row, at))
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
    // What was wrong with the note before stays wrong with its sum.
    aside::change(change, Aside::End, &1, || {
        keep.execute((end.links, &end.link[..], end.found))?;
        Ok(())
    })
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

/// Makes the chain anew from this place on, over what stands there now. Nothing of what it was stays but what was wrong with it
/// before: a line that was altered, is missing or was put in is so still, and so is the end.
pub(crate) fn anew(change: &Transaction<'_>, from: i64, was: &Walk) -> Result<(), Halt> {
    let last = again(change, from, was)?;
    let Some(end) = was.end else {
        return Ok(());
    };
    let lost = end.links - was.links;
    let link = if lost == 0 && end.link != was.last {
        no_link(&last.link)
    } else {
        last.link
    };
    let links = last.links + lost;
    let found = end.found;
    ends(change, &End { links, link, found })
}

/// Writes the links from this place on, and gives where they end.
fn again(change: &Transaction<'_>, from: i64, was: &Walk) -> Result<End, Halt> {
    change.execute("DELETE FROM chain WHERE sequence >= ?1", [from])?;
    let (links, link): (i64, Option<Vec<u8>>) = change.query_row(
        "SELECT count(*), (SELECT link FROM chain ORDER BY sequence DESC LIMIT 1) FROM chain",
        (),
        |row| Ok((row.get(0)?, row.get(1)?)),
    )?;
    let mut end = End {
        links,
        link: link
            .and_then(|link| link.try_into().ok())
            .unwrap_or(NOTHING_BEFORE),
        found: 0,
    };
    let altered: BTreeSet<i64> = was.altered.iter().map(|line| line.place.at).collect();
    let put_in: BTreeSet<i64> = was.put_in.iter().map(|place| place.at).collect();
    let mut missing = was
        .missing
        .iter()
        .filter(|place| place.at >= from)
        .peekable();
    let mut insert = change
        .prepare_cached("INSERT INTO chain (sequence, job, n, link) VALUES (?1, ?2, ?3, ?4)")?;
    let mut add = |place: &Place, link: Sum, end: &mut End| {
        end.links += 1;
        end.link = link;
        insert
            .execute((place.at, place.job, place.n, &link[..]))
            .map(drop)
    };
    let mut lines = change.prepare(&format!(
        "SELECT {CONTENT} FROM {OF_LINE} WHERE line.sequence >= ?1 ORDER BY line.sequence"
    ))?;
    let mut rows = lines.query([from])?;
    while let Some(Line { place, content }) = next_line(&mut rows)? {
        while let Some(gone) = missing.next_if(|gone| gone.at < place.at) {
            add(gone, no_link(&end.link), &mut end)?;
        }
        let link = content.link(&end.link);
        match () {
            () if put_in.contains(&place.at) => {}
            () if altered.contains(&place.at) => add(&place, no_link(&link), &mut end)?,
            () => add(&place, link, &mut end)?,
        }
    }
    for gone in missing {
        add(gone, no_link(&end.link), &mut end)?;
    }
    Ok(end)
}

/// What no line has for its link: each bit is another.
fn no_link(link: &Sum) -> Sum {
    link.map(|byte| !byte)
}

/// Takes all lines that are there for what was found, whatever was before: the chain begins with them.
pub(crate) fn begin(change: &Transaction<'_>) -> Result<(), Halt> {
    let end = again(change, i64::MIN, &Walk::default())?;
    let found = end.links;
    ends(change, &End { found, ..end })
}

/// The chain over all lines as they are exported, each with the picture that it shows there: how many links, and the last.
pub(crate) fn over(store: &Connection, shown: &BTreeMap<i64, Picture>) -> Result<(i64, Sum), Halt> {
    let mut lines = store.prepare(
        "SELECT sequence, line.job, n, text, CASE n WHEN 0 THEN name END, CASE n WHEN 0 THEN sheet END
        FROM line JOIN job ON job.id = line.job ORDER BY sequence",
    )?;
    let mut rows = lines.query(())?;
    let (mut links, mut link) = (0, NOTHING_BEFORE);
    while let Some(row) = rows.next()? {
        let mut fields: Vec<_> = (0..OF_PICTURE)
            .map(|at| sum::column(row, at))
            .collect::<Result<_, _>>()?;
        if let Some(picture) = shown.get(&row.get(0)?) {
            let told = [
                picture.digest.text().to_owned(),
                picture.form.ending().to_owned(),
                picture.bytes.to_string(),
                picture.width.to_string(),
                picture.height.to_string(),
            ];
            fields.extend(told.map(|told| Some(told.into_bytes())));
        }
        fields.resize(COLUMNS, None);
        link = Content(fields).link(&link);
        links += 1;
    }
    Ok((links, link))
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

impl Broken {
    /// Whether anything is wrong.
    pub(crate) fn anywhere(&self) -> bool {
        !self.lines.is_empty() || self.cut.is_some() || self.end
    }
}

/// Where a line stands: among all lines, in which job, with which number.
#[derive(Debug, Clone, Copy)]
struct Place {
    at: i64,
    job: i64,
    n: i64,
}

/// A line on the way along the chain.
struct Line {
    place: Place,
    content: Content,
}

fn next_line(lines: &mut rusqlite::Rows<'_>) -> rusqlite::Result<Option<Line>> {
    let Some(row) = lines.next()? else {
        return Ok(None);
    };
    let place = Place {
        at: row.get(0)?,
        job: row.get(1)?,
        n: row.get(2)?,
    };
    let content = Content::of(row)?;
    Ok(Some(Line { place, content }))
}

/// A line that does not have the link that it was given.
struct Altered {
    place: Place,
    content: Content,
    before: Sum,
    link: Sum,
}

/// What is met along the chain.
#[derive(Default)]
pub(crate) struct Walk {
    altered: Vec<Altered>,
    missing: Vec<Place>,
    put_in: Vec<Place>,
    links: i64,
    last: Sum,
    end: Option<End>,
}

/// Goes along the chain: lines and links side by side, each by its place.
pub(crate) fn walk(store: &Connection) -> Result<Walk, Halt> {
    let mut walk = Walk {
        end: end(store)?,
        last: NOTHING_BEFORE,
        ..Walk::default()
    };
    let mut lines = store.prepare(&format!(
        "SELECT {CONTENT} FROM {OF_LINE} ORDER BY line.sequence"
    ))?;
    let mut lines = lines.query(())?;
    let mut made = store.prepare("SELECT sequence, job, n, link FROM chain ORDER BY sequence")?;
    let mut made = made.query(())?;
    let mut line = next_line(&mut lines)?;
    while let Some(row) = made.next()? {
        let place = Place {
            at: row.get(0)?,
            job: row.get(1)?,
            n: row.get(2)?,
        };
        while let Some(put_in) = line.take_if(|line| line.place.at < place.at) {
            walk.put_in.push(put_in.place);
            line = next_line(&mut lines)?;
        }
        let link: Vec<u8> = row.get(3)?;
        let link: Sum = link.try_into().unwrap_or(NOTHING_BEFORE);
        let before = std::mem::replace(&mut walk.last, link);
        walk.links += 1;
        let Some(Line { content, .. }) = line.take_if(|line| line.place.at == place.at) else {
            walk.missing.push(place);
            continue;
        };
        if content.link(&before) != link {
            walk.altered.push(Altered {
                place,
                content,
                before,
                link,
            });
        }
        line = next_line(&mut lines)?;
    }
    while let Some(put_in) = line {
        walk.put_in.push(put_in.place);
        line = next_line(&mut lines)?;
    }
    Ok(walk)
}

/// So many altered lines are held against each other, each against each, to find those that were swapped.
const MOST_HELD: usize = 64;

impl Altered {
    /// Whether it stood where one of these stands, or as that one: with its text it has its link.
    fn swapped_with(&self, others: &[Altered]) -> bool {
        others.iter().any(|other| {
            let mut as_it_was = Content(self.content.0.clone());
            as_it_was.0[TEXT..].clone_from_slice(&other.content.0[TEXT..]);
            as_it_was.link(&self.before) == self.link
        })
    }
}

/// What is wrong along the chain.
pub(crate) fn along(store: &Connection) -> Result<Broken, Halt> {
    let walk = walk(store)?;
    let mut broken = Broken::default();
    let mut say = |place: &Place, was: LineWas| {
        let numbers = broken.lines.entry((JobId(place.job), was)).or_default();
        numbers.push(usize::try_from(place.n).unwrap_or(0));
    };
    let held = &walk.altered[..walk.altered.len().min(MOST_HELD)];
    for (at, line) in walk.altered.iter().enumerate() {
        let swapped = at < MOST_HELD && line.swapped_with(held);
        let was = if swapped {
            LineWas::Swapped
        } else {
            LineWas::Altered
        };
        say(&line.place, was);
    }
    for place in &walk.missing {
        say(place, LineWas::Missing);
    }
    for place in &walk.put_in {
        say(place, LineWas::PutIn);
    }
    match walk.end {
        Some(end) if end.links > walk.links => {
            broken.cut = Some((end.links.unsigned_abs(), walk.links.unsigned_abs()));
        }
        Some(end) => broken.end = end.links < walk.links || end.link != walk.last,
        None => broken.end = true,
    }
    Ok(broken)
}
