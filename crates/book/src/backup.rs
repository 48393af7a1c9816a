//! Backups, made while others go on writing: a folder with the book as it stood at one instant, its pictures, and a page
//! that says what belongs to it. That page is written last, and the folder gets its name when all is on the disk: half a
//! backup is known as such.

use crate::backups::{self, DAMAGED, Page, VERSION};
use crate::book::Book;
use crate::fault::BookFault;
use crate::fields::{self, Same};
use crate::files::{self, Syncing, Which};
use crate::picture::Picture;
use crate::tidy::Reach;
use crate::tried::Tried;
use crate::{blobs, chain, emptying, lines, rest};
use entries::{Day, Digest};
use rusqlite::{Connection, OpenFlags};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::PoisonError;
use std::{fs, io};

/// How many of its own backups a book keeps, one a day.
pub(crate) const KEPT: usize = 7;

/// A backup that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Backup {
    /// Its folder.
    pub folder: PathBuf,
    /// Pictures in it.
    pub pictures: usize,
    /// Pictures that the book names, but whose files are gone or damaged.
    pub missing: Vec<Digest>,
}

/// What is wrong with a backup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BackupWas {
    /// It may not be read, so nobody can tell.
    Unread,
    /// The page that says what belongs to it.
    Page,
    /// The book in it.
    Book,
    /// So many pictures in it.
    Pictures(usize),
}

impl Book {
    /// Makes a backup in a folder that is not there yet. Others may read and write the book meanwhile.
    ///
    /// # Errors
    /// [`BookFault::AlreadyThere`]; or it cannot be written. Nothing with the folder's name is left behind then.
    pub fn backup(&self, folder: &Path, day: Day) -> Result<Backup, BookFault> {
        self.backup_beside(folder, day, None)
    }

    /// Makes the backup of this day among the book's own, if there is none yet, and takes away all but the last seven. What
    /// was not carried through of a removal is tried again first, and what was left where something was broken off goes: halves,
    /// and pictures that no entry shows nor is about to.
    ///
    /// # Errors
    /// It cannot be written; or it is made, and something of a removal still resists ([`BookFault::NotSwept`],
    /// [`BookFault::OtherLines`]), or what is in the book was altered ([`BookFault::Altered`]): then no older one is taken away.
    pub fn daily_backup(&self, day: Day) -> Result<Option<Backup>, BookFault> {
        // What resists there keeps no backup from being made.
        let mut resists = Tried::default();
        resists.also(self.strike_out(None));
        resists.also(self.sweep());
        resists.also(self.tidy(Reach::BrokenOff, &BTreeSet::new()));
        let made = self.backup_of(day)?;
        if self.is_altered()? {
            let path = self.path.clone();
            resists.also(Err(BookFault::Altered { path }));
        } else if made.is_some() {
            self.take_older_away(&backups::own(&self.path).join(day.to_string()))?;
        }
        match resists.all() {
            Ok(()) => Ok(made),
            Err(
                told @ (BookFault::NotSwept(_)
                | BookFault::OtherLines { .. }
                | BookFault::Altered { .. }),
            ) => Err(told),
            Err(fault) => Err(BookFault::NotSwept(vec![fault])),
        }
    }

    /// The backup of this day among the book's own, if there is none yet.
    fn backup_of(&self, day: Day) -> Result<Option<Backup>, BookFault> {
        let _alone = self.backing.lock().unwrap_or_else(PoisonError::into_inner);
        let own = backups::own(&self.path);
        let folder = own.join(day.to_string());
        if backups::read_page(&folder).is_ok() {
            return Ok(None);
        }
        let refused = |error: io::Error| BookFault::file(&own, &error);
        files::folder(&own, self.syncing).map_err(refused)?;
        if folder.exists() {
            // Its page is gone or damaged. It is not thrown away, but it must not stand in the way of a sound one.
            backups::aside(&folder, DAMAGED).map_err(refused)?;
        }
        let latest = backups::latest_first(&self.path);
        let before = latest.first().map(|(_, folder)| folder.as_path());
        let made = self.backup_beside(&folder, day, before)?;
        Ok(Some(made))
    }

    /// Whether the chain is broken anywhere. Nobody waits while it is gone along.
    fn is_altered(&self) -> Result<bool, BookFault> {
        let told = |error: rusqlite::Error| BookFault::of(&self.path, &error);
        let mut store = self.apart().map_err(told)?;
        let store = store.transaction().map_err(told)?;
        let broken = chain::along(&store).map_err(|halt| halt.of_book_at(&self.path))?;
        Ok(broken.anywhere())
    }

    /// Takes away all backups but this one and the last before it. A clock may be wrong, so the latest are those with the most in them.
    fn take_older_away(&self, made: &Path) -> Result<(), BookFault> {
        let _alone = self.backing.lock().unwrap_or_else(PoisonError::into_inner);
        let others = backups::latest_first(&self.path);
        let others = others.into_iter().filter(|(_, other)| other != made);
        for (_, old) in others.skip(KEPT - 1) {
            files::take_away(&old).map_err(|error| BookFault::file(&old, &error))?;
        }
        Ok(())
    }

    /// Takes away the halves that were left among the book's own backups when one was broken off.
    pub(crate) fn clear_halves(&self) -> Result<(), BookFault> {
        // One that is being made is no half yet; what is removed meanwhile, it removes when it is whole.
        let Ok(_alone) = self.backing.try_lock() else {
            return Ok(());
        };
        for half in fs::read_dir(backups::own(&self.path))
            .into_iter()
            .flatten()
            .flatten()
        {
            if files::is_half(&half.path()) {
                files::away(&half.path())?;
            }
        }
        Ok(())
    }

    /// Makes a backup; pictures that the backup `before` has on the same disk are not written again.
    fn backup_beside(
        &self,
        folder: &Path,
        day: Day,
        before: Option<&Path>,
    ) -> Result<Backup, BookFault> {
        let (made, held) = files::whole_folder(folder, |half| self.fill(half, day, before))?;
        let folder = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
        let made = Backup { folder, ..made };
        // What was removed while it was being made is removed from it as well.
        let (wanted, gone) = self.read(|store| {
            let mut gone = Vec::new();
            for picture in &held.pictures {
                if blobs::find(store, &picture.digest)?.is_none() {
                    gone.push((picture.digest.clone(), picture.form));
                }
            }
            let wanted = fields::removals(store, "1", held.last)?;
            Ok((wanted, gone))
        })?;
        if (!wanted.is_empty() || !gone.is_empty())
            && emptying::empty(&made.folder, &wanted, &Same::All, &gone)?
        {
            let backups = vec![made.folder];
            return Err(BookFault::OtherLines { backups });
        }
        Ok(made)
    }

    /// Fills the folder of a backup.
    fn fill(
        &self,
        half: &Path,
        day: Day,
        before: Option<&Path>,
    ) -> Result<(Backup, Held), BookFault> {
        let refused = |error: io::Error| BookFault::file(half, &error);
        let copy = half.join("book");
        self.copy_to(&copy)?;
        let held = Connection::open_with_flags(&copy, OpenFlags::SQLITE_OPEN_READ_ONLY)
            .and_then(|copy| held(&copy))
            .map_err(|error| BookFault::of(&copy, &error))?;
        let pictures = half.join("pictures");
        files::folder(&pictures, Syncing::Each).map_err(refused)?;
        let (mut missing, mut shared) = (Vec::new(), BTreeSet::new());
        for picture in &held.pictures {
            let from = blobs::place(&self.path, &picture.digest, picture.form);
            let linked = before.map(|before| Shared {
                pictures: before.join("pictures"),
                looked_at: due(&picture.digest, day),
            });
            match take(&from, &pictures, picture, linked).map_err(refused)? {
                Taken::Written => {}
                Taken::Shared(folder) => drop(shared.insert(folder)),
                Taken::Missing => missing.push(picture.digest.clone()),
            }
        }
        for folder in shared {
            files::sync_folder(&folder, Syncing::Each).map_err(refused)?;
        }
        let made = Backup {
            pictures: held.pictures.len() - missing.len(),
            missing,
            folder: half.to_owned(),
        };
        let page = Page {
            trundle_backup: VERSION,
            day: day.to_string(),
            book: String::new(),
            digest: String::new(),
            last: held.last,
            pictures: made.pictures,
            missing: made.missing.iter().map(ToString::to_string).collect(),
        };
        backups::seal(half, &copy, page, true)?;
        Ok((made, held))
    }

    /// Writes the book as it stands at one instant to another file, with nothing in it that was struck out.
    fn copy_to(&self, path: &Path) -> Result<(), BookFault> {
        self.apart()
            .and_then(|store| store.execute("VACUUM INTO ?1", [path.to_string_lossy()]))
            .and_then(|_| rest::another(path))
            .map_err(|error| BookFault::of(path, &error))?;
        Ok(())
    }
}

/// A book's own backups of days, each with what is wrong with it, if anything is. What was set aside as damaged, and what is being
/// made, is none.
pub(crate) fn gone_over(book: &Path) -> Vec<(PathBuf, Option<BackupWas>)> {
    let mut days = files::below(&backups::own(book));
    days.retain(|folder| Day::parse(&files::name(folder)).is_some());
    days.sort();
    let mut sound = BTreeSet::new();
    days.into_iter()
        .map(|folder| {
            let was = spoiled(&folder, &mut sound);
            (folder, was)
        })
        .collect()
}

/// What is wrong with a backup of a day, if anything is. Pictures that several backups share are gone over once.
fn spoiled(folder: &Path, sound: &mut BTreeSet<Which>) -> Option<BackupWas> {
    let day = folder.file_name()?.to_string_lossy().into_owned();
    let denied = |error: &io::Error| error.kind() == io::ErrorKind::PermissionDenied;
    if files::plain_file(&folder.join(backups::PAGE)).is_err_and(|error| denied(&error)) {
        return Some(BackupWas::Unread);
    }
    let page = match backups::read_page(folder) {
        Ok(page) if page.day == day => page,
        _ => return Some(BackupWas::Page),
    };
    let copy = folder.join(&page.book);
    match files::digest_of_file(&copy) {
        Ok((digest, _)) if digest == page.digest => {}
        Err(error) if denied(&error) => return Some(BackupWas::Unread),
        _ => return Some(BackupWas::Book),
    }
    let held = rest::still(&copy).and_then(|store| held(&store));
    let Ok(held) = held else {
        return Some(BackupWas::Book);
    };
    let there = held.pictures.len().checked_sub(page.missing.len());
    if held.last != page.last || there != Some(page.pictures) {
        return Some(BackupWas::Page);
    }
    let pictures = folder.join("pictures");
    let spoiled = held.pictures.iter().filter(|picture| {
        let file = blobs::within(&pictures, &picture.digest, picture.form);
        let which = files::which(&file);
        if page
            .missing
            .iter()
            .any(|missing| missing == picture.digest.text())
            || cfg!(unix) && which.is_some_and(|which| sound.contains(&which))
        {
            return false;
        }
        let is =
            files::digest_of_file(&file).is_ok_and(|(digest, _)| digest == picture.digest.text());
        if is {
            sound.extend(which);
        }
        !is
    });
    match spoiled.count() {
        0 => None,
        pictures => Some(BackupWas::Pictures(pictures)),
    }
}

/// What is in a copy of a book.
struct Held {
    last: u64,
    pictures: Vec<Picture>,
}

fn held(copy: &Connection) -> rusqlite::Result<Held> {
    Ok(Held {
        last: lines::last(copy)?,
        pictures: blobs::all(copy)?,
    })
}

/// Where the backup before has its pictures, and whether this one is looked at before it is shared.
struct Shared {
    pictures: PathBuf,
    looked_at: bool,
}

/// Whether a picture that backups share is looked at on this day: each once in seven days of a month, so that what is altered on
/// the disk does not go from backup to backup, and no day goes over all of them.
fn due(digest: &Digest, day: Day) -> bool {
    let day: usize = day.to_string()[8..].parse().unwrap_or_default();
    usize::from_str_radix(&digest.text()[..2], 16).is_ok_and(|part| part % KEPT == day % KEPT)
}

/// How a picture came to a backup.
enum Taken {
    Written,
    /// By a name in this folder for the file of the backup before; the folder is not carried to the disk yet.
    Shared(PathBuf),
    Missing,
}

/// Takes one picture over, from the backup before if it is there.
fn take(
    from: &Path,
    pictures: &Path,
    picture: &Picture,
    before: Option<Shared>,
) -> io::Result<Taken> {
    let to = blobs::within(pictures, &picture.digest, picture.form);
    let folder = to.parent().unwrap_or(pictures);
    files::folder(folder, Syncing::Each)?;
    if let Some(before) = before {
        let there = blobs::within(&before.pictures, &picture.digest, picture.form);
        let is = || files::digest_of_file(&there).is_ok_and(|(is, _)| is == picture.digest.text());
        if (!before.looked_at || is()) && fs::hard_link(&there, &to).is_ok() {
            return Ok(Taken::Shared(folder.to_owned()));
        }
    }
    match files::read(from) {
        Ok(bytes) if blobs::digest_of(&bytes) == picture.digest => {
            files::write_new(&to, &bytes)?;
            Ok(Taken::Written)
        }
        Ok(_) => Ok(Taken::Missing),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Taken::Missing),
        Err(error) => Err(error),
    }
}
