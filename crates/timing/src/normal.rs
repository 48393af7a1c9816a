//! The sums of a normal density of several readings at once. What is read, and what follows from it, is told elsewhere.

/// A reading as it goes into the sums, in degrees.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Seen {
    /// Where that was read.
    pub(crate) at: f64,
    /// The angle after which it looks the same.
    pub(crate) period: f64,
    /// How far off a place alike still counts.
    pub(crate) reach: f64,
}

/// The density of readings at once, without the factor that all of it has.
#[derive(Clone, Copy)]
pub(crate) struct Density<'a> {
    pub(crate) seen: &'a [Seen],
    /// The inverse of their covariance.
    pub(crate) inverse: &'a [f64],
    /// How far places alike are looked for, as a part of how far each reaches.
    pub(crate) far: f64,
}

impl Density<'_> {
    /// The sum over alike places of `exp(−½ rᵀ C⁻¹ r)`, for those witnesses whose spread reaches to the next place. The surprise is
    /// left as it was.
    pub(crate) fn sum(&self, surprise: &mut [f64]) -> f64 {
        let mut sum = 0.0;
        self.each_alike(surprise, 0, &mut |density, _| sum += density);
        sum
    }

    /// The same one by one: `exp(−½ rᵀ C⁻¹ r)` for each choice of alike places, and the surprise there; for readings from one on.
    pub(crate) fn each_alike(
        &self,
        surprise: &mut [f64],
        from: usize,
        told: &mut dyn FnMut(f64, &[f64]),
    ) {
        let Density { seen, inverse, far } = *self;
        let reached = |i: &usize| seen[*i].period - surprise[*i].abs() <= far * seen[*i].reach;
        let Some(wide) = (from..seen.len()).find(reached) else {
            let many = surprise.len();
            let square: f64 = (0..many)
                .map(|i| {
                    let along: f64 = (0..many).map(|j| inverse[i * many + j] * surprise[j]).sum();
                    surprise[i] * along
                })
                .sum();
            return told(libm::exp(-0.5 * square), surprise);
        };
        let (nearest, Seen { period, reach, .. }) = (surprise[wide], seen[wide]);
        self.each_alike(surprise, wide + 1, told);
        // A rough eye reaches farther than to the next.
        for on in [-period, period] {
            let mut alike = nearest + on;
            while alike.abs() <= far * reach {
                surprise[wide] = alike;
                self.each_alike(surprise, wide + 1, told);
                alike += on;
            }
        }
        surprise[wide] = nearest;
    }
}

/// The inverse of a positive definite table and the root of its determinant, by Cholesky's way.
pub(crate) fn invert(table: &[f64], n: usize) -> Option<(Vec<f64>, f64)> {
    let mut lower = vec![0.0; n * n];
    let mut root = 1.0;
    for i in 0..n {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|k| lower[i * n + k] * lower[j * n + k]).sum();
            if i == j {
                let left = table[i * n + i] - sum;
                if left <= 0.0 {
                    return None;
                }
                lower[i * n + i] = left.sqrt();
                root *= left.sqrt();
            } else {
                lower[i * n + j] = (table[i * n + j] - sum) / lower[j * n + j];
            }
        }
    }
    let mut inverse = vec![0.0; n * n];
    for column in 0..n {
        let mut x = vec![0.0; n];
        for i in 0..n {
            let sum: f64 = (0..i).map(|k| lower[i * n + k] * x[k]).sum();
            x[i] = (if i == column { 1.0 } else { 0.0 } - sum) / lower[i * n + i];
        }
        for i in (0..n).rev() {
            let sum: f64 = (i + 1..n).map(|k| lower[k * n + i] * x[k]).sum();
            x[i] = (x[i] - sum) / lower[i * n + i];
        }
        for i in 0..n {
            inverse[i * n + column] = x[i];
        }
    }
    Some((inverse, root))
}
