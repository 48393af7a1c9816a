//! What may go wrong outside, with its words.

use book::BookFault;
use report::{BookTrouble, Why, Words, say};

/// Why the page cannot be served, in one clear sentence. All of it is something outside: a file, a disk, a port.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble(pub String);

impl From<BookFault> for Trouble {
    fn from(fault: BookFault) -> Trouble {
        Trouble(told(&Words::default(), &fault))
    }
}

/// What is the matter with the book, in words.
pub(crate) fn told(words: &Words, fault: &BookFault) -> String {
    let shown = |path: &std::path::Path| path.display().to_string();
    let (path, trouble) = match fault {
        BookFault::CannotCreateFolder { path, detail } => {
            (shown(path), BookTrouble::Folder(detail.clone()))
        }
        BookFault::AFolder { path } => (shown(path), BookTrouble::IsFolder),
        BookFault::CannotOpen { path, detail } => (shown(path), BookTrouble::Open(detail.clone())),
        BookFault::ReadOnly { path, detail } => {
            (shown(path), BookTrouble::ReadOnly(detail.clone()))
        }
        BookFault::DiskFull { path, detail } => (shown(path), BookTrouble::Full(detail.clone())),
        BookFault::NotABook { path, detail } => (shown(path), BookTrouble::NoBook(detail.clone())),
        BookFault::NewerVersion { path, got, .. } => {
            (shown(path), BookTrouble::Newer(got.to_string()))
        }
        BookFault::Damaged { path, detail } => (shown(path), BookTrouble::Damaged(detail.clone())),
        BookFault::Busy { path, detail } => (shown(path), BookTrouble::Busy(detail.clone())),
        BookFault::Failed { path, detail } => (shown(path), BookTrouble::Other(detail.clone())),
        BookFault::NoSuchJob { .. } => (String::new(), BookTrouble::NoJob),
        BookFault::Behind { .. } => return say!(words, "refused-behind"),
        BookFault::Torn => (String::new(), BookTrouble::Other(String::new())),
        BookFault::Unreadable(fault) => return Why::Log(fault.clone()).say(words),
    };
    trouble.say(words, &path)
}
