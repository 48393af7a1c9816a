//! What a removal does in a backup: before anything is emptied in the book, the lines that say the same there are marked; afterwards
//! they are emptied, and no others.

use crate::backups::{self, MOST_PAGE, Page};
use crate::fault::BookFault;
use crate::fields::{self, Marked, Places, Same};
use crate::files::{self, Syncing};
use crate::picture::PictureFormat;
use crate::turn::{self, Halt};
use crate::{blobs, lines, rest, store};
use entries::Digest;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::{fs, io};

/// The places of the lines that a removal is about to empty in a backup, until it is gone over.
pub(crate) const MARKED: &str = ".removing";

/// Marks in a backup which of its lines are these, which are about to be emptied in the book: they say the same. It tells their places
/// and nothing else of them; what was marked for `earlier` removals that are not carried through yet stays. A backup that cannot be
/// read, or marked, has no mark: what of it is to be emptied is not known later.
pub(crate) fn mark(
    folder: &Path,
    lines: &BTreeMap<(i64, usize), String>,
    lengths: &BTreeMap<i64, usize>,
    earlier: &Places,
) {
    let before = marked(folder).filter(|_| !earlier.is_empty());
    let found = || -> Result<Option<Marked>, Halt> {
        let page = backups::read_page(folder)?;
        let store = rest::still(&folder.join(&page.book))?;
        if before.is_none() {
            for (id, fields) in earlier {
                let text = lines::log(&store, *id)?;
                if !text.is_empty() && !lines::readable(&text)?.holding(fields).is_empty() {
                    return Ok(None);
                }
            }
        }
        let mut line = store.prepare("SELECT text FROM line WHERE job = ?1 AND n = ?2")?;
        let mut found = before.unwrap_or_default();
        for ((job, n), text) in lines {
            let there = line.query_row((job, n), |row| row.get::<_, String>(0));
            if there.optional()?.is_some_and(|there| there == *text) {
                found.lines.insert((*job, *n));
            }
        }
        let mut more = store.prepare("SELECT 1 FROM line WHERE job = ?1 AND n >= ?2")?;
        for (job, length) in lengths {
            found.more |= more.exists((job, length))?;
        }
        Ok(Some(found))
    };
    let path = folder.join(MARKED);
    let _ = match found() {
        Ok(Some(found)) => {
            let mut places: String = (found.lines.iter())
                .map(|(job, n)| format!("{job} {n}\n"))
                .collect();
            if found.more {
                places += MORE;
            }
            files::write(&path, places.as_bytes(), Syncing::Each)
        }
        _ => files::gone(&path).map_err(|error| BookFault::file(folder, &error)),
    };
}

/// That a backup has more lines of a job than the book.
const MORE: &str = "more\n";

/// What was marked in a backup; nothing where it was not.
pub(crate) fn marked(folder: &Path) -> Option<Marked> {
    let bytes = files::plain_bytes(folder, MARKED, MOST_PAGE).ok()?;
    let text = String::from_utf8_lossy(&bytes);
    let place = |line: &str| {
        let (job, n) = line.split_once(' ')?;
        Some((job.parse().ok()?, n.parse().ok()?))
    };
    Some(Marked {
        lines: text.lines().filter_map(place).collect(),
        more: text.ends_with(MORE),
    })
}

/// Whether a backup holds anything of what is to be emptied; where that cannot be told, it may.
fn holds(
    folder: &Path,
    page: &Page,
    wanted: &Places,
    same: &Same,
    pictures: &[(Digest, PictureFormat)],
) -> bool {
    if same.lacks_some() {
        return true;
    }
    let any = || -> Result<bool, Halt> {
        let store = rest::still(&folder.join(&page.book))?;
        for (digest, _) in pictures {
            if blobs::find(&store, digest)?.is_some() {
                return Ok(true);
            }
        }
        for (id, fields) in wanted {
            let text = lines::log(&store, *id)?;
            if !text.is_empty() {
                let (holding, others) =
                    fields::same_lines(&lines::readable(&text)?, *id, fields, same);
                if others || !holding.is_empty() {
                    return Ok(true);
                }
            }
        }
        Ok(false)
    };
    !files_of(folder, pictures).is_empty() || any().unwrap_or(true)
}

/// The files of these pictures in a backup, whatever letters their names are in.
fn files_of(folder: &Path, pictures: &[(Digest, PictureFormat)]) -> Vec<(Digest, PathBuf)> {
    if pictures.is_empty() {
        return Vec::new();
    }
    let gone: BTreeSet<&Digest> = pictures.iter().map(|(digest, _)| digest).collect();
    let mut files = blobs::pictures_in(&folder.join("pictures"));
    files.retain(|(digest, _)| gone.contains(digest));
    files
}

/// Whether a backup has anything where something is to be emptied; where that cannot be told, it may.
pub(crate) fn may_hold(
    folder: &Path,
    wanted: &Places,
    pictures: &[(Digest, PictureFormat)],
) -> bool {
    let none = Same::These(Marked::default());
    backups::read_page(folder).map_or(true, |page| holds(folder, &page, wanted, &none, pictures))
}

/// What keeps a backup without a mark from being gone over: that it cannot be read or written, or that it could not be when it
/// was to be marked.
pub(crate) fn hindered(folder: &Path) -> BookFault {
    let gone_over = || -> Result<(), BookFault> {
        let page = backups::read_page(folder)?;
        let copy = folder.join(&page.book);
        files::plain_file(&copy).map_err(|error| BookFault::CannotOpen {
            path: copy.clone(),
            detail: (&error).into(),
        })?;
        rest::still(&copy)
            .and_then(|store| {
                let all = "SELECT total(length(text)) FROM line";
                store.query_row(all, (), |row| row.get::<_, f64>(0))
            })
            .map_err(|error| BookFault::of(&copy, &error))?;
        let written = files::half_folder(folder).and_then(|(half, _at_work)| half.close());
        written.map_err(|error| BookFault::file(folder, &error))
    };
    let backup = folder.to_owned();
    match gone_over() {
        Ok(()) => BookFault::NotKnown { backup },
        Err(fault) => backups::resists(folder, fault),
    }
}

/// Empties in a backup what a removal emptied in the book, and gives whether other lines stand in some of those places: they were
/// left alone. Until its last step the backup is the one before.
///
/// # Errors
/// It cannot be read or written.
pub(crate) fn empty(
    folder: &Path,
    wanted: &Places,
    same: &Same,
    pictures: &[(Digest, PictureFormat)],
) -> Result<bool, BookFault> {
    let mut page = backups::read_page(folder)?;
    let refused = |error: io::Error| BookFault::file(folder, &error);
    if !holds(folder, &page, wanted, same, pictures) {
        files::gone(&folder.join(MARKED)).map_err(refused)?;
        return Ok(false);
    }
    let old = folder.join(&page.book);
    let as_made = files::digest_of_file(&old).is_ok_and(|(digest, _)| digest == page.digest);
    let (work, _at_work) = files::half_folder(folder).map_err(refused)?;
    let copy = work.path().join("book");
    files::plain_file(&old)
        .and_then(|mut from| io::copy(&mut from, &mut fs::File::create(&copy)?))
        .map_err(refused)?;
    let mut store = store::open(&copy, Syncing::Each)?;
    let others = turn::turn(&mut store, TransactionBehavior::Immediate, |change| {
        fields::empty_if_there(change, wanted, same, pictures)
    })
    .map_err(|halt: Halt| halt.of_book_at(&copy))?;
    let others = others || same.lacks_some();
    let packed = work.path().join("packed");
    store
        .execute("VACUUM INTO ?1", [packed.to_string_lossy()])
        .and_then(|_| rest::another(&packed))
        .map_err(|error| BookFault::of(&packed, &error))?;
    drop(store);
    let left = Connection::open(&packed)
        .and_then(|store| blobs::all(&store))
        .map_err(|error| BookFault::of(&packed, &error))?;
    page.missing
        .retain(|missing| !pictures.iter().any(|(gone, _)| gone.text() == missing));
    let moved = folder.join(".packed");
    fs::rename(&packed, &moved).map_err(refused)?;
    let name = page.book.clone();
    page.pictures = left.len().saturating_sub(page.missing.len());
    backups::seal(folder, &moved, page, as_made)?;
    let book = backups::read_page(folder)?.book;
    if book != name {
        files::gone(&old).map_err(refused)?;
    }
    // Last, as the backup before is not whole without them.
    let shown = |digest: &Digest| blobs::is_shown(&rest::still(&folder.join(&book))?, digest);
    for (digest, file) in files_of(folder, pictures) {
        if others && shown(&digest).map_err(|halt: Halt| halt.of_book_at(folder))? {
            continue;
        }
        files::gone(&file).map_err(refused)?;
    }
    files::gone(&folder.join(MARKED)).map_err(refused)?;
    Ok(others)
}
