//! What was left in and around a book where something was broken off, and what was set aside: taken away, so that a removal
//! reaches it too. What somebody is at work on is left alone.

use crate::backups::{self, DAMAGED};
use crate::book::Book;
use crate::emptying::MARKED;
use crate::fault::BookFault;
use crate::files::{self, HALF_NAME};
use crate::form::MARK;
use crate::tried::Tried;
use crate::{blobs, coming, fields, lines, placing};
use entries::{Day, Digest};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::{fs, io};

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

impl Book {
    /// Takes away what was left.
    /// Pictures that are `going` are no longer anybody's, though a backup may still name them. What resists keeps nothing else from
    /// going.
    pub(crate) fn tidy(&self, reach: Reach, going: &BTreeSet<Digest>) -> Result<(), BookFault> {
        let all = reach == Reach::Everything;
        let mut resists = Tried::default();
        // What is left of a book's way to this place.
        if !files::at_work(&placing::folder(&self.path)) {
            resists.also(placing::give_up(&self.path));
        }
        for file in blobs::parts(&blobs::folder(&self.path)) {
            if coming::announces(&file) {
                resists.also(self.not_coming(&file));
            } else if files::is_half(&file)
                || files::hidden(&file) && files::name(&file).len() == EARLIER
            {
                resists.also(files::away(&file));
            }
        }
        for path in files::below(self.path.parent().unwrap_or(Path::new("."))) {
            // Here others may lie: only the whole name of a half will do.
            let half = files::is_half(&path) && files::name(&path).len() == HALF_NAME;
            let half = half || all && earlier_copy(&path);
            if half || all && self.set_aside(&path) {
                resists.also(files::away(&path));
            }
        }
        resists.also(self.clear_halves());
        let own = backups::own(&self.path);
        for path in files::below(&own) {
            // One of a day that lost its page is no backup any more.
            let without_page =
                Day::parse(&files::name(&path)).is_some() && !backups::has_page(&path);
            if all && (files::name(&path).contains(DAMAGED) || without_page) {
                resists.also(files::away(&path));
            }
        }
        for backup in backups::kept(&self.path) {
            match left_over(&backup) {
                Ok(left) => left.iter().for_each(|path| resists.also(files::away(path))),
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
        let mut marks = (backups::kept(&self.path).into_iter())
            .map(|folder| folder.join(MARKED))
            .filter(|mark| fs::symlink_metadata(mark).is_ok())
            .peekable();
        if marks.peek().is_none() {
            return Ok(());
        }
        // Whoever is about to remove something changes the book meanwhile, and nobody else does.
        self.write(|change| {
            if fields::pending(change)? {
                return Ok(());
            }
            let mut resists = Tried::default();
            for mark in marks {
                resists.also(files::gone(&mark).map_err(|error| BookFault::file(&mark, &error)));
            }
            Ok(resists.all()?)
        })
    }

    /// Takes away pictures' files that the book does not name. Where an earlier book was put in its place they are all
    /// that is left of the later one's pictures: what a backup has as well is not taken away, nor anything while one has more.
    fn clear_strays(&self, going: &BTreeSet<Digest>) -> Result<(), BookFault> {
        let (has, known) = self.read(|store| Ok((lines::last(store)?, blobs::all(store)?)))?;
        if backups::fullest(&self.path).is_some_and(|(held, _)| held > has) {
            return Ok(());
        }
        let known: BTreeSet<Digest> = known.into_iter().map(|known| known.digest).collect();
        let mut named = known.clone();
        for backup in backups::kept(&self.path) {
            let there = blobs::pictures_in(&backup.join("pictures")).into_iter();
            named.extend(there.map(|(digest, _)| digest));
        }
        named.retain(|digest| !going.contains(digest) || known.contains(digest));
        let mut resists = Tried::default();
        for stray in blobs::strays(&blobs::folder(&self.path), &named) {
            resists.also(files::away(&stray));
        }
        resists.all()
    }

    /// Whether this was set aside when a book was restored in this one's place.
    fn set_aside(&self, path: &Path) -> bool {
        let book = self.path.file_name().unwrap_or_default().to_string_lossy();
        let name = files::name(path);
        let end = name.strip_prefix(&*book);
        let number = end.and_then(|end| end.split_once(".left-"));
        number.is_some_and(|(which, number)| {
            ["", "-wal", "-shm", "-journal"].contains(&which)
                && number.bytes().all(|figure| figure.is_ascii_digit())
        })
    }
}

/// A copy of a book that an earlier program was writing: by its name, and by its head, which says that it is a bench book and
/// no other store. Source of its form: SQLite, "Database File Format", section 1.3.
fn earlier_copy(path: &Path) -> bool {
    const BEGINS: &[u8] = b"SQLite format 3\0";
    const MARKED: usize = 68;
    use io::Read;
    let mut head = [0; MARKED + 4];
    files::hidden(path)
        && files::name(path).len() == EARLIER
        && path.is_file()
        && fs::File::open(path).is_ok_and(|mut file| file.read_exact(&mut head).is_ok())
        && head.starts_with(BEGINS)
        && head[MARKED..] == MARK.to_be_bytes()[4..]
}

/// What was left in a backup when it was being emptied: it is not part of it.
pub(crate) fn left_over(folder: &Path) -> Result<Vec<PathBuf>, BookFault> {
    let page = backups::read_page(folder)?;
    let left = |path: &PathBuf| {
        let name = files::name(path);
        files::hidden(path) && name != MARKED
            // Where capitals and small letters are the same it is the book's file.
            || name.ends_with(".book") && !name.eq_ignore_ascii_case(&page.book)
    };
    let mut all: Vec<_> = files::below(folder).into_iter().filter(left).collect();
    for part in files::below(&folder.join("pictures")) {
        all.extend(
            files::below(&part)
                .into_iter()
                .filter(|path| files::hidden(path)),
        );
    }
    Ok(all)
}
