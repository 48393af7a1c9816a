//! Any sheet that checks can be drawn, quickly, and alike every time.

use crate::svg::groups;
use crate::trains::sheet;
use crate::{Dice, read, sample};
use draw::{Hold, Lift, LiftWay, Marks, Pose, View, choices, layout, loupe, scene};
use movement::{Movement, Plate};
use std::fmt::Write;
use std::time::{Duration, Instant};

/// Draws all there is, from both plates, and reads every number of it back.
fn drawn(movement: &Movement) -> String {
    let laid = layout(movement, &[]);
    let lifts: Vec<Lift> = movement
        .meshes()
        .filter(|(id, _)| movement.far_side(*id).is_some())
        .take(3)
        .map(|(mesh, _)| Lift {
            mesh,
            teeth: 7,
            way: LiftWay::Either,
        })
        .collect();
    let holds: Vec<Hold> = (movement.arbors().take(1))
        .map(|(at, _)| Hold {
            at,
            says: "hold".to_owned(),
        })
        .collect();
    let marks = Marks {
        lifts: &lifts,
        turns: &[],
        holds: &holds,
        after: None,
    };
    let mut all = String::new();
    for (plate, upside_down) in [(Plate::Front, false), (Plate::Back, true)] {
        let view = View { plate, upside_down };
        let svg = scene(movement, &laid, view, &Pose::default(), &marks).svg();
        sound(&svg);
        all.push_str(&svg);
        for (id, _) in movement.witnesses() {
            for place in choices(movement, id) {
                let svg = loupe(movement, id, &place, None, view).svg();
                sound(&svg);
                all.push_str(&svg);
            }
        }
    }
    all
}

fn sound(svg: &str) {
    let doc = roxmltree::Document::parse(svg).expect("well-formed");
    for node in doc.descendants() {
        for attribute in node.attributes() {
            let value = attribute.value();
            assert!(
                !value.contains("NaN") && !value.contains("inf"),
                "{attribute:?}"
            );
        }
    }
}

#[test]
fn two_hundred_arbors_in_a_chain() {
    let parts: Vec<String> = (0..200).map(|_| "p = 8\nw = 40\n".to_owned()).collect();
    let meshes: Vec<_> = (1..200)
        .map(|i| (format!("a{}.w", i - 1), format!("a{i}.p"), false))
        .collect();
    let movement = read(&sheet(&parts, &meshes));
    let started = Instant::now();
    drawn(&movement);
    // Unoptimised and on a busy machine; a release build takes a small part of it.
    assert!(
        started.elapsed() < Duration::from_secs(30),
        "{:?}",
        started.elapsed()
    );
}

#[test]
fn one_wheel_drives_them_all() {
    let mut parts = vec!["w = 1000\n".to_owned()];
    parts.extend((0..60).map(|i| format!("p = {}\n", 4 + i)));
    let meshes: Vec<_> = (1..=60)
        .map(|i| ("a0.w".to_owned(), format!("a{i}.p"), i % 2 == 0))
        .collect();
    drawn(&read(&sheet(&parts, &meshes)));
}

#[test]
fn rings_within_rings() {
    let parts: Vec<String> = (0..8).map(|_| "p = 20\nw = 20\n".to_owned()).collect();
    let meshes: Vec<_> = (1..8)
        .map(|i| (format!("a{}.w", i - 1), format!("a{i}.p"), true))
        .collect();
    drawn(&read(&sheet(&parts, &meshes)));
}

#[test]
fn parts_in_no_mesh_and_arbors_with_none_besides() {
    drawn(&read(&sheet(
        &[
            "w = 60\nspare = 1000\n".to_owned(),
            "p = 6\nratchet = 4\n".to_owned(),
        ],
        &[("a0.w".into(), "a1.p".into(), false)],
    )));
}

#[test]
fn sheets_made_by_dice() {
    for seed in 0..60 {
        let mut dice = Dice(seed);
        let n = 2 + dice.upto(10);
        let mut parts: Vec<String> = vec![String::new()];
        let mut meshes = Vec::new();
        for b in 1..n {
            let a = dice.upto(b);
            let form = if dice.upto(2) == 0 { "lantern" } else { "cut" };
            let _ = writeln!(parts[a as usize], "w{b} = {}", 4 + dice.upto(200));
            parts.push(format!(
                "p = {{ teeth = {}, form = \"{form}\" }}\n",
                4 + dice.upto(60)
            ));
            meshes.push((format!("a{a}.w{b}"), format!("a{b}.p"), dice.upto(4) == 0));
        }
        let mut text = sheet(&parts, &meshes);
        let counted = dice.from(&[0, 1]);
        let _ = write!(
            text,
            "[strike]\ncounted_by = \"{}\"\nblows = \"hours\"\nread_at = \"a{}\"\nblows_per_turn = {}\n",
            ["count wheel", "rack"][counted as usize],
            dice.upto(n),
            1 + dice.upto(3)
        );
        for w in 0..dice.upto(6) {
            let repeats = dice.from(&[1, 2, 3, 9, 40, 78, 90, 156, 1000]);
            let width = 360.0 / f64::from(repeats);
            let from = -width * f64::from(dice.upto(100)) / 100.0;
            let to = from + width * f64::from(1 + dice.upto(100)) / 100.0;
            let _ = write!(
                text,
                "[[witness]]\nid = \"w{w}\"\nsays = \"w\"\non = \"a{}\"\nrepeats = {repeats}\n\
                 window_deg = [{from:.6}, {to:.6}]\nbest_deg = {from:.6}\n",
                dice.upto(n)
            );
        }
        // A window rounded up to more than its period is no good sheet.
        let Ok(sheet) = sheet::read(text.as_bytes()) else {
            continue;
        };
        drawn(&sheet.movement);
    }
}

#[test]
fn alike_every_time() {
    for name in ["schoolroom", "quay", "lattice"] {
        assert_eq!(drawn(&sample(name)), drawn(&sample(name)));
    }
}

#[test]
fn no_colour_is_written_into_a_drawing_and_it_is_not_large() {
    for name in ["schoolroom", "quay", "lattice"] {
        let movement = sample(name);
        let laid = layout(&movement, &[]);
        let view = View::of_sheet(&movement);
        let svg = scene(&movement, &laid, view, &Pose::default(), &Marks::default()).svg();
        assert!(svg.len() < 300_000, "{name}: {} bytes", svg.len());
        for forbidden in ["fill=", "stroke=", "style", "rgb", "color"] {
            assert!(!svg.contains(forbidden), "{name}: {forbidden}");
        }
        let doc = roxmltree::Document::parse(&svg).unwrap();
        assert_eq!(
            groups(&doc, "arbor").count(),
            movement
                .arbors()
                .map(|(a, _)| movement.parts(a).count())
                .sum::<usize>()
        );
    }
}
