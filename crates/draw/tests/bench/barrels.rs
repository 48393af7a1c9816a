//! Barrels and drums, as far as they were measured.

use crate::svg::{groups, number};
use crate::{read, sample};
use draw::{Marks, Pose, View, layout, scene};
use movement::{Movement, Plate};

fn drawn(movement: &Movement, plate: Plate) -> String {
    let view = View {
        plate,
        upside_down: false,
    };
    let laid = layout(movement, &[]);
    scene(movement, &laid, view, &Pose::default(), &Marks::default()).svg()
}

/// The radii of the circles of one class in the only barrel there is.
fn radii(svg: &str, class: &str) -> Vec<f64> {
    let doc = roxmltree::Document::parse(svg).unwrap();
    let barrel = groups(&doc, "barrel").next().expect("a barrel");
    let circles = barrel
        .descendants()
        .filter(|node| node.has_tag_name("circle"));
    let of_class = circles.filter(|circle| circle.attribute("class") == Some(class));
    of_class.map(|circle| number(circle, "r")).collect()
}

#[test]
fn a_barrel_has_its_arbor_and_its_spring_let_down() {
    let svg = drawn(&sample("mantel"), Plate::Back);
    assert_eq!(radii(&svg, "line"), [20.0]);
    assert_eq!(radii(&svg, "steel"), [6.65]);
    // 1400 mm of a strip 0.40 mm thick lie against the wall: what is free is √(20² − 560/π).
    let [free] = radii(&svg, "coil")[..] else {
        panic!("{svg}");
    };
    assert!((free - 14.89).abs() < 0.01, "{free}");
}

#[test]
fn of_a_barrel_nothing_is_drawn_that_was_not_measured() {
    let path = format!("{}/../../movements/mantel.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("a sample");
    let bare: String = text
        .lines()
        .filter(|line| !line.starts_with("spring_arbor_mm") && !line.starts_with("spring_long_mm"))
        .map(|line| format!("{line}\n"))
        .collect();
    let svg = drawn(&read(&bare), Plate::Back);
    assert_eq!(radii(&svg, "line"), [20.0]);
    assert!(radii(&svg, "steel").is_empty() && radii(&svg, "coil").is_empty());
}

/// A wheel with a drum on its arbor.
fn drum(runs: &str) -> Movement {
    read(&format!(
        "sheet = 1\nname = \"Wren Street tower\"\nseen_from = \"front\"\n\
         [arbor.great]\nwheel = 80\nruns = \"{runs}\"\ndrum_mm = 60\ncord_mm = 4\n\
         [arbor.second]\npinion = 8\n\
         [[mesh]]\ndriver = \"great.wheel\"\ndriven = \"second.pinion\"\ncentre_mm = 88\n"
    ))
}

#[test]
fn a_line_hangs_on_the_side_on_which_its_weight_drives_the_drum() {
    for (runs, plate, side) in [
        ("clockwise", Plate::Front, 1.0),
        ("counterclockwise", Plate::Front, -1.0),
        ("clockwise", Plate::Back, -1.0),
        ("counterclockwise", Plate::Back, 1.0),
    ] {
        let svg = drawn(&drum(runs), plate);
        let doc = roxmltree::Document::parse(&svg).unwrap();
        let drum = groups(&doc, "drum").next().expect("a drum");
        let find = |name: &str| {
            let mut all = drum.descendants();
            all.find(|node| node.has_tag_name(name)).expect("drawn")
        };
        let (rim, cord) = (find("circle"), find("line"));
        assert!((number(rim, "r") - 30.0).abs() < 1e-9);
        assert!((number(cord, "stroke-width") - 4.0).abs() < 1e-9);
        for end in ["x1", "x2"] {
            let off = number(cord, end) - number(rim, "cx");
            assert!((off - side * 32.0).abs() < 0.01, "{runs}, {plate:?}: {off}");
        }
        assert!(number(cord, "y2") > number(cord, "y1"), "it hangs down");
    }
}
