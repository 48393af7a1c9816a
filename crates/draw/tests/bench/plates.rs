//! From either plate, and upside down.

use crate::sample;
use crate::svg::{groups, number, point, turned};
use draw::{Anchored, Marks, Pose, View, layout, scene};
use movement::Plate;
use quantity::Degrees;

fn seen(name: &str, plate: Plate, upside_down: bool, pose: &Pose) -> String {
    let movement = sample(name);
    let laid = layout(&movement, &[]);
    let view = View { plate, upside_down };
    scene(&movement, &laid, view, pose, &Marks::default()).svg()
}

fn middle(svg: &str) -> (f64, f64) {
    let doc = roxmltree::Document::parse(svg).unwrap();
    let frame: Vec<f64> = doc
        .root_element()
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|n| n.parse().unwrap())
        .collect();
    (frame[0] + frame[2] / 2.0, frame[1] + frame[3] / 2.0)
}

#[test]
fn places_and_ways_flip_with_the_plate() {
    let pose = Pose::default();
    let upright = seen("schoolroom", Plate::Back, false, &pose);
    let (mx, my) = middle(&upright);
    for (plate, upside_down, flip_x, flip_y) in [
        (Plate::Front, false, -1.0, 1.0),
        (Plate::Back, true, -1.0, -1.0),
        (Plate::Front, true, 1.0, -1.0),
    ] {
        let other = seen("schoolroom", plate, upside_down, &pose);
        let [a, b] = [&upright, &other].map(|s| roxmltree::Document::parse(s).unwrap());
        for part in groups(&a, "arbor") {
            let id = part.attribute("id");
            let twin = groups(&b, "arbor")
                .find(|g| g.attribute("id") == id)
                .unwrap();
            let [p, q] = [part, twin].map(|g| point(g, "data-cx", "data-cy"));
            assert!((q.x - mx - flip_x * (p.x - mx)).abs() < 0.03, "{id:?}");
            assert!((q.y - my - flip_y * (p.y - my)).abs() < 0.03, "{id:?}");
            let way = number(part, "data-turn") * number(twin, "data-turn");
            let same = if plate == Plate::Back { 1.0 } else { -1.0 };
            assert!((way - same).abs() < 1e-9, "{id:?}");
        }
    }
}

#[test]
fn what_lies_before_from_one_plate_lies_behind_from_the_other() {
    let [back, front] =
        [Plate::Back, Plate::Front].map(|p| seen("schoolroom", p, false, &Pose::default()));
    let order = |svg: &str| -> Vec<i32> {
        let doc = roxmltree::Document::parse(svg).unwrap();
        groups(&doc, "arbor")
            .map(|g| g.attribute("data-level").unwrap().parse().unwrap())
            .collect()
    };
    assert!(order(&back).windows(2).all(|w| w[0] >= w[1]));
    assert!(order(&front).windows(2).all(|w| w[0] <= w[1]));
}

#[test]
fn a_reading_turns_its_witness_ahead() {
    let movement = sample("schoolroom");
    for plate in [Plate::Back, Plate::Front] {
        for (id, w) in movement.witnesses() {
            let stands = |deg: &str| {
                let pose = Pose::default().with(id, Degrees::parse(deg).unwrap());
                let svg = seen("schoolroom", plate, false, &pose);
                let doc = roxmltree::Document::parse(&svg).unwrap();
                let group = groups(&doc, "witness")
                    .find(|g| g.attribute("data-witness") == Some(&w.id))
                    .unwrap();
                (turned(group), number(group, "data-turn"))
            };
            let ((zero, way), (ahead, _)) = (stands("0"), stands("3"));
            let off = (ahead - zero - 3.0 * way + 180.0).rem_euclid(360.0) - 180.0;
            assert!(off.abs() < 0.01, "{} from {plate:?}", w.id);
        }
    }
}

#[test]
fn unread_is_pale() {
    let movement = sample("schoolroom");
    let slot = movement.find_witness("slot").unwrap();
    let pose = Pose::default().with(slot, Degrees::zero());
    let svg = seen("schoolroom", Plate::Back, false, &pose);
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let unread: Vec<_> = groups(&doc, "unread")
        .map(|g| g.attribute("data-witness").unwrap())
        .collect();
    assert_eq!(unread.len(), 2);
    assert!(!unread.contains(&"slot"));
}

#[test]
fn the_count_wheel_strikes_as_it_is_cut() {
    // The band's own outline: distances between the middles of slots, in places, as a repairer would step them off.
    let svg = seen("schoolroom", Plate::Back, false, &Pose::default());
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let band = groups(&doc, "witness")
        .find(|g| g.attribute("data-witness") == Some("slot"))
        .unwrap();
    let d = band
        .descendants()
        .find_map(|n| n.attribute("d"))
        .expect("a band");
    let path = kurbo::BezPath::from_svg(d).unwrap();
    let first = path
        .elements()
        .iter()
        .take_while(|e| !matches!(e, kurbo::PathEl::ClosePath));
    let points: Vec<kurbo::Point> = first.filter_map(|e| e.end_point()).collect();
    let outer = points
        .iter()
        .map(|p| p.to_vec2().hypot())
        .fold(0.0, f64::max);
    // Runs of points below the rim are slots.
    let mut slots: Vec<(f64, f64)> = Vec::new();
    let mut below = false;
    for p in &points {
        let deep = p.to_vec2().hypot() < 0.97 * outer;
        let angle = p.to_vec2().atan2().to_degrees();
        match (deep, below) {
            (true, false) => slots.push((angle, angle)),
            (true, true) => slots.last_mut().unwrap().1 = angle,
            _ => {}
        }
        below = deep;
    }
    let middles: Vec<f64> = slots
        .iter()
        .map(|(a, b)| a + ((b - a + 180.0).rem_euclid(360.0) - 180.0) / 2.0)
        .collect();
    let mut steps: Vec<f64> = (0..middles.len())
        .map(|i| {
            let next = middles[(i + 1) % middles.len()];
            let step = (next - middles[i]).rem_euclid(360.0);
            step.min(360.0 - step) * 78.0 / 360.0
        })
        .collect();
    // From three: four to eleven blows, half a place more to the long slot of twelve and one, and on to two, three.
    let wanted = [4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.5, 2.5, 3.0];
    assert_eq!(steps.len(), wanted.len());
    for (got, wanted) in steps.drain(..).zip(wanted) {
        assert!((got - wanted).abs() < 0.05, "{got} for {wanted}");
    }
}

#[test]
fn names_run_over_nothing_they_need_not() {
    for name in ["schoolroom", "quay"] {
        for plate in [Plate::Front, Plate::Back] {
            let svg = seen(name, plate, false, &Pose::default());
            let doc = roxmltree::Document::parse(&svg).unwrap();
            let letters: f64 = number(doc.root_element(), "font-size");
            let texts: Vec<(f64, f64, f64)> = doc
                .descendants()
                .filter(|n| n.has_tag_name("text"))
                .map(|n| {
                    let count = n.text().unwrap().chars().count() as f64;
                    (number(n, "x"), number(n, "y"), count * 0.47 * letters)
                })
                .collect();
            for (i, a) in texts.iter().enumerate() {
                for b in &texts[..i] {
                    let clear =
                        (a.0 - b.0).abs() > (a.2 + b.2) / 2.0 || (a.1 - b.1).abs() > 0.95 * letters;
                    assert!(clear, "{name} from {plate:?}: {a:?} over {b:?}");
                }
                for part in groups(&doc, "arbor") {
                    let p = point(part, "data-cx", "data-cy");
                    let over = (a.0 - p.x).abs() < a.2 / 2.0 && (a.1 - p.y).abs() < letters / 2.0;
                    assert!(!over, "{name} from {plate:?}: a name over an arbor");
                }
            }
        }
    }
}

/// What is told beside a drawing stands where its text has it, from either plate.
#[test]
fn anchors_are_where_the_drawing_has_things() {
    for (name, plate) in [
        ("schoolroom", Plate::Front),
        ("schoolroom", Plate::Back),
        ("quay", Plate::Front),
    ] {
        let movement = sample(name);
        let laid = layout(&movement, &[]);
        let view = View {
            plate,
            upside_down: true,
        };
        let pose = Pose::default();
        let drawing = scene(&movement, &laid, view, &pose, &Marks::default());
        let svg = drawing.svg();
        let doc = roxmltree::Document::parse(&svg).unwrap();
        let centre = |class: &str, key: &str, id: &str| {
            groups(&doc, class)
                .find(|g| g.attribute(key) == Some(id))
                .map(|g| point(g, "data-cx", "data-cy"))
        };
        let mut told = [0; 4];
        for anchor in drawing.anchors() {
            let at = kurbo::Point::new(anchor.at.x, anchor.at.y);
            match anchor.of {
                Anchored::Arbor(id) => {
                    told[0] += 1;
                    let drawn = centre("arbor", "data-arbor", &movement.arbor(id).id).unwrap();
                    assert!(at.distance(drawn) < 0.02 && anchor.at.radius > 0.0);
                }
                Anchored::Witness(id) => {
                    told[1] += 1;
                    let drawn = centre("witness", "data-witness", &movement.witness(id).id);
                    // It is somewhere round its arbor.
                    assert!(at.distance(drawn.unwrap()) > 0.5);
                }
                Anchored::Mesh(id) => {
                    told[2] += 1;
                    let mesh = movement.mesh(id);
                    let ends = [mesh.driver, mesh.driven]
                        .map(|part| centre("arbor", "data-arbor", &movement.arbor(part.arbor).id));
                    let [a, b] = ends.map(Option::unwrap);
                    assert!((at.distance(a) + at.distance(b) - a.distance(b)).abs() < 0.02);
                }
                Anchored::Cam(_) => {
                    told[3] += 1;
                    let cam = groups(&doc, "cam").next().unwrap();
                    assert!(at.distance(point(cam, "data-cx", "data-cy")) < 0.02);
                }
                Anchored::Arrow(_) | Anchored::Turn(_) => panic!("nothing is lifted or turned"),
                Anchored::Part(_) => panic!("nothing is counted"),
                Anchored::Pillar(_) | Anchored::Fixture(_) => panic!("nothing stands there"),
            }
        }
        assert_eq!(told[0], movement.arbors().len(), "{name}");
        assert_eq!(told[2], movement.meshes().len(), "{name}");
        assert!(told[1] > 0, "{name}");
        assert_eq!(told[3], groups(&doc, "cam").count(), "{name}");
    }
}
