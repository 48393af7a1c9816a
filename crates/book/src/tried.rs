//! Things that are tried each for itself.

use crate::fault::BookFault;

/// What came of things that are done each for itself: every trouble that there was.
#[derive(Default)]
pub(crate) struct Tried(Vec<BookFault>);

impl Tried {
    /// Takes in what came of one more.
    pub(crate) fn also(&mut self, came: Result<(), BookFault>) {
        match came {
            Ok(()) => {}
            Err(BookFault::NotSwept(several)) => several.into_iter().for_each(|one| self.add(one)),
            Err(one) => self.add(one),
        }
    }

    /// Whether there was no trouble.
    pub(crate) fn none(&self) -> bool {
        self.0.is_empty()
    }

    fn add(&mut self, fault: BookFault) {
        if !self.0.contains(&fault) {
            self.0.push(fault);
        }
    }

    /// What came of all of them: nothing, the one trouble, or what resists as one.
    pub(crate) fn all(mut self) -> Result<(), BookFault> {
        match (self.0.pop(), self.0.is_empty()) {
            (None, _) => Ok(()),
            (Some(one), true) => Err(one),
            (Some(last), false) => {
                self.0.push(last);
                Err(BookFault::NotSwept(self.0))
            }
        }
    }

    /// The same where even one trouble leaves something of a removal.
    pub(crate) fn swept(self) -> Result<(), BookFault> {
        match self.none() {
            true => Ok(()),
            false => Err(BookFault::NotSwept(self.0)),
        }
    }
}
