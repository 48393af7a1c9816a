//! Witnesses close up.

use crate::sample;
use crate::svg::{groups, number, rotation};
use draw::{Marks, Pose, View, choices, loupe, scene};
use movement::{Movement, Plate, Turning, WITNESS_KINDS, WitnessDrawing, WitnessId};
use quantity::Degrees;

fn moving(movement: &Movement, witness: WitnessId, place: &Degrees, view: View) -> (f64, f64) {
    let svg = loupe(movement, witness, place, None, view).svg();
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let group = groups(&doc, "moving").next().expect("a moving group");
    if let Some(dx) = group.attribute("data-dx") {
        let text = group.attribute("transform").unwrap();
        let inner = text.trim_start_matches("translate(").trim_end_matches(')');
        let x: f64 = inner.split(' ').next().unwrap().parse().unwrap();
        (x, dx.parse().unwrap())
    } else {
        let (turn, about) = rotation(group);
        let centre = about.expect("a centre");
        assert!((centre.x - number(group, "data-cx")).abs() < 1e-9);
        (turn, number(group, "data-turn"))
    }
}

#[test]
fn a_degree_moves_a_loupe_as_it_says_and_the_way_of_the_view() {
    for name in ["schoolroom", "quay"] {
        let movement = sample(name);
        for (id, w) in movement.witnesses() {
            let place = Degrees::parse("1.5").unwrap();
            let mut ways = Vec::new();
            for plate in [Plate::Front, Plate::Back] {
                let view = View {
                    plate,
                    upside_down: false,
                };
                let (moved, per_degree) = moving(&movement, id, &place, view);
                assert!((moved - 1.5 * per_degree).abs() < 0.02, "{}", w.id);
                // The lever comes from above: clockwise, the rim goes to the right.
                let clockwise = movement.runs(w.on, plate) == Turning::Clockwise;
                assert_eq!(per_degree > 0.0, clockwise, "{} from {plate:?}", w.id);
                ways.push(per_degree);
            }
            assert!((ways[0] + ways[1]).abs() < 1e-9);
        }
    }
}

#[test]
fn upside_down_a_slide_goes_the_other_way_and_a_turn_the_same() {
    let movement = sample("quay");
    for (id, _) in movement.witnesses() {
        let place = Degrees::parse("1").unwrap();
        let [up, down] = [false, true].map(|upside_down| {
            let view = View {
                plate: Plate::Front,
                upside_down,
            };
            moving(&movement, id, &place, view).1
        });
        let slides = movement.witness(id).kind.looks == WitnessDrawing::Slots;
        let wanted = if slides { -up } else { up };
        assert!((down - wanted).abs() < 0.01);
    }
}

#[test]
fn what_the_witnesses_of_the_samples_are() {
    let movement = sample("quay");
    let kind = |id: &str| (movement.witness(movement.find_witness(id).unwrap())).kind;
    let kinds = ["slot", "lifts", "stop", "vane"].map(|id| kind(id).word());
    assert_eq!(kinds, ["slot", "hammer tail", "locking pin", "fly"]);
}

/// On a sheet without levers, so that nothing but the kind says what to draw: close up, on the train, and where it will stand.
#[test]
fn every_kind_is_drawn_as_the_sheet_says_it() {
    let sheet = include_str!("../../../../docs/contract/sheets/schoolroom.toml");
    let mut drawn: Vec<(WitnessDrawing, String)> = Vec::new();
    for kind in WITNESS_KINDS {
        let told = format!("id = \"pin\"\nkind = \"{}\"", kind.word());
        let text = sheet.replacen("id = \"pin\"", &told, 1);
        let movement = sheet::read(text.as_bytes()).unwrap().movement;
        let id = movement.find_witness("pin").unwrap();
        assert_eq!(movement.witness(id).kind, kind);
        let place = Degrees::parse("-75").unwrap();
        let svg = loupe(
            &movement,
            id,
            &place,
            Some(&place),
            View::of_sheet(&movement),
        )
        .svg();
        let doc = roxmltree::Document::parse(&svg).unwrap();
        assert_eq!(groups(&doc, "moving").count(), 1, "{kind:?}");
        assert_eq!(groups(&doc, "ghost").count(), 1, "{kind:?}");
        let layout = draw::layout(&movement, &[]);
        let (view, pose) = (View::of_sheet(&movement), Pose::default());
        let train = scene(&movement, &layout, view, &pose, &Marks::default()).svg();
        let doc = roxmltree::Document::parse(&train).unwrap();
        assert_eq!(groups(&doc, "witness").count(), 3, "{kind:?}");
        drawn.push((kind.looks, svg));
    }
    // One look, one drawing; the plain one with a single place looks like a pin that is stopped.
    let alike = |a: WitnessDrawing, b: WitnessDrawing| {
        a == b
            || [a, b]
                .iter()
                .all(|l| [WitnessDrawing::Stop, WitnessDrawing::Plain].contains(l))
    };
    for (i, (looks, svg)) in drawn.iter().enumerate() {
        for (other, there) in &drawn[..i] {
            assert_eq!(svg == there, alike(*looks, *other), "{looks:?} {other:?}");
        }
    }
}

#[test]
fn five_places_two_of_them_outside() {
    for name in ["schoolroom", "quay"] {
        let movement = sample(name);
        for (id, w) in movement.witnesses() {
            let places = choices(&movement, id);
            let admitted = places.iter().map(|p| w.admits(p)).collect::<Vec<_>>();
            assert_eq!(admitted, [false, true, true, true, false], "{}", w.id);
            assert!(places.windows(2).all(|p| p[0] < p[1]), "{}", w.id);
        }
    }
}

#[test]
fn the_tip_meets_the_edge_where_the_window_ends() {
    // In the loupe: half the slot less half the tip is the play on either side.
    let movement = sample("schoolroom");
    let slot = movement.find_witness("slot").unwrap();
    let view = View::of_sheet(&movement);
    let svg = loupe(&movement, slot, &Degrees::zero(), None, view).svg();
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let frame = |class: &str| {
        let d = doc
            .descendants()
            .find(|n| n.attribute("class") == Some(class) && n.has_tag_name("path"))
            .and_then(|n| n.attribute("d"))
            .unwrap();
        kurbo::BezPath::from_svg(d).unwrap()
    };
    let tip = kurbo::Shape::bounding_box(&frame("steel"));
    let rim = frame("brass");
    let edges: Vec<f64> = rim
        .elements()
        .iter()
        .filter_map(|e| e.end_point())
        .map(|p| p.x)
        .filter(|x| x.abs() < 40.0)
        .collect();
    let half_slot = edges.iter().map(|x| x.abs()).fold(f64::MAX, f64::min);
    let group = groups(&doc, "moving").next().unwrap();
    let play = (half_slot - tip.width() / 2.0) / number(group, "data-dx").abs();
    assert!((play - 1.0).abs() < 0.01, "{play} degrees of play");
}
