//! The labour still to come from each way the meshes may stand, were it known.
//!
//! An opening counts 1, each mesh moved in it a tenth, a look three hundredths. From each way there is a number ([`CostToGo`]): what
//! the best shift costs, and what is left to do after hands that may go wrong. What that makes of a belief is told in `advice`.

use crate::assumed::COCK;
use crate::places::Places;
use crate::priors::Priors;
use movement::MeshAccess;
use std::num::NonZeroU32;

/// Teeth at each mesh, ahead positive.
pub(crate) type Teeth = Vec<i64>;

/// What labour is reckoned from.
#[derive(Clone, Copy)]
pub(crate) struct Ground<'a> {
    /// Where the meshes may stand.
    pub(crate) places: &'a Places,
    /// How sure hands are, and what moving costs.
    pub(crate) priors: &'a Priors,
}

/// Targets kept for each way: those that take fewest meshes. More hardly ever cost less.
const MOST_TARGETS: usize = 4;

/// Sweeps until the labour of every way has settled to a ten-thousandth of an opening; it does in a dozen.
const MOST_SWEEPS: usize = 60;
const SETTLED: f64 = 1e-5;

/// Of two shifts that cost the same, the one that leaves the witnesses nearer their best: a whole half window counts as
/// little as two looks.
const LEAN: f64 = 0.02;

/// With more ways than this the labour of each is estimated from the meshes it takes, not worked out.
const MOST_WORKED_OUT: usize = 20_000;

/// The labour still to come from each way of standing.
#[derive(Debug, Clone)]
pub(crate) struct CostToGo {
    pub(crate) value: Vec<f64>,
    /// Ways with everything in its window.
    goals: Vec<usize>,
    /// The goals worth considering from each way, by their number; there may be tens of thousands of ways, so that no more is kept of each.
    nearest: Vec<[Option<NonZeroU32>; MOST_TARGETS]>,
    pub(crate) reachable: bool,
}

impl CostToGo {
    /// `admitted` tells which ways have everything in its window.
    pub(crate) fn of(ground: Ground<'_>, admitted: &dyn Fn(usize) -> bool) -> CostToGo {
        let places = ground.places;
        let mut goals: Vec<usize> = (0..places.count).filter(|way| admitted(*way)).collect();
        goals.sort_by(|a, b| places.lean(*a).total_cmp(&places.lean(*b)));
        let reachable = !goals.is_empty();
        let most_goals = (50_000_000 / places.count.max(1)).max(1);
        goals.truncate(most_goals);
        let offsets: Vec<usize> = goals
            .iter()
            .flat_map(|goal| places.offsets(*goal))
            .collect();
        let mut cost_to_go = CostToGo {
            value: vec![0.0; places.count],
            nearest: vec![[None; MOST_TARGETS]; places.count],
            goals,
            reachable,
        };
        for way in 0..places.count {
            if admitted(way) {
                cost_to_go.value[way] = LEAN * places.lean(way);
                continue;
            }
            let nearest = nearest(ground, &offsets, way);
            cost_to_go.value[way] = nearest.first().map_or(0.0, |(cost, _)| 1.2 * cost);
            for (kept, (_, goal)) in cost_to_go.nearest[way].iter_mut().zip(nearest) {
                *kept = u32::try_from(goal + 1).ok().and_then(NonZeroU32::new);
            }
        }
        if places.count <= MOST_WORKED_OUT {
            let targets: Vec<Vec<Teeth>> = (0..places.count)
                .map(|way| cost_to_go.targets(places, way).collect())
                .collect();
            for _ in 0..MOST_SWEEPS {
                if cost_to_go.sweep(ground, &targets) < SETTLED {
                    break;
                }
            }
        }
        cost_to_go
    }

    /// Shifts worth considering from a way.
    pub(crate) fn targets<'l>(
        &'l self,
        places: &'l Places,
        way: usize,
    ) -> impl Iterator<Item = Teeth> + 'l {
        let goals = self.nearest[way].iter().flatten();
        let goals = goals.filter_map(|n| self.goals.get(n.get() as usize - 1));
        goals.map(move |goal| between(places, way, *goal))
    }

    /// Whether there is nowhere to go from a way.
    pub(crate) fn stays(&self, way: usize) -> bool {
        self.nearest[way][0].is_none()
    }

    /// One round of the labour of each way from that of the others; by how much it changed at most.
    fn sweep(&mut self, ground: Ground<'_>, targets: &[Vec<Teeth>]) -> f64 {
        let mut change = 0.0f64;
        for (way, targets) in targets.iter().enumerate() {
            let best = (targets.iter())
                .map(|teeth| cost(ground, teeth) + self.after(ground, way, teeth))
                .min_by(f64::total_cmp);
            if let Some(best) = best {
                change = change.max((best - self.value[way]).abs());
                self.value[way] = best;
            }
        }
        change
    }

    /// The labour to be expected after a shift from a way, over how hands may go wrong.
    fn after(&self, ground: Ground<'_>, way: usize, teeth: &[i64]) -> f64 {
        on_average(ground, way, teeth, &mut |to| self.value[to])
    }
}

/// What something comes to on average where a shift may lead from a way, over how hands may go wrong.
pub(crate) fn on_average(
    ground: Ground<'_>,
    way: usize,
    teeth: &[i64],
    value: &mut dyn FnMut(usize) -> f64,
) -> f64 {
    average_from(ground, way, 0, teeth, value)
}

/// The same for the axles from one on.
fn average_from(
    ground: Ground<'_>,
    way: usize,
    from: usize,
    teeth: &[i64],
    value: &mut dyn FnMut(usize) -> f64,
) -> f64 {
    let Some(offset) = (from..teeth.len()).find(|a| teeth[*a] != 0) else {
        return value(way);
    };
    ground
        .priors
        .hands
        .outcomes(teeth[offset])
        .iter()
        .filter(|outcome| outcome.share > 0.0)
        .map(|outcome| {
            let to = ground.places.ahead(way, offset, outcome.teeth);
            outcome.share * average_from(ground, to, offset + 1, teeth, value)
        })
        .sum()
}

/// The goals that cost least from a way, by their number, and what each costs; of those that cost the same the first. A goal is told
/// by its offsets, one for each mesh; there may be as many pairs of way and goal as fifty million, so that nothing is made anew
/// for each.
fn nearest(ground: Ground<'_>, goals: &[usize], way: usize) -> Vec<(f64, usize)> {
    let offsets = &ground.places.offsets;
    let from = ground.places.offsets(way);
    let mut kept: Vec<(f64, usize)> = Vec::with_capacity(MOST_TARGETS + 1);
    for (n, to) in goals.chunks_exact(offsets.len().max(1)).enumerate() {
        let (mut moved, mut opened) = (0_u32, MeshAccess::Outside);
        for ((from, to), offset) in from.iter().zip(to).zip(offsets) {
            moved += u32::from(from != to);
            if from != to {
                opened = opened.max(offset.access);
            }
        }
        let cost = opening(opened) + ground.priors.mesh * f64::from(moved);
        let full = kept.len() == MOST_TARGETS;
        if full && kept.last().is_some_and(|(most, _)| cost >= *most) {
            continue;
        }
        let at = kept.partition_point(|(kept, _)| *kept <= cost);
        kept.insert(at, (cost, n));
        kept.truncate(MOST_TARGETS);
    }
    kept
}

/// The fewest teeth at each mesh from one way to another.
fn between(places: &Places, from: usize, to: usize) -> Teeth {
    (places.offsets(from).iter().zip(places.offsets(to)))
        .zip(&places.offsets)
        .map(|((from, to), offset)| {
            let ahead = (to + offset.cycle - from) % offset.cycle;
            let signed = |x: usize| i64::try_from(x).unwrap_or(0);
            if 2 * ahead <= offset.cycle {
                signed(ahead)
            } else {
                signed(ahead) - signed(offset.cycle)
            }
        })
        .collect()
}

/// What a shift costs: an opening if plates are spread, and its meshes.
pub(crate) fn cost(ground: Ground<'_>, teeth: &[i64]) -> f64 {
    let moved = || (teeth.iter().zip(&ground.places.offsets)).filter(|(teeth, _)| **teeth != 0);
    let opened = moved().map(|(_, offset)| offset.access).max();
    opened.map_or(0.0, opening) + ground.priors.mesh * moved().count() as f64
}

/// What it costs to come at meshes of which the worst is opened so.
fn opening(access: MeshAccess) -> f64 {
    match access {
        MeshAccess::Outside => 0.0,
        MeshAccess::Cock => COCK.value,
        MeshAccess::Plates => 1.0,
    }
}
