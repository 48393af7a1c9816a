//! Jobs whose clocks have the train of another one.

use super::{Desk, DeskFault};
use crate::same_train;
use book::JobId;
use kinds::Described;

/// So many jobs begun before are gone over for the same train.
pub const MOST_TRAINS: usize = 500;

impl Desk {
    /// The jobs begun before this one whose clocks have its train, as far as it is counted: those with the most counts alike first,
    /// and of as many the newest.
    ///
    /// # Errors
    /// There is no such job.
    pub fn same_trains(&self, id: JobId) -> Result<Vec<JobId>, DeskFault> {
        let own = self.book.job(id)?.sheet;
        let Ok(own) = Described::read(&own) else {
            return Ok(Vec::new());
        };
        let mut alike: Vec<(usize, JobId)> = Vec::new();
        for (other, _) in self.book.begun_before(id, MOST_TRAINS)? {
            let sheet = self.book.job(other)?.sheet;
            let read = Described::read(&sheet).ok();
            let agree = read.and_then(|other| same_train(&own, &other));
            alike.extend(agree.map(|agree| (agree, other)));
        }
        // Sorting keeps the newest first among those with as many.
        alike.sort_by_key(|(agree, _)| std::cmp::Reverse(*agree));
        Ok(alike.into_iter().map(|(_, id)| id).collect())
    }
}
