//! Blows of a hammer on a bell, gong or rod: sounds that begin at once and then ring, in a few narrow places of the spectrum. A tick
//! with its echo dies too fast to be one; speech rings nowhere twice. Here single sounds are found; what is kept
//! of each is a [`Ringing`], which of them are a strike is decided by [`crate::strike`].

use crate::bands::{count, whole, whole32};
use crate::contour::quantile;
use crate::logs::{exp, greatest, ln_1p, sum};
use crate::ringing::{HIDDEN, PARTS, PARTS_AN_OCTAVE, Ringing, contains};
use crate::voice::Voice;
use realfft::{RealFftPlanner, RealToComplex, num_complex::Complex32};
use std::sync::Arc;

/// Samples of one spectrum: some 90 ms, fine enough to part the partials of a bell.
const WINDOW: usize = 1024;
/// Where they begin, hertz: below, rooms hum.
const LOWEST_HZ: f64 = 150.0;
/// Where sound is taken after a beginning, seconds: at once, and when a tick with its echo is gone.
const SOON_S: (f64, f64) = (0.05, 0.13);
const LATER_S: (f64, f64) = (0.15, 0.26);
const BEFORE_S: (f64, f64) = (-0.15, -0.05);
/// A part that falls by more than this from soon to later (natural logarithm of power; 60 decibels in less than 0.55 s) does not
/// ring, one that falls by less than the other (in more than 1.2 s) does.
const DEAD: f32 = 2.6;
const RINGS: f32 = 1.2;
/// A part's rise counts up to this much.
const MOST_RISE: f32 = 2.5;
/// Partials that lie close beat against each other, and may be louder later by this much (3 decibels).
const SOONER: f32 = 0.7;
/// Rises below this are chance.
const LEAST_RISE: f32 = 0.8;
/// What stood this high before (natural logarithm of power over the room) and stands within so much of it after may have been struck
/// again or not: a blow's partial may as well weaken one that rings as strengthen it.
const LOUD: f32 = 3.0;
const UNCHANGED: f32 = 1.8;
/// A rise less than this is then none.
const LITTLE: f32 = 0.6;
/// How far below the loudest a part is listened to, as power: 40 decibels. Below lie the skirts of the window.
const RANGE: f32 = 1e-4;
/// A sound that contains so much of a voice is looked at however loud its neighbours are.
const OWN: f32 = 0.36;
/// Of so many voices at most.
const STRONGEST: usize = 3;
/// A blow falls at most this far from where it is expected, seconds.
const OFF_S: f64 = 0.07;
/// Two blows are at least this far apart, seconds, and other sounds half as far.
const APART_S: f64 = 0.2;
/// Sounds kept of one stretch: the strongest.
const MOST_SOUNDS: usize = 150;

/// Spectra one after the other.
pub(crate) struct Spectra {
    fft: Arc<dyn RealToComplex<f32>>,
    window: Vec<f32>,
}

impl std::fmt::Debug for Spectra {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Spectra").finish_non_exhaustive()
    }
}

impl Spectra {
    pub(crate) fn new() -> Spectra {
        let window = (0..WINDOW)
            .map(|i| {
                let turn = std::f32::consts::TAU * (whole32(i) + 0.5) / whole32(WINDOW);
                0.5 - 0.5 * turn.cos()
            })
            .collect();
        Spectra {
            fft: RealFftPlanner::new().plan_fft_forward(WINDOW),
            window,
        }
    }

    /// How the parts of the spectrum rise, frame by frame, in sound of so many samples a second.
    pub(crate) fn rises(&self, sound: &[f32], rate: f64) -> Rises {
        let hop = count(rate * 0.012).max(1);
        let picture = self.picture(sound, rate, hop);
        let frames_a_second = rate / whole(hop);
        let n = picture.loud.len();
        let span = |(from, to): (f64, f64), at: usize| {
            let place = |s: f64| whole(at) + s * frames_a_second;
            let (from, to) = (place(from).max(0.0), place(to).max(0.0));
            (count(from).min(n), (count(to) + 1).min(n))
        };
        let mut rises = Vec::with_capacity(n);
        let mut shares = vec![0.0_f32; n];
        for (at, share) in shares.iter_mut().enumerate() {
            let spans = [BEFORE_S, SOON_S, LATER_S].map(|s| span(s, at));
            // Where the recording has only begun, what was before is not known.
            let known = whole(at) + BEFORE_S.0 * frames_a_second >= 0.0;
            let rise = if known && spans.iter().all(|(from, to)| from < to) {
                let [before, soon, later] = spans.map(|(from, to)| &picture.loud[from..to]);
                let (rise, rings) = rise(before, soon, later, &picture.floors);
                *share = rings;
                rise
            } else {
                [0.0; PARTS]
            };
            rises.push((sum(&rise.map(|x| x.max(0.0).powi(2))).sqrt(), rise));
        }
        Rises {
            picture,
            rises,
            shares,
            frames_a_second,
            middle_s: whole(WINDOW) / 2.0 / rate,
        }
    }

    /// Loudness frame by frame.
    fn picture(&self, sound: &[f32], rate: f64, hop: usize) -> Picture {
        let bins = WINDOW / 2;
        // Which bins belong to which part; high up a part is several bins wide, low down a bin is several parts wide.
        let hertz = rate / whole(WINDOW);
        let part_of = |hz: f64| (hz / LOWEST_HZ).log2() * PARTS_AN_OCTAVE;
        let edges: Vec<(usize, usize)> = (0..PARTS)
            .map(|k| {
                let low = LOWEST_HZ * ((whole(k) - 0.5) / PARTS_AN_OCTAVE).exp2();
                let high = LOWEST_HZ * ((whole(k) + 0.5) / PARTS_AN_OCTAVE).exp2();
                let first = count((low / hertz).round());
                let last = count((high / hertz).round()).max(first + 1);
                (first.min(bins), last.min(bins))
            })
            .collect();
        debug_assert!(part_of(LOWEST_HZ).abs() < 1e-9);
        let mut input = vec![0.0; WINDOW];
        let mut output = vec![Complex32::default(); bins + 1];
        let mut powers = vec![0.0; bins + 1];
        let mut scratch = self.fft.make_scratch_vec();
        let mut loud: Vec<[f32; PARTS]> = Vec::new();
        let mut at = 0;
        while at + WINDOW <= sound.len() {
            for ((x, s), w) in input.iter_mut().zip(&sound[at..]).zip(&self.window) {
                *x = s * w;
            }
            let done = self
                .fft
                .process_with_scratch(&mut input, &mut output, &mut scratch);
            debug_assert!(done.is_ok());
            let mut frame = [0.0; PARTS];
            for (power, x) in powers.iter_mut().zip(&output) {
                *power = x.norm_sqr();
            }
            for (x, &(first, last)) in frame.iter_mut().zip(&edges) {
                *x = greatest(&powers[first..last]);
            }
            loud.push(frame);
            at += hop;
        }
        let mut floors = [0.0; PARTS];
        let loudest = loud.iter().flatten().copied().fold(0.0, f32::max);
        for (k, floor) in floors.iter_mut().enumerate() {
            let mut some: Vec<f32> = loud.iter().step_by(3).map(|frame| frame[k]).collect();
            // Twice what is there in the quietest fifth of the time, and no less than a hiss below hearing.
            *floor = (2.0 * quantile(&mut some, 0.2))
                .max(1e-8)
                .max(loudest * RANGE);
        }
        let over = floors.map(|floor| 1.0 / floor);
        for frame in &mut loud {
            for (x, over) in frame.iter_mut().zip(&over) {
                *x = ln_1p(*x * over);
            }
        }
        Picture { loud, floors }
    }
}

/// How the spectrum rises at each frame of some sound.
pub(crate) struct Rises {
    picture: Picture,
    /// How far each part rose, and the length of that.
    rises: Vec<(f32, [f32; PARTS])>,
    /// What share of the power that came rings.
    shares: Vec<f32>,
    frames_a_second: f64,
    /// From the beginning of a frame's window to its middle, seconds.
    middle_s: f64,
}

impl Rises {
    /// The sounds that begin and ring, in order of time; where voices are known, those that contain one of the strongest, which come
    /// first, before all others, and before these the one most like a voice wherever a blow of it is expected.
    pub(crate) fn ringing(&self, voices: &[Voice], expected: &[(f64, &Voice)]) -> Vec<Ringing> {
        let near = count(APART_S * self.frames_a_second).max(1);
        // What does not ring may rise as far as it likes.
        let sizes: Vec<f32> = (self.rises.iter().zip(&self.shares))
            .map(|((size, _), share)| size * share)
            .collect();
        let mut found = peaks(&sizes, 0.5, near / 2);
        found.sort_by(|&a, &b| sizes[b].total_cmp(&sizes[a]));
        found.truncate(MOST_SOUNDS);
        for voice in voices.iter().take(STRONGEST).rev() {
            let own: Vec<f32> = (0..self.rises.len())
                .map(|at| self.speaks(at, voice))
                .collect();
            let own = peaks(&own, OWN, near);
            found.retain(|&at| own.iter().all(|o| o.abs_diff(at) >= near));
            found.extend(own);
        }
        for &(at_s, voice) in expected {
            if let Some(at) = self.most_like(voice, at_s) {
                found.retain(|&other| other.abs_diff(at) >= near);
                found.push(at);
            }
        }
        found.sort_unstable();
        found.dedup_by(|b, a| *b - *a < near / 2);
        found.into_iter().map(|at| self.sound(at)).collect()
    }

    /// How far a voice is in what begins at a frame; of two alike, what rings more.
    fn speaks(&self, at: usize, voice: &Voice) -> f32 {
        contains(&self.rises[at].1, &voice.rise) + 0.1 * self.shares[at]
    }

    /// The frame near a time at which most of a voice begins, if any of it does.
    fn most_like(&self, voice: &Voice, at_s: f64) -> Option<usize> {
        let frame = |s: f64| count(((s - self.middle_s) * self.frames_a_second).max(0.0));
        let n = self.rises.len();
        let around = frame(at_s - OFF_S).min(n)..frame(at_s + OFF_S).min(n);
        let best =
            around.max_by(|&a, &b| self.speaks(a, voice).total_cmp(&self.speaks(b, voice)))?;
        (self.speaks(best, voice) > OWN).then_some(best)
    }

    fn sound(&self, at: usize) -> Ringing {
        let (size, rise) = &self.rises[at];
        let rate = self.frames_a_second;
        let (lasting, pitch_hz) = self.picture.character(at, rise, rate);
        Ringing {
            at_s: self.picture.crossing(at, rise, rate) + self.middle_s,
            rise: rise.to_vec(),
            size: *size,
            lasting,
            share: self.shares[at],
            pitch_hz,
        }
    }
}

/// Where a measure is the greatest among so many neighbours either way, and great enough.
fn peaks(measure: &[f32], least: f32, near: usize) -> Vec<usize> {
    let n = measure.len();
    (0..n)
        .filter(|&at| {
            let around = &measure[at.saturating_sub(near)..(at + near + 1).min(n)];
            measure[at] > least && around.iter().all(|other| *other <= measure[at])
        })
        .collect()
}

/// How far each part of the spectrum rose between frames before a place and soon after it, and rings on later; and what share of
/// the power that came rings.
fn rise(
    before: &[[f32; PARTS]],
    soon: &[[f32; PARTS]],
    later: &[[f32; PARTS]],
    floors: &[f32; PARTS],
) -> ([f32; PARTS], f32) {
    let (before, soon) = (mean(before), most(soon));
    let (later, top) = (mean(later), most(later));
    let [mut rise, mut powers, mut rung] = [[0.0; PARTS]; 3];
    for k in 0..PARTS {
        let fallen = soon[k] - later[k];
        let rings = ((DEAD - fallen) / (DEAD - RINGS)).clamp(0.0, 1.0);
        // What stands low over the room is soon down to it, whatever it is: half of the rise has to stay.
        let up = (soon[k] - before[k]).min(2.0 * (later[k] - before[k]));
        let up = (up - LEAST_RISE).max(0.0);
        // Louder later than soon: it has not begun yet.
        let begun = (1.0 + SOONER - (top[k] - soon[k])).clamp(0.0, 1.0);
        rise[k] = begun * rings * up.min(MOST_RISE);
        if before[k] > LOUD && (soon[k] - before[k]).abs() < UNCHANGED && rise[k] < LITTLE {
            rise[k] = HIDDEN;
        }
        powers[k] = (exp(soon[k]) - exp(before[k])).max(0.0) * floors[k];
        rung[k] = if up > 0.0 { rings * powers[k] } else { 0.0 };
    }
    (rise, sum(&rung) / (sum(&powers) + 1e-20))
}

fn mean(frames: &[[f32; PARTS]]) -> [f32; PARTS] {
    let mut sums = [0.0; PARTS];
    for frame in frames {
        for (sum, x) in sums.iter_mut().zip(frame) {
            *sum += x;
        }
    }
    let share = 1.0 / whole32(frames.len().max(1));
    sums.map(|sum| sum * share)
}

fn most(frames: &[[f32; PARTS]]) -> [f32; PARTS] {
    let mut most = [0.0_f32; PARTS];
    for frame in frames {
        for (most, &x) in most.iter_mut().zip(frame) {
            *most = if x > *most { x } else { *most };
        }
    }
    most
}

/// Loudness of each part of the spectrum over its quietest, frame by frame, in natural logarithms of power.
struct Picture {
    loud: Vec<[f32; PARTS]>,
    /// What each is told over, as power.
    floors: [f32; PARTS],
}

impl Picture {
    /// When the partials that rose most had risen by half, which is when the middle of the window passed the blow; seconds.
    fn crossing(&self, at: usize, rise: &[f32; PARTS], frames_a_second: f64) -> f64 {
        let frame = |s: f64| count((whole(at) + s * frames_a_second).max(0.0));
        let (from, to) = (frame(-0.12), frame(0.22).min(self.loud.len()));
        let mut curve = vec![0.0_f32; to.saturating_sub(from)];
        for (k, &rise) in rise.iter().enumerate() {
            if rise < 0.5 * MOST_RISE {
                continue;
            }
            // Loudness, not power: the square root of it is straight in the part of the window that rings.
            let loud = |frame: &[f32; PARTS]| frame[k].exp_m1().max(0.0).sqrt();
            let top = self.loud[from..to].iter().map(loud).fold(0.0, f32::max);
            let low = self.loud[from..to]
                .iter()
                .map(loud)
                .fold(f32::MAX, f32::min);
            for (sum, frame) in curve.iter_mut().zip(&self.loud[from..to]) {
                *sum += rise * (loud(frame) - low) / (top - low).max(1e-6);
            }
        }
        let top = curve.iter().copied().fold(0.0, f32::max);
        let Some(peak) = curve
            .iter()
            .position(|&x| x >= 0.9 * top)
            .filter(|_| top > 0.0)
        else {
            return whole(at) / frames_a_second;
        };
        let half = (0..peak).rev().find(|&i| curve[i] < 0.5 * top);
        half.map_or(whole(at), |i| {
            let part = (0.5 * top - curve[i]) / (curve[i + 1] - curve[i]).max(1e-6);
            whole(from + i) + f64::from(part)
        }) / frames_a_second
    }

    /// How much of a rise lasts, and where its strongest partial is.
    fn character(&self, at: usize, rise: &[f32; PARTS], frames_a_second: f64) -> (f32, f32) {
        let frame = |s: f64| count((whole(at) + s * frames_a_second).max(0.0));
        let (mut lasts, mut all) = (0.0, 0.0);
        let late = self.loud.get(frame(0.35)..frame(0.45).min(self.loud.len()));
        let late = late.unwrap_or(&[]);
        let before = self
            .loud
            .get(frame(BEFORE_S.0)..frame(BEFORE_S.1))
            .unwrap_or(&[]);
        let soon = self
            .loud
            .get(frame(SOON_S.0)..frame(SOON_S.1).min(self.loud.len()));
        let soon = soon.unwrap_or(&[]);
        let mean = |frames: &[[f32; PARTS]], k: usize| {
            frames.iter().map(|f| f[k]).sum::<f32>() / whole32(frames.len().max(1))
        };
        let mut strongest = (f32::MIN, 0);
        for (k, &rise) in rise.iter().enumerate() {
            if rise <= 0.0 {
                continue;
            }
            all += rise;
            let up = mean(late, k) - mean(before, k);
            let first = mean(soon, k) - mean(before, k);
            lasts += rise * ((up / first.max(0.1)) / 0.6).clamp(0.0, 1.0);
            // How far a partial stands above the room says how strong it is, since rooms fall off as bells do.
            let strength = mean(soon, k);
            if strength > strongest.0 {
                strongest = (strength, k);
            }
        }
        let lasting = if late.is_empty() || all <= 0.0 {
            0.0
        } else {
            lasts / all
        };
        let hz = LOWEST_HZ * (whole(strongest.1) / PARTS_AN_OCTAVE).exp2();
        #[expect(clippy::cast_possible_truncation, reason = "to a quarter tone")]
        let hz = hz as f32;
        (lasting, hz)
    }
}
