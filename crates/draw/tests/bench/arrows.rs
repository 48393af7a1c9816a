//! The arrow, read from its own geometry, against directions worked out here from the sheet alone.

use crate::svg::{groups, point};
use crate::{Dice, read};
use draw::{Anchored, Lift, LiftWay, Marks, PartTurned, Pose, View, layout, scene};
use movement::{MeshId, Movement, Plate, Turning};
use quantity::Degrees;
use std::collections::HashMap;
use std::fmt::Write;

/// A chain of wheels with branches, read somewhere in it: its text, and for each arbor whether it runs clockwise as the
/// sheet is seen.
struct Made {
    text: String,
    clockwise: HashMap<String, bool>,
    /// Driver and driven arbor of each mesh, in order, with the teeth of both parts.
    meshes: Vec<(usize, usize, u32, u32)>,
    read_at: usize,
}

fn made(seed: u32) -> Made {
    let mut dice = Dice(seed);
    let n = 3 + dice.upto(6) as usize;
    let mut parts = vec![String::new(); n];
    let mut meshes = Vec::new();
    let mut text = String::new();
    let mut clockwise = vec![dice.upto(2) == 0];
    for b in 1..n {
        let a = if dice.upto(3) == 0 {
            dice.upto(u32::try_from(b).unwrap()) as usize
        } else {
            b - 1
        };
        let internal = dice.upto(5) == 0;
        let wheel = if internal {
            dice.from(&[96, 120, 80])
        } else {
            dice.from(&[90, 72, 64, 56, 30])
        };
        let pinion = dice.from(&[6, 7, 8, 10, 12]);
        let _ = writeln!(parts[a], "wheel{b} = {wheel}");
        let lantern = !internal && dice.upto(3) == 0;
        let _ = if lantern {
            writeln!(
                parts[b],
                "pinion = {{ teeth = {pinion}, form = \"lantern\" }}"
            )
        } else {
            writeln!(parts[b], "pinion = {pinion}")
        };
        let _ = writeln!(
            text,
            "[[mesh]]\ndriver = \"a{a}.wheel{b}\"\ndriven = \"a{b}.pinion\"\ninternal = {internal}"
        );
        clockwise.push(clockwise[a] == internal);
        meshes.push((a, b, wheel, pinion));
    }
    let read_at = dice.upto(u32::try_from(n).unwrap()) as usize;
    let plate = dice.from(&[0, 1]);
    let mut sheet = format!(
        "sheet = 1\nname = \"made\"\nseen_from = \"{}\"\n",
        ["front", "back"][plate as usize]
    );
    for (i, parts) in parts.iter().enumerate() {
        let _ = writeln!(sheet, "[arbor.a{i}]");
        if i == 0 {
            let way = if clockwise[0] {
                "clockwise"
            } else {
                "counterclockwise"
            };
            let _ = writeln!(sheet, "runs = \"{way}\"");
        }
        sheet.push_str(parts);
    }
    sheet.push_str(&text);
    let _ = write!(
        sheet,
        "[strike]\ncounted_by = \"count wheel\"\nblows = \"hours\"\nread_at = \"a{read_at}\"\nblows_per_turn = 1\n"
    );
    let on = dice.upto(u32::try_from(n).unwrap());
    let _ = write!(
        sheet,
        "[[witness]]\nid = \"w\"\nsays = \"w\"\non = \"a{on}\"\nrepeats = 4\nwindow_deg = [-5.0, 5.0]\nbest_deg = 0.0\n"
    );
    Made {
        text: sheet,
        clockwise: clockwise
            .into_iter()
            .enumerate()
            .map(|(i, c)| (format!("a{i}"), c))
            .collect(),
        meshes,
        read_at,
    }
}

/// The arbor beyond a mesh from `read_at`, and the teeth of its part: by walking from `read_at` without that mesh.
fn far(made: &Made, mesh: usize) -> (usize, u32) {
    let mut near = vec![made.read_at];
    let mut next = 0;
    while next < near.len() {
        for (m, &(a, b, _, _)) in made.meshes.iter().enumerate() {
            if m != mesh {
                for (from, to) in [(a, b), (b, a)] {
                    if near[next] == from && !near.contains(&to) {
                        near.push(to);
                    }
                }
            }
        }
        next += 1;
    }
    let (a, b, wheel, pinion) = made.meshes[mesh];
    if near.contains(&a) {
        (b, pinion)
    } else {
        (a, wheel)
    }
}

fn mesh(movement: &Movement, i: usize) -> MeshId {
    movement.meshes().nth(i).unwrap().0
}

#[test]
fn arrows_go_the_way_of_the_view_over_just_so_many_teeth() {
    for seed in 0..200 {
        let made = made(seed);
        let movement = read(&made.text);
        let laid = layout(&movement, &[]);
        let i = seed as usize % made.meshes.len();
        let (arbor, part_teeth) = far(&made, i);
        let teeth = 1 + u16::try_from(seed % 4).unwrap();
        let way = if seed % 3 == 0 {
            LiftWay::Back
        } else {
            LiftWay::Ahead
        };
        for plate in [Plate::Front, Plate::Back] {
            for upside_down in [false, true] {
                let lifts = [Lift {
                    mesh: mesh(&movement, i),
                    teeth,
                    way,
                }];
                let marks = Marks {
                    lifts: &lifts,
                    turns: &[],
                    ..Marks::default()
                };
                let view = View { plate, upside_down };
                let svg = scene(&movement, &laid, view, &Pose::default(), &marks).svg();
                let doc = roxmltree::Document::parse(&svg).unwrap();
                let arrow = groups(&doc, "arrow").next().expect("an arrow");
                assert_eq!(
                    arrow.attribute("data-arbor"),
                    Some(format!("a{arbor}").as_str())
                );
                let from_sheet = plate == movement.seen_from();
                let ahead = made.clockwise[&format!("a{arbor}")] == from_sheet;
                let clockwise = ahead == (way == LiftWay::Ahead);
                let said = if clockwise {
                    "clockwise"
                } else {
                    "counterclockwise"
                };
                assert_eq!(arrow.attribute("data-way"), Some(said), "seed {seed}");
                // From the points alone: y grows downward, so clockwise angles grow.
                let centre = point(arrow, "data-cx", "data-cy");
                let [a, b] = [
                    point(arrow, "data-x0", "data-y0"),
                    point(arrow, "data-x1", "data-y1"),
                ]
                .map(|p| (p - centre).atan2().to_degrees());
                let turned = if clockwise { b - a } else { a - b };
                let wanted = f64::from(teeth) * 360.0 / f64::from(part_teeth);
                // Both ends and the middle are written to a hundredth of a millimetre, on a circle of this radius.
                let rounding =
                    (0.03 / point(arrow, "data-x0", "data-y0").distance(centre)).to_degrees();
                let off = (turned - wanted + 180.0).rem_euclid(360.0) - 180.0;
                assert!(
                    off.abs() < rounding,
                    "seed {seed}: turned {turned}, wanted {wanted}"
                );
                if wanted < 179.0 {
                    // Less than half a turn shows its way without being told how far it goes.
                    let across = (point(arrow, "data-x0", "data-y0") - centre)
                        .cross(point(arrow, "data-x1", "data-y1") - centre);
                    assert_eq!(across > 0.0, clockwise, "seed {seed}");
                }
                assert_eq!(
                    arrow.attribute("data-teeth"),
                    Some(teeth.to_string().as_str())
                );
            }
        }
    }
}

/// A part that is turned has its arrow about it, as far round and the way that is said, mirrored from the other plate, with its word.
#[test]
fn a_turned_part_has_its_arrow_about_it() {
    let movement = crate::sample("schoolroom");
    let laid = layout(&movement, &[]);
    let count = movement.find_arbor("count").unwrap();
    for (by, way) in [
        (90, LiftWay::Ahead),
        (90, LiftWay::Back),
        (270, LiftWay::Ahead),
        (4, LiftWay::Back),
        (180, LiftWay::Either),
    ] {
        let turns = [PartTurned {
            at: count,
            by: Degrees::deg(quantity::whole(by)),
            way,
            says: "so far".to_owned(),
        }];
        let marks = Marks {
            turns: &turns,
            ..Marks::default()
        };
        for plate in [Plate::Front, Plate::Back] {
            let view = View {
                plate,
                upside_down: false,
            };
            let drawing = scene(&movement, &laid, view, &Pose::default(), &marks);
            let svg = drawing.svg();
            let doc = roxmltree::Document::parse(&svg).unwrap();
            let arrow = doc
                .descendants()
                .find(|n| n.attribute("id") == Some("turn-count"))
                .expect("an arrow");
            let ahead = movement.runs(count, plate) == Turning::Clockwise;
            let clockwise = ahead == (way != LiftWay::Back);
            let said = match (way, clockwise) {
                (LiftWay::Either, _) => "either",
                (_, true) => "clockwise",
                (_, false) => "counterclockwise",
            };
            assert_eq!(arrow.attribute("data-way"), Some(said));
            let centre = point(arrow, "data-cx", "data-cy");
            let ends = [
                point(arrow, "data-x0", "data-y0"),
                point(arrow, "data-x1", "data-y1"),
            ];
            let [a, b] = ends.map(|p| (p - centre).atan2().to_degrees());
            let turned = if clockwise { b - a } else { a - b };
            let off = (turned - by as f64 + 180.0).rem_euclid(360.0) - 180.0;
            assert!(off.abs() < 0.2, "{turned} of {by}");
            // About the wheel, beyond its teeth.
            let anchor = |of: Anchored| drawing.anchors().iter().find(|at| at.of == of);
            let arbor = anchor(Anchored::Arbor(count)).expect("the arbor").at;
            assert!(centre.distance(kurbo::Point::new(arbor.x, arbor.y)) < 0.02);
            assert!(ends.iter().all(|p| p.distance(centre) > arbor.radius));
            let glass = anchor(Anchored::Turn(count)).expect("a glass over it").at;
            let middle = kurbo::Point::new(glass.x, glass.y);
            assert!(ends.iter().all(|p| p.distance(middle) <= glass.radius));
            let words = arrow.descendants().filter(|n| n.has_tag_name("text"));
            let words: Vec<_> = words.filter_map(|n| n.text()).collect();
            assert_eq!(words, ["so far"]);
        }
    }
}

#[test]
fn each_tooth_is_numbered_or_every_fifth() {
    let movement = crate::sample("schoolroom");
    let laid = layout(&movement, &[]);
    let counted = |teeth: u16| -> Vec<String> {
        let lifts = [Lift {
            mesh: movement.find_mesh("second.wheel>third.pinion").unwrap(),
            teeth,
            way: LiftWay::Ahead,
        }];
        let marks = Marks {
            lifts: &lifts,
            turns: &[],
            ..Marks::default()
        };
        let view = View::of_sheet(&movement);
        let svg = scene(&movement, &laid, view, &Pose::default(), &marks).svg();
        let doc = roxmltree::Document::parse(&svg).unwrap();
        let arrow = groups(&doc, "arrow").next().unwrap();
        arrow
            .descendants()
            .filter(|n| n.has_tag_name("text"))
            .map(|n| n.text().unwrap().to_owned())
            .collect()
    };
    assert_eq!(counted(3), ["1", "2", "3"]);
    assert_eq!(counted(12), ["1", "5", "10", "12"]);
    assert_eq!(counted(21), ["1", "5", "10", "15", "21"]);
}

#[test]
fn an_arrow_starts_and_ends_in_a_space_of_the_lifted_part() {
    let movement = crate::sample("schoolroom");
    let laid = layout(&movement, &[]);
    let lifts = [Lift {
        mesh: movement.find_mesh("second.wheel>third.pinion").unwrap(),
        teeth: 2,
        way: LiftWay::Back,
    }];
    let marks = Marks {
        lifts: &lifts,
        turns: &[],
        ..Marks::default()
    };
    for plate in [Plate::Front, Plate::Back] {
        let view = View {
            plate,
            upside_down: false,
        };
        let svg = scene(&movement, &laid, view, &Pose::default(), &marks).svg();
        let doc = roxmltree::Document::parse(&svg).unwrap();
        let arrow = groups(&doc, "arrow").next().unwrap();
        let wheel = groups(&doc, "arbor")
            .find(|g| g.attribute("id") == Some("part-second-wheel"))
            .unwrap();
        let phase = crate::svg::turned(wheel);
        let centre = point(arrow, "data-cx", "data-cy");
        for p in [
            point(arrow, "data-x0", "data-y0"),
            point(arrow, "data-x1", "data-y1"),
        ] {
            let pitches = ((p - centre).atan2().to_degrees() - phase) / 5.0;
            let space = (pitches - 0.5) - (pitches - 0.5).round();
            assert!(
                space.abs() < 0.01,
                "{space} of a pitch from the middle of a space"
            );
        }
    }
}
