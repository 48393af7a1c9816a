//! The belief against a general-purpose numerical library: numpy, by brute force
//! on a grid (tests/outside/belief.py).

use entries::Log;
use movement::Movement;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use serde_json::{Value, json};
use timing::{Bench, Hands, Priors};

#[path = "../../fleet/tests/outside/mod.rs"]
mod library;

/// The grid is as good as double precision; what is left is a normal density beyond ten spreads, and rounding.
const GRID: f64 = 1e-6;

/// Where a witness's own place is uncertain, and an eye so rough that it reaches to the next place alike, the house learns of that
/// place from the nearest alone, as if no other could have been read. Measured, over fifty logs: 3e-5.
const NEAREST: f64 = 1e-4;

fn sheet(text: &str) -> Movement {
    sheet::read(text.as_bytes()).expect("a good sheet").movement
}

fn sample(name: &str) -> String {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("sample")
}

/// Eyes that may be, in times the spread that was said, and how likely each is beforehand.
const EYES: [[f64; 2]; 7] = [
    [0.5, 0.05],
    [std::f64::consts::FRAC_1_SQRT_2, 0.15],
    [1.0, 0.40],
    [std::f64::consts::SQRT_2, 0.20],
    [2.0, 0.12],
    [2.0 * std::f64::consts::SQRT_2, 0.06],
    [4.0, 0.02],
];

/// What one tooth does, reckoned here from counts along the path, not by the house.
struct Bare {
    meshes: Vec<String>,
    steps: Vec<Vec<f64>>,
    cycles: Vec<usize>,
    sway: Vec<f64>,
}

/// The schoolroom: held at the third. A tooth of the second wheel is 360/72 of the second, six leaves to fifty-two teeth on to
/// the count wheel; one of the count wheel 360/52; one of the fourth's seven trundles 360/7.
fn schoolroom() -> Bare {
    let second = 360.0 / 72.0;
    Bare {
        meshes: [
            "second.wheel>third.pinion",
            "third.wheel>fourth.pinion",
            "second.count_pinion>count.wheel",
        ]
        .map(str::to_owned)
        .to_vec(),
        steps: vec![
            vec![second * 6.0 / 52.0, second, 0.0],
            vec![0.0, 0.0, 360.0 / 7.0],
            vec![360.0 / 52.0, 0.0, 0.0],
        ],
        cycles: vec![8, 7, 2],
        sway: vec![8.0 / 72.0 * 6.0 / 52.0, 8.0 / 72.0, 56.0 / 7.0],
    }
}

fn number(rng: &mut Pcg64, from: f64, to: f64) -> String {
    format!("{:.2}", rng.random_range(from..to))
}

/// A log at random, as lines and as events.
fn log(rng: &mut Pcg64, movement: &Movement, bare: &Bare, sharp: f64) -> (Log, Vec<Value>) {
    let mut text = "{\"trundle_log\":1,\"sheet\":\"x\",\"hash\":\"0\"}\n".to_owned();
    let mut events = Vec::new();
    // How the meshes stand in truth, so that what is read could have been seen.
    let mut stand: Vec<i64> = bare
        .cycles
        .iter()
        .map(|_| rng.random_range(0..60))
        .collect();
    for n in 1..=rng.random_range(2..7) {
        let line = match rng.random_range(0..6) {
            0 => {
                let mesh = rng.random_range(0..bare.meshes.len());
                let teeth = [-3, -2, -1, 1, 2, 3][rng.random_range(0..6)];
                stand[mesh] += teeth;
                events.push(json!({ "shift": [mesh, teeth] }));
                format!(
                    r#""kind":"shift","mesh":"{}","teeth":{teeth}"#,
                    bare.meshes[mesh]
                )
            }
            1 if bare.meshes.len() > 1 => {
                events.push(json!({ "lost": [1] }));
                r#""kind":"jumped","arbor":"fourth""#.to_owned()
            }
            _ => {
                let mut seen = Vec::new();
                let mut lines = Vec::new();
                for (w, (_, witness)) in movement.witnesses().enumerate() {
                    if !lines.is_empty() && rng.random_range(0..3) == 0 {
                        continue;
                    }
                    let period = witness.period().to_f64();
                    let place: f64 = (stand.iter().zip(&bare.steps))
                        .map(|(teeth, steps)| {
                            f64::from(i32::try_from(*teeth).expect("small")) * steps[w]
                        })
                        .sum();
                    let place = witness.best.to_f64() + place;
                    let deg = number(
                        rng,
                        place - 2.0 * sharp * period,
                        place + 2.0 * sharp * period,
                    );
                    let spread = number(rng, 0.5 * sharp * period, sharp * period);
                    seen.push(json!([
                        w,
                        deg.parse::<f64>().expect("a number"),
                        spread.parse::<f64>().expect("a number")
                    ]));
                    lines.push(format!(
                        r#"{{"witness":"{}","deg":"{deg}","spread":"{spread}"}}"#,
                        witness.id
                    ));
                }
                events.push(json!({ "look": seen }));
                format!(
                    r#""kind":"look","tension":"tensioned","readings":[{}]"#,
                    lines.join(",")
                )
            }
        };
        text += &format!("{{\"n\":{n},{line}}}\n");
    }
    (Log::read(text.as_bytes()).expect("a good log").0, events)
}

/// Two hundred logs: half of them with three witnesses and a common hold, half with one witness whose own place is uncertain.
#[test]
fn two_hundred_logs_against_a_grid() {
    let Some(python) = library::python("the belief, on a grid") else {
        return;
    };
    let mut rng = Pcg64::seed_from_u64(20_261_126);
    let whole = sheet(&sample("schoolroom"));
    let text = sample("schoolroom");
    // Only the star; the sheet ends before its third witness and begins its list with the second.
    let (head, rest) = text.split_once("[[witness]]").expect("witnesses");
    let star = rest.split("[[witness]]").nth(1).expect("the star");
    let alone = sheet(&format!("{head}[[witness]]{star}"));
    let mut problems = Vec::new();
    let mut ours: Vec<Vec<f64>> = Vec::new();
    for i in 0..200 {
        let single = i % 2 == 1;
        let movement = if single { &alone } else { &whole };
        let bare = if single {
            Bare {
                meshes: vec!["second.wheel>third.pinion".to_owned()],
                steps: vec![vec![5.0]],
                cycles: vec![8],
                sway: vec![8.0 / 72.0],
            }
        } else {
            schoolroom()
        };
        let priors = Priors {
            build: if single { 0.2 } else { 0.0 },
            hold_deg: rng.random_range(0.2..1.5),
            hands: Hands {
                wrong_way: quantity::Chance::of(0.12),
                slip: quantity::Chance::of(0.05),
            },
            unnoticed: quantity::Chance::of(0.0),
            ..Priors::default()
        };
        // Sharp and blunt looks; the bluntest reach to the next place alike.
        let sharp = [0.01, 0.05, 0.2][rng.random_range(0..if single { 2 } else { 3 })];
        let (log, events) = log(&mut rng, movement, &bare, sharp);
        let bench = Bench::of(movement, priors).expect("few places");
        let recalled = bench.recall(&log).expect("a belief");
        ours.push(bench.chances(&recalled.belief).to_vec());
        let witnesses = || movement.witnesses().map(|(_, w)| w);
        problems.push(json!({
            "period": witnesses().map(|w| w.period().to_f64()).collect::<Vec<_>>(),
            "best": witnesses().map(|w| w.best.to_f64()).collect::<Vec<_>>(),
            "steps": bare.steps,
            "cycles": bare.cycles,
            "sway": bare.sway,
            "hold": priors.hold_deg,
            // A fifth of the half window of the star, seven degrees.
            "build": if single { 0.2 * 7.0 } else { 0.0 },
            "hands": [0.12, 0.05],
            "eyes": EYES,
            "events": events,
        }));
    }
    let mut worst = (0.0f64, 0.0f64);
    let mut told = 0;
    for ((ours, answer), problem) in ours
        .iter()
        .zip(library::ask(&python, &["belief.py"], &problems))
        .zip(&problems)
    {
        let theirs: Vec<f64> = answer["chances"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|x| x.as_f64().expect("a number"))
            .collect();
        assert_eq!(ours.len(), theirs.len());
        for (a, b) in ours.iter().zip(&theirs) {
            let apart = (a - b).abs();
            let (worst, most) = match problem["build"] == 0.0 {
                true => (&mut worst.0, GRID),
                false => (&mut worst.1, NEAREST),
            };
            *worst = worst.max(apart);
            assert!(apart < most, "{a} and {b} in {problem}");
        }
        // Not all alike: a check of flat chances would be none.
        told += usize::from(theirs.iter().any(|x| *x > 3.0 / theirs.len() as f64));
    }
    let (plain, merged) = worst;
    println!(
        "200 logs: largest difference {plain:.1e}, with an own place {merged:.1e}; {told} tell something"
    );
    assert!(told > 150, "{told}");
}
