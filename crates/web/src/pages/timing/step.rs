//! Where in the round of looking and doing the page is.

use crate::desk::Job;
use serde::Deserialize;
use timing::Act;

/// Which step is asked for.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct AskedFor {
    pub(super) jumped: bool,
    pub(super) look: bool,
}

/// Where in the round of looking and doing a page is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Step {
    /// Witnesses are to be read.
    Look,
    /// What to do is said.
    Answer,
    /// An arbor jumped out: which?
    Jumped,
    /// The clock went home: nothing is to be done before it comes in again.
    Home,
}

impl Step {
    /// The step that was asked for, or that follows from the log: what was looked at is answered, an arbor that
    /// is out goes in first, all else is to be looked at.
    pub(super) fn of(job: &Job, asked: AskedFor) -> Step {
        if job.home() {
            Step::Home
        } else if asked.jumped {
            Step::Jumped
        } else if asked.look {
            Step::Look
        } else if !job.timing.recalled.last_look.is_empty()
            || matches!(job.timing.advice.act, Act::PutIn(_))
        {
            Step::Answer
        } else {
            Step::Look
        }
    }

    pub(super) fn name(self) -> &'static str {
        match self {
            Step::Look => "look",
            Step::Answer => "answer",
            Step::Jumped => "jumped",
            Step::Home => "home",
        }
    }
}
