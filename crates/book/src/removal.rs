//! Removals: a person's fields and pictures are emptied in the book, in every file beside it and in the backups that it
//! keeps. The entries stay. What was carried off by hand (a backup on another disk, an export, paper) is out of reach.

use crate::aside::{self, Aside};
use crate::jobs::{self, up_to_date};
use crate::picture::Form;
use crate::tidy::{self, Reach, Tried};
use crate::{Book, BookFault, Halt, JobId, backup, blobs, chain, coming, emptying, rest, search};
use entries::{Digest, Emptied, Kind, Log, Told, Work};
use rusqlite::{Connection, OptionalExtension, Transaction};
use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::Path;
use std::sync::PoisonError;

/// Fields to be emptied, by job.
pub(crate) type Wanted = BTreeMap<JobId, Vec<Emptied>>;

/// The field of an entry that names its picture.
const PICTURE: &str = "picture";

impl Book {
    /// Empties fields of a job's entries for good, and adds the entry that says so, with what is said of when. A picture goes
    /// from every entry that shows it, those of other jobs too. Then the book's files and its own backups are gone over.
    ///
    /// # Errors
    /// [`BookFault::Behind`] as when appending; that a field is not there or cannot be emptied; that the book cannot be
    /// written. [`BookFault::NotSwept`] if all of that went well and only a file or a backup resists.
    pub fn remove(
        &self,
        id: JobId,
        entries_before: usize,
        fields: &[Emptied],
        at: Option<&str>,
    ) -> Result<(), BookFault> {
        let _alone = self.removing.lock().unwrap_or_else(PoisonError::into_inner);
        self.write(|change| {
            up_to_date(change, id, entries_before)?;
            let was = chain::walk(change)?;
            let mut wanted = Wanted::from([(id, fields.to_vec())]);
            let pictures = pictures(change, id, fields)?;
            for digest in &pictures {
                everywhere(change, digest, &mut wanted)?;
            }
            // Which lines of the backups are these can be told as long as they are there.
            let earlier = removals(change, "swept = 0", 0)?;
            let lines = lines(change, &wanted)?;
            let mut lengths = BTreeMap::new();
            for id in wanted.keys() {
                lengths.insert(id.0, jobs::log(change, *id)?.lines().count());
            }
            for backup in backup::kept(&self.path) {
                emptying::mark(&backup, &lines, &lengths, &earlier);
            }
            let mut first = i64::MAX;
            for (id, fields) in &wanted {
                let (log, touched) = empty(change, *id, fields, at)?;
                first = first.min(touched);
                jobs::add(change, *id, &log, log.entries().len() - 1, log.text())?;
                // This one is still to be carried through.
                change.execute(
                    "UPDATE removal SET swept = 0 WHERE sequence = (SELECT last FROM job WHERE id = ?1)",
                    [id.0],
                )?;
            }
            for digest in &pictures {
                if let Some(picture) = blobs::find(change, digest)? {
                    coming::unindex(change, digest, picture.form)?;
                }
            }
            // Whom a picture shows that no entry shows, nobody knows.
            coming::strike_out(change, &self.path, None)?;
            // No link made over what is gone now may stay.
            chain::anew(change, first, &was)
        })?;
        self.sweep_alone()
    }

    /// Carries removals through to the pictures' files, the file of changes and the book's own backups, where that has not
    /// been done yet, and gives nothing back but that it is done.
    ///
    /// # Errors
    /// [`BookFault::NotSwept`]: a file or a backup resists. It can be tried again. [`BookFault::OtherLines`]: all is done, and a backup
    /// that is not this book's was put aside.
    pub fn sweep(&self) -> Result<(), BookFault> {
        let _alone = self.removing.lock().unwrap_or_else(PoisonError::into_inner);
        self.sweep_alone()
    }

    /// Whether something that was removed from a job may still lie in a file or a backup.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn not_swept(&self, id: JobId) -> Result<bool, BookFault> {
        self.read(|store| {
            let mut pending = store.prepare_cached(
                "SELECT 1 FROM removal JOIN line USING (sequence) WHERE swept = 0 AND job = ?1",
            )?;
            Ok(pending.exists([id.0])?)
        })
    }

    fn sweep_alone(&self) -> Result<(), BookFault> {
        let not_swept = |fault| BookFault::NotSwept(Box::new(fault));
        let (removals, wanted, unswept) = self.read(|store| {
            let mut found = store.prepare("SELECT sequence FROM removal WHERE swept = 0")?;
            let removals = found.query_map((), |row| row.get::<_, i64>(0))?;
            let removals = removals.collect::<Result<Vec<_>, _>>()?;
            let wanted = self::removals(store, "swept = 0", 0)?;
            Ok((removals, wanted, self::unswept(store)?))
        })?;
        if removals.is_empty() && unswept.is_empty() {
            return Ok(());
        }
        let pictures = blobs::folder(&self.path);
        // What resists does not keep the rest from going.
        let mut resists = Tried::default();
        resists.also(self.write(|change| {
            let mut each = Tried::default();
            let mut take =
                |path: &Path| each.also(gone(path).map_err(|error| BookFault::file(path, &error)));
            let lie = if unswept.is_empty() {
                Vec::new()
            } else {
                tidy::pictures_in(&pictures)
            };
            for (digest, form) in &unswept {
                // One that was kept again since then stays.
                if blobs::find(change, digest)?.is_some() {
                    continue;
                }
                blobs::both(&pictures, digest, *form)
                    .iter()
                    .for_each(|path| take(path));
                // And whatever a file manager made of its name.
                let renamed = lie.iter().filter(|(of, _)| of == digest);
                renamed.for_each(|(_, path)| take(path));
            }
            Ok(each.all()?)
        }));
        let reach = if removals.is_empty() {
            Reach::BrokenOff
        } else {
            Reach::Everything
        };
        let going: BTreeSet<Digest> = unswept.iter().map(|(digest, _)| digest.clone()).collect();
        resists.also(self.tidy(reach, &going));
        let mut others = Tried::default();
        for backup in backup::kept(&self.path) {
            // Where no line is to be emptied, pictures go by their names.
            let same =
                emptying::marked(&backup).or_else(|| wanted.is_empty().then(Marked::default));
            let Some(same) = same else {
                let mut holds = emptying::may_hold(&backup, &wanted, &unswept);
                if holds {
                    // One that is being made is gone over by whoever makes it.
                    drop(self.backing.lock().unwrap_or_else(PoisonError::into_inner));
                    holds = emptying::may_hold(&backup, &wanted, &unswept);
                }
                if holds {
                    // When it could have been found out which lines those are, it could not be read.
                    resists.also(Err(BookFault::NotKnown { backup }));
                }
                continue;
            };
            match emptying::empty(&backup, &wanted, &Same::These(same), &unswept) {
                Err(BookFault::OtherLines { backup }) => match backup::no_longer_own(&backup) {
                    Ok(backup) => others.also(Err(BookFault::OtherLines { backup })),
                    Err(fault) => resists.also(Err(fault)),
                },
                came => resists.also(came),
            }
        }
        if let Err(fault) = resists.all() {
            // What was emptied in the book itself waits for nothing else.
            if !removals.is_empty() {
                self.forget_changes().map_err(not_swept)?;
            }
            return Err(not_swept(fault));
        }
        self.write(|change| {
            for (digest, _) in &unswept {
                change.execute("DELETE FROM unswept WHERE digest = ?1", [digest.text()])?;
            }
            Ok(())
        })?;
        if removals.is_empty() {
            return others.all();
        }
        self.forget_changes().map_err(not_swept)?;
        // Only those that were gone over: another program may have removed more meanwhile.
        self.write(|change| {
            for sequence in &removals {
                change.execute(
                    "UPDATE removal SET swept = 1 WHERE sequence = ?1",
                    [sequence],
                )?;
            }
            Ok(())
        })?;
        others.all()
    }

    /// Writes the whole book anew, and empties the file of changes beside it. The store writes over what is struck out, but
    /// not over copies that it left where it moved something, so they are left behind.
    fn forget_changes(&self) -> Result<(), BookFault> {
        self.still_there()?;
        let store = self.store();
        // Its pages lie otherwise from then on, so it is told apart from what it was.
        let mark = store
            .execute_batch("VACUUM")
            .and_then(|()| rest::begin(&store))
            .map_err(|error| BookFault::of(&self.path, &error))?;
        self.tied.marked(mark, &store);
        match rest::carry(&store) {
            Ok(true) => Ok(()),
            Ok(false) => Err(BookFault::Busy {
                path: self.path.clone(),
                detail: "it is being read".into(),
            }),
            Err(error) => Err(BookFault::of(&self.path, &error)),
        }
    }
}

/// Whether a removal is still to be carried through.
pub(crate) fn pending(store: &Connection) -> Result<bool, Halt> {
    let mut pending = store.prepare("SELECT 1 FROM removal WHERE swept = 0")?;
    Ok(pending.exists(())?)
}

/// The lines that are to be emptied, as they are, by job and number.
fn lines(store: &Connection, wanted: &Wanted) -> Result<BTreeMap<(i64, usize), String>, Halt> {
    let mut found = BTreeMap::new();
    for (id, fields) in wanted {
        let log = jobs::log(store, *id)?;
        let lines: Vec<&str> = log.lines().collect();
        for emptied in fields {
            if let Some(line) = lines.get(emptied.of) {
                found.insert((id.0, emptied.of), (*line).to_owned());
            }
        }
    }
    Ok(found)
}

/// Strikes a picture out of the index.
pub(crate) fn forget(change: &Transaction<'_>, digest: &str) -> Result<(), Halt> {
    aside::change(change, Aside::Picture, &digest, || {
        change.execute("DELETE FROM blob WHERE digest = ?1", [digest])?;
        Ok(())
    })
}

/// Empties fields of a job's lines, and gives its log with the line that tells of it, which is not written yet, and the place
/// of the first line that was touched.
fn empty(
    change: &Transaction<'_>,
    id: JobId,
    fields: &[Emptied],
    at: Option<&str>,
) -> Result<(Log, i64), Halt> {
    let mut first = i64::MAX;
    let mut log = jobs::readable(&jobs::log(change, id)?)?;
    let removed = log.remove(fields, at).map_err(BookFault::Unreadable)?;
    for (n, line) in &removed.emptied {
        let place = (id.0, *n);
        change.execute("INSERT INTO emptying (job, n) VALUES (?1, ?2)", place)?;
        let sequence: i64 = change.query_row(
            "UPDATE line SET text = ?3 WHERE job = ?1 AND n = ?2 RETURNING sequence",
            (id.0, *n, line),
            |row| row.get(0),
        )?;
        change.execute("DELETE FROM emptying WHERE job = ?1 AND n = ?2", place)?;
        first = first.min(sequence);
        let entry = &log.entries()[n - 1];
        search::replace(change, sequence, &entry.words())?;
        if entry.work().and_then(Work::picture).is_none() {
            change.execute("DELETE FROM shown WHERE sequence = ?1", [sequence])?;
        }
    }
    let names = |emptied: &Emptied| emptied.fields.iter().any(|field| field == "clock");
    if fields.iter().any(names) {
        first = first.min(nameless(change, id, &log)?);
    }
    Ok((log, first))
}

/// Which lines of a backup are those that are emptied in the book: one of another book, or of days that this one no longer has, may
/// have other lines in their places.
pub(crate) enum Same {
    /// All: it was made of this book since.
    All,
    /// Those that were found to say the same before anything was emptied.
    These(Marked),
}

/// What was found out of a backup before anything was emptied in the book.
#[derive(Default)]
pub(crate) struct Marked {
    /// The lines that say the same, by job and number.
    pub(crate) lines: BTreeSet<(i64, usize)>,
    /// Whether it has more lines of those jobs than the book.
    pub(crate) more: bool,
}

impl Same {
    /// Whether the backup has lines of those jobs that the book lacks.
    pub(crate) fn lacks_some(&self) -> bool {
        matches!(self, Same::These(marked) if marked.more)
    }

    fn has(&self, id: JobId, n: usize) -> bool {
        match self {
            Same::All => true,
            Same::These(marked) => marked.lines.contains(&(id.0, n)),
        }
    }
}

/// Of what is to be emptied in a job's log, what stands there in the very line that was emptied in the book; and whether there are
/// others in such places.
pub(crate) fn same_lines(
    log: &Log,
    id: JobId,
    fields: &[Emptied],
    same: &Same,
) -> (Vec<Emptied>, bool) {
    let mut holding = log.holding(fields);
    let all = holding.len();
    holding.retain(|emptied| same.has(id, emptied.of));
    let others = holding.len() < all;
    (holding, others)
}

/// Empties in a backup what is still to be emptied there: it may be older than the entries, or have been gone over before. Gives
/// whether other lines stand in some of their places: those are left alone.
pub(crate) fn empty_if_there(
    change: &Transaction<'_>,
    wanted: &Wanted,
    same: &Same,
    pictures: &[(Digest, Form)],
) -> Result<bool, Halt> {
    let was = chain::walk(change)?;
    let (mut first, mut others) = (i64::MAX, false);
    for (id, fields) in wanted {
        let text = jobs::log(change, *id)?;
        if text.is_empty() {
            continue;
        }
        let log = jobs::readable(&text)?;
        let (holding, not_the_same) = same_lines(&log, *id, fields, same);
        others |= not_the_same;
        if !holding.is_empty() {
            let (_, touched) = empty(change, *id, &holding, None)?;
            first = first.min(touched);
            // The backup does not tell of it: as it stood, the removal was still to come.
            let log = jobs::readable(&jobs::log(change, *id)?)?;
            jobs::follow(change, *id, &log)?;
        }
    }
    for (digest, _) in pictures {
        if is_shown(change, digest)? {
            others = true;
        } else {
            forget(change, digest.text())?;
        }
    }
    if first < i64::MAX {
        chain::anew(change, first, &was)?;
    }
    Ok(others)
}

/// Whether any entry shows a picture.
pub(crate) fn is_shown(store: &Connection, digest: &Digest) -> Result<bool, Halt> {
    let mut shows = store.prepare_cached("SELECT 1 FROM shown WHERE digest = ?1 LIMIT 1")?;
    Ok(shows.exists([digest.text()])?)
}

/// A job is named after the clock that came in, so with that name its own goes. Gives the place of its first line.
fn nameless(change: &Transaction<'_>, id: JobId, log: &Log) -> Result<i64, Halt> {
    change.execute("UPDATE job SET name = '' WHERE id = ?1", [id.0])?;
    let (sequence, sheet): (i64, String) = change.query_row(
        "SELECT sequence, sheet FROM line JOIN job ON job.id = line.job WHERE job = ?1 AND n = 0",
        [id.0],
        |row| Ok((row.get(0)?, row.get(1)?)),
    )?;
    search::replace(change, sequence, &search::of_first("", &sheet, log))?;
    Ok(sequence)
}

/// The pictures among these fields.
fn pictures(store: &Connection, id: JobId, fields: &[Emptied]) -> Result<BTreeSet<Digest>, Halt> {
    let mut found = store.prepare_cached(
        "SELECT digest FROM shown JOIN line USING (sequence) WHERE job = ?1 AND n = ?2",
    )?;
    let mut pictures = BTreeSet::new();
    for Emptied { of, fields } in fields {
        if fields.iter().any(|field| field == PICTURE) {
            let digest = found.query_row((id.0, *of), |row| row.get::<_, String>(0));
            pictures.extend(digest.optional()?.and_then(|text| Digest::parse(&text)));
        }
    }
    Ok(pictures)
}

/// Adds every further entry that shows a picture to what is to be emptied.
fn everywhere(store: &Connection, digest: &Digest, wanted: &mut Wanted) -> Result<(), Halt> {
    let mut found = store.prepare_cached(
        "SELECT job, n FROM shown JOIN line USING (sequence) WHERE digest = ?1 ORDER BY job, n",
    )?;
    let mut rows = found.query([digest.text()])?;
    while let Some(row) = rows.next()? {
        let (id, of) = (JobId(row.get(0)?), row.get(1)?);
        let fields = wanted.entry(id).or_default();
        let named = |asked: &Emptied| asked.of == of && asked.fields.iter().any(|f| f == PICTURE);
        if !fields.iter().any(named) {
            let emptied = vec![PICTURE.to_owned()];
            fields.push(Emptied {
                of,
                fields: emptied,
            });
        }
    }
    Ok(())
}

/// What the removals come to that fit, of those after a place among all lines of the book.
pub(crate) fn removals(store: &Connection, fits: &str, after: u64) -> Result<Wanted, Halt> {
    let mut found = store.prepare(&format!(
        "SELECT job, n, line.text FROM removal JOIN line USING (sequence) WHERE {fits} AND sequence > ?1"
    ))?;
    let mut rows = found.query([after.cast_signed()])?;
    let mut wanted = Wanted::new();
    while let Some(row) = rows.next()? {
        let (id, n): (i64, usize) = (row.get(0)?, row.get(1)?);
        let log = jobs::readable(&jobs::log(store, JobId(id))?)?;
        let told = log.entries().get(n - 1).map(|entry| &entry.told);
        if let Some(Told::Known(Kind::Work(Work::Removal { emptied }))) = told {
            let fields = wanted.entry(JobId(id)).or_default();
            fields.extend(emptied.iter().cloned());
        }
    }
    Ok(wanted)
}

/// Pictures whose files are still to go.
fn unswept(store: &Connection) -> Result<Vec<(Digest, Form)>, Halt> {
    let mut found = store.prepare("SELECT digest, form FROM unswept")?;
    let rows = found.query_map((), |row| {
        let digest: String = row.get(0)?;
        let form: String = row.get(1)?;
        Ok(Digest::parse(&digest).zip(Form::of_ending(&form)))
    })?;
    Ok(rows.flat_map(Result::transpose).collect::<Result<_, _>>()?)
}

/// Deletes a file, and has it gone from the disk.
pub(crate) fn gone(path: &Path) -> io::Result<()> {
    match std::fs::remove_file(path) {
        Ok(()) => crate::files::sync_folder(
            path.parent().unwrap_or(Path::new(".")),
            crate::Syncing::Each,
        ),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error),
    }
}
