//! Why a recording is not good enough to tell anything.

use crate::ear::Heard;

/// What is the matter with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unfit {
    /// Nothing is on it.
    Silent,
    /// So few seconds that nothing repeats.
    Short(f64),
    /// So loud that it is cut off, so much of the time, and nothing even is heard in it.
    Clipped(f64),
    /// Sound, but nothing that beats evenly and nothing struck.
    Nothing,
}

/// Below this swing there is nothing but the last bit of 16 flickering.
const SILENT: f32 = 1e-4;
/// Seconds in which even a slow pendulum beats three times.
const SHORT_S: f64 = 2.0;
/// The part of all samples cut off that spoils a recording.
const CLIPPED: f64 = 0.001;

/// Why nothing was heard; nothing if something was.
pub fn unfit(heard: &Heard) -> Option<Unfit> {
    if !heard.beats.is_empty() || !heard.strikes.is_empty() || !heard.chimes.is_empty() {
        return None;
    }
    if heard.seconds < SHORT_S {
        return Some(Unfit::Short(heard.seconds));
    }
    if heard.levels.peak < SILENT {
        return Some(Unfit::Silent);
    }
    let part = heard.levels.clipped_part();
    Some(if part > CLIPPED {
        Unfit::Clipped(part)
    } else {
        Unfit::Nothing
    })
}
