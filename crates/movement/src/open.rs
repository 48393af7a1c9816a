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

    /// The movement with a stand-in of its own for each blank, in their order, to be drawn: loops that these counts do not
    /// close stay open, and no sum may use it. Nothing where it does not check even so.
    pub fn standing_in(&self, counts: &[Teeth]) -> Option<Movement> {
        let fill = |n: usize| counts.get(n).copied().or(Teeth::new(STAND_IN));
        stood_in(&self.draft, &self.blanks, fill).ok()
    }

    /// The movement with every count as it is written, where nothing that strikes or is timed hangs on those that are missing: they are
    /// of trains beside it. Nothing where something does, or where nothing is timed.
    pub fn beside_the_strike(&self) -> Option<Movement> {
        let missing = |blank: &&Blank| blank.written.is_none();
        let uncounted: Vec<PartId> = (self.blanks.iter().filter(missing))
            .map(|blank| blank.part)
            .collect();
        let struck = self.movement.struck_by();
        let beside = |part: &PartId| {
            (struck.iter()).all(|arbor| !self.movement.same_train(*arbor, part.arbor))
        };
        if struck.is_empty() || !uncounted.iter().all(beside) {
            return None;
        }
        let written = |n: usize| {
            let blank = self.blanks.get(n)?;
            blank.written.or(Teeth::new(STAND_IN))
        };
        let movement = stood_in(&self.draft, &self.blanks, written).ok()?;
        Some(movement.without_counts(uncounted))
    }

    /// The same with each count that is in doubt taken as it is written.
    ///
    /// # Errors
    /// Where those counts make a loop that does not close.
    pub fn believing(&self) -> Result<Open, Vec<Flaw>> {
        let mut draft = self.draft.clone();
        for blank in self.blanks.iter().filter(|blank| blank.written.is_some()) {
            draft.arbors[blank.part.arbor.0].parts[blank.part.part].doubted = false;
        }
        Movement::check_open(&draft)
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
        let movement = stood_in(draft, &blanks, |_| Teeth::new(STAND_IN))?;
        Ok(Open {
            draft: draft.clone(),
            movement,
            blanks,
        })
    }
}

/// A draft checked without its blanks, and then built with what stands in for each.
fn stood_in(
    draft: &Draft,
    blanks: &[Blank],
    fill: impl Fn(usize) -> Option<Teeth>,
) -> Result<Movement, Vec<Flaw>> {
    let with = |fill: &dyn Fn(usize) -> Option<Teeth>| {
        let mut draft = draft.clone();
        for (n, blank) in blanks.iter().enumerate() {
            draft.arbors[blank.part.arbor.0].parts[blank.part.part].teeth = fill(n);
        }
        draft
    };
    let blank = with(&|_| None);
    let mut checker = Checker::of(&blank);
    let found = checker.look();
    if !checker.flaws.is_empty() {
        return Err(checker.flaws);
    }
    let filled = with(&fill);
    checker.fill(&filled);
    found
        .and_then(|found| checker.build(found))
        .ok_or(Vec::new())
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
