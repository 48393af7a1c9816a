//! How much the bench takes on at once, and how long it waits: one table. `docs/bounds.md` tells each with its reason, and a test
//! holds that page against this table.

use crate::recordings;
use std::time::Duration;

/// Connections at once; beyond them the one that was idle longest is let go.
pub(crate) const MOST_CONNECTIONS: usize = 256;
/// A connection on which nothing is asked, or whose asking is not whole, is let go after so long.
pub(crate) const IDLE_FOR: Duration = Duration::from_secs(30);
/// Whatever is sent must bring so many bytes in each such stretch of time, or its place is given to others.
pub(crate) const STALLED_FOR: Duration = Duration::from_secs(30);
/// Bytes that a stretch of [`STALLED_FOR`] must bring.
pub(crate) const LEAST_BYTES: usize = 32 << 10;
/// Bytes of a request's head.
pub(crate) const MOST_HEAD: usize = 64 << 10;
/// Pages that are made at once.
pub(crate) const MOST_PAGES: usize = 8;
/// Threads on which pages are made, recordings listened to and sound is read.
pub(crate) const MOST_THREADS: usize = 24;
/// Heavy sums at once, of different jobs.
pub(crate) const MOST_HEAVY: usize = 2;
/// So long a heavy sum waits for its turn, and a page for a sum, before it says how far it is.
pub(crate) const PATIENT_FOR: Duration = Duration::from_secs(2);
/// An answer that has not come to the page after so long is said not to have come.
pub(crate) const ANSWERED_WITHIN: Duration = Duration::from_secs(8);
/// Pictures that come in at once.
pub(crate) const MOST_UPLOADS: usize = 2;
/// So long a picture waits for others before it is refused.
pub(crate) const QUEUED_FOR: Duration = Duration::from_secs(120);
/// Bytes of a form, but for pictures and sound: a sheet has at most a quarter of that, and every byte may be written as three.
pub(crate) const MOST_BODY: usize = 4 << 20;
/// Bytes of a form with a picture as a camera gives it.
pub(crate) const MOST_PICTURE: usize = 41 << 20;
/// Searches for counts that are looked at, done or not.
pub(crate) const MOST_SEARCHES: usize = 4;

/// Each bound by its name, as `docs/bounds.md` tells it; times in seconds, sizes in bytes.
pub fn all() -> Vec<(&'static str, u64)> {
    let n = |x: usize| u64::try_from(x).unwrap_or(u64::MAX);
    vec![
        ("strike-events", n(strike::bounds::MOST_EVENTS)),
        ("strike-places", n(strike::bounds::MOST_PLACES_SHOWN)),
        ("strike-work", strike::bounds::MOST_WORK),
        ("strike-pairs", n(strike::bounds::MOST_PAIRS)),
        ("strike-heights", n(strike::bounds::MOST_HEIGHTS)),
        ("windows-work", strike::bounds::MOST_WINDOW_WORK),
        ("windows-cycles", strike::bounds::MOST_CYCLES.into()),
        ("count-steps", tasks::MOST_COUNT_STEPS),
        ("count-fits", n(tasks::MOST_COUNT_FITS)),
        ("longer", u64::from(tasks::MOST_PATIENCE)),
        ("ways", n(timing::MOST_WAYS)),
        ("hypotheses", n(timing::MOST_HYPOTHESES)),
        ("remesh-steps", timing::MOST_WORK),
        ("orders", n(timing::MOST_ORDERS)),
        ("order-places", n(timing::MOST_ORDER_PLACES)),
        ("sheet", n(tasks::MOST_SHEET)),
        ("log", n(entries::MOST_BYTES)),
        ("alike", n(tasks::MOST_LIKE)),
        ("same_trains", n(tasks::MOST_TRAINS)),
        ("offered", n(tasks::MOST_OFFERED)),
        ("picture-bytes", n(book::MOST_PICTURE_BYTES)),
        ("picture-pixels", book::MOST_PIXELS),
        ("picture-unpacking", book::MOST_UNPACKING),
        ("picture-held", book::MOST_HELD),
        ("typed", n(quantity::MOST_TYPED)),
        ("form", n(MOST_BODY)),
        ("picture-form", n(MOST_PICTURE)),
        ("connections", n(MOST_CONNECTIONS)),
        ("idle-seconds", IDLE_FOR.as_secs()),
        ("stalled-seconds", STALLED_FOR.as_secs()),
        ("stalled-bytes", n(LEAST_BYTES)),
        ("head", n(MOST_HEAD)),
        ("pages-at-once", n(MOST_PAGES)),
        ("threads", n(MOST_THREADS)),
        ("heavy-at-once", n(MOST_HEAVY)),
        ("patient-seconds", PATIENT_FOR.as_secs()),
        ("answered-seconds", ANSWERED_WITHIN.as_secs()),
        ("pictures-at-once", n(MOST_UPLOADS)),
        ("queued-seconds", QUEUED_FOR.as_secs()),
        ("searches", n(MOST_SEARCHES)),
        ("recording-bytes", recordings::MOST_BYTES),
        ("recordings-at-once", n(recordings::MOST_COMING)),
        ("microphones", n(recordings::MOST_LIVE)),
        ("microphone-seconds", recordings::MOST_S),
    ]
}
