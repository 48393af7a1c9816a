//! Heavy sums: one at a time of a job, a few at once, each on a thread of its own. Whoever comes while one is under way waits a
//! little, and is then told that it is being worked out.

use crate::bounds::{MOST_HEAVY, MOST_PAGES, MOST_UPLOADS, PATIENT_FOR};
use book::JobId;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::timeout;

/// Room for what takes its time.
#[derive(Debug)]
pub(crate) struct Room {
    /// For pages that are made.
    pub(crate) pages: Arc<Semaphore>,
    /// For pictures that come in.
    pub(crate) uploads: Arc<Semaphore>,
    /// For one picture that is unpacked, which is a heavy sum besides.
    unpacking: Arc<Semaphore>,
    heavy: Arc<Semaphore>,
    jobs: Mutex<HashMap<JobId, Arc<Semaphore>>>,
}

impl Default for Room {
    fn default() -> Room {
        let room = |n| Arc::new(Semaphore::new(n));
        Room {
            pages: room(MOST_PAGES),
            uploads: room(MOST_UPLOADS),
            unpacking: room(1),
            heavy: room(MOST_HEAVY),
            jobs: Mutex::default(),
        }
    }
}

/// The turn of a heavy sum, given back when it is dropped.
#[derive(Debug)]
pub(crate) struct Turn {
    /// Of its own job or kind.
    _job: OwnedSemaphorePermit,
    _room: OwnedSemaphorePermit,
}

impl Room {
    /// The turn of a picture that is unpacked.
    pub(crate) async fn unpacking(&self) -> Option<Turn> {
        let first = Arc::clone(&self.unpacking).acquire_owned().await.ok()?;
        let room = Arc::clone(&self.heavy).acquire_owned().await.ok()?;
        Some(Turn {
            _job: first,
            _room: room,
        })
    }

    /// The turn of a heavy sum of a job; nothing where it does not come soon.
    pub(crate) async fn turn(&self, job: JobId) -> Option<Turn> {
        let of_job = {
            let mut jobs = self.jobs.lock().unwrap_or_else(PoisonError::into_inner);
            // Those that nobody waits for, and in which nothing is worked out, need not be kept.
            jobs.retain(|_, room| Arc::strong_count(room) > 1 || room.available_permits() == 0);
            let room = jobs.entry(job);
            Arc::clone(room.or_insert_with(|| Arc::new(Semaphore::new(1))))
        };
        let both = async {
            let job = of_job.acquire_owned().await.ok()?;
            let room = Arc::clone(&self.heavy).acquire_owned().await.ok()?;
            Some(Turn {
                _job: job,
                _room: room,
            })
        };
        timeout(PATIENT_FOR, both).await.ok().flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_job_has_one_heavy_sum_at_a_time_and_a_bench_a_few() {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_time()
            .build()
            .expect("a runtime");
        let job = |n: u32| n.to_string().parse::<JobId>().expect("a job");
        runtime.block_on(async {
            let room = Room::default();
            let first = room.turn(job(1)).await.expect("there is room");
            assert!(room.turn(job(1)).await.is_none(), "one of a job");
            let second = room.turn(job(2)).await.expect("of another there is");
            assert!(room.turn(job(3)).await.is_none(), "two at once");
            drop(first);
            let third = room.turn(job(1)).await.expect("its turn came");
            drop((second, third));
            assert!(room.turn(job(3)).await.is_some());
            assert!(room.jobs.lock().expect("whole").len() <= 3);
        });
    }
}
