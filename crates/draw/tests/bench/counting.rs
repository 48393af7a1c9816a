//! A movement that is counted: what is drawn of it, and where its figures stand.

use crate::sample;
use draw::{Anchored, CountMarks, CountShown, Drawing, DrawnAs, View, counting, layout};
use kurbo::Rect;
use movement::{Movement, PartId, Plate};

const SHEETS: [&str; 7] = [
    "schoolroom",
    "quay",
    "halfpast",
    "parlour",
    "quarters",
    "gallery",
    "lattice",
];

/// The first of its parts counted, the next one asked for.
fn shown(movement: &Movement, counted: usize, typed: &str) -> (Vec<CountShown>, Option<PartId>) {
    let parts: Vec<CountShown> = (movement.arbors())
        .flat_map(|(arbor, _)| movement.parts(arbor))
        .enumerate()
        .map(|(n, (part, has))| {
            let (drawn, figure) = match n.cmp(&counted) {
                std::cmp::Ordering::Less => (DrawnAs::Toothed, has.teeth.get().to_string()),
                std::cmp::Ordering::Equal => (DrawnAs::Dotted, typed.to_owned()),
                std::cmp::Ordering::Greater => (DrawnAs::Dotted, String::new()),
            };
            CountShown {
                part,
                drawn,
                figure,
            }
        })
        .collect();
    let asked = parts.get(counted).map(|shown| shown.part);
    (parts, asked)
}

fn drawn(movement: &Movement, plate: Plate, counted: usize) -> (Drawing, Vec<CountShown>) {
    let (parts, asked) = shown(movement, counted, "7");
    let view = View {
        plate,
        upside_down: false,
    };
    let marks = CountMarks {
        parts: &parts,
        asked,
    };
    let drawing = counting(movement, &layout(movement, &[]), view, &marks);
    (drawing, parts)
}

/// Every word of a drawing with the room it takes: a letter is half as wide as high at least, and figures are two thirds of that high.
/// From memory of the typeface, and less than what the drawing keeps free.
fn words(drawing: &Drawing) -> Vec<(String, String, Rect)> {
    let svg = drawing.svg();
    let doc = roxmltree::Document::parse(&svg).expect("it is XML");
    let words = doc.descendants().filter(|n| n.has_tag_name("text"));
    words
        .map(|word| {
            let number = |name| word.attribute(name).unwrap().parse::<f64>().unwrap();
            let class = word.attribute("class").unwrap_or_default();
            let size = match class {
                "figure asked" => 1.9,
                "figure" => 1.35,
                _ => 1.0,
            };
            let text = word.text().unwrap_or_default().to_owned();
            let high = size * drawing.letters();
            let wide = 0.45 * high * text.chars().count() as f64;
            let (x, y) = (number("x"), number("y"));
            let frame = Rect::new(
                x - wide / 2.0,
                y - high / 3.0,
                x + wide / 2.0,
                y + high / 3.0,
            );
            (class.to_owned(), text, frame)
        })
        .collect()
}

#[test]
fn no_two_words_lie_over_one_another() {
    for name in SHEETS {
        let movement = sample(name);
        let all = movement
            .arbors()
            .map(|(id, _)| movement.parts(id).count())
            .sum();
        for plate in [Plate::Front, Plate::Back] {
            for counted in 0..=all {
                let (drawing, parts) = drawn(&movement, plate, counted);
                let words = words(&drawing);
                let figures = parts.iter().filter(|p| !p.figure.is_empty()).count();
                assert_eq!(words.len(), figures + movement.arbors().len(), "{name}");
                for (i, (_, a, here)) in words.iter().enumerate() {
                    for (_, b, there) in &words[i + 1..] {
                        let both = here.intersect(*there);
                        assert!(
                            both.width() <= 0.0 || both.height() <= 0.0,
                            "{name} after {counted}: {a} over {b}"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn the_figure_of_a_wheel_lies_within_its_teeth() {
    for name in SHEETS {
        let movement = sample(name);
        let laid = layout(&movement, &[]);
        let (parts, _) = shown(&movement, usize::MAX, "");
        let marks = CountMarks {
            parts: &parts,
            asked: None,
        };
        let drawing = counting(&movement, &laid, View::of_sheet(&movement), &marks);
        let svg = drawing.svg();
        let doc = roxmltree::Document::parse(&svg).unwrap();
        let mut wheels = 0;
        for anchor in drawing.anchors() {
            let Anchored::Part(part) = anchor.of else {
                continue;
            };
            // What is large is no pinion, whose figure may stand beside it.
            if anchor.at.radius < 8.0 * drawing.letters() / 4.0 {
                continue;
            }
            wheels += 1;
            let [arbor, own] = [&movement.arbor(part.arbor).id, &movement.part(part).name];
            let figure = (doc.descendants())
                .find(|n| {
                    n.has_tag_name("text")
                        && n.attribute("data-arbor") == Some(arbor)
                        && n.attribute("data-part") == Some(own)
                })
                .unwrap();
            let [x, y] = ["x", "y"].map(|k| figure.attribute(k).unwrap().parse::<f64>().unwrap());
            let far = (x - anchor.at.x).hypot(y - anchor.at.y);
            assert!(far < 0.9 * anchor.at.radius, "{name}: {arbor}.{own}");
            assert_eq!(
                figure.text(),
                Some(movement.part(part).teeth.get().to_string().as_str())
            );
        }
        assert!(wheels > 1, "{name}");
    }
}

#[test]
fn only_what_is_counted_has_teeth_and_what_is_asked_for_is_blue() {
    for name in SHEETS {
        let movement = sample(name);
        let all: usize = movement
            .arbors()
            .map(|(id, _)| movement.parts(id).count())
            .sum();
        for counted in 0..all {
            let (drawing, parts) = drawn(&movement, movement.seen_from(), counted);
            let svg = drawing.svg();
            let doc = roxmltree::Document::parse(&svg).unwrap();
            let class = |n: &roxmltree::Node<'_, '_>, word: &str| {
                n.attribute("class")
                    .is_some_and(|c| c.split(' ').any(|c| c == word))
            };
            let groups = |word: &str| doc.descendants().filter(|n| class(n, word)).count();
            assert_eq!(groups("arbor"), counted, "{name}");
            assert_eq!(groups("uncounted"), all - counted, "{name}");
            let blue: Vec<_> = (doc.descendants())
                .filter(|n| class(n, "lift") && n.has_attribute("data-part"))
                .map(|n| n.attribute("data-part").unwrap().to_owned())
                .collect();
            assert_eq!(blue, [movement.part(parts[counted].part).name.clone()]);
            let asked = doc
                .descendants()
                .find(|n| n.attribute("id") == Some("asked-figure"));
            assert_eq!(asked.unwrap().text(), Some("7"), "{name}");
        }
    }
}

#[test]
fn what_is_lost_or_doubtful_looks_otherwise_than_what_is_counted() {
    let movement = sample("schoolroom");
    let (mut parts, _) = shown(&movement, usize::MAX, "");
    parts[1].drawn = DrawnAs::Doubtful;
    parts[2].drawn = DrawnAs::Hatched;
    let marks = CountMarks {
        parts: &parts,
        asked: None,
    };
    let laid = layout(&movement, &[]);
    let svg = counting(&movement, &laid, View::of_sheet(&movement), &marks).svg();
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let part = |n: usize| {
        let id = parts[n].part;
        let [arbor, own] = [&movement.arbor(id.arbor).id, &movement.part(id).name];
        (doc.descendants())
            .find(|n| {
                n.has_tag_name("g")
                    && n.attribute("data-arbor") == Some(arbor)
                    && n.attribute("data-part") == Some(own)
            })
            .unwrap()
    };
    assert!(part(1).attribute("class").unwrap().ends_with("unsure"));
    assert_eq!(part(2).attribute("class"), Some("uncounted"));
    let hatched = |n: usize| (part(n).descendants()).any(|n| n.attribute("class") == Some("hatch"));
    assert!(hatched(2) && !hatched(1) && !hatched(3));
}

#[test]
fn every_part_may_be_touched_and_a_pinion_before_the_wheel_it_lies_on() {
    let movement = sample("halfpast");
    let (drawing, parts) = drawn(&movement, Plate::Front, 3);
    let told: Vec<_> = (drawing.anchors().iter())
        .filter_map(|anchor| match anchor.of {
            Anchored::Part(part) => Some((part, anchor.at.radius)),
            _ => None,
        })
        .collect();
    assert_eq!(told.len(), parts.len());
    assert!(told.windows(2).all(|two| two[0].1 >= two[1].1));
}
