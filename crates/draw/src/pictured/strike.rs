//! How a clock strikes: its kinds, and what stops it and warns it.

use super::shapes::{
    MIDDLE, ROUND, area, arm, bell, block, cam, pinned, pivot, slotted, snail, wheel, wire,
};
use crate::ink::Ink;
use crate::tooth::polar;
use kurbo::{Arc, BezPath, Point, Rect, Shape as _, Vec2};
use std::f64::consts::{PI, TAU};

pub(super) fn count_wheel_and_cam(ink: &mut Ink) {
    let (count, notched) = (Point::new(35.0, 64.0), Point::new(78.0, 70.0));
    slotted(ink, count, 30.0, &[1, 2, 3, 4, 5, 6, 7, 8]);
    pivot(ink, count);
    cam(ink, notched, 17.0, 1);
    let at = Point::new(58.0, 13.0);
    arm(ink, &[at, Point::new(36.0, 24.0), Point::new(35.0, 40.0)]);
    arm(ink, &[at, Point::new(77.0, 40.0), Point::new(78.0, 58.0)]);
}

pub(super) fn count_wheel_outside(ink: &mut Ink) {
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

pub(super) fn rack(ink: &mut Ink) {
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

pub(super) fn halves_in_passing(ink: &mut Ink) {
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

pub(super) fn pin_on_an_arm(ink: &mut Ink) {
    let at = Point::new(40.0, 60.0);
    pinned(ink, at, 33.0, &[-PI / 3.0]);
    let pin = at + polar(0.72 * 33.0, -PI / 3.0).to_vec2();
    let stop = pin + Vec2::new(4.5, 2.6);
    arm(
        ink,
        &[Point::new(88.0, 16.0), stop + Vec2::new(3.0, -19.0), stop],
    );
}

pub(super) fn lever_in_the_notch(ink: &mut Ink) {
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

pub(super) fn warns_at_the_same_pin(ink: &mut Ink) {
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

pub(super) fn warns_at_another_pin(ink: &mut Ink) {
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

pub(super) fn snail_on(ink: &mut Ink, star: bool) {
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

/// Four bells over one another, each with its hammer's pins on a cylinder.
pub(super) fn chime_on_bells(ink: &mut Ink) {
    for n in 0..4_u16 {
        let x = 17.0 + 22.0 * f64::from(n);
        bell(ink, Point::new(x, 34.0), 10.0 - f64::from(n));
    }
    block(ink, "brass", [6.0, 58.0], [94.0, 88.0]);
    for n in 0..8_u16 {
        let x = 17.0 + 22.0 * f64::from(n % 4);
        let y = 65.0 + 3.0 * f64::from((3 * n) % 7);
        ink.circle("ink", Point::new(x, y), 1.8);
    }
}

/// A small peal and one large bell.
pub(super) fn quarters(ink: &mut Ink) {
    for (n, x) in [13.0, 37.0, 61.0, 85.0].into_iter().enumerate() {
        let size = [10.0, 9.0, 8.0, 7.0][n];
        bell(ink, Point::new(x, 30.0), size);
    }
    bell(ink, Point::new(36.0, 88.0), 24.0);
    snail(ink, Point::new(80.0, 72.0), 17.0);
}

/// Bells in pairs, and one alone.
pub(super) fn ships_bell(ink: &mut Ink) {
    bell(ink, Point::new(50.0, 58.0), 30.0);
    for x in [18.0, 31.0, 52.0, 65.0, 86.0] {
        bell(ink, Point::new(x, 90.0), 6.0);
    }
}

/// A barrel with its rope, and a count wheel beside it.
pub(super) fn tower(ink: &mut Ink) {
    block(ink, "brass", [8.0, 20.0], [52.0, 52.0]);
    for n in 0..6_u16 {
        let x = 13.0 + 6.4 * f64::from(n);
        ink.line("line", Point::new(x, 20.0), Point::new(x, 52.0));
    }
    let mut rope = BezPath::new();
    rope.move_to((46.0, 52.0));
    rope.line_to((46.0, 74.0));
    wire(ink, "2", &rope);
    block(ink, "steel", [38.0, 74.0], [54.0, 96.0]);
    slotted(ink, Point::new(76.0, 36.0), 21.0, &[1, 2, 3, 4, 5, 6]);
    pivot(ink, Point::new(76.0, 36.0));
    arm(
        ink,
        &[
            Point::new(94.0, 84.0),
            Point::new(77.0, 74.0),
            Point::new(76.0, 58.0),
        ],
    );
}

/// A lever in the gap of a wheel's rim.
pub(super) fn lever_in_the_hoop(ink: &mut Ink) {
    let at = Point::new(44.0, 60.0);
    wheel(ink, at, 34.0);
    let gap = 0.35;
    let mut hoop = Arc::new(at, (21.0, 21.0), -PI / 2.0 + gap, TAU - 2.0 * gap, 0.0).to_path(ROUND);
    let inner = Arc::new(at, (16.0, 16.0), -PI / 2.0 - gap, 2.0 * gap - TAU, 0.0);
    hoop.extend(inner.append_iter(ROUND));
    hoop.close_path();
    ink.path("steel", &hoop);
    arm(
        ink,
        &[
            Point::new(88.0, 14.0),
            Point::new(46.0, 14.0),
            Point::new(44.0, 42.0),
        ],
    );
}

/// A gathering pallet whose tail lies on the pin of the rack.
pub(super) fn locked_by_the_tail(ink: &mut Ink) {
    let at = Point::new(40.0, 46.0);
    rack_end(ink);
    arm(ink, &[at, Point::new(76.0, 46.0)]);
    area(ink, "steel", &[[34.0, 46.0], [40.0, 62.0], [46.0, 46.0]]);
    pivot(ink, at);
    ink.circle("ink", Point::new(74.0, 51.0), 3.2);
}

/// A hook whose arm comes before a pin on a wheel.
pub(super) fn locked_by_the_hook(ink: &mut Ink) {
    let at = Point::new(34.0, 40.0);
    pinned(ink, at, 28.0, &[0.0]);
    rack_end(ink);
    let hook = Point::new(92.0, 20.0);
    arm(ink, &[hook, Point::new(60.0, 28.0), Point::new(56.0, 46.0)]);
    arm(ink, &[hook, Point::new(84.0, 58.0), Point::new(78.0, 68.0)]);
}

/// The teeth of a rack along the foot of a picture.
fn rack_end(ink: &mut Ink) {
    let mut teeth: Vec<[f64; 2]> = vec![[10.0, 94.0]];
    for n in 0..8_u16 {
        let x = 10.0 + 10.0 * f64::from(n);
        teeth.extend([[x, 70.0], [x + 10.0, 80.0]]);
    }
    teeth.push([90.0, 94.0]);
    area(ink, "brass", &teeth);
}

/// A chime's wheel with a notch that only the hour lifts a lever out of.
pub(super) fn chime_corrects_itself(ink: &mut Ink) {
    let at = Point::new(42.0, 62.0);
    slotted(ink, at, 32.0, &[1, 2, 3, 4]);
    pivot(ink, at);
    arm(
        ink,
        &[
            Point::new(92.0, 40.0),
            Point::new(64.0, 14.0),
            Point::new(44.0, 24.0),
        ],
    );
    cam(ink, Point::new(82.0, 76.0), 15.0, 1);
}
