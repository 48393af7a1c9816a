//! How much a run may be: all of it counted, never timed, so that every machine leaves off at the same place.

/// Events that are kept to be shown.
pub const MOST_EVENTS: usize = 20_000;

/// Places of arbors, lever arbors and the hand that are kept to be shown, over all poses together: some thirty megabytes, and more
/// than twice what the sample with quarters has.
pub const MOST_PLACES_SHOWN: usize = 320_000;

/// Work that a run may take: about a second of a processor in a build for tests, where the sample with quarters takes less than a
/// tenth of one (measured; `docs/bounds.md`).
pub const MOST_WORK: u64 = 60_000_000;

/// Cycles that are run one after the other, where after one all does not stand as it did: arbors that come round but once in some
/// hundred blows take so many.
pub const MOST_CYCLES: u32 = 24;

/// Work that windows may take: ten times that of the longest run. The sample with quarters takes about a quarter of it, one with a
/// single train less than a sixtieth (measured; `docs/bounds.md`).
pub const MOST_WINDOW_WORK: u64 = 10 * MOST_WORK;

/// Witnesses of a train of which all corners are tried; of more, the faces and [`POINTS`].
pub(crate) const MOST_CORNERED: usize = 6;

/// Places that are tried beside the faces.
pub(crate) const POINTS: u32 = 1000;

/// Pairs of corners, or of a corner and a height, that are held against each other while the edges are made.
pub const MOST_PAIRS: usize = 500_000;

/// Heights that may matter, over all lever arbors.
pub const MOST_HEIGHTS: usize = 20_000;

/// Lettings go of an hour whose warning arm stood too low that are told one by one: a train is let go once an hour, or four
/// times.
pub(crate) const MOST_TOO_LOW: usize = 12;

/// What an exact sum takes, in units of [`MOST_WORK`].
pub(crate) const EXACT: usize = 20;
