//! A movement in which counts are missing or in doubt: checked as far as it can be, to be filled in.

use crate::{ArborId, Draft, Flaw, Movement, PartId};
use quantity::Teeth;

/// What stands for a count that is not known, so that a movement can be drawn and walked: no sum may use it.
pub(crate) const STAND_IN: i64 = 24;

/// A count with a question mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blank {
    /// The part.
    pub part: PartId,
    /// The count that is in doubt; nothing where there is none at all.
    pub written: Option<Teeth>,
}

/// A movement some of whose counts are not known, or doubtful.
#[derive(Debug, Clone)]
pub struct Open {
    pub(crate) draft: Draft,
    pub(crate) movement: Movement,
    pub(crate) blanks: Vec<Blank>,
}

impl Open {
    /// The movement with every blank at the same number, which means nothing: its arbors, meshes and names are good, its
    /// ratios only where no blank takes part.
    pub fn movement(&self) -> &Movement {
        &self.movement
    }

    /// The counts that are not known or in doubt, in sheet order.
    pub fn blanks(&self) -> &[Blank] {
        &self.blanks
    }

    /// The movement with its blanks filled in, in their order.
    ///
    /// # Errors
    /// Where the counts make a loop that does not close.
    pub fn with(&self, counts: &[Teeth]) -> Result<Movement, Vec<Flaw>> {
        let mut draft = self.draft.clone();
        for (blank, count) in self.blanks.iter().zip(counts) {
            let part = &mut draft.arbors[blank.part.arbor.0].parts[blank.part.part];
            part.teeth = Some(*count);
            part.doubted = false;
        }
        Movement::check(&draft).map(|(movement, _)| movement)
    }
}

/// The counts of a draft that were written with a question mark.
pub(crate) fn blanks(draft: &Draft) -> Vec<Blank> {
    let mut blanks = Vec::new();
    for (a, arbor) in draft.arbors.iter().enumerate() {
        for (part, p) in arbor.parts.iter().enumerate().filter(|(_, p)| p.doubted) {
            blanks.push(Blank {
                part: PartId {
                    arbor: ArborId(a),
                    part,
                },
                written: p.teeth,
            });
        }
    }
    blanks
}
