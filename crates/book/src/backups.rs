//! The backups that a book keeps: where they lie, in what order, and the page that says what belongs to each.

use crate::detail::Detail;
use crate::fault::BookFault;
use crate::files::{self, Syncing};
use crate::rest;
use entries::{Day, Digest};
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use std::{fs, io};

/// The page that says what belongs to a backup.
pub(crate) const PAGE: &str = "backup.json";

/// What is added to the name of a backup that is of no use.
pub(crate) const DAMAGED: &str = ".damaged";

/// What is added to the name of one that is of another book.
const OTHER: &str = ".other";

/// The version of a backup's form that is read and written here.
pub(crate) const VERSION: u64 = 1;

/// The most bytes that the page of a backup may have: a hundred thousand missing pictures' names take seven million.
pub(crate) const MOST_PAGE: usize = 64 << 20;

/// The greatest place or number in a book that comes from anywhere: the greatest whole number that every reader of JSON reads
/// exactly. Source: RFC 8259, section 6.
pub(crate) const MOST_NUMBER: u64 = (1 << 53) - 1;

/// What belongs to a backup.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Page {
    pub(crate) trundle_backup: u64,
    /// The day it was made, as it was handed in.
    pub(crate) day: String,
    /// The name of the book's file in the folder.
    pub(crate) book: String,
    /// The digest of that file.
    pub(crate) digest: String,
    /// The place of the last line in it.
    pub(crate) last: u64,
    /// Pictures in the folder.
    pub(crate) pictures: usize,
    /// Pictures that were not to be had.
    pub(crate) missing: Vec<String>,
}

/// Where a book keeps its own backups.
pub(crate) fn own(book: &Path) -> PathBuf {
    files::beside(book, ".backups")
}

/// A book's own backups, the latest first: those with the most lines in them, then those of the latest day.
pub(crate) fn latest_first(book: &Path) -> Vec<((u64, String), PathBuf)> {
    let Ok(folders) = fs::read_dir(own(book)) else {
        return Vec::new();
    };
    let mut backups: Vec<_> = folders
        .filter_map(|folder| {
            let folder = folder.ok()?.path();
            if files::name(&folder).contains(OTHER) {
                return None;
            }
            let page = read_page(&folder).ok()?;
            Some(((page.last, page.day), folder))
        })
        .collect();
    backups.sort();
    backups.reverse();
    backups
}

/// The folders of a book's own backups.
pub(crate) fn kept(book: &Path) -> Vec<PathBuf> {
    let backups = latest_first(book).into_iter();
    backups.map(|(_, folder)| folder).collect()
}

/// The book's own backup with the most in it, and the place of the last line in that.
pub(crate) fn fullest(book: &Path) -> Option<(u64, PathBuf)> {
    let fullest = latest_first(book).into_iter().next();
    fullest.map(|((last, _), folder)| (last, folder))
}

/// The book in a backup, to be read.
pub(crate) fn book_in(folder: &Path) -> rusqlite::Result<Connection> {
    let page = read_page(folder).map_err(|_| rusqlite::Error::InvalidPath(folder.to_owned()))?;
    rest::still(&folder.join(&page.book))
}

/// Gives the book's file in a backup its name, and writes the page that says that this is it: from then on the folder is
/// a backup, or another one than before; `as_made` where nothing was altered in it until now.
pub(crate) fn seal(folder: &Path, copy: &Path, page: Page, as_made: bool) -> Result<(), BookFault> {
    let refused = |error: io::Error| BookFault::file(folder, &error);
    fs::File::open(copy)
        .and_then(|file| file.sync_all())
        .map_err(refused)?;
    let (digest, _) = files::digest_of_file(copy).map_err(refused)?;
    let book = format!("{}.book", &digest[..16]);
    fs::rename(copy, folder.join(&book)).map_err(refused)?;
    // What was altered before stays known as that: no digest fits it, and none of what it was is kept.
    let digest = if as_made {
        digest
    } else {
        "0".repeat(digest.len())
    };
    let page = Page {
        book,
        digest,
        ..page
    };
    let text = serde_json::to_string_pretty(&page).unwrap_or_default() + "\n";
    files::write(&folder.join(PAGE), text.as_bytes(), Syncing::Each)
}

/// What belongs to the backup in this folder.
pub(crate) fn read_page(folder: &Path) -> Result<Page, BookFault> {
    let path = folder.to_owned();
    let bytes = match files::plain_bytes(folder, PAGE, MOST_PAGE) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == io::ErrorKind::NotFound && folder.is_dir() => {
            let detail = format!("{PAGE} is missing").into();
            return Err(BookFault::HalfABackup { path, detail });
        }
        Err(error) => {
            let detail = Detail::within(PAGE, &error);
            return Err(BookFault::NotABackup { path, detail });
        }
    };
    #[derive(Deserialize)]
    struct Marked {
        trundle_backup: u64,
    }
    let damaged = |error: serde_json::Error| BookFault::NotABackup {
        path: folder.to_owned(),
        detail: Detail::within(PAGE, &error),
    };
    let marked: Marked = serde_json::from_slice(&bytes).map_err(damaged)?;
    if marked.trundle_backup > VERSION {
        return Err(BookFault::NewerVersion {
            path,
            got: marked.trundle_backup.cast_signed(),
            known: VERSION.cast_signed(),
        });
    }
    let page: Page = serde_json::from_slice(&bytes).map_err(damaged)?;
    // The name comes from a file that may come from anywhere: it must not lead out of the folder.
    let plain = page
        .book
        .bytes()
        .all(|b| b.is_ascii_alphanumeric() || b == b'.');
    if !plain || page.book.starts_with('.') {
        let detail = format!("{PAGE} names no plain file").into();
        return Err(BookFault::NotABackup { path, detail });
    }
    let digest = |text: &String| Digest::parse(text).is_some();
    let all_digests = digest(&page.digest) && page.missing.iter().all(digest);
    let odd = if page.trundle_backup != VERSION {
        Some("version")
    } else if Day::parse(&page.day).is_none() {
        Some("day")
    } else if !all_digests {
        Some("digest")
    } else if page.last > MOST_NUMBER {
        Some("place of the last line")
    } else {
        None
    };
    if let Some(odd) = odd {
        let detail = format!("{PAGE}: no {odd} has this form").into();
        return Err(BookFault::NotABackup { path, detail });
    }
    Ok(page)
}

/// Gives a folder another name: with this at its end, and a number where that is there already.
pub(crate) fn aside(folder: &Path, end: &str) -> io::Result<PathBuf> {
    let free = (1..)
        .map(|n| match n {
            1 => files::beside(folder, end),
            n => files::beside(folder, &format!("{end}-{n}")),
        })
        .find(|aside| fs::symlink_metadata(aside).is_err());
    let aside = free.unwrap_or_else(|| folder.to_owned());
    fs::rename(folder, &aside)?;
    let above = folder.parent().unwrap_or(Path::new("."));
    files::sync_folder(above, Syncing::Each)?;
    Ok(aside)
}

/// That one of the backups, or the folder of all, cannot be gone over.
pub(crate) fn resists(folder: &Path, why: BookFault) -> BookFault {
    let (backup, why) = (folder.to_owned(), Box::new(why));
    BookFault::Resists { backup, why }
}

/// The backups of days whose page is there and cannot be read, and their folder if that cannot be: nobody knows what is in them.
pub(crate) fn unread(book: &Path) -> Vec<BookFault> {
    let own = own(book);
    let folders = match fs::read_dir(&own) {
        Ok(folders) => folders,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Vec::new(),
        Err(error) => {
            let detail = (&error).into();
            let path = own.clone();
            return vec![resists(&own, BookFault::CannotOpen { path, detail })];
        }
    };
    let mut unread: Vec<PathBuf> = (folders.flatten().map(|folder| folder.path()))
        .filter(|folder| Day::parse(&files::name(folder)).is_some())
        .collect();
    unread.sort();
    let fault = |folder: PathBuf| Some(resists(&folder, read_page(&folder).err()?));
    unread.into_iter().filter_map(fault).collect()
}

/// A backup that turned out to be of another book gets a name by which it is no longer among this one's own.
pub(crate) fn no_longer_own(folder: &Path) -> Result<PathBuf, BookFault> {
    aside(folder, OTHER).map_err(|error| BookFault::file(folder, &error))
}

/// Whether a backup still has the page that says what belongs to it.
pub(crate) fn has_page(folder: &Path) -> bool {
    fs::symlink_metadata(folder.join(PAGE)).is_ok()
}
