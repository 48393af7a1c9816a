//! A lattice of places, and its points in a box.
//!
//! The places that shifts can put the witnesses in are the whole-number combinations of what one tooth at each mesh
//! does, and of full periods. That is a lattice. Which shifts bring every witness into its window is the question which
//! of its points lie in a box. Rows are exact; floating point only steers the search, and every point found is checked
//! in whole numbers.

use crate::effort::Effort;
use crate::walk::{Frame, Walk};
use num_integer::Integer;
use num_traits::{FromPrimitive, Signed, ToPrimitive};
use quantity::BigInt;

/// A whole number: machine words where they suffice, any size where they do not.
pub(crate) trait Whole:
    Clone + Integer + Signed + FromPrimitive + ToPrimitive + Into<BigInt>
{
    /// Steps that a product and a sum take.
    const DEAR: usize;

    /// This number, if it is one that products can be made of.
    fn of(x: &BigInt) -> Option<Self>;

    /// This less so many times another, if that is still such a number.
    fn less(&self, times: &Self, other: &Self) -> Option<Self>;
}

impl Whole for i128 {
    const DEAR: usize = 6;

    fn of(x: &BigInt) -> Option<i128> {
        // Products of two such numbers stay within a machine word of 128 bits.
        x.to_i128().filter(|x| x.unsigned_abs() < 1 << 60)
    }

    fn less(&self, times: &i128, other: &i128) -> Option<i128> {
        self.checked_sub(times.checked_mul(*other)?)
    }
}

impl Whole for BigInt {
    const DEAR: usize = 150;

    fn of(x: &BigInt) -> Option<BigInt> {
        Some(x.clone())
    }

    fn less(&self, times: &BigInt, other: &BigInt) -> Option<BigInt> {
        Some(self - times * other)
    }
}

/// Why there is no basis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Halt {
    /// Its numbers grow beyond these whole numbers.
    TooLarge,
    /// It takes more steps than there are.
    TooLong,
}

/// What came of looking for one point in a box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Sought<P> {
    /// This one.
    Point(P),
    /// There is none.
    Nothing,
    /// The search was left off.
    LeftOff,
}

/// A point of the lattice: where it lies, and the teeth that lead there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Point<I> {
    pub(crate) places: Vec<I>,
    pub(crate) teeth: Vec<I>,
}

impl<I: Whole> Point<I> {
    /// Takes `times` the other from this; what is too large for its numbers is left half done.
    fn less(&mut self, times: &I, other: &Point<I>) -> Result<(), Halt> {
        let pairs = (self.places.iter_mut().zip(&other.places))
            .chain(self.teeth.iter_mut().zip(&other.teeth));
        for (mine, theirs) in pairs.filter(|(_, theirs)| !theirs.is_zero()) {
            *mine = mine.less(times, theirs).ok_or(Halt::TooLarge)?;
        }
        Ok(())
    }
}

/// The points that are gone through: those with `low ≤ place ≤ high` in each column.
pub(crate) struct Search<'a, I> {
    pub(crate) low: &'a [I],
    pub(crate) high: &'a [I],
    /// After so many steps it is left off.
    pub(crate) left: usize,
    /// What its steps are counted in besides.
    pub(crate) effort: &'a Effort<'a>,
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
const MOST_STEPS: usize = 20_000;

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
        effort: &Effort<'_>,
    ) -> Result<(Lattice<I>, Vec<Vec<I>>), Halt> {
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
                    // A remainder takes about three times as long as a product.
                    if !effort.spend(4 * I::DEAR * (periods.len() - w + steps.len())) {
                        return Err(Halt::TooLong);
                    }
                    let times = rows[w].places[w].div_floor(&new.places[w]);
                    rows[w].less(&times, &new)?;
                    std::mem::swap(&mut rows[w], &mut new);
                    // The other of the two has been wrapped before.
                    wrap(&mut new.places[w + 1..], &periods[w + 1..]);
                    if let Some(cycles) = cycles {
                        wrap(&mut new.teeth, cycles);
                    }
                }
            }
            relations.push(new.teeth);
        }
        Ok((Lattice { rows }, relations))
    }

    /// The lattice of places and teeth at once: its columns are the places, and then the teeth themselves.
    pub(crate) fn with_teeth(periods: &[I], steps: &[Vec<I>]) -> Lattice<I> {
        let size = periods.len() + steps.len();
        let row = |places: &[I], at: usize, value: I| {
            let mut row = places.to_vec();
            row.resize(size, I::zero());
            row[at] = value;
            Point {
                places: row,
                teeth: Vec::new(),
            }
        };
        let around = (periods.iter().enumerate()).map(|(w, period)| row(&[], w, period.clone()));
        let moved =
            (steps.iter().enumerate()).map(|(j, step)| row(step, periods.len() + j, I::one()));
        Lattice {
            rows: around.chain(moved).collect(),
        }
    }

    /// Makes the basis short and nearly orthogonal, with column `w` measured in units of `1 / scale[w]`; as far as the
    /// effort goes.
    pub(crate) fn reduce(&mut self, scale: &[f64], effort: &Effort<'_>) -> Result<(), Halt> {
        let mut k = 1;
        let mut steps = 0;
        // The frame of the rows before `k` stays true from step to step.
        let mut frame = frame_of(&self.rows[..self.rows.len().min(1)], scale);
        while k < self.rows.len() && steps < MOST_STEPS {
            steps += 1;
            // Subtracting rounded multiples settles after a pass or two, unless the figures run out.
            frame.cut_to(k);
            let mut row = scaled(&self.rows[k], scale);
            for _ in 0..8 {
                if !effort.spend(4 * k * row.len()) {
                    return Ok(());
                }
                let mut moved = false;
                for j in (0..k).rev() {
                    let times = frame.along(&row, j).round();
                    if let Some(times) = (times != 0.0).then(|| I::from_f64(times)).flatten() {
                        let (before, from) = self.rows.split_at_mut(k);
                        from[0].less(&times, &before[j])?;
                        row = scaled(&self.rows[k], scale);
                        moved = true;
                        if !effort.spend(I::DEAR * (row.len() + self.rows[k].teeth.len())) {
                            return Ok(());
                        }
                    }
                }
                frame.cut_to(k);
                frame.add(row.clone());
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
                if k == 1 {
                    frame = frame_of(&self.rows[..1], scale);
                }
            }
        }
        Ok(())
    }

    /// Every point with `low ≤ place ≤ high` in each column; nothing if more than `most`, or if the search for
    /// them would take too long.
    pub(crate) fn points_within(
        &self,
        low: &[I],
        high: &[I],
        most: usize,
        effort: &Effort<'_>,
    ) -> Option<Vec<Point<I>>> {
        let mut points = Vec::new();
        let search = Search {
            low,
            high,
            left: most.saturating_mul(8) + 1000,
            effort,
        };
        let ended = self.search(&search, |point| {
            points.push(point);
            points.len() <= most
        });
        ended.then_some(points)
    }

    /// Some point with `low ≤ place ≤ high` in each column.
    pub(crate) fn any_within(
        &self,
        low: &[I],
        high: &[I],
        effort: &Effort<'_>,
    ) -> Sought<Point<I>> {
        let mut found = Sought::Nothing;
        let search = Search {
            low,
            high,
            left: LONGEST_SEARCH,
            effort,
        };
        let ended = self.search(&search, |point| {
            found = Sought::Point(point);
            false
        });
        if !ended && found == Sought::Nothing {
            return Sought::LeftOff;
        }
        found
    }

    /// Goes through the points of a box until `each` has enough; false if it was left off before the end.
    pub(crate) fn search(
        &self,
        search: &Search<'_, I>,
        each: impl FnMut(Point<I>) -> bool,
    ) -> bool {
        self.search_ball(search, radius_of(search.low, search.high), each)
    }

    /// The same, but of points within a ball about the middle of the box, of this radius squared once the box is made a
    /// cube.
    pub(crate) fn search_ball(
        &self,
        search: &Search<'_, I>,
        radius: f64,
        mut each: impl FnMut(Point<I>) -> bool,
    ) -> bool {
        let &Search {
            low,
            high,
            left,
            effort,
        } = search;
        if low.iter().zip(high).any(|(low, high)| low > high) {
            return true;
        }
        let scale = scale_of(low, high);
        let middle: Vec<f64> = (low.iter().zip(high).zip(&scale))
            .map(|((low, high), scale)| 0.5 * (float(low) + float(high)) * scale)
            .collect();
        let frame = frame_of(&self.rows, &scale);
        let along = (0..self.rows.len())
            .map(|i| frame.along(&middle, i))
            .collect();
        let dear = I::DEAR * self.rows.len() * low.len();
        let mut visit = |times: &[f64]| {
            if !effort.spend(dear) {
                return false;
            }
            let mut point = Point {
                places: vec![I::zero(); low.len()],
                teeth: vec![I::zero(); self.rows.first().map_or(0, |row| row.teeth.len())],
            };
            for (times, row) in times.iter().zip(&self.rows) {
                match I::from_f64(-times) {
                    Some(times) if times.is_zero() => {}
                    Some(times) if point.less(&times, row).is_ok() => {}
                    _ => return false,
                }
            }
            let inside = (point.places.iter().zip(low).zip(high))
                .all(|((place, low), high)| low <= place && place <= high);
            !inside || each(point)
        };
        let mut walk = Walk {
            frame: &frame,
            along,
            radius: radius + 1e-6,
            left,
            effort,
            times: vec![0.0; self.rows.len()],
            rows: self.rows.iter().map(|row| scaled(row, &scale)).collect(),
            middle,
            visit: &mut visit,
        };
        walk.descend(self.rows.len(), 0.0)
    }
}

/// The search for one point is left off after so many steps: some ten milliseconds.
const LONGEST_SEARCH: usize = 100_000;

/// Scales that make a box a cube two wide; a little more on each side, so that a box of one point has a size.
pub(crate) fn scale_of<I: Whole>(low: &[I], high: &[I]) -> Vec<f64> {
    (low.iter().zip(high))
        .map(|(low, high)| 2.0 / (float(&(high.clone() - low.clone())) + 0.25))
        .collect()
}

/// The square of how far the corners of a box are from its middle once it is made a cube.
pub(crate) fn radius_of<I: Whole>(low: &[I], high: &[I]) -> f64 {
    (low.iter().zip(high).zip(scale_of(low, high)))
        .map(|((low, high), scale)| (0.5 * scale * float(&(high.clone() - low.clone()))).powi(2))
        .sum()
}

/// Takes each entry to the alike one from 0 on.
fn wrap<I: Whole>(entries: &mut [I], periods: &[I]) {
    for (entry, period) in entries.iter_mut().zip(periods) {
        if entry.is_negative() || *entry >= *period {
            *entry = entry.mod_floor(period);
        }
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

fn frame_of<I: Whole>(rows: &[Point<I>], scale: &[f64]) -> Frame {
    Frame::of(rows.iter().map(|row| scaled(row, scale)))
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
    fn numbers_that_grow_too_large_are_refused_and_not_wrapped() {
        let large = 1i128 << 70;
        assert_eq!(5i128.less(&large, &large), None);
        assert_eq!((-large).less(&1, &large), Some(-2 * large));
        let rows = |first: i128| {
            vec![
                Point {
                    places: vec![first, 1],
                    teeth: vec![large],
                },
                Point {
                    places: vec![1 << 59, 1],
                    teeth: vec![large],
                },
            ]
        };
        let effort = Effort::of(1_000_000);
        let mut lattice = Lattice { rows: rows(1) };
        assert_eq!(lattice.reduce(&[1.0, 1.0], &effort), Err(Halt::TooLarge));
        let mut lattice = Lattice {
            rows: rows(1 << 58),
        };
        assert_eq!(lattice.reduce(&[1.0, 1.0], &effort), Ok(()));
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
            let effort = Effort::of(1_000_000_000);
            let (mut lattice, relations) =
                Lattice::spanned(&periods, &steps, None, &effort).unwrap();
            let scale = vec![0.1; periods.len()];
            lattice.reduce(&scale, &effort).unwrap();
            for relation in &relations {
                for w in 0..periods.len() {
                    let moved: i128 = relation.iter().zip(&steps).map(|(t, s)| t * s[w]).sum();
                    assert_eq!(moved % periods[w], 0, "{relation:?} leads somewhere");
                }
            }
            for offset in [-31, 0, 12] {
                let low: Vec<i128> = periods.iter().map(|p| offset - p / 9).collect();
                let high: Vec<i128> = periods.iter().map(|p| offset + p / 7).collect();
                let found = lattice
                    .points_within(&low, &high, 100_000, &effort)
                    .unwrap();
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
