//! Pendulums held against a general-purpose solver of differential equations and a library's elliptic integral.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

use quantity::{Gravity, Known, Length, Mass, Number, Slant, Stress};
use serde_json::{Value, json};
use workshop::assumed::STRIP_STIFFER;
use workshop::pendulum::{
    Load, Ribbon, Suspension, SuspensionStrip, Wheel, beats, bend, elliptic_k, length,
    other_suspension, slower, torsion,
};

/// Both are good to the last figures of a double; a few units of them are left.
const INTEGRAL: f64 = 1e-13;

/// The solver is asked for 1e-12 a step and takes some hundred.
const SOLVED: f64 = 1e-9;

/// The solver of boundary value problems is asked for 1e-10 of what goes aside.
const BENT: f64 = 1e-7;

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

/// Gravity and the stiffness of a strip's steel, for the pendulums on strips.
const FALLS: f64 = 9.806;
const MPA: f64 = 204e3;

/// `E I` of a strip, its width and thickness in millimetres, in N mm².
fn bar([width, thick]: [f64; 2]) -> f64 {
    STRIP_STIFFER.value * MPA * width * thick.powi(3) / 12.0
}

#[test]
fn a_pendulum_on_a_strip_beats_as_the_beam_s_equation_says() {
    let Some(python) = outside::python("pendulums on strips, by their equation") else {
        return;
    };
    let mm = |x: f64| Known::sure(Length::mm(x));
    let strip = |long: f64, [width, thick]: [f64; 2]| SuspensionStrip {
        long: mm(long),
        width: mm(width),
        thick: mm(thick),
    };
    // Grams, the free length, width and thickness, from the lower chop to the bob; another free length and thickness. From strips
    // many times as long as they bend over to some that bend all along.
    let mut cases = Vec::new();
    for (grams, below) in [
        (180.0, 225.0),
        (30.0, 90.0),
        (6000.0, 985.0),
        (90e3, 2200.0),
    ] {
        for (long, thick) in [(4.0, 0.05), (8.0, 0.1), (25.0, 0.15), (60.0, 0.4)] {
            cases.push((grams, below, [long, thick], [long, 1.1 * thick]));
            cases.push((grams, below, [long, thick], [1.3 * long, 0.7 * thick]));
        }
    }
    let width = 7.0;
    let questions: Vec<Value> = (cases.iter())
        .flat_map(|(grams, below, now, then)| {
            [now, then].map(|[long, thick]| {
                let pull = grams / 1000.0 * FALLS;
                let bar = bar([width, *thick]);
                json!({ "ask": "strip", "bar": bar, "pull": pull, "long": long, "below": below })
            })
        })
        .collect();
    let answers = outside::ask(&python, &["springs_and_swings.py"], &questions);
    let mut stiff = 0;
    for ((grams, below, now, then), answer) in cases.iter().zip(answers.chunks(2)) {
        let figure = |i: usize, name: &str| answer[i][name].as_f64().expect("a figure");
        let suspension = Suspension {
            strip: strip(now[0], [width, now[1]]),
            stiff: Known::sure(Stress::mpa(MPA)),
        };
        // Measured from the bend, which the solver tells.
        let length = now[0] + below - figure(0, "turns");
        let load = Load {
            mass: Known::sure(Mass::g(*grams)),
            gravity: Known::sure(Gravity::m_per_s2(FALLS)),
            length: mm(length),
        };
        let case = format!("{grams} g, {below} mm, {now:?} to {then:?}: {answer:?}");
        let bend = bend(suspension, load);
        assert!(
            near(bend.turns.value.as_mm(), &answer[0]["turns"], 1e-5),
            "{bend:?}, {case}"
        );
        let hung = length - bend.shorter.value.as_mm();
        assert!(near(hung, &answer[0]["hung"], BENT), "{hung}, {case}");
        let to = strip(then[0], [width, then[1]]);
        let other = other_suspension(suspension, load, Some(to));
        let lower = figure(1, "turns") - figure(0, "turns");
        assert!(
            (other.lower.value.as_mm() - lower).abs() < 1e-4,
            "{other:?}, {case}"
        );
        let gains = 86400.0 * ((figure(0, "hung") / figure(1, "hung")).sqrt() - 1.0);
        assert!(
            (other.gains.value.as_s_per_day() - gains).abs() < 0.02,
            "{other:?}, {case}"
        );
        if then[0].to_bits() == now[0].to_bits() {
            // A tenth thicker, as it is taken where no other was measured.
            let thicker = other_suspension(suspension, load, None);
            let off = thicker.gains.value.as_s_per_day() - gains;
            assert!(off.abs() < 0.02 && gains > 0.0, "{thicker:?}, {case}");
        }
        stiff += u32::from(bend.shorter.value.as_mm() > 1.0);
    }
    // Some of them are so stiff that where they bend does not tell how they beat.
    assert!(stiff >= 4, "{stiff}");
}
