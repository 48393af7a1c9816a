//! A straight line through beats that are numbered: when the first fell, how long two take, how much later than the middle the
//! odd ones come. Weighted least squares, with far outliers held down (P. J. Huber, "Robust Estimation of a Location
//! Parameter", Annals of Mathematical Statistics 35, 1964). What the numbers mean is not known here.

use crate::pulse::robust_sd;

/// A beat's number and when it was heard.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Point {
    /// Counted from any beat; even ones are ticks.
    pub(crate) n: i64,
    /// Seconds.
    pub(crate) at_s: f64,
    /// One standard deviation of it, seconds.
    pub(crate) sd_s: f64,
}

/// The line `at = start + half · n`, and `late` more where n is odd.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Line {
    pub(crate) start_s: f64,
    pub(crate) half_s: f64,
    pub(crate) late_s: f64,
    /// One standard deviation of `half_s`.
    pub(crate) half_sd_s: f64,
    /// One standard deviation of `late_s`.
    pub(crate) late_sd_s: f64,
    /// Scatter about the line beyond what each beat's own deviation explains, seconds.
    pub(crate) jitter_s: f64,
    /// Points whose word counted.
    pub(crate) used: usize,
}

/// Residuals beyond this many standard deviations weigh less the further out they are.
const HUBER: f64 = 2.5;

impl Line {
    pub(crate) fn at(&self, n: i64) -> f64 {
        let late = if n.rem_euclid(2) == 1 {
            self.late_s
        } else {
            0.0
        };
        self.start_s + self.half_s * number(n) + late
    }

    /// Through the points; nothing for fewer than three beats, or beats that do not tell period from lateness.
    pub(crate) fn through(points: &[Point]) -> Option<Line> {
        let both = points.iter().any(|p| p.n.rem_euclid(2) == 1)
            && points.iter().any(|p| p.n.rem_euclid(2) == 0);
        if points.len() < 3 {
            return None;
        }
        let origin = points[points.len() / 2].n;
        let least = 1e-5;
        let mut jitter = 0.0_f64;
        let mut held = vec![1.0; points.len()];
        let mut line: Option<Line> = None;
        for round in 0..8 {
            let weight =
                |(p, h): (&Point, &f64)| h / (p.sd_s.powi(2) + jitter.powi(2)).max(least * least);
            let weights: Vec<f64> = points.iter().zip(&held).map(weight).collect();
            let solved = solve(points, &weights, origin, both)?;
            let off: Vec<f64> = points.iter().map(|p| p.at_s - solved.at(p.n)).collect();
            let free = if both { 3.0 } else { 2.0 };
            let n = crate::bands::whole(points.len());
            let few = (n / (n - free).max(1.0)).sqrt();
            let scatter = robust_sd(&off).min(rms(&off)) * few;
            let own = points.iter().map(|p| p.sd_s.powi(2)).sum::<f64>() / n;
            if round < 5 {
                jitter = (scatter.powi(2) - own).max(0.0).sqrt();
            }
            for ((held, p), off) in held.iter_mut().zip(points).zip(&off) {
                let sd = (p.sd_s.powi(2) + jitter.powi(2)).sqrt().max(least);
                *held = (HUBER * sd / off.abs().max(1e-12)).min(1.0);
            }
            let used = held.iter().filter(|h| **h > 0.5).count();
            line = Some(Line {
                jitter_s: jitter,
                used,
                ..solved
            });
        }
        line.filter(|line| line.half_s > 0.0)
    }
}

pub(crate) fn rms(x: &[f64]) -> f64 {
    (x.iter().map(|x| x * x).sum::<f64>() / crate::bands::whole(x.len().max(1))).sqrt()
}

/// A beat's number as a number.
#[expect(clippy::cast_precision_loss, reason = "no clock beats that often")]
pub(crate) fn number(n: i64) -> f64 {
    n as f64
}

fn solve(points: &[Point], weights: &[f64], origin: i64, both: bool) -> Option<Line> {
    // Normal equations about the middle beat and its time, so that nothing large is subtracted.
    let zero = points.iter().find(|p| p.n == origin)?.at_s;
    let mut m = [[0.0_f64; 3]; 3];
    let mut v = [0.0_f64; 3];
    for (p, &w) in points.iter().zip(weights) {
        let odd = if both && p.n.rem_euclid(2) == 1 {
            1.0
        } else {
            0.0
        };
        let row = [1.0, number(p.n - origin), odd];
        for i in 0..3 {
            for j in 0..3 {
                m[i][j] += w * row[i] * row[j];
            }
            v[i] += w * row[i] * (p.at_s - zero);
        }
    }
    if !both {
        m[2][2] = 1.0;
    }
    let inverse = invert(m)?;
    let x: Vec<f64> = (inverse.iter())
        .map(|row| row.iter().zip(&v).map(|(a, b)| a * b).sum())
        .collect();
    let half = x[1];
    Some(Line {
        start_s: zero + x[0] - half * number(origin),
        half_s: half,
        late_s: if both { x[2] } else { 0.0 },
        half_sd_s: inverse[1][1].max(0.0).sqrt(),
        late_sd_s: inverse[2][2].max(0.0).sqrt(),
        jitter_s: 0.0,
        used: points.len(),
    })
}

/// The inverse of a symmetric matrix of three rows, by its cofactors; nothing if it has none.
fn invert(m: [[f64; 3]; 3]) -> Option<[[f64; 3]; 3]> {
    let cofactor = |i: usize, j: usize| {
        let (a, b) = ((i + 1) % 3, (i + 2) % 3);
        let (c, d) = ((j + 1) % 3, (j + 2) % 3);
        m[a][c] * m[b][d] - m[a][d] * m[b][c]
    };
    let whole: f64 = (0..3).map(|j| m[0][j] * cofactor(0, j)).sum();
    let size = m[0][0].abs() * m[1][1].abs() * m[2][2].abs();
    if whole.abs() <= 1e-13 * size || !whole.is_finite() {
        return None;
    }
    let mut inverse = [[0.0; 3]; 3];
    for (i, row) in inverse.iter_mut().enumerate() {
        for (j, x) in row.iter_mut().enumerate() {
            *x = cofactor(j, i) / whole;
        }
    }
    Some(inverse)
}
