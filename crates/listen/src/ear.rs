//! Listens to sound as it comes, in memory that does not grow with it but for the beats and blows themselves. Beats are made out
//! half a minute at a time; where something rings, the sound is kept until it has rung out, and blows are looked for there
//! first. The sums about what was heard are elsewhere.

use crate::bands::{Bands, Octaves, count, whole, whole32};
use crate::bell::Spectra;
use crate::chime::Chime;
use crate::contour::{Heights, Start, starts};
use crate::follow::{Beat, Followed, Follower, Stretch};
use crate::ringing::{Kept, Ringing};
use crate::settle::{Rung, settle, ticks};
use crate::strike::{HeardStrike, Run, all_runs, is_ticking, run};
use crate::voice::{Voice, add};
use crate::warning::Between;
use std::cell::OnceCell;

/// Seconds of sound that beats are made out in at once, and that neighbours share.
const STRETCH_S: f64 = 30.0;
const SHARED_S: f64 = 1.0;
/// Something struck is over after so many seconds without a further sound; slow clocks wait four.
const OVER_S: f64 = 6.5;
/// Kept before its first sound, seconds: what the room is like.
const BEFORE_S: f64 = 2.0;
/// The longest that is looked at at once, seconds: where it never stops ringing, somebody talks or plays.
const LONGEST_S: f64 = 110.0;
/// Seconds of one coarse step in which loudness is watched.
const STEP_S: f64 = 0.02;
/// A rise of an octave, lasting a tenth of a second, that is worth a look (natural logarithm of power).
const WORTH_A_LOOK: f32 = 0.9;
/// Beats kept, at most: 28 hours of a quick balance. What comes after is not listened to.
const MOST_BEATS: usize = 500_000;
/// Stretches with something ringing that are kept, at most.
const MOST_RUNGS: usize = 4_000;

/// How loud the recording is.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Levels {
    /// The furthest the sound swings, 1 being all a recording can hold.
    pub peak: f32,
    /// Samples at that end, and of how many.
    pub clipped: u64,
    /// All samples.
    pub samples: u64,
}

impl Levels {
    /// The part of all samples that is at the end of what a recording can hold.
    pub fn clipped_part(&self) -> f64 {
        let all = self.samples.max(1);
        self.clipped as f64 / all as f64
    }

    fn hear(&mut self, sound: &[f32]) {
        for part in sound.chunks(4096) {
            let mut peak = [0.0_f32; 8];
            let (eights, rest) = part.as_chunks::<8>();
            for eight in eights {
                for k in 0..8 {
                    peak[k] = peak[k].max(eight[k].abs());
                }
            }
            for &x in rest {
                peak[0] = peak[0].max(x.abs());
            }
            let most = peak.iter().copied().fold(0.0, f32::max);
            if most >= 0.995 {
                let n = part.iter().filter(|x| x.abs() >= 0.995).count();
                self.clipped += u64::try_from(n).unwrap_or(0);
            }
            self.peak = self.peak.max(most);
        }
        self.samples += u64::try_from(sound.len()).unwrap_or(0);
    }
}

/// What was heard, in the recording's own time.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// Length of what was listened to, seconds.
    pub seconds: f64,
    /// Beats.
    pub beats: Vec<Beat>,
    /// Beats there should have been while the clock was heard.
    pub foretold: usize,
    /// Hours and halves as struck.
    pub strikes: Vec<HeardStrike>,
    /// Chimes.
    pub chimes: Vec<Chime>,
    /// What sounded between the ticks.
    pub between: Between,
    /// How loud.
    pub levels: Levels,
    /// Whether it went on after all that is kept was full.
    pub full: bool,
}

/// Listens.
#[derive(Debug)]
pub struct Detector {
    bands: Bands,
    spectra: Spectra,
    out: Octaves,
    /// Frames dropped from the front of `out`, and thinned samples.
    dropped: usize,
    thin_dropped: usize,
    follower: Follower,
    rungs: Vec<Rung>,
    /// The voices of runs so far, the strongest first.
    voices: Vec<Voice>,
    /// Seconds at which a stretch in which something rings began, and its latest sound.
    ringing: Option<(f64, f64)>,
    /// Coarse steps watched so far.
    watched: usize,
    /// Mean power of coarse steps of the octaves below the highest, the last thirty.
    steps: Vec<Vec<f32>>,
    struck: Vec<(f64, f64)>,
    first: bool,
    levels: Levels,
    full: bool,
}

impl Detector {
    /// For sound of so many samples a second, within [`crate::RATES_HZ`].
    pub fn new(rate: u32) -> Detector {
        Detector {
            bands: Bands::new(rate),
            spectra: Spectra::new(),
            out: Octaves::default(),
            dropped: 0,
            thin_dropped: 0,
            follower: Follower::default(),
            rungs: Vec::new(),
            voices: Vec::new(),
            ringing: None,
            watched: 0,
            steps: Vec::new(),
            struck: Vec::new(),
            first: true,
            levels: Levels::default(),
            full: false,
        }
    }

    /// Hears some more; false when it can keep no more.
    pub fn hear(&mut self, sound: &[f32]) -> bool {
        if self.full {
            return false;
        }
        // A second at a time, so that what is kept stays within bounds however much comes at once.
        for part in sound.chunks(48_000) {
            self.levels.hear(part);
            self.bands.hear(part, &mut self.out);
            self.watch();
            self.attend();
        }
        self.full = self.follower.beats().len() >= MOST_BEATS || self.rungs.len() >= MOST_RUNGS;
        !self.full
    }

    /// Seconds heard so far.
    pub fn seconds(&self) -> f64 {
        whole(self.dropped + self.frames()) / self.bands.frames_a_second()
    }

    fn frames(&self) -> usize {
        self.out.power.first().map_or(0, Vec::len)
    }

    /// Watches for sounds that last.
    fn watch(&mut self) {
        let rate = self.bands.frames_a_second();
        let step = count(STEP_S * rate).max(1);
        // The highest octaves carry clicks and hiss, not bells.
        let octaves = self.bands.count();
        let low = octaves.saturating_sub(3)..octaves;
        while (self.watched + 1) * step <= self.dropped + self.frames() {
            let from = self.watched * step - self.dropped;
            let loud: Vec<f32> = self.out.power[low.clone()]
                .iter()
                .map(|power| {
                    let mean = power[from..from + step].iter().sum::<f32>() / whole32(step);
                    (mean + 1e-10).ln()
                })
                .collect();
            self.steps.push(loud);
            if self.steps.len() > 30 {
                self.steps.remove(0);
            }
            self.watched += 1;
            let n = self.steps.len();
            if n >= 18 {
                let mean = |a: usize, b: usize, k: usize| {
                    self.steps[a..b].iter().map(|s| s[k]).sum::<f32>() / whole32(b - a)
                };
                // From 80 to 160 ms after a place against the 140 ms before it.
                let rises = (0..low.len())
                    .any(|k| mean(n - 4, n, k) - mean(n - 16, n - 9, k) > WORTH_A_LOOK);
                if rises {
                    let at = (whole(self.watched) - 8.5) * whole(step) / rate;
                    let begins = self
                        .ringing
                        .map_or((at - BEFORE_S).max(0.0), |(begins, _)| begins);
                    self.ringing = Some((begins, at));
                }
            }
        }
    }

    /// Looks at what has rung out, then at beats up to there.
    fn attend(&mut self) {
        let now = self.seconds();
        if let Some((begins, last)) = self.ringing
            && (now - last > OVER_S || now - begins > LONGEST_S)
        {
            self.ring_out(begins, now);
            self.ringing = None;
        }
        let decided = self.ringing.map_or(now - 1.0, |(begins, _)| begins);
        let rate = self.bands.frames_a_second();
        while decided - whole(self.dropped) / rate > STRETCH_S + 10.0 + SHARED_S {
            self.beat(
                count((STRETCH_S + SHARED_S) * rate),
                STRETCH_S + SHARED_S / 2.0,
            );
            let drop = count(STRETCH_S * rate);
            for power in &mut self.out.power {
                power.drain(..drop);
            }
            self.dropped += drop;
            self.first = false;
        }
        // The sound for bells is kept as far back as a look may reach.
        let keep_from = self
            .ringing
            .map_or(now - BEFORE_S - 2.0, |(begins, _)| begins);
        let thin = self.bands.thin_a_second();
        let drop = count((keep_from * thin).max(0.0)).saturating_sub(self.thin_dropped);
        if whole(drop) > 4.0 * thin {
            self.out.thin.drain(..drop.min(self.out.thin.len()));
            self.thin_dropped += drop;
        }
    }

    /// Looks for blows between two times.
    fn ring_out(&mut self, begins: f64, ends: f64) {
        let thin = self.bands.thin_a_second();
        let from = count((begins * thin).max(0.0)).saturating_sub(self.thin_dropped);
        let to = count(ends * thin)
            .saturating_sub(self.thin_dropped)
            .min(self.out.thin.len());
        if from >= to {
            return;
        }
        let part = &self.out.thin[from..to];
        let offset = whole(from + self.thin_dropped) / thin;
        let rises = self.spectra.rises(part, thin);
        let look = |voices: &[Voice], expected: &[(f64, &Voice)]| {
            let mut sounds = rises.ringing(voices, expected);
            for sound in &mut sounds {
                sound.at_s += offset;
            }
            sounds
        };
        let mut sounds = look(&self.voices, &[]);
        let starts = OnceCell::new();
        let starts = || starts.get_or_init(|| self.starts(begins));
        let mut found = self.struck_in(&sounds, starts);
        if let Some(run) = &found {
            // Now that its voice is known, or known better, what is like it is looked for once more, most of all where the others say
            // that a blow must be.
            let mut voices = self.voices.clone();
            add(&mut voices, &run.voice);
            // Its own first, then the strongest of those that ring as bells do.
            voices.sort_by_key(|voice| (!voice.is_of(&run.voice), !voice.rings_on()));
            let expected = run.expected(&sounds).into_iter();
            let expected: Vec<(f64, &Voice)> =
                expected.map(|at_s| (at_s - offset, &run.voice)).collect();
            sounds = look(&voices, &expected);
            found = self.struck_in(&sounds, starts);
            if let Some(run) = &found {
                add(&mut self.voices, &run.voice);
            }
        }
        for sound in &mut sounds {
            sound.at_s = self.sharpen(sound.at_s);
        }
        if sounds.is_empty() {
            return;
        }
        if let Some(found) = &found {
            for members in all_runs(&sounds, &found.voice) {
                let (first, last) = (members[0], members[members.len() - 1]);
                self.struck
                    .push((sounds[first].at_s - 0.15, sounds[last].at_s + 0.8));
            }
        }
        self.rungs.push(Rung {
            sounds: sounds.iter().map(Kept::of).collect(),
            run: found,
        });
    }

    /// The run among sounds, if it is a strike and no ticking, by where anything begins at all.
    fn struck_in<'a>(
        &self,
        sounds: &[Ringing],
        starts: impl FnOnce() -> &'a Vec<Start>,
    ) -> Option<Run> {
        let found = run(sounds)?;
        let ticks = ticks(&found.members, sounds, self.follower.beats())
            || is_ticking(&found, sounds, starts(), self.seconds());
        (!ticks).then_some(found)
    }

    /// Where anything begins, from a time on.
    fn starts(&self, begins: f64) -> Vec<Start> {
        let rate = self.bands.frames_a_second();
        let from = count((begins * rate).max(0.0)).saturating_sub(self.dropped);
        let power: Vec<Vec<f32>> = self
            .out
            .power
            .iter()
            .map(|p| p[from.min(p.len())..].to_vec())
            .collect();
        let heights = Heights::new(&power, rate);
        let mut starts = starts(&heights.join(&heights.weigh()));
        for start in &mut starts {
            start.at_s += whole(from + self.dropped) / rate;
        }
        starts
    }

    /// The moment within some hundredths of a second at which the octaves of bells rise most.
    fn sharpen(&self, at_s: f64) -> f64 {
        let rate = self.bands.frames_a_second();
        let octaves = self.bands.count();
        let place = count((at_s * rate).max(0.0)).saturating_sub(self.dropped);
        let reach = count(0.025 * rate);
        let span = count(0.010 * rate).max(2);
        let from = place.saturating_sub(reach).max(span);
        let to = (place + reach).min(self.frames().saturating_sub(span));
        let rise = |i: usize| {
            let mut sum = 0.0;
            for power in &self.out.power[octaves.saturating_sub(3)..] {
                let after: f32 = power[i..i + span].iter().sum();
                let before: f32 = power[i - span..i].iter().sum();
                sum += ((after + 1e-9) / (before + 1e-9)).ln();
            }
            sum
        };
        let best = (from..to).max_by(|&a, &b| rise(a).total_cmp(&rise(b)));
        best.map_or(at_s, |i| whole(self.dropped + i) / rate)
    }

    fn beat(&mut self, frames: usize, told_to: f64) {
        let rate = self.bands.frames_a_second();
        let begins_s = whole(self.dropped) / rate;
        let part: Vec<Vec<f32>> = self
            .out
            .power
            .iter()
            .map(|p| p[..frames.min(p.len())].to_vec())
            .collect();
        self.struck.retain(|(_, to)| *to > begins_s);
        let told_from = if self.first { 0.0 } else { SHARED_S / 2.0 };
        self.follower.hear(&Stretch {
            power: &part,
            rate,
            begins_s,
            told_s: (told_from, told_to),
            struck: &self.struck,
        });
    }

    /// All that was heard.
    pub fn finish(mut self) -> Heard {
        self.bands.finish(&mut self.out);
        self.watch();
        let now = self.seconds();
        if let Some((begins, _)) = self.ringing.take() {
            // As if silence followed: a blow at the very end has no after to be judged by otherwise.
            let thin = self.bands.thin_a_second();
            let quiet = count(0.5 * thin);
            self.out.thin.extend(std::iter::repeat_n(0.0, quiet));
            self.ring_out(begins, now + 0.5);
        }
        self.attend();
        let left = self.frames();
        if left > 0 {
            self.beat(left, f64::MAX);
        }
        let Followed {
            beats,
            foretold,
            between,
        } = self.follower.finish(now);
        let (strikes, chimes) = settle(&self.rungs, &beats);
        Heard {
            seconds: now,
            beats,
            foretold,
            between,
            strikes,
            chimes,
            levels: self.levels,
            full: self.full,
        }
    }
}
