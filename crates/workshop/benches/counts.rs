//! Three unknown counts of 6 to 144 teeth: the search, beside trying every set one after another, in one run.
//!
//! `cargo bench -p workshop`. The same puzzles are given to a general-purpose constraint solver by `tests/outside/counts.py`.

use movement::Open;
use quantity::{Bounds, Known, Pace};
use workshop::counts::{Puzzle, Wants, fitting, puzzle, solve};

fn main() {
    divan::main();
}

const BOUNDS: Bounds = Bounds {
    least: 6,
    most: 144,
};

/// Three blanks, and how narrowly the beats bind them.
#[derive(Debug, Clone, Copy)]
enum Lost {
    /// Lost from a going train whose beats are known to one in a hundred: many sets fit.
    Loose,
    /// Whose beats are known exactly.
    Tight,
    /// With the sizes of what is left measured.
    Measured,
    /// Whose beats are known to one in three: more fit than are listed, and the search is cut short.
    Vague,
}

fn lost(lost: Lost) -> (Open, Puzzle) {
    let sheet = include_str!("../../../movements/attic.toml")
        .replace("\"40?\"", "40")
        .replace("pinion = 7\nwheel = 28", "pinion = \"?\"\nwheel = 28");
    let sheet = match lost {
        Lost::Measured => sheet,
        _ => sheet.replace("centre_mm", "lash_teeth = 0.1 # "),
    };
    let open = sheet::read_open(sheet.as_bytes()).expect("good");
    let wants = Wants {
        beats: match lost {
            Lost::Tight => Some(Known::sure(Pace::per_hour(7488.0))),
            Lost::Vague => Some(Known::new(Pace::per_hour(7488.0), Pace::per_hour(2400.0))),
            _ => None,
        },
        ..Wants::default()
    };
    let puzzle = puzzle(&open, &wants, BOUNDS).expect("a puzzle");
    assert_eq!(puzzle.blanks.len(), 3);
    (open, puzzle)
}

const CASES: [Lost; 4] = [Lost::Loose, Lost::Tight, Lost::Measured, Lost::Vague];

/// What `trundle count` works: all that fit, ranked.
#[divan::bench(args = CASES)]
fn found_and_ranked(bencher: divan::Bencher<'_, '_>, case: Lost) {
    let (open, puzzle) = lost(case);
    println!("{case:?}: {} fit", solve(&open, &puzzle).fits.len());
    bencher.bench(|| solve(&open, &puzzle));
}

/// The search alone.
#[divan::bench(args = CASES)]
fn found(bencher: divan::Bencher<'_, '_>, case: Lost) {
    let (_, puzzle) = lost(case);
    let rules = puzzle.rules();
    bencher.bench(|| fitting(&rules, 3, BOUNDS));
}

/// Every set, one after another, against every rule.
#[divan::bench(args = CASES, sample_count = 3, sample_size = 1)]
fn every_set_tried(bencher: divan::Bencher<'_, '_>, case: Lost) {
    let (_, puzzle) = lost(case);
    let rules = puzzle.rules();
    bencher.bench(|| {
        let mut found = Vec::new();
        for a in BOUNDS.least..=BOUNDS.most {
            for b in BOUNDS.least..=BOUNDS.most {
                for c in BOUNDS.least..=BOUNDS.most {
                    let counts = [a, b, c];
                    if rules.iter().all(|rule| rule.keeps(&counts)) {
                        found.push(counts);
                    }
                }
            }
        }
        found
    });
}
