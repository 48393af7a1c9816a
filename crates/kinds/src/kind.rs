//! A kind of strike: its pattern, its questions, its proportions and what its counts must come to, all of it read from data.

use crate::{DescribeFault, WorkRole};
use serde::Deserialize;
use std::sync::LazyLock;

/// Each kind's questions and proportions, and its pattern.
const TEXTS: &[(&str, &str)] = &[
    (
        include_str!("../kinds/cam/kind.toml"),
        include_str!("../kinds/cam/sheet.toml"),
    ),
    (
        include_str!("../kinds/outside/kind.toml"),
        include_str!("../kinds/outside/sheet.toml"),
    ),
    (
        include_str!("../kinds/rack/kind.toml"),
        include_str!("../kinds/rack/sheet.toml"),
    ),
];

static KINDS: LazyLock<Vec<Kind>> = LazyLock::new(|| {
    let read = |&(asked, pattern): &(&str, &'static str)| {
        let mut kind: Kind = toml::from_str(asked).ok()?;
        kind.pattern = pattern;
        Some(kind)
    };
    // A test reads every one of them.
    TEXTS.iter().filter_map(read).collect()
});

/// A kind of strike.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kind {
    /// Its name on a sheet, `kind = "…"` in `[strike]`.
    pub id: String,
    /// The drawing it is chosen by.
    pub picture: String,
    /// What is asked of it, at most twelve questions, in order.
    #[serde(rename = "question")]
    pub questions: Vec<Question>,
    #[serde(rename = "proportion")]
    pub(crate) proportions: Vec<Proportion>,
    #[serde(rename = "check")]
    pub(crate) checks: Vec<Check>,
    #[serde(skip)]
    pub(crate) pattern: &'static str,
}

impl Kind {
    /// Every kind, in the order in which they are offered.
    pub fn all() -> &'static [Kind] {
        &KINDS
    }

    /// The kind of that name.
    ///
    /// # Errors
    /// There is none.
    pub fn find(id: &str) -> Result<&'static Kind, DescribeFault> {
        let found = KINDS.iter().find(|kind| kind.id == id);
        found.ok_or_else(|| DescribeFault::NoKind { got: id.to_owned() })
    }

    /// The pattern: a whole sheet with the usual counts, that strikes.
    pub fn pattern(&self) -> &'static str {
        self.pattern
    }
}

/// What is asked.
#[derive(Debug, Clone, Deserialize)]
pub struct Question {
    /// Its name in this kind.
    pub id: String,
    /// What it asks about, to be shown on the drawing; nothing where it is about the whole.
    pub about: Option<WorkRole>,
    /// What it takes for an answer.
    #[serde(flatten)]
    pub asks: AskedFor,
}

/// What a question takes for an answer, beside *don't know* and *as usual*.
#[derive(Debug, Clone, Deserialize)]
#[serde(tag = "asks", rename_all = "lowercase")]
pub enum AskedFor {
    /// One of some choices.
    Choice {
        /// Which of them is usual.
        usual: String,
        /// The choices.
        #[serde(rename = "choice")]
        choices: Vec<Choice>,
    },
    /// An arbor, to be touched, on which all of these are.
    Arbor {
        /// What is on it.
        moves: Vec<WorkRole>,
    },
    /// A whole number, written under a key.
    Count {
        /// Of what.
        of: WorkRole,
        /// The key.
        key: String,
    },
    /// The way round in which the first arbor of the train of this runs.
    Way {
        /// Of the train of what.
        of: WorkRole,
    },
    /// A width in millimetres, as wide as a drill that just goes in, and the wheel across.
    Width {
        /// Of what.
        of: WorkRole,
        /// The key of its degrees.
        key: String,
    },
}

/// One of the choices of a question.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// Its name in this question.
    pub id: String,
    /// The drawing it is chosen by, where there is one.
    pub picture: Option<String>,
    /// What is there: it is taken from the pattern where it is not.
    #[serde(default)]
    pub there: Vec<WorkRole>,
    /// What is not there.
    #[serde(default)]
    pub gone: Vec<WorkRole>,
    /// Keys that are set.
    #[serde(default)]
    pub set: Vec<SetKey>,
    /// Keys that are not written.
    #[serde(default)]
    pub unset: Vec<SetKey>,
}

/// A key that a choice sets.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetKey {
    /// Of what; of `[strike]`, where nothing is said.
    pub of: Option<WorkRole>,
    /// The key.
    pub key: String,
    /// What stands under it; degrees among the proportions tell only how many there are.
    pub is: Option<toml::Value>,
    /// Or the id of what does this.
    pub id_of: Option<WorkRole>,
}

/// The usual value of a key: a sum of parts of other angles, of which the greater of two sums may be taken.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Proportion {
    pub(crate) of: WorkRole,
    pub(crate) key: String,
    pub(crate) is: Vec<Term>,
    /// What it is never less than, as far as that is known.
    #[serde(default)]
    pub(crate) at_least: Vec<Term>,
    /// What it is where something that `is` names is not there.
    #[serde(default)]
    pub(crate) or: Vec<Term>,
}

/// A part of an angle.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Term {
    /// Numerator and denominator.
    pub(crate) part: [i64; 2],
    pub(crate) unit: Option<AngleUnit>,
    /// Or what stands under a key.
    pub(crate) key: Option<String>,
    /// Of what, where it is of another thing; it is brought to the arbor of the one that it is for.
    pub(crate) at: Option<WorkRole>,
}

/// An angle that every arbor has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum AngleUnit {
    /// What it turns in a blow.
    Blow,
    /// A whole turn.
    Turn,
    /// What it turns in an hour, for what the hands carry.
    Hour,
}

/// What counts must come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Comes {
    /// Its places times its arbor's turns are one a blow.
    One,
    /// They are a whole number a blow.
    Whole,
    /// Its arbor's turn takes as many blows as it has places.
    Places,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Check {
    pub(crate) of: WorkRole,
    pub(crate) comes: Comes,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_read_and_asks_no_more_than_twelve_questions() {
        for (asked, pattern) in TEXTS {
            let kind: Kind = toml::from_str(asked).unwrap_or_else(|error| panic!("{error}"));
            assert!(kind.questions.len() <= 12, "{}", kind.id);
            sheet::read(pattern.as_bytes()).expect("a good sheet");
        }
        assert_eq!(KINDS.len(), TEXTS.len());
    }
}
