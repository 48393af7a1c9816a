//! The study: every fleet, every condition, every player, and what it took.

use super::bench::{Bench, Player, Record, Said, Throws};
use super::bound::Bound;
use super::dice::{Dice, Purpose};
use super::eyes::Eyes;
use super::fleet::Fleet;
pub use super::hands::Hands;
use super::tool::{InTurn, Tool};
use super::trial::Trial;
use quantity::Chance;

/// What hands and eyes are like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Condition {
    /// The hands.
    pub hands: Hands,
    /// How many times as bad readings are as is said of them; players believe what is said.
    pub times: f64,
}

/// Hands that do as they are told.
pub const SURE: Hands = Hands {
    wrong_way: 0.0,
    slip: 0.0,
};
/// Hands that only slip.
pub const SLIPPING: Hands = Hands {
    wrong_way: 0.0,
    slip: 0.03,
};
/// Hands as the tool supposes them.
pub const USUAL: Hands = Hands {
    wrong_way: 0.10,
    slip: 0.03,
};
/// A beginner's.
pub const CLUMSY: Hands = Hands {
    wrong_way: 0.25,
    slip: 0.03,
};

/// Who works at the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Who {
    /// The one who sees exactly and plans best.
    Bound,
    /// This tool, told of hands and movements what the bound is told, with a book from which it learns the eye.
    Tool,
    /// The same with an empty book for each movement.
    First,
    /// The same as the tool, but it looks at rest, where the sheet says what locks; else as the lever drops.
    Resting,
    /// Trial and error.
    Trial,
}

/// What one player took for the movements of one fleet under one condition.
#[derive(Debug, Clone)]
pub struct Tally {
    /// The fleet's name.
    pub fleet: &'static str,
    /// The condition.
    pub condition: Condition,
    /// The player.
    pub who: Who,
    /// For each movement what it took.
    pub records: Vec<Taken>,
}

/// What a player took for one movement, beside what the bound does.
#[derive(Debug, Clone)]
pub struct Taken {
    /// What the player took.
    pub record: Record,
    /// Openings of the bound for the same movement when its hands throw the same.
    pub bound_took: u32,
    /// Openings of the bound for it on average, by its plan.
    pub bound_takes: f64,
}

/// What is played.
#[derive(Debug, Clone, Copy)]
pub struct Course<'a> {
    /// How many times as bad as stated eyes are.
    pub times: &'a [f64],
    /// Who plays.
    pub players: &'a [Who],
    /// How many movements.
    pub movements: u64,
    /// If no width was measured, by what part of half its width each window that the tool goes by lies off.
    pub off: Option<f64>,
    /// Whether it was then read once as it stood while it struck right.
    pub stood: bool,
}

/// Players play movements of one fleet with some hands.
pub fn play(fleet: &Fleet, hands: Hands, course: &Course<'_>) -> Vec<Tally> {
    let Course {
        times,
        players,
        movements,
        off,
        stood,
    } = *course;
    let bound = Bound::of(&fleet.world, hands);
    // The tool is told of hands and movements what the bound is told: how often hands go wrong, and that sound movements
    // stand at their best.
    let told = timing::Priors {
        hands: timing::Hands {
            wrong_way: Chance::of(hands.wrong_way),
            slip: Chance::of(hands.slip),
        },
        build: 0.0,
        ..timing::Priors::default()
    };
    let known = match off {
        Some(off) => fleet.as_usual(off),
        None => vec![fleet.movement.clone()],
    };
    let known = match stood {
        true => fleet.as_it_stood(&known),
        false => known,
    };
    let benches: Vec<timing::Bench<'_>> = (known.iter())
        .map(|known| timing::Bench::of(known, told).expect("few ways to mesh it"))
        .collect();
    let tools = |book: bool, at_rest: bool| {
        let tool = |bench| Tool::of(&fleet.world, bench, book).at_rest(at_rest);
        InTurn::of(benches.iter().map(tool).collect())
    };
    let starts = fleet.drawn(movements);
    let work = |player: &mut dyn Player, eyes: Eyes| -> Vec<Record> {
        let bench = Bench {
            world: &fleet.world,
            hands,
            eyes,
        };
        (starts.iter().zip(0..))
            .map(|(start, movement)| {
                let dice = |purpose| Dice::of(fleet.number, movement, purpose);
                let throws = Throws {
                    hands: dice(Purpose::Hands),
                    eyes: dice(Purpose::Eyes),
                };
                bench.work(*start, player, throws)
            })
            .collect()
    };
    let at_best = work(
        &mut bound.clone(),
        Eyes {
            times: 0.0,
            at_rest: false,
        },
    );
    let at_drop = |times| Eyes {
        times,
        at_rest: false,
    };
    let mut tallies = Vec::new();
    for &times in times {
        for &who in players {
            let records = match who {
                Who::Bound => at_best.clone(),
                Who::Tool | Who::First => work(&mut tools(who == Who::Tool, false), at_drop(times)),
                Who::Resting => {
                    let at_rest = fleet.world.locks.is_some();
                    work(&mut tools(true, at_rest), Eyes { times, at_rest })
                }
                Who::Trial => work(&mut Trial::of(&fleet.world), at_drop(times)),
            };
            let records = (records.into_iter().zip(&at_best).zip(&starts))
                .map(|((record, at_best), start)| Taken {
                    record,
                    bound_took: at_best.openings,
                    bound_takes: bound.openings(*start),
                })
                .collect();
            let condition = Condition { hands, times };
            tallies.push(Tally {
                fleet: fleet.name,
                condition,
                who,
                records,
            });
        }
    }
    tallies
}

/// Figures of all movements of some tallies.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Movements.
    pub movements: usize,
    /// Openings on average.
    pub mean: f64,
    /// The openings that 95 of 100 movements do not exceed.
    pub most_of_95: u32,
    /// The most openings of any.
    pub worst: u32,
    /// Looks on average.
    pub looks: f64,
    /// Times one was called done that was not.
    pub false_dones: u32,
    /// As many of those as were to be expected by what was said.
    pub doubted: f64,
    /// Movements put aside unfinished.
    pub put_aside: usize,
    /// Openings over those of the bound.
    pub ratio: f64,
    /// The standard error of that; nothing for the bound itself.
    pub ratio_error: f64,
    /// What the bound took over what its plan says it takes on average, and the standard error of that: a check of the plan.
    pub plan: (f64, f64),
}

impl Figures {
    /// Of at least two movements.
    ///
    /// # Formula
    /// The ratio is `1 + mean(x − b) / mean(v)`, with `x` the openings taken, `b` those of the bound for the same movement and
    /// the same throws, and `v` what the bound takes on average: as `mean(x) / mean(v)`, since `b` is `v` on average, but with
    /// the luck that both share taken out.
    pub fn of<'a>(tallies: impl IntoIterator<Item = &'a Tally>) -> Figures {
        let taken: Vec<&Taken> = tallies
            .into_iter()
            .flat_map(|tally| &tally.records)
            .collect();
        let n = taken.len() as f64;
        let mean = |of: &dyn Fn(&Taken) -> f64| taken.iter().map(|t| of(t)).sum::<f64>() / n;
        let error = |of: &dyn Fn(&Taken) -> f64| {
            let middle = mean(of);
            (mean(&|t| (of(t) - middle).powi(2)) / (n - 1.0)).sqrt()
        };
        let more = |t: &Taken| f64::from(t.record.openings) - f64::from(t.bound_took);
        let luck = |t: &Taken| f64::from(t.bound_took) - t.bound_takes;
        let at_best = mean(&|t| t.bound_takes);
        let mut sorted: Vec<u32> = taken.iter().map(|t| t.record.openings).collect();
        sorted.sort_unstable();
        Figures {
            movements: taken.len(),
            mean: mean(&|t| f64::from(t.record.openings)),
            most_of_95: sorted[(sorted.len() * 95).div_ceil(100) - 1],
            worst: sorted[sorted.len() - 1],
            looks: mean(&|t| f64::from(t.record.looks)),
            false_dones: taken.iter().map(|t| t.record.false_dones).sum(),
            doubted: taken.iter().map(|t| t.record.doubted).sum(),
            put_aside: taken.iter().filter(|t| t.record.put_aside).count(),
            ratio: 1.0 + mean(&more) / at_best,
            ratio_error: error(&more) / at_best,
            plan: (1.0 + mean(&luck) / at_best, error(&luck) / at_best),
        }
    }
}

/// How often what was said with 85 to 95 in 100 was so.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Calibration {
    /// How often it was said.
    pub said: u32,
    /// How often it was so.
    pub so: u32,
    /// The sum of the chances it was said with.
    pub chances: f64,
}

impl Calibration {
    /// Of what fits.
    pub fn of<'a>(
        tallies: impl IntoIterator<Item = &'a Tally>,
        fits: impl Fn(&Said) -> bool,
    ) -> Calibration {
        let said = tallies
            .into_iter()
            .flat_map(|tally| &tally.records)
            .flat_map(|taken| &taken.record.said);
        said.filter(|said| (0.85..=0.95).contains(&said.chance) && fits(said))
            .fold(Calibration::default(), |sum, said| Calibration {
                said: sum.said + 1,
                so: sum.so + u32::from(said.so),
                chances: sum.chances + said.chance,
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_what_they_are_called() {
        // The player takes 1 opening for ninety-five movements and 4 for five; the bound takes 1 for all, as planned.
        let taken = |openings| Taken {
            record: Record {
                openings,
                looks: 2,
                ..Record::default()
            },
            bound_took: 1,
            bound_takes: 1.0,
        };
        let records = (0..100)
            .map(|i| taken(if i < 95 { 1 } else { 4 }))
            .collect();
        let condition = Condition {
            hands: SURE,
            times: 1.0,
        };
        let figures = Figures::of([&Tally {
            fleet: "none",
            condition,
            who: Who::Trial,
            records,
        }]);
        assert!((figures.mean - 1.15).abs() < 1e-12);
        assert_eq!(
            (figures.most_of_95, figures.worst, figures.movements),
            (1, 4, 100)
        );
        assert!((figures.ratio - 1.15).abs() < 1e-12);
        // √((95 · 0.15² + 5 · 2.85²) / 100 / 99)
        assert!(
            (figures.ratio_error - 0.065_713).abs() < 1e-6,
            "{}",
            figures.ratio_error
        );
        assert!((figures.looks - 2.0).abs() < 1e-12);
        assert!((figures.plan.0 - 1.0).abs() < 1e-12 && figures.plan.1 < 1e-12);
    }

    #[test]
    fn of_what_is_said_only_85_to_95_counts() {
        use crate::openings::bench::What;
        let said = [
            (0.84, true),
            (0.85, true),
            (0.90, false),
            (0.95, true),
            (0.96, false),
        ];
        let said = said
            .map(|(chance, so)| Said {
                what: What::InNow,
                chance,
                so,
            })
            .to_vec();
        let record = Record {
            said,
            ..Record::default()
        };
        let records = vec![Taken {
            record,
            bound_took: 0,
            bound_takes: 0.0,
        }];
        let condition = Condition {
            hands: SURE,
            times: 1.0,
        };
        let tally = Tally {
            fleet: "none",
            condition,
            who: Who::Trial,
            records,
        };
        let all = Calibration::of([&tally], |_| true);
        assert_eq!((all.said, all.so), (3, 2));
        assert!((all.chances - 2.7).abs() < 1e-12);
        assert_eq!(
            Calibration::of([&tally], |said| said.what == What::InAfter).said,
            0
        );
    }
}
