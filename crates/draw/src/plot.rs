//! One plot of plain quantities: lines with their bands, over a plain axis. What the quantities mean, and their words, come in as
//! arguments. No point is drawn by itself, and nothing is smoothed here.

use crate::ink::{Drawing, Ink, Tag};
use kurbo::{BezPath, Point, Rect};

/// A line with a band about it, drawn in its own ink.
#[derive(Debug, Clone, PartialEq)]
pub struct Inked {
    /// What it is, written at its end.
    pub name: String,
    /// Place along, middle, half the width of the band.
    pub points: Vec<(f64, f64, f64)>,
}

/// Words on the axes.
#[derive(Debug, Clone, Copy)]
pub struct Axes<'a> {
    /// Along.
    pub along: &'a str,
    /// Up.
    pub up: &'a str,
}

const WIDTH: f64 = 132.0;
const HEIGHT: f64 = 84.0;
const LEFT: f64 = 21.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 6.0;
const BOTTOM: f64 = 15.0;
const LETTERS: f64 = 3.6;
/// Dark line, and the blue of tempered steel; told apart by a broken line too.
const INKS: [&str; 2] = ["first", "second"];

/// Some lines over common axes, in millimetres.
pub fn plot(lines: &[Inked], axes: Axes<'_>) -> Drawing {
    let all = || lines.iter().flat_map(|line| &line.points);
    let (x0, x1) = span(all().map(|p| p.0));
    let (low, high) = (all().map(|p| p.1 - p.2), all().map(|p| p.1 + p.2));
    let (y0, y1) = span(low.chain(high));
    let x = |v: f64| LEFT + (v - x0) / (x1 - x0) * (WIDTH - LEFT - RIGHT);
    let y = |v: f64| HEIGHT - BOTTOM - (v - y0) / (y1 - y0) * (HEIGHT - TOP - BOTTOM);
    let (foot, end) = (HEIGHT - BOTTOM, WIDTH - RIGHT);
    let mut ink = Ink::default();
    let put = |ink: &mut Ink, class: &str, at: Point, text: &str| {
        ink.text(&Tag::new("text", class).point(["x", "y"], at), text);
    };
    for v in marks(y0, y1) {
        ink.line("rule", Point::new(LEFT, y(v)), Point::new(end, y(v)));
        put(&mut ink, "up", Point::new(LEFT - 1.5, y(v)), &short(v));
    }
    for v in marks(x0, x1) {
        ink.line("line", Point::new(x(v), foot), Point::new(x(v), foot + 1.2));
        put(&mut ink, "along", Point::new(x(v), foot + 4.2), &short(v));
    }
    let mut frame = BezPath::new();
    frame.move_to((LEFT, TOP));
    frame.line_to((LEFT, foot));
    frame.line_to((end, foot));
    ink.path("line", &frame);
    for (line, name) in lines.iter().zip(INKS.iter().cycle()) {
        let there = line.points.iter().map(|p| (x(p.0), y(p.1 + p.2)));
        let back = line.points.iter().rev().map(|p| (x(p.0), y(p.1 - p.2)));
        let mut band = through(there.chain(back));
        band.close_path();
        ink.path(&format!("within {name}"), &band);
        let middle = through(line.points.iter().map(|p| (x(p.0), y(p.1))));
        ink.path(&format!("run {name}"), &middle);
    }
    // Names at the ends of the lines, kept apart.
    let mut ends: Vec<(f64, &str, &str)> = (lines.iter().zip(INKS.iter().cycle()))
        .filter_map(|(line, ink)| Some((y(line.points.last()?.1), &line.name[..], *ink)))
        .collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut lowest = f64::MIN;
    for (at, name, class) in ends {
        let at = at.max(lowest + 1.25 * LETTERS);
        lowest = at;
        put(
            &mut ink,
            &format!("end {class}"),
            Point::new(end + 1.5, at),
            name,
        );
    }
    let middle = Point::new(0.5 * (LEFT + end), HEIGHT - 4.0);
    put(&mut ink, "axis", middle, axes.along);
    let tag = Tag::new("text", "axis").with(
        "transform",
        &format!("translate(4.5 {:.2}) rotate(-90)", 0.5 * (TOP + foot)),
    );
    ink.text(&tag, axes.up);
    Drawing {
        class: "plot",
        frame: Rect::new(0.0, 0.0, WIDTH, HEIGHT),
        letters: LETTERS,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}

/// From the least to the most, and a little where they are the same.
fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let (low, high) = values.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
    if low > high {
        (0.0, 1.0)
    } else if high - low < 1e-9 {
        (low - 0.5, high + 0.5)
    } else {
        (low, high)
    }
}

/// Round numbers, four to nine of them.
fn marks(low: f64, high: f64) -> Vec<f64> {
    let rough = (high - low) / 5.0;
    let ten = 10.0_f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .iter()
        .map(|k| k * ten)
        .find(|s| *s >= rough)
        .unwrap_or(10.0 * ten);
    let first = (low / step).ceil();
    (0..10)
        .map(|k| (first + f64::from(k)) * step)
        .take_while(|v| *v <= high + 1e-9 * step)
        .collect()
}

fn short(v: f64) -> String {
    let text = format!("{v:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.replace('-', "−")
    }
}

fn through(points: impl Iterator<Item = (f64, f64)>) -> BezPath {
    let mut path = BezPath::new();
    for (k, at) in points.enumerate() {
        if k == 0 {
            path.move_to(at);
        } else {
            path.line_to(at);
        }
    }
    path
}
