//! Sound to onsets to beats and blows.
mod bands;
mod bell;
mod contour;
mod ear;
mod follow;
mod line;
mod pulse;
mod shape;
pub mod sound;
mod strike;
mod wave;
pub use sound::{Ended, NotSound, RATES_HZ, decode};
pub use ear::{Ear, Heard, Levels};
pub use follow::Beat;
pub use strike::{Chime, Strike};
