//! The jobs whose trains were gone over last: a page that is asked for again, or after something was entered on it, is told from
//! what was worked out for it before. What is kept is known by all that it follows from, so that it is never told of another state.

use crate::{TimingState, check_timed};
use book::JobId;
use movement::Plate;
use sheet::{Faults, Sheet};
use std::sync::{Arc, Mutex, PoisonError};
use timing::Eye;

/// So many jobs are kept in mind; a shop times one train at a time, and looks at another meanwhile.
const KEPT: usize = 4;

/// All that a job's train, gone over, follows from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Of {
    pub(super) job: JobId,
    pub(super) sheet: String,
    pub(super) log: String,
    pub(super) plate: Option<Plate>,
    pub(super) eye: Eye,
}

/// Those that are kept, the last asked for at the end.
#[derive(Debug, Default)]
pub(super) struct Worked {
    trains: Mutex<Vec<(Of, Arc<TimingState>)>>,
    /// Their sheets by their texts, with the windows that were worked out.
    sheets: Mutex<Vec<(String, Arc<Sheet>)>>,
}

impl Worked {
    /// A sheet, read to be timed: once, so that its windows are not worked out anew with each entry.
    pub(super) fn sheet(&self, text: &str) -> Result<Arc<Sheet>, Faults> {
        let kept = || self.sheets.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, sheet)) = kept().iter().find(|(known, _)| known == text) {
            return Ok(Arc::clone(sheet));
        }
        // Nobody waits meanwhile; two that ask at once work out the same.
        let sheet = Arc::new(check_timed(text.as_bytes())?);
        let mut kept = kept();
        kept.push((text.to_owned(), Arc::clone(&sheet)));
        let more = kept.len().saturating_sub(KEPT);
        kept.drain(..more);
        Ok(sheet)
    }

    /// What was worked out of just this before.
    pub(super) fn find(&self, of: &Of) -> Option<Arc<TimingState>> {
        let mut kept = self.trains.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.iter().position(|(kept, _)| kept == of)?;
        let found = kept.remove(at);
        let noted = Arc::clone(&found.1);
        kept.push(found);
        Some(noted)
    }

    /// Keeps what was worked out; of one job only the last state, and of large trains nothing.
    pub(super) fn keep(&self, of: Of, noted: &Arc<TimingState>) {
        let mut kept = self.trains.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(kept, _)| kept.job != of.job);
        if noted.is_small() {
            kept.push((of, Arc::clone(noted)));
        }
        let more = kept.len().saturating_sub(KEPT);
        kept.drain(..more);
    }

    /// Nothing of a job is kept any more.
    pub(super) fn forget(&self, job: JobId) {
        let mut kept = self.trains.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(kept, _)| kept.job != job);
    }
}
