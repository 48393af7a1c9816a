//! A weight on its drum, to scale: how it hangs and how far it falls.

use crate::Drawing;
use crate::ink::{Ink, Tag};
use kurbo::{BezPath, Point, Rect};
use quantity::Length;

/// What is drawn.
#[derive(Debug, Clone)]
pub struct Falling {
    /// Across the drum.
    pub drum: Length,
    /// How far it falls.
    pub fall: Length,
    /// Whether it hangs on double cord.
    pub pulley: bool,
    /// Words: at the fall, and at the drum.
    pub words: [String; 2],
}

/// Draws a weight high and, broken, where it comes to.
pub fn falling(what: &Falling) -> Drawing {
    let drum = what.drum.as_mm().clamp(1.0, 1e4) / 2.0;
    let fall = what.fall.as_mm().clamp(1.0, 1e5);
    let unit = fall.max(4.0 * drum) / 40.0;
    let mut ink = Ink::default();
    ink.circle("brass", Point::ORIGIN, drum);
    ink.circle("ink", Point::ORIGIN, (0.2 * drum).min(unit));
    let side = drum.max(1.5 * unit);
    let (high, wide, tall) = (drum + 4.0 * unit, 1.6 * unit, 5.0 * unit);
    let weight = |top: f64| {
        let mut path = BezPath::new();
        path.move_to((side - wide, top));
        for corner in [
            (side + wide, top),
            (side + wide, top + tall),
            (side - wide, top + tall),
        ] {
            path.line_to(corner);
        }
        path.close_path();
        path
    };
    let cords: &[f64] = if what.pulley { &[-0.6, 0.6] } else { &[0.0] };
    for off in cords {
        let x = side + off * unit;
        ink.line(
            "line",
            Point::new(x, if *off > 0.0 { -drum } else { 0.0 }),
            Point::new(x, high),
        );
        ink.line(
            "dash",
            Point::new(x, high + tall),
            Point::new(x, high + fall),
        );
    }
    ink.path("steel", &weight(high));
    ink.path("ghost", &weight(high + fall));
    let out = side + 5.0 * unit;
    for y in [high, high + fall] {
        ink.line(
            "fine",
            Point::new(side + 2.0 * unit, y),
            Point::new(out + unit, y),
        );
    }
    ink.line("line", Point::new(out, high), Point::new(out, high + fall));
    let at = Point::new(out + unit, high + fall / 2.0);
    ink.text(
        &Tag::new("text", "legend").point(["x", "y"], at),
        &what.words[0],
    );
    let at = Point::new(drum + 2.0 * unit + side, -drum / 2.0);
    ink.text(
        &Tag::new("text", "legend").point(["x", "y"], at),
        &what.words[1],
    );
    let letters = 1.8 * unit;
    let long = what
        .words
        .iter()
        .map(|w| w.chars().count())
        .max()
        .unwrap_or(0);
    let text = f64::from(u16::try_from(long).unwrap_or(200)) * 0.5 * letters;
    Drawing {
        class: "falling",
        frame: Rect::new(
            -drum - 2.0 * unit,
            -drum - 3.0 * unit,
            out + 2.0 * unit + text,
            high + fall + tall + 2.0 * unit,
        ),
        letters,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}
