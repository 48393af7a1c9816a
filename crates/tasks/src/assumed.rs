//! Every figure that is held to be so, from the crates that go by them.

use quantity::{Assumed, tools};

/// What the figures are of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Topic {
    /// Timing the strike train.
    Timing,
    /// Windows that are worked out from the works.
    Windows,
    /// Springs and weights.
    Power,
    /// Lost counts, pendulums, oil.
    Workshop,
    /// Where arbors lie.
    Places,
    /// Listening.
    Sound,
    /// What the tools of a bench measure.
    Tools,
}

/// All of them, by what they are of. A row is added where it is gone by, in that crate's `assumed!`; its words, in the catalogue.
pub const ASSUMPTIONS: [(Topic, &[Assumed]); 7] = [
    (Topic::Timing, timing::assumed::ASSUMED),
    (Topic::Windows, strike::assumed::ASSUMED),
    (Topic::Power, drive::assumed::ASSUMED),
    (Topic::Workshop, workshop::assumed::ASSUMED),
    (Topic::Places, draw::assumed::ASSUMED),
    (Topic::Sound, listen::assumed::ASSUMED),
    (Topic::Tools, tools::ASSUMED),
];
