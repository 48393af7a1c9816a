//! What may go wrong outside, with its words.

use book::BookFault;
use report::Words;

/// Why the page cannot be served, in one clear sentence. All of it is something outside: a file, a disk, a port.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Trouble(pub String);

impl From<BookFault> for Trouble {
    fn from(fault: BookFault) -> Trouble {
        Trouble(told(&Words::default(), &fault))
    }
}

/// What is the matter with the book, in words.
pub(crate) fn told(words: &Words, fault: &BookFault) -> String {
    report::book_trouble(words, fault)
}
