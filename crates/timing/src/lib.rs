//! The shift: from what was seen at the drop to which mesh, how many teeth, which way.
//!
//! Where a witness can be put is a lattice of exact places ([`mod@lattice`]); how likely it then stands in its window is
//! a chance ([`mod@chance`]); the rule of choice ([`mod@choose`]) goes from the one to the other. No sentences, no files.

mod answer;
mod chance;
mod choose;
mod dense;
mod lattice;
mod reading;
mod said;
mod system;
mod teeth;

pub use answer::{Answer, Cure, Hands, Miss, Nearest, Shift, Standing, Stands, Way, answer};
pub use reading::{Look, Reading, ReadingFault, Said, default_spread, read, widest_spread};
pub use said::{SaidFault, parse};
