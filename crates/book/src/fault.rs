//! What can go wrong with a book, as data. Words come later.

use crate::bounds::{MOST_HELD, MOST_PICTURE_BYTES, MOST_PIXELS, MOST_UNPACKING};
use crate::detail::Detail;
use crate::id::JobId;
use entries::{Digest, LogFault};
use rusqlite::ErrorCode;
use std::path::{Path, PathBuf};
use std::{fmt, io};

/// Why a book cannot be opened, or why something is not in it. Whatever was refused has left nothing behind. A `path` is
/// that of the book unless said otherwise; a `detail` is what was refused, or shows it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BookFault {
    /// The folder for the book is not there and cannot be made.
    #[error("{path}: the folder cannot be made: {detail}")]
    CannotCreateFolder {
        /// The folder.
        path: PathBuf,
        /// Why not.
        detail: Detail,
    },
    /// There is a folder where the book should be.
    #[error("{path}: a folder where the book should be")]
    AFolder {
        /// The folder.
        path: PathBuf,
    },
    /// The file can be neither opened nor made.
    #[error("{path}: cannot be opened: {detail}")]
    CannotOpen {
        /// The book.
        path: PathBuf,
        /// Why not.
        detail: Detail,
    },
    /// There is no book where one was to be found.
    #[error("{path}: no book there")]
    NoBookThere {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// There is no book, but what a book leaves beside it: it was removed, renamed, or cut to nothing. None was made.
    #[error("{path}: the book is gone; {} backups and {} other things lie beside it", backups.len(), beside.len())]
    BookGone {
        /// Where it was looked for.
        path: PathBuf,
        /// Its backups, the latest first.
        backups: Vec<PathBuf>,
        /// What else lies there: pictures, changes that were not carried into it.
        beside: Vec<PathBuf>,
    },
    /// The changes that lie beside the book are not its own: the book was put there from elsewhere. Neither was touched.
    #[error("{path}: {beside} beside the book is not its own")]
    NotItsOwn {
        /// The book.
        path: PathBuf,
        /// The file of changes.
        beside: PathBuf,
    },
    /// Where a file of the book's own lies or would be made there is a pipe, a folder or a device. Nothing was touched.
    #[error("{path}: {what} is no plain file")]
    NoPlainFile {
        /// The book.
        path: PathBuf,
        /// What is none.
        what: PathBuf,
    },
    /// Several names lead to the book's file, so that two benches could work in it without knowing. It was not touched.
    #[error("{path}: several names lead to the book")]
    OtherNames {
        /// The book.
        path: PathBuf,
    },
    /// While the book was open, something was done to its file or to what belongs to it. Nothing that was to be written now is
    /// kept.
    #[error("{path}: {what} was changed while the book was open: {became}")]
    NoLongerThere {
        /// The book.
        path: PathBuf,
        /// What it was done to.
        what: PathBuf,
        /// What.
        became: Became,
    },
    /// The file, or the folder it is in, may be read but not written.
    #[error("{path}: may not be written: {detail}")]
    ReadOnly {
        /// The book.
        path: PathBuf,
        /// What was refused.
        detail: Detail,
    },
    /// There is no room left.
    #[error("{path}: no room left: {detail}")]
    DiskFull {
        /// The book.
        path: PathBuf,
        /// What was refused.
        detail: Detail,
    },
    /// There is another kind of file there. It was not touched.
    #[error("{path}: no book: {detail}")]
    NotABook {
        /// The file.
        path: PathBuf,
        /// What shows it.
        detail: Detail,
    },
    /// The book was written by a newer version of this program. It was not touched.
    #[error("{path}: a book of form {got}, known up to {known}")]
    NewerVersion {
        /// The book.
        path: PathBuf,
        /// The version of its form.
        got: i64,
        /// The newest version that is known here.
        known: i64,
    },
    /// The book's file is damaged.
    #[error("{path}: damaged: {detail}")]
    Damaged {
        /// The book.
        path: PathBuf,
        /// What is wrong with it.
        detail: Detail,
    },
    /// Another program has been writing in the book for [`PATIENCE`](crate::PATIENCE).
    #[error("{path}: another program is writing: {detail}")]
    Busy {
        /// The book.
        path: PathBuf,
        /// What was refused.
        detail: Detail,
    },
    /// Anything else that the machine or the store refuses.
    #[error("{path}: {detail}")]
    Failed {
        /// The book.
        path: PathBuf,
        /// What was refused.
        detail: Detail,
    },
    /// A removal is entered, and the book itself is emptied; but something of it may still lie in a file or a backup. It is
    /// tried again with each backup, and by [`Book::sweep`](crate::Book::sweep). Each of these resists, or is told besides; at
    /// least one.
    #[error(
        "removed from the book, but something of it may still lie in a file or a backup: {}",
        each(.0)
    )]
    NotSwept(Vec<BookFault>),
    /// One of the book's own backups cannot be gone over, so what was removed may still lie in it.
    #[error("{backup}: cannot be gone over: {why}")]
    Resists {
        /// Its folder, or the folder of all of them.
        backup: PathBuf,
        /// What stands in the way.
        why: Box<BookFault>,
    },
    /// Backups have other lines where a removal emptied some: they are of another book, or of days that this one no longer has.
    /// They were left as they are, and given names by which they are no longer among the book's own.
    #[error(
        "{}: other lines where something was removed; put aside",
        paths(backups)
    )]
    OtherLines {
        /// Their folders, as they are called now; at least one.
        backups: Vec<PathBuf>,
    },
    /// What is in this book was altered since it was entered. The backup of the day is made, and no older one is taken away: what was
    /// there before may be in one of them alone.
    #[error("{path}: altered since it was entered; older backups are kept")]
    Altered {
        /// The book.
        path: PathBuf,
    },
    /// A backup could not be gone over when something was removed, so which of its lines those are is not known any more.
    #[error(
        "{backup}: could not be gone over when something was removed; which of its lines those are is not known"
    )]
    NotKnown {
        /// Its folder.
        backup: PathBuf,
    },
    /// There is something already where something new was to be made. It was not touched.
    #[error("{path}: already there")]
    AlreadyThere {
        /// What is there.
        path: PathBuf,
    },
    /// The folder is no backup of a book.
    #[error("{path}: no backup: {detail}")]
    NotABackup {
        /// The folder.
        path: PathBuf,
        /// What shows it.
        detail: Detail,
    },
    /// The folder is half a backup: something of it is missing or another than it was.
    #[error("{path}: half a backup: {detail}")]
    HalfABackup {
        /// The folder.
        path: PathBuf,
        /// What.
        detail: Detail,
    },
    /// The folder is no export of a book, or not all of one.
    #[error("{path}: no export: {detail}")]
    NotAnExport {
        /// The folder.
        path: PathBuf,
        /// What shows it.
        detail: Detail,
    },
    /// What was to be kept as a picture is none, or none that can be read here.
    #[error("no picture: {detail}")]
    NotAPicture {
        /// What shows it.
        detail: Detail,
    },
    /// A picture with more bytes than [`MOST_PICTURE_BYTES`], or more points than
    /// [`MOST_PIXELS`].
    #[error(
        "a picture of more than {} bytes or {} points",
        MOST_PICTURE_BYTES,
        MOST_PIXELS
    )]
    PictureTooLarge,
    /// A picture without its end.
    #[error("a picture without its end")]
    PictureCutShort,
    /// A picture that takes more than [`MOST_UNPACKING`] to unpack, or with its file more than
    /// [`MOST_HELD`].
    #[error(
        "a picture that takes more than {} bytes to unpack, or {} with its file",
        MOST_UNPACKING,
        MOST_HELD
    )]
    PictureTooMuch,
    /// No picture has this name.
    #[error("no picture {digest}")]
    NoSuchPicture {
        /// The name.
        digest: Digest,
    },
    /// A picture's file is gone.
    #[error("{path}: the picture is gone: {detail}")]
    PictureLost {
        /// The picture's file.
        path: PathBuf,
        /// What was refused.
        detail: Detail,
    },
    /// No job has this number.
    #[error("no job {id}")]
    NoSuchJob {
        /// The number.
        id: JobId,
    },
    /// The log holds another number of entries by now than whoever appends to it believes: someone else wrote.
    #[error("the log holds {held} entries, not {believed}")]
    Behind {
        /// Entries in the log.
        held: usize,
        /// Entries it was believed to hold.
        believed: usize,
    },
    /// The text breaks off within a line: each line needs its end.
    #[error("the text breaks off within a line")]
    Torn,
    /// With this text the log could not be read again; since nothing is ever struck out, it would stay so.
    #[error("the log could not be read again")]
    Unreadable(#[source] LogFault),
}

fn each(faults: &[BookFault]) -> String {
    let each: Vec<String> = faults.iter().map(ToString::to_string).collect();
    each.join("; ")
}

fn paths(paths: &[PathBuf]) -> String {
    let paths: Vec<_> = paths.iter().map(|path| path.to_string_lossy()).collect();
    paths.join(", ")
}

impl BookFault {
    /// What the machine said, about the file or folder at `path`.
    pub(crate) fn file(path: &Path, error: &io::Error) -> BookFault {
        use io::ErrorKind;
        let path = path.to_owned();
        let detail = Detail::from(error);
        match error.kind() {
            ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
                BookFault::ReadOnly { path, detail }
            }
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
                BookFault::DiskFull { path, detail }
            }
            _ => BookFault::Failed { path, detail },
        }
    }

    /// What the store said, about the book at `path`.
    pub(crate) fn of(path: &Path, error: &rusqlite::Error) -> BookFault {
        /// No room for the index beside the log of changes.
        const NO_ROOM_FOR_INDEX: i32 = rusqlite::ffi::SQLITE_IOERR_SHMSIZE;
        let path = path.to_owned();
        let detail = Detail::from(error);
        let code = error.sqlite_error().map(|e| (e.code, e.extended_code));
        match code {
            Some((ErrorCode::DiskFull, _)) | Some((_, NO_ROOM_FOR_INDEX)) => {
                BookFault::DiskFull { path, detail }
            }
            Some((ErrorCode::ReadOnly, _)) => BookFault::ReadOnly { path, detail },
            Some((ErrorCode::NotADatabase, _)) => BookFault::NotABook { path, detail },
            Some((ErrorCode::DatabaseCorrupt, _)) => BookFault::Damaged { path, detail },
            Some((ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked, _)) => {
                BookFault::Busy { path, detail }
            }
            Some((ErrorCode::CannotOpen | ErrorCode::PermissionDenied, _)) => {
                BookFault::CannotOpen { path, detail }
            }
            _ => BookFault::Failed { path, detail },
        }
    }
}

/// What has become of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Became {
    /// Nothing lies there any more.
    Gone,
    /// Another lies there.
    Another,
    /// It was cut to nothing.
    Cut,
    /// Another was written over it, in the same file.
    WrittenOver,
}

impl fmt::Display for Became {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Became::Gone => "nothing lies there any more",
            Became::Another => "another lies there",
            Became::Cut => "it was cut to nothing",
            Became::WrittenOver => "another was written over it",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::error::Error;

    /// A fault with all that lies behind it, as whoever builds on this crate sees it.
    fn chain(fault: &dyn Error) -> String {
        let behind = fault.source().map(chain);
        behind.map_or_else(|| fault.to_string(), |behind| format!("{fault}: {behind}"))
    }

    #[test]
    fn what_lies_behind_is_not_lost() {
        let path = PathBuf::from("shop/bench.book");
        let full = BookFault::file(&path, &io::Error::from(io::ErrorKind::StorageFull));
        assert_eq!(
            chain(&full),
            "shop/bench.book: no room left: no storage space"
        );
        assert_eq!(
            chain(&BookFault::NotSwept(vec![full])),
            "removed from the book, but something of it may still lie in a file or a backup: \
             shop/bench.book: no room left: no storage space"
        );
        let blank = LogFault {
            place: entries::LogPlace::Line { line: 5 },
            what: entries::LogFaultKind::Blank,
        };
        assert_eq!(
            chain(&BookFault::Unreadable(blank)),
            "the log could not be read again: line 5: a blank line"
        );
        let moved = BookFault::NoLongerThere {
            what: PathBuf::from("shop/bench.book-wal"),
            became: Became::Cut,
            path: path.clone(),
        };
        assert_eq!(
            chain(&moved),
            "shop/bench.book: shop/bench.book-wal was changed while the book was open: it was cut to nothing"
        );
        let newer = BookFault::NewerVersion {
            path,
            got: 12,
            known: 9,
        };
        assert_eq!(
            chain(&newer),
            "shop/bench.book: a book of form 12, known up to 9"
        );
    }
}
