//! How rough an eye is: how many times as wide as was said its readings truly spread, and the hold under them with them.
//!
//! The spread that a person states is a hypothesis. Whoever is too sure of a slot is too sure of a pin and of the finger that
//! holds the train as well, so it is one factor for all of a look. Which one it is shows in looks that repeat each other or
//! follow on a shift; this only keeps the shares. What fits how well is worked out in `belief`.

use crate::assumed;

/// The eyes that may be, in times the spread that was said: half an octave from one to the next, nearer than a job's looks
/// tell them apart.
pub(crate) const TIMES: [f64; 7] = [
    0.5,
    std::f64::consts::FRAC_1_SQRT_2,
    1.0,
    std::f64::consts::SQRT_2,
    2.0,
    2.0 * std::f64::consts::SQRT_2,
    4.0,
];

/// Which of them sees as surely as it says.
const AS_SAID: usize = 2;

/// How likely each eye is, before anything is seen: four in ten are as said, three in four within half an octave, and
/// more are rougher than finer, since people are surer than they see. Common practice, no source.
const PRIOR: [f64; 7] = [0.05, 0.15, 0.40, 0.20, 0.12, 0.06, 0.02];

/// What was worse than this in one job, beside the eye that fits it best, may be forgiven by the next.
const LEAST: f64 = 1e-6;

/// How rough an eye may be: a share for each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eye {
    pub(crate) shares: [f64; TIMES.len()],
}

/// What one job showed of the eye: how well each would explain all that was seen, the best of them 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    likelihoods: [f64; TIMES.len()],
}

impl Default for Eye {
    fn default() -> Eye {
        Eye { shares: PRIOR }
    }
}

impl Eye {
    /// So many jobs tell the eye of the next, the last of those in which anything was read: an eye grows older. Ours.
    pub const JOBS: usize = 12;

    /// One that sees as surely as it says.
    pub fn as_said() -> Eye {
        let mut shares = [0.0; TIMES.len()];
        shares[AS_SAID] = 1.0;
        Eye { shares }
    }

    /// The eye to expect in the next job of a book whose jobs showed this: a part of what they show together; the rest is as if
    /// nothing were known, for another hand, another light, another kind of clock.
    pub fn after(jobs: &[Shown]) -> Eye {
        let before = Eye::default();
        if jobs.is_empty() {
            return before;
        }
        let mut shares = before.shares;
        for job in jobs {
            for (share, likelihood) in shares.iter_mut().zip(job.likelihoods) {
                *share *= likelihood;
            }
            even_out(&mut shares);
        }
        let handed_on = assumed::EYE_HANDED_ON.value;
        for (share, before) in shares.iter_mut().zip(before.shares) {
            *share = handed_on * *share + (1.0 - handed_on) * before;
        }
        Eye { shares }
    }

    /// Several eyes, each with its share.
    pub(crate) fn mixed(eyes: &[Eye], parts: &[f64]) -> Eye {
        let mut shares = [0.0; TIMES.len()];
        for (eye, part) in eyes.iter().zip(parts) {
            for (sum, share) in shares.iter_mut().zip(eye.shares) {
                *sum += part * share;
            }
        }
        Eye { shares }
    }

    /// What turned this eye into that one.
    pub(crate) fn shown(&self, then: &Eye) -> Shown {
        let mut likelihoods = [0.0; TIMES.len()];
        for (likelihood, (now, then)) in likelihoods
            .iter_mut()
            .zip(self.shares.iter().zip(then.shares))
        {
            *likelihood = if *now > 0.0 { then / now } else { 0.0 };
        }
        let best = likelihoods
            .iter()
            .copied()
            .fold(f64::MIN_POSITIVE, f64::max);
        Shown {
            likelihoods: likelihoods.map(|likelihood| (likelihood / best).max(LEAST)),
        }
    }

    /// How many times as wide as said its readings spread, in the middle: the geometric mean.
    pub fn times(&self) -> f64 {
        let log: f64 = (self.shares.iter().zip(TIMES))
            .map(|(share, times)| share * libm::log(times))
            .sum();
        libm::exp(log)
    }
}

/// Makes shares of the whole.
fn even_out(shares: &mut [f64]) {
    let whole: f64 = shares.iter().sum();
    for share in shares {
        *share /= whole;
    }
}
