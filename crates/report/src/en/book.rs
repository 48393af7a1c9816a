//! The bench book in words: what it refuses, and what was done with it.

/// The backup of the day could not be made.
pub fn no_backup(why: &str) -> String {
    format!("today's backup could not be made, and is tried again in ten minutes: {why}")
}

/// The machine does not say what day it is.
pub fn no_day() -> String {
    "this machine's clock tells no day of the calendar, so the backup cannot be given its day; set the clock".to_owned()
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

/// A book without a job.
pub fn nothing_in_it() -> String {
    "there is no job in it; a bench book has at least the one it begins with, so this may be a copy of which the rest was left behind"
        .to_owned()
}

/// A backup has more in it than the book.
pub fn less_than_backup(backup: &str, held: u64, has: u64) -> String {
    format!(
        "its backup {backup} holds {held} lines, the book {has}: this is an earlier book, or another"
    )
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
