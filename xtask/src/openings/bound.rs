//! The bound: a player who sees every place exactly, and has the same clumsy hands.
//!
//! No player can do with fewer openings on average: whatever it knows this one knows too, and of all that can be done in an
//! opening, any meshes by any teeth, this one does what leads to the fewest, found by value iteration over every way to
//! mesh the movement. Names nothing of `timing`.

use super::bench::{Move, Player, Sight};
use super::eyes::Seen;
use super::hands::Hands;
use super::values::{Plan, Problem, solve};
use super::world::World;
use movement::MeshId;
use std::collections::BTreeMap;

/// One thing that can be done in an opening.
#[derive(Debug, Clone)]
struct Choice {
    /// Which meshes, by their place in [`World::meshes`], and how many teeth.
    shifts: Vec<(usize, i64)>,
    /// An opening, or nothing where no plates are spread.
    cost: f64,
    /// How likely, and by which offsets it then moves, told as a state; the likeliest first.
    outcomes: Vec<(f64, usize)>,
}

struct Openings<'a> {
    world: &'a World,
    choices: Vec<Choice>,
    /// Where a state is moved by the offsets of another.
    sums: Vec<u32>,
}

impl<'a> Openings<'a> {
    fn of(world: &'a World, hands: Hands) -> Openings<'a> {
        // Each mesh left alone, or handled: turned by any teeth up to its cycle, and by none at all, which still may slip.
        let mut done: Vec<Vec<(usize, i64)>> = vec![Vec::new()];
        for (m, mesh) in world.meshes.iter().enumerate() {
            let alone = done.clone();
            let cycle = i64::try_from(mesh.cycle).expect("fewer than the states");
            for teeth in -(cycle - 1) / 2..=cycle / 2 {
                done.extend(
                    alone
                        .iter()
                        .map(|shifts| [&shifts[..], &[(m, teeth)]].concat()),
                );
            }
        }
        done.retain(|shifts| !shifts.is_empty());
        let choices = done
            .into_iter()
            .map(|shifts| Choice::of(world, hands, shifts))
            .collect();
        let sums = (0..world.states())
            .flat_map(|a| (0..world.states()).map(move |b| (a, b)))
            .map(|(a, b)| {
                let sum = (0..world.meshes.len()).fold(a, |state, mesh| {
                    let teeth =
                        i64::try_from(world.offset(b, mesh)).expect("fewer than the states");
                    world.moved(state, mesh, teeth)
                });
                u32::try_from(sum).expect("fewer than the states")
            })
            .collect();
        Openings {
            world,
            choices,
            sums,
        }
    }
}

impl Choice {
    fn of(world: &World, hands: Hands, shifts: Vec<(usize, i64)>) -> Choice {
        let mut outcomes = vec![(1.0, World::SOUND)];
        for &(mesh, teeth) in &shifts {
            let mut alike: BTreeMap<usize, f64> = BTreeMap::new();
            for (chance, state) in outcomes {
                for (_, share, done) in hands.outcomes(teeth) {
                    *alike.entry(world.moved(state, mesh, done)).or_default() += chance * share;
                }
            }
            outcomes = alike
                .into_iter()
                .map(|(state, chance)| (chance, state))
                .collect();
        }
        outcomes.retain(|(chance, _)| *chance > 0.0);
        outcomes.sort_by(|a, b| b.0.total_cmp(&a.0));
        let spread = world.spreads_plates(shifts.iter().map(|(mesh, _)| *mesh));
        Choice {
            shifts,
            cost: f64::from(u8::from(spread)),
            outcomes,
        }
    }
}

impl Problem for Openings<'_> {
    fn states(&self) -> usize {
        self.world.states()
    }
    fn end(&self, state: usize) -> Option<f64> {
        self.world.in_window(state).then_some(0.0)
    }
    fn choices(&self) -> usize {
        self.choices.len()
    }
    fn cost(&self, choice: usize) -> f64 {
        self.choices[choice].cost
    }
    fn outcomes(&self, state: usize, choice: usize) -> impl Iterator<Item = (f64, usize)> {
        let sums = &self.sums[state * self.world.states()..][..self.world.states()];
        let outcomes = &self.choices[choice].outcomes;
        outcomes
            .iter()
            .map(|(chance, by)| (*chance, sums[*by] as usize))
    }
}

/// More openings than any movement takes on average, and so above every value.
const ABOVE: f64 = 100.0;

/// The bound of one movement and one pair of hands.
#[derive(Debug, Clone)]
pub struct Bound<'a> {
    world: &'a World,
    plan: Plan,
    shifts: Vec<Vec<(MeshId, i64)>>,
}

impl<'a> Bound<'a> {
    /// Finds it.
    ///
    /// # Panics
    /// If hands are so clumsy that hardly anything gets done.
    pub fn of(world: &'a World, hands: Hands) -> Bound<'a> {
        let openings = Openings::of(world, hands);
        let plan = solve(&openings, ABOVE);
        let most = plan.values.iter().copied().fold(0.0, f64::max);
        assert!(most < 0.5 * ABOVE, "{most} openings on average");
        let ids = |shifts: &[(usize, i64)]| {
            shifts
                .iter()
                .map(|(mesh, t)| (world.meshes[*mesh].id, *t))
                .collect()
        };
        let shifts = openings
            .choices
            .iter()
            .map(|choice| ids(&choice.shifts))
            .collect();
        Bound {
            world,
            plan,
            shifts,
        }
    }

    /// Openings on average from a state until all is in window.
    pub fn openings(&self, state: usize) -> f64 {
        self.plan.values[state]
    }

    fn state_of(&self, seen: &[Seen]) -> Option<usize> {
        let world = self.world;
        (0..world.states()).find(|state| {
            seen.iter().enumerate().all(|(w, seen)| {
                let periods = (seen.deg - world.stands(*state, w)) / world.witnesses[w].period;
                // No two places are nearer than this, and no rounding is as large.
                (periods - periods.round()).abs() < 1e-7
            })
        })
    }
}

/// Plays as planned. It needs exact eyes.
impl Player for Bound<'_> {
    fn play(&mut self, sight: &Sight) -> Move {
        match sight {
            Sight::Seen(seen) => match self.state_of(seen) {
                Some(state) if self.world.in_window(state) => Move::Done,
                Some(state) => Move::Shift(self.shifts[self.plan.choices[state]].clone()),
                None => unreachable!("exact eyes see a place there is"),
            },
            Sight::Put | Sight::Shifted | Sight::NotInWindow => {
                Move::Look(self.world.witnesses.iter().map(|w| w.id).collect())
            }
        }
    }
}
