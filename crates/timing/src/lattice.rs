//! A lattice of places, and its points in a box.
//!
//! The places that shifts can put the witnesses in are the whole-number combinations of what one tooth at each mesh
//! does, and of full periods. That is a lattice. Which shifts bring every witness into its window is the question which
//! of its points lie in a box. Rows are exact; floating point only steers the search, and every point found is checked
//! in whole numbers.

use num_integer::Integer;
use num_traits::{FromPrimitive, Signed, ToPrimitive};

/// A whole number: machine words where they suffice, any size where they do not.
pub(crate) trait Whole: Clone + Integer + Signed + FromPrimitive + ToPrimitive {}
impl<T: Clone + Integer + Signed + FromPrimitive + ToPrimitive> Whole for T {}

/// A point of the lattice: where it lies, and the teeth that lead there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Point<I> {
    pub(crate) places: Vec<I>,
    pub(crate) teeth: Vec<I>,
}

impl<I: Whole> Point<I> {
    /// Takes `times` the other from this.
    fn less(&mut self, times: &I, other: &Point<I>) {
        let pairs = (self.places.iter_mut().zip(&other.places))
            .chain(self.teeth.iter_mut().zip(&other.teeth));
        for (mine, theirs) in pairs {
            *mine = mine.clone() - times.clone() * theirs.clone();
        }
    }
}

/// A lattice of full rank, by a basis.
#[derive(Debug, Clone)]
pub(crate) struct Lattice<I> {
    rows: Vec<Point<I>>,
}

/// How near to orthogonal a reduced basis is; the usual figure of Lenstra, Lenstra and Lovász, 3/4, taken further since
/// these lattices have few dimensions.
const REDUCED: f64 = 0.99;

/// Floating point guides the reduction; should it go in circles on numbers far beyond its figures, it stops here with
/// whatever exact basis it has.
const MOST_STEPS: usize = 2000;

impl<I: Whole> Lattice<I> {
    /// The lattice spanned by `steps` (one row a mesh, one column a witness) and one period of each witness.
    ///
    /// `cycles[j]` is a number of teeth at mesh `j` that puts every witness back; teeth are kept below it. Without
    /// cycles they grow as they will. Also gives the relations: teeth that lead nowhere, a basis of all such when no cycles
    /// are given.
    pub(crate) fn spanned(
        periods: &[I],
        steps: &[Vec<I>],
        cycles: Option<&[I]>,
    ) -> (Lattice<I>, Vec<Vec<I>>) {
        let unit = |n: usize, at: usize, value: I| {
            let mut row = vec![I::zero(); n];
            if let Some(entry) = row.get_mut(at) {
                *entry = value;
            }
            row
        };
        let none = usize::MAX;
        let mut rows: Vec<Point<I>> = (periods.iter().enumerate())
            .map(|(w, period)| Point {
                places: unit(periods.len(), w, period.clone()),
                teeth: unit(steps.len(), none, I::zero()),
            })
            .collect();
        let mut relations = Vec::new();
        for (j, step) in steps.iter().enumerate() {
            let mut new = Point {
                places: step.clone(),
                teeth: unit(steps.len(), j, I::one()),
            };
            for w in 0..periods.len() {
                // Rows from `w` on have nothing in the columns before, nor has the new one: Euclid on this column.
                while !new.places[w].is_zero() {
                    let times = rows[w].places[w].div_floor(&new.places[w]);
                    rows[w].less(&times, &new);
                    std::mem::swap(&mut rows[w], &mut new);
                    for row in [&mut rows[w], &mut new] {
                        wrap(&mut row.places[w + 1..], &periods[w + 1..]);
                        if let Some(cycles) = cycles {
                            wrap(&mut row.teeth, cycles);
                        }
                    }
                }
            }
            relations.push(new.teeth);
        }
        (Lattice { rows }, relations)
    }

    /// A lattice by its basis; the places are the teeth themselves.
    pub(crate) fn of_teeth(basis: Vec<Vec<I>>) -> Lattice<I> {
        let rows = basis
            .into_iter()
            .map(|row| Point {
                places: row,
                teeth: Vec::new(),
            })
            .collect();
        Lattice { rows }
    }

    /// The volume that belongs to one point, while the basis is still triangular as [`Lattice::spanned`] leaves it.
    pub(crate) fn cell(&self) -> f64 {
        (self.rows.iter().enumerate())
            .map(|(w, row)| float(&row.places[w]).abs())
            .product()
    }

    /// Makes the basis short and nearly orthogonal, with column `w` measured in units of `1 / scale[w]`.
    pub(crate) fn reduce(&mut self, scale: &[f64]) {
        let mut k = 1;
        let mut steps = 0;
        while k < self.rows.len() && steps < MOST_STEPS {
            steps += 1;
            // Subtracting rounded multiples settles after a pass or two, unless the figures run out.
            let mut frame = Frame::of(&self.rows[..=k], scale);
            for _ in 0..8 {
                let mut moved = false;
                for j in (0..k).rev() {
                    let times = frame.along(&scaled(&self.rows[k], scale), j).round();
                    if let Some(times) = (times != 0.0).then(|| I::from_f64(times)).flatten() {
                        let (before, from) = self.rows.split_at_mut(k);
                        from[0].less(&times, &before[j]);
                        moved = true;
                    }
                }
                frame = Frame::of(&self.rows[..=k], scale);
                if !moved {
                    break;
                }
            }
            let tilt = frame.tilt[k][k - 1];
            if frame.square[k] >= (REDUCED - tilt * tilt) * frame.square[k - 1] {
                k += 1;
            } else {
                self.rows.swap(k, k - 1);
                k = (k - 1).max(1);
            }
        }
    }

    /// Every point with `low ≤ place ≤ high` in each column; nothing if more than `most`, or if the search for
    /// them would take too long.
    pub(crate) fn points_within(
        &self,
        low: &[I],
        high: &[I],
        most: usize,
    ) -> Option<Vec<Point<I>>> {
        if low.iter().zip(high).any(|(low, high)| low > high) {
            return Some(Vec::new());
        }
        // The box becomes a cube about its middle; half a unit more on each side, so that a box of one point has a size.
        let scale: Vec<f64> = (low.iter().zip(high))
            .map(|(low, high)| 2.0 / (float(&(high.clone() - low.clone())) + 1.0))
            .collect();
        let middle: Vec<f64> = (low.iter().zip(high).zip(&scale))
            .map(|((low, high), scale)| 0.5 * (float(low) + float(high)) * scale)
            .collect();
        let frame = Frame::of(&self.rows, &scale);
        let along = (0..self.rows.len())
            .map(|i| frame.along(&middle, i))
            .collect();
        let mut search = Search {
            frame: &frame,
            along,
            radius: self.rows.len() as f64 * (1.0 + 1e-9),
            left: most.saturating_mul(8) + 1000,
            most,
            times: vec![0.0; self.rows.len()],
            found: Vec::new(),
        };
        if !search.descend(self.rows.len(), 0.0) {
            return None;
        }
        let mut points = Vec::new();
        for times in search.found {
            let mut point = Point {
                places: vec![I::zero(); low.len()],
                teeth: vec![I::zero(); self.rows.first().map_or(0, |row| row.teeth.len())],
            };
            for (times, row) in times.iter().zip(&self.rows) {
                point.less(&I::from_f64(-times)?, row);
            }
            let inside = (point.places.iter().zip(low).zip(high))
                .all(|((place, low), high)| low <= place && place <= high);
            if inside {
                points.push(point);
            }
        }
        (points.len() <= most).then_some(points)
    }
}

/// Takes each entry to the alike one from 0 on.
fn wrap<I: Whole>(entries: &mut [I], periods: &[I]) {
    for (entry, period) in entries.iter_mut().zip(periods) {
        *entry = entry.mod_floor(period);
    }
}

fn float<I: Whole>(x: &I) -> f64 {
    x.to_f64().unwrap_or(f64::MAX)
}

fn scaled<I: Whole>(row: &Point<I>, scale: &[f64]) -> Vec<f64> {
    (row.places.iter().zip(scale))
        .map(|(place, scale)| float(place) * scale)
        .collect()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The orthogonal frame of some rows, as Gram and Schmidt make it.
struct Frame {
    axes: Vec<Vec<f64>>,
    square: Vec<f64>,
    /// How far each row leans along each earlier axis.
    tilt: Vec<Vec<f64>>,
}

impl Frame {
    fn of<I: Whole>(rows: &[Point<I>], scale: &[f64]) -> Frame {
        let mut frame = Frame {
            axes: Vec::new(),
            square: Vec::new(),
            tilt: Vec::new(),
        };
        for row in rows {
            let mut axis = scaled(row, scale);
            let mut tilt = Vec::new();
            for j in 0..frame.axes.len() {
                let lean = frame.along(&axis, j);
                for (mine, theirs) in axis.iter_mut().zip(&frame.axes[j]) {
                    *mine -= lean * theirs;
                }
                tilt.push(lean);
            }
            frame.square.push(dot(&axis, &axis));
            frame.axes.push(axis);
            frame.tilt.push(tilt);
        }
        frame
    }

    /// How many times axis `j` goes into a vector.
    fn along(&self, vector: &[f64], j: usize) -> f64 {
        if self.square[j] > 0.0 {
            dot(vector, &self.axes[j]) / self.square[j]
        } else {
            0.0
        }
    }
}

/// A walk over the whole-number combinations that lie in the ball about the cube.
struct Search<'a> {
    frame: &'a Frame,
    along: Vec<f64>,
    radius: f64,
    left: usize,
    most: usize,
    times: Vec<f64>,
    found: Vec<Vec<f64>>,
}

impl Search<'_> {
    /// Settles the rows below `level`; `spent` of the radius squared is used up. Whether it came to an end.
    fn descend(&mut self, level: usize, spent: f64) -> bool {
        let Some(i) = level.checked_sub(1) else {
            self.found.push(self.times.clone());
            // The ball holds more than the cube; eight times as many is the most that is kept to be sifted.
            return self.found.len() <= self.most.saturating_mul(8);
        };
        let above: f64 = (level..self.times.len())
            .map(|k| self.times[k] * self.frame.tilt[k][i])
            .sum();
        let centre = self.along[i] - above;
        let square = self.frame.square[i];
        let reach = ((self.radius - spent).max(0.0) / square).sqrt();
        // Not to be told apart in double precision any more: no search by it.
        if !reach.is_finite() || (centre.abs() + reach) > 1e15 {
            return false;
        }
        let mut times = (centre - reach - 1e-9).ceil();
        while times <= centre + reach + 1e-9 {
            if self.left == 0 {
                return false;
            }
            self.left -= 1;
            self.times[i] = times;
            let off = times - centre;
            if !self.descend(i, spent + off * off * square) {
                return false;
            }
            times += 1.0;
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every point by trying all teeth, for lattices small enough.
    fn by_hand(
        periods: &[i128],
        steps: &[Vec<i128>],
        low: &[i128],
        high: &[i128],
    ) -> Vec<Vec<i128>> {
        let mut places = std::collections::BTreeSet::new();
        let mut fresh = vec![vec![0i128; periods.len()]];
        while let Some(place) = fresh.pop() {
            for step in steps {
                let next: Vec<i128> = (0..periods.len())
                    .map(|w| (place[w] + step[w]).rem_euclid(periods[w]))
                    .collect();
                if places.insert(next.clone()) {
                    fresh.push(next);
                }
            }
        }
        // Each place alike that is in the box; boxes here are never wider than a period.
        let mut inside = Vec::new();
        for place in places {
            let alike: Option<Vec<i128>> = (0..periods.len())
                .map(|w| {
                    let first = low[w] + (place[w] - low[w]).rem_euclid(periods[w]);
                    (first <= high[w]).then_some(first)
                })
                .collect();
            inside.extend(alike);
        }
        inside.sort();
        inside
    }

    #[test]
    fn every_point_of_a_box_is_found() {
        let cases: [(Vec<i128>, Vec<Vec<i128>>); 4] = [
            (vec![360], vec![vec![15]]),
            (
                vec![60, 40, 360],
                vec![vec![7, 5, 0], vec![30, 0, 0], vec![0, 0, 51]],
            ),
            (vec![97, 101], vec![vec![13, 29]]),
            (
                vec![64, 64, 64],
                vec![vec![1, 9, 17], vec![8, 0, 4], vec![0, 32, 6]],
            ),
        ];
        for (periods, steps) in cases {
            let (mut lattice, relations) = Lattice::spanned(&periods, &steps, None);
            let scale = vec![0.1; periods.len()];
            lattice.reduce(&scale);
            for relation in &relations {
                for w in 0..periods.len() {
                    let moved: i128 = relation.iter().zip(&steps).map(|(t, s)| t * s[w]).sum();
                    assert_eq!(moved % periods[w], 0, "{relation:?} leads somewhere");
                }
            }
            for offset in [-31, 0, 12] {
                let low: Vec<i128> = periods.iter().map(|p| offset - p / 9).collect();
                let high: Vec<i128> = periods.iter().map(|p| offset + p / 7).collect();
                let found = lattice.points_within(&low, &high, 100_000).unwrap();
                for point in &found {
                    for w in 0..periods.len() {
                        let moved: i128 =
                            point.teeth.iter().zip(&steps).map(|(t, s)| t * s[w]).sum();
                        assert_eq!((moved - point.places[w]) % periods[w], 0, "{point:?}");
                    }
                }
                let mut places: Vec<_> = found.into_iter().map(|p| p.places).collect();
                places.sort();
                assert_eq!(places, by_hand(&periods, &steps, &low, &high));
            }
        }
    }
}
