//! Searches for counts that take longer than a page may: each goes on a thread of its own, says how far it has come, and can be
//! stopped with what was found so far.

use crate::bounds::{MOST_SEARCHES, PATIENT_FOR};
use book::JobId;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use tasks::{Counted, Refusal};

/// What came of a search.
type Came = Result<Counted, Refusal>;

/// What is asked of a search while it goes on: whether to, being told in words how far it has come.
pub(crate) type Look<'l> = &'l mut dyn FnMut(&dyn Fn() -> String) -> ControlFlow<()>;

/// A search that is under way, or done.
#[derive(Debug, Default)]
struct Search {
    stop: AtomicBool,
    so_far: Mutex<SoFar>,
    moved: Condvar,
}

#[derive(Debug, Default)]
struct SoFar {
    says: String,
    came: Option<Box<Came>>,
    done: bool,
}

impl Search {
    fn so_far(&self) -> MutexGuard<'_, SoFar> {
        self.so_far.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// What a page is told of a search.
pub(crate) enum Stands {
    /// It is done.
    Done(Box<Came>),
    /// It goes on: how far it has come, in words.
    Goes(String),
    /// There are as many as may be.
    NoRoom,
    /// It is not under way, and whoever asked may not begin it.
    NotBegun,
}

/// A question: of which job, and what was asked of what sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Key {
    pub(crate) job: JobId,
    pub(crate) asked: String,
}

/// All searches, the oldest first.
#[derive(Debug, Default)]
pub(crate) struct Searches {
    all: Mutex<Vec<(Key, Arc<Search>)>>,
}

impl Searches {
    fn all(&self) -> MutexGuard<'_, Vec<(Key, Arc<Search>)>> {
        self.all.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How a search stands, a moment having been waited for its end; where it is not under way it is begun, if it `may` be. Another
    /// of the same job is stopped then: nobody asks for it any more.
    pub(crate) fn of(
        &self,
        key: &Key,
        may: bool,
        work: impl FnOnce(Look<'_>) -> Came + Send + 'static,
    ) -> Stands {
        let search = match self.find_or_begin(key, may, work) {
            Ok(search) => search,
            Err(stands) => return stands,
        };
        let so_far = search.so_far();
        let waited = search
            .moved
            .wait_timeout_while(so_far, PATIENT_FOR, |so_far| !so_far.done);
        let (mut so_far, _) = waited.unwrap_or_else(PoisonError::into_inner);
        if !so_far.done {
            return Stands::Goes(so_far.says.clone());
        }
        let came = so_far.came.take();
        drop(so_far);
        self.all().retain(|(_, one)| !Arc::ptr_eq(one, &search));
        // Taken by another page that asked the same at the same time, or never come to: it is begun anew when asked again.
        came.map_or(Stands::NoRoom, Stands::Done)
    }

    fn find_or_begin(
        &self,
        key: &Key,
        may: bool,
        work: impl FnOnce(Look<'_>) -> Came + Send + 'static,
    ) -> Result<Arc<Search>, Stands> {
        let mut all = self.all();
        if let Some((_, search)) = all.iter().find(|(of, _)| of == key) {
            return Ok(Arc::clone(search));
        }
        if !may {
            return Err(Stands::NotBegun);
        }
        for (of, search) in all.iter() {
            if of.job == key.job {
                search.stop.store(true, Ordering::Relaxed);
            }
        }
        all.retain(|(of, search)| of.job != key.job || !search.so_far().done);
        if all.len() >= MOST_SEARCHES {
            let done = all.iter().position(|(_, search)| search.so_far().done);
            all.remove(done.ok_or(Stands::NoRoom)?);
        }
        let search = Arc::new(Search::default());
        all.push((key.clone(), Arc::clone(&search)));
        let at_work = Arc::clone(&search);
        std::thread::spawn(move || {
            let _ends = Ends(Arc::clone(&at_work));
            let came = work(&mut |says| {
                at_work.so_far().says = says();
                match at_work.stop.load(Ordering::Relaxed) {
                    true => ControlFlow::Break(()),
                    false => ControlFlow::Continue(()),
                }
            });
            at_work.so_far().came = Some(Box::new(came));
        });
        Ok(search)
    }

    /// Stops the search of a question: what was found so far is told when it is asked again.
    pub(crate) fn stop(&self, job: JobId) {
        for (of, search) in self.all().iter() {
            if of.job == job {
                search.stop.store(true, Ordering::Relaxed);
            }
        }
    }
}

/// Tells that a search came to its end, however it did.
struct Ends(Arc<Search>);

impl Drop for Ends {
    fn drop(&mut self) {
        self.0.so_far().done = true;
        self.0.moved.notify_all();
    }
}
