//! Removals: a person's fields and pictures are emptied in the book, in every file beside it and in the backups that it
//! keeps. The entries stay. What was carried off by hand (a backup on another disk, an export, paper) is out of reach.

use crate::book::Book;
use crate::fault::BookFault;
use crate::fields::{self, Marked, Places, Same};
use crate::id::JobId;
use crate::picture::PictureFormat;
use crate::tidy::Reach;
use crate::tried::Tried;
use crate::turn::Halt;
use crate::{backups, blobs, chain, emptying, files, left, lines, rest, unshown};
use entries::{Digest, Emptied};
use rusqlite::{Connection, OptionalExtension};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{File, TryLockError};
use std::path::Path;
use std::sync::{MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// The field of an entry that names its picture.
const PICTURE: &str = "picture";

/// So long it is waited for another program that removes something: going over the backups takes seconds.
const OTHERS_REMOVE_FOR: Duration = Duration::from_secs(60);
const LOOKED_AGAIN: Duration = Duration::from_millis(20);

/// What is to be removed at the wish of whom one job names.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Removing {
    /// The fields that are emptied, of that job and of others.
    pub emptied: Places,
    /// Fields that are not, and in which something of it may stand.
    pub left: Places,
}

impl Removing {
    /// Fields of one job, with nothing known to be left.
    pub fn of(id: JobId, fields: &[Emptied]) -> Removing {
        Removing {
            emptied: Places::from([(id, fields.to_vec())]),
            left: Places::new(),
        }
    }
}

impl Book {
    /// Empties fields of entries for good, and adds to each of their jobs the entry that says so, with what is said of when. A
    /// picture goes from every entry that shows it, those of other jobs too. What is known to be left is kept, its places alone.
    /// Then the book's files and its own backups are gone over.
    ///
    /// # Errors
    /// [`BookFault::Behind`] as when appending to the job that it is asked of; that a field is not there or cannot be emptied; that
    /// the book cannot be written. [`BookFault::NotSwept`] if all of that went well and only a file or a backup resists.
    pub fn remove(
        &self,
        id: JobId,
        entries_before: usize,
        what: &Removing,
        at: Option<&str>,
    ) -> Result<(), BookFault> {
        let _alone = self.alone()?;
        self.write(|change| {
            lines::up_to_date(change, id, entries_before)?;
            let was = chain::walk(change)?;
            let mut wanted = what.emptied.clone();
            let pictures = pictures(change, &wanted)?;
            for digest in &pictures {
                everywhere(change, digest, &mut wanted)?;
            }
            // Which lines of the backups are these can be told as long as they are there.
            let earlier = fields::removals(change, "swept = 0", 0)?;
            let lines = lines(change, &wanted)?;
            let mut lengths = BTreeMap::new();
            for id in wanted.keys() {
                lengths.insert(id.0, lines::log(change, *id)?.lines().count());
            }
            for backup in backups::kept(&self.path) {
                emptying::mark(&backup, &lines, &lengths, &earlier);
            }
            let mut first = i64::MAX;
            for (id, fields) in &wanted {
                let (log, touched) = fields::empty(change, *id, fields, at)?;
                first = first.min(touched);
                lines::add(change, *id, &log, log.entries().len() - 1, log.text())?;
                // This one is still to be carried through.
                change.execute(
                    "UPDATE removal SET swept = 0 WHERE sequence = (SELECT last FROM job WHERE id = ?1)",
                    [id.0],
                )?;
            }
            for digest in &pictures {
                if let Some(picture) = blobs::find(change, digest)? {
                    unshown::unindex(change, digest, picture.form)?;
                }
            }
            left::keep(change, id, &what.left)?;
            // Whom a picture shows that no entry shows, nobody knows.
            unshown::strike_out(change, &self.path, None)?;
            // No link made over what is gone now may stay.
            chain::anew(change, first, &was)
        })?;
        self.sweep_alone()
    }

    /// Carries removals through to the pictures' files, the file of changes and the book's own backups, where that has not
    /// been done yet, and gives nothing back but that it is done.
    ///
    /// # Errors
    /// [`BookFault::NotSwept`]: files or backups resist, and all of them are told. It can be tried again. [`BookFault::OtherLines`]:
    /// all is done, and backups that are not this book's were put aside.
    pub fn sweep(&self) -> Result<(), BookFault> {
        let _alone = self.alone()?;
        self.sweep_alone()
    }

    /// Held as long as something is removed or gone over: one thread of this program, and one program of all, does so at a time. They
    /// would take each other's marks and pages in the backups for their own.
    ///
    /// # Errors
    /// Another program does not come to an end with it.
    fn alone(&self) -> Result<(MutexGuard<'_, ()>, Option<File>), BookFault> {
        let own = self.removing.lock().unwrap_or_else(PoisonError::into_inner);
        // Without backups nothing is gone over that two could spoil.
        let Ok(folder) = File::open(backups::own(&self.path)) else {
            return Ok((own, None));
        };
        let began = Instant::now();
        // Where folders cannot be locked, nobody can be seen there.
        while matches!(folder.try_lock(), Err(TryLockError::WouldBlock)) {
            if began.elapsed() > OTHERS_REMOVE_FOR {
                return Err(BookFault::Busy {
                    path: self.path.clone(),
                    detail: "another program is removing something from it".into(),
                });
            }
            std::thread::sleep(LOOKED_AGAIN);
        }
        Ok((own, Some(folder)))
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
        let (removals, wanted, unswept) = self.read(|store| {
            let mut found = store.prepare("SELECT sequence FROM removal WHERE swept = 0")?;
            let removals = found.query_map((), |row| row.get::<_, i64>(0))?;
            let removals = removals.collect::<Result<Vec<_>, _>>()?;
            let wanted = fields::removals(store, "swept = 0", 0)?;
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
            let mut take = |path: &Path| {
                each.also(files::gone(path).map_err(|error| BookFault::file(path, &error)));
            };
            let lie = if unswept.is_empty() {
                Vec::new()
            } else {
                blobs::pictures_in(&pictures)
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
        let mut others = Vec::new();
        for backup in backups::kept(&self.path) {
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
                    resists.also(Err(emptying::hindered(&backup)));
                }
                continue;
            };
            match emptying::empty(&backup, &wanted, &Same::These(same), &unswept) {
                Ok(false) => {}
                Ok(true) => match backups::no_longer_own(&backup) {
                    Ok(aside) => others.push(aside),
                    Err(fault) => resists.also(Err(backups::resists(&backup, fault))),
                },
                Err(fault) => resists.also(Err(backups::resists(&backup, fault))),
            }
        }
        for unread in backups::unread(&self.path) {
            resists.also(Err(unread));
        }
        if resists.none() {
            self.write(|change| {
                for (digest, _) in &unswept {
                    change.execute("DELETE FROM unswept WHERE digest = ?1", [digest.text()])?;
                }
                Ok(())
            })?;
        }
        if !removals.is_empty() {
            // What was emptied in the book itself waits for nothing else.
            resists.also(self.forget_changes());
        }
        if resists.none() {
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
        }
        let put_aside = match others.is_empty() {
            true => Ok(()),
            false => Err(BookFault::OtherLines { backups: others }),
        };
        if resists.none() {
            return put_aside;
        }
        resists.also(put_aside);
        resists.swept()
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

/// The lines that are to be emptied, as they are, by job and number.
fn lines(store: &Connection, wanted: &Places) -> Result<BTreeMap<(i64, usize), String>, Halt> {
    let mut found = BTreeMap::new();
    for (id, fields) in wanted {
        let log = lines::log(store, *id)?;
        let lines: Vec<&str> = log.lines().collect();
        for emptied in fields {
            if let Some(line) = lines.get(emptied.of) {
                found.insert((id.0, emptied.of), (*line).to_owned());
            }
        }
    }
    Ok(found)
}

/// The pictures among these fields.
fn pictures(store: &Connection, wanted: &Places) -> Result<BTreeSet<Digest>, Halt> {
    let mut found = store.prepare_cached(
        "SELECT digest FROM shown JOIN line USING (sequence) WHERE job = ?1 AND n = ?2",
    )?;
    let mut pictures = BTreeSet::new();
    for (id, fields) in wanted {
        for Emptied { of, fields } in fields {
            if fields.iter().any(|field| field == PICTURE) {
                let digest = found.query_row((id.0, *of), |row| row.get::<_, String>(0));
                pictures.extend(digest.optional()?.and_then(|text| Digest::parse(&text)));
            }
        }
    }
    Ok(pictures)
}

/// Adds every further entry that shows a picture to what is to be emptied.
fn everywhere(store: &Connection, digest: &Digest, wanted: &mut Places) -> Result<(), Halt> {
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

/// Pictures whose files are still to go.
fn unswept(store: &Connection) -> Result<Vec<(Digest, PictureFormat)>, Halt> {
    let mut found = store.prepare("SELECT digest, form FROM unswept")?;
    let rows = found.query_map((), |row| {
        let digest: String = row.get(0)?;
        let form: String = row.get(1)?;
        Ok(Digest::parse(&digest).zip(PictureFormat::of_ending(&form)))
    })?;
    Ok(rows.flat_map(Result::transpose).collect::<Result<_, _>>()?)
}
