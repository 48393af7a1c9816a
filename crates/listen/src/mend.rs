//! Puts a row of blows of a known voice right, by its own pace: takes off its ends what only resembles a blow, and adds blows that
//! something drowned where the pace of the others says they must be, fainter ones than would speak for themselves.

use crate::ringing::Ringing;
use crate::steps::{MOST_BLOWS, UNEVEN, pace};
use crate::voice::Voice;

/// A blow is looked for so far from where others say it must be, in parts of the pace.
const NEAR: f64 = 0.11;
/// A first or last blow within so much of the pace may be so much less alike; one that rings less than this must be so much more.
const EVEN: f64 = 0.06;
const LESS_ALIKE: f32 = 0.06;
const HARDLY_RINGS: f32 = 0.15;
const MORE_ALIKE: f32 = 0.1;
/// How alike a drowned blow must be between two others.
const BETWEEN: f32 = 0.3;

/// Mends a row; one without a pace, and of a voice without a usual one, is left as it is.
pub(crate) fn mend(members: &mut Vec<usize>, sounds: &[Ringing], voice: &Voice) {
    let own = pace(sounds, members)
        .filter(|own| members.len() >= 3 && voice.pace.is_none_or(|pace| pace.is_near(*own)));
    if let Some(pace) = own.or(voice.pace.map(|pace| pace.usual_s)) {
        let row = Row {
            sounds,
            voice,
            pace,
        };
        row.trim(members);
        row.fill(members);
        row.go_on(members);
    }
}

/// What a row is mended by.
struct Row<'a> {
    sounds: &'a [Ringing],
    voice: &'a Voice,
    pace: f64,
}

impl Row<'_> {
    fn at(&self, i: usize) -> f64 {
        self.sounds[i].at_s
    }

    fn like(&self, i: usize) -> f32 {
        self.voice.is_like(&self.sounds[i])
    }

    /// How far a sound is from where a blow is expected, in parts of the pace.
    fn off(&self, i: usize, expected: f64) -> f64 {
        (self.at(i) - expected).abs() / self.pace
    }

    /// Whether a sound is enough like a blow that is expected there to be the first or the last.
    fn is_end(&self, i: usize, expected: f64) -> bool {
        let even = self.off(i, expected) < EVEN;
        let less = if even { LESS_ALIKE } else { 0.0 };
        let dull = self.sounds[i].rings() < HARDLY_RINGS;
        let more = if dull { MORE_ALIKE } else { 0.0 };
        self.like(i) > self.voice.beside - less + more
    }

    /// The sound most like a blow near where one is expected.
    fn nearest(&self, expected: f64) -> Option<usize> {
        let close = (0..self.sounds.len()).filter(|&i| self.off(i, expected) < NEAR);
        close.max_by(|&a, &b| self.like(a).total_cmp(&self.like(b)))
    }

    /// The same, if it may be a blow that others drown.
    fn drowned(&self, expected: f64) -> Option<usize> {
        self.nearest(expected).filter(|&i| self.like(i) > BETWEEN)
    }

    /// Takes off the ends what is no blow; of a pair, one stays.
    fn trim(&self, members: &mut Vec<usize>) {
        let apart = |from: usize, to: usize| {
            let turns = ((self.at(to) - self.at(from)) / self.pace).round();
            turns.max(1.0) * self.pace
        };
        while let [.., before, last] = members[..]
            && !self.is_end(last, self.at(before) + apart(before, last))
        {
            members.pop();
        }
        while let [first, after, ..] = members[..]
            && !self.is_end(first, self.at(after) - apart(first, after))
        {
            members.remove(0);
        }
    }

    /// Puts in the one that is missing between two.
    fn fill(&self, members: &mut Vec<usize>) {
        let gaps = members.windows(2).map(|w| (self.at(w[0]), self.at(w[1])));
        let of_two = |(from, to): &(f64, f64)| ((to - from) / self.pace - 2.0).abs() < 2.0 * UNEVEN;
        let between = gaps.filter(of_two);
        let between: Vec<usize> = between
            .filter_map(|(from, to)| self.drowned(0.5 * (from + to)))
            .collect();
        members.extend(between);
        members.sort_unstable();
        members.dedup();
    }

    /// Goes on from both ends.
    fn go_on(&self, members: &mut Vec<usize>) {
        while members.len() <= MOST_BLOWS
            && let Some(more) = self.beyond(members[members.len() - 1], self.pace)
        {
            members.extend(more);
        }
        while members.len() <= MOST_BLOWS
            && let Some(more) = self.beyond(members[0], -self.pace)
        {
            members.splice(0..0, more.into_iter().rev());
        }
    }

    /// The next blow from an end, with those passed over on the way to it, of which there may be one or two that are drowned.
    fn beyond(&self, end: usize, step: f64) -> Option<Vec<usize>> {
        let expected = |k: i32| self.at(end) + step * f64::from(k);
        (1..=3).find_map(|far| {
            let next = self
                .nearest(expected(far))
                .filter(|&i| i != end && self.is_end(i, expected(far)))?;
            let passed = (1..far).map(|k| self.drowned(expected(k)));
            let mut all: Vec<usize> = passed.collect::<Option<_>>()?;
            all.push(next);
            Some(all)
        })
    }
}
