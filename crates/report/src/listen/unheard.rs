//! Why a recording is good for nothing and what would help, and what is wrong with what was said beside it.

use crate::en::quoted;
use crate::{Voice, Words, refusal, say};
use listen::{HeaderFault, NotSound, RATES_HZ, UnfitSound};

/// Why a recording is good for nothing, and what would help.
pub fn unfit_said(words: &Words, unfit: &UnfitSound) -> String {
    match unfit {
        UnfitSound::Silent => say!(words, "listen-silent"),
        UnfitSound::Short(s) => say!(words, "listen-too-short", seconds = words.decimal(*s, 1)),
        UnfitSound::Clipped(part) => {
            say!(
                words,
                "listen-too-loud",
                part = words.decimal(100.0 * part, 1)
            )
        }
        UnfitSound::Nothing => say!(words, "listen-nothing"),
    }
}

/// Why bytes are no sound, after the name of their file.
pub fn not_sound(voice: &Voice, name: &str, why: &NotSound) -> String {
    let words = voice.words();
    let why = match why {
        NotSound::Empty => say!(words, "not-sound-empty"),
        NotSound::Unknown => say!(words, "not-sound-unknown"),
        NotSound::Unsupported(what) => {
            let what = match voice {
                Voice::Command(_) => quoted(what),
                Voice::Page(_) => what.clone(),
            };
            say!(words, "not-sound-unsupported", what = what)
        }
        NotSound::Header(what) => {
            let what = match what {
                HeaderFault::Nonsense => "nonsense",
                HeaderFault::BreaksOff => "breaks-off",
                HeaderFault::NoSamples => "no-samples",
                HeaderFault::SampleSize => "sample-size",
                HeaderFault::Channels => "channels",
                HeaderFault::FrameSize => "frame-size",
            };
            say!(words, "not-sound-header", what = what)
        }
        NotSound::Rate(rate) => say!(
            words,
            "not-sound-rate",
            rate = rate.to_string(),
            least = RATES_HZ.start().to_string(),
            most = RATES_HZ.end().to_string()
        ),
        NotSound::NoSamples => say!(words, "not-sound-samples"),
        NotSound::Io(kind, said) => {
            say!(words, "not-sound-io", error = refusal(words, *kind, said))
        }
    };
    say!(words, "not-sound", name = name.to_owned(), why = why)
}

/// What is wrong with what was said of the recorder's clock.
pub(crate) fn no_clock(voice: &Voice, got: &str) -> String {
    let got = match voice {
        Voice::Command(_) => quoted(got),
        Voice::Page(_) => format!("“{got}”"),
    };
    let field = bare(voice, "clock-ppm");
    say!(voice.words(), "listen-bad-clock", field = field, got = got)
}

/// What is wrong with a number.
pub(crate) fn no_number(voice: &Voice, option: &str) -> String {
    say!(
        voice.words(),
        "listen-bad-number",
        field = bare(voice, option)
    )
}

/// A part of the question by its name, an option without its ticks.
fn bare(voice: &Voice, option: &str) -> String {
    match voice {
        Voice::Command(_) => format!("--{option}"),
        Voice::Page(_) => voice.field(option),
    }
}
