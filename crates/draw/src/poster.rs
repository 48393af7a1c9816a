//! A drawing with lines of words under it, to hang by the bench.

use crate::Drawing;
use crate::ink::{Ink, Tag};
use kurbo::{Point, Rect};

/// The size of the lines, in that of the drawing's letters.
const SMALL: f64 = 0.72;
/// From line to line, in heights of their letters.
const LEADING: f64 = 1.3;
/// Mean width of a letter, in the same.
const WIDTH: f64 = 0.46;

/// A heading over a drawing and lines of words beneath it, each broken where the drawing ends.
pub fn poster(drawing: &Drawing, heading: &str, lines: &[String]) -> Drawing {
    let letters = drawing.letters;
    let frame = drawing.frame;
    let small = SMALL * letters;
    let wide = (frame.width() / (WIDTH * small)).floor().max(20.0);
    let mut ink = Ink::default();
    let row = LEADING * small;
    ink.text(
        &Tag::new("text", "heading").point(
            ["x", "y"],
            Point::new(frame.center().x, frame.y0 - letters / 2.0),
        ),
        heading,
    );
    let mut y = frame.y1;
    for line in lines {
        for (i, part) in broken(line, wide).into_iter().enumerate() {
            y += row;
            let x = frame.x0 + small * if i == 0 { 0.5 } else { 1.8 };
            ink.text(
                &Tag::new("text", "legend under").point(["x", "y"], Point::new(x, y)),
                &part,
            );
        }
    }
    Drawing {
        class: drawing.class,
        frame: Rect::new(frame.x0, frame.y0 - 1.8 * letters, frame.x1, y + row),
        letters,
        body: drawing.whole() + &ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}

/// A line in parts of at most so many letters.
fn broken(line: &str, wide: f64) -> Vec<String> {
    let mut parts = vec![String::new()];
    for word in line.split(' ') {
        let last = parts.last().map_or(0, |part| part.chars().count());
        let long = f64::from(u32::try_from(last + 1 + word.chars().count()).unwrap_or(u32::MAX));
        match parts.last_mut() {
            Some(part) if last == 0 || long <= wide => {
                if last > 0 {
                    part.push(' ');
                }
                part.push_str(word);
            }
            _ => parts.push(word.to_owned()),
        }
    }
    parts
}
