//! Why a recording is good for nothing and what would help, and what is wrong with what was said beside it.

use crate::en::quoted;
use crate::{Locale, Voice, refusal, say};
use listen::{HeaderFault, NotSound, RATES_HZ, UnfitSound};

/// Why a recording is good for nothing, and what would help.
pub fn unfit_said(locale: &Locale, unfit: &UnfitSound) -> String {
    match unfit {
        UnfitSound::Silent => say!(locale, "listen-silent"),
        UnfitSound::Short(s) => say!(locale, "listen-too-short", seconds = locale.decimal(*s, 1)),
        UnfitSound::Clipped(part) => {
            say!(
                locale,
                "listen-too-loud",
                part = locale.decimal(100.0 * part, 1)
            )
        }
        UnfitSound::Nothing => say!(locale, "listen-nothing"),
    }
}

/// Why bytes are no sound, after the name of their file.
pub fn not_sound(voice: &Voice, name: &str, why: &NotSound) -> String {
    let locale = voice.locale();
    let why = match why {
        NotSound::Empty => say!(locale, "not-sound-empty"),
        NotSound::Unknown => say!(locale, "not-sound-unknown"),
        NotSound::Unsupported(what) => {
            let what = match voice {
                Voice::Command(_) => quoted(what),
                Voice::Page(_) => what.clone(),
            };
            say!(locale, "not-sound-unsupported", what = what)
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
            say!(locale, "not-sound-header", what = what)
        }
        NotSound::Rate(rate) => say!(
            locale,
            "not-sound-rate",
            rate = rate.to_string(),
            least = RATES_HZ.start().to_string(),
            most = RATES_HZ.end().to_string()
        ),
        NotSound::NoSamples => say!(locale, "not-sound-samples"),
        NotSound::Io(kind, said) => {
            say!(locale, "not-sound-io", error = refusal(locale, *kind, said))
        }
    };
    say!(locale, "not-sound", name = name.to_owned(), why = why)
}

/// What is wrong with what was said of the recorder's clock.
pub(crate) fn no_clock(voice: &Voice, got: &str) -> String {
    let got = match voice {
        Voice::Command(_) => quoted(got),
        Voice::Page(_) => format!("“{got}”"),
    };
    let field = bare(voice, "clock-ppm");
    say!(voice.locale(), "listen-bad-clock", field = field, got = got)
}

/// What is wrong with a number.
pub(crate) fn no_number(voice: &Voice, option: &str) -> String {
    say!(
        voice.locale(),
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
