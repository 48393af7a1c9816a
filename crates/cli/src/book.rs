//! The bench book as a whole: backed up, restored, verified, carried out and in; and what names a person, removed. Nothing of it is
//! ever overwritten but by a removal.

use crate::place::{place_of_book, today};
use crate::removal;
use crate::streams::{Failure, print, shown_name};
use book::{Aside, BackupWas, Book, BookDamage, BookFault, Extent, LineWas};
use clap::{Args, Subcommand};
use report::en::book as words;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Args)]
pub(crate) struct Keeping {
    #[command(subcommand)]
    what: What,
    /// The bench book [default: with this user's data]
    #[arg(long, value_name = "PATH", global = true)]
    book: Option<PathBuf>,
}

#[derive(Subcommand)]
enum What {
    /// Copy the book and its pictures to a new folder, while the bench runs
    Backup {
        /// The folder, which is not there yet
        folder: PathBuf,
    },
    /// Make a book of a backup, where there is none
    Restore {
        /// The folder of the backup
        backup: PathBuf,
    },
    /// Empty what names a person in a job for good; without --sure only say what that is, and where else it stands
    Remove(removal::Remove),
    /// Go over all of the book: every entry, every word, every picture
    Verify,
    /// Write all of the book in open formats to a new folder: JSON, CSV, TOML and pictures
    Export {
        /// The folder, which is not there yet
        folder: PathBuf,
    },
    /// Make a book of an export, where there is none
    Import {
        /// The folder of the export
        export: PathBuf,
    },
}

impl Keeping {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        let path = place_of_book(self.book)?;
        // What is only gone over or copied may lie where nothing can be written.
        let open = || match Book::open_there(&path) {
            Err(BookFault::ReadOnly { .. }) => Book::open_to_read(&path),
            opened => opened,
        };
        let open = || open().map_err(|fault| outside(&fault));
        let shown = shown_name(&path);
        let said = match self.what {
            What::Backup { folder } => {
                let today = today().ok_or_else(|| Failure::Outside(words::no_day()))?;
                let book = open()?;
                let made = (book.backup(&folder, today)).map_err(|fault| outside(&fault))?;
                let folder = shown_name(&folder);
                let said = words::backed_up(&folder, made.pictures, made.missing.len());
                return carried_off(&book, &shown, &said);
            }
            What::Restore { backup } => {
                let book = book::restore(&backup, &path).map_err(|fault| outside(&fault))?;
                let jobs = book.jobs().map_err(|fault| outside(&fault))?.len();
                let missing = book.not_there().map_err(|fault| outside(&fault))?;
                let said = with_not_whole(&book, words::restored(&shown, jobs, missing))?;
                return restored(&book, &shown_name(&backup), &shown, &said);
            }
            What::Remove(remove) => return remove.run(&path),
            What::Verify => return verify(&open()?, &shown),
            What::Export { folder } => {
                let book = open()?;
                let out = book.export(&folder).map_err(|fault| outside(&fault))?;
                let said = words::exported(&shown_name(&folder), &out);
                return carried_off(&book, &shown, &said);
            }
            What::Import { export } => {
                let (book, made) = book::import(&export, &path).map_err(|fault| outside(&fault))?;
                with_not_whole(&book, words::imported(&shown, &made))?
            }
        };
        print(&format!("{said}\n"))?;
        Ok(ExitCode::SUCCESS)
    }
}

/// What is said of a book that was made, and below it the pictures that came in and are not whole.
fn with_not_whole(book: &Book, said: String) -> Result<String, Failure> {
    let found = book.not_whole().map_err(|fault| outside(&fault))?;
    let found: Vec<_> = (found.iter())
        .map(|one| words::BrokenPicture {
            picture: one.digest.text(),
            shown: &one.shown,
            cut: one.why == BookFault::PictureCutShort,
        })
        .collect();
    let told = words::not_whole(&found);
    Ok(match told.trim_end() {
        "" => said,
        told => format!("{said}\n{told}"),
    })
}

/// What is wrong with a book, what goes beyond it, what is wrong with its backups, and what harms nothing.
struct Told {
    unsound: Vec<String>,
    beyond: Vec<String>,
    backups: Vec<String>,
    harmless: Vec<String>,
}

fn in_words(verdict: &book::Verdict) -> Told {
    let told = |fits: &dyn Fn(&BookDamage) -> bool| -> Vec<String> {
        let fitting = verdict.wrong.iter().filter(|wrong| fits(wrong));
        fitting.map(wrong).collect()
    };
    let harmless = |wrong: &BookDamage| matches!(wrong, BookDamage::Preview(_));
    let backup =
        |wrong: &BookDamage| matches!(wrong, BookDamage::Backup { .. } | BookDamage::Unswept(_));
    let beyond = |wrong: &BookDamage| matches!(wrong, BookDamage::LessThanBackup { .. });
    let mut unsound = told(&|wrong| !harmless(wrong) && !backup(wrong) && !beyond(wrong));
    // A bench book has at least the job it began with. Where its pages are damaged nobody counted.
    let counted = !verdict
        .wrong
        .iter()
        .any(|w| matches!(w, BookDamage::Store(_)));
    if verdict.jobs == 0 && counted {
        unsound.push(words::nothing_in_it());
    }
    Told {
        unsound,
        beyond: told(&beyond),
        backups: told(&backup),
        harmless: told(&harmless),
    }
}

/// Says what was made of a book, and whether the book it was made of is sound.
fn carried_off(book: &Book, shown: &str, said: &str) -> Result<ExitCode, Failure> {
    print(&format!("{said}\n"))?;
    let verdict = book.verify().map_err(|fault| outside(&fault))?;
    let Told {
        mut unsound,
        beyond,
        ..
    } = in_words(&verdict);
    match (unsound.is_empty(), beyond.is_empty()) {
        (true, true) => Ok(ExitCode::SUCCESS),
        (true, false) => Err(Failure::Outside(words::made_of_earlier(shown, &beyond))),
        (false, _) => {
            unsound.extend(beyond);
            Err(Failure::Outside(words::made_of_unsound(shown, &unsound)))
        }
    }
}

/// Says that a book was restored, and what was wrong with it when it was backed up.
fn restored(book: &Book, backup: &str, shown: &str, said: &str) -> Result<ExitCode, Failure> {
    print(&format!("{said}\n"))?;
    let mut verdict = book.verify().map_err(|fault| outside(&fault))?;
    // Pictures that were not to be had are counted by what was said.
    (verdict.wrong).retain(|wrong| !matches!(wrong, BookDamage::Missing(_)));
    match &in_words(&verdict).unsound[..] {
        [] => Ok(ExitCode::SUCCESS),
        unsound => Err(Failure::Outside(words::restored_unsound(
            backup, shown, unsound,
        ))),
    }
}

fn verify(book: &Book, shown: &str) -> Result<ExitCode, Failure> {
    let verdict = book.verify().map_err(|fault| outside(&fault))?;
    let Told {
        mut unsound,
        beyond: mut around,
        backups,
        harmless,
    } = in_words(&verdict);
    around.extend(backups);
    let whole: Vec<String> = verdict.backups.iter().map(|b| shown_name(b)).collect();
    let whole = words::whole_backups(&whole);
    if unsound.is_empty() && around.is_empty() {
        print(&format!(
            "{}\n{whole}{}",
            words::sound(shown, &verdict),
            words::harmless(&harmless)
        ))?;
        return Ok(ExitCode::SUCCESS);
    }
    let why = if unsound.is_empty() {
        words::sound_but(shown, &around)
    } else {
        unsound.extend(around);
        unsound.extend(harmless);
        words::unsound(shown, &unsound)
    };
    Err(Failure::Outside(
        format!("{why}\n{whole}").trim_end().to_owned(),
    ))
}

fn wrong(wrong: &BookDamage) -> String {
    match wrong {
        BookDamage::Store(said) => words::wrong_store(said),
        BookDamage::Log(job) => words::wrong_log(&job.to_string()),
        BookDamage::Lines { job, numbers, was } => {
            let job = job.to_string();
            match was {
                LineWas::Altered => words::lines_altered(&job, numbers),
                LineWas::Swapped => words::lines_swapped(&job, numbers),
                LineWas::Missing => words::lines_missing(&job, numbers),
                LineWas::PutIn => words::lines_put_in(&job, numbers),
            }
        }
        BookDamage::Cut { written, left } => words::cut(*written, *left),
        BookDamage::Aside(Aside::View) => words::views_altered(),
        BookDamage::Aside(Aside::Current) => words::current_altered(),
        BookDamage::Aside(Aside::Setting) => words::settings_altered(),
        BookDamage::Aside(Aside::Picture) => words::index_altered(),
        BookDamage::Aside(Aside::End) => words::end_altered(),
        BookDamage::Preview(digest) => words::preview_altered(digest.text()),
        BookDamage::Backup { folder, was } => {
            let folder = shown_name(folder);
            match was {
                BackupWas::Unread => words::backup_unread(&folder),
                BackupWas::Page => words::backup_page(&folder),
                BackupWas::Book => words::backup_book(&folder),
                BackupWas::Pictures(count) => words::backup_pictures(&folder, *count),
            }
        }
        BookDamage::List(job) => words::wrong_list(&job.to_string()),
        BookDamage::Words(job) => words::wrong_words(&job.to_string()),
        BookDamage::Missing(digest) => words::picture_missing(digest.text()),
        BookDamage::Altered(digest) => words::picture_altered(digest.text()),
        BookDamage::LessThanBackup { backup, held, has } => {
            words::less_than_backup(&shown_name(backup), &extent(held), &extent(has))
        }
        BookDamage::Unswept(count) => words::unswept(*count),
    }
}

fn extent(of: &Extent) -> words::BookExtent {
    words::BookExtent {
        lines: of.lines,
        jobs: of.jobs,
        day: of.day.map(|day| day.to_string()),
    }
}

pub(crate) fn outside(fault: &BookFault) -> Failure {
    Failure::Outside(report::book_trouble(&report::Locale::default(), fault))
}
