//! What was left in and around a book where something was broken off, and what was set aside: taken away, so that a removal
//! reaches it too. What somebody is at work on is left alone.

use crate::coming::{self, at_work};
use crate::store::MARK;
use crate::{Book, BookFault, backup, blobs, emptying, files, placing, removal};
use entries::{Day, Digest};
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// How much is taken away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reach {
    /// What was broken off, of which nobody can make use.
    BrokenOff,
    /// Besides, what was set aside in case somebody can, and pictures' files that the book does not name: a removal goes before.
    Everything,
}

/// Names that earlier programs gave to what they were at work on: a dot, and letters and figures by chance.
const EARLIER: usize = 7;

/// What came of things that are done each for itself: the first trouble, if there was any.
#[derive(Default)]
pub(crate) struct Tried(Option<BookFault>);

impl Tried {
    /// Takes in what came of one more.
    pub(crate) fn also(&mut self, came: Result<(), BookFault>) {
        if let Err(fault) = came {
            self.0.get_or_insert(fault);
        }
    }

    /// What came of all of them.
    pub(crate) fn all(self) -> Result<(), BookFault> {
        self.0.map_or(Ok(()), Err)
    }
}

impl Book {
    /// Takes away what was left.
    /// Pictures that are `going` are no longer anybody's, though a backup may still name them. What resists keeps nothing else from
    /// going.
    pub(crate) fn tidy(&self, reach: Reach, going: &BTreeSet<Digest>) -> Result<(), BookFault> {
        let all = reach == Reach::Everything;
        let mut resists = Tried::default();
        // What is left of a book's way to this place.
        if !at_work(&placing::folder(&self.path)) {
            resists.also(placing::give_up(&self.path));
        }
        for file in parts(&blobs::folder(&self.path)) {
            if coming::announces(&file) {
                resists.also(self.not_coming(&file));
            } else if files::is_half(&file) || hidden(&file) && name(&file).len() == EARLIER {
                resists.also(away(&file));
            }
        }
        for path in below(self.path.parent().unwrap_or(Path::new("."))) {
            // Here others may lie: only the whole name of a half will do.
            let half = files::is_half(&path) && name(&path).len() == files::HALF_NAME;
            let half = half || all && earlier_copy(&path);
            if half || all && self.set_aside(&path) {
                resists.also(away(&path));
            }
        }
        resists.also(self.clear_halves());
        let own = backup::own(&self.path);
        for path in below(&own) {
            // One of a day that lost its page is no backup any more.
            let without_page = Day::parse(&name(&path)).is_some() && !backup::has_page(&path);
            if all && (name(&path).contains(backup::DAMAGED) || without_page) {
                resists.also(away(&path));
            }
        }
        for backup in backup::kept(&self.path) {
            match backup::left_over(&backup) {
                Ok(left) => left.iter().for_each(|path| resists.also(away(path))),
                Err(fault) => resists.also(Err(fault)),
            }
        }
        resists.also(self.clear_marks());
        if all {
            resists.also(self.clear_strays(going));
        }
        resists.all()
    }

    /// Takes away the marks of a removal that was broken off before it was one.
    fn clear_marks(&self) -> Result<(), BookFault> {
        let mut marks = (backup::kept(&self.path).into_iter())
            .map(|folder| folder.join(emptying::MARKED))
            .filter(|mark| fs::symlink_metadata(mark).is_ok())
            .peekable();
        if marks.peek().is_none() {
            return Ok(());
        }
        // Whoever is about to remove something changes the book meanwhile, and nobody else does.
        self.write(|change| {
            if removal::pending(change)? {
                return Ok(());
            }
            let mut resists = Tried::default();
            for mark in marks {
                resists.also(removal::gone(&mark).map_err(|error| BookFault::file(&mark, &error)));
            }
            Ok(resists.all()?)
        })
    }

    /// Takes away pictures' files that the book does not name. Where an earlier book was put in its place they are all
    /// that is left of the later one's pictures: what a backup has as well is not taken away, nor anything while one has more.
    fn clear_strays(&self, going: &BTreeSet<Digest>) -> Result<(), BookFault> {
        let (has, known) = self.read(|store| Ok((backup::last(store)?, blobs::all(store)?)))?;
        if backup::fullest(&self.path).is_some_and(|(held, _)| held > has) {
            return Ok(());
        }
        let known: BTreeSet<Digest> = known.into_iter().map(|known| known.digest).collect();
        let mut named = known.clone();
        for backup in backup::kept(&self.path) {
            let there = pictures_in(&backup.join("pictures")).into_iter();
            named.extend(there.map(|(digest, _)| digest));
        }
        named.retain(|digest| !going.contains(digest) || known.contains(digest));
        let mut resists = Tried::default();
        for stray in strays(&blobs::folder(&self.path), &named) {
            resists.also(away(&stray));
        }
        resists.all()
    }

    /// Whether this was set aside when a book was restored in this one's place.
    fn set_aside(&self, path: &Path) -> bool {
        let book = self.path.file_name().unwrap_or_default().to_string_lossy();
        let name = name(path);
        let end = name.strip_prefix(&*book);
        let number = end.and_then(|end| end.split_once(".left-"));
        number.is_some_and(|(which, number)| {
            ["", "-wal", "-shm", "-journal"].contains(&which)
                && number.bytes().all(|figure| figure.is_ascii_digit())
        })
    }
}

/// What lies in a folder.
pub(crate) fn below(folder: &Path) -> Vec<PathBuf> {
    let there = fs::read_dir(folder).into_iter().flatten().flatten();
    there.map(|there| there.path()).collect()
}

pub(crate) fn name(path: &Path) -> String {
    path.file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

pub(crate) fn hidden(path: &Path) -> bool {
    name(path).starts_with('.')
}

/// A copy of a book that an earlier program was writing: by its name, and by its head, which says that it is a bench book and
/// no other store. Source of its form: SQLite, "Database File Format", section 1.3.
fn earlier_copy(path: &Path) -> bool {
    const BEGINS: &[u8] = b"SQLite format 3\0";
    const MARKED: usize = 68;
    use io::Read;
    let mut head = [0; MARKED + 4];
    hidden(path)
        && name(path).len() == EARLIER
        && path.is_file()
        && fs::File::open(path).is_ok_and(|mut file| file.read_exact(&mut head).is_ok())
        && head.starts_with(BEGINS)
        && head[MARKED..] == MARK.to_be_bytes()[4..]
}

/// What lies in the folders of pictures: no link is followed, and no folder within them looked into.
fn parts(folder: &Path) -> Vec<PathBuf> {
    let is_folder = |path: &PathBuf| fs::symlink_metadata(path).is_ok_and(|there| there.is_dir());
    let parts = below(folder).into_iter().filter(is_folder);
    parts.flat_map(|part| below(&part)).collect()
}

/// The files of pictures, and of previews, in a folder of pictures, each with the digest that its name begins with. What else a person
/// keeps there is none.
pub(crate) fn pictures_in(folder: &Path) -> Vec<(Digest, PathBuf)> {
    let is_file = |file: &PathBuf| fs::symlink_metadata(file).is_ok_and(|there| there.is_file());
    let files = parts(folder).into_iter().filter(is_file);
    files
        .filter_map(|file| Some((digest_in(&file)?, file)))
        .collect()
}

/// Files of pictures that are not among those named.
pub(crate) fn strays(folder: &Path, named: &BTreeSet<Digest>) -> Vec<PathBuf> {
    let files = pictures_in(folder).into_iter();
    files
        .filter(|(digest, _)| !named.contains(digest))
        .map(|(_, file)| file)
        .collect()
}

/// The digest that a name begins with. Where capitals and small letters are the same a file manager may have changed them.
fn digest_in(file: &Path) -> Option<Digest> {
    let name = name(file).to_ascii_lowercase();
    name.split('.').next().and_then(Digest::parse)
}

/// Deletes a file, or a folder with all that is in it, unless somebody is at work on it.
pub(crate) fn away(path: &Path) -> Result<(), BookFault> {
    if at_work(path) {
        return Ok(());
    }
    let folder = fs::symlink_metadata(path).is_ok_and(|there| there.is_dir());
    let gone = if folder {
        fs::remove_dir_all(path)
    } else {
        fs::remove_file(path)
    };
    match gone {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(BookFault::file(path, &error)),
        _ => files::sync_folder(
            path.parent().unwrap_or(Path::new(".")),
            crate::Syncing::Each,
        )
        .map_err(|error| BookFault::file(path, &error)),
    }
}
