//! The jobs whose trains were gone over last: a page that is asked for again, or after something was entered on it, is told from
//! what was worked out for it before. What is kept is known by all that it follows from, so that it is never told of another state.

use crate::TimingState;
use book::JobId;
use movement::Plate;
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
pub(super) struct Worked(Mutex<Vec<(Of, Arc<TimingState>)>>);

impl Worked {
    /// What was worked out of just this before.
    pub(super) fn find(&self, of: &Of) -> Option<Arc<TimingState>> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.iter().position(|(kept, _)| kept == of)?;
        let found = kept.remove(at);
        let noted = Arc::clone(&found.1);
        kept.push(found);
        Some(noted)
    }

    /// Keeps what was worked out; of one job only the last state, and of large trains nothing.
    pub(super) fn keep(&self, of: Of, noted: &Arc<TimingState>) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(kept, _)| kept.job != of.job);
        if noted.is_small() {
            kept.push((of, Arc::clone(noted)));
        }
        let more = kept.len().saturating_sub(KEPT);
        kept.drain(..more);
    }

    /// Nothing of a job is kept any more.
    pub(super) fn forget(&self, job: JobId) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(kept, _)| kept.job != job);
    }
}
