//! What may go wrong outside, with its words.

use book::BookFault;
use report::Locale;

/// Why the page cannot be served, in one clear sentence. All of it is something outside: a file, a disk, a port.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Trouble(pub String);

impl From<BookFault> for Trouble {
    fn from(fault: BookFault) -> Trouble {
        Trouble(trouble_text(&Locale::default(), &fault))
    }
}

/// What is the matter with the book, in words.
pub(crate) fn trouble_text(locale: &Locale, fault: &BookFault) -> String {
    report::book_trouble(locale, fault)
}
