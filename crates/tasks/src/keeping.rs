//! Keeping the bench book: what may go wrong with it, in words.

use book::{Became, BookFault};
use report::{BookTrouble, Why, Words, say};
use std::path::Path;

/// What is the matter with the book, in one sentence.
pub fn book_words(words: &Words, fault: &BookFault) -> String {
    let nowhere = Path::new("");
    let (path, trouble) = match fault {
        BookFault::CannotCreateFolder { path, detail } => {
            (path.as_path(), BookTrouble::Folder(detail.clone()))
        }
        BookFault::NoBookThere { path } => (path.as_path(), BookTrouble::NotThere),
        BookFault::BookGone {
            path,
            backups,
            beside,
        } => {
            let told = |path: &std::path::PathBuf| path.display().to_string();
            let left = beside.iter().map(told).collect();
            let trouble = BookTrouble::Gone(backups.first().map(told), left);
            (path.as_path(), trouble)
        }
        BookFault::NotItsOwn { path, beside } => {
            let beside = beside.display().to_string();
            (path.as_path(), BookTrouble::NotItsOwn(beside))
        }
        BookFault::NoPlainFile { path, what } => {
            let what = what.display().to_string();
            (path.as_path(), BookTrouble::NoPlainFile(what))
        }
        BookFault::OtherNames { path } => (path.as_path(), BookTrouble::OtherNames),
        BookFault::NoLongerThere { path, what, became } => {
            let what = what.display().to_string();
            let trouble = match became {
                Became::Gone => BookTrouble::WentAway(what),
                Became::Another => BookTrouble::Replaced(what),
                Became::Cut => BookTrouble::Cut(what),
                Became::WrittenOver => BookTrouble::WrittenOver(what),
            };
            (path.as_path(), trouble)
        }
        BookFault::AFolder { path } => (path.as_path(), BookTrouble::IsFolder),
        BookFault::CannotOpen { path, detail } => {
            (path.as_path(), BookTrouble::Open(detail.clone()))
        }
        BookFault::ReadOnly { path, detail } => {
            (path.as_path(), BookTrouble::ReadOnly(detail.clone()))
        }
        BookFault::DiskFull { path, detail } => (path.as_path(), BookTrouble::Full(detail.clone())),
        BookFault::NotABook { path, detail } => {
            (path.as_path(), BookTrouble::NoBook(detail.clone()))
        }
        BookFault::NewerVersion { path, got, .. } => {
            (path.as_path(), BookTrouble::Newer(got.to_string()))
        }
        BookFault::Damaged { path, detail } => {
            (path.as_path(), BookTrouble::Damaged(detail.clone()))
        }
        BookFault::Busy { path, detail } => (path.as_path(), BookTrouble::Busy(detail.clone())),
        BookFault::Failed { path, detail } => (path.as_path(), BookTrouble::Other(detail.clone())),
        BookFault::AlreadyThere { path } => (path.as_path(), BookTrouble::Already),
        BookFault::NotABackup { path, detail } => {
            (path.as_path(), BookTrouble::NoBackup(detail.clone()))
        }
        BookFault::HalfABackup { path, detail } => {
            (path.as_path(), BookTrouble::HalfBackup(detail.clone()))
        }
        BookFault::NotAnExport { path, detail } => {
            (path.as_path(), BookTrouble::NoExport(detail.clone()))
        }
        BookFault::PictureLost { path, detail } => {
            (path.as_path(), BookTrouble::PictureLost(detail.clone()))
        }
        BookFault::NotAPicture { detail } => (nowhere, BookTrouble::NoPicture(detail.clone())),
        BookFault::PictureTooLarge => (nowhere, BookTrouble::LargePicture),
        BookFault::NoSuchPicture { .. } => (nowhere, BookTrouble::PictureUnknown),
        BookFault::NoSuchJob { .. } => (nowhere, BookTrouble::NoJob),
        BookFault::Behind { .. } => return say!(words, "refused-behind"),
        BookFault::PictureCutShort => return say!(words, "picture-cut-short"),
        BookFault::PictureTooMuch => return say!(words, "picture-too-much"),
        BookFault::Torn => return say!(words, "trouble-torn"),
        BookFault::Unreadable(fault) => return Why::Log(fault.clone()).say(words),
        BookFault::NotSwept(why) => {
            return say!(words, "trouble-not-swept", why = book_words(words, why));
        }
        BookFault::NotKnown { backup } => {
            let backup = backup.display().to_string();
            return say!(words, "trouble-not-known", backup = backup);
        }
        BookFault::OtherLines { backup } => {
            let backup = backup.display().to_string();
            return say!(words, "trouble-other-lines", backup = backup);
        }
    };
    trouble.say(words, &path.display().to_string())
}
