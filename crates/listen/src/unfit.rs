//! Why a recording is not good enough to tell anything.

use crate::ear::Heard;

/// What is the matter with it.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum UnfitSound {
    /// Nothing is on it.
    #[error("nothing is on the recording")]
    Silent,
    /// So few seconds that nothing repeats.
    #[error("only {0} s of sound")]
    Short(f64),
    /// So loud that it is cut off, so much of the time, and nothing even is heard in it.
    #[error("cut off for {0} of the time, and nothing heard")]
    Clipped(f64),
    /// Sound, but nothing that beats evenly and nothing struck.
    #[error("sound, but nothing that beats or strikes")]
    Nothing,
}

/// Below this swing there is nothing but the last bit of 16 flickering.
const SILENT: f32 = 1e-4;
/// Seconds in which even a slow pendulum beats three times.
const SHORT_S: f64 = 2.0;
/// The part of all samples cut off that spoils a recording.
const CLIPPED: f64 = 0.001;

/// Why nothing was heard; nothing if something was.
pub fn unfit(heard: &Heard) -> Option<UnfitSound> {
    if !heard.beats.is_empty() || !heard.strikes.is_empty() || !heard.chimes.is_empty() {
        return None;
    }
    if heard.seconds < SHORT_S {
        return Some(UnfitSound::Short(heard.seconds));
    }
    if heard.levels.peak < SILENT {
        return Some(UnfitSound::Silent);
    }
    let part = heard.levels.clipped_part();
    Some(if part > CLIPPED {
        UnfitSound::Clipped(part)
    } else {
        UnfitSound::Nothing
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn why_nothing_was_heard_is_said() {
        use crate::{HeaderFault, NotSound};
        let faults: [(Box<dyn std::error::Error>, &str); 5] = [
            (UnfitSound::Short(1.5).into(), "only 1.5 s of sound"),
            (
                UnfitSound::Clipped(0.25).into(),
                "cut off for 0.25 of the time, and nothing heard",
            ),
            (
                NotSound::Rate(4_000).into(),
                "4000 samples a second, expected 6000..=400000",
            ),
            (
                NotSound::Header(HeaderFault::Channels).into(),
                "the header contradicts itself: the channels, expected 1 to 64",
            ),
            (
                NotSound::Io(std::io::ErrorKind::BrokenPipe, "broken pipe".to_owned()).into(),
                "it cannot be read on: broken pipe",
            ),
        ];
        for (fault, says) in faults {
            assert_eq!(fault.to_string(), says);
        }
    }
}
