//! The walk over whole-number combinations of some rows: those that lie in a ball about a cube, found from the frame that
//! Gram and Schmidt make of the rows.

use crate::effort::Effort;

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The orthogonal frame of some rows, as Gram and Schmidt make it.
pub(crate) struct Frame {
    axes: Vec<Vec<f64>>,
    pub(crate) square: Vec<f64>,
    /// How far a cube two wide about the middle reaches along each axis, times the axis's length.
    breadth: Vec<f64>,
    /// How far each row leans along each earlier axis.
    pub(crate) tilt: Vec<Vec<f64>>,
}

impl Frame {
    pub(crate) fn of(rows: impl Iterator<Item = Vec<f64>>) -> Frame {
        let mut frame = Frame {
            axes: Vec::new(),
            square: Vec::new(),
            breadth: Vec::new(),
            tilt: Vec::new(),
        };
        for row in rows {
            frame.add(row);
        }
        frame
    }

    /// One more row, scaled.
    pub(crate) fn add(&mut self, mut axis: Vec<f64>) {
        let mut tilt = Vec::new();
        for j in 0..self.axes.len() {
            let lean = self.along(&axis, j);
            for (mine, theirs) in axis.iter_mut().zip(&self.axes[j]) {
                *mine -= lean * theirs;
            }
            tilt.push(lean);
        }
        self.square.push(dot(&axis, &axis));
        self.breadth.push(axis.iter().map(|x| x.abs()).sum());
        self.axes.push(axis);
        self.tilt.push(tilt);
    }

    /// Forgets all but the first rows.
    pub(crate) fn cut_to(&mut self, rows: usize) {
        self.square.truncate(rows);
        self.breadth.truncate(rows);
        self.axes.truncate(rows);
        self.tilt.truncate(rows);
    }

    /// How many times axis `j` goes into a vector.
    pub(crate) fn along(&self, vector: &[f64], j: usize) -> f64 {
        if self.square[j] > 0.0 {
            dot(vector, &self.axes[j]) / self.square[j]
        } else {
            0.0
        }
    }
}

/// A walk over the whole-number combinations that lie in the ball about the cube.
pub(crate) struct Walk<'a> {
    pub(crate) frame: &'a Frame,
    pub(crate) along: Vec<f64>,
    pub(crate) radius: f64,
    pub(crate) left: usize,
    pub(crate) effort: &'a Effort<'a>,
    pub(crate) times: Vec<f64>,
    /// The rows and the cube's middle, scaled.
    pub(crate) rows: Vec<Vec<f64>>,
    pub(crate) middle: Vec<f64>,
    /// Takes each combination; false ends the walk.
    pub(crate) visit: &'a mut dyn FnMut(&[f64]) -> bool,
}

impl Walk<'_> {
    /// Settles the rows below `level`; `spent` of the radius squared is used up. Whether it came to an end.
    pub(crate) fn descend(&mut self, level: usize, spent: f64) -> bool {
        let Some(i) = level.checked_sub(1) else {
            return (self.visit)(&self.times);
        };
        if i == 0 {
            return self.last_row();
        }
        let above: f64 = (level..self.times.len())
            .map(|k| self.times[k] * self.frame.tilt[k][i])
            .sum();
        let centre = self.along[i] - above;
        let square = self.frame.square[i];
        // No point of the ball is farther along this axis, nor any of the cube.
        let reach = ((self.radius - spent).max(0.0) / square).sqrt();
        let reach = reach.min(self.frame.breadth[i] / square) + 1e-9;
        // Not to be told apart in double precision any more: no search by it.
        if !reach.is_finite() || (centre.abs() + reach) > 1e15 {
            return false;
        }
        // From the middle outward, on this side and on that.
        let mut times = centre.round();
        let mut hop = if centre < times { -1.0 } else { 1.0 };
        while (times - centre).abs() <= reach {
            if self.left == 0 || !self.effort.spend(8 + self.times.len() - i) {
                return false;
            }
            self.left -= 1;
            self.times[i] = times;
            let off = times - centre;
            if !self.descend(i, spent + off * off * square) {
                return false;
            }
            times += hop;
            hop = -hop - f64::signum(hop);
        }
        true
    }

    /// Settles the last row: a line, which goes through the cube from here to there.
    fn last_row(&mut self) -> bool {
        if !self.effort.spend(2 * self.rows.len() * self.middle.len()) {
            return false;
        }
        let (mut first, mut last) = (f64::NEG_INFINITY, f64::INFINITY);
        for (column, middle) in self.middle.iter().enumerate() {
            let (mut off, mut size) = (-middle, middle.abs());
            for (times, row) in self.times.iter().zip(&self.rows).skip(1) {
                off += times * row[column];
                size += (times * row[column]).abs();
            }
            // What is a little outside is told by exact sums.
            let reach = 1.0 + 1e-6 + 1e-12 * size;
            let step = self.rows[0][column];
            let ends = ((-reach - off) / step, (reach - off) / step);
            if step.abs() > 0.0 {
                first = first.max(ends.0.min(ends.1));
                last = last.min(ends.0.max(ends.1));
            } else if off.abs() > reach {
                return true;
            }
        }
        if first.abs().max(last.abs()) > 1e15 {
            return false;
        }
        let mut times = first.ceil();
        while times <= last {
            if self.left == 0 {
                return false;
            }
            self.left -= 1;
            self.times[0] = times;
            if !(self.visit)(&self.times) {
                return false;
            }
            times += 1.0;
        }
        true
    }
}
