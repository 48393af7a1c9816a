//! Motion: how fast and which way each arbor turns, what one tooth does, when the same teeth meet again.
//!
//! All of it exact, from counts alone. Nothing here knows of readings or windows.

mod meeting;
mod shift;
mod speed;
mod turn;

pub use meeting::{Meeting, meeting, same_teeth_everywhere};
pub use shift::{no_witness_beyond, step};
pub use speed::{HOUR_S, per_blow, per_hour, per_winding, speed, winding_arbor};
pub use turn::{Turnable, TurnedThing, turnables};
