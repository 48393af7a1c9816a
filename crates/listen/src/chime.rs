//! Notes of several bells in turn: a chime is a row of them, evenly paced, most of another voice than the one before. Blows of the hour
//! among other bells are notes of it.

use crate::bands::whole;
use crate::contour::{quantile, quantile64};
use crate::ringing::{Ringing, cosine_similarity};
use crate::steps::{pace, steps};
use crate::strike::{ALONE_LASTING, ALONE_SIZE};
use crate::voice::{ALIKE, Voice};

/// A note of a chime rings on so much at least, though the next follows.
const NOTE_LASTING: f32 = 0.6;
/// Two sounds so alike are of one bell.
const AGAIN: f32 = 0.8;
/// Sounds that are compared with each other, at most.
const POOL: usize = 500;

/// Notes of several bells in turn.
#[derive(Debug, Clone, PartialEq)]
pub struct Chime {
    /// Each note: when, and its pitch in hertz.
    pub notes: Vec<(f64, f64)>,
}

impl Chime {
    /// The notes by pitch, 1 the highest; pitches within a third of a tone are one bell.
    pub fn order(&self) -> Vec<usize> {
        let mut bells: Vec<f64> = Vec::new();
        let same = |a: f64, b: f64| (a / b).log2().abs() < 1.0 / 18.0;
        for &(_, hz) in &self.notes {
            if !bells.iter().any(|&bell| same(bell, hz)) {
                bells.push(hz);
            }
        }
        bells.sort_by(|a, b| b.total_cmp(a));
        let place = |hz: f64| bells.iter().position(|&bell| same(bell, hz));
        self.notes
            .iter()
            .map(|&(_, hz)| place(hz).map_or(0, |k| k + 1))
            .collect()
    }
}

/// Whether the blows of a run are notes of a chime: other bells sound between most of them, or between all where it goes at the usual
/// pace of the hours, all at one even pace. Talk between blows keeps no time, or hardly ever.
pub(crate) fn is_interleaved(
    sounds: &[Ringing],
    members: &[usize],
    bell: &[bool],
    voice: &Voice,
) -> bool {
    let (Some(&first), Some(&last)) = (members.first(), members.last()) else {
        return false;
    };
    let other = |i: usize| {
        bell[i]
            && sounds[i].lasting > NOTE_LASTING
            && sounds[i].size > 0.6 * voice.size
            && voice.is_like(&sounds[i]) < ALIKE
    };
    let between = members
        .windows(2)
        .filter(|w| (w[0] + 1..w[1]).any(other))
        .count();
    let notes: Vec<usize> = (first..=last)
        .filter(|&i| members.contains(&i) || other(i))
        .collect();
    let pace = pace(sounds, members);
    let is_usual = voice
        .pace
        .zip(pace)
        .is_some_and(|(usual, own)| usual.is_near(own));
    let gaps = members.len() - 1;
    let most = if is_usual {
        between == gaps
    } else {
        2 * between > gaps
    };
    // Two notes and one between them are even too easily.
    most && notes.len() >= 4 && is_even(sounds, &notes)
}

/// Whether sounds follow each other at one pace, but for pauses of whole steps.
fn is_even(sounds: &[Ringing], row: &[usize]) -> bool {
    const OFF: f64 = 0.14;
    let mut steps = steps(sounds, row);
    let pace = quantile64(&mut steps, 0.4);
    let on = |step: &&f64| {
        let turns = (*step / pace).round().max(1.0);
        (*step / pace - turns).abs() < OFF
    };
    10 * steps.iter().filter(on).count() >= 8 * steps.len()
}

/// The loudest sounds of a recording that ring on: what is alike to one of them elsewhere is a bell heard again.
#[derive(Debug, Default)]
pub(crate) struct Bells(Vec<Ringing>);

impl Bells {
    /// Among all sounds of the recording.
    pub(crate) fn of(sounds: impl Iterator<Item = Ringing>) -> Bells {
        let mut pool = Vec::new();
        let thin = |pool: &mut Vec<Ringing>| {
            pool.sort_by(|a, b| b.size.total_cmp(&a.size));
            pool.truncate(POOL);
        };
        for sound in sounds.filter(Bells::is_worth) {
            pool.push(sound);
            if pool.len() >= 2 * POOL {
                thin(&mut pool);
            }
        }
        thin(&mut pool);
        Bells(pool)
    }

    fn is_worth(sound: &Ringing) -> bool {
        sound.lasting > 0.4 && sound.size > 4.0
    }

    /// Whether a sound is a bell: heard again elsewhere in the recording, or ringing loud and long.
    pub(crate) fn is_one(&self, sound: &Ringing) -> bool {
        let again = |other: &Ringing| {
            (other.at_s - sound.at_s).abs() > 0.3
                && cosine_similarity(&other.rise, &sound.rise) > AGAIN
        };
        Bells::is_worth(sound)
            && (sound.lasting > ALONE_LASTING && sound.size > ALONE_SIZE
                || self.0.iter().any(again))
    }
}

/// The chime among sounds of which some are bells, if most of an even row of them are of other voices than their neighbours.
pub(crate) fn chime(sounds: &[Ringing], bell: &[bool]) -> Option<Vec<usize>> {
    let mut sizes: Vec<f32> = sounds
        .iter()
        .zip(bell)
        .filter(|(_, b)| **b)
        .map(|(s, _)| s.size)
        .collect();
    if sizes.len() < 4 {
        return None;
    }
    let usual = quantile(&mut sizes, 0.7);
    // Rows without a pause longer than two of their own steps.
    let mut rows: Vec<Vec<usize>> = Vec::new();
    for i in (0..sounds.len()).filter(|&i| bell[i] && sounds[i].size > 0.45 * usual) {
        match rows.last_mut() {
            Some(row)
                if row
                    .last()
                    .is_some_and(|&l| sounds[i].at_s - sounds[l].at_s < 2.2) =>
            {
                row.push(i);
            }
            _ => rows.push(vec![i]),
        }
    }
    rows.into_iter()
        .filter(|row| is_chime(sounds, row))
        .max_by_key(Vec::len)
}

fn is_chime(sounds: &[Ringing], row: &[usize]) -> bool {
    if row.len() < 4 {
        return false;
    }
    let other = row
        .windows(2)
        .filter(|w| cosine_similarity(&sounds[w[0]].rise, &sounds[w[1]].rise) < 0.55)
        .count();
    let mut steps = steps(sounds, row);
    let pace = quantile64(&mut steps, 0.4);
    let even = steps
        .iter()
        .filter(|s| (*s / pace - (*s / pace).round()).abs() < 0.25)
        .count();
    2 * other > row.len() - 1 && whole(even) > 0.8 * whole(steps.len())
}
