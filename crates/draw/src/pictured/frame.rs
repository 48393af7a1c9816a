//! What holds the movement together, and what drives it.

use super::shapes::{area, block, wheel, wire, wound};
use crate::ink::Ink;
use kurbo::{BezPath, Point};

/// A pillar through a plate, seen from the side.
fn pillar(ink: &mut Ink) {
    block(ink, "brass", [38.0, 56.0], [62.0, 98.0]);
    block(ink, "plate", [4.0, 40.0], [96.0, 56.0]);
}

/// A taper pin through the pillar's end.
pub(super) fn with_pins(ink: &mut Ink) {
    pillar(ink);
    block(ink, "brass", [42.0, 14.0], [58.0, 42.0]);
    area(
        ink,
        "steel",
        &[[18.0, 28.0], [80.0, 30.0], [80.0, 35.0], [18.0, 37.0]],
    );
}

/// A nut on the pillar's thread.
pub(super) fn with_nuts(ink: &mut Ink) {
    pillar(ink);
    block(ink, "brass", [43.0, 8.0], [57.0, 42.0]);
    for n in 0..3_u16 {
        let y = 11.0 + 3.5 * f64::from(n);
        ink.line("line", Point::new(43.0, y), Point::new(57.0, y + 1.5));
    }
    block(ink, "steel", [30.0, 22.0], [70.0, 40.0]);
    ink.line("line", Point::new(43.0, 22.0), Point::new(43.0, 40.0));
    ink.line("line", Point::new(57.0, 22.0), Point::new(57.0, 40.0));
}

/// A screw with a slotted head.
pub(super) fn with_screws(ink: &mut Ink) {
    pillar(ink);
    area(
        ink,
        "steel",
        &[
            [32.0, 40.0],
            [32.0, 30.0],
            [38.0, 22.0],
            [47.0, 22.0],
            [47.0, 30.0],
            [53.0, 30.0],
            [53.0, 22.0],
            [62.0, 22.0],
            [68.0, 30.0],
            [68.0, 40.0],
        ],
    );
}

/// A cock on the plate, with two screws.
pub(super) fn a_small_cock(ink: &mut Ink) {
    block(ink, "plate", [4.0, 8.0], [96.0, 94.0]);
    area(
        ink,
        "brass",
        &[
            [22.0, 62.0],
            [22.0, 84.0],
            [78.0, 84.0],
            [78.0, 62.0],
            [60.0, 58.0],
            [58.0, 26.0],
            [42.0, 26.0],
            [40.0, 58.0],
        ],
    );
    ink.circle("ink", Point::new(50.0, 36.0), 3.0);
    for x in [32.0, 68.0] {
        ink.circle("steel", Point::new(x, 73.0), 6.0);
        ink.line("line", Point::new(x - 4.0, 73.0), Point::new(x + 4.0, 73.0));
    }
}

/// A barrel with its cover off.
pub(super) fn spring_in_a_barrel(ink: &mut Ink) {
    let at = Point::new(50.0, 50.0);
    wheel(ink, at, 46.0);
    ink.circle("steel", at, 37.0);
    ink.circle("paper", at, 34.0);
    wound(ink, at, [7.0, 33.0], 6);
    ink.circle("steel", at, 7.0);
}

/// A spring that stands open beside its wheel.
pub(super) fn open_spring(ink: &mut Ink) {
    let at = Point::new(44.0, 50.0);
    wound(ink, at, [7.0, 42.0], 5);
    ink.circle("steel", at, 7.0);
    block(ink, "brass", [84.0, 36.0], [92.0, 62.0]);
}

/// A fusee, its chain, and its barrel.
pub(super) fn fusee(ink: &mut Ink) {
    area(
        ink,
        "brass",
        &[
            [10.0, 84.0],
            [18.0, 52.0],
            [24.0, 30.0],
            [36.0, 30.0],
            [42.0, 52.0],
            [50.0, 84.0],
        ],
    );
    for n in 0..6_u16 {
        let y = 37.0 + 8.0 * f64::from(n);
        let half = 6.0 + 0.26 * (y - 30.0);
        ink.line(
            "line",
            Point::new(30.0 - half, y),
            Point::new(30.0 + half, y + 2.0),
        );
    }
    block(ink, "brass", [64.0, 34.0], [92.0, 84.0]);
    let mut chain = BezPath::new();
    chain.move_to((46.0, 70.0));
    chain.line_to((64.0, 46.0));
    wire(ink, "2", &chain);
    block(ink, "steel", [4.0, 84.0], [56.0, 91.0]);
}

/// A drum with its cord and weight.
pub(super) fn weight(ink: &mut Ink) {
    block(ink, "brass", [26.0, 8.0], [74.0, 36.0]);
    for n in 0..5_u16 {
        let x = 33.0 + 7.0 * f64::from(n);
        ink.line("line", Point::new(x, 8.0), Point::new(x, 36.0));
    }
    let mut cord = BezPath::new();
    cord.move_to((61.0, 36.0));
    cord.line_to((61.0, 56.0));
    wire(ink, "1.8", &cord);
    block(ink, "steel", [50.0, 56.0], [72.0, 96.0]);
}
