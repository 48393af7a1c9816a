//! Guards what the study finds: what the bound takes is what its plan says, and trial and error takes more.

use xtask::openings::bound::Bound;
use xtask::openings::fleet;
use xtask::openings::study::{CLUMSY, Course, Figures, SLIPPING, SURE, Tally, USUAL, Who, play};

const MOVEMENTS: u64 = 1000;

fn of(tallies: &[Tally], who: Who) -> Figures {
    Figures::of(tallies.iter().filter(|tally| tally.who == who))
}

/// With readings as stated, by windows as they are.
fn course(players: &[Who], movements: u64) -> Course<'_> {
    Course {
        times: &[1.0],
        players,
        movements,
        off: None,
        stood: false,
    }
}

#[test]
fn sure_hands_take_one_opening_and_none_where_all_is_wrong_outside() {
    for fleet in fleet::all() {
        let world = &fleet.world;
        let bound = Bound::of(world, SURE);
        // Whether turning the meshes outside alone can bring all in.
        let outside = |state: usize| {
            let mut reached = vec![state];
            for (m, mesh) in world
                .meshes
                .iter()
                .enumerate()
                .filter(|(_, mesh)| mesh.outside)
            {
                let cycle = i64::try_from(mesh.cycle).expect("few");
                reached = reached
                    .iter()
                    .flat_map(|s| (0..cycle).map(move |t| world.moved(*s, m, t)))
                    .collect();
            }
            reached.into_iter().any(|state| world.in_window(state))
        };
        for state in 0..world.states() {
            let meant = if outside(state) { 0.0 } else { 1.0 };
            assert!(
                (bound.openings(state) - meant).abs() < 1e-9,
                "{} {state}",
                fleet.name
            );
        }
    }
}

#[test]
fn the_bound_takes_what_its_plan_says_and_trial_and_error_takes_more() {
    let fleets = fleet::all();
    for hands in [SURE, SLIPPING, USUAL, CLUMSY] {
        let all: Vec<Tally> = fleets
            .iter()
            .flat_map(|fleet| play(fleet, hands, &course(&[Who::Bound, Who::Trial], MOVEMENTS)))
            .collect();
        let bound = of(&all, Who::Bound);
        // Four standard errors; with sure hands both are the same number.
        let (plan, error) = bound.plan;
        assert!(
            (plan - 1.0).abs() <= 4.0 * error + 1e-9,
            "{hands:?}: {plan} ± {error}"
        );
        assert_eq!((bound.put_aside, bound.false_dones), (0, 0));
        for fleet in &fleets {
            let of_fleet: Vec<Tally> = all
                .iter()
                .filter(|tally| tally.fleet == fleet.name)
                .cloned()
                .collect();
            let trial = of(&of_fleet, Who::Trial);
            assert!(
                trial.ratio - 4.0 * trial.ratio_error > 1.0,
                "{}: {trial:?}",
                fleet.name
            );
        }
    }
}
