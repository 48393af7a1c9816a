//! What may go wrong with a book, in words.

use crate::{Words, say};

/// What is the matter with a book. A detail is what the machine said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BookTrouble {
    /// No folder for it.
    Folder(String),
    /// A folder where it should be.
    IsFolder,
    /// There is none.
    NotThere,
    /// There is none any more: its latest backup, and what else was left of it.
    Gone(Option<String>, Vec<String>),
    /// What lies beside it is another's.
    NotItsOwn(String),
    /// Something of its own is a pipe, a folder or a device.
    NoPlainFile(String),
    /// Several names lead to it.
    OtherNames,
    /// Something of it is gone while it is open.
    WentAway(String),
    /// Another lies in the place of something of it.
    Replaced(String),
    /// Something of it was cut to nothing.
    Cut(String),
    /// Another was written over it, in the same file.
    WrittenOver(String),
    /// It can be neither opened nor made.
    Open(String),
    /// It can be read only.
    ReadOnly(String),
    /// The disk is full.
    Full,
    /// It is another kind of file.
    NoBook(String),
    /// It is of a newer form.
    Newer(String),
    /// It is damaged.
    Damaged(String),
    /// Another program holds it.
    Busy(String),
    /// There is no such job.
    NoJob,
    /// What was to be a picture is none.
    NoPicture(String),
    /// A picture is too large.
    LargePicture,
    /// There is no such picture.
    PictureUnknown,
    /// A picture's file is gone.
    PictureLost(String),
    /// Something is there already.
    Already,
    /// The folder is no backup.
    NoBackup(String),
    /// The folder is half a backup.
    HalfBackup(String),
    /// The folder is no export.
    NoExport(String),
    /// Anything else.
    Other(String),
}

impl BookTrouble {
    /// In words, of the book at `path`.
    pub fn say(&self, words: &Words, path: &str) -> String {
        match self {
            BookTrouble::Folder(detail) => {
                say!(words, "trouble-folder", path = path, detail = detail)
            }
            BookTrouble::IsFolder => say!(words, "trouble-is-folder", path = path),
            BookTrouble::NotThere => say!(words, "trouble-not-there", path = path),
            BookTrouble::Gone(Some(backup), _) => {
                say!(
                    words,
                    "trouble-gone-backed-up",
                    path = path,
                    backup = backup
                )
            }
            BookTrouble::Gone(None, left) => {
                say!(words, "trouble-gone", path = path, left = left.join(", "))
            }
            BookTrouble::NotItsOwn(beside) => {
                say!(words, "trouble-not-its-own", path = path, beside = beside)
            }
            BookTrouble::NoPlainFile(what) => {
                say!(words, "trouble-no-plain-file", path = path, what = what)
            }
            BookTrouble::OtherNames => say!(words, "trouble-other-names", path = path),
            BookTrouble::WentAway(what) => say!(words, "trouble-went-away", what = what),
            BookTrouble::Replaced(what) => say!(words, "trouble-replaced", what = what),
            BookTrouble::Cut(what) => say!(words, "trouble-cut", what = what),
            BookTrouble::WrittenOver(what) => say!(words, "trouble-written-over", what = what),
            BookTrouble::Open(detail) => say!(words, "trouble-open", path = path, detail = detail),
            BookTrouble::ReadOnly(detail) => {
                say!(words, "trouble-read-only", path = path, detail = detail)
            }
            BookTrouble::Full => say!(words, "trouble-full", path = path),
            BookTrouble::NoBook(detail) => {
                say!(words, "trouble-no-book", path = path, detail = detail)
            }
            BookTrouble::Newer(version) => {
                say!(words, "trouble-newer", path = path, version = version)
            }
            BookTrouble::Damaged(detail) => {
                say!(words, "trouble-damaged", path = path, detail = detail)
            }
            BookTrouble::Busy(detail) => say!(words, "trouble-busy", path = path, detail = detail),
            BookTrouble::NoJob => say!(words, "trouble-no-job"),
            BookTrouble::NoPicture(detail) => say!(words, "trouble-no-picture", detail = detail),
            BookTrouble::LargePicture => say!(words, "trouble-large-picture"),
            BookTrouble::PictureUnknown => say!(words, "trouble-picture-unknown"),
            BookTrouble::PictureLost(detail) => {
                say!(words, "trouble-picture-lost", path = path, detail = detail)
            }
            BookTrouble::Already => say!(words, "trouble-already", path = path),
            BookTrouble::NoBackup(detail) => {
                say!(words, "trouble-no-backup", path = path, detail = detail)
            }
            BookTrouble::HalfBackup(detail) => {
                say!(words, "trouble-half-backup", path = path, detail = detail)
            }
            BookTrouble::NoExport(detail) => {
                say!(words, "trouble-no-export", path = path, detail = detail)
            }
            BookTrouble::Other(detail) => {
                say!(words, "trouble-other", path = path, detail = detail)
            }
        }
    }
}
