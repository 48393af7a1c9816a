//! Value iteration: what it costs on average to be done, from each state, when the best is chosen at each step.
//!
//! Undiscounted, costs never negative. It begins above the true costs and comes down: after k rounds a value is the least
//! that k choices cost with the large value to pay where they do not get done, so that a free step that leads nowhere is
//! never taken for being done, and any way that does get done is in the end undercut by none. Knows nothing of clocks.

/// A problem of repeated choice.
pub trait Problem {
    /// How many states there are.
    fn states(&self) -> usize;
    /// What it costs to end in this state; nothing where it is no end.
    fn end(&self, state: usize) -> Option<f64>;
    /// How many choices there are in every state that is no end.
    fn choices(&self) -> usize;
    /// What a choice costs.
    fn cost(&self, choice: usize) -> f64;
    /// What may come of a choice: how likely, and where it leads. Fastest with the likeliest first.
    fn outcomes(&self, state: usize, choice: usize) -> impl Iterator<Item = (f64, usize)>;
}

/// The best that can be done.
#[derive(Debug, Clone)]
pub struct Plan {
    /// What it costs on average to be done, from each state.
    pub values: Vec<f64>,
    /// The choice to make in each; of no meaning where it is an end.
    pub choices: Vec<usize>,
    /// Rounds it took.
    pub rounds: usize,
}

/// A round that changes no value by more than this is the last. Each round leaves a share of what is still missing, at most
/// the chance that all goes wrong, so that the values are then right to some millionths.
const SETTLED: f64 = 1e-9;

/// The costs of the best plan, each above nothing and below `above`, which every true cost must be.
pub fn solve(problem: &impl Problem, above: f64) -> Plan {
    let states = problem.states();
    let mut values: Vec<f64> = (0..states)
        .map(|state| problem.end(state).unwrap_or(above))
        .collect();
    let mut choices = vec![0; states];
    let mut rounds = 0;
    loop {
        rounds += 1;
        let mut change = 0.0_f64;
        for state in (0..states).filter(|state| problem.end(*state).is_none()) {
            // The choice of the round before is most often the best still, and makes the others short.
            let mut best = (
                sum(problem, &values, (state, choices[state]), f64::INFINITY),
                choices[state],
            );
            for choice in 0..problem.choices() {
                let cost = sum(problem, &values, (state, choice), best.0);
                if cost < best.0 {
                    best = (cost, choice);
                }
            }
            change = change.max((values[state] - best.0).abs());
            values[state] = best.0;
            choices[state] = best.1;
        }
        if change <= SETTLED {
            return Plan {
                values,
                choices,
                rounds,
            };
        }
    }
}

/// What a choice costs in all; no less than `enough` where the sum was broken off, since it only grows.
fn sum(
    problem: &impl Problem,
    values: &[f64],
    (state, choice): (usize, usize),
    enough: f64,
) -> f64 {
    let mut cost = problem.cost(choice);
    for (chance, to) in problem.outcomes(state, choice) {
        if cost >= enough {
            break;
        }
        cost += chance * values[to];
    }
    cost
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A walk over eleven squares, three rows of four with a wall at the second of the second row. A step goes where it is
    /// meant in 8 of 10, and to either side of that in 1 of 10 each; against a wall it stays. Every step costs 0.04. The top
    /// right ends it with 1 won, the square below with 1 lost.
    ///
    /// # Source
    /// Artificial Intelligence: A Modern Approach, 3rd edition, figures 17.1 to 17.3.
    struct Squares;

    const WALL: usize = 5;

    impl Squares {
        fn step(state: usize, way: usize) -> usize {
            let (row, column) = (state / 4, state % 4);
            let to = match way {
                0 if row > 0 => state - 4,
                1 if column < 3 => state + 1,
                2 if row < 2 => state + 4,
                3 if column > 0 => state - 1,
                _ => state,
            };
            if to == WALL { state } else { to }
        }
    }

    impl Problem for Squares {
        fn states(&self) -> usize {
            12
        }
        // Costs are counted from 1 won downward, so that none is negative.
        fn end(&self, state: usize) -> Option<f64> {
            match state {
                3 => Some(0.0),
                7 => Some(2.0),
                WALL => Some(1.0),
                _ => None,
            }
        }
        fn choices(&self) -> usize {
            4
        }
        fn cost(&self, _: usize) -> f64 {
            0.04
        }
        fn outcomes(&self, state: usize, way: usize) -> impl Iterator<Item = (f64, usize)> {
            [(0.8, way), (0.1, (way + 1) % 4), (0.1, (way + 3) % 4)]
                .into_iter()
                .map(move |(chance, way)| (chance, Squares::step(state, way)))
        }
    }

    #[test]
    fn the_walk_over_eleven_squares_is_worth_what_the_book_says() {
        let printed = [
            0.812, 0.868, 0.918, 1.0, //
            0.762, 0.0, 0.660, -1.0, //
            0.705, 0.655, 0.611, 0.388,
        ];
        let plan = solve(&Squares, 10.0);
        for (state, printed) in printed.into_iter().enumerate() {
            let worth = 1.0 - plan.values[state];
            // Printed to three decimals.
            assert!(
                (worth - printed).abs() < 0.0005,
                "square {state}: {worth}, printed {printed}"
            );
        }
        // Figure 17.2 (a), with up 0, right 1, down 2, left 3.
        let ways = [
            (0, 1),
            (1, 1),
            (2, 1),
            (4, 0),
            (6, 0),
            (8, 0),
            (9, 3),
            (10, 3),
            (11, 3),
        ];
        for (state, way) in ways {
            assert_eq!(plan.choices[state], way, "square {state}");
        }
    }

    /// Two states; from the first, waiting is free and leads nowhere, going on costs 1 and ends it half of the time.
    struct Waiting;

    impl Problem for Waiting {
        fn states(&self) -> usize {
            2
        }
        fn end(&self, state: usize) -> Option<f64> {
            (state == 1).then_some(0.0)
        }
        fn choices(&self) -> usize {
            2
        }
        fn cost(&self, choice: usize) -> f64 {
            [0.0, 1.0][choice]
        }
        fn outcomes(&self, state: usize, choice: usize) -> impl Iterator<Item = (f64, usize)> {
            [[(1.0, state), (0.0, state)], [(0.5, 1), (0.5, state)]][choice].into_iter()
        }
    }

    #[test]
    fn waiting_for_nothing_is_not_taken_for_being_done() {
        let plan = solve(&Waiting, 50.0);
        // 1 + 1/2 + 1/4 + …
        assert!((plan.values[0] - 2.0).abs() < 1e-8, "{}", plan.values[0]);
    }
}
