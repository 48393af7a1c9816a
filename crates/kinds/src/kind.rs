//! A kind of strike: its pattern, its questions, its proportions and what its counts must come to, all of it read from data.

use crate::{DescribeFault, WorkRole};
use serde::Deserialize;
use std::sync::LazyLock;

/// A kind's questions and proportions, and its pattern.
macro_rules! texts {
    ($($name:literal),* $(,)?) => {
        &[$((
            include_str!(concat!("../kinds/", $name, "/kind.toml")),
            include_str!(concat!("../kinds/", $name, "/sheet.toml")),
        )),*]
    };
}

/// Of each kind. One that is like another stands behind it.
const TEXTS: &[(&str, &str)] = texts!["cam", "outside", "rack", "quarters", "bells", "tower"];

static KINDS: LazyLock<Vec<Kind>> = LazyLock::new(|| {
    let mut kinds: Vec<Kind> = Vec::new();
    for (asked, pattern) in TEXTS {
        // A test reads every one of them.
        if let Ok(mut kind) = toml::from_str::<Kind>(asked) {
            kind.pattern = pattern;
            let like = kinds
                .iter()
                .find(|other| Some(&other.id) == kind.like.as_ref());
            if let Some(like) = like {
                kind.follow(like);
            }
            kinds.push(kind);
        }
    }
    kinds
});

/// A kind of strike.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kind {
    /// Its name on a sheet, `kind = "…"` in `[strike]`.
    pub id: String,
    /// The drawing it is chosen by.
    pub picture: String,
    /// What is asked of it, in order: at most twelve questions, those apart that are asked in the row of another one.
    #[serde(rename = "question")]
    pub questions: Vec<Question>,
    #[serde(default, rename = "proportion")]
    pub(crate) proportions: Vec<Proportion>,
    #[serde(default, rename = "check")]
    pub(crate) checks: Vec<Check>,
    /// The kind whose proportions and checks it has too, but for those of its own.
    like: Option<String>,
    /// What is on the arbor that all else is read against.
    pub(crate) held: WorkRole,
    /// What the train goes on by.
    #[serde(default)]
    pub(crate) step: TrainStepBy,
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

    /// Takes over what another kind has and it has not.
    fn follow(&mut self, like: &Kind) {
        let own = |row: &Proportion| {
            let mut mine = self.proportions.iter();
            mine.position(|mine| mine.of == row.of && mine.key == row.key)
        };
        let mut rows: Vec<Proportion> = Vec::new();
        let mut taken: Vec<usize> = Vec::new();
        for row in &like.proportions {
            let mine = own(row);
            taken.extend(mine);
            rows.push(mine.map_or(row, |mine| &self.proportions[mine]).clone());
        }
        let left = self.proportions.iter().enumerate();
        let left = left.filter(|(nth, _)| !taken.contains(nth));
        rows.extend(left.map(|(_, row)| row.clone()));
        self.proportions = rows;
        let mut checks = like.checks.clone();
        checks.retain(|check| !self.checks.iter().any(|own| own.of == check.of));
        checks.append(&mut self.checks);
        self.checks = checks;
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
    /// The question in whose row it is asked.
    pub with: Option<String>,
    /// The choice that stands until it is answered, or where nobody knows: the usual one, where nothing is said.
    pub unsaid: Option<String>,
    /// Keys that are not written where nobody knows: what is only usual of them is not gone by.
    #[serde(default)]
    pub unknown: Vec<SetKey>,
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
    /// How fast it strikes, and how long its lever falls where that was measured too.
    Pace,
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
    /// How something of the works is moved by the train.
    pub drive: Option<Drive>,
    /// Trains that are there.
    #[serde(default)]
    pub trains: Vec<TrainSort>,
    /// Trains that are left out.
    #[serde(default)]
    pub no_trains: Vec<TrainSort>,
}

/// A train of a movement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TrainSort {
    /// That of the strike.
    Strike,
    /// That of the chime.
    Chime,
    /// Any other: the going train.
    Going,
}

/// How something of the works is moved: it sits on an arbor of the train, or on one of its own that a part of the train drives.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drive {
    /// What is moved.
    pub of: WorkRole,
    /// What is on the arbor of the train; the first arbor of the train, where nothing is said.
    pub by: Option<WorkRole>,
    /// What the part that drives it is called where there is none yet, and how it is made; nothing where it sits on the arbor itself.
    pub part: Option<DrivePart>,
}

/// The part that drives it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DrivePart {
    /// Its name, where it is new.
    pub name: String,
    /// Its usual count.
    pub usual: u16,
    /// Whether it is pins.
    #[serde(default)]
    pub pins: bool,
}

/// A key that a choice sets.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetKey {
    /// Of what; of `[strike]`, where nothing is said.
    pub of: Option<WorkRole>,
    /// Whether it is a key of that itself, or of what carries it.
    #[serde(default)]
    pub at: SetAt,
    /// The key.
    pub key: String,
    /// What stands under it; degrees among the proportions tell only how many there are.
    pub is: Option<toml::Value>,
    /// Or the id of what does this.
    pub id_of: Option<WorkRole>,
    /// It is set only where this stands there.
    pub instead_of: Option<toml::Value>,
    /// It is set on all that are this, as on each row of pins of a drum, and not on the first alone.
    #[serde(default)]
    pub all: bool,
}

/// Whose key it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SetAt {
    /// Its own.
    #[default]
    Own,
    /// That of the arbor which carries it.
    Arbor,
    /// That of the mesh by which its train is driven from its first arbor.
    Mesh,
}

/// What the train goes on by, and what a blow among the proportions is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum TrainStepBy {
    /// From pin to pin that lifts the hammer.
    #[default]
    Blow,
    /// From place to place of the count wheel.
    Place,
}

/// The usual value of a key: a sum of parts of other angles, of which the greater of two sums may be taken.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Proportion {
    pub(crate) of: WorkRole,
    pub(crate) key: String,
    #[serde(default)]
    pub(crate) is: Vec<Term>,
    /// Parts of a turn that are added, a place for each.
    #[serde(default)]
    pub(crate) around: Vec<[i64; 2]>,
    /// How much more it is for each further one of these.
    pub(crate) each: Option<Term>,
    /// Instead of an angle what is struck, from one time to the next.
    #[serde(default)]
    pub(crate) struck: bool,
    /// Instead of an angle which divisions of a drum have a pin: as many changes as it plays in a turn.
    #[serde(default)]
    pub(crate) played: bool,
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
    /// Its arbor's turn takes as many steps as the count wheel has places.
    Cycle,
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
            let rows = kind.questions.iter().filter(|asked| asked.with.is_none());
            assert!(rows.count() <= 12, "{}", kind.id);
            for (nth, question) in kind.questions.iter().enumerate() {
                let beside = question.with.as_ref();
                let before = kind.questions[..nth].iter();
                let known = beside.is_none_or(|with| before.map(|q| &q.id).any(|id| id == with));
                assert!(known, "{} {}", kind.id, question.id);
                let twice = kind
                    .questions
                    .iter()
                    .filter(|other| other.id == question.id);
                assert_eq!(twice.count(), 1, "{} {}", kind.id, question.id);
            }
            let like = kind.like.as_ref();
            assert!(like.is_none_or(|like| KINDS.iter().any(|other| other.id == *like)));
            sheet::read(pattern.as_bytes()).expect("a good sheet");
        }
        assert_eq!(KINDS.len(), TEXTS.len());
    }
}
