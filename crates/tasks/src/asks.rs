//! What is entered into a log, as a user says it.

use crate::Refusal;
use crate::question::QuestionFault;
use entries::{AtMesh, LoggedTension, Moved};

/// Something to enter into a log, as a user says it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// Readings of one look.
    Saw {
        /// One for each witness.
        readings: Vec<entries::LoggedReading>,
        /// How the train was held.
        tension: LoggedTension,
    },
    /// Readings at rest as it stood while it struck right, and how many hours were watched.
    Stood {
        /// One for each witness.
        readings: Vec<entries::LoggedReading>,
        /// Hours that were watched struck right, where that was said.
        hours: Option<u16>,
    },
    /// What was advised was done as said; of several shifts, these.
    Done(Which),
    /// Another shift was made, all in one opening.
    Did(Vec<AtMesh>),
    /// The last shift went the other way; or these of the last round of shifts, in one entry or several.
    OtherWay(Which),
    /// A mesh slipped.
    Slipped(AtMesh),
    /// An arbor jumped out and was put back anyhow.
    Jumped(String),
    /// A lever was bent.
    Bent(Moved),
    /// A part was turned on its arbor.
    Turned(Moved),
    /// A lever that was bent, or a part that had slipped, was set right by eye: what was read of this witness before tells
    /// nothing any more.
    SetRight(String),
    /// An arbor was taken out.
    Out(String),
    /// An arbor was put in.
    In(String),
    /// The hour last struck.
    Struck(u8),
    /// An entry is taken back: the last that counts, or the one with this number.
    Undo(Option<usize>),
}

/// Which of several shifts that were numbered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which {
    /// All of them.
    All,
    /// Those with these numbers, from 1.
    These(Vec<usize>),
}

impl Which {
    /// Those of `all` that are meant.
    ///
    /// # Errors
    /// A number that none of them has.
    pub(crate) fn of<T: Clone>(&self, all: &[T]) -> Result<Vec<T>, Refusal> {
        let Which::These(numbers) = self else {
            return Ok(all.to_vec());
        };
        (numbers.iter())
            .map(|&n| {
                let meant = n.checked_sub(1).and_then(|n| all.get(n));
                meant
                    .cloned()
                    .ok_or(Refusal::Question(QuestionFault::NoSuchShift(n, all.len())))
            })
            .collect()
    }
}
