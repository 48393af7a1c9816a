//! Reading a drawing back.

use geo::{Coord, LineString, MultiPolygon, Polygon};
use kurbo::{BezPath, PathEl, Point};

pub(crate) fn number(node: roxmltree::Node<'_, '_>, key: &str) -> f64 {
    let text = node
        .attribute(key)
        .unwrap_or_else(|| panic!("{key} on {node:?}"));
    text.parse().unwrap_or_else(|_| panic!("{key}={text}"))
}

pub(crate) fn point(node: roxmltree::Node<'_, '_>, x: &str, y: &str) -> Point {
    Point::new(number(node, x), number(node, y))
}

pub(crate) fn has_class(node: roxmltree::Node<'_, '_>, class: &str) -> bool {
    node.attribute("class")
        .is_some_and(|c| c.split(' ').any(|c| c == class))
}

pub(crate) fn groups<'a>(
    doc: &'a roxmltree::Document<'a>,
    class: &'a str,
) -> impl Iterator<Item = roxmltree::Node<'a, 'a>> {
    doc.descendants()
        .filter(move |n| n.has_tag_name("g") && has_class(*n, class))
}

/// The angle a group's turning child is rotated by, degrees clockwise.
pub(crate) fn turned(node: roxmltree::Node<'_, '_>) -> f64 {
    let turn = node
        .descendants()
        .find(|n| has_class(*n, "turn"))
        .expect("a turning group");
    rotation(turn).0
}

/// `rotate(a)` or `rotate(a x y)` of a node.
pub(crate) fn rotation(node: roxmltree::Node<'_, '_>) -> (f64, Option<Point>) {
    let text = node.attribute("transform").expect("a transform");
    let inner = text
        .strip_prefix("rotate(")
        .and_then(|t| t.strip_suffix(')'))
        .unwrap_or_else(|| panic!("{text}"));
    let n: Vec<f64> = inner
        .split(' ')
        .map(|t| t.parse().expect("a number"))
        .collect();
    (n[0], (n.len() == 3).then(|| Point::new(n[1], n[2])))
}

/// The metal of a part as it stands in a drawing: for a ring what lies between its teeth and its outside, else all
/// within its outline.
pub(crate) fn metal(doc: &roxmltree::Document<'_>, arbor: &str, part: &str) -> MultiPolygon<f64> {
    let group = doc
        .descendants()
        .find(|n| {
            has_class(*n, "arbor")
                && n.attribute("data-arbor") == Some(arbor)
                && n.attribute("data-part") == Some(part)
        })
        .unwrap_or_else(|| panic!("no {arbor}.{part}"));
    let reference = group
        .descendants()
        .find(|n| n.has_tag_name("use") && !has_class(*n, "halo"))
        .and_then(|n| n.attribute("href"))
        .expect("an outline");
    let d = doc
        .descendants()
        .find(|n| n.attribute("id") == Some(&reference[1..]))
        .and_then(|n| n.attribute("d"))
        .expect("a path");
    let place = kurbo::Affine::translate(point(group, "data-cx", "data-cy").to_vec2())
        * kurbo::Affine::rotate(turned(group).to_radians());
    let loops = loops(&(place * BezPath::from_svg(d).expect("a path")));
    let area = |l: &LineString<f64>| geo::Area::unsigned_area(&Polygon::new(l.clone(), vec![]));
    // A lantern is trundles and a larger disc in the middle; a ring has its outside second; any other has its outline first.
    if area(&loops[0]) < area(&loops[loops.len() - 1]) {
        if loops.len() == 2 {
            return MultiPolygon(vec![Polygon::new(loops[1].clone(), vec![loops[0].clone()])]);
        }
        return MultiPolygon(loops.into_iter().map(|l| Polygon::new(l, vec![])).collect());
    }
    MultiPolygon(vec![Polygon::new(loops[0].clone(), vec![])])
}

fn loops(path: &BezPath) -> Vec<LineString<f64>> {
    let mut loops: Vec<Vec<Coord<f64>>> = Vec::new();
    kurbo::flatten(path, 0.001, |el| match el {
        PathEl::MoveTo(p) => loops.push(vec![Coord { x: p.x, y: p.y }]),
        PathEl::LineTo(p) => {
            if let Some(open) = loops.last_mut() {
                open.push(Coord { x: p.x, y: p.y });
            }
        }
        _ => {}
    });
    loops.into_iter().map(LineString).collect()
}
