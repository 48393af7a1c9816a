//! How steady: the deviations of frequency statistics, from phase (W. J. Riley, *Handbook of Frequency Stability Analysis*, NIST
//! Special Publication 1065, 2008, section 5). Phase is the time told less the time that passed, at even steps; frequency its
//! slope. Nothing is smoothed, and no confidence is told.

use crate::bands::whole;

/// Which deviation, by the standard's name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Deviation {
    /// Allan deviation, from averages that do not overlap.
    Allan,
    /// Overlapping Allan deviation.
    OverlappingAllan,
    /// Modified Allan deviation.
    ModifiedAllan,
    /// Time deviation, in seconds.
    Time,
    /// Hadamard deviation.
    Hadamard,
    /// Overlapping Hadamard deviation.
    OverlappingHadamard,
    /// Total deviation.
    Total,
}

impl Deviation {
    /// All of them.
    pub const ALL: [Deviation; 7] = [
        Deviation::Allan,
        Deviation::OverlappingAllan,
        Deviation::ModifiedAllan,
        Deviation::Time,
        Deviation::Hadamard,
        Deviation::OverlappingHadamard,
        Deviation::Total,
    ];

    /// Its name where figures are written for other programs.
    pub fn name(self) -> &'static str {
        match self {
            Deviation::Allan => "allan",
            Deviation::OverlappingAllan => "overlapping_allan",
            Deviation::ModifiedAllan => "modified_allan",
            Deviation::Time => "time",
            Deviation::Hadamard => "hadamard",
            Deviation::OverlappingHadamard => "overlapping_hadamard",
            Deviation::Total => "total",
        }
    }
}

/// A deviation over `m` steps of `step_s` seconds of phases in seconds; nothing where there are too few.
///
/// # Source
/// NIST SP 1065, equations 10, 11, 14 (through 15 for time), 17, 18 and 24.
pub fn deviation(which: Deviation, phase_s: &[f64], step_s: f64, m: usize) -> Option<f64> {
    if m == 0 || step_s <= 0.0 {
        return None;
    }
    let tau = whole(m) * step_s;
    let x = phase_s;
    let value = match which {
        Deviation::Allan => {
            let some: Vec<f64> = x.iter().step_by(m).copied().collect();
            mean(some.windows(3).map(|w| second(w[0], w[1], w[2])))? / (2.0 * tau * tau)
        }
        Deviation::OverlappingAllan => {
            let last = x.len().checked_sub(2 * m)?;
            mean((0..last).map(|i| second(x[i], x[i + m], x[i + 2 * m])))? / (2.0 * tau * tau)
        }
        Deviation::ModifiedAllan | Deviation::Time => {
            let last = (x.len() + 1).checked_sub(3 * m)?;
            let sums = (0..last).map(|j| {
                let sum: f64 = (j..j + m)
                    .map(|i| x[i + 2 * m] - 2.0 * x[i + m] + x[i])
                    .sum();
                sum * sum
            });
            let modified = mean(sums)? / (2.0 * tau * tau * whole(m) * whole(m));
            if which == Deviation::Time {
                modified * tau * tau / 3.0
            } else {
                modified
            }
        }
        Deviation::Hadamard => {
            let some: Vec<f64> = x.iter().step_by(m).copied().collect();
            mean(some.windows(4).map(|w| third(w[0], w[1], w[2], w[3])))? / (6.0 * tau * tau)
        }
        Deviation::OverlappingHadamard => {
            let last = x.len().checked_sub(3 * m)?;
            let thirds = (0..last).map(|i| third(x[i], x[i + m], x[i + 2 * m], x[i + 3 * m]));
            mean(thirds)? / (6.0 * tau * tau)
        }
        Deviation::Total => {
            // Carried on beyond both ends by turning the data about its end points.
            let n = x.len();
            if n < 3 || m > n - 1 {
                return None;
            }
            let at = |i: usize, back: bool| {
                // The phase m steps back or on from i.
                if back {
                    if i >= m {
                        x[i - m]
                    } else {
                        2.0 * x[0] - x[m - i]
                    }
                } else if i + m < n {
                    x[i + m]
                } else {
                    2.0 * x[n - 1] - x[2 * (n - 1) - i - m]
                }
            };
            mean((1..n - 1).map(|i| second(at(i, true), x[i], at(i, false))))? / (2.0 * tau * tau)
        }
    };
    Some(value.sqrt())
}

fn second(a: f64, b: f64, c: f64) -> f64 {
    (c - 2.0 * b + a).powi(2)
}

fn third(a: f64, b: f64, c: f64, d: f64) -> f64 {
    (d - 3.0 * c + 3.0 * b - a).powi(2)
}

fn mean(of: impl Iterator<Item = f64>) -> Option<f64> {
    let (n, sum) = of.fold((0, 0.0), |(n, sum), x| (n + 1, sum + x));
    (n > 0).then(|| sum / whole(n))
}
