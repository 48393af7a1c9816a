//! How a bell of the recording sounds: what its blows have in common, how they follow each other, and how alike another sound must
//! be to be one of them. Where blows are is looked for by [`crate::strike`].

use crate::bands::{whole, whole32};
use crate::contour::quantile;
use crate::ringing::{Ringing, contains, cosine_similarity, distinguishable_share, mean_rise};
use crate::steps::Pace;

/// How alike a blow must be to the run's voice to speak for it, and to one that is known.
pub(crate) const ALIKE: f32 = 0.5;
const OWN_ALIKE: f32 = 0.57;
/// A sound quieter than this part of the run's blows is none of them.
const QUIETEST: f32 = 0.4;
/// How alike a blow by itself must be to a voice that is known, and one that is the first or the last; each at least and at most.
const ALONE: (f32, f32) = (0.7, 0.8);
const BESIDE: (f32, f32) = (0.64, 0.85);
/// So many sounds that are no blows may be taken for some, in all of the recording.
const MISTAKEN: f64 = 0.05;
/// Blows ring so much at least, see [`Voice::rings`]: vowels have 0.1 to 0.3, bells in a loud room 0.5 and more.
pub(crate) const RINGS: f32 = 0.36;
/// What talk may seem to say for a voice of its own, and how it grows with the sounds there are (of a hundred times six minutes of talk
/// made up, 100 of its sounds ringing so much, the strongest had 0.85).
const CHANCE: f64 = 0.38;
/// Two voices so alike are of one bell.
const SAME: f32 = 0.6;
/// Voices kept, at most: where somebody talks all day, more are found than the clock has bells.
const MOST_VOICES: usize = 12;

/// How a bell of this recording sounds.
#[derive(Debug, Clone)]
pub(crate) struct Voice {
    pub(crate) rise: Vec<f32>,
    pub(crate) size: f32,
    /// Blows it was learned from.
    pub(crate) blows: usize,
    /// What speaks for it, all its runs together; the clear ones count most.
    pub(crate) strength: f32,
    /// How long its blows ring, and with how much of their power: the mean of their [`Ringing::lasting`] times their mean
    /// [`Ringing::share`].
    pub(crate) rings: f32,
    /// How they follow each other, once that is known.
    pub(crate) pace: Option<Pace>,
    /// How alike a sound must be to be a blow by itself, and to be the first or last of several.
    pub(crate) alone: f32,
    pub(crate) beside: f32,
}

impl Voice {
    /// The voice of some blows.
    pub(crate) fn of(members: &[&Ringing]) -> Voice {
        let mut sizes: Vec<f32> = members.iter().map(|member| member.size).collect();
        Voice {
            rise: mean_rise(members),
            size: quantile(&mut sizes, 0.5),
            blows: members.len(),
            strength: 0.0,
            rings: 0.0,
            pace: None,
            alone: ALONE.0,
            beside: BESIDE.0,
        }
    }

    /// Asks more of a blow where what is none comes near to it: talk does, the nearer the fewer partials a bell has. Takes how alike to it
    /// its own blows are, and the other sounds of the recording, and in what part of the time a first or last blow might be one of them.
    pub(crate) fn hold_against(&mut self, own: &mut [f32], others: &mut Vec<f32>, part: f64) {
        // What is like most blows is one by itself.
        let blows = quantile(own, 0.02);
        others.retain(|x| *x < blows);
        let upper = quantile(others, 0.9);
        let above: Vec<f32> = others
            .iter()
            .filter(|x| **x > upper)
            .map(|x| x - upper)
            .collect();
        if above.len() < 5 {
            return;
        }
        // Further up they grow fewer evenly, by this much to a third.
        let fade = above.iter().sum::<f32>() / whole32(above.len());
        let least = |part: f64| {
            #[expect(clippy::cast_possible_truncation, reason = "a part of one")]
            let steps = (part * whole(above.len()) / MISTAKEN).max(1.0).ln() as f32;
            (upper + fade * steps).min(blows)
        };
        self.alone = least(1.0).clamp(ALONE.0, ALONE.1);
        self.beside = least(part).clamp(BESIDE.0, BESIDE.1);
    }

    /// How alike a sound is to it.
    pub(crate) fn is_like(&self, sound: &Ringing) -> f32 {
        contains(&sound.rise, &self.rise)
    }

    /// Whether it rings as a bell does, and not as talk.
    pub(crate) fn rings_on(&self) -> bool {
        self.rings > RINGS
    }

    /// Whether it rings as a bell does, and more speaks for it than chance finds among so many sounds that ring.
    pub(crate) fn is_bell(&self, among: usize) -> bool {
        self.rings_on() && f64::from(self.strength) > CHANCE * (whole(among) / 10.0).ln_1p()
    }

    /// Whether another is the same bell's.
    pub(crate) fn is_of(&self, other: &Voice) -> bool {
        cosine_similarity(&self.rise, &other.rise) > SAME
    }

    /// Takes in what more of its blows say of it.
    fn add(&mut self, more: &Voice) {
        let (a, b) = (whole32(self.blows), whole32(more.blows));
        let mean = |x: f32, y: f32| (x * a + y * b) / (a + b);
        for (x, y) in self.rise.iter_mut().zip(&more.rise) {
            *x = mean(*x, *y);
        }
        self.size = mean(self.size, more.size);
        self.rings = mean(self.rings, more.rings);
        self.blows += more.blows;
        self.strength += more.strength;
    }

    /// How far a sound speaks for being one of its blows.
    pub(crate) fn speaks(&self, sound: &Ringing) -> f32 {
        let own = self.size.max(0.1) * distinguishable_share(&sound.rise, &self.rise).sqrt();
        let loud = (sound.size / own).min(1.0);
        if loud < QUIETEST {
            return -1.0;
        }
        let alike = if self.pace.is_some() {
            OWN_ALIKE
        } else {
            ALIKE
        };
        self.is_like(sound) - alike - 0.3 * (1.0 - loud)
    }
}

/// Adds a voice to the one it is of, or as a new one; the strongest stay first, and few are kept.
pub(crate) fn add(voices: &mut Vec<Voice>, voice: &Voice) {
    match voices.iter_mut().find(|other| other.is_of(voice)) {
        Some(other) => other.add(voice),
        None => voices.push(voice.clone()),
    }
    voices.sort_by(|a, b| b.strength.total_cmp(&a.strength));
    voices.truncate(MOST_VOICES);
}
