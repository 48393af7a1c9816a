//! Pendulums held against a general-purpose solver of differential equations and a library's elliptic integral.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

use quantity::{Gravity, Known, Length, Mass, Number, Slant, Stress};
use serde_json::{Value, json};
use workshop::pendulum::{Ribbon, Wheel, beats, elliptic_k, length, slower, torsion};

/// Both are good to the last figures of a double; a few units of them are left.
const INTEGRAL: f64 = 1e-13;

/// The solver is asked for 1e-12 a step and takes some hundred.
const SOLVED: f64 = 1e-9;

fn near(here: f64, there: &Value, within: f64) -> bool {
    there
        .as_f64()
        .is_some_and(|there| (here / there - 1.0).abs() <= within)
}

#[test]
fn the_elliptic_integral_is_the_librarys() {
    let Some(python) = outside::python("the elliptic integral") else {
        return;
    };
    let ms: Vec<f64> = (0..400)
        .map(|i| f64::from(i) / 400.0)
        .chain([0.999, 0.999_999])
        .collect();
    let questions: Vec<Value> = ms
        .iter()
        .map(|m| json!({ "ask": "elliptic", "m": m }))
        .collect();
    let answers = outside::ask(&python, &["springs_and_swings.py"], &questions);
    for (m, answer) in ms.iter().zip(&answers) {
        let here = elliptic_k(*m);
        assert!(
            near(here, &answer["k"], INTEGRAL),
            "K({m}): {here}, there {answer}"
        );
    }
}

#[test]
fn a_pendulum_swings_as_its_equation_says() {
    let Some(python) = outside::python("pendulums, by their equation") else {
        return;
    };
    let cases: Vec<(f64, f64, f64)> = [1.0, 2.5, 10.0, 30.0, 60.0, 90.0, 150.0]
        .iter()
        .flat_map(|half| [(*half, 9.78, 248.5), (*half, 9.812, 994.0)])
        .collect();
    let questions: Vec<Value> = (cases.iter())
        .map(|(half, g, mm)| json!({ "ask": "swing", "half_arc_deg": half, "g": g, "mm": mm }))
        .collect();
    let answers = outside::ask(&python, &["springs_and_swings.py"], &questions);
    for ((half, g, mm), answer) in cases.iter().zip(&answers) {
        let wide = slower(Known::sure(Slant::deg(*half)));
        assert!(
            near(wide.value.as_plain(), &answer["slower"], SOLVED),
            "{half}: {wide:?}, there {answer}"
        );
        let (long, gravity) = (
            Known::sure(Length::mm(*mm)),
            Known::sure(Gravity::m_per_s2(*g)),
        );
        let pace = beats(long, gravity);
        let beat = 3600.0 / pace.value.as_per_hour() * wide.value.as_plain();
        assert!(
            near(beat, &answer["beat_s"], SOLVED),
            "{half}: {beat}, there {answer}"
        );
        // And back from the beats to the length.
        let narrow = Known::sure(Number::plain(1.0));
        let back = length(pace, gravity, narrow).value.as_mm();
        assert!((back - mm).abs() < 1e-9 * mm, "{back} from {mm}");
    }
}

#[test]
fn a_torsion_pendulum_turns_as_its_equation_says() {
    let Some(python) = outside::python("torsion pendulums, by their equation") else {
        return;
    };
    // A disc of 300 g and 40 mm on 0.5 x 0.1 x 150 mm of 60 GPa, its constants worked by hand here.
    let inertia = 0.5 * 0.3 * 0.04_f64.powi(2);
    let twist = 60e9 * 0.5e-3 * 0.1e-3_f64.powi(3) * (1.0 - 0.63 * 0.2) / (3.0 * 0.15);
    let lift = 0.3 * 9.806 * 0.5e-3_f64.powi(2) / (12.0 * 0.15);
    let question = json!({ "ask": "torsion", "kg_m2": inertia, "n_m": twist + lift });
    let answers = outside::ask(&python, &["springs_and_swings.py"], &[question]);
    let mm = |x: f64| Known::sure(Length::mm(x));
    let wheel = Wheel::Disc {
        mass: Known::sure(Mass::g(300.0)),
        radius: mm(40.0),
    };
    let ribbon = Ribbon {
        width: mm(0.5),
        thick: mm(0.1),
        long: mm(150.0),
        shear: Known::sure(Stress::gpa(60.0)),
    };
    let beat = 3600.0 / torsion(wheel, ribbon).value.as_per_hour();
    assert!(
        near(beat, &answers[0]["beat_s"], SOLVED),
        "{beat}, there {answers:?}"
    );
}
