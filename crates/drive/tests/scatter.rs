//! What is in a spring still, and all else that has a corner at nothing, held against Monte Carlo in Python over the same
//! measurements with the same spreads.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

use drive::{PowerSource, Spring, Strip, assumed, bears, on_sheet, steel, wound};
use quantity::{Known, Length, Measure, Number, Tool};
use serde_json::{Value, json};

const MANTEL: &str = include_str!("../../../movements/mantel.toml");

/// As many random springs, unless `TRUNDLE_SPRINGS` says more.
const SPRINGS: usize = 60;
const DRAWS: usize = 100_000;

/// So many of its standard errors a mean may be off: of a hundred thousand, hardly one is.
const ERRORS: f64 = 4.5;
/// And what the lattice itself is off, in spreads, and as a part of a spread.
const LATTICE: f64 = 0.01;
const LATTICE_SPREAD: f64 = 0.05;

/// Numbers from 0 to 1 that are the same each time (Knuth's multiplier of 64 bits, from memory).
struct Dice(u64);

impl Dice {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = (self.0.wrapping_mul(6_364_136_223_846_793_005))
            .wrapping_add(1_442_695_040_888_963_407);
        let part = f64::from(u32::try_from(self.0 >> 32).expect("32 bits")) / f64::from(u32::MAX);
        low + part * (high - low)
    }
}

fn measured(mm: f64, least: f64, part: f64) -> Known<Length> {
    Known::measured(Length::mm(mm), Tool { least, part })
}

/// Springs of clocks and of what is hardly one: in barrels and open, set hard and hardly set, counted and not.
fn random(dice: &mut Dice) -> Spring {
    let thick = dice.between(0.12, 0.7);
    let arbor = thick * dice.between(22.0, 60.0);
    let outside = arbor * dice.between(2.3, 3.8);
    let barrel = dice.between(0.0, 1.0) < 0.7;
    let fill = dice.between(0.3, 0.65);
    let room = std::f64::consts::PI / 4.0 * (outside * outside - arbor * arbor);
    let opens = if barrel { outside } else { outside * 1.9 };
    Spring {
        strip: Strip {
            width: measured(dice.between(4.0, 40.0), 0.05, 0.002),
            thick: measured(thick, 0.005, 0.01),
            long: measured(fill * room / thick, 2.0, 0.005),
        },
        arbor: measured(arbor, 0.05, 0.002),
        outside: measured(opens, if barrel { 0.05 } else { 2.0 }, 0.005),
        barrel,
        free: None,
    }
}

fn springs() -> Vec<Spring> {
    let movement = sheet::read(MANTEL.as_bytes()).expect("good").movement;
    let mut springs = Vec::new();
    for (_, power) in on_sheet(&movement).expect("springs") {
        let PowerSource::Spring(spring) = power else {
            continue;
        };
        springs.push(spring);
        for turns in [4.0, 8.0, 12.0] {
            let free = Some(Known::new(Number::plain(turns), Number::plain(0.25)));
            springs.push(Spring { free, ..spring });
        }
    }
    assert_eq!(springs.len(), 8, "two springs, each as it is and counted");
    let more = std::env::var("TRUNDLE_SPRINGS")
        .ok()
        .and_then(|n| n.parse().ok());
    let mut dice = Dice(20);
    while springs.len() < 8 + more.unwrap_or(SPRINGS) {
        let mut spring = random(&mut dice);
        let Ok(works) = wound(&spring) else {
            continue;
        };
        if dice.between(0.0, 1.0) < 0.3 {
            let turns = works.down.value.as_plain() * dice.between(0.3, 1.1);
            spring.free = Some(Known::new(Number::plain(turns), Number::plain(0.25)));
        }
        springs.extend(wound(&spring).is_ok().then_some(spring));
    }
    springs
}

fn asked(spring: &Spring, held: f64, seed: usize) -> Value {
    fn both<Q: Measure>(known: Known<Q>) -> [f64; 2] {
        [known.value.base(), known.spread.base()]
    }
    let lies = if spring.barrel {
        assumed::COILS_IN_BARREL
    } else {
        assumed::COILS_OPEN
    };
    json!({
        "ask": "scatter",
        "draws": DRAWS,
        "seed": seed,
        "barrel": spring.barrel,
        "counted": spring.free.is_some(),
        "held": held,
        "of": {
            "width": both(spring.strip.width),
            "thick": both(spring.strip.thick),
            "long": both(spring.strip.long),
            "arbor": both(spring.arbor),
            "outside": both(spring.outside),
            "steel": both(steel()),
            "bears": both(bears()),
            "free": spring.free.map_or([0.0, 0.0], both),
            "lies": [lies.value, lies.spread],
        },
    })
}

#[test]
fn what_has_a_corner_scatters_as_monte_carlo_has_it() {
    let Some(python) = outside::python("springs, by Monte Carlo") else {
        return;
    };
    let springs = springs();
    let works: Vec<_> = springs
        .iter()
        .map(|s| wound(s).expect("a spring"))
        .collect();
    let questions: Vec<Value> = (springs.iter().zip(&works).enumerate())
        .map(|(i, (spring, works))| asked(spring, works.left.one_in_twenty.as_joules(), i))
        .collect();
    let answers = outside::ask(&python, &["springs_and_swings.py"], &questions);
    let (mut wrong, mut cut) = (Vec::new(), 0);
    for ((spring, works), there) in springs.iter().zip(&works).zip(&answers) {
        for (key, value, spread) in [
            (
                "left",
                works.left.energy.value.base(),
                works.left.energy.spread.base(),
            ),
            (
                "stored",
                works.stored.value.base(),
                works.stored.spread.base(),
            ),
            (
                "up",
                works.torque[0].value.base(),
                works.torque[0].spread.base(),
            ),
            (
                "half",
                works.torque[1].value.base(),
                works.torque[1].spread.base(),
            ),
            (
                "down",
                works.torque[2].value.base(),
                works.torque[2].spread.base(),
            ),
        ] {
            let there = |name: &str| there[key][name].as_f64().expect("a number");
            let (mean, wide) = (there("mean"), there("spread"));
            // Where it is next to nothing there is next to nothing to be off.
            let least = 1e-4;
            let off = (value - mean).abs() > ERRORS * there("mean_error") + LATTICE * wide + least;
            let wider = ERRORS * there("spread_error") + LATTICE_SPREAD * wide + least;
            if off || (spread - wide).abs() > wider {
                wrong.push(format!(
                    "{key}: {value} ± {spread}, there {mean} ± {wide}: {spring:?}"
                ));
            }
        }
        // One in twenty passes what is said to be passed by one in twenty.
        let below = there["left"]["below"].as_f64().expect("a part");
        let passed = works.left.one_in_twenty.as_joules() > 0.0;
        if passed && (below - 0.95).abs() > 0.006 {
            wrong.push(format!("{below} below {:?}: {spring:?}", works.left));
        }
        let energy = works.left.energy;
        cut += usize::from(energy.spread.as_joules() > 0.5 * energy.value.as_joules());
    }
    assert!(
        wrong.is_empty(),
        "{} of {}:\n{}",
        wrong.len(),
        springs.len(),
        wrong.join("\n")
    );
    assert!(
        cut > springs.len() / 4,
        "only {cut} of {} are cut off at nothing",
        springs.len()
    );
}
