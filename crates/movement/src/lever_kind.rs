//! What a lever is called in the trade: one row a kind. A further kind is a row here and its names in the catalogues.
//!
//! Where a sheet says no kind, it follows from what the lever does and from what else is on its arbor; never from a name. What it
//! does is [`Does`], and no kind changes that.

use crate::{Does, Felt, Lever, Reach, Shape, Works};

/// A kind of lever.
#[derive(Debug, Clone, Copy)]
pub struct LeverKind {
    /// What it is called on a sheet: its own word, then others that are taken for it.
    pub words: &'static [&'static str],
    /// Whether a lever is of this kind that says nothing of it.
    follows: fn(&Lever, &Works) -> bool,
}

/// Every kind, in the order in which they are thought of; what fits none before is the last.
pub const LEVER_KINDS: [LeverKind; 10] = [
    row(&["hook", "rack hook"], is_hook),
    row(&["hammer tail", "hammer"], |lever, _| {
        lever.hammered().is_some()
    }),
    row(&["count lever"], |lever, works| {
        feels(lever, works, is_counts)
    }),
    row(&["drop lever"], |lever, works| {
        feels(lever, works, is_notches)
    }),
    row(
        &["lifting lever", "lifting piece", "lift lever"],
        is_lifting,
    ),
    row(&["rack pin"], is_on_the_rack),
    row(&["locking arm", "locking"], |lever, _| {
        lever
            .stops()
            .is_some_and(|s| matches!(s.reach, Reach::Below(_)))
    }),
    row(
        &["warning arm", "warning piece", "warning lever", "warning"],
        |lever, _| {
            lever
                .stops()
                .is_some_and(|s| matches!(s.reach, Reach::Above(_)))
        },
    ),
    row(&["lifting arm", "lifting wire"], |lever, _| {
        lever.lifts().is_some()
    }),
    row(&["plain"], |_, _| true),
];

const fn row(words: &'static [&'static str], follows: fn(&Lever, &Works) -> bool) -> LeverKind {
    LeverKind { words, follows }
}

const SHEET_WORDS: [&str; LEVER_KINDS.len()] = {
    let mut words = [""; LEVER_KINDS.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = LEVER_KINDS[i].words[0];
        i += 1;
    }
    words
};

impl LeverKind {
    /// The sheet's own word for every kind.
    pub const WORDS: &'static [&'static str] = &SHEET_WORDS;

    /// The kind that a sheet calls so; `_` stands for a blank.
    pub fn called(word: &str) -> Option<LeverKind> {
        let word = spaced(word);
        let same = |kind: &LeverKind| kind.words.contains(&word.as_str());
        LEVER_KINDS.into_iter().find(same)
    }

    /// The sheet's own word for it.
    pub fn word(&self) -> &'static str {
        self.words[0]
    }

    /// What a lever is: what its sheet says, or what follows from what it does.
    pub fn of(lever: &Lever, works: &Works) -> LeverKind {
        let fits = |kind: &LeverKind| (kind.follows)(lever, works);
        let follows = || LEVER_KINDS.into_iter().find(fits);
        (lever.kind.or_else(follows)).unwrap_or(LEVER_KINDS[LEVER_KINDS.len() - 1])
    }
}

impl PartialEq for LeverKind {
    fn eq(&self, other: &LeverKind) -> bool {
        self.word() == other.word()
    }
}

impl Eq for LeverKind {}

/// A word as the tables of kinds have it.
pub(crate) fn spaced(word: &str) -> String {
    word.replace('_', " ")
}

fn is_hook(lever: &Lever, _: &Works) -> bool {
    lever.feels().is_some_and(|feels| feels.felt == Felt::Rack)
}

fn is_on_the_rack(lever: &Lever, works: &Works) -> bool {
    let rack = works.rack().map(|rack| rack.on);
    rack == Some(lever.on) && matches!(lever.does, Does::Stops(_))
}

fn feels(lever: &Lever, works: &Works, such: fn(&Shape) -> bool) -> bool {
    lever
        .track()
        .is_some_and(|track| such(&works.track(track).shape))
}

fn is_counts(shape: &Shape) -> bool {
    matches!(shape, Shape::Counts { .. })
}

fn is_notches(shape: &Shape) -> bool {
    matches!(shape, Shape::Notches { .. })
}

/// Lies on a track, and its arbor lifts another or warns.
fn is_lifting(lever: &Lever, works: &Works) -> bool {
    let with_it = |(_, other): (_, &Lever)| {
        let above = |reach: &Reach| matches!(reach, Reach::Above(_));
        let warns = other.stops().is_some_and(|stops| above(&stops.reach));
        other.on == lever.on && (warns || other.lifts().is_some())
    };
    lever.track().is_some() && works.levers().any(with_it)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_kinds_have_a_word_in_common() {
        let mut seen = Vec::new();
        for word in LEVER_KINDS.iter().flat_map(|kind| kind.words) {
            assert!(!seen.contains(word), "{word}");
            assert_eq!(spaced(word), *word);
            seen.push(word);
        }
    }
}
