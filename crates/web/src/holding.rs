//! How a train is held while it is looked at, and how it was chosen to be held for the next look of each job. That is minded while the bench is
//! open, and stands in no book.

use book::JobId;
use report::{Locale, say};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// How the train is held for this look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Held {
    /// Locked, power let down, pressed lightly on.
    AtRest,
    /// Led on by a finger until the lever drops.
    Dropping,
}

impl Held {
    pub(crate) const ALL: [Held; 2] = [Held::AtRest, Held::Dropping];

    /// As it is sent.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Held::AtRest => "at-rest",
            Held::Dropping => "dropping",
        }
    }

    /// In words; `drops` is what drops there.
    pub(crate) fn say(self, locale: &Locale, drops: &str) -> String {
        match self {
            Held::AtRest => say!(locale, "held-at-rest"),
            Held::Dropping => say!(locale, "held-dropping", drops = drops),
        }
    }
}

/// How the train of each job is held for its next look, as it was chosen, and the last entry that told of the train by then.
#[derive(Debug, Default)]
pub(crate) struct HeldChoices(Mutex<BTreeMap<JobId, (usize, Held)>>);

impl HeldChoices {
    /// How it is held now, with the train as it was told of last in this entry: as is said now, which is minded; else as was chosen since that
    /// entry.
    pub(crate) fn held(&self, job: JobId, since: usize, said: Option<Held>) -> Option<Held> {
        let mut chosen = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(held) = said {
            chosen.insert(job, (since, held));
        }
        let (then, held) = *chosen.get(&job)?;
        (then == since).then_some(held)
    }
}
