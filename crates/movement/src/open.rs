//! A movement in which counts are missing or in doubt: checked as far as it can be, to be filled in.

use crate::check::Checker;
use crate::{ArborId, Draft, DraftPlace, Flaw, FlawKind, Misgiving, Movement, PartId, Remark};
use quantity::Teeth;

/// What stands for a count that is not known, so that a movement can be drawn and walked: no sum may use it.
const STAND_IN: i64 = 24;

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

impl Movement {
    /// Checks a draft as far as it can be checked without the counts that are written with a question mark: all but the
    /// closing of loops through them.
    ///
    /// # Errors
    /// As [`Movement::check`].
    pub fn check_open(draft: &Draft) -> Result<Open, Vec<Flaw>> {
        let blanks = blanks(draft);
        let with = |fill: Option<Teeth>| {
            let mut draft = draft.clone();
            for blank in &blanks {
                draft.arbors[blank.part.arbor.0].parts[blank.part.part].teeth = fill;
            }
            draft
        };
        let blank = with(None);
        let mut checker = Checker::of(&blank);
        let found = checker.look();
        if !checker.flaws.is_empty() {
            return Err(checker.flaws);
        }
        let filled = with(Teeth::new(STAND_IN));
        checker.fill(&filled);
        let movement = found
            .and_then(|found| checker.build(found))
            .ok_or(Vec::new())?;
        Ok(Open {
            draft: draft.clone(),
            movement,
            blanks,
        })
    }
}

impl<'a> Checker<'a> {
    /// Puts a draft with counts filled in into the place of the one that was looked through.
    fn fill(&mut self, draft: &'a Draft) {
        self.draft = draft;
        for (_, link, parts) in &mut self.links {
            link.teeth = parts.map(|id| draft.arbors[id.arbor.0].parts[id.part].teeth);
        }
    }

    /// Counts that are not known: one flaw for all of them.
    pub(crate) fn uncounted(&mut self) {
        let unknown: Vec<PartId> = blanks(self.draft)
            .into_iter()
            .filter(|blank| blank.written.is_none())
            .map(|blank| blank.part)
            .collect();
        if let Some(&first) = unknown.first() {
            let what = FlawKind::Uncounted {
                part: self.part_name(first),
                more: unknown.len() - 1,
            };
            self.flaw(DraftPlace::Count(first.arbor.0, first.part), what);
        }
    }

    /// Doubtful counts, which are taken as written.
    pub(crate) fn doubtful(&self) -> Vec<Remark> {
        blanks(self.draft)
            .into_iter()
            .filter_map(|blank| {
                Some(Remark {
                    place: DraftPlace::Count(blank.part.arbor.0, blank.part.part),
                    what: Misgiving::Doubtful {
                        part: self.part_name(blank.part),
                        teeth: blank.written?,
                    },
                })
            })
            .collect()
    }
}

/// The counts of a draft that were written with a question mark.
fn blanks(draft: &Draft) -> Vec<Blank> {
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
