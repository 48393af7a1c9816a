//! Sound to onsets to beats and blows: what a microphone near a striking clock can tell.
//!
//! [`decode`] turns bytes to samples, [`Detector`] samples to [`Heard`], in memory that does not grow with the recording but for what
//! was heard. [`pace`] says what the beats mean, [`comes_round`] what repeats with an arbor, [`against`] which hour is wrong.
//! What to expect of a clock comes in as an argument; nothing here reads a file, a clock or a sheet, and nothing is said in words.

pub mod assumed;
mod bands;
mod bell;
mod chime;
mod contour;
mod deviation;
mod ear;
mod findings;
mod follow;
mod hours;
mod line;
mod logs;
mod mend;
mod pulse;
mod rate;
mod ringing;
mod round;
mod settle;
mod shape;
mod sound;
mod steps;
mod strike;
mod unfit;
mod voice;
mod warning;
mod wave;

pub use chime::Chime;
pub use deviation::{Deviation, deviation};
pub use ear::{Detector, Heard, Levels};
pub use findings::{ExpectedClock, Findings, SwingSide, find};
pub use follow::Beat;
pub use hours::{Cycle, Due, HourFault, LATE_S, against, pace_falls};
pub use rate::{DAY_S, Pace, Piece, Recorder, Within, least_spread_per_hour, pace};
pub use round::{ArborTurn, ComesRound, LEAST_CHANCE, comes_round};
pub use sound::{HeaderFault, MOST_CHANNELS, NotSound, RATES_HZ, SoundEnd, decode};
pub use strike::HeardStrike;
pub use unfit::{UnfitSound, unfit};
pub use warning::{Between, HeardWarning, Rustle, warnings};
