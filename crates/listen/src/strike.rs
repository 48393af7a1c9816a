//! Blows that belong together: alike in voice, evenly paced. A run of them is an hour or a half. What a clock should have struck is not
//! known here.

use crate::bands::{count, whole, whole32};
use crate::bell::Ringing;
use crate::contour::{Start, quantile64};
use crate::voice::Voice;

/// Seconds from blow to blow that are believed.
const PACES_S: (f64, f64) = (0.42, 4.4);
/// How far one interval may be from the pace, in parts of it; where the pace is known, no further than the other.
const UNEVEN: f64 = 0.17;
const KNOWN_UNEVEN: f64 = 0.15;
/// How far the pace of a strike may be from the usual one, at least and at most: a spring runs down.
const VARIES: (f64, f64) = (0.08, 0.2);
/// A blow is looked for so far from where others say it must be, in parts of the pace.
const NEAR: f64 = 0.11;
/// A first or last blow within so much of the pace may be so much less alike; one that rings less than this must be so much more.
const EVEN: f64 = 0.06;
const LESS_ALIKE: f32 = 0.06;
const HARDLY_RINGS: f32 = 0.15;
const MORE_ALIKE: f32 = 0.1;
/// What a blow left out in the middle of a run costs, in parts of a perfect blow.
const LEFT_OUT: f32 = 0.22;
/// A blow by itself must ring on at least so much, and rise so far, to be taken for one where the voice is not known.
pub(crate) const ALONE_LASTING: f32 = 0.8;
pub(crate) const ALONE_SIZE: f32 = 6.5;
/// Where it is known, so much of what sounded must ring, whoever talks.
const KNOWN_SHARE: f32 = 0.3;
/// How far a blow after a pair must speak for itself, where the next pair is waited for.
const AFTER_A_PAIR: f32 = 0.25;
/// How alike a drowned blow must be between two others.
const BETWEEN: f32 = 0.3;
/// What must speak for a run whose voice is not known: two perfect blows have some 0.65, ticks in a room at most half that.
const EVIDENCE: f32 = 0.6;
/// Blows whose voice is known ring on so much at least, on the mean.
const LASTING: f32 = 0.12;
const SHARE: f32 = 0.7;
/// Most blows of a run: twelve, and some too many to be told so. What goes on for longer is no strike.
const MOST_BLOWS: usize = 26;
/// Runs in one stretch, at most, and seconds that part them.
const MOST_RUNS: usize = 30;
const CLEAR_S: f64 = 5.0;

/// Blows that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Strike {
    /// When each fell, seconds from the beginning of the recording.
    pub blow_times_s: Vec<f64>,
    /// One standard deviation of each, seconds.
    pub spread_s: f64,
    /// The strongest partial, hertz.
    pub pitch_hz: f64,
}

impl Strike {
    /// Mean seconds from blow to blow; nothing for a single one.
    pub fn pace_s(&self) -> Option<f64> {
        let (first, last) = (self.blow_times_s.first()?, self.blow_times_s.last()?);
        let steps = self.blow_times_s.len() - 1;
        (steps > 0).then(|| (last - first) / whole(steps))
    }

    /// Whether another follows so closely, at the pace of either, that a cut fell between its blows.
    pub(crate) fn goes_on_in(&self, next: &Strike) -> bool {
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
    /// What speaks for it.
    score: f32,
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

/// The usual seconds from one of some sounds to the next; nothing for fewer than two.
pub(crate) fn pace(sounds: &[Ringing], members: &[usize]) -> Option<f64> {
    let mut steps: Vec<f64> = (members.windows(2))
        .map(|w| sounds[w[1]].at_s - sounds[w[0]].at_s)
        .collect();
    if steps.is_empty() {
        return None;
    }
    // The mean, blows left out being counted.
    let usual = quantile64(&mut steps, 0.4);
    let turns: f64 = steps
        .iter()
        .map(|step| (step / usual).round().max(1.0))
        .sum();
    Some(steps.iter().sum::<f64>() / turns)
}

/// The run in a stretch, with a voice that is known or one that is learned here; nothing where nothing is struck.
pub(crate) fn run(sounds: &[Ringing], known: Option<&Voice>) -> Option<Run> {
    let mut seeds: Vec<Voice> = Vec::new();
    match known {
        Some(voice) => seeds.push(voice.clone()),
        None => {
            let mut by_size: Vec<&Ringing> = sounds.iter().collect();
            by_size.sort_by(|a, b| (b.size * b.lasting).total_cmp(&(a.size * a.lasting)));
            seeds.extend(by_size.iter().take(8).map(|&sound| Voice::of(&[sound])));
        }
    }
    let mut best: Option<Run> = None;
    for seed in seeds {
        let mut voice = seed;
        for round in 0..3 {
            let Some((members, score)) = best_row(sounds, &voice) else {
                break;
            };
            let some: Vec<&Ringing> = members.iter().map(|&i| &sounds[i]).collect();
            if known.is_none() {
                voice = Voice::of(&some);
            }
            if round < 2 && known.is_none() {
                continue;
            }
            let mut run = Run {
                voice: voice.clone(),
                score,
                pace_s: pace(sounds, &members),
                members,
            };
            if known.is_none() {
                let (lasting, share) = ring(sounds, &run.members);
                run.voice.rings = lasting * share;
                run.voice.strength = (score * run.voice.rings).powi(2);
            }
            if let Some(voice) = known {
                mend(&mut run.members, sounds, voice);
            }
            // A long row of ticks must not hide three good blows, nor a row of syllables two.
            let clearer = |best: &Run| match known {
                Some(_) => run.score > best.score,
                None => run.voice.strength > best.voice.strength,
            };
            if believed(&run, sounds, known) && best.as_ref().is_none_or(clearer) {
                best = Some(run);
            }
        }
    }
    best
}

/// Puts a run of a known voice right: takes off its ends what only resembles a blow, and adds blows that something drowned where the
/// pace of the others says they must be, fainter ones than would speak for themselves.
fn mend(members: &mut Vec<usize>, sounds: &[Ringing], voice: &Voice) {
    let usual = voice.pace.map(|pace| pace.usual_s);
    let own = pace(sounds, members)
        .filter(|own| members.len() >= 3 && voice.pace.is_none_or(|pace| pace.is_near(*own)));
    let Some(pace) = own.or(usual) else {
        return;
    };
    let at = |i: usize| sounds[i].at_s;
    // How far a sound is from where a blow is expected, in parts of the pace, and whether it is enough like one to be the first or last.
    let off = |i: usize, expected: f64| (at(i) - expected).abs() / pace;
    let is_end = |i: usize, expected: f64| {
        let even = off(i, expected) < EVEN;
        let less = if even { LESS_ALIKE } else { 0.0 };
        let rings = sounds[i].lasting * sounds[i].share;
        let more = if rings < HARDLY_RINGS {
            MORE_ALIKE
        } else {
            0.0
        };
        voice.is_like(&sounds[i]) > voice.beside - less + more
    };
    let turns = |from: f64, to: f64| ((to - from) / pace).round().max(1.0) * pace;
    while let [.., before, last] = members[..]
        && !is_end(last, at(before) + turns(at(before), at(last)))
    {
        members.pop();
    }
    while let [first, after, ..] = members[..]
        && !is_end(first, at(after) - turns(at(first), at(after)))
    {
        members.remove(0);
    }
    let nearest = |expected: f64| {
        let like = |i: usize| voice.is_like(&sounds[i]);
        let close = (0..sounds.len()).filter(|&i| off(i, expected) < NEAR);
        close.max_by(|&a, &b| like(a).total_cmp(&like(b)))
    };
    let drowned =
        |expected: f64| nearest(expected).filter(|&i| voice.is_like(&sounds[i]) > BETWEEN);
    let mut between = Vec::new();
    for w in members.windows(2) {
        let (from, to) = (at(w[0]), at(w[1]));
        if ((to - from) / pace - 2.0).abs() < 2.0 * UNEVEN {
            between.extend(drowned(0.5 * (from + to)));
        }
    }
    members.extend(between);
    members.sort_unstable();
    members.dedup();
    // On from an end, if need be over one or two that are drowned.
    let beyond = |end: usize, step: f64| {
        (1..=3).find_map(|far| {
            let expected = at(end) + step * f64::from(far);
            let next = nearest(expected).filter(|&i| i != end && is_end(i, expected))?;
            let passed = (1..far).map(|k| drowned(at(end) + step * f64::from(k)));
            let mut all: Vec<usize> = passed.collect::<Option<_>>()?;
            all.push(next);
            Some(all)
        })
    };
    while members.len() <= MOST_BLOWS
        && let Some(more) = beyond(members[members.len() - 1], pace)
    {
        members.extend(more);
    }
    while members.len() <= MOST_BLOWS
        && let Some(mut more) = beyond(members[0], -pace)
    {
        more.reverse();
        members.splice(0..0, more);
    }
}

fn believed(run: &Run, sounds: &[Ringing], known: Option<&Voice>) -> bool {
    let n = whole32(run.members.len());
    let rings = ring(sounds, &run.members);
    match (run.members.len(), known) {
        (1, None) => {
            rings.0 > ALONE_LASTING && rings.1 > SHARE && sounds[run.members[0]].size > ALONE_SIZE
        }
        (1, Some(voice)) => {
            let sound = &sounds[run.members[0]];
            voice.is_like(sound) > voice.alone
                && sound.size > 0.5 * voice.size
                && sound.share > KNOWN_SHARE
        }
        // How alike they are, how long they ring, and with how much of their power, all together.
        (2..=MOST_BLOWS, None) => run.score * rings.0 * rings.1 > EVIDENCE && run.voice.size > 2.0,
        (2..=MOST_BLOWS, Some(_)) => run.score > 0.1 * n && rings.0 > LASTING,
        _ => false,
    }
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
        let Some(run) = run(&some, Some(voice)) else {
            break;
        };
        let members: Vec<usize> = run.members.iter().map(|&k| open[k]).collect();
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

/// The pace at which a clock strikes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pace {
    /// Seconds from blow to blow.
    pub(crate) usual_s: f64,
    /// How far a strike may be from it, in parts of it.
    varies: f64,
}

impl Pace {
    /// At which most blows were struck, by the runs of three and more; nothing where they do not agree.
    pub(crate) fn of<'a>(runs: impl Iterator<Item = &'a Run>) -> Option<Pace> {
        let mut paces: Vec<f64> = Vec::new();
        for run in runs.filter(|run| run.members.len() >= 3) {
            paces.extend(run.pace_s.iter().flat_map(|p| vec![*p; run.members.len()]));
        }
        let usual_s = quantile64(&mut paces, 0.5);
        let mut off: Vec<f64> = paces.iter().map(|p| (p / usual_s - 1.0).abs()).collect();
        let agree = off.iter().filter(|off| **off < VARIES.1).count();
        (paces.len() >= 6 && 10 * agree >= 7 * paces.len()).then(|| Pace {
            usual_s,
            varies: (VARIES.0 + quantile64(&mut off, 0.9)).min(VARIES.1),
        })
    }

    pub(crate) fn is_near(self, pace_s: f64) -> bool {
        let (fastest, slowest) = self.between();
        (fastest..slowest).contains(&pace_s)
    }

    fn between(self) -> (f64, f64) {
        let most = 1.0 + self.varies;
        (self.usual_s / most, self.usual_s * most)
    }
}
