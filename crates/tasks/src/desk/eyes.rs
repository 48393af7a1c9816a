//! How rough the readings of a book are, job after job: what each showed is worked out once for each state of its log, and handed
//! on to the jobs that were begun after it.
//!
//! A job learns from those begun before it, as they stand now, and from no later one: what is said of a clock that went home does
//! not change with the clocks that come in after it, and no two jobs hand on to each other what they had from each other.
//! Whoever reads, the eye is the book's.

use book::{Book, BookFault, JobId};
use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};
use timing::{Eye, Shown};

/// So many jobs before one are gone through for those in which anything was read.
const LOOKED_THROUGH: usize = 4 * Eye::JOBS;

/// What so many jobs showed is kept in mind: some hundred bytes each.
const KEPT: usize = 1000;

/// What jobs showed of the eye.
#[derive(Debug, Default)]
pub(super) struct Eyes(Mutex<Minded>);

/// By job: where the last line of its log stood in the book, and what it showed then.
type Minded = BTreeMap<JobId, (u64, Vec<Shown>)>;

impl Eyes {
    /// The eye to expect in a job, from the last jobs before it in which anything was read.
    pub(super) fn before(&self, book: &Book, id: JobId) -> Result<Eye, BookFault> {
        let mut shown = Vec::new();
        let mut jobs = 0;
        for (job, last) in book.begun_before(id, LOOKED_THROUGH)? {
            let shows = self.of(book, job, last)?;
            jobs += usize::from(!shows.is_empty());
            shown.extend(shows);
            if jobs == Eye::JOBS {
                break;
            }
        }
        Ok(Eye::after(&shown))
    }

    fn of(&self, book: &Book, job: JobId, last: u64) -> Result<Vec<Shown>, BookFault> {
        if let Some((then, shows)) = self.minded().get(&job)
            && *then == last
        {
            return Ok(shows.clone());
        }
        // Nobody waits meanwhile; two that ask at once work out the same.
        let kept = book.job(job)?;
        let shows = crate::shown(kept.sheet.as_bytes(), kept.log.as_bytes());
        let mut minded = self.minded();
        if minded.len() >= KEPT {
            minded.clear();
        }
        minded.insert(job, (last, shows.clone()));
        Ok(shows)
    }

    fn minded(&self) -> MutexGuard<'_, Minded> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
