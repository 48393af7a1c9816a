//! Teeth in mesh never share metal.

use crate::read;
use crate::svg::metal;
use draw::{Marks, Pose, View, layout, scene};
use geo::{Area, BooleanOps, Rotate};
use movement::Movement;

/// The area two meshing parts may share in the drawing, in square modules: a band half as long as a tooth is high and a
/// two-hundredth of a module wide, which is less than the thickness of the line. With a tooth in the middle of a space
/// lash keeps them apart altogether; turned on, flanks touch, and are drawn within a sixtieth of a module.
const SHARED: f64 = 0.005;

fn pair(driver: &str, driven: &str, internal: bool) -> Movement {
    read(&format!(
        "sheet = 1\nname = \"pair\"\nseen_from = \"back\"\n[arbor.a]\nruns = \"clockwise\"\nwheel = {driver}\n\
         [arbor.b]\npinion = {driven}\n[[mesh]]\ndriver = \"a.wheel\"\ndriven = \"b.pinion\"\ninternal = {internal}\n"
    ))
}

/// Area shared by the parts of every mesh, the worst of all views, in square modules.
fn worst(movement: &Movement) -> f64 {
    let laid = layout(movement, &[]);
    let mut worst: f64 = 0.0;
    for plate in [movement.seen_from(), movement.seen_from().other()] {
        let view = View {
            plate,
            upside_down: false,
        };
        let svg = scene(movement, &laid, view, &Pose::default(), &Marks::default()).svg();
        let doc = roxmltree::Document::parse(&svg).unwrap();
        for (_, mesh) in movement.meshes() {
            let [a, b] = [mesh.driver, mesh.driven]
                .map(|p| metal(&doc, &movement.arbor(p.arbor).id, &movement.part(p).name));
            let module = 2.0 * laid.pitch_radius(mesh.driver).mm()
                / f64::from(movement.part(mesh.driver).teeth.get());
            worst = worst.max(a.intersection(&b).unsigned_area() / module / module);
            // And as they turn on together, for a whole pitch.
            let centre = |p: movement::PartId| {
                let id = format!(
                    "part-{}-{}",
                    movement.arbor(p.arbor).id,
                    movement.part(p).name
                );
                let group = crate::svg::groups(&doc, "arbor")
                    .find(|g| g.attribute("id") == Some(&id))
                    .unwrap();
                let at = crate::svg::point(group, "data-cx", "data-cy");
                geo::Point::new(at.x, at.y)
            };
            for quarter in 1..4 {
                let pitches = f64::from(quarter) / 4.0;
                let turn =
                    |p: movement::PartId| pitches * 360.0 / f64::from(movement.part(p).teeth.get());
                let way = if mesh.internal { 1.0 } else { -1.0 };
                let a = a.rotate_around_point(turn(mesh.driver), centre(mesh.driver));
                let b = b.rotate_around_point(way * turn(mesh.driven), centre(mesh.driven));
                worst = worst.max(a.intersection(&b).unsigned_area() / module / module);
            }
        }
    }
    worst
}

#[test]
fn cut_teeth_interleave() {
    for (wheel, pinion) in [
        (90, 10),
        (72, 8),
        (48, 6),
        (84, 7),
        (96, 12),
        (30, 10),
        (60, 5),
        (40, 4),
        (64, 16),
        (120, 20),
        (200, 6),
        (45, 32),
        (24, 24),
        (80, 79),
        (12, 12),
        (8, 60),
        (6, 52),
        (10, 11),
        (500, 12),
        (25, 21),
    ] {
        let shared = worst(&pair(&wheel.to_string(), &pinion.to_string(), false));
        assert!(shared < SHARED, "{wheel} with {pinion}: {shared}");
    }
}

#[test]
fn lanterns_interleave() {
    for (wheel, trundles) in [
        (72, 8),
        (56, 7),
        (90, 6),
        (60, 10),
        (48, 12),
        (30, 5),
        (120, 4),
        (64, 24),
        (40, 40),
    ] {
        let lantern = format!("{{ teeth = {trundles}, form = \"lantern\" }}");
        let shared = worst(&pair(&wheel.to_string(), &lantern, false));
        assert!(
            shared < SHARED,
            "{wheel} with {trundles} trundles: {shared}"
        );
    }
}

#[test]
fn rings_take_their_pinions_inside() {
    for (ring, pinion) in [
        (96, 12),
        (60, 8),
        (40, 10),
        (120, 30),
        (80, 60),
        (144, 6),
        (48, 40),
        (60, 60),
    ] {
        let shared = worst(&pair(&ring.to_string(), &pinion.to_string(), true));
        assert!(shared < SHARED, "ring of {ring} with {pinion}: {shared}");
    }
    let lantern = "{ teeth = 8, form = \"lantern\" }";
    let shared = worst(&pair("96", lantern, true));
    assert!(shared < SHARED, "ring with a lantern: {shared}");
}

#[test]
fn a_pinion_may_take_a_ring_round() {
    let shared = worst(&pair("12", "96", true));
    assert!(shared < SHARED, "{shared}");
}

#[test]
fn every_mesh_of_the_samples_interleaves() {
    for name in ["schoolroom", "quay", "lattice"] {
        let shared = worst(&crate::sample(name));
        assert!(shared < SHARED, "{name}: {shared}");
    }
}

#[test]
fn teeth_put_in_wrongly_would_be_seen() {
    // The measure itself: half a pitch out, tooth stands on tooth.
    let movement = pair("72", "8", false);
    let laid = layout(&movement, &[]);
    let view = View::of_sheet(&movement);
    let svg = scene(&movement, &laid, view, &Pose::default(), &Marks::default()).svg();
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let centre = crate::svg::groups(&doc, "arbor")
        .find(|g| g.attribute("data-arbor") == Some("b"))
        .map(|g| crate::svg::point(g, "data-cx", "data-cy"))
        .unwrap();
    let turned = geo::Rotate::rotate_around_point(
        &metal(&doc, "b", "pinion"),
        22.5,
        geo::Point::new(centre.x, centre.y),
    );
    let module = laid
        .pitch_radius(movement.meshes().next().unwrap().1.driver)
        .mm()
        / 36.0;
    let shared = metal(&doc, "a", "wheel")
        .intersection(&turned)
        .unsigned_area();
    assert!(shared / module / module > 10.0 * SHARED);
}
