//! Held against quadrature by scipy (tests/outside/stood.py), and against strikes struck out one by one.

use super::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use serde_json::{Value, json};

#[path = "../../../fleet/tests/outside/mod.rs"]
mod library;

/// Windows, doubts, readings near their middles, at their edges and beyond, few strikes and many.
fn made(rng: &mut Pcg64) -> StoodInside {
    let half = rng.random_range(0.5..40.0);
    let middle = rng.random_range(-90.0..90.0);
    let spread = half * rng.random_range(0.03..0.4);
    let known = rng.random_range(0..8) == 0;
    StoodInside {
        window: [middle - half, middle + half],
        doubt: if known { 0.0 } else { 0.2 * half },
        read: [middle + half * rng.random_range(-1.15..1.15), spread],
        sway: spread * rng.random_range(0.1..1.5),
        strikes: rng.random_range(1..30),
    }
}

/// To a thousandth of half the window, and the chance to a thousandth.
#[test]
fn a_window_lies_where_quadrature_by_scipy_has_it() {
    let Some(python) = library::python("a window that was stood in, by quadrature") else {
        return;
    };
    let mut rng = Pcg64::seed_from_u64(7711);
    let of: Vec<StoodInside> = (0..24).map(|_| made(&mut rng)).collect();
    let problems: Vec<Value> = (of.iter())
        .map(|of| {
            json!({"window": of.window, "doubt": of.doubt, "read": of.read, "sway": of.sway,
                "strikes": of.strikes, "inside": of.lies().inside})
        })
        .collect();
    let answers = library::ask(&python, &["stood.py"], &problems);
    let mut moved = 0;
    for (of, theirs) in of.iter().zip(&answers) {
        let ours = of.lies();
        let half = 0.5 * (of.window[1] - of.window[0]);
        let number = |value: &Value| value.as_f64().expect("a number");
        assert!(
            (ours.chance - number(&theirs["chance"])).abs() < 1e-3,
            "{of:?} {theirs}"
        );
        if ours.chance < 1e-3 {
            continue;
        }
        for (ours, theirs) in ours.by.iter().zip([&theirs["by"][0], &theirs["by"][1]]) {
            assert!(
                (ours - number(theirs)).abs() < 1e-3 * half,
                "{of:?} {ours} {theirs}"
            );
        }
        moved += usize::from(ours.by[0].abs() > 0.02 * half);
        let at_least = number(&theirs["at_least"]);
        assert!(
            (at_least - (1.0 - AT_LEAST)).abs() < 0.01,
            "{of:?} {at_least}"
        );
    }
    assert!(moved > 5, "{moved}");
}

fn normal(rng: &mut Pcg64) -> f64 {
    let (a, b): (f64, f64) = (rng.random_range(1e-12..1.0), rng.random_range(0.0..1.0));
    (-2.0 * a.ln()).sqrt() * (2.0 * std::f64::consts::PI * b).cos()
}

/// Every strike struck: windows by chance, places by chance, and those kept that were right each time.
#[test]
fn a_window_lies_where_striking_it_out_has_it() {
    const MOST: usize = 60_000;
    let mut rng = Pcg64::seed_from_u64(4242);
    let cases = [
        (0.0, 0.1, 1),
        (0.8, 0.1, 1),
        (0.8, 0.1, 24),
        (-0.95, 0.3, 6),
    ];
    for (read, spread, strikes) in cases {
        let of = StoodInside {
            window: [-1.0, 1.0],
            doubt: 0.2,
            read: [read, spread],
            sway: 0.1,
            strikes,
        };
        let (mut kept, mut sum, mut square) = (0.0, 0.0, 0.0);
        for _ in 0..MOST {
            let by = of.doubt * normal(&mut rng);
            let place = read + spread * normal(&mut rng);
            let mut struck = (0..strikes).map(|_| place + of.sway * normal(&mut rng));
            if struck.all(|at| (at - by).abs() <= 1.0) {
                kept += 1.0;
                sum += by;
                square += by * by;
            }
        }
        let (mean, lies) = (sum / kept, of.lies());
        let spread = (square / kept - mean * mean).sqrt();
        assert!((lies.chance - kept / MOST as f64).abs() < 0.01, "{lies:?}");
        assert!((lies.by[0] - mean).abs() < 0.005, "{lies:?} {mean}");
        assert!((lies.by[1] - spread).abs() < 0.005, "{lies:?} {spread}");
    }
}

#[test]
fn more_strikes_and_surer_readings_move_it_further_in() {
    let of = |read: f64, strikes: u16| StoodInside {
        window: [-1.0, 1.0],
        doubt: 0.2,
        read: [read, 0.1],
        sway: 0.1,
        strikes,
    };
    let (one, many) = (of(0.9, 1).lies(), of(0.9, 48).lies());
    assert!(many.by[0] > one.by[0] && one.by[0] > 0.0);
    assert!(many.by[1] < one.by[1] && one.by[1] < 0.2);
    assert!(many.inside > one.inside);
    // In the middle it tells little of where the window lies, and that it stood well inside.
    let middle = of(0.0, 12).lies();
    assert!(middle.by[0].abs() < 1e-9 && middle.by[1] > 0.19);
    assert!(middle.inside > 0.5);
    // Far beyond it was never inside.
    assert!(of(3.0, 1).lies().chance < 1e-9);
}
