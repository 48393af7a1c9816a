//! Missing counts held against trying every set, against the movement itself, and against a general-purpose constraint solver.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

use movement::{Movement, Open};
use quantity::{Bounds, Known, Pace, Teeth, parse_known, to_f64, whole};
use serde_json::{Value, json};
use workshop::counts::{
    Fraction, LinearConstraint, Product, Puzzle, PuzzleFault, Rule, Wants, Whole, fitting, puzzle,
    ranked, solve,
};

const ATTIC: &str = include_str!("../../../movements/attic.toml");
const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");
const HALFPAST: &str = include_str!("../../../movements/halfpast.toml");
const PARLOUR: &str = include_str!("../../../movements/parlour.toml");

const USUAL: Bounds = Bounds {
    least: 6,
    most: 144,
};

/// Sheets with counts blotted out, and what is known besides.
fn puzzles() -> Vec<(&'static str, Open, Puzzle)> {
    let beats = |text: &str| parse_known::<Pace>(text).expect("beats");
    let runs = |text: &str| Some(parse_known(text).expect("a time"));
    let cases: Vec<(&'static str, String, Wants)> = vec![
        ("attic as it is", ATTIC.to_owned(), Wants::default()),
        (
            "attic, three of the going train",
            ATTIC
                .replace("\"40?\"", "40")
                .replace("pinion = 7\nwheel = 28", "pinion = \"?\"\nwheel = 28"),
            Wants::default(),
        ),
        (
            "attic, nothing measured but the pendulum",
            ATTIC
                .replace("\"40?\"", "40")
                .replace("centre_mm", "lash_teeth = 0.1 # "),
            Wants {
                beats: Some(beats("7488~5")),
                ..Wants::default()
            },
        ),
        (
            "attic, exact beats and its run",
            ATTIC
                .replace("pinion = 8\nwheel = 84", "pinion = \"?\"\nwheel = 84")
                .replace("\"40?\"", "40"),
            Wants {
                beats: Some(beats("7488")),
                runs: runs("8days~0.2"),
                ..Wants::default()
            },
        ),
        (
            "motion work",
            ATTIC
                .replace("pinion = \"?\"\nwheel = \"?\"", "pinion = 7\nwheel = 78")
                .replace("wheel = 36\npinion = 10", "wheel = \"?\"\npinion = \"?\""),
            Wants::default(),
        ),
        (
            "schoolroom, count train and pin wheel",
            SCHOOLROOM
                .replace("count_pinion = 6", "count_pinion = \"?\"")
                .replace("wheel = 52", "wheel = \"52?\"")
                .replace("wheel = 72", "wheel = \"?\""),
            Wants::default(),
        ),
        (
            "schoolroom, warning train",
            SCHOOLROOM
                .replace("wheel = 56", "wheel = \"?\"")
                .replace("{ teeth = 7, form", "{ teeth = \"?\", form"),
            Wants::default(),
        ),
        (
            "half-hours",
            HALFPAST
                .replace("wheel = 54", "wheel = \"?\"")
                .replace("{ teeth = 7, form", "{ teeth = \"?\", form"),
            Wants::default(),
        ),
        (
            "parlour, the strike's winding",
            PARLOUR
                .replace("wheel = 84", "wheel = \"?\"")
                .replace("pinion = 7\nwheel = 64", "pinion = \"?\"\nwheel = 64"),
            Wants {
                runs: runs("8days~0.3"),
                ..Wants::default()
            },
        ),
    ];
    cases
        .into_iter()
        .map(|(name, sheet, wants)| {
            let open = sheet::read_open(sheet.as_bytes()).expect(name);
            let puzzle =
                puzzle(&open, &wants, USUAL).unwrap_or_else(|why| panic!("{name}: {why:?}"));
            (name, open, puzzle)
        })
        .collect()
}

/// Every set of counts, one after another.
fn every(unknown: usize, bounds: Bounds, mut keep: impl FnMut(&[u16]) -> bool) -> Vec<Vec<u16>> {
    let mut found = Vec::new();
    let mut counts = vec![bounds.least; unknown];
    loop {
        if keep(&counts) {
            found.push(counts.clone());
        }
        let Some(i) = (0..unknown).rev().find(|i| counts[*i] < bounds.most) else {
            return found;
        };
        counts[i] += 1;
        counts[i + 1..].fill(bounds.least);
    }
}

#[test]
fn the_same_sets_as_by_trying_them_all() {
    for (name, _, puzzle) in puzzles() {
        let rules = puzzle.rules();
        let (found, cut_short) = fitting(&rules, puzzle.blanks.len(), USUAL);
        assert!(!cut_short, "{name}");
        assert!(!found.is_empty(), "{name}");
        let tried = every(puzzle.blanks.len(), USUAL, |counts| {
            rules.iter().all(|rule| rule.keeps(counts))
        });
        assert_eq!(found, tried, "{name}");
        println!("{name}: {} fit", found.len());
    }
}

/// What a blow, an hour and a loop must do, asked of the movement with the counts written in: no rule of ours takes part.
#[test]
fn the_same_sets_as_the_movement_itself_allows() {
    let bounds = Bounds { least: 6, most: 90 };
    let sheet = SCHOOLROOM
        .replace("wheel = 56", "wheel = \"?\"")
        .replace("{ teeth = 7, form", "{ teeth = \"?\", form");
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let asked = puzzle(&open, &Wants::default(), bounds).expect("a puzzle");
    let (found, _) = fitting(&asked.rules(), 2, bounds);
    let whole_turns = |m: &Movement| {
        let pin = m.find_arbor("fourth").expect("there");
        let turns = kinematics::per_blow(m, pin).expect("strikes");
        turns.is_integer()
    };
    assert_eq!(found, by_the_movement(&open, bounds, whole_turns));

    let sheet = ATTIC
        .replace("\"40?\"", "40")
        .replace("centre_mm", "lash_teeth = 0.1 # ");
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let wants = Wants {
        beats: Some(Known::sure(Pace::per_hour(7488.0))),
        ..Wants::default()
    };
    let asked = puzzle(&open, &wants, bounds).expect("a puzzle");
    let (found, _) = fitting(&asked.rules(), 2, bounds);
    let beats = |m: &Movement| {
        let escape = m.find_part("escape.wheel").expect("there");
        workshop::pendulum::train_beats(m, &workshop::pendulum::of_wheel(m, escape))
            == Some(whole(7488))
    };
    assert_eq!(found, by_the_movement(&open, bounds, beats));
    assert!(found.contains(&vec![7, 78]), "{found:?}");
}

fn by_the_movement(
    open: &Open,
    bounds: Bounds,
    keeps: impl Fn(&Movement) -> bool,
) -> Vec<Vec<u16>> {
    every(open.blanks().len(), bounds, |counts| {
        let teeth: Vec<Teeth> = (counts.iter())
            .map(|n| Teeth::new((*n).into()).expect("teeth"))
            .collect();
        keeps(&open.with(&teeth).expect("no loop"))
    })
}

fn told(rule: &Rule) -> Value {
    let pair = |ratio: &Fraction| [ratio.above, ratio.below];
    match rule {
        Rule::Product(Product {
            powers,
            least,
            most,
        }) => json!({ "powers": powers, "least": pair(least), "most": pair(most) }),
        Rule::Whole(Whole { powers, times }) => {
            json!({ "powers": powers, "whole": pair(times) })
        }
        Rule::Line(LinearConstraint { weights, plus }) => {
            json!({ "weights": weights, "plus": plus })
        }
        Rule::Never => json!({ "never": true }),
    }
}

#[test]
fn the_same_sets_as_a_constraint_solver_finds() {
    let Some(python) = outside::python("missing counts, by a constraint solver") else {
        return;
    };
    let puzzles = puzzles();
    let questions: Vec<Value> = (puzzles.iter())
        .map(|(_, _, puzzle)| {
            let rules: Vec<Value> = puzzle.rules().iter().map(told).collect();
            json!({ "unknown": puzzle.blanks.len(), "least": 6, "most": 144, "rules": rules })
        })
        .collect();
    let answers = outside::ask(&python, &["counts.py"], &questions);
    for ((name, _, puzzle), answer) in puzzles.iter().zip(&answers) {
        let started = std::time::Instant::now();
        let (found, _) = fitting(&puzzle.rules(), puzzle.blanks.len(), USUAL);
        let here = started.elapsed();
        println!(
            "{name}: {} fit; here {here:?}, there {} s by trying all, {} s by the solver",
            found.len(),
            answer["tried_s"],
            answer["solver_s"]
        );
        assert_eq!(json!(found), answer["solver"], "{name}");
        assert_eq!(json!(found), answer["tried"], "{name}");
    }
}

#[test]
fn the_counts_that_were_there_are_the_likeliest() {
    let (_, open, puzzle) = puzzles().swap_remove(0);
    let found = solve(&open, &puzzle);
    assert_eq!(found.fits[0].counts, [7, 78, 40]);
    let sum: f64 = found.fits.iter().map(|fit| fit.chance.get()).sum();
    assert!((sum - 1.0).abs() < 1e-12, "{sum}");
    let (_, module) = found.fits[0].modules[0];
    // The sample's wheels were made up with 0.62.
    assert!((module.value.as_mm() - 0.62).abs() < 3.0 * module.spread.as_mm());
}

/// The published trains of The Modern Clock, p. 258: with any one count blotted out and the beats known, the published count
/// is among those that fit, and with the beats exact it is the only one.
#[test]
fn a_count_of_a_published_train_is_found_again() {
    #[derive(serde::Deserialize)]
    struct Table {
        train: Vec<Row>,
    }
    #[derive(serde::Deserialize)]
    struct Row {
        name: String,
        wheels: Vec<u16>,
        pinions: Vec<u16>,
        escape: u16,
        beats_per_hour: String,
    }
    let table: Table =
        toml::from_str(include_str!("../../../outside/beats.toml")).expect("the table");
    for row in &table.train {
        let beats = row.beats_per_hour.split_once('/').map_or_else(
            || row.beats_per_hour.parse::<f64>().expect("a number"),
            |(n, d)| n.parse::<f64>().expect("a number") / d.parse::<f64>().expect("a number"),
        );
        for lost in 0..=2 * row.wheels.len() {
            let mut sheet = "sheet = 1\nname = \"a train\"\nseen_from = \"front\"\n[arbor.a0]\nruns = \"clockwise\"\nturn_s = 3600\n".to_owned();
            let mut counts = Vec::new();
            let mut meshes = String::new();
            for (i, (wheel, pinion)) in row.wheels.iter().zip(&row.pinions).enumerate() {
                counts.extend([*wheel, *pinion]);
                let written = |k: usize, count: u16| {
                    if k == lost {
                        "\"?\"".to_owned()
                    } else {
                        count.to_string()
                    }
                };
                sheet += &format!(
                    "wheel = {}\n[arbor.a{}]\npinion = {}\n",
                    written(2 * i, *wheel),
                    i + 1,
                    written(2 * i + 1, *pinion)
                );
                meshes += &format!(
                    "[[mesh]]\ndriver = \"a{i}.wheel\"\ndriven = \"a{}.pinion\"\n",
                    i + 1
                );
            }
            counts.push(row.escape);
            let escape = if lost == 2 * row.wheels.len() {
                "\"?\"".to_owned()
            } else {
                row.escape.to_string()
            };
            sheet += &format!("escape = {escape}\n{meshes}");
            let open = sheet::read_open(sheet.as_bytes())
                .unwrap_or_else(|faults| panic!("{sheet}\n{faults:?}"));
            let wants = Wants {
                // A decimal may not say 8022.857… exactly: a thousandth of a beat tells no two trains of one lost count apart.
                beats: Some(Known::new(Pace::per_hour(beats), Pace::per_hour(1e-4))),
                ..Wants::default()
            };
            let puzzle = puzzle(&open, &wants, USUAL).expect("a puzzle");
            let (found, _) = fitting(&puzzle.rules(), 1, USUAL);
            assert_eq!(found, [vec![counts[lost]]], "{} without {lost}", row.name);
        }
    }
}

#[test]
fn what_cannot_be_solved_is_said() {
    let fault = |sheet: &str, wants: &Wants| {
        let open = sheet::read_open(sheet.as_bytes()).expect("good");
        puzzle(&open, wants, USUAL).expect_err("nothing to solve")
    };
    assert_eq!(
        fault(PARLOUR, &Wants::default()),
        PuzzleFault::NothingMissing
    );
    let unbound = SCHOOLROOM.replace("wheel = 48", "wheel = \"?\"");
    assert!(matches!(
        fault(&unbound, &Wants::default()),
        PuzzleFault::Unbound { .. }
    ));
    let runs = Wants {
        runs: Some(parse_known("8days").expect("a time")),
        ..Wants::default()
    };
    let lost = SCHOOLROOM.replace("wheel = 90", "wheel = \"?\"");
    assert_eq!(fault(&lost, &runs), PuzzleFault::NoWinding);
}

/// A loop of meshes must close; where a count of it is lost, only those that close it fit.
#[test]
fn a_loop_gives_its_lost_count() {
    let sheet = "sheet = 1\nname = \"a loop\"\nseen_from = \"front\"\n\
        [arbor.a]\nruns = \"clockwise\"\nw = 60\nv = 48\n[arbor.b]\np = 12\nw = 40\n[arbor.c]\np = \"?\"\nq = 8\n\
        [[mesh]]\ndriver = \"a.w\"\ndriven = \"b.p\"\n[[mesh]]\ndriver = \"b.w\"\ndriven = \"c.p\"\n\
        [[mesh]]\ndriver = \"a.v\"\ndriven = \"c.q\"\ninternal = true\n";
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let puzzle = puzzle(&open, &Wants::default(), USUAL).expect("a puzzle");
    let (found, _) = fitting(&puzzle.rules(), 1, USUAL);
    // 60/12 · 40/p = 48/8.
    let p = 60.0 / 12.0 * 40.0 / 6.0;
    assert_eq!(found, Vec::<Vec<u16>>::new(), "{p} is no whole number");
    let sheet = sheet.replace("w = 40", "w = 42");
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let puzzle = workshop::counts::puzzle(&open, &Wants::default(), USUAL).expect("a puzzle");
    let (found, _) = fitting(&puzzle.rules(), 1, USUAL);
    assert_eq!(found, [vec![35]]);
    assert!((to_f64(&whole(35)) - 5.0 * 42.0 / 6.0).abs() < 1e-12);
}

/// Where hardly anything is known, the list is cut short, and that is said.
#[test]
fn what_is_too_long_to_list_is_said_to_be_cut_short() {
    let sheet = ATTIC
        .replace("\"40?\"", "40")
        .replace("pinion = 7\nwheel = 28", "pinion = \"?\"\nwheel = 28")
        .replace("centre_mm", "lash_teeth = 0.1 # ");
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let vague = Wants {
        beats: Some(parse_known("7488~2400").expect("beats")),
        ..Wants::default()
    };
    let vague = puzzle(&open, &vague, USUAL).expect("a puzzle");
    let found = solve(&open, &vague);
    assert!(found.is_cut_short() && found.likeliest);
    // Those that are told are the likeliest of all that there are.
    let rules = vague.rules();
    let all = every(vague.blanks.len(), USUAL, |counts| {
        rules.iter().all(|rule| rule.keeps(counts))
    });
    assert!(all.len() > workshop::counts::MOST_FITS, "{}", all.len());
    let all = ranked(open.movement(), &vague, all);
    for (told, there) in found.fits.iter().zip(&all) {
        let [told_part, part] = [
            told.chance.get() / found.fits[0].chance.get(),
            there.chance.get() / all[0].chance.get(),
        ];
        assert!(
            (told_part / part - 1.0).abs() < 1e-9,
            "{:?} for {:?}",
            told.counts,
            there.counts
        );
    }
    assert_eq!(found.fits.len(), 1000);
    assert_eq!(found.fits[0].counts, all[0].counts);
    let known = Wants {
        beats: Some(parse_known("7488~75").expect("beats")),
        ..Wants::default()
    };
    let known = puzzle(&open, &known, USUAL).expect("a puzzle");
    assert!(!solve(&open, &known).is_cut_short());
}

/// Rules thrown together, of every form, against trying every set.
#[test]
fn rules_of_every_form_are_searched_without_a_miss() {
    let bounds = Bounds { least: 6, most: 24 };
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut below = |n: u64| {
        // Xorshift, from memory; any spread of numbers would do.
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state % n
    };
    let (mut some, mut none) = (0, 0);
    for _ in 0..400 {
        let unknown = 1 + usize::try_from(below(3)).expect("small");
        let mut rules = Vec::new();
        for _ in 0..=below(3) {
            let signed = |n: u64, by: i64| i64::try_from(n).expect("small") - by;
            let powers: Vec<i32> = (0..unknown)
                .map(|_| i32::try_from(signed(below(3), 1)).expect("small"))
                .collect();
            // What some set of counts comes to, so that it is not all in vain.
            let mut at = Fraction { above: 1, below: 1 };
            for power in &powers {
                let count = 6 + below(19);
                match power {
                    1 => at.above *= count,
                    -1 => at.below *= count,
                    _ => {}
                }
            }
            rules.push(match below(4) {
                0 => Rule::Product(Product {
                    powers,
                    least: at,
                    most: at,
                }),
                1 => Rule::Product(Product {
                    powers,
                    least: Fraction {
                        above: at.above * 9,
                        below: at.below * 10,
                    },
                    most: Fraction {
                        above: at.above * 11,
                        below: at.below * 10,
                    },
                }),
                2 => Rule::Whole(Whole {
                    powers,
                    times: Fraction {
                        above: 1 + below(60),
                        below: 1 + below(12),
                    },
                }),
                _ => Rule::Line(LinearConstraint {
                    weights: (0..unknown).map(|_| signed(below(9), 4)).collect(),
                    plus: signed(below(200), 100),
                }),
            });
        }
        let (found, cut_short) = fitting(&rules, unknown, bounds);
        assert!(!cut_short);
        let tried = every(unknown, bounds, |counts| {
            rules.iter().all(|rule| rule.keeps(counts))
        });
        assert_eq!(found, tried, "{rules:?}");
        *(if found.is_empty() {
            &mut none
        } else {
            &mut some
        }) += 1;
    }
    println!("{some} with something that fits, {none} with nothing");
    assert!(some >= 100 && none >= 30, "{some} and {none}");
}

/// Sizes that were measured weigh too: best first, and each after all, come to the same order.
#[test]
fn the_likeliest_come_first_with_sizes_too() {
    let sheet = ATTIC
        .replace("\"40?\"", "40")
        .replace("pinion = 7\nwheel = 28", "pinion = \"?\"\nwheel = \"?\"");
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let vague = Wants {
        beats: Some(parse_known("7488~1500").expect("beats")),
        ..Wants::default()
    };
    let vague = puzzle(&open, &vague, USUAL).expect("a puzzle");
    let found = solve(&open, &vague);
    println!(
        "{} told, cut short: {}",
        found.fits.len(),
        found.is_cut_short()
    );
    assert!(found.likeliest && !found.fits.is_empty());
    let (listed, _) = fitting(&vague.rules(), vague.blanks.len(), USUAL);
    let of_listed = ranked(open.movement(), &vague, listed);
    // The best of those that a plain search comes upon first is among those told, or none of them is as likely as the last told.
    let best = ranked(
        open.movement(),
        &vague,
        vec![found.fits[0].counts.clone(), of_listed[0].counts.clone()],
    );
    assert_eq!(best[0].counts, found.fits[0].counts);
}

/// A run that was asked for, where the counts give another, is said to be another.
#[test]
fn a_run_that_the_counts_do_not_give_clashes() {
    let sheet =
        include_str!("../../../movements/mantel.toml").replace("wheel = 56", "wheel = \"56?\"");
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let clashes = |run: &str| {
        let wants = Wants {
            runs: Some(parse_known(run).expect("a time")),
            ..Wants::default()
        };
        let puzzle = puzzle(&open, &wants, USUAL).expect("a puzzle");
        let name = |clash: &workshop::counts::Clash| open.movement().arbor(clash.arbor).id.clone();
        puzzle.clashes.iter().map(name).collect::<Vec<_>>()
    };
    // Five turns of the going train's great wheel are 200 hours, fourteen of the strike's 174.
    assert_eq!(clashes("8days~0.3"), Vec::<String>::new());
    assert_eq!(clashes("30h"), ["going_great", "strike_great"]);
}
