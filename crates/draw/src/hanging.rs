//! A pendulum as it hangs, to scale: where it bends, how far it swings, how long it is.

use crate::Drawing;
use crate::ink::{Ink, Tag};
use kurbo::{BezPath, Point, Rect, Vec2};
use quantity::{Length, Slant};

/// What is drawn.
#[derive(Debug, Clone)]
pub struct Hanging {
    /// From the bend of the suspension to the centre of swing.
    pub length: Length,
    /// How far it swings to one side; a mark of its own where that is not known.
    pub half_arc: Option<Slant>,
    /// The words at its length.
    pub words: String,
}

/// Draws a pendulum, its length told beside it.
pub fn hanging(what: &Hanging) -> Drawing {
    let long = what.length.as_mm().clamp(1.0, 1e5);
    let unit = long / 60.0;
    let top = Point::new(0.0, 0.0);
    let at =
        |deg: f64, far: f64| top + Vec2::new(deg.to_radians().sin(), deg.to_radians().cos()) * far;
    let mut ink = Ink::default();
    // The cock it hangs from.
    let cock = Rect::new(-6.0 * unit, -2.5 * unit, 6.0 * unit, -unit);
    let mut edge = BezPath::new();
    edge.move_to((cock.x0, cock.y0));
    for corner in [(cock.x1, cock.y0), (cock.x1, cock.y1), (cock.x0, cock.y1)] {
        edge.line_to(corner);
    }
    edge.close_path();
    ink.path("brass", &edge);
    ink.line("fine", Point::new(0.0, -unit), top);
    let half = what.half_arc.map(|half| half.as_deg().clamp(0.0, 80.0));
    if let Some(half) = half {
        let mut arc = BezPath::new();
        for i in 0..=24_i32 {
            let to = at(half * f64::from(i - 12) / 12.0, long);
            if i == 0 {
                arc.move_to(to);
            } else {
                arc.line_to(to);
            }
        }
        ink.path("dash", &arc);
        for side in [-half, half] {
            ink.line("dash", top, at(side, long));
        }
    }
    let low = at(0.0, long);
    ink.line("line", top, low);
    ink.circle("brass", low, 3.5 * unit);
    ink.circle("ink", top, 0.4 * unit);
    ink.circle("ink", low, 0.4 * unit);
    // How long it is.
    let out = 9.0 * unit;
    ink.line("fine", Point::new(unit, 0.0), Point::new(out + unit, 0.0));
    ink.line("fine", Point::new(unit, long), Point::new(out + unit, long));
    ink.line("line", Point::new(out, 0.0), Point::new(out, long));
    let middle = Point::new(out + 1.5 * unit, long / 2.0);
    ink.text(
        &Tag::new("text", "legend").point(["x", "y"], middle),
        &what.words,
    );
    let wide = half.map_or(0.0, |half| half.to_radians().sin() * long);
    let letters = 2.6 * unit;
    let text = f64::from(u16::try_from(what.words.chars().count()).unwrap_or(200)) * 0.5 * letters;
    Drawing {
        class: "hanging",
        frame: Rect::new(
            -(wide + 5.0 * unit).max(8.0 * unit),
            -5.0 * unit,
            (middle.x + text).max(wide + 5.0 * unit),
            long + 6.0 * unit,
        ),
        letters,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}
