//! The bench book in words: what it refuses, and what was done with it.

use book::{Carried, EntryPlace, Verdict};

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
pub fn restored(book: &str, jobs: usize, missing: usize) -> String {
    format!(
        "The book {book} is restored, with {}{}.",
        count(jobs, "job"),
        lacking(missing)
    )
}

/// A book was restored, and what came with the backup is not all as it was entered.
pub fn restored_unsound(backup: &str, book: &str, wrong: &[String]) -> String {
    let wrong = wrong.join("\n  ");
    format!(
        "it was restored, but the backup {backup} is of a book that was not as it had been entered, and so is this one; \
        a backup from before that may have it as it was. Of the book {book}:\n  {wrong}"
    )
}

/// A book was exported.
pub fn exported(folder: &str, carried: &Carried) -> String {
    format!("The book is exported to {folder}: {}.", all(carried))
}

/// A book was made of an export.
pub fn imported(book: &str, carried: &Carried) -> String {
    format!("The book {book} is made of the export: {}.", all(carried))
}

/// A picture that came in and is not whole.
pub struct BrokenPicture<'a> {
    /// Its digest.
    pub picture: &'a str,
    /// The entries that show it.
    pub shown: &'a [EntryPlace],
    /// Whether its end is missing; else it is too large to be shown.
    pub cut: bool,
}

/// Pictures came in that are not whole, and are kept as they came. Nothing where there are none.
pub fn not_whole(pictures: &[BrokenPicture<'_>]) -> String {
    let told = |one: &BrokenPicture<'_>| {
        let by: Vec<String> = (one.shown.iter())
            .map(|EntryPlace { job, n }| format!("entry {n} of job {job}"))
            .collect();
        let by = match &by[..] {
            [] => String::new(),
            by => format!(", shown by {}", by.join(" and ")),
        };
        let what = if one.cut {
            "its end is missing"
        } else {
            "it takes more room to unpack than there is"
        };
        format!("  picture {}{by}: {what}\n", one.picture)
    };
    match pictures {
        [] => String::new(),
        _ => format!(
            "Not whole, and kept as they came:\n{}",
            pictures.iter().map(told).collect::<String>()
        ),
    }
}

/// A book is as it should be.
pub fn sound(book: &str, verdict: &Verdict) -> String {
    let left = match verdict.strays {
        0 => String::new(),
        strays => format!(
            " Beside it lie {} that it does not name, left when something was broken off; they do no harm.",
            count(strays, "picture file")
        ),
    };
    let found = match verdict.as_found {
        0 => String::new(),
        lines => format!(
            " The first {lines} lines are held as they were found when the book was brought to this form or imported; \
            whether they were altered before that is not known."
        ),
    };
    let held = Carried {
        jobs: verdict.jobs,
        entries: verdict.entries,
        pictures: verdict.pictures,
        missing: 0,
    };
    format!("The book {book} is sound: {}.{left}{found}", all(&held))
}

/// Backups that were gone over and are as they were made, a line each.
pub fn whole_backups(backups: &[String]) -> String {
    (backups.iter())
        .map(|backup| format!("  {} is as it was made\n", its(backup)))
        .collect()
}

/// A book is as it should be, but not all around it.
pub fn sound_but(book: &str, wrong: &[String]) -> String {
    let wrong = wrong.join("\n  ");
    format!("the book {book} is sound, but not all around it:\n  {wrong}")
}

/// What is wrong and harms nothing.
pub fn harmless(what: &[String]) -> String {
    what.iter().map(|what| format!("  {what}\n")).collect()
}

/// A book is not as it should be.
pub fn unsound(book: &str, wrong: &[String]) -> String {
    let wrong = wrong.join("\n  ");
    format!(
        "the book {book} is not sound; leave it as it is, and restore the latest backup to another place:\n  {wrong}"
    )
}

/// Something was made of a book that is not as it should be.
pub fn made_of_unsound(book: &str, wrong: &[String]) -> String {
    let wrong = wrong.join("\n  ");
    format!(
        "it was made, but of a book that is not sound, so what is wrong there may be wrong in it too; \
        keep your earlier backups. Of the book {book}:\n  {wrong}"
    )
}

/// Something was made of a book that is sound, but that a backup goes beyond.
pub fn made_of_earlier(book: &str, told: &[String]) -> String {
    let told = told.join("\n  ");
    format!(
        "it was made, and the book {book} is sound; but keep your earlier backups too:\n  {told}"
    )
}

/// What the store's own check says.
pub fn wrong_store(said: &str) -> String {
    format!(
        "part of its file is damaged; entries may still be readable, but do not rely on it (in the store's words: {})",
        super::quoted(said)
    )
}

/// A job's log.
pub fn wrong_log(job: &str) -> String {
    format!("the log of job {job} cannot be read, or lacks a line")
}

/// Lines that were altered, by their numbers.
pub fn lines_altered(job: &str, numbers: &[usize]) -> String {
    format!(
        "{} not as written, in what it says or in what is known of the picture it shows; \
        compare it with a backup from before that",
        these(job, numbers, ["is", "are"])
    )
}

/// Lines that stand in each other's places.
pub fn lines_swapped(job: &str, numbers: &[usize]) -> String {
    format!(
        "{} in the place of another; a backup from before that has them in order",
        these(job, numbers, ["stands", "stand"])
    )
}

/// Lines that were written and are not there.
pub fn lines_missing(job: &str, numbers: &[usize]) -> String {
    format!(
        "{} missing; a backup from before that may still have what was written there",
        these(job, numbers, ["is", "are"])
    )
}

/// Lines that are there and were never written.
pub fn lines_put_in(job: &str, numbers: &[usize]) -> String {
    format!(
        "{} put in by something other than this program; a backup from before that is without",
        these(job, numbers, ["was", "were"])
    )
}

/// The end of a book is cut off.
pub fn cut(written: u64, left: u64) -> String {
    format!(
        "the end of the book is cut off: {written} lines were written, {left} are left; \
        what was written last may be in the latest backup"
    )
}

/// What is known of how jobs are looked at.
pub fn views_altered() -> String {
    "how jobs are looked at (plate, way up) is not what was set; set it again where it is wrong, or take it from the backup"
        .to_owned()
}

/// What is known of the job at hand.
pub fn current_altered() -> String {
    "which job is at hand is not what was chosen; choose it again".to_owned()
}

/// What is known of the shop's settings.
pub fn settings_altered() -> String {
    "what the shop has settled (units, language, lists) is not what was set; look it over, or take it from the backup"
        .to_owned()
}

/// What is known of the pictures.
pub fn index_altered() -> String {
    "what the book knows of its pictures (name, form, size) is not what was kept; the backup has it as it was".to_owned()
}

/// What is known of the end of a book.
pub fn end_altered() -> String {
    "the note of where the book ends does not fit its last line; lines may be missing there"
        .to_owned()
}

/// A preview that was altered.
pub fn preview_altered(picture: &str) -> String {
    format!(
        "the preview of picture {picture} is another than it was; this harms nothing, \
        it is made again when it is next looked at"
    )
}

/// A backup may not be read.
pub fn backup_unread(backup: &str) -> String {
    format!(
        "{}: it may not be read, so nobody can tell whether it is as it was made; let whoever runs this read it",
        its(backup)
    )
}

/// The page of a backup was altered.
pub fn backup_page(backup: &str) -> String {
    format!(
        "{}: the page that says what belongs to it cannot be relied on; {MAKE_ANOTHER}",
        its(backup)
    )
}

/// The book in a backup was altered.
pub fn backup_book(backup: &str) -> String {
    format!(
        "{}: the book in it is another than it was; {MAKE_ANOTHER}",
        its(backup)
    )
}

/// Pictures in a backup were altered.
pub fn backup_pictures(backup: &str, pictures: usize) -> String {
    format!(
        "{}: {} in it gone or another than before; {MAKE_ANOTHER}",
        its(backup),
        match pictures {
            1 => "1 picture is".to_owned(),
            pictures => format!("{pictures} pictures are"),
        }
    )
}

/// How to go on where a backup is of no use.
const MAKE_ANOTHER: &str =
    "do not restore from it; with `trundle book backup` another can be made of the book now";

fn its(backup: &str) -> String {
    format!("its backup {backup}")
}

/// Entries of a job with a verb for one and for several; 0 is what a job begins with.
fn these(job: &str, numbers: &[usize], [one, several]: [&str; 2]) -> String {
    const MOST: usize = 12;
    let told = |number: &usize| match number {
        0 => "its beginning (name and first sheet)".to_owned(),
        number => format!("entry {number}"),
    };
    let mut all: Vec<String> = numbers.iter().take(MOST).map(told).collect();
    if numbers.len() > MOST {
        all.push(format!("{} more", numbers.len() - MOST));
    }
    let verb = if numbers.len() == 1 { one } else { several };
    format!("of job {job}, {} {verb}", all.join(", "))
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

/// How far a book goes: lines, jobs, the day of the last line.
pub struct BookExtent {
    /// Its lines.
    pub lines: u64,
    /// Its jobs, where they can be counted.
    pub jobs: Option<usize>,
    /// The day of the last line that tells one.
    pub day: Option<String>,
}

impl BookExtent {
    fn say(&self) -> String {
        let jobs =
            (self.jobs).map_or_else(String::new, |jobs| format!("{} and ", count(jobs, "job")));
        let day =
            (self.day.as_ref()).map_or_else(String::new, |day| format!(", the last of {day}"));
        format!("{jobs}{} lines{day}", self.lines)
    }
}

/// A backup has more in it than the book.
pub fn less_than_backup(backup: &str, held: &BookExtent, has: &BookExtent) -> String {
    format!(
        "its backup {backup} holds {}; the book {}. So this is an earlier book, or another. Which of the two is wanted only you know: \
        if this one was put here on purpose, go on with it; if not, a book of that backup can be made in another place, and both \
        compared: `trundle book --book PATH restore \"{backup}\"`",
        held.say(),
        has.say()
    )
}

/// Removals that are not carried through.
pub fn unswept(count: usize) -> String {
    let removals = match count {
        1 => "a removal is".to_owned(),
        count => format!("{count} removals are"),
    };
    format!(
        "{removals} not yet carried through to every file and backup, so what was removed may still lie there; open the bench: \
        it is tried again at its start, and with each backup, and what resists is named over the list of jobs"
    )
}

fn all(carried: &Carried) -> String {
    format!(
        "{}, {}, {}{}",
        count(carried.jobs, "job"),
        match carried.entries {
            1 => "1 entry".to_owned(),
            entries => format!("{entries} entries"),
        },
        count(carried.pictures, "picture"),
        lacking(carried.missing)
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
