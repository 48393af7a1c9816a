//! What to do next, by the least labour to be expected.
//!
//! Under a belief, a shift costs what it does on average over the ways the meshes may stand (`cost_to_go`); a look is worth what it
//! saves on average. Of leaving it, looking and shifting the cheapest is what work there is worth doing; whether it is done is
//! another question, and not asked here (`act`).

use crate::act::{Act, Lacks, RuleFacts, SETTLES, SURE, WorkLeft, act};
use crate::belief::Belief;
use crate::bench::{Bench, Tension};
use crate::chance::Target;
use crate::cost_to_go::{CostToGo, Teeth, cost, on_average};
use crate::glance::Hypothesis;
use crate::reading::{SaidReading, read};
use crate::shift::{Shift, ShiftWay};
use crate::turn::Turn;
use crate::view::View;
use movement::WitnessId;
use quantity::{Chance, Degrees, Exact};

/// What to do next, and what is to be expected of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// What to do.
    pub act: Act,
    /// What stands against closing up.
    pub lacks: Lacks,
    /// The chance that everything is in its window now.
    pub in_window: Chance,
    /// The chance that it is after what is advised, done by hands that may go wrong.
    pub after: Chance,
    /// The best shift, were one made now without another look; empty if leaving all as it is costs least, or all is done.
    pub shift_now: Vec<Shift>,
    /// Openings to be expected, each mesh moved counting a tenth.
    pub labour: f64,
}

/// Ways looked at when shifts are weighed, the likeliest first, until so much of the chance is covered.
const MOST_WEIGHED: usize = 64;
const COVERED: f64 = 1.0 - 1e-5;

/// Ways from which shifts are proposed.
const MOST_PROPOSING: usize = 16;

/// Once the train is held for a look, a further witness is read where that saves this part of what a look costs.
const BESIDE: f64 = 0.1;

/// It is not proved by hand where that would more likely fail than not, while anything else helps.
const LIKELIER_THAN_NOT: f64 = 0.5;

/// After a look that was hoped to settle it, so many more are made before it is tried.
const MOST_MORE_LOOKS: usize = 2;

/// A shift has to leave less to be done than there was, by more than this part of what it costs: else it would be made again
/// and again, if only it is cheap.
const PROGRESS: f64 = 0.1;

/// What a belief makes of each shift that might be made.
struct Weighed {
    /// The likeliest hypotheses.
    hypotheses: Vec<Hypothesis>,
    /// Shifts; the first is none at all, and to call it done.
    shifts: Vec<Teeth>,
    /// What each shift costs from each way, all that follows included: a row a shift.
    costs: Vec<Vec<f64>>,
    /// What is to be done from each way as it stands.
    left: Vec<f64>,
    /// The chances of the hypotheses, which add up to 1.
    chances: Vec<f64>,
}

impl Weighed {
    /// Whether less is to be done after a shift than before it, on average.
    fn is_progress(&self, bench: &Bench<'_>, shift: usize) -> bool {
        let cost = cost(bench.ground(), &self.shifts[shift]);
        let saved: f64 = (self.left.iter().zip(&self.costs[shift]).zip(&self.chances))
            .map(|((left, costs), chance)| chance * (left + cost - costs))
            .sum();
        saved > PROGRESS * cost
    }

    /// The cheapest shift under these chances, and what it costs.
    fn best(&self, chances: &[f64]) -> (usize, f64) {
        (self.costs.iter().enumerate())
            .map(|(shift, costs)| {
                let cost: f64 = costs
                    .iter()
                    .zip(chances)
                    .map(|(cost, chance)| cost * chance)
                    .sum();
                (shift, cost)
            })
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap_or((0, 0.0))
    }
}

impl Bench<'_> {
    fn weigh(&self, all: &View, cost_to_go: &CostToGo) -> Weighed {
        let mut hypotheses = all.hypotheses.clone();
        hypotheses.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.way.cmp(&b.way)));
        let mut covered = 0.0;
        let kept = hypotheses
            .iter()
            .take(MOST_WEIGHED)
            .take_while(|hypothesis| {
                let more = covered < COVERED && hypothesis.chance > 0.0;
                covered += hypothesis.chance;
                more
            })
            .count();
        hypotheses.truncate(kept);
        let mut shifts: Vec<Teeth> = vec![vec![0; self.places.offsets.len()]];
        for hypothesis in hypotheses.iter().take(MOST_PROPOSING) {
            for teeth in cost_to_go.targets(&self.places, hypothesis.way) {
                if !shifts.contains(&teeth) {
                    shifts.push(teeth);
                }
            }
        }
        // Called done where it is not: it will be found when it is tripped, and everything is still to do. What is off in a
        // lever or a part stays off wherever the meshes come to stand.
        let again =
            |off: &[f64], way: usize| 2.1 * (1.0 - self.in_window_at(&all.covariance, off, way));
        let undone = |off: &[f64], way: usize| {
            if cost_to_go.stays(way) {
                cost_to_go.value[way] + again(off, way)
            } else {
                cost_to_go.value[way] + 1.0 - self.in_window_at(&all.covariance, off, way)
            }
        };
        // Where more is to be done, the end of it is out just as surely if what is off is off too far.
        let in_the_end = |off: &[f64], way: usize| {
            (cost_to_go.targets(&self.places, way))
                .map(|teeth| {
                    let goal = (teeth.iter().enumerate()).fold(way, |way, (offset, teeth)| {
                        self.places.ahead(way, offset, *teeth)
                    });
                    again(off, goal)
                })
                .min_by(f64::total_cmp)
                .unwrap_or(0.0)
        };
        let mut costs = vec![vec![0.0; hypotheses.len()]; shifts.len()];
        let mut to_do = Vec::new();
        // What is left at each way is worked out once for a hypothesis; of all ways few are come to.
        let mut known: Vec<Option<f64>> = vec![None; self.places.count];
        let mut come_to: Vec<usize> = Vec::new();
        for (g, hypothesis) in hypotheses.iter().enumerate() {
            let off = &hypothesis.off;
            let mut left = |way: usize| {
                *known[way].get_or_insert_with(|| {
                    come_to.push(way);
                    if cost_to_go.stays(way) {
                        undone(off, way)
                    } else {
                        cost_to_go.value[way] + in_the_end(off, way)
                    }
                })
            };
            for (shift, costs) in shifts.iter().zip(&mut costs).skip(1) {
                costs[g] = cost(self.ground(), shift)
                    + on_average(self.ground(), hypothesis.way, shift, &mut left);
            }
            costs[0][g] = undone(off, hypothesis.way);
            // From where something is out, no less is left than the cheapest of these shifts and what follows it.
            let cheapest = (costs.iter().skip(1))
                .map(|costs| costs[g])
                .min_by(f64::total_cmp);
            let out = !cost_to_go.stays(hypothesis.way);
            to_do.push(left(hypothesis.way).max(cheapest.filter(|_| out).unwrap_or(0.0)));
            for way in come_to.drain(..) {
                known[way] = None;
            }
        }
        let total: f64 = hypotheses.iter().map(|hypothesis| hypothesis.chance).sum();
        Weighed {
            chances: (hypotheses.iter())
                .map(|hypothesis| hypothesis.chance / total)
                .collect(),
            hypotheses,
            shifts,
            costs,
            left: to_do,
        }
    }

    /// What to do next. `readable` are the witnesses that can be read now.
    pub fn advise(&self, belief: &Belief, facts: &RuleFacts, readable: &[WitnessId]) -> Advice {
        self.advise_besides(belief, facts, readable, WorkLeft::default())
    }

    /// The same, beside what work with parts that can be turned on their arbors there is: which, and whether one was turned last.
    pub(crate) fn advise_besides(
        &self,
        belief: &Belief,
        facts: &RuleFacts,
        readable: &[WitnessId],
        mut work: WorkLeft,
    ) -> Advice {
        let cost_to_go = self.cost_to_go(belief);
        let mut shift_now = Vec::new();
        let mut expected = f64::INFINITY;
        if cost_to_go.reachable {
            let all = self.blurred(belief);
            let weighed = self.weigh(&all, &cost_to_go);
            let (best, cost) = weighed.best(&weighed.chances);
            expected = cost;
            shift_now = self.as_shifts(&weighed.shifts[best]);
            if !weighed.is_progress(self, best) {
                shift_now.clear();
            }
            let can_be_made = !shift_now.iter().any(|shift| self.is_open(shift, facts));
            let looks = self.looks_worth(belief, &all, &weighed, readable);
            // Where more is to be done, nobody asks what a look more would settle.
            let left = looks.is_empty() && shift_now.is_empty();
            work = WorkLeft {
                reachable: true,
                shift: if can_be_made {
                    shift_now.clone()
                } else {
                    Vec::new()
                },
                looks,
                doubtful: self.doubtful(belief, readable),
                settles: left && self.settles(belief, &all, readable),
                ..work
            };
        }
        let act = act(facts, &work);
        if matches!(act, Act::Done | Act::Turn(_)) || !work.another_drop.is_empty() {
            shift_now.clear();
        }
        let after = match &act {
            Act::Shift(_) => self.after(belief, &shift_now),
            Act::Turn(turns) => self.after_turns(belief, turns),
            _ => facts.in_window,
        };
        Advice {
            act,
            lacks: facts.lacks(),
            in_window: facts.in_window,
            after,
            shift_now,
            labour: expected,
        }
    }

    /// The chance that all is in after a shift by hands that may go wrong.
    fn after(&self, belief: &Belief, shifts: &[Shift]) -> Chance {
        let mut then = belief.clone();
        let meshes: Vec<_> = shifts.iter().map(|s| (s.mesh, s.signed())).collect();
        self.shift(&mut then, &meshes, None);
        self.in_window(&then)
    }

    /// The chance that all is in after parts are turned by hands that may go wrong.
    fn after_turns(&self, belief: &Belief, turns: &[Turn]) -> Chance {
        let mut then = belief.clone();
        for turn in turns {
            let moves = turn.moves.iter();
            let moves: Vec<_> =
                (moves.map(|(id, by)| (*id, by.to_f64(), turn.spread(by)))).collect();
            self.turned(&mut then, &moves);
        }
        self.in_window(&then)
    }

    /// Whether a shift is at a mesh that is open, since one of its arbors is out.
    fn is_open(&self, shift: &Shift, facts: &RuleFacts) -> bool {
        let mesh = self.movement.mesh(shift.mesh);
        [mesh.driver.arbor, mesh.driven.arbor]
            .iter()
            .any(|arbor| facts.out.contains(arbor))
    }

    /// Witnesses that can be read, the least sure to be in a place that is in its window first.
    fn doubtful(&self, belief: &Belief, readable: &[WitnessId]) -> Vec<WitnessId> {
        let stands_in = |id: WitnessId| -> f64 {
            (self.places_of(belief, id).iter())
                .filter(|(place, _)| self.movement.witness(id).admits(place))
                .map(|(_, chance)| chance.get())
                .sum()
        };
        let mut doubtful: Vec<(f64, WitnessId)> =
            readable.iter().map(|&id| (stands_in(id), id)).collect();
        doubtful.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        doubtful.into_iter().map(|(_, id)| id).collect()
    }

    /// Whether looking again settles it, as far as can be told beforehand: by looks that show everything where it likeliest
    /// stands. If the hold alone keeps it below the chance that is asked for, each look brings a little, and only so many
    /// that reach it are worth while.
    fn settles(&self, belief: &Belief, all: &View, readable: &[WitnessId]) -> bool {
        let likeliest = (all.hypotheses.iter()).max_by(|a, b| a.chance.total_cmp(&b.chance));
        let Some(likeliest) = likeliest else {
            return false;
        };
        let (mut readings, mut held_exactly) = (Vec::new(), 1.0);
        for &id in readable {
            let witness = self.movement.witness(id);
            let (at, spread) = (
                self.expected_at(likeliest, id),
                self.usual_spread(belief, id),
            );
            let target = Target {
                from: witness.from.to_f64(),
                to: witness.to.to_f64(),
                period: witness.period().to_f64(),
                spread: spread.hypot(witness.window_spread().to_f64()),
                held: 0.0,
                tied: false,
            };
            held_exactly *= target.alone(at);
            let stands = Exact::from_float(at).map(Degrees::deg);
            let said = stands.map(|at| SaidReading::Degrees(at, Exact::from_float(spread)));
            readings.extend(said.and_then(|said| read(&self.movement, id, &said).ok()));
        }
        let mut then = belief.clone();
        let now = self.in_window(belief).get();
        let way = likeliest.way;
        if now < LIKELIER_THAN_NOT && !self.places.all_admitted(way) {
            // To prove it now would more likely fail: another look is better while it still tells how the meshes stand.
            self.look(&mut then, &readings, Tension::Tensioned);
            return self.chances(&then)[way] - self.chances(belief)[way] > SETTLES;
        }
        let mut looked = || {
            self.look(&mut then, &readings, Tension::Tensioned);
            self.in_window(&then).get()
        };
        let once = looked();
        if held_exactly >= SURE {
            (0..MOST_MORE_LOOKS).fold(once, |_, _| looked()) >= SURE
        } else {
            once - now > SETTLES
        }
    }

    /// The witnesses of another look, the one that saves most first; none where no witness by itself saves more than the look
    /// costs.
    ///
    /// What a look saves is reckoned from what each witness by itself would show: at each place it may be in, read at that
    /// place and a spread and three quarters to either side (the three-point rule of Gauss and Hermite).
    fn looks_worth(
        &self,
        belief: &Belief,
        all: &View,
        weighed: &Weighed,
        readable: &[WitnessId],
    ) -> Vec<WitnessId> {
        const POINTS: [(f64, f64); 3] = [
            (-1.732_050_8, 1.0 / 6.0),
            (0.0, 2.0 / 3.0),
            (1.732_050_8, 1.0 / 6.0),
        ];
        let chances = &weighed.chances;
        let (_, now) = weighed.best(chances);
        let mut worth: Vec<(f64, WitnessId)> = Vec::new();
        for &id in readable {
            let (spread, period) = self.usual_look(belief, all, id);
            let at: Vec<f64> = (weighed.hypotheses.iter())
                .map(|hypothesis| self.expected_at(hypothesis, id))
                .collect();
            let mut seen: Vec<(f64, f64)> = Vec::new();
            for (place, chance) in at.iter().zip(chances) {
                match seen
                    .iter_mut()
                    .find(|(other, _)| (other - place).abs() < 1e-6 * period)
                {
                    Some((_, sum)) => *sum += chance,
                    None => seen.push((*place, *chance)),
                }
            }
            let then: f64 = seen
                .iter()
                .filter(|(_, chance)| *chance > 1e-6)
                .flat_map(|(place, chance)| {
                    POINTS
                        .iter()
                        .map(move |(off, share)| (place + off * spread, chance * share))
                })
                .map(|(read, weight)| {
                    let mut likelihoods: Vec<f64> = (at.iter().zip(chances))
                        .map(|(place, chance)| {
                            let apart = read - place;
                            let apart = apart - period * libm::round(apart / period);
                            chance * libm::exp(-0.5 * (apart / spread) * (apart / spread))
                        })
                        .collect();
                    let total: f64 = likelihoods.iter().sum();
                    for likelihood in &mut likelihoods {
                        *likelihood /= total;
                    }
                    weight * weighed.best(&likelihoods).1
                })
                .sum();
            let known: f64 = (seen.iter().filter(|(_, chance)| *chance > 1e-6))
                .map(|(_, c)| c)
                .sum();
            let saved = now - then / known.max(f64::MIN_POSITIVE);
            worth.push((saved, id));
        }
        worth.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let pays = (worth.first()).is_some_and(|(saved, _)| *saved > self.priors.look);
        worth.retain(|(saved, _)| pays && *saved > BESIDE * self.priors.look);
        worth.into_iter().map(|(_, id)| id).collect()
    }

    /// Teeth at each mesh as shifts, from `read_at` outward.
    fn as_shifts(&self, teeth: &[i64]) -> Vec<Shift> {
        let mut said: Vec<Shift> = (self.places.offsets.iter().zip(teeth))
            .filter(|(_, teeth)| **teeth != 0)
            .map(|(offset, teeth)| {
                let half = i64::try_from(offset.cycle).is_ok_and(|cycle| 2 * teeth.abs() == cycle);
                Shift {
                    mesh: offset.mesh,
                    teeth: teeth.abs(),
                    way: match (half, *teeth < 0) {
                        (true, _) => ShiftWay::Either,
                        (false, false) => ShiftWay::Ahead,
                        (false, true) => ShiftWay::Back,
                    },
                }
            })
            .collect();
        said.sort_by_key(|shift| {
            let far = self.movement.far_arbor(shift.mesh);
            (far.map(|far| self.movement.distance(far)), shift.mesh)
        });
        said
    }
}
