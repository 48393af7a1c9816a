//! Things that are tried each for itself.

use crate::fault::BookFault;

/// What came of things that are done each for itself: the first trouble, if there was any.
#[derive(Default)]
pub(crate) struct Tried(Option<BookFault>);

impl Tried {
    /// Takes in what came of one more.
    pub(crate) fn also(&mut self, came: Result<(), BookFault>) {
        if let Err(fault) = came {
            self.0.get_or_insert(fault);
        }
    }

    /// What came of all of them.
    pub(crate) fn all(self) -> Result<(), BookFault> {
        self.0.map_or(Ok(()), Err)
    }
}
