//! The windows of one train together: as one moves with another, all are drawn in alike about their best places until every
//! corner of the box they make is good.

use super::raw::{down_to_hundredth, up_to_hundredth};
use super::turned::{Turnable, Turned};
use super::window::{BestBy, NoWindows, WindowEnd, WorkedOutWindow};
use crate::bounds::{MOST_CORNERED, POINTS};
use movement::ArborId;
use num_traits::{One, Zero};
use quantity::{Degrees, Exact};

/// Factors are sought to so many parts of the whole.
const PARTS: i64 = 1000;

/// An arbor with what is seen on it.
struct Axis {
    arbor: ArborId,
    /// Its witnesses, by their place among all windows: turned, all of them turn.
    witnesses: Vec<usize>,
}

/// The arbors of a train whose windows were worked out.
pub(super) struct TrainBox {
    pub(super) train: usize,
    axes: Vec<Axis>,
}

/// From where to where an arbor may be turned, and where it is best: from where the works have it.
struct Side {
    arbor: ArborId,
    from: Degrees,
    to: Degrees,
    best: Degrees,
}

/// How far along a side a place is.
#[derive(Clone)]
enum Along {
    /// Where the arbor is best.
    Best,
    /// From 0 at the beginning of the side to 1 at its end.
    Part(Exact),
}

/// A place to try: one of each side.
type Corner = Vec<Along>;

impl TrainBox {
    pub(super) fn of(train: usize) -> TrainBox {
        let axes = Vec::new();
        TrainBox { train, axes }
    }

    /// A witness of it, by its place among all windows.
    pub(super) fn take(&mut self, witness: usize, arbor: ArborId) {
        match self.axes.iter_mut().find(|axis| axis.arbor == arbor) {
            Some(axis) => axis.witnesses.push(witness),
            None => self.axes.push(Axis {
                arbor,
                witnesses: vec![witness],
            }),
        }
    }

    /// Whether one of its windows may move with another.
    pub(super) fn is_coupled(&self) -> bool {
        self.axes.len() > 1
    }

    /// Gives its windows their ends, and the factor by which they were drawn in.
    pub(super) fn draw_in(
        &self,
        works: &Turnable<'_>,
        windows: &mut [WorkedOutWindow],
    ) -> Result<Exact, NoWindows> {
        let mut tried = Tried::default();
        let mut factor = self.factor(works, windows, &mut tried);
        if factor.is_zero() {
            // Each best place alone is good, and all of them together are not, or have no room: where the works have them they are.
            for &n in self.axes.iter().flat_map(|axis| &axis.witnesses) {
                let window = &mut windows[n];
                if window.best_by == BestBy::Practice {
                    (window.best, window.best_by) = (window.meant.clone(), BestBy::Works);
                }
            }
            factor = self.factor(works, windows, &mut tried);
        }
        if factor.is_zero() {
            return Err(match works.is_cut_short() {
                true => NoWindows::LeftOff,
                false => NoWindows::NoRoomTogether {
                    witnesses: self.names(works, windows),
                },
            });
        }
        if self.axes.len() > MOST_CORNERED {
            let points = points(self.axes.len());
            while !tried.is_good(works, &self.sides(windows, &factor), &points) {
                factor = less(&factor).ok_or(NoWindows::LeftOff)?;
            }
        }
        for axis in &self.axes {
            for &n in &axis.witnesses {
                let ends = ends(&windows[n], &factor);
                let Some([from, to]) = ends.filter(|[from, to]| from < to) else {
                    return Err(no_room(works, &windows[n]));
                };
                let window = &mut windows[n];
                let hundredth = Degrees::deg(down_to_hundredth(window.best.exact()));
                let best = match window.best_by {
                    BestBy::Written => window.best.clone(),
                    _ => hundredth,
                };
                window.best = best.max(from.clone()).min(to.clone());
                (window.from, window.to) = (from, to);
            }
        }
        Ok(factor)
    }

    /// The ids of its witnesses.
    fn names(&self, works: &Turnable<'_>, windows: &[WorkedOutWindow]) -> Vec<String> {
        let all = self.axes.iter().flat_map(|axis| &axis.witnesses);
        let id = |n: &usize| works.movement.unjudged()[windows[*n].witness].id.clone();
        all.map(id).collect()
    }

    /// The greatest factor, in thousandths, at which every corner is good: of two windows or more.
    fn factor(
        &self,
        works: &Turnable<'_>,
        windows: &[WorkedOutWindow],
        tried: &mut Tried,
    ) -> Exact {
        if !self.is_coupled() {
            return Exact::one();
        }
        let corners = corners(self.axes.len());
        let mut good = |parts: i64| {
            let factor = Exact::new(parts.into(), PARTS.into());
            tried.is_good(works, &self.sides(windows, &factor), &corners)
        };
        if good(PARTS) {
            return Exact::one();
        }
        let (mut fits, mut too_much) = (0, PARTS);
        while too_much - fits > 1 {
            let middle = (fits + too_much) / 2;
            match good(middle) {
                true => fits = middle,
                false => too_much = middle,
            }
        }
        Exact::new(fits.into(), PARTS.into())
    }

    /// Each arbor's way, drawn in by a factor: of several witnesses of one arbor that of the narrowest.
    fn sides(&self, windows: &[WorkedOutWindow], factor: &Exact) -> Vec<Side> {
        let side = |axis: &Axis| {
            let ways = axis.witnesses.iter().map(|&n| {
                let window = &windows[n];
                let meant = &window.meant;
                let best = &window.best - meant;
                match ends(window, factor) {
                    Some([from, to]) => (&from - meant, &to - meant, best),
                    None => (best.clone(), best.clone(), best),
                }
            });
            let narrowest = ways.reduce(|(from, to, best), (other_from, other_to, _)| {
                (from.max(other_from), to.min(other_to), best)
            });
            narrowest.map(|(from, to, best)| Side {
                arbor: axis.arbor,
                from,
                to,
                best,
            })
        };
        self.axes.iter().filter_map(side).collect()
    }
}

/// The ends of a window drawn in about its best place by a factor, in whole hundredths of a degree within it.
fn ends(window: &WorkedOutWindow, factor: &Exact) -> Option<[Degrees; 2]> {
    let [from, to] = window.ends.as_ref()?;
    let hundredth = || Exact::new(1.into(), 100.into());
    let drawn = |end: &WindowEnd| {
        let place = window.best.exact() + (end.raw.exact() - window.best.exact()) * factor;
        // An end that is not good itself is left out.
        let out = place == *end.raw.exact() && !end.inside;
        (place, out)
    };
    let (place, out) = drawn(from);
    let mut first = up_to_hundredth(&place);
    if out && first == place {
        first += hundredth();
    }
    let (place, out) = drawn(to);
    let mut last = down_to_hundredth(&place);
    if out && last == place {
        last -= hundredth();
    }
    Some([Degrees::deg(first), Degrees::deg(last)])
}

/// That there is no room for a witness.
fn no_room(works: &Turnable<'_>, window: &WorkedOutWindow) -> NoWindows {
    let witness = works.movement.unjudged()[window.witness].id.clone();
    let limits = match &window.ends {
        Some(ends) => ends.each_ref().map(|end| end.limit.clone()),
        None => [None, None],
    };
    NoWindows::NoRoom { witness, limits }
}

/// A factor one part less; nothing where there is none.
fn less(factor: &Exact) -> Option<Exact> {
    let less = factor - Exact::new(1.into(), PARTS.into());
    (less > Exact::zero()).then_some(less)
}

/// What was found not to be good, to be tried first.
#[derive(Default)]
struct Tried {
    last_bad: usize,
}

impl Tried {
    /// Whether all these places of a box are good.
    fn is_good(&mut self, works: &Turnable<'_>, sides: &[Side], corners: &[Corner]) -> bool {
        let n = corners.len();
        for i in 0..n {
            let at = (self.last_bad + i) % n;
            let turned: Vec<Turned> = (sides.iter().zip(&corners[at]))
                .map(|(side, along)| {
                    let by = side.along(along);
                    (side.arbor, works.ticks(side.arbor, &by))
                })
                .collect();
            if !works.run(&turned).is_some_and(|struck| struck.is_right()) {
                self.last_bad = at;
                return false;
            }
        }
        true
    }
}

impl Side {
    /// A place of it.
    fn along(&self, along: &Along) -> Degrees {
        match along {
            Along::Best => self.best.clone(),
            Along::Part(part) => &self.from + &(&(&self.to - &self.from) * part),
        }
    }
}

/// All corners of a box of a few sides; of more, the middle of each of its faces.
fn corners(sides: usize) -> Vec<Corner> {
    let end = |end: usize| match end {
        0 => Along::Part(Exact::zero()),
        _ => Along::Part(Exact::one()),
    };
    if sides <= MOST_CORNERED {
        let corner = |n: usize| (0..sides).map(|s| end(n >> s & 1)).collect();
        return (0..1 << sides).map(corner).collect();
    }
    let mut faces = Vec::new();
    for side in 0..sides {
        for at in [0, 1] {
            let mut face = vec![Along::Best; sides];
            face[side] = end(at);
            faces.push(face);
        }
    }
    faces
}

/// Places all over a box, the same each time.
///
/// # Formula
/// Multiples of the roots of primes, without their whole parts, fill a box evenly.
/// # Source
/// R. D. Richtmyer, 1951, from memory.
fn points(sides: usize) -> Vec<Corner> {
    let primes = (2_u32..).filter(|n| (2..*n).all(|d| n % d != 0));
    let roots: Vec<f64> = primes.take(sides).map(|p| f64::from(p).sqrt()).collect();
    let place = |i: u32, root: &f64| {
        let along = (f64::from(i) * root).fract();
        Along::Part(Exact::from_float(along).unwrap_or_else(Exact::zero))
    };
    let point = |i| roots.iter().map(|root| place(i, root)).collect();
    (1..=POINTS).map(point).collect()
}
