//! The bench book in words: what it refuses, and what was done with it.

/// What is the matter with a book, or with what is brought to it. A `String` is what the machine or the store said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BookTrouble {
    /// No folder for it.
    Folder(String),
    /// A folder where it should be.
    IsFolder,
    /// There is none.
    NotThere,
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
        BookTrouble::NotThere => {
            format!("there is no book at {path}; say where it is with `--book PATH`")
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

/// The backup of the day could not be made.
pub fn no_backup(why: &str) -> String {
    format!("today's backup could not be made, and is tried again in ten minutes: {why}")
}

/// The machine does not say what day it is.
pub fn no_day() -> String {
    "this machine's clock stands before 1970 or after 9999, so the backup cannot be given its day; set the clock".to_owned()
}

/// A backup was made.
pub fn backed_up(folder: &str, pictures: usize, missing: usize) -> String {
    format!(
        "The book is backed up in {folder}, with {}{}.",
        count(pictures, "picture"),
        lacking(missing)
    )
}

/// A book was restored.
pub fn restored(book: &str, jobs: usize) -> String {
    format!("The book {book} is restored, with {}.", count(jobs, "job"))
}

/// What was carried: jobs, entries, pictures, pictures missing.
type Carried = (usize, usize, usize, usize);

/// A book was exported.
pub fn exported(folder: &str, carried: Carried) -> String {
    format!("The book is exported to {folder}: {}.", all(carried))
}

/// A book was made of an export.
pub fn imported(book: &str, carried: Carried) -> String {
    format!("The book {book} is made of the export: {}.", all(carried))
}

/// A book is as it should be: jobs, entries, pictures.
pub fn sound(book: &str, counts: (usize, usize, usize), strays: usize) -> String {
    let (jobs, entries, pictures) = counts;
    let left = match strays {
        0 => String::new(),
        strays => format!(
            " Beside it lie {} that it does not name, left when something was broken off; they do no harm.",
            count(strays, "picture file")
        ),
    };
    format!(
        "The book {book} is sound: {}.{left}",
        all((jobs, entries, pictures, 0))
    )
}

/// A book is not as it should be.
pub fn unsound(book: &str, wrong: &[String]) -> String {
    let wrong = wrong.join("\n  ");
    format!(
        "the book {book} is not sound; leave it as it is, and restore the latest backup to another place:\n  {wrong}"
    )
}

/// What the store's own check says.
pub fn wrong_store(said: &str) -> String {
    format!("the store says: {}", super::quoted(said))
}

/// A job's log.
pub fn wrong_log(job: &str) -> String {
    format!("the log of job {job} cannot be read, or lacks a line")
}

/// A job's line in the list.
pub fn wrong_list(job: &str) -> String {
    format!("the list shows job {job} otherwise than its log has it")
}

/// A job's words.
pub fn wrong_words(job: &str) -> String {
    format!("what is found of job {job} by its words and pictures is not what its log says")
}

/// A picture's file is gone.
pub fn picture_missing(picture: &str) -> String {
    format!("the file of picture {picture} is gone")
}

/// A picture's file was altered.
pub fn picture_altered(picture: &str) -> String {
    format!("the file of picture {picture} is another than it was")
}

/// Removals that are not carried through.
pub fn unswept(count: usize) -> String {
    format!(
        "{count} removals are not yet carried through to every file and backup; the next backup tries it again"
    )
}

fn all((jobs, entries, pictures, missing): Carried) -> String {
    format!(
        "{}, {}, {}{}",
        count(jobs, "job"),
        match entries {
            1 => "1 entry".to_owned(),
            entries => format!("{entries} entries"),
        },
        count(pictures, "picture"),
        lacking(missing)
    )
}

fn lacking(missing: usize) -> String {
    match missing {
        0 => String::new(),
        missing => format!(
            " ({} not to be had; `trundle book verify` names them)",
            count(missing, "picture")
        ),
    }
}

fn count(number: usize, what: &str) -> String {
    match number {
        1 => format!("1 {what}"),
        number => format!("{number} {what}s"),
    }
}
