//! One plane laid onto another: moved, turned and made larger or smaller, by points that are known on both.

use std::f64::consts::PI;

/// A similarity of two planes, both with y downward, that turns nothing over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Similarity {
    /// The first of the two numbers that a place is turned and scaled by: scale times cosine.
    along: f64,
    /// Scale times sine, clockwise.
    across: f64,
    /// Where the first plane's origin comes to.
    origin: [f64; 2],
}

/// A point on both planes: on the first, and on the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SamePoint {
    /// On the first.
    pub from: [f64; 2],
    /// On the second.
    pub to: [f64; 2],
}

impl Similarity {
    /// That which brings the points nearest to each other, in least squares; nothing where fewer than two of them lie apart.
    ///
    /// # Formula
    /// With both planes as complex numbers about the means of their points, `a = Σ conj(p) q / Σ |p|²` turns and scales. This is the
    /// plane case of Umeyama's solution without turning over.
    ///
    /// # Source
    /// S. Umeyama, "Least-squares estimation of transformation parameters between two point patterns", IEEE Transactions on Pattern
    /// Analysis and Machine Intelligence 13 (1991), 376-380, from memory.
    pub fn fit(points: &[SamePoint]) -> Option<Similarity> {
        let many = f64::from(u32::try_from(points.len()).ok()?);
        let mean = |of: &dyn Fn(&SamePoint) -> [f64; 2]| {
            let sum = points
                .iter()
                .map(of)
                .fold([0.0, 0.0], |sum, p| [sum[0] + p[0], sum[1] + p[1]]);
            sum.map(|part| part / many)
        };
        if points.len() < 2 {
            return None;
        }
        let (from, to) = (mean(&|p| p.from), mean(&|p| p.to));
        let (mut along, mut across, mut square) = (0.0, 0.0, 0.0);
        for point in points {
            let [px, py] = [point.from[0] - from[0], point.from[1] - from[1]];
            let [qx, qy] = [point.to[0] - to[0], point.to[1] - to[1]];
            along += px * qx + py * qy;
            across += px * qy - py * qx;
            square += px * px + py * py;
        }
        let turned = Similarity {
            along: along / square,
            across: across / square,
            origin: [0.0, 0.0],
        };
        let finite = turned.along.is_finite() && turned.across.is_finite();
        if !finite || turned.scale() < f64::MIN_POSITIVE {
            return None;
        }
        let [x, y] = turned.of(from);
        Some(Similarity {
            origin: [to[0] - x, to[1] - y],
            ..turned
        })
    }

    /// One that scales, turns by so many radians clockwise, and brings one point onto another.
    pub fn turning(scale: f64, turn: f64, pinned: SamePoint) -> Similarity {
        let turned = Similarity {
            along: scale * turn.cos(),
            across: scale * turn.sin(),
            origin: [0.0, 0.0],
        };
        let [x, y] = turned.of(pinned.from);
        Similarity {
            origin: [pinned.to[0] - x, pinned.to[1] - y],
            ..turned
        }
    }

    /// Where a point of the first plane comes to.
    pub fn of(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [
            self.along * x - self.across * y + self.origin[0],
            self.across * x + self.along * y + self.origin[1],
        ]
    }

    /// How many times larger it makes.
    pub fn scale(&self) -> f64 {
        self.along.hypot(self.across)
    }

    /// By how many radians it turns, clockwise, from −π to π.
    pub fn turn(&self) -> f64 {
        let turn = self.across.atan2(self.along);
        if turn <= -PI { PI } else { turn }
    }

    /// Then moved on.
    pub(crate) fn moved(self, by: [f64; 2]) -> Similarity {
        let [x, y] = self.origin;
        Similarity {
            origin: [x + by[0], y + by[1]],
            ..self
        }
    }

    /// Then turned upside down about a point.
    pub(crate) fn upside_down(self, [x, y]: [f64; 2]) -> Similarity {
        Similarity {
            along: -self.along,
            across: -self.across,
            origin: [2.0 * x - self.origin[0], 2.0 * y - self.origin[1]],
        }
    }

    /// As an SVG transform has it.
    pub(crate) fn matrix(&self) -> [f64; 6] {
        let [x, y] = self.origin;
        [self.along, self.across, -self.across, self.along, x, y]
    }
}
