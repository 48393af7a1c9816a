//! From blow to blow: how far they are apart, and the pace at which a clock strikes.

use crate::contour::quantile64;
use crate::ringing::Ringing;

/// How far one interval may be from the pace, in parts of it.
pub(crate) const UNEVEN: f64 = 0.17;
/// How far the pace of a strike may be from the usual one, at least and at most: a spring runs down.
const VARIES: (f64, f64) = (0.08, 0.2);
/// Most blows of a run: twelve, and some too many to be told so. What goes on for longer is no strike.
pub(crate) const MOST_BLOWS: usize = 26;

/// Seconds from each of some sounds to the next.
pub(crate) fn steps(sounds: &[Ringing], members: &[usize]) -> Vec<f64> {
    let step = |w: &[usize]| sounds[w[1]].at_s - sounds[w[0]].at_s;
    members.windows(2).map(step).collect()
}

/// The usual seconds from one of some sounds to the next; nothing for fewer than two.
pub(crate) fn pace(sounds: &[Ringing], members: &[usize]) -> Option<f64> {
    let mut steps = steps(sounds, members);
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

/// The pace at which a clock strikes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pace {
    /// Seconds from blow to blow.
    pub(crate) usual_s: f64,
    /// How far a strike may be from it, in parts of it.
    varies: f64,
}

impl Pace {
    /// At which most blows were struck, by the runs of three and more; nothing where they do not agree. Of each run, how many
    /// blows it has, and the seconds from one to the next.
    pub(crate) fn of(runs: impl Iterator<Item = (usize, Option<f64>)>) -> Option<Pace> {
        let mut paces: Vec<f64> = Vec::new();
        for (blows, pace_s) in runs.filter(|(blows, _)| *blows >= 3) {
            paces.extend(
                pace_s
                    .into_iter()
                    .flat_map(|p| std::iter::repeat_n(p, blows)),
            );
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

    pub(crate) fn between(self) -> (f64, f64) {
        let most = 1.0 + self.varies;
        (self.usual_s / most, self.usual_s * most)
    }
}
