//! What is no difference: whole numbers that whole sums of some rows lead from one to the other.

/// A basis of all whole sums of some rows, each 0 before its own column; nothing where no row has one of its own.
pub(crate) struct Alike(Vec<Option<Vec<i128>>>);

impl Alike {
    /// Whole sums of these rows, and of `around` in each column by itself, where that is above 0.
    pub(crate) fn of(mut rows: Vec<Vec<i128>>, around: &[i128]) -> Alike {
        let n = around.len();
        let alone = |w: usize| {
            let mut row = vec![0; n];
            row[w] = around[w];
            row
        };
        rows.extend((0..n).filter(|&w| around[w] > 0).map(alone));
        let mut basis: Vec<Option<Vec<i128>>> = Vec::new();
        for w in 0..n {
            // Euclid's way with whole rows, until one is left that is not 0 here. Places alike keep the figures small.
            let own = loop {
                for row in &mut rows {
                    for (place, around) in row.iter_mut().zip(around).skip(w + 1) {
                        if *around > 0 {
                            *place = place.rem_euclid(*around);
                        }
                    }
                }
                let Some(least) = (0..rows.len())
                    .filter(|&r| rows[r][w] != 0)
                    .min_by_key(|&r| rows[r][w].abs())
                else {
                    break None;
                };
                let pivot = rows[least].clone();
                let mut others = 0;
                for (r, row) in rows.iter_mut().enumerate() {
                    if r != least && row[w] != 0 {
                        let times = row[w].div_euclid(pivot[w]);
                        row.iter_mut()
                            .zip(&pivot)
                            .for_each(|(a, b)| *a -= times * b);
                        others += usize::from(row[w] != 0);
                    }
                }
                if others == 0 {
                    break Some(rows.swap_remove(least));
                }
            };
            basis.push(own);
            // Places alike of those after this one are rows of their own, and stay so.
            rows.retain(|row| row.iter().any(|x| *x != 0));
            for v in (w + 1..n).filter(|&v| around[v] > 0) {
                let row = alone(v);
                if !rows.contains(&row) {
                    rows.push(row);
                }
            }
        }
        Alike(basis)
    }

    /// The one of all that differ by nothing which is least in each column, the first first.
    pub(crate) fn plain(&self, mut of: Vec<i128>) -> Vec<i128> {
        for (w, row) in self.0.iter().enumerate() {
            if let Some(row) = row {
                let times = of[w].div_euclid(row[w].abs()) * row[w].signum();
                of.iter_mut().zip(row).for_each(|(a, b)| *a -= times * b);
            }
        }
        of
    }
}
