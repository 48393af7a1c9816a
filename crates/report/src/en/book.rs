//! The bench book in words: what it refuses, and what was done with it.

/// What is the matter with a book, or with what is brought to it. A `String` is what the machine or the store said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BookTrouble {
    /// No folder for it.
    Folder(String),
    /// A folder where it should be.
    IsFolder,
    /// It can be neither opened nor made.
    Open(String),
    /// It can be read only.
    ReadOnly(String),
    /// The disk is full.
    Full(String),
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

/// What is the matter, in one sentence.
pub fn book_trouble(path: &str, what: &BookTrouble) -> String {
    match what {
        BookTrouble::Folder(detail) => {
            format!("cannot make the folder {path} for the book: {detail}")
        }
        BookTrouble::IsFolder => {
            format!("{path} is a folder; expected a file, or a name for a new one")
        }
        BookTrouble::Open(detail) => format!("cannot open the book {path}: {detail}"),
        BookTrouble::ReadOnly(detail) => format!(
            "{path} can be read but not written ({detail}); choose a place you may write in, the book's with `--book PATH`"
        ),
        BookTrouble::Full(detail) => format!(
            "no room left on the disk for {path} ({detail}); make room and do it again: what was entered before is kept"
        ),
        BookTrouble::NoBook(detail) => {
            format!("{path} is no bench book ({detail}); it was not touched")
        }
        BookTrouble::Newer(version) => format!(
            "{path} was written by a newer version of this program (form {version}); it was not touched"
        ),
        BookTrouble::Damaged(detail) => format!(
            "the book {path} is damaged ({detail}); leave it as it is, and restore the latest backup to another place"
        ),
        BookTrouble::Busy(detail) => {
            format!(
                "another program keeps writing in the book {path} ({detail}); wait for it or close it, and do this again"
            )
        }
        BookTrouble::NoJob => "there is no such job in this book".to_owned(),
        BookTrouble::NoPicture(detail) => {
            format!(
                "this is no picture that can be kept ({detail}); expected a JPEG, PNG or WebP file"
            )
        }
        BookTrouble::LargePicture => {
            "this picture is too large; expected at most 40 MB and 50 million points".to_owned()
        }
        BookTrouble::PictureUnknown => "there is no such picture in this book".to_owned(),
        BookTrouble::PictureLost(detail) => format!(
            "the picture {path} cannot be read ({detail}); `trundle book verify` says what else is missing, and a backup may have it"
        ),
        BookTrouble::Already => {
            format!(
                "{path} is there already, and nothing is ever overwritten; choose another place"
            )
        }
        BookTrouble::NoBackup(detail) => {
            format!("{path} is no backup of a bench book ({detail}); nothing was restored")
        }
        BookTrouble::HalfBackup(detail) => {
            format!(
                "{path} is only half a backup ({detail}); choose another one; nothing was restored"
            )
        }
        BookTrouble::NoExport(detail) => {
            format!("{path} is no export of a bench book ({detail}); nothing was imported")
        }
        BookTrouble::Other(detail) => format!("{path} refuses: {detail}"),
    }
}

/// A removal that is entered, but not everywhere carried out.
pub fn not_swept(why: &str) -> String {
    format!(
        "what was removed is gone from the book, but not yet from everything beside it: {why}; it is tried again with the next backup"
    )
}

/// Lines that were handed to the book without their last end.
pub fn torn() -> String {
    "what was to be entered breaks off within a line; nothing of it was entered".to_owned()
}
