//! Keeping the bench book: what may go wrong with it, in words.

use book::{Became, BookFault, Detail, Store};
use report::{BookTrouble, Why, Words, refusal, say};
use std::path::Path;

/// What is the matter with the book, in one sentence.
pub fn book_words(words: &Words, fault: &BookFault) -> String {
    let nowhere = Path::new("");
    let (path, trouble) = match fault {
        BookFault::CannotCreateFolder { path, detail } => {
            (path.as_path(), BookTrouble::Folder(said(words, detail)))
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
            (path.as_path(), BookTrouble::Open(said(words, detail)))
        }
        BookFault::ReadOnly { path, detail } => {
            (path.as_path(), BookTrouble::ReadOnly(said(words, detail)))
        }
        BookFault::DiskFull { path, .. } => (path.as_path(), BookTrouble::Full),
        BookFault::NotABook { path, detail } => {
            (path.as_path(), BookTrouble::NoBook(said(words, detail)))
        }
        BookFault::NewerVersion { path, got, .. } => {
            (path.as_path(), BookTrouble::Newer(got.to_string()))
        }
        BookFault::Damaged { path, detail } => {
            (path.as_path(), BookTrouble::Damaged(said(words, detail)))
        }
        BookFault::Busy { path, detail } => {
            (path.as_path(), BookTrouble::Busy(said(words, detail)))
        }
        BookFault::Failed { path, detail } => {
            (path.as_path(), BookTrouble::Other(said(words, detail)))
        }
        BookFault::AlreadyThere { path } => (path.as_path(), BookTrouble::Already),
        BookFault::NotABackup { path, detail } => {
            (path.as_path(), BookTrouble::NoBackup(said(words, detail)))
        }
        BookFault::HalfABackup { path, detail } => {
            (path.as_path(), BookTrouble::HalfBackup(said(words, detail)))
        }
        BookFault::NotAnExport { path, detail } => {
            (path.as_path(), BookTrouble::NoExport(said(words, detail)))
        }
        BookFault::PictureLost { path, detail } => (
            path.as_path(),
            BookTrouble::PictureLost(said(words, detail)),
        ),
        BookFault::NotAPicture { detail } => (nowhere, BookTrouble::NoPicture(said(words, detail))),
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

/// What was refused, or shows what is wrong.
fn said(words: &Words, detail: &Detail) -> String {
    match detail {
        Detail::Told(told) => told.clone(),
        Detail::Machine(kind, said) => refusal(words, *kind, said),
        Detail::Store(Store::Open, _) => say!(words, "store-open"),
        Detail::Store(Store::Write, _) => say!(words, "machine-may-not"),
        Detail::Store(Store::Full, _) => say!(words, "machine-full"),
        Detail::Store(Store::None, _) => say!(words, "store-none"),
        Detail::Store(Store::Pages, _) => say!(words, "store-pages"),
        Detail::Store(Store::Busy, _) => say!(words, "machine-in-use"),
        Detail::Store(Store::Disk, _) => say!(words, "store-disk"),
        Detail::Store(Store::Other, said) => say!(words, "store-else", said = said.as_str()),
        Detail::Form { cut: true, .. } => say!(words, "form-cut"),
        Detail::Form { cut: false, .. } => say!(words, "form-odd"),
        Detail::Within(name, of) => {
            say!(
                words,
                "detail-within",
                name = name.as_str(),
                said = said(words, of)
            )
        }
    }
}
