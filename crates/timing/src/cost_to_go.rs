//! The labour still to come from each way the meshes may stand, were it known.
//!
//! An opening counts 1, each mesh moved in it a tenth, a look three hundredths. From each way there is a number ([`CostToGo`]): what
//! the best shift costs, and what is left to do after hands that may go wrong. What that makes of a belief is told in `advice`.

use crate::assumed::COCK;
use crate::places::Places;
use crate::priors::Priors;
use movement::MeshAccess;
use std::num::NonZeroU64;

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
    /// The shifts worth considering from each way; there may be tens of thousands of ways, so that no more is kept of each.
    nearest: Vec<[Option<Packed>; MOST_TARGETS]>,
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
        let goals: Vec<usize> = goals.iter().flat_map(|goal| places.digits(*goal)).collect();
        let leading = Leading::of(ground);
        let mut cost_to_go = CostToGo {
            value: vec![0.0; places.count],
            nearest: vec![[None; MOST_TARGETS]; places.count],
            reachable,
        };
        for way in 0..places.count {
            if admitted(way) {
                cost_to_go.value[way] = LEAN * places.lean(way);
                continue;
            }
            let nearest = leading.nearest(places, &goals, way);
            cost_to_go.value[way] = nearest.first().map_or(0.0, |led| 1.2 * led.cost);
            for (kept, led) in cost_to_go.nearest[way].iter_mut().zip(nearest) {
                *kept = Some(led.shift);
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
        (self.nearest[way].iter().flatten()).map(|shift| unpacked(places, *shift))
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

/// Teeth at each mesh in one number that is not 0, those at the last mesh counting fastest.
type Packed = NonZeroU64;

/// A shift and what it costs.
#[derive(Debug, Clone, Copy)]
struct Led {
    cost: f64,
    /// Teeth counted, all told.
    counted: i64,
    shift: Packed,
}

/// For each way the shifts that lead there from a sound movement, and so from any way to the one as far from it.
struct Leading(Vec<Vec<Led>>);

/// So many shifts are tried for what leads to a way most cheaply, of so many meshes at most: where the cheapest were all tried, more is
/// spent on what hardly ever costs less.
const MOST_TRIED: usize = 1_000_000;
const MOST_TOGETHER: usize = 5;

impl Leading {
    fn of(ground: Ground<'_>) -> Leading {
        let places = ground.places;
        let mut leading = Leading(vec![Vec::new(); places.count]);
        let mut tried = 0;
        for (cost, moved) in moved_together(ground) {
            let mut teeth = one_each(places, &moved);
            let mut way = places.way(&teeth);
            while tried < MOST_TRIED {
                tried += 1;
                leading.keep(way, cost, &teeth, places);
                // One tooth more, and where a mesh has gone round, at the one before it.
                let Some(at) = moved.iter().rposition(|&a| teeth[a] + 1 < cycle(places, a)) else {
                    break;
                };
                for &a in &moved[at + 1..] {
                    way = places.ahead(way, a, 1 - teeth[a]);
                    teeth[a] = 1;
                }
                way = places.ahead(way, moved[at], 1);
                teeth[moved[at]] += 1;
            }
        }
        // What none of them led to is led to by its digits.
        for way in 0..places.count {
            if leading.0[way].is_empty() {
                let teeth: Teeth = (places.digits(way))
                    .map(|digit| i64::try_from(digit).unwrap_or(0))
                    .collect();
                leading.keep(way, cost(ground, &teeth), &teeth, places);
            }
        }
        leading
    }

    /// Keeps a shift for a way if it is among the cheapest there; of those that cost the same, among those of fewest teeth.
    fn keep(&mut self, way: usize, cost: f64, teeth: &[i64], places: &Places) {
        let counted = (teeth.iter().enumerate())
            .map(|(a, teeth)| (*teeth).min(cycle(places, a) - teeth))
            .sum();
        let kept = &mut self.0[way];
        let at = kept.partition_point(|led| (led.cost, led.counted) <= (cost, counted));
        if at < MOST_TARGETS {
            let shift = packed(places, teeth);
            kept.insert(
                at,
                Led {
                    cost,
                    counted,
                    shift,
                },
            );
            kept.truncate(MOST_TARGETS);
        }
    }

    /// The shifts that cost least from a way to a goal; of those that cost the same the ones to the first goal. Goals are told by their
    /// digits, one for each mesh; there may be as many pairs of way and goal as fifty million.
    fn nearest(&self, places: &Places, goals: &[usize], way: usize) -> Vec<Led> {
        let from: Vec<usize> = places.digits(way).collect();
        let mut kept: Vec<Led> = Vec::with_capacity(MOST_TARGETS + 1);
        for to in goals.chunks_exact(from.len().max(1)) {
            for led in &self.0[places.between(&from, to)] {
                let full = kept.len() == MOST_TARGETS;
                if full && kept.last().is_some_and(|most| led.cost >= most.cost) {
                    break;
                }
                let at = kept.partition_point(|kept| kept.cost <= led.cost);
                kept.insert(at, *led);
                kept.truncate(MOST_TARGETS);
            }
        }
        kept
    }
}

/// Which meshes may be moved together, and what that costs: what costs least first; of what costs the same those earlier on the sheet.
fn moved_together(ground: Ground<'_>) -> Vec<(f64, Vec<usize>)> {
    let mut together: Vec<Vec<usize>> = vec![Vec::new()];
    for a in 0..ground.places.offsets.len() {
        for n in 0..together.len() {
            if together[n].len() < MOST_TOGETHER {
                together.push(together[n].iter().copied().chain([a]).collect());
            }
        }
    }
    let cost = |moved: &[usize]| cost(ground, &one_each(ground.places, moved));
    let mut each: Vec<(f64, Vec<usize>)> = (together.into_iter())
        .map(|moved| (cost(&moved), moved))
        .collect();
    each.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
    each
}

/// One tooth ahead at each of these meshes.
fn one_each(places: &Places, moved: &[usize]) -> Teeth {
    (0..places.offsets.len())
        .map(|a| i64::from(moved.contains(&a)))
        .collect()
}

fn cycle(places: &Places, offset: usize) -> i64 {
    i64::try_from(places.offsets[offset].cycle).unwrap_or(i64::MAX)
}

/// All numbers of teeth fit: `Places` sees to it.
fn packed(places: &Places, teeth: &[i64]) -> Packed {
    let packed = (teeth.iter().zip(&places.offsets)).fold(0, |packed: u64, (teeth, offset)| {
        packed * offset.cycle as u64 + u64::try_from(*teeth).unwrap_or(0)
    });
    Packed::MIN.saturating_add(packed)
}

/// The fewest teeth at each mesh, ahead or back.
fn unpacked(places: &Places, shift: Packed) -> Teeth {
    let mut shift = shift.get() - 1;
    let mut teeth: Teeth = (places.offsets.iter().rev())
        .map(|offset| {
            let cycle = offset.cycle as u64;
            let ahead = shift % cycle;
            shift /= cycle;
            let signed = |x: u64| i64::try_from(x).unwrap_or(0);
            if 2 * ahead <= cycle {
                signed(ahead)
            } else {
                signed(ahead) - signed(cycle)
            }
        })
        .collect();
    teeth.reverse();
    teeth
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
