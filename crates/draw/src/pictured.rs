//! Small pictures to choose by: how a clock strikes and what stops it, each by its name. They show what to look for, and no
//! one movement.

use crate::Drawing;
use crate::ink::{Ink, Tag, path};
use crate::tooth::{Shape, outline, polar, tooth};
use kurbo::{Arc, BezPath, Circle, Point, Rect, Shape as _, Vec2};
use std::f64::consts::{PI, TAU};

/// How finely circles are turned into curves.
const ROUND: f64 = 0.05;

/// A picture by its name.
type Pictured = (&'static str, fn(&mut Ink));

/// Every picture that there is.
const PICTURES: [Pictured; 16] = [
    ("count_wheel_and_cam", count_wheel_and_cam),
    ("count_wheel_outside", count_wheel_outside),
    ("rack", rack),
    ("hours_only", |ink| struck(ink, &[(0.0, 4)])),
    ("hours_and_halves", |ink| struck(ink, &[(0.0, 4), (PI, 1)])),
    ("halves_in_passing", halves_in_passing),
    ("cam_one_notch", |ink| cam(ink, MIDDLE, 32.0, 1)),
    ("cam_two_notches", |ink| cam(ink, MIDDLE, 32.0, 2)),
    ("pin_on_an_arm", pin_on_an_arm),
    ("lever_in_the_notch", lever_in_the_notch),
    ("warns_at_the_same_pin", warns_at_the_same_pin),
    ("warns_at_another_pin", warns_at_another_pin),
    ("one_pin", |ink| pinned(ink, MIDDLE, 34.0, &[-PI / 2.0])),
    ("two_pins", |ink| {
        pinned(ink, MIDDLE, 34.0, &[-PI / 2.0, PI / 2.0]);
    }),
    ("snail_on_the_hour_wheel", |ink| snail_on(ink, false)),
    ("snail_on_a_star", |ink| snail_on(ink, true)),
];

const MIDDLE: Point = Point::new(50.0, 50.0);

/// The picture of that name, a hundred wide and high; nothing where there is none.
pub fn pictured(name: &str) -> Option<Drawing> {
    let (_, drawn) = PICTURES.iter().find(|(own, _)| *own == name)?;
    let mut ink = Ink::default();
    drawn(&mut ink);
    Some(Drawing {
        class: "pictured",
        frame: Rect::new(0.0, 0.0, 100.0, 100.0),
        letters: 15.0,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    })
}

fn moved(path: BezPath, to: Point) -> BezPath {
    kurbo::Affine::translate(to.to_vec2()) * path
}

/// An arbor's end.
fn pivot(ink: &mut Ink, at: Point) {
    ink.circle("steel", at, 2.6);
    ink.circle("ink", at, 1.0);
}

/// A wheel of so large a radius with teeth, its middle solid.
fn wheel(ink: &mut Ink, at: Point, radius: f64) {
    let teeth = 36_u16;
    let module = 2.0 * radius / f64::from(teeth + 2);
    let form = tooth(Shape::Wheel, f64::from(teeth), &[], 1.0);
    ink.path("brass", &moved(outline(&form, teeth, module), at));
    pivot(ink, at);
}

/// A wheel with pins, each at an angle.
fn pinned(ink: &mut Ink, at: Point, radius: f64, pins: &[f64]) {
    wheel(ink, at, radius);
    for angle in pins {
        ink.circle("ink", at + polar(0.72 * radius, *angle).to_vec2(), 3.0);
    }
}

/// An arm from its pivot along some points.
fn arm(ink: &mut Ink, points: &[Point]) {
    let mut way = BezPath::new();
    for (n, point) in points.iter().enumerate() {
        if n == 0 {
            way.move_to(*point);
        } else {
            way.line_to(*point);
        }
    }
    for class in ["lever-halo", "lever-edge", "lever"] {
        ink.empty(&Tag::new("path", class).with("d", &path(&way)));
    }
    if let Some(first) = points.first() {
        pivot(ink, *first);
    }
}

/// A rim with slots between places that are so many parts of a turn apart, the first at the top.
fn slotted(ink: &mut Ink, at: Point, radius: f64, counts: &[u16]) {
    const WIDE: f64 = 3.4;
    let all: u16 = counts.iter().sum();
    let half = WIDE / radius;
    let floor = radius - 7.0;
    let mut rim = BezPath::new();
    let mut place = 0_u16;
    for (n, count) in counts.iter().enumerate() {
        let middle = -PI / 2.0 + TAU * f64::from(place) / f64::from(all);
        place += count;
        let next = -PI / 2.0 + TAU * f64::from(place) / f64::from(all);
        let corners = [
            polar(radius, middle - half),
            polar(floor, middle - half),
            polar(floor, middle + half),
            polar(radius, middle + half),
        ];
        for (k, corner) in corners.into_iter().enumerate() {
            if n == 0 && k == 0 {
                rim.move_to(corner);
            } else {
                rim.line_to(corner);
            }
        }
        let sweep = next - half - (middle + half);
        if sweep > 0.0 {
            let land = Arc::new(Point::ORIGIN, (radius, radius), middle + half, sweep, 0.0);
            rim.extend(land.append_iter(ROUND));
        }
    }
    rim.close_path();
    rim.extend(Circle::new(Point::ORIGIN, 0.52 * radius).to_path(ROUND));
    ink.path("brass", &moved(rim, at));
}

/// A cam with one or two notches, the first at the top.
fn cam(ink: &mut Ink, at: Point, radius: f64, notches: u16) {
    let mut edge = BezPath::new();
    let step = TAU / f64::from(notches);
    let (half, ramp) = (0.22, 0.3);
    for n in 0..notches {
        let middle = -PI / 2.0 + step * f64::from(n);
        let corner = polar(radius, middle - half);
        if n == 0 {
            edge.move_to(corner);
        } else {
            edge.line_to(corner);
        }
        edge.line_to(polar(0.66 * radius, middle - half));
        edge.line_to(polar(0.66 * radius, middle + half));
        let from = middle + half + ramp;
        edge.line_to(polar(radius, from));
        let land = Arc::new(
            Point::ORIGIN,
            (radius, radius),
            from,
            step - 2.0 * half - ramp,
            0.0,
        );
        edge.extend(land.append_iter(ROUND));
    }
    edge.close_path();
    ink.path("steel", &moved(edge, at));
    pivot(ink, at);
}

/// A bell, its mouth down.
fn bell(ink: &mut Ink, at: Point, size: f64) {
    let mut shape = BezPath::new();
    shape.move_to(at + Vec2::new(-size, 0.0));
    shape.curve_to(
        at + Vec2::new(-0.7 * size, -0.25 * size),
        at + Vec2::new(-0.75 * size, -size),
        at + Vec2::new(0.0, -size),
    );
    shape.curve_to(
        at + Vec2::new(0.75 * size, -size),
        at + Vec2::new(0.7 * size, -0.25 * size),
        at + Vec2::new(size, 0.0),
    );
    shape.close_path();
    ink.path("brass", &shape);
    ink.circle("ink", at + Vec2::new(0.0, -1.1 * size), 1.6);
}

/// Dials with the minute hand at an angle from twelve, and so many blows of the bell under each.
fn struck(ink: &mut Ink, hours: &[(f64, u16)]) {
    let wide = 100.0 / f64::from(u16::try_from(hours.len()).unwrap_or(1));
    let radius = (0.4 * wide).min(26.0);
    for (n, (hand, blows)) in (0_u16..).zip(hours) {
        let at = Point::new(wide * (f64::from(n) + 0.5), 36.0);
        ink.circle("brass", at, radius);
        for mark in 0..12_u16 {
            let out = polar(1.0, TAU * f64::from(mark) / 12.0).to_vec2();
            ink.line("line", at + 0.84 * radius * out, at + 0.94 * radius * out);
        }
        let to = at + polar(0.74 * radius, hand - PI / 2.0).to_vec2();
        ink.empty(
            &Tag::new("line", "wire")
                .with("stroke-width", "3")
                .point(["x1", "y1"], at)
                .point(["x2", "y2"], to),
        );
        ink.circle("ink", at, 2.2);
        let under = Point::new(at.x, 84.0);
        let apart = (0.84 * wide / f64::from(*blows)).min(19.0);
        for blow in 0..*blows {
            let off = (f64::from(blow) - f64::from(blows - 1) / 2.0) * apart;
            bell(ink, under + Vec2::new(off, 0.0), (0.42 * apart).min(8.0));
        }
    }
}

fn count_wheel_and_cam(ink: &mut Ink) {
    let (count, notched) = (Point::new(35.0, 64.0), Point::new(78.0, 70.0));
    slotted(ink, count, 30.0, &[1, 2, 3, 4, 5, 6, 7, 8]);
    pivot(ink, count);
    cam(ink, notched, 17.0, 1);
    let at = Point::new(58.0, 13.0);
    arm(ink, &[at, Point::new(36.0, 24.0), Point::new(35.0, 40.0)]);
    arm(ink, &[at, Point::new(77.0, 40.0), Point::new(78.0, 58.0)]);
}

fn count_wheel_outside(ink: &mut Ink) {
    let count = Point::new(46.0, 56.0);
    // The plate it stands before.
    let plate = Rect::new(6.0, 8.0, 94.0, 97.0).to_rounded_rect(6.0);
    ink.path("plate", &plate.to_path(ROUND));
    slotted(ink, count, 36.0, &[1, 2, 1, 3, 1, 4, 1, 5]);
    let square = Rect::from_center_size(count, (9.0, 9.0));
    ink.path("steel", &square.to_path(ROUND));
    ink.circle("ink", count, 1.4);
    arm(
        ink,
        &[
            Point::new(84.0, 18.0),
            Point::new(48.0, 12.0),
            Point::new(46.0, 27.0),
        ],
    );
}

/// A snail of twelve steps: the first of so large a radius.
fn snail(ink: &mut Ink, at: Point, radius: f64) {
    let mut edge = BezPath::new();
    let step = TAU / 12.0;
    for n in 0..12_u16 {
        let out = radius * (1.0 - 0.055 * f64::from(n));
        let from = -PI / 2.0 + step * f64::from(n);
        let arc = Arc::new(Point::ORIGIN, (out, out), from, step, 0.0);
        if n == 0 {
            edge.move_to(polar(out, from));
        } else {
            edge.line_to(polar(out, from));
        }
        edge.extend(arc.append_iter(ROUND));
    }
    edge.close_path();
    ink.path("steel", &moved(edge, at));
    pivot(ink, at);
}

fn rack(ink: &mut Ink) {
    snail(ink, Point::new(33.0, 68.0), 27.0);
    let at = Point::new(82.0, 86.0);
    // A toothed arc about the rack's own arbor.
    let (near, far) = (58.0, 66.0);
    let mut teeth = BezPath::new();
    let (from, step) = (-2.2, 0.06);
    teeth.move_to(at + polar(near, from).to_vec2());
    for n in 0..13_u16 {
        let here = from + step * f64::from(n);
        teeth.line_to(at + polar(far, here).to_vec2());
        teeth.line_to(at + polar(near + 3.0, here + step).to_vec2());
    }
    let to = from + 13.0 * step;
    teeth.line_to(at + polar(near - 3.0, to).to_vec2());
    let inner = Arc::new(at, (near - 3.0, near - 3.0), to, from - to, 0.0);
    teeth.extend(inner.append_iter(ROUND));
    teeth.close_path();
    arm(ink, &[at, at + polar(near, from + 7.0 * step).to_vec2()]);
    ink.path("brass", &teeth);
    arm(ink, &[at, Point::new(64.0, 70.0), Point::new(55.0, 58.0)]);
    ink.circle("ink", Point::new(55.0, 58.0), 2.2);
}

fn halves_in_passing(ink: &mut Ink) {
    let at = Point::new(34.0, 62.0);
    let mut cam = BezPath::new();
    cam.move_to(at + Vec2::new(0.0, -12.0));
    cam.curve_to(
        at + Vec2::new(17.0, -12.0),
        at + Vec2::new(20.0, 12.0),
        at + Vec2::new(0.0, 28.0),
    );
    cam.line_to(at + Vec2::new(0.0, 12.0));
    cam.curve_to(
        at + Vec2::new(-16.0, 12.0),
        at + Vec2::new(-16.0, -12.0),
        at + Vec2::new(0.0, -12.0),
    );
    cam.close_path();
    ink.path("steel", &cam);
    pivot(ink, at);
    bell(ink, Point::new(74.0, 36.0), 17.0);
    arm(ink, &[Point::new(78.0, 88.0), Point::new(38.0, 93.0)]);
    arm(
        ink,
        &[
            Point::new(78.0, 88.0),
            Point::new(86.0, 58.0),
            Point::new(79.0, 44.0),
        ],
    );
    ink.circle("steel", Point::new(79.0, 43.0), 5.0);
}

fn pin_on_an_arm(ink: &mut Ink) {
    let at = Point::new(40.0, 60.0);
    pinned(ink, at, 33.0, &[-PI / 3.0]);
    let pin = at + polar(0.72 * 33.0, -PI / 3.0).to_vec2();
    let stop = pin + Vec2::new(4.5, 2.6);
    arm(
        ink,
        &[Point::new(88.0, 16.0), stop + Vec2::new(3.0, -19.0), stop],
    );
}

fn lever_in_the_notch(ink: &mut Ink) {
    let at = Point::new(44.0, 62.0);
    cam(ink, at, 32.0, 1);
    arm(
        ink,
        &[
            Point::new(88.0, 16.0),
            Point::new(46.0, 18.0),
            Point::new(42.0, 41.0),
        ],
    );
}

fn warns_at_the_same_pin(ink: &mut Ink) {
    pinned(ink, MIDDLE, 32.0, &[0.0]);
    let out = 0.72 * 32.0;
    arm(
        ink,
        &[
            Point::new(92.0, 12.0),
            Point::new(80.0, 44.0),
            MIDDLE + Vec2::new(out + 1.0, -5.0),
        ],
    );
    arm(
        ink,
        &[
            Point::new(8.0, 12.0),
            Point::new(20.0, 44.0),
            MIDDLE + Vec2::new(-out - 1.0, 0.0),
        ],
    );
}

fn warns_at_another_pin(ink: &mut Ink) {
    let (one, other) = (Point::new(29.0, 68.0), Point::new(73.0, 62.0));
    pinned(ink, one, 25.0, &[-PI / 2.0]);
    pinned(ink, other, 20.0, &[-PI / 2.0]);
    arm(
        ink,
        &[
            Point::new(8.0, 12.0),
            Point::new(22.0, 26.0),
            one + Vec2::new(-5.5, -18.0),
        ],
    );
    arm(
        ink,
        &[
            Point::new(94.0, 12.0),
            Point::new(80.0, 26.0),
            other + Vec2::new(5.5, -14.5),
        ],
    );
}

fn snail_on(ink: &mut Ink, star: bool) {
    if star {
        let mut points = BezPath::new();
        for n in 0..24_u16 {
            let out = if n % 2 == 0 { 43.0 } else { 31.0 };
            let at = MIDDLE + polar(out, TAU * f64::from(n) / 24.0).to_vec2();
            if n == 0 {
                points.move_to(at);
            } else {
                points.line_to(at);
            }
        }
        points.close_path();
        ink.path("brass", &points);
    } else {
        wheel(ink, MIDDLE, 43.0);
    }
    snail(ink, MIDDLE, 27.0);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_picture_lies_in_its_frame_and_no_two_are_alike() {
        let mut seen: Vec<String> = Vec::new();
        for (name, _) in PICTURES {
            let body = pictured(name).expect("it is there").body;
            for d in body.split(" d=\"").skip(1) {
                let d = d.split('"').next().unwrap_or_default();
                let frame = BezPath::from_svg(d).expect("a path").bounding_box();
                let within = Rect::new(0.0, 0.0, 100.0, 100.0).union(frame);
                assert_eq!(
                    within,
                    Rect::new(0.0, 0.0, 100.0, 100.0),
                    "{name}: {frame:?}"
                );
            }
            assert!(!seen.contains(&body), "{name}");
            seen.push(body);
        }
        assert!(pictured("no such picture").is_none());
    }
}
