//! What is seen and done to a clock from its coming in to its going home, beside the timing of its train. As with all
//! entries nothing is turned into anything else here: a part is named as it was said, and a figure stays text.

use crate::{AtMesh, Day, Decimal, Digest, KeptText};
use serde::{Deserialize, Serialize, Serializer};

/// What was seen or done at the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Work {
    /// The clock came in.
    Intake {
        /// What it is called on the bench.
        clock: KeptText,
        /// Whose it is.
        #[serde(skip_serializing_if = "Option::is_none")]
        owner: Option<KeptText>,
        /// How its owner is reached.
        #[serde(skip_serializing_if = "Option::is_none")]
        reach: Option<KeptText>,
        /// What is said to be wrong with it.
        #[serde(skip_serializing_if = "Option::is_none")]
        complaint: Option<KeptText>,
        /// The day it was promised for.
        #[serde(skip_serializing_if = "Option::is_none")]
        promised: Option<Day>,
    },
    /// A picture was taken.
    Picture {
        /// The picture, kept beside the book.
        picture: Kept<Digest>,
        /// When it was taken, as the record shows it.
        when: Occasion,
        /// What it shows.
        #[serde(skip_serializing_if = "Option::is_none")]
        says: Option<KeptText>,
    },
    /// Something was counted or measured.
    Measurement {
        /// What, as it was said: `third.pinion outside`.
        what: KeptText,
        /// The figure as it was read.
        value: Decimal,
        /// Of what.
        unit: Unit,
        /// One standard deviation in the same unit, more than 0.
        #[serde(skip_serializing_if = "Option::is_none")]
        spread: Option<Decimal>,
    },
    /// Something was found: wear, a break, an earlier repair.
    Found {
        /// The part.
        part: KeptText,
        /// What was found of it.
        says: KeptText,
    },
    /// A part was fitted: a bushing, a spring, a pivot.
    Fitted {
        /// The part.
        part: KeptText,
        /// What was done.
        #[serde(skip_serializing_if = "Option::is_none")]
        says: Option<KeptText>,
    },
    /// Oil or grease was put on.
    Oil {
        /// Where.
        place: KeptText,
        /// What.
        oil: KeptText,
    },
    /// The clock ran, and was watched.
    TrialRun {
        /// Hours it ran, more than 0.
        hours: Decimal,
        /// Seconds gained a day; lost ones are negative.
        #[serde(skip_serializing_if = "Option::is_none")]
        rate_s_per_day: Option<Decimal>,
        /// Milliseconds by which one beat is longer than the other.
        #[serde(skip_serializing_if = "Option::is_none")]
        beat_error_ms: Option<Decimal>,
        /// Degrees that the pendulum or balance swings to one side.
        #[serde(skip_serializing_if = "Option::is_none")]
        arc_deg: Option<Decimal>,
        /// Whether all that it struck was right.
        #[serde(skip_serializing_if = "Option::is_none")]
        struck: Option<Striking>,
        /// What else was seen.
        #[serde(skip_serializing_if = "Option::is_none")]
        says: Option<KeptText>,
    },
    /// Something worth remembering.
    Note {
        /// What.
        says: KeptText,
    },
    /// An earlier entry is put right: it no longer counts, and this counts instead. Falls with what it corrects.
    Correction {
        /// The number of the entry.
        of: usize,
        /// What it should have said, of the same kind.
        to: Box<Work>,
    },
    /// A point of a checklist was done.
    Check {
        /// The stage that it belongs to.
        stage: Stage,
        /// The point, as its list names it.
        item: KeptText,
    },
    /// The job went on, or back, to a stage.
    Stage {
        /// The stage that it is at from now on.
        to: Stage,
    },
    /// The sheet as it is known from now on. What was entered about the timing before rests on the sheet before.
    Sheet {
        /// The whole sheet, as TOML.
        text: String,
        /// Its digest in hexadecimal figures, as in the line that a log begins with.
        hash: String,
    },
    /// The clock went home.
    HandedBack {
        /// Who took it.
        #[serde(skip_serializing_if = "Option::is_none")]
        to: Option<KeptText>,
        /// What was said about it.
        #[serde(skip_serializing_if = "Option::is_none")]
        says: Option<KeptText>,
    },
    /// The movement was mis-timed on purpose, for someone who learns to put it right.
    Lesson {
        /// What was shifted where nobody saw it: at least one mesh, each once.
        #[serde(rename = "meshes")]
        hidden: Vec<AtMesh>,
    },
    /// Fields of earlier entries were emptied for good. It cannot be taken back.
    Removal {
        /// Which; at least one.
        emptied: Vec<Emptied>,
    },
}

impl Work {
    /// What it tells, where it corrects something that which it should have said.
    pub fn as_corrected(&self) -> &Work {
        match self {
            Work::Correction { to, .. } => to.as_corrected(),
            told => told,
        }
    }

    /// The picture, if it is one and was not removed.
    pub fn picture(&self) -> Option<&Digest> {
        match self.as_corrected() {
            Work::Picture { picture, .. } => picture.here(),
            _ => None,
        }
    }

    /// The fields that name a person, and are there to be emptied.
    pub fn personal(&self) -> Vec<&'static str> {
        let personal: &[&str] = match self.as_corrected() {
            Work::Intake { .. } => &["owner", "reach"],
            Work::HandedBack { .. } => &["to"],
            _ => &[],
        };
        (self.texts().into_iter())
            .map(|(field, _)| field)
            .filter(|field| personal.contains(field))
            .collect()
    }

    /// The texts in it that a removal may empty, each with its field; what was emptied is none.
    pub fn texts(&self) -> Vec<(&'static str, &str)> {
        let fields: Vec<(&'static str, Option<&KeptText>)> = match self.as_corrected() {
            Work::Intake {
                clock,
                owner,
                reach,
                complaint,
                ..
            } => vec![
                ("clock", Some(clock)),
                ("owner", owner.as_ref()),
                ("reach", reach.as_ref()),
                ("complaint", complaint.as_ref()),
            ],
            Work::Picture { says, .. } | Work::TrialRun { says, .. } => {
                vec![("says", says.as_ref())]
            }
            Work::Measurement { what, .. } => vec![("what", Some(what))],
            Work::Found { part, says } => vec![("part", Some(part)), ("says", Some(says))],
            Work::Fitted { part, says } => vec![("part", Some(part)), ("says", says.as_ref())],
            Work::Oil { place, oil } => vec![("place", Some(place)), ("oil", Some(oil))],
            Work::Note { says } => vec![("says", Some(says))],
            Work::Check { item, .. } => vec![("item", Some(item))],
            Work::HandedBack { to, says } => vec![("to", to.as_ref()), ("says", says.as_ref())],
            // A correction tells of one of these.
            Work::Correction { .. }
            | Work::Stage { .. }
            | Work::Sheet { .. }
            | Work::Lesson { .. }
            | Work::Removal { .. } => Vec::new(),
        };
        (fields.into_iter())
            .filter_map(|(field, words)| Some((field, words?.here()?.as_str())))
            .collect()
    }
}

/// Fields of an earlier entry that were emptied.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Emptied {
    /// The number of the entry.
    pub of: usize,
    /// Their names; at least one.
    pub fields: Vec<String>,
}

/// Something that a removal may empty. In a line what was emptied is `null`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kept<T> {
    /// It is there.
    Here(T),
    /// It was, and was removed.
    Emptied,
}

impl<T> Kept<T> {
    /// What is there.
    pub fn here(&self) -> Option<&T> {
        match self {
            Kept::Here(kept) => Some(kept),
            Kept::Emptied => None,
        }
    }
}

impl<T: Serialize> Serialize for Kept<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.here().serialize(serializer)
    }
}

/// When a picture was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Occasion {
    /// Before anything was done.
    Before,
    /// In between.
    During,
    /// After all was done.
    After,
}

impl Occasion {
    /// All of them, in order of time.
    pub const ALL: [Occasion; 3] = [Occasion::Before, Occasion::During, Occasion::After];

    /// Its word in a line.
    pub fn word(self) -> &'static str {
        match self {
            Occasion::Before => "before",
            Occasion::During => "during",
            Occasion::After => "after",
        }
    }

    /// The occasion of this word.
    pub fn of_word(word: &str) -> Option<Occasion> {
        (Occasion::ALL.into_iter()).find(|when| when.word() == word)
    }
}

/// What a figure is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Unit {
    /// A count of teeth.
    Teeth,
    /// Turns.
    Turns,
    /// Degrees.
    Deg,
    /// Millimetres.
    Mm,
    /// Inches.
    In,
    /// Micrometres.
    Um,
    /// Grams.
    G,
    /// Newtons.
    N,
    /// Newton millimetres.
    Nmm,
    /// Seconds.
    S,
    /// Seconds a day.
    SPerDay,
}

impl Unit {
    /// All of them.
    pub const ALL: [Unit; 11] = [
        Unit::Mm,
        Unit::In,
        Unit::Um,
        Unit::Teeth,
        Unit::Turns,
        Unit::Deg,
        Unit::G,
        Unit::N,
        Unit::Nmm,
        Unit::S,
        Unit::SPerDay,
    ];

    /// Its word in a line.
    pub fn word(self) -> &'static str {
        match self {
            Unit::Teeth => "teeth",
            Unit::Turns => "turns",
            Unit::Deg => "deg",
            Unit::Mm => "mm",
            Unit::In => "in",
            Unit::Um => "um",
            Unit::G => "g",
            Unit::N => "n",
            Unit::Nmm => "nmm",
            Unit::S => "s",
            Unit::SPerDay => "s-per-day",
        }
    }
}

/// The stages of a job, in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// Received, tried as it came, counted and measured, agreed with its owner.
    In,
    /// Let down and taken apart.
    Down,
    /// Cleaned, inspected, repaired.
    Look,
    /// Assembled: oiled, timed, closed up.
    Together,
    /// The strike tested through every hour.
    Prove,
    /// On test in its case: in beat, to time, to the end of its winding.
    Rate,
    /// Ready, and handed back.
    Out,
}

impl Stage {
    /// All of them, in order.
    pub const ALL: [Stage; 7] = [
        Stage::In,
        Stage::Down,
        Stage::Look,
        Stage::Together,
        Stage::Prove,
        Stage::Rate,
        Stage::Out,
    ];

    /// Its word, as it stands in a log.
    pub fn word(self) -> &'static str {
        match self {
            Stage::In => "in",
            Stage::Down => "down",
            Stage::Look => "look",
            Stage::Together => "together",
            Stage::Prove => "prove",
            Stage::Rate => "rate",
            Stage::Out => "out",
        }
    }

    /// The stage of this word.
    pub fn of_word(word: &str) -> Option<Stage> {
        Stage::ALL.into_iter().find(|stage| stage.word() == word)
    }
}

/// Whether what was struck was right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Striking {
    /// All of it.
    Right,
    /// Not all of it.
    Wrong,
}
