//! The bound against plain enumeration: on trains of a few states, every way of always doing the same in the same state is
//! tried, its openings solved for as linear equations, and none does with fewer than the bound says.

use movement::Movement;
use xtask::openings::bound::Bound;
use xtask::openings::hands::Hands;
use xtask::openings::study::{CLUMSY, SLIPPING, SURE, USUAL};
use xtask::openings::world::World;

/// A train of two meshes: `first` drives the cam, the cam drives `last`. A tooth of either moves its own witness.
fn apart(first: (u16, u16), last: (u16, u16), window: &str, reached: &str) -> Movement {
    let text = format!(
        r#"
        sheet = 1
        name = "apart"
        seen_from = "back"
        [arbor.first]
        runs = "clockwise"
        wheel = {}
        [arbor.cam]
        pinion = 6
        wheel = 60
        [arbor.last]
        pinion = {}
        [[mesh]]
        driver = "first.wheel"
        driven = "cam.pinion"
        [[mesh]]
        driver = "cam.wheel"
        driven = "last.pinion"
        reached = "{reached}"
        [strike]
        counted_by = "count wheel"
        blows = "hours"
        read_at = "cam"
        blows_per_turn = 1
        [[witness]]
        id = "a"
        says = "on the first arbor"
        on = "first"
        repeats = {}
        window_deg = {window}
        best_deg = 0.0
        [[witness]]
        id = "b"
        says = "on the last arbor"
        on = "last"
        repeats = {}
        window_deg = [-5.0, 5.0]
        best_deg = 0.0
        "#,
        first.0, last.0, first.1, last.1
    );
    sheet::read(text.as_bytes()).expect("a good sheet").movement
}

/// A train in which a tooth of either mesh moves the one witness by half of its way round, so that two wrongs are right.
fn together() -> Movement {
    let text = r#"
        sheet = 1
        name = "together"
        seen_from = "back"
        [arbor.slots]
        runs = "clockwise"
        wheel = 8
        [arbor.second]
        pinion = 12
        wheel = 12
        [arbor.cam]
        pinion = 6
        [[mesh]]
        driver = "slots.wheel"
        driven = "second.pinion"
        [[mesh]]
        driver = "second.wheel"
        driven = "cam.pinion"
        [strike]
        counted_by = "count wheel"
        blows = "hours"
        read_at = "cam"
        blows_per_turn = 1
        [[witness]]
        id = "a"
        says = "on the slots"
        on = "slots"
        repeats = 4
        window_deg = [-5.0, 5.0]
        best_deg = 0.0
    "#;
    sheet::read(text.as_bytes()).expect("a good sheet").movement
}

/// Every choice: what it costs, and how likely it leads from each state to each, by the rule as it is written down.
fn choices(world: &World, hands: Hands) -> Vec<(f64, Vec<Vec<f64>>)> {
    let (q, s) = (hands.wrong_way, hands.slip);
    // For each mesh nothing (left alone), or how many teeth.
    let mut all: Vec<Vec<Option<i64>>> = vec![Vec::new()];
    for mesh in &world.meshes {
        let cycle = i64::try_from(mesh.cycle).expect("few");
        let ways: Vec<Option<i64>> = std::iter::once(None).chain((0..cycle).map(Some)).collect();
        all = all
            .iter()
            .flat_map(|done| ways.iter().map(|way| [&done[..], &[*way]].concat()))
            .collect();
    }
    all.retain(|done| done.iter().any(Option::is_some));
    all.iter()
        .map(|done| {
            let rows = (0..world.states())
                .map(|from| {
                    let mut row = vec![0.0; world.states()];
                    let mut ways = vec![(1.0, from)];
                    for (mesh, teeth) in done.iter().enumerate() {
                        let Some(t) = teeth else { continue };
                        let thrown = [
                            ((1.0 - q) * (1.0 - s), *t),
                            (q * (1.0 - s), -t),
                            (s / 2.0, t + 1),
                            (s / 2.0, t - 1),
                        ];
                        ways = ways
                            .iter()
                            .flat_map(|(p, at)| {
                                thrown.map(|(chance, t)| (p * chance, world.moved(*at, mesh, t)))
                            })
                            .collect();
                    }
                    for (p, to) in ways {
                        row[to] += p;
                    }
                    row
                })
                .collect();
            let opens = done
                .iter()
                .zip(&world.meshes)
                .any(|(t, mesh)| t.is_some() && !mesh.outside);
            (if opens { 1.0 } else { 0.0 }, rows)
        })
        .collect()
}

/// Solves `openings = cost + chances · openings` over the states out of window; nothing where it never gets done.
fn openings(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let n = rows.len();
    for i in 0..n {
        let pivot = (i..n).max_by(|a, b| rows[*a][i].abs().total_cmp(&rows[*b][i].abs()))?;
        rows.swap(i, pivot);
        if rows[i][i].abs() < 1e-9 {
            return None;
        }
        let pivot = rows[i].clone();
        for (j, row) in rows.iter_mut().enumerate().filter(|(j, _)| *j != i) {
            let factor = row[i] / pivot[i];
            for (cell, above) in row.iter_mut().zip(&pivot) {
                *cell -= factor * above;
            }
            debug_assert_ne!(i, j);
        }
    }
    Some((0..n).map(|i| rows[i][n] / rows[i][i]).collect())
}

/// The least openings from each state out of window, over every way of always doing the same in the same state.
fn least(world: &World, hands: Hands) -> Vec<(usize, f64)> {
    let choices = choices(world, hands);
    let out: Vec<usize> = (0..world.states())
        .filter(|state| !world.in_window(*state))
        .collect();
    let mut least = vec![f64::INFINITY; out.len()];
    let mut policy = vec![0; out.len()];
    loop {
        let rows = (out.iter().zip(&policy).enumerate())
            .map(|(i, (state, choice))| {
                let (cost, chances) = &choices[*choice];
                let mut row: Vec<f64> = out.iter().map(|to| -chances[*state][*to]).collect();
                row[i] += 1.0;
                row.push(*cost);
                row
            })
            .collect();
        if let Some(openings) = openings(rows) {
            for (least, openings) in least.iter_mut().zip(openings) {
                *least = least.min(openings);
            }
        }
        // The next policy, counted like the miles of a cart.
        let Some(turn) = policy.iter().position(|choice| choice + 1 < choices.len()) else {
            return out.into_iter().zip(least).collect();
        };
        policy[turn] += 1;
        policy[..turn].fill(0);
    }
}

#[test]
fn no_way_of_doing_it_beats_the_bound_and_one_meets_it() {
    let trains = [
        (
            "one mesh of five",
            apart((20, 4), (4, 4), "[-5.0, 5.0]", "plates"),
            5,
        ),
        (
            "three and two",
            apart((12, 4), (8, 4), "[-5.0, 5.0]", "plates"),
            6,
        ),
        (
            "three and two outside",
            apart((12, 4), (8, 4), "[-5.0, 5.0]", "outside"),
            6,
        ),
        (
            "three, two of them good, and two",
            apart((12, 4), (8, 4), "[-5.0, 35.0]", "plates"),
            6,
        ),
        ("two that do the same", together(), 4),
    ];
    let odd = Hands {
        wrong_way: 0.4,
        slip: 0.2,
    };
    for (name, movement, states) in trains {
        let world = World::of(&movement).expect("a small train");
        assert_eq!(world.states(), states, "{name}");
        for hands in [SURE, SLIPPING, USUAL, CLUMSY, odd] {
            let bound = Bound::of(&world, hands);
            let least = least(&world, hands);
            assert!(!least.is_empty());
            for (state, openings) in least {
                let said = bound.openings(state);
                assert!(
                    (said - openings).abs() < 1e-6,
                    "{name}, {hands:?}, state {state}: {said} and {openings}"
                );
            }
        }
    }
}
