//! Blows that belong together: alike in voice, evenly paced. A run of them is an hour or a half. What a clock should have struck is not
//! known here.

use crate::bands::{count, whole, whole32};
use crate::contour::{Start, quantile64};
use crate::mend::mend;
use crate::ringing::Ringing;
use crate::steps::{MOST_BLOWS, Pace, UNEVEN, pace};
use crate::voice::Voice;

/// Seconds from blow to blow that are believed.
const PACES_S: (f64, f64) = (0.42, 4.4);
/// The most that an interval may be from the pace, in parts of it, where that is known.
const KNOWN_UNEVEN: f64 = 0.15;
/// What a blow left out in the middle of a run costs, in parts of a perfect blow.
const LEFT_OUT: f32 = 0.22;
/// A blow by itself must ring on at least so much, and rise so far, to be taken for one where the voice is not known.
pub(crate) const ALONE_LASTING: f32 = 0.8;
pub(crate) const ALONE_SIZE: f32 = 6.5;
/// Where it is known, so much of what sounded must ring, whoever talks.
const KNOWN_SHARE: f32 = 0.3;
/// How far a blow after a pair must speak for itself, where the next pair is waited for.
const AFTER_A_PAIR: f32 = 0.25;
/// What must speak for a run whose voice is not known: two perfect blows have some 0.65, ticks in a room at most half that.
const EVIDENCE: f32 = 0.6;
/// Blows whose voice is known ring on so much at least, on the mean.
const LASTING: f32 = 0.12;
const SHARE: f32 = 0.7;
/// Runs in one stretch, at most, and seconds that part them.
const MOST_RUNS: usize = 30;
const CLEAR_S: f64 = 5.0;

/// Blows that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct HeardStrike {
    /// When each fell, seconds from the beginning of the recording.
    pub blow_times_s: Vec<f64>,
    /// One standard deviation of each, seconds.
    pub spread_s: f64,
    /// The strongest partial, hertz.
    pub pitch_hz: f64,
}

impl HeardStrike {
    /// Mean seconds from blow to blow; nothing for a single one.
    pub fn pace_s(&self) -> Option<f64> {
        let (first, last) = (self.blow_times_s.first()?, self.blow_times_s.last()?);
        let steps = self.blow_times_s.len() - 1;
        (steps > 0).then(|| (last - first) / whole(steps))
    }

    /// Whether another follows so closely, at the pace of either, that a cut fell between its blows.
    pub(crate) fn goes_on_in(&self, next: &HeardStrike) -> bool {
        let (Some(last), Some(first)) = (self.blow_times_s.last(), next.blow_times_s.first())
        else {
            return false;
        };
        let pace = self
            .pace_s()
            .or_else(|| next.pace_s())
            .unwrap_or(PACES_S.1 / 2.0);
        first - last < (1.0 + 1.5 * UNEVEN) * pace
    }
}

/// A run in a stretch: which of its sounds.
#[derive(Debug, Clone)]
pub(crate) struct Run {
    pub(crate) members: Vec<usize>,
    pub(crate) voice: Voice,
    /// Seconds from blow to blow; nothing for a single one.
    pub(crate) pace_s: Option<f64>,
}

impl Run {
    /// When further blows would be, by its pace: where some were left out, and before the first and after the last.
    pub(crate) fn expected(&self, sounds: &[Ringing]) -> Vec<f64> {
        let (Some(pace), [first, .., last]) = (self.pace_s, &self.members[..]) else {
            return Vec::new();
        };
        let mut expected = vec![sounds[*first].at_s - pace, sounds[*last].at_s + pace];
        for w in self.members.windows(2) {
            let (from, to) = (sounds[w[0]].at_s, sounds[w[1]].at_s);
            let turns = ((to - from) / pace).round();
            let between = (1..4).map(f64::from).take_while(|k| *k < turns);
            expected.extend(between.map(|k| from + k * (to - from) / turns));
        }
        expected
    }
}

/// The clearest run in a stretch, of whatever voice; nothing where nothing is struck.
pub(crate) fn run(sounds: &[Ringing]) -> Option<Run> {
    let mut by_size: Vec<&Ringing> = sounds.iter().collect();
    by_size.sort_by(|a, b| (b.size * b.lasting).total_cmp(&(a.size * a.lasting)));
    let runs = by_size.iter().take(8);
    let runs = runs.filter_map(|&sound| learned(sounds, Voice::of(&[sound])));
    // A long row of ticks must not hide three good blows, nor a row of syllables two.
    runs.reduce(|best, run| {
        if run.voice.strength > best.voice.strength {
            run
        } else {
            best
        }
    })
}

/// The run whose voice is learned from one sound on, if enough speaks for it.
fn learned(sounds: &[Ringing], mut voice: Voice) -> Option<Run> {
    let (mut members, mut score) = (Vec::new(), 0.0);
    for _ in 0..3 {
        (members, score) = best_row(sounds, &voice)?;
        let blows: Vec<&Ringing> = members.iter().map(|&i| &sounds[i]).collect();
        voice = Voice::of(&blows);
    }
    let (lasting, share) = ring(sounds, &members);
    // How alike its blows are, how long they ring, and with how much of their power, all together.
    voice.rings = lasting * share;
    let clear = score * voice.rings;
    voice.strength = clear.powi(2);
    let believed = match members.len() {
        1 => lasting > ALONE_LASTING && share > SHARE && sounds[members[0]].size > ALONE_SIZE,
        2..=MOST_BLOWS => clear > EVIDENCE && voice.size > 2.0,
        _ => false,
    };
    believed.then(|| Run {
        pace_s: pace(sounds, &members),
        members,
        voice,
    })
}

/// The clearest run of a known voice, put right.
fn run_of_voice(sounds: &[Ringing], voice: &Voice) -> Option<Vec<usize>> {
    let (mut members, score) = best_row(sounds, voice)?;
    mend(&mut members, sounds, voice);
    let believed = match members.len() {
        1 => {
            let sound = &sounds[members[0]];
            voice.is_like(sound) > voice.alone
                && sound.size > 0.5 * voice.size
                && sound.share > KNOWN_SHARE
        }
        n @ 2..=MOST_BLOWS => score > 0.1 * whole32(n) && ring(sounds, &members).0 > LASTING,
        _ => false,
    };
    believed.then_some(members)
}

/// How far some sounds last and what share of them rings, on the mean.
pub(crate) fn ring(sounds: &[Ringing], members: &[usize]) -> (f32, f32) {
    let n = whole32(members.len().max(1));
    let mean = |of: fn(&Ringing) -> f32| members.iter().map(|&i| of(&sounds[i])).sum::<f32>() / n;
    (mean(|s| s.lasting), mean(|s| s.share))
}

/// Whether a run is part of a ticking: it fills the recording from end to end, or like beginnings go on before or after it at its
/// own pace; unless it rings as only a bell does.
pub(crate) fn is_ticking(run: &Run, sounds: &[Ringing], starts: &[Start], length_s: f64) -> bool {
    let at = |k: usize| sounds[run.members[k]].at_s;
    let n = run.members.len();
    let height = |at: f64, near: f64| {
        let near = starts.iter().filter(|s| (s.at_s - at).abs() < near);
        near.map(|s| s.height).fold(0.0, f64::max)
    };
    if n < 2 {
        // By itself it is a blow only where nothing like it is near.
        let own = height(at(0), 0.03);
        let far = |s: &&Start| (0.1..2.0).contains(&(s.at_s - at(0)).abs());
        return starts.iter().filter(far).any(|s| s.height > 0.5 * own);
    }
    let (first, last) = (at(0), at(n - 1));
    let pace = (last - first) / whole(n - 1);
    let mut heights: Vec<f64> = (0..n).map(|k| height(at(k), 0.03)).collect();
    let usual = quantile64(&mut heights, 0.5);
    // A recording full of it, with a like sound in each gap at the same place: tick and tock.
    let fills = first < 2.0 * pace && last > length_s - 2.0 * pace;
    let gaps: Vec<(f64, f64)> = (1..n).map(|k| (at(k - 1), at(k))).collect();
    if fills && gaps.len() >= 3 && has_tocks(&gaps, starts, 0.3 * usual) {
        return true;
    }
    let (lasting, share) = ring(sounds, &run.members);
    if lasting > ALONE_LASTING && share > 0.85 {
        return false;
    }
    let (mut there, mut asked) = (0, 0);
    for k in 1..=4 {
        for place in [first - pace * f64::from(k), last + pace * f64::from(k)] {
            if place > 0.0 && place < length_s - 0.02 {
                asked += 1;
                there += usize::from(height(place, 0.03 * pace) > 0.5 * usual);
            }
        }
    }
    asked == 0 || (there >= 3.min(asked) && 5 * there >= 4 * asked)
}

/// Whether something as loud as asked begins in nearly each gap at one place near its middle.
fn has_tocks(gaps: &[(f64, f64)], starts: &[Start], least: f64) -> bool {
    const MIDDLE: std::ops::Range<f64> = 0.35..0.65;
    let places = |&(from, to): &(f64, f64)| -> Vec<f64> {
        let loud = starts.iter().filter(|s| s.height > least);
        let places = loud.map(|s| (s.at_s - from) / (to - from));
        places.filter(|place| MIDDLE.contains(place)).collect()
    };
    let all: Vec<Vec<f64>> = gaps.iter().map(places).collect();
    let is_usual = |place: &f64| {
        let has = |gap: &&Vec<f64>| gap.iter().any(|other| (other - place).abs() < 0.05);
        10 * all.iter().filter(has).count() >= 8 * gaps.len()
    };
    all.iter().flatten().any(is_usual)
}

/// All runs of a voice, the clearest first taken out, then what is left between.
pub(crate) fn all_runs(sounds: &[Ringing], voice: &Voice) -> Vec<Vec<usize>> {
    let mut open: Vec<usize> = (0..sounds.len()).collect();
    let mut runs = Vec::new();
    while runs.len() < MOST_RUNS {
        let some: Vec<Ringing> = open.iter().map(|&i| sounds[i].clone()).collect();
        let Some(members) = run_of_voice(&some, voice) else {
            break;
        };
        let members: Vec<usize> = members.iter().map(|&k| open[k]).collect();
        let (first, last) = (
            sounds[members[0]].at_s,
            sounds[members[members.len() - 1]].at_s,
        );
        // What sounds among its blows, or right after them, is no further strike.
        open.retain(|&i| sounds[i].at_s < first - CLEAR_S || sounds[i].at_s > last + CLEAR_S);
        runs.push(members);
    }
    runs.sort_by_key(|members| members[0]);
    runs
}

/// The row of sounds that speaks loudest for a voice, at whatever even pace.
fn best_row(sounds: &[Ringing], voice: &Voice) -> Option<(Vec<usize>, f32)> {
    let speaks: Vec<f32> = sounds.iter().map(|sound| voice.speaks(sound)).collect();
    let open: Vec<usize> = (0..sounds.len()).filter(|&i| speaks[i] > 0.0).collect();
    let alone = open
        .iter()
        .copied()
        .max_by(|&a, &b| speaks[a].total_cmp(&speaks[b]))?;
    let mut best = (vec![alone], speaks[alone]);
    let (mut pace, slowest) = voice.pace.map_or(PACES_S, Pace::between);
    let uneven = if voice.pace.is_some() {
        KNOWN_UNEVEN
    } else {
        UNEVEN
    };
    while pace < slowest {
        if let Some(row) = row_at(sounds, &speaks, &open, pace, uneven)
            && row.1 > best.1
        {
            best = row;
        }
        pace *= 1.05;
    }
    Some(best)
}

/// The best row at one pace, by looking back from each sound to those one pace, or two, before it; or three after each pair, as
/// ship's bells go (Goodrich, *The Modern Clock*, p. 315).
fn row_at(
    sounds: &[Ringing],
    speaks: &[f32],
    open: &[usize],
    pace: f64,
    uneven: f64,
) -> Option<(Vec<usize>, f32)> {
    let mut score = vec![0.0_f32; open.len()];
    let mut back: Vec<Option<usize>> = vec![None; open.len()];
    // Sounds in the row so far, and whether they go by pairs.
    let mut rows = vec![(1_usize, true); open.len()];
    for (k, &i) in open.iter().enumerate() {
        score[k] = speaks[i];
        for (j, &h) in open[..k].iter().enumerate() {
            let gap = (sounds[i].at_s - sounds[h].at_s) / pace;
            let steps = gap.round().max(1.0);
            let (n, by_pairs) = rows[j];
            // Across the pause between pairs only a blow that is clearly one.
            let paired = by_pairs
                && if n % 2 == 1 {
                    steps < 1.5
                } else {
                    (steps - 3.0).abs() < 0.5 && speaks[i] > AFTER_A_PAIR
                };
            let even = steps < 2.5 && !(by_pairs && n > 2);
            if !(even || paired) || (gap - steps).abs() > uneven * steps.sqrt() {
                continue;
            }
            // Uneven steps count a little against it, so that the truest pace and the truest sounds win.
            let uneven = 0.25 * whole32(count(100.0 * (gap / steps - 1.0).abs())) / 17.0;
            let left_out = if steps > 1.5 && !paired {
                LEFT_OUT
            } else {
                0.0
            };
            let total = score[j] + speaks[i] - left_out - 0.2 * uneven;
            if total > score[k] {
                score[k] = total;
                back[k] = Some(j);
                rows[k] = (n + 1, paired);
            }
        }
    }
    let end = (0..open.len()).max_by(|&a, &b| score[a].total_cmp(&score[b]))?;
    let mut members = vec![open[end]];
    let mut at = end;
    while let Some(before) = back[at] {
        members.push(open[before]);
        at = before;
        if members.len() > MOST_BLOWS {
            break;
        }
    }
    members.reverse();
    Some((members, score[end]))
}
