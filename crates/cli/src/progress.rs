//! How far a long sum has come, told on standard error to whoever reads it, terminal or not; and an interrupt that ends it with
//! what was found so far.

use crate::streams::tell;
use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::{Duration, Instant};

/// How often it is told how far a sum has come: the first time before two seconds are over.
const TOLD_EVERY: Duration = Duration::from_millis(1_900);

const HALF_A_SECOND: Duration = Duration::from_millis(500);

/// A long sum under way.
pub(crate) struct Progress {
    last: Instant,
    stopped: Arc<AtomicBool>,
}

impl Progress {
    /// From now on an interrupt stops the sum, a second one the program.
    pub(crate) fn until_interrupted() -> Progress {
        Progress {
            last: Instant::now(),
            stopped: stop_on_interrupt(),
        }
    }

    /// Tells how far it has come, where it is time to, and whether to go on.
    pub(crate) fn look(&mut self, so_far: &dyn Fn() -> String) -> ControlFlow<()> {
        if self.last.elapsed() >= TOLD_EVERY {
            self.last = Instant::now();
            tell(&format!("{}\n", so_far()));
        }
        if self.stopped.load(Ordering::Relaxed) {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    }
}

/// Does a long sum, and tells as long as it is done how far it has come, by the time that was waited.
pub(crate) fn told_while<T: Send>(
    work: impl FnOnce() -> T + Send,
    so_far: impl Fn(Duration) -> String,
) -> T {
    let began = Instant::now();
    let (done, is_done) = mpsc::channel::<()>();
    std::thread::scope(|scope| {
        let worker = scope.spawn(move || {
            // Dropped when all is done, whatever came of it.
            let _done = done;
            work()
        });
        while is_done.recv_timeout(TOLD_EVERY) == Err(RecvTimeoutError::Timeout) {
            // Told in whole seconds, to the nearest.
            tell(&format!("{}\n", so_far(began.elapsed() + HALF_A_SECOND)));
        }
        worker
            .join()
            .unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    })
}

/// Set at the first interrupt: then what was found so far is told. A second one ends the program at once.
pub(crate) fn stop_on_interrupt() -> Arc<AtomicBool> {
    let stopped = Arc::new(AtomicBool::new(false));
    #[cfg(unix)]
    {
        use signal_hook::consts::SIGINT;
        // Where neither can be set, an interrupt ends the program as it always does.
        let second = signal_hook::flag::register_conditional_shutdown(SIGINT, 130, stopped.clone());
        if second.is_ok() {
            let _ = signal_hook::flag::register(SIGINT, stopped.clone());
        }
    }
    stopped
}
