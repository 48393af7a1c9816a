//! Where arbors stand.

use crate::{Dice, read, sample};
use draw::{Mm, layout};
use movement::{ArborId, Movement};
use std::fmt::Write;

fn apart(laid: &draw::Layout, a: ArborId, b: ArborId) -> f64 {
    let (ax, ay) = laid.centre(a);
    let (bx, by) = laid.centre(b);
    (ax.mm() - bx.mm()).hypot(ay.mm() - by.mm())
}

/// Largest pitch radius on an arbor that is no ring's, from outside: rings are the larger parts of internal meshes.
fn largest(movement: &Movement, laid: &draw::Layout, arbor: ArborId) -> f64 {
    movement
        .parts(arbor)
        .filter(|(id, _)| {
            movement
                .meshes()
                .all(|(_, m)| !m.internal || (m.driver != *id && m.driven != *id))
        })
        .map(|(id, _)| laid.pitch_radius(id).mm())
        .fold(0.0, f64::max)
}

#[test]
fn pitch_circles_touch() {
    for name in ["schoolroom", "quay", "lattice"] {
        let movement = sample(name);
        let laid = layout(&movement, &[]);
        for (_, mesh) in movement.meshes() {
            let [a, b] = [mesh.driver, mesh.driven].map(|p| laid.pitch_radius(p).mm());
            let wanted = if mesh.internal { (a - b).abs() } else { a + b };
            let got = apart(&laid, mesh.driver.arbor, mesh.driven.arbor);
            assert!((got - wanted).abs() < 1e-6, "{name}: {got} for {wanted}");
            let teeth = |p| f64::from(movement.part(p).teeth.get());
            let modules = [a / teeth(mesh.driver), b / teeth(mesh.driven)];
            assert!((modules[0] - modules[1]).abs() < 1e-9);
        }
    }
}

#[test]
fn no_arbor_lies_under_a_wheel_of_another() {
    for name in ["schoolroom", "quay", "lattice"] {
        let movement = sample(name);
        let laid = layout(&movement, &[]);
        for (a, _) in movement.arbors() {
            for (b, _) in movement.arbors().filter(|(b, _)| *b != a) {
                let distance = apart(&laid, a, b);
                assert!(
                    distance > largest(&movement, &laid, a),
                    "{name}: {} under {}",
                    movement.arbor(b).id,
                    movement.arbor(a).id
                );
            }
        }
    }
}

#[test]
fn the_great_wheel_is_at_the_bottom_and_wheels_get_smaller() {
    let movement = sample("schoolroom");
    let laid = layout(&movement, &[]);
    let at = |id: &str| laid.centre(movement.find_arbor(id).unwrap()).1.mm();
    let radius = |id: &str| largest(&movement, &laid, movement.find_arbor(id).unwrap());
    for id in ["second", "third", "fourth", "fly", "count"] {
        assert!(at(id) < at("great"), "{id}");
    }
    for pair in ["great", "second", "third", "fourth", "fly"].windows(2) {
        assert!(radius(pair[1]) < radius(pair[0]), "{pair:?}");
    }
}

#[test]
fn a_known_centre_distance_is_kept() {
    let movement = sample("schoolroom");
    let mesh = movement.find_mesh("second.wheel>third.pinion").unwrap();
    let laid = layout(&movement, &[(mesh, Mm::of(31.25).unwrap())]);
    let m = movement.mesh(mesh);
    let got = apart(&laid, m.driver.arbor, m.driven.arbor);
    assert!((got - 31.25).abs() < 1e-9, "{got}");
    // 72 and 8 teeth share it as their counts do.
    assert!((laid.pitch_radius(m.driver).mm() - 31.25 * 0.9).abs() < 1e-9);
}

/// It is to scale only where every distance was measured, and is drawn as it was.
#[test]
fn to_scale_is_said_only_where_it_is() {
    let movement = sample("schoolroom");
    let mm = |mm: f64| Mm::of(mm).unwrap();
    let all: Vec<_> = (movement.meshes().enumerate())
        .map(|(n, (id, _))| (id, mm(20.0 + n as f64)))
        .collect();
    let to_scale = |movement: &movement::Movement, all: &[(movement::MeshId, Mm)]| {
        layout(movement, all).to_scale(movement, all)
    };
    assert!(to_scale(&movement, &all));
    assert!(!to_scale(&movement, &all[1..]), "one was not measured");
    assert!(!to_scale(&movement, &[]));
    // Two pinions in one wheel: its teeth have one size, so both distances follow from one of them.
    let parts = ["w = 60\n", "p = 10\n", "p = 12\n"].map(str::to_owned);
    let meshes =
        [("a0.w", "a1.p"), ("a0.w", "a2.p")].map(|(a, b)| (a.to_owned(), b.to_owned(), false));
    let text = sheet(&parts, &meshes);
    let fork = read(&text);
    let ids: Vec<_> = fork.meshes().map(|(id, _)| id).collect();
    let of =
        |first: f64, second: f64| to_scale(&fork, &[(ids[0], mm(first)), (ids[1], mm(second))]);
    assert!(of(35.0, 36.0), "70 and 72 teeth to two distances");
    assert!(!of(35.0, 40.0), "those do not fit");
}

/// A sheet of arbors `a0..`, each with the parts and meshes given.
pub(crate) fn sheet(parts: &[String], meshes: &[(String, String, bool)]) -> String {
    let mut text = String::from("sheet = 1\nname = \"odd\"\nseen_from = \"back\"\n");
    for (i, parts) in parts.iter().enumerate() {
        let _ = writeln!(text, "[arbor.a{i}]");
        if i == 0 {
            text.push_str("runs = \"clockwise\"\n");
        }
        text.push_str(parts);
    }
    for (driver, driven, internal) in meshes {
        let _ = writeln!(
            text,
            "[[mesh]]\ndriver = \"{driver}\"\ndriven = \"{driven}\"\ninternal = {internal}"
        );
    }
    text
}

#[test]
fn loops_are_laid_so_that_they_mesh() {
    // Four like wheels in a square, and two paths that end on one arbor.
    let square = sheet(
        &(0..4).map(|_| "w = 40\n".to_owned()).collect::<Vec<_>>(),
        &[
            ("a0.w".into(), "a1.w".into(), false),
            ("a1.w".into(), "a2.w".into(), false),
            ("a0.w".into(), "a3.w".into(), false),
        ],
    );
    let two_ways = sheet(
        &[
            "w = 60\nv = 60\n".to_owned(),
            "p = 12\nw = 48\n".to_owned(),
            "p = 12\nw = 48\n".to_owned(),
            "p = 8\nq = 8\n".to_owned(),
        ],
        &[
            ("a0.w".into(), "a1.p".into(), false),
            ("a0.v".into(), "a2.p".into(), false),
            ("a1.w".into(), "a3.p".into(), false),
            ("a2.w".into(), "a3.q".into(), false),
        ],
    );
    for text in [square, two_ways] {
        let movement = read(&text);
        let laid = layout(&movement, &[]);
        for (id, _) in movement.meshes() {
            assert!(laid.touches(&movement, id), "{}", movement.mesh_name(id));
        }
    }
}

#[test]
fn trains_stand_side_by_side() {
    let mut dice = Dice(7);
    let mut parts = Vec::new();
    let mut meshes = Vec::new();
    for train in 0..3 {
        let first = train * 3;
        for i in 0..3 {
            let runs = if i == 0 && train > 0 {
                "runs = \"clockwise\"\n"
            } else {
                ""
            };
            parts.push(format!(
                "{runs}p = {}\nw = {}\n",
                6 + dice.upto(6),
                60 + dice.upto(40)
            ));
            if i > 0 {
                meshes.push((
                    format!("a{}.w", first + i - 1),
                    format!("a{}.p", first + i),
                    false,
                ));
            }
        }
    }
    let movement = read(&sheet(&parts, &meshes));
    let laid = layout(&movement, &[]);
    let right = |train: usize| {
        movement
            .arbors()
            .filter(|(id, _)| movement.train_of(*id) == train)
            .map(|(id, _)| laid.centre(id).0.mm() + largest(&movement, &laid, id))
            .fold(f64::MIN, f64::max)
    };
    let left = |train: usize| {
        movement
            .arbors()
            .filter(|(id, _)| movement.train_of(*id) == train)
            .map(|(id, _)| laid.centre(id).0.mm() - largest(&movement, &laid, id))
            .fold(f64::MAX, f64::min)
    };
    for (a, b) in [(0, 1), (1, 2), (0, 2)] {
        assert!(right(a) < left(b) || right(b) < left(a), "{a} and {b}");
    }
}
