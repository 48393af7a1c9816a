//! Readings at rest: what locks is found on the sheet, whatever it is called, and what was read goes into the belief with it; held
//! against a program in Python that runs each way of standing on until its pin meets its arm (tests/outside/rest.py).

use entries::Log;
use movement::{Movement, WitnessId};
use quantity::Degrees;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use serde_json::{Value, json};
use std::fmt::Write as _;
use timing::{Bench, Hands, Priors, Rest, StandsAtRest};

#[path = "../../fleet/tests/outside/mod.rs"]
mod library;

fn sheet(text: &str) -> Movement {
    sheet::read(text.as_bytes()).expect("a good sheet").movement
}

fn sample(name: &str) -> String {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("sample")
}

/// How every witness stands at rest, in words of a test.
fn told(movement: &Movement) -> Vec<String> {
    let rest = Rest::of(movement);
    let name = |id: WitnessId| movement.witness(id).id.clone();
    (movement.witnesses())
        .map(|(id, witness)| {
            let at = match rest.at_rest(id) {
                StandsAtRest::AsItIs => "as it is".to_owned(),
                StandsAtRest::RunsOn(degrees) => format!("+{:.3}", degrees.to_f64()),
                StandsAtRest::WithLock { lock, turns } => format!("{turns} {}", name(*lock)),
                StandsAtRest::Locks { turns } => format!("locks, {turns}"),
                StandsAtRest::Unknown => "?".to_owned(),
            };
            format!("{}: {at}", witness.id)
        })
        .collect()
}

#[test]
fn what_locks_is_told_by_the_levers_of_each_sample() {
    let of = |name: &str| told(&sheet(&sample(name)));
    // 72 over 8, and 52 over 6 of that; 56 over 7: by hand from counts.
    assert_eq!(
        of("schoolroom"),
        ["slot: 1/624 pin", "star: 1/72 pin", "pin: locks, 8"]
    );
    // The cam locks by its end: 7 + 20/2 - 6/2 degrees from the drop, an eighth of a ninth of which is the star's.
    assert_eq!(
        of("loft"),
        ["slot: +0.179", "tail: +1.556", "stop: +140.000"]
    );
    // The pallet's tail meets the rack's pin 72 degrees on; 64 over 8, 70 over 7.
    assert_eq!(of("parlour")[0], "pins: +9.000");
    assert_eq!(of("parlour")[1], "pin: +720.000");
    // Two trains, each with its own; the quarters' pin has two arms, and the one of the count comes first.
    let quarters = of("quarters");
    assert_eq!(quarters[0], "tail: +9.000");
    assert!(quarters[2].ends_with(" chime_pin"), "{quarters:?}");
    assert!(quarters[4].starts_with("chime_pin: locks"), "{quarters:?}");
    // A vane that is judged while warned stays as it is.
    assert_eq!(of("quay")[3], "vane: as it is");
    // No levers, but the sheet says which is the locking pin; and nothing at all.
    assert_eq!(of("mantel")[0], "slot: 1/624 pin");
    assert_eq!(of("lattice"), ["stop: ?"]);
}

/// A movement of no book: names, counts, which arbor is held, where the pin sits and how often, all by chance.
struct Made {
    text: String,
    problem: Value,
}

const HANDS: [f64; 2] = [0.12, 0.05];
const BUILD: f64 = 0.2;
const LOGS: usize = 60;
/// One eye, which sees as it says: what several come to is tried elsewhere.
const EYES: [[f64; 2]; 1] = [[1.0, 1.0]];

fn made(rng: &mut Pcg64) -> Made {
    let many = rng.random_range(3..6);
    let mut names: Vec<String> = Vec::new();
    while names.len() < many + 1 {
        let letter = |rng: &mut Pcg64| char::from(rng.random_range(b'a'..=b'z'));
        let name: String = (0..4).map(|_| letter(rng)).collect();
        if !names.contains(&name) && name != "runs" {
            names.push(name);
        }
    }
    // The last is a branch off one of the others; any mesh may be internal.
    let branch = rng.random_range(0..many - 1);
    let mut meshes = Vec::new();
    for i in 0..many - 1 {
        meshes.push([i, i + 1, rng.random_range(12..40), rng.random_range(6..10)]);
    }
    meshes.push([
        branch,
        many,
        rng.random_range(4..9),
        rng.random_range(16..40),
    ]);
    let held = rng.random_range(1..many);
    let stopped = rng.random_range(1..many);
    let mut text = "sheet = 1\nname = \"made\"\nseen_from = \"back\"\n".to_owned();
    for (i, name) in names.iter().enumerate() {
        writeln!(text, "[arbor.{name}]").unwrap();
        if i == 0 {
            text += "runs = \"clockwise\"\n";
        }
        for (m, mesh) in meshes.iter().enumerate() {
            for (end, part) in [(0, "n"), (1, "m")] {
                if mesh[end] == i {
                    writeln!(text, "{part}{m} = {}", mesh[end + 2]).unwrap();
                }
            }
        }
    }
    for (m, [a, b, ..]) in meshes.iter().enumerate() {
        writeln!(
            text,
            "[[mesh]]\ndriver = \"{}.n{m}\"\ndriven = \"{}.m{m}\"",
            names[*a], names[*b]
        )
        .unwrap();
        if rng.random_range(0..4) == 0 {
            text += "internal = true\n";
        }
    }
    let read_at = &names[held];
    write!(text, "[strike]\ncounted_by = \"count wheel\"\nblows = \"hours\"\nread_at = \"{read_at}\"\nblows_per_turn = 1\n").unwrap();
    // One pin, two opposite, or two that are not, of which one is meant.
    let form = rng.random_range(0..3);
    let first = f64::from(rng.random_range(20..150));
    let (pin_repeats, apart): (u16, Vec<f64>) = match form {
        0 => (1, vec![0.0]),
        1 => (2, vec![0.0, 180.0]),
        _ => (1, vec![0.0, f64::from(rng.random_range(60..170))]),
    };
    let further = f64::from(rng.random_range(-10..10));
    let at: Vec<String> = (apart.iter())
        .map(|apart| format!("{}", first + apart - further))
        .collect();
    write!(text, "[[track]]\nid = \"edge\"\non = \"{read_at}\"\nnotches_deg = [10]\nslot_deg = 26\nramp_deg = 10\n").unwrap();
    write!(
        text,
        "[[pin]]\nid = \"peg\"\non = \"{}\"\nat_deg = [{}]\n",
        names[stopped],
        at.join(", ")
    )
    .unwrap();
    text += "[[lever]]\nid = \"one\"\non = \"all\"\nfeels = \"edge\"\ntip_deg = 6\nlift_deg = 8\n";
    write!(text, "[[lever]]\nid = \"two\"\non = \"all\"\nstops = \"peg\"\nbelow_deg = 4\nfurther_deg = {further}\n").unwrap();
    let mut witnesses = Vec::new();
    let own = (stopped != held).then_some((stopped, pin_repeats, -first));
    let other = |rng: &mut Pcg64, on: usize| {
        let repeats = [1, 2, 4, 6, 9, 12][rng.random_range(0..6)];
        (on, repeats, f64::from(rng.random_range(-3..4)))
    };
    let far = rng.random_range(0..many);
    let others = [other(rng, many), other(rng, far)];
    for (w, (on, repeats, best)) in others.into_iter().chain(own).enumerate() {
        let half = 90.0 / f64::from(repeats) * 0.2;
        let (from, to) = (best - half, best + half);
        write!(text, "[[witness]]\nid = \"w{w}\"\nsays = \"a place\"\non = \"{}\"\nrepeats = {repeats}\nwindow_deg = [{from}, {to}]\nbest_deg = {best}\n", names[on]).unwrap();
        witnesses.push(json!({"on": on, "repeats": repeats, "best": best, "off": BUILD * half}));
    }
    let problem = json!({
        "meshes": meshes, "held": held, "witnesses": witnesses, "on": stopped, "arms": apart, "lead": first,
        "pin": own.map(|_| 2), "hands": HANDS, "eyes": EYES,
    });
    Made { text, problem }
}

/// What may be seen of a made movement, as a log and as events; true places are by chance.
fn seen(rng: &mut Pcg64, bench: &Bench<'_>) -> (Log, Vec<Value>) {
    let movement = bench.movement();
    let meshes: Vec<_> = movement.meshes().map(|(id, _)| id).collect();
    let mut stand: Vec<i64> = meshes.iter().map(|_| rng.random_range(0..30)).collect();
    let mut text = "{\"trundle_log\":1,\"sheet\":\"x\",\"hash\":\"0\"}\n".to_owned();
    let mut events = Vec::new();
    let shift_at = rng.random_range(0..3);
    for n in 1..=rng.random_range(2..4) {
        let line = if n == 2 && shift_at == 0 {
            let mesh = rng.random_range(0..meshes.len());
            let teeth = [-2, -1, 1, 2][rng.random_range(0..4)];
            stand[mesh] += teeth;
            events.push(json!({"shift": [mesh, teeth]}));
            let name = movement.mesh_name(meshes[mesh]);
            format!(r#""kind":"shift","mesh":"{name}","teeth":{teeth}"#)
        } else {
            let rest = rng.random_range(0..4) > 0;
            let place = |id: WitnessId| -> f64 {
                let moved = |(mesh, teeth): (&movement::MeshId, &i64)| {
                    let step = kinematics::step(movement, *mesh, id).map(|step| step.to_f64());
                    step.unwrap_or(0.0) * *teeth as f64
                };
                let moved: f64 = meshes.iter().zip(&stand).map(moved).sum();
                movement.witness(id).best.to_f64() + moved
            };
            let mut lines = Vec::new();
            let mut readings = Vec::new();
            for (id, witness) in movement.witnesses() {
                if !lines.is_empty() && rng.random_range(0..3) == 0 {
                    continue;
                }
                let period = witness.period().to_f64();
                let spread = (0.01 + 0.07 * rng.random_range(0.0..1.0)) * period;
                let at = place(id);
                let ran = match bench.rest().at_rest(id) {
                    StandsAtRest::RunsOn(degrees) if rest => degrees.to_f64(),
                    StandsAtRest::WithLock { lock, turns } if rest => {
                        let exact = Degrees::parse(&format!("{:.6}", place(*lock))).unwrap();
                        let lead = bench.rest().lead(*lock, &exact).unwrap();
                        (&lead * turns).to_f64()
                    }
                    _ => 0.0,
                };
                let deg = at + ran + rng.random_range(-1.5..1.5) * spread;
                let (deg, spread) = (format!("{deg:.3}"), format!("{spread:.3}"));
                let (mut said, mut wide) =
                    (deg.parse::<f64>().unwrap(), spread.parse::<f64>().unwrap());
                let mut what = format!(r#""deg":"{deg}","spread":"{spread}""#);
                if let StandsAtRest::Locks { turns } = bench.rest().at_rest(id)
                    && rest
                {
                    // Through the notch: what the held arbor ran since.
                    let turns = quantity::to_f64(turns);
                    let ran = bench
                        .rest()
                        .lead(id, &Degrees::parse(&deg).unwrap())
                        .unwrap();
                    let notch = format!("{:.3}", ran.to_f64() / turns);
                    let fine = format!("{:.3}", (wide / turns).max(0.001));
                    said = -notch.parse::<f64>().unwrap() * turns;
                    wide = fine.parse::<f64>().unwrap() * turns;
                    what = format!(r#""notch":"{notch}","spread":"{fine}""#);
                }
                readings.push(json!([id.index(), said, wide]));
                lines.push(format!(r#"{{"witness":"{}",{what}}}"#, witness.id));
            }
            let tension = if rest { "at-rest" } else { "tensioned" };
            events.push(json!({"look": if rest { "rest" } else { "drop" }, "readings": readings}));
            format!(
                r#""kind":"look","tension":"{tension}","readings":[{}]"#,
                lines.join(",")
            )
        };
        writeln!(text, "{{\"n\":{n},{line}}}").unwrap();
    }
    (Log::read(text.as_bytes()).expect("a good log").0, events)
}

/// How far the house may be from the program beside it. It takes what locks for normally off even where that makes it come to another arm, and
/// gathers what differs by less than a quarter of its doubt: measured 2.7e-3 at most, over the movements below.
const APART: f64 = 5e-3;

/// Where no other arm is near, nothing is left but rounding and what the grid leaves; so it is in nine logs of ten.
const NONE_NEAR: f64 = 1e-4;

#[test]
fn sixty_logs_at_rest_against_trains_that_are_run_on() {
    let Some(python) = library::python("readings at rest, run on") else {
        return;
    };
    let mut rng = Pcg64::seed_from_u64(20_270_214);
    let mut problems = Vec::new();
    let mut ours: Vec<Vec<f64>> = Vec::new();
    // The program beside it keeps teeth at each mesh apart, the last of them counting fastest: to which of our ways each belongs.
    let mut belongs: Vec<Vec<usize>> = Vec::new();
    while problems.len() < LOGS {
        let Made { text, mut problem } = made(&mut rng);
        let movement = sheet(&text);
        let priors = Priors {
            build: BUILD,
            hold_deg: 0.0,
            hands: Hands {
                wrong_way: quantity::Chance::of(HANDS[0]),
                slip: quantity::Chance::of(HANDS[1]),
            },
            eye: timing::Eye::as_said(),
            unnoticed: quantity::Chance::of(0.0),
            ..Priors::default()
        };
        let Ok(bench) = Bench::of(&movement, priors) else {
            continue;
        };
        if !(2..=80).contains(&bench.ways()) {
            continue;
        }
        let (log, events) = seen(&mut rng, &bench);
        let recalled = bench
            .recall(&log)
            .unwrap_or_else(|fault| panic!("{fault} in {text}\n{events:?}"));
        ours.push(bench.chances(&recalled.belief));
        let cycles = bench.cycles();
        let teeth = (0..cycles.iter().product::<usize>()).map(|mut n| {
            let mut teeth: Vec<i64> = (cycles.iter().rev())
                .map(|cycle| {
                    let own = n % cycle;
                    n /= cycle;
                    i64::try_from(own).unwrap()
                })
                .collect();
            teeth.reverse();
            teeth
        });
        belongs.push(teeth.map(|teeth| bench.way(&teeth)).collect());
        problem["events"] = json!(events);
        problems.push(problem);
    }
    let mut apart: Vec<(f64, usize)> = Vec::new();
    let mut told = 0;
    let answers = library::ask(&python, &["rest.py"], &problems);
    for (i, (ours, answer)) in ours.iter().zip(answers).enumerate() {
        let by_teeth = answer["chances"].as_array().expect("a list");
        assert_eq!(belongs[i].len(), by_teeth.len(), "{}", problems[i]);
        let mut theirs = vec![0.0; ours.len()];
        for (way, chance) in belongs[i].iter().zip(by_teeth) {
            theirs[*way] += chance.as_f64().expect("a number");
        }
        let most = (ours.iter().zip(&theirs))
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f64::max);
        apart.push((most, i));
        told += usize::from(theirs.iter().any(|x| *x > 3.0 / theirs.len() as f64));
    }
    apart.sort_by(|a, b| b.0.total_cmp(&a.0));
    let median = apart[apart.len() / 2].0;
    println!(
        "{LOGS} logs: median {median:.1e}, largest {:?}; {told} tell something",
        &apart[..5]
    );
    assert!(told > LOGS / 2, "{told}");
    let near = &apart[..=LOGS / 10];
    assert!(apart[LOGS / 10].0 < NONE_NEAR, "{near:?}");
    assert!(
        apart[0].0 < APART,
        "{} in {}",
        apart[0].0,
        problems[apart[0].1]
    );
}
