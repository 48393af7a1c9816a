//! Turns at a store: all that is done in one, or nothing of it.

use crate::fault::BookFault;
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::path::Path;
use std::time::Duration;

/// How long to wait while another program writes in the book. One entry takes some milliseconds, so five seconds are
/// hundreds of turns; whoever waits longer should be told.
pub const PATIENCE: Duration = Duration::from_secs(5);

/// One turn at a store: all of it, or nothing.
pub(crate) fn turn<T>(
    store: &mut Connection,
    behavior: TransactionBehavior,
    what: impl FnOnce(&Transaction<'_>) -> Result<T, Halt>,
) -> Result<T, Halt> {
    let change = store.transaction_with_behavior(behavior)?;
    let done = what(&change)?;
    change.commit()?;
    Ok(done)
}

/// Why a turn at the book ends without its work done.
pub(crate) enum Halt {
    Refused(BookFault),
    Damaged(String),
    Store(rusqlite::Error),
}

impl Halt {
    /// The same, of the book at `path`.
    pub(crate) fn of_book_at(self, path: &Path) -> BookFault {
        match self {
            Halt::Refused(fault) => fault,
            Halt::Damaged(detail) => BookFault::Damaged {
                path: path.to_owned(),
                detail: detail.into(),
            },
            Halt::Store(error) => BookFault::of(path, &error),
        }
    }
}

impl From<BookFault> for Halt {
    fn from(fault: BookFault) -> Halt {
        Halt::Refused(fault)
    }
}

impl From<rusqlite::Error> for Halt {
    fn from(error: rusqlite::Error) -> Halt {
        Halt::Store(error)
    }
}

/// A count of things in memory, as the store has its numbers.
pub(crate) fn as_number(count: usize) -> i64 {
    i64::try_from(count).expect("fewer than 2^63 of anything fit in memory")
}
