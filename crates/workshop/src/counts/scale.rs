//! How likely a set of counts can be at most of which only the first few are set.

use super::puzzle::{Puzzle, Size};
use super::weight::{by_size, doubtful, groups, pair};
use movement::{Movement, PartId};

/// A part: its count is known, or it is a blank.
#[derive(Clone, Copy)]
enum Side {
    Known(u16),
    Blank(usize),
}

/// Two parts that mesh, and how common they are at most where one or both are not set.
struct Pair {
    sides: [Side; 2],
    /// By the count of the one that is set, from the least on; the first of them, then the second.
    one_set: [Vec<f64>; 2],
    none_set: f64,
}

/// Sizes of one module, the last blank among them, and what they weigh at most before that is set.
struct Sizes<'a> {
    sizes: Vec<&'a Size>,
    last: usize,
    at_most: f64,
}

/// What sets of a puzzle's counts weigh.
pub(crate) struct Scale<'a> {
    movement: &'a Movement,
    puzzle: &'a Puzzle,
    pairs: Vec<Pair>,
    sizes: Vec<Sizes<'a>>,
}

impl<'a> Scale<'a> {
    pub(crate) fn of(movement: &'a Movement, puzzle: &'a Puzzle) -> Scale<'a> {
        let side = |part: PartId| match puzzle.blanks.iter().position(|b| b.part == part) {
            Some(i) => Side::Blank(i),
            None => Side::Known(movement.part(part).teeth.get()),
        };
        let pairs = movement.meshes().filter_map(|(_, mesh)| {
            let sides = [side(mesh.driver), side(mesh.driven)];
            let unknown = sides.iter().any(|side| matches!(side, Side::Blank(_)));
            unknown.then(|| Pair::of(sides, puzzle))
        });
        let sizes = groups(puzzle).into_iter().map(|sizes| {
            let blanks = sizes.iter().flat_map(|size| last(size, puzzle));
            Sizes {
                last: blanks.max().unwrap_or(0),
                at_most: sizes_at_most(&sizes),
                sizes,
            }
        });
        Scale {
            movement,
            puzzle,
            pairs: pairs.collect(),
            sizes: sizes.collect(),
        }
    }

    /// What a set that begins so weighs at most; what it weighs, where it is whole.
    pub(crate) fn at_most(&self, counts: &[u16]) -> f64 {
        let blanks = self.puzzle.blanks.iter().enumerate();
        let doubts = blanks.filter_map(|(i, blank)| {
            let written = blank.written?.get();
            Some(doubtful(written, counts.get(i).copied().unwrap_or(written)))
        });
        let pairs = self
            .pairs
            .iter()
            .map(|pair| pair.at_most(self.puzzle, counts));
        let aims = self.puzzle.demands.iter().map(|demand| {
            let Some((aim, spread)) = demand.aimed().filter(|(_, spread)| *spread > 0.0) else {
                return 0.0;
            };
            let is = demand
                .comes_to(counts)
                .filter(|_| demand.last() < counts.len());
            is.map_or(0.0, |is| -((is - aim) / spread).powi(2) / 2.0)
        });
        let sizes = self.sizes.iter().map(|group| {
            if group.last < counts.len() {
                by_size(self.movement, &self.puzzle.blanks, &group.sizes, counts).0
            } else {
                group.at_most
            }
        });
        doubts.chain(pairs).chain(aims).chain(sizes).sum()
    }
}

impl Pair {
    fn of(sides: [Side; 2], puzzle: &Puzzle) -> Pair {
        let range = |side: Side| match side {
            Side::Known(count) => count..=count,
            Side::Blank(_) => puzzle.bounds.least..=puzzle.bounds.most,
        };
        let blank = sides.map(|side| matches!(side, Side::Blank(_)));
        let best = |first: &mut dyn Iterator<Item = u16>, second: Side| {
            let each = first.flat_map(|a| range(second).map(move |b| (a, b)));
            let weights = each.map(|(a, b)| pair([(a, blank[0]), (b, blank[1])]));
            weights.fold(f64::NEG_INFINITY, f64::max)
        };
        let by_first: Vec<f64> = range(sides[0])
            .map(|a| best(&mut std::iter::once(a), sides[1]))
            .collect();
        let by_second: Vec<f64> = range(sides[1])
            .map(|b| best(&mut range(sides[0]), Side::Known(b)))
            .collect();
        Pair {
            sides,
            none_set: by_first.iter().copied().fold(f64::NEG_INFINITY, f64::max),
            one_set: [by_first, by_second],
        }
    }

    fn at_most(&self, puzzle: &Puzzle, counts: &[u16]) -> f64 {
        let set = self.sides.map(|side| match side {
            Side::Known(count) => Some(count),
            Side::Blank(i) => counts.get(i).copied(),
        });
        let blank = self.sides.map(|side| matches!(side, Side::Blank(_)));
        let by = |i: usize, count: u16| {
            let least = if blank[i] { puzzle.bounds.least } else { count };
            self.one_set[i][usize::from(count - least)]
        };
        match set {
            [Some(a), Some(b)] => pair([(a, blank[0]), (b, blank[1])]),
            [Some(a), None] => by(0, a),
            [None, Some(b)] => by(1, b),
            [None, None] => self.none_set,
        }
    }
}

/// The blanks that a size depends on.
fn last(size: &Size, puzzle: &Puzzle) -> Vec<usize> {
    let weighs = |i: &usize| size.weights[*i] != 0.0 || Some(puzzle.blanks[*i].part) == size.tips;
    (0..puzzle.blanks.len()).filter(weighs).collect()
}

/// What measured sizes weigh at most, whatever the counts.
///
/// # Formula
/// With `z = y/s` and `p` its part along the sizes in modules, they weigh `−½(|z|² − p²) − ln p − Σ ln s`: most where all of it
/// lies along them, `−ln |z| − Σ ln s`, and that the more the smaller the spreads.
fn sizes_at_most(sizes: &[&Size]) -> f64 {
    let each = sizes.iter().map(|size| {
        let (value, spread) = (size.measured.value.as_mm(), size.measured.spread.as_mm());
        ((value / spread).powi(2), spread.ln())
    });
    let (far, spreads) = each.fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
    -f64::ln(far) / 2.0 - spreads
}
