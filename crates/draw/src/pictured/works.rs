//! What the works are like: the count wheel, the hammers, the teeth, the fly.

use super::shapes::{
    MIDDLE, ROUND, area, arm, bell, block, hammer, moved, pinned, pivot, slotted, wheel,
};
use crate::ink::Ink;
use crate::tooth::{Shape, outline, polar, tooth};
use kurbo::{BezPath, Circle, Point, Shape as _, Vec2};
use std::f64::consts::{PI, TAU};

const SLOTS: [u16; 6] = [1, 2, 3, 4, 5, 6];

/// A small wheel of few teeth.
fn pinion(ink: &mut Ink, at: Point, radius: f64) {
    let leaves = 8_u16;
    let module = 2.0 * radius / f64::from(leaves + 2);
    let form = tooth(Shape::Leaf, f64::from(leaves), &[], 1.0);
    ink.path("steel", &moved(outline(&form, leaves, module), at));
    ink.circle("ink", at, 1.2);
}

/// A count wheel with teeth behind it, and a pinion in them.
pub(super) fn by_a_pinion(ink: &mut Ink) {
    let at = Point::new(40.0, 54.0);
    wheel(ink, at, 38.0);
    slotted(ink, at, 28.0, &SLOTS);
    pivot(ink, at);
    pinion(ink, Point::new(86.5, 54.0), 10.5);
}

/// A count wheel with a wheel of the same arbor in the great wheel's.
pub(super) fn from_the_great_wheel(ink: &mut Ink) {
    let (count, great) = (Point::new(30.0, 31.0), Point::new(62.0, 64.0));
    wheel(ink, great, 34.0);
    pinion(ink, great, 9.0);
    wheel(ink, count, 28.0);
    slotted(ink, count, 21.0, &SLOTS);
    pivot(ink, count);
}

/// A count wheel with a tooth for every blow, and the pin that moves it on.
pub(super) fn by_a_pin(ink: &mut Ink) {
    let at = Point::new(40.0, 54.0);
    wheel(ink, at, 36.0);
    slotted(ink, at, 26.0, &SLOTS);
    pivot(ink, at);
    let mover = Point::new(86.0, 54.0);
    ink.circle("brass", mover, 12.0);
    pivot(ink, mover);
    ink.circle("ink", mover - Vec2::new(9.5, 0.0), 2.4);
}

/// A count wheel before a wheel, both on one arbor of the train.
pub(super) fn on_the_train(ink: &mut Ink) {
    wheel(ink, MIDDLE, 44.0);
    slotted(ink, MIDDLE, 30.0, &SLOTS);
    pinion(ink, MIDDLE, 10.0);
}

/// A count wheel whose hours come once round, or twice.
pub(super) fn count_of(ink: &mut Ink, times: u16) {
    let hours: Vec<u16> = (0..times).flat_map(|_| 1..=12).collect();
    let radius = 44.0;
    slotted(ink, MIDDLE, radius, &hours);
    pivot(ink, MIDDLE);
}

/// A wheel with its teeth outside.
pub(super) fn teeth_outside(ink: &mut Ink) {
    wheel(ink, Point::new(40.0, 54.0), 36.0);
    pinion(ink, Point::new(85.0, 54.0), 11.0);
}

/// A ring with its teeth inside, and a pinion in it.
pub(super) fn teeth_inside_a_ring(ink: &mut Ink) {
    let mut ring = Circle::new(MIDDLE, 46.0).to_path(ROUND);
    let teeth = 40_u16;
    for n in 0..2 * teeth {
        let out = if n % 2 == 0 { 38.0 } else { 33.5 };
        let to = MIDDLE + polar(out, -TAU * f64::from(n) / f64::from(2 * teeth)).to_vec2();
        if n == 0 {
            ring.move_to(to);
        } else {
            ring.line_to(to);
        }
    }
    ring.close_path();
    ink.path("brass", &ring);
    pinion(ink, Point::new(50.0, 24.5), 11.0);
}

/// A fly with a wire near its vanes.
pub(super) fn fly_clear_of_a_wire(ink: &mut Ink) {
    block(ink, "brass", [12.0, 36.0], [88.0, 58.0]);
    block(ink, "steel", [44.0, 32.0], [56.0, 62.0]);
    pivot(ink, Point::new(50.0, 47.0));
    arm(
        ink,
        &[
            Point::new(92.0, 92.0),
            Point::new(94.0, 66.0),
            Point::new(80.0, 66.0),
        ],
    );
}

pub(super) fn one_hammer(ink: &mut Ink) {
    bell(ink, Point::new(62.0, 44.0), 28.0);
    hammer(ink, Point::new(14.0, 90.0), Point::new(28.0, 40.0));
}

pub(super) fn two_hammers(ink: &mut Ink) {
    bell(ink, Point::new(34.0, 38.0), 20.0);
    bell(ink, Point::new(74.0, 38.0), 16.0);
    hammer(ink, Point::new(30.0, 94.0), Point::new(24.0, 46.0));
    hammer(ink, Point::new(70.0, 94.0), Point::new(66.0, 46.0));
}

/// Two bellows with pipes, and a hammer.
pub(super) fn two_bellows(ink: &mut Ink) {
    for (x, high) in [(6.0, 26.0), (40.0, 12.0)] {
        area(
            ink,
            "brass",
            &[
                [x, 70.0],
                [x + 28.0, 60.0],
                [x + 28.0, 70.0],
                [x + 4.0, 76.0],
            ],
        );
        block(ink, "steel", [x + 17.0, high], [x + 27.0, 60.0]);
        block(ink, "plate", [x, 78.0], [x + 28.0, 92.0]);
    }
    hammer(ink, Point::new(84.0, 92.0), Point::new(86.0, 38.0));
}

/// A wheel on its arbor, as it is held there: the arbor's end seen from before.
fn on_an_arbor(ink: &mut Ink) {
    wheel(ink, MIDDLE, 44.0);
    ink.circle("paper", MIDDLE, 22.0);
}

pub(super) fn held_by_square(ink: &mut Ink) {
    on_an_arbor(ink);
    block(ink, "steel", [38.0, 38.0], [62.0, 62.0]);
    ink.circle("ink", MIDDLE, 2.4);
}

/// A collet with a spring washer of three legs.
pub(super) fn held_by_friction(ink: &mut Ink) {
    on_an_arbor(ink);
    for n in 0..3_u16 {
        let out = polar(20.0, TAU * f64::from(n) / 3.0 - PI / 2.0).to_vec2();
        arm(ink, &[MIDDLE, MIDDLE + out]);
    }
    ink.circle("steel", MIDDLE, 10.0);
    ink.circle("ink", MIDDLE, 2.4);
}

/// A collet with a screw from the side.
pub(super) fn held_by_screw(ink: &mut Ink) {
    on_an_arbor(ink);
    ink.circle("steel", MIDDLE, 12.0);
    block(ink, "brass", [60.0, 46.0], [80.0, 54.0]);
    block(ink, "brass", [80.0, 42.0], [86.0, 58.0]);
    ink.circle("ink", MIDDLE, 2.4);
}

/// A collet on a taper, seen from the side, with a pin through the arbor.
pub(super) fn held_by_a_taper(ink: &mut Ink) {
    area(
        ink,
        "steel",
        &[[4.0, 40.0], [96.0, 46.0], [96.0, 54.0], [4.0, 60.0]],
    );
    block(ink, "brass", [34.0, 30.0], [58.0, 70.0]);
    let mut pin = BezPath::new();
    pin.move_to((70.0, 24.0));
    pin.line_to((68.0, 78.0));
    super::shapes::wire(ink, "3.4", &pin);
}

/// Wheels with one or two pins opposite.
pub(super) fn with_pins(ink: &mut Ink, pins: u16) {
    let places: Vec<f64> = (0..pins).map(|n| PI * f64::from(n) - PI / 2.0).collect();
    pinned(ink, MIDDLE, 34.0, &places);
}
