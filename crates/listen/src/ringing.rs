//! A sound that begins and rings, by how far each part of the spectrum rose, and how alike two of them are.

use crate::bands::{whole, whole32};

/// Parts of the spectrum a sound is described by: 24 to an octave, a quarter tone.
pub(crate) const PARTS: usize = 128;
pub(crate) const PARTS_AN_OCTAVE: f64 = 24.0;
/// The rise of a part of which that cannot be told.
pub(crate) const HIDDEN: f32 = -1.0;
/// A voice of which less than this part can be told speaks the less, in parts of the squares of its rises.
const TOLD: f32 = 0.3;

/// A sound that begins and rings.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ringing {
    /// Seconds from the beginning of what was given.
    pub(crate) at_s: f64,
    /// How far each part of the spectrum rose; [`HIDDEN`] where it cannot be told.
    pub(crate) rise: Vec<f32>,
    /// Length of that.
    pub(crate) size: f32,
    /// How much of it still rang two fifths of a second on, from 0 to 1.
    pub(crate) lasting: f32,
    /// How much of its power was in what rings, from 0 to 1: nearly all of a blow's, little of a tick's.
    pub(crate) share: f32,
    /// The strongest partial, hertz.
    pub(crate) pitch_hz: f32,
}

impl Ringing {
    /// How long it rings and with how much of its power, together.
    pub(crate) fn rings(&self) -> f32 {
        self.lasting * self.share
    }
}

/// The same, kept small: over a day there are tens of thousands of them.
#[derive(Debug, Clone)]
pub(crate) struct Kept {
    at_s: f64,
    /// In hundredths; the greatest there is where it cannot be told.
    rise: [u8; PARTS],
    size: f32,
    lasting: f32,
    share: f32,
    pitch_hz: f32,
}

impl Kept {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held between nought and what fits"
    )]
    pub(crate) fn of(sound: &Ringing) -> Kept {
        let mut rise = [0; PARTS];
        for (kept, x) in rise.iter_mut().zip(&sound.rise) {
            *kept = if *x < 0.0 {
                u8::MAX
            } else {
                (100.0 * x).round().clamp(0.0, 254.0) as u8
            };
        }
        Kept {
            at_s: sound.at_s,
            rise,
            size: sound.size,
            lasting: sound.lasting,
            share: sound.share,
            pitch_hz: sound.pitch_hz,
        }
    }

    /// See [`Ringing::rings`].
    pub(crate) fn rings(&self) -> f32 {
        self.lasting * self.share
    }

    pub(crate) fn sound(&self) -> Ringing {
        Ringing {
            at_s: self.at_s,
            rise: (self.rise.iter())
                .map(|&x| match x {
                    u8::MAX => HIDDEN,
                    x => f32::from(x) / 100.0,
                })
                .collect(),
            size: self.size,
            lasting: self.lasting,
            share: self.share,
            pitch_hz: self.pitch_hz,
        }
    }
}

/// The mean rise of several sounds: of each part, of those of which it can be told.
pub(crate) fn mean_rise(sounds: &[&Ringing]) -> Vec<f32> {
    let mean = |k: usize| {
        let told = sounds.iter().map(|s| s.rise[k]).filter(|x| *x >= 0.0);
        let (sum, n) = told.fold((0.0, 0), |(sum, n), x| (sum + x, n + 1));
        sum / whole32(n.max(1))
    };
    (0..PARTS).map(mean).collect()
}

/// How alike two sounds rise, from 0 to 1.
pub(crate) fn cosine_similarity(a: &[f32], b: &[f32]) -> f32 {
    let (mut ab, mut aa, mut bb) = (0.0, 0.0, 0.0);
    for (a, b) in a.iter().zip(b) {
        let (a, b) = (a.max(0.0), b.max(0.0));
        ab += a * b;
        aa += a * a;
        bb += b * b;
    }
    if aa > 0.0 && bb > 0.0 {
        ab / (aa * bb).sqrt()
    } else {
        0.0
    }
}

/// How many times higher one sound's partials lie than another's: where they lie on each other best, within an octave and a half.
pub(crate) fn higher(from: &[f32], to: &[f32]) -> f64 {
    const REACH: usize = 36;
    let shifted = |k: usize| {
        let (down, up) = (REACH.saturating_sub(k), k.saturating_sub(REACH));
        let n = PARTS - down - up;
        cosine_similarity(&from[down..down + n], &to[up..up + n])
            * (1.0 - 0.004 * whole32(down + up))
    };
    let best = (0..=2 * REACH).max_by(|&a, &b| shifted(a).total_cmp(&shifted(b)));
    let parts = whole(best.unwrap_or(REACH)) - whole(REACH);
    (parts / PARTS_AN_OCTAVE).exp2()
}

/// How far a voice is in a sound, from 0 to 1: how alike they are, and how much of the voice is there whatever else is, in those parts
/// of which it can be told. Somebody may talk while the clock strikes, and blows ring on into each other.
pub(crate) fn contains(sound: &[f32], voice: &[f32]) -> f32 {
    let [mut there, mut heard, mut both, mut own] = [0.0; 4];
    for (&s, &v) in sound.iter().zip(voice) {
        let open = if s < 0.0 { 0.0 } else { 1.0 };
        there += open * s.min(v) * v;
        both += open * s * v;
        own += open * s * s;
        heard += open * v * v;
    }
    if heard <= 0.0 || own <= 0.0 {
        return 0.0;
    }
    let alike = both / (heard * own).sqrt();
    0.5 * (alike + there / heard) * (distinguishable_share(sound, voice) / TOLD).min(1.0)
}

/// Of what part of a voice it can be told whether it is in a sound, from 0 to 1, in parts of the squares of its rises.
pub(crate) fn distinguishable_share(sound: &[f32], voice: &[f32]) -> f32 {
    let (mut told, mut all) = (0.0, 1e-9);
    for (&s, &v) in sound.iter().zip(voice) {
        told += if s < 0.0 { 0.0 } else { v * v };
        all += v * v;
    }
    told / all
}
