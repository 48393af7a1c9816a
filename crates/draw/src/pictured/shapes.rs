//! What the pictures are made of: wheels, arms, rims, cams, bells and dials.

use crate::ink::{Ink, Tag, path};
use crate::tooth::{Shape, outline, polar, tooth};
use kurbo::{Arc, BezPath, Circle, Point, Rect, RoundedRectRadii, Shape as _, Vec2};
use std::f64::consts::{PI, TAU};

/// How finely circles are turned into curves.
pub(super) const ROUND: f64 = 0.05;

pub(super) const MIDDLE: Point = Point::new(50.0, 50.0);

pub(super) fn moved(path: BezPath, to: Point) -> BezPath {
    kurbo::Affine::translate(to.to_vec2()) * path
}

/// An arbor's end.
pub(super) fn pivot(ink: &mut Ink, at: Point) {
    ink.circle("steel", at, 2.6);
    ink.circle("ink", at, 1.0);
}

/// A wheel of so large a radius with teeth, its middle solid.
pub(super) fn wheel(ink: &mut Ink, at: Point, radius: f64) {
    let teeth = 36_u16;
    let module = 2.0 * radius / f64::from(teeth + 2);
    let form = tooth(Shape::Wheel, f64::from(teeth), &[], 1.0);
    ink.path("brass", &moved(outline(&form, teeth, module), at));
    pivot(ink, at);
}

/// A wheel with pins, each at an angle.
pub(super) fn pinned(ink: &mut Ink, at: Point, radius: f64, pins: &[f64]) {
    wheel(ink, at, radius);
    for angle in pins {
        ink.circle("ink", at + polar(0.72 * radius, *angle).to_vec2(), 3.0);
    }
}

/// An arm from its pivot along some points.
pub(super) fn arm(ink: &mut Ink, points: &[Point]) {
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
pub(super) fn slotted(ink: &mut Ink, at: Point, radius: f64, counts: &[u16]) {
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
pub(super) fn cam(ink: &mut Ink, at: Point, radius: f64, notches: u16) {
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
pub(super) fn bell(ink: &mut Ink, at: Point, size: f64) {
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
pub(super) fn struck(ink: &mut Ink, hours: &[(f64, u16)]) {
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

/// A snail of twelve steps: the first of so large a radius.
pub(super) fn snail(ink: &mut Ink, at: Point, radius: f64) {
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

/// A block of metal from corner to corner.
pub(super) fn block(ink: &mut Ink, class: &str, from: [f64; 2], to: [f64; 2]) {
    let radii = RoundedRectRadii::from_single_radius(1.0);
    let rect = Rect::new(from[0], from[1], to[0], to[1]).to_rounded_rect(radii);
    ink.path(class, &rect.to_path(ROUND));
}

/// An area with straight edges.
pub(super) fn area(ink: &mut Ink, class: &str, corners: &[[f64; 2]]) {
    let mut edge = BezPath::new();
    for (n, [x, y]) in corners.iter().enumerate() {
        if n == 0 {
            edge.move_to((*x, *y));
        } else {
            edge.line_to((*x, *y));
        }
    }
    edge.close_path();
    ink.path(class, &edge);
}

/// Something round and bent, so thick: a wire, a cord, a spring.
pub(super) fn wire(ink: &mut Ink, thick: &str, way: &BezPath) {
    let tag = Tag::new("path", "wire").with("fill", "none");
    ink.empty(&tag.with("stroke-width", thick).with("d", &path(way)));
}

/// A spring wound so many times between two radii.
pub(super) fn wound(ink: &mut Ink, at: Point, radii: [f64; 2], turns: u16) {
    let mut way = BezPath::new();
    let steps = 24 * turns;
    for n in 0..=steps {
        let part = f64::from(n) / f64::from(steps);
        let out = radii[0] + (radii[1] - radii[0]) * part;
        let to = at + polar(out, TAU * f64::from(turns) * part).to_vec2();
        if n == 0 {
            way.move_to(to);
        } else {
            way.line_to(to);
        }
    }
    wire(ink, "1.4", &way);
}

/// A hammer from its pivot to its head.
pub(super) fn hammer(ink: &mut Ink, pivot: Point, head: Point) {
    arm(ink, &[pivot, head]);
    ink.circle("steel", head, 5.5);
}
