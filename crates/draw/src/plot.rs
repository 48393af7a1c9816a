//! One plot of plain quantities: lines with their bands, over a plain axis. What the quantities mean, and their words, come in as
//! arguments. No point is drawn by itself, and nothing is smoothed here.

use std::fmt::Write;

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

const WIDTH: f64 = 160.0;
const HEIGHT: f64 = 90.0;
const LEFT: f64 = 20.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 6.0;
const BOTTOM: f64 = 14.0;
/// Dark line, and the blue of tempered steel; told apart by a broken line too.
const INKS: [(&str, &str); 2] = [("#2b2b28", "none"), ("#2f4f8f", "2.4 1.2")];

/// An SVG file of some lines over common axes, in millimetres.
pub fn plot(lines: &[Inked], axes: Axes<'_>) -> String {
    let all = || lines.iter().flat_map(|line| &line.points);
    let (x0, x1) = span(all().map(|p| p.0));
    let (low, high) = (all().map(|p| p.1 - p.2), all().map(|p| p.1 + p.2));
    let (y0, y1) = span(low.chain(high));
    let x = |v: f64| LEFT + (v - x0) / (x1 - x0) * (WIDTH - LEFT - RIGHT);
    let y = |v: f64| HEIGHT - BOTTOM - (v - y0) / (y1 - y0) * (HEIGHT - TOP - BOTTOM);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" width=\"{WIDTH}mm\" height=\"{HEIGHT}mm\" font-family=\"serif\" font-size=\"3.4\" fill=\"#2b2b28\"><rect width=\"{WIDTH}\" height=\"{HEIGHT}\" fill=\"#f4f4f1\"/>"
    );
    let mut put = |text: std::fmt::Arguments<'_>| {
        // Writing to a string cannot fail.
        let _ = svg.write_fmt(text);
    };
    for v in marks(y0, y1) {
        put(format_args!(
            "<line x1=\"{LEFT}\" x2=\"{:.2}\" y1=\"{1:.2}\" y2=\"{1:.2}\" stroke=\"#2b2b28\" stroke-opacity=\"0.15\" stroke-width=\"0.2\"/>",
            WIDTH - RIGHT,
            y(v)
        ));
        put(format_args!(
            "<text x=\"{:.2}\" y=\"{:.2}\" text-anchor=\"end\">{}</text>",
            LEFT - 1.5,
            y(v) + 1.1,
            short(v)
        ));
    }
    for v in marks(x0, x1) {
        put(format_args!(
            "<line x1=\"{0:.2}\" x2=\"{0:.2}\" y1=\"{1:.2}\" y2=\"{2:.2}\" stroke=\"#2b2b28\" stroke-width=\"0.25\"/>",
            x(v),
            HEIGHT - BOTTOM,
            HEIGHT - BOTTOM + 1.2
        ));
        put(format_args!(
            "<text x=\"{:.2}\" y=\"{:.2}\" text-anchor=\"middle\">{}</text>",
            x(v),
            HEIGHT - BOTTOM + 5.0,
            short(v)
        ));
    }
    put(format_args!(
        "<path d=\"M{LEFT} {TOP}V{0:.2}H{1:.2}\" fill=\"none\" stroke=\"#2b2b28\" stroke-width=\"0.3\"/>",
        HEIGHT - BOTTOM,
        WIDTH - RIGHT
    ));
    for (line, (ink, broken)) in lines.iter().zip(INKS.iter().cycle()) {
        let there = line.points.iter().map(|p| (x(p.0), y(p.1 + p.2)));
        let back = line.points.iter().rev().map(|p| (x(p.0), y(p.1 - p.2)));
        put(format_args!(
            "<path d=\"{}Z\" fill=\"{ink}\" fill-opacity=\"0.16\"/>",
            path(there.chain(back))
        ));
        let middle = path(line.points.iter().map(|p| (x(p.0), y(p.1))));
        put(format_args!(
            "<path d=\"{middle}\" fill=\"none\" stroke=\"{ink}\" stroke-width=\"0.5\" stroke-dasharray=\"{broken}\"/>"
        ));
    }
    // Names at the ends of the lines, kept apart.
    let mut ends: Vec<(f64, &str, &str)> = (lines.iter().zip(INKS.iter().cycle()))
        .filter_map(|(line, (ink, _))| Some((y(line.points.last()?.1), &line.name[..], *ink)))
        .collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut lowest = f64::MIN;
    for (at, name, ink) in ends {
        let at = at.max(lowest + 4.0);
        lowest = at;
        put(format_args!(
            "<text x=\"{:.2}\" y=\"{:.2}\" fill=\"{ink}\">{}</text>",
            WIDTH - RIGHT + 1.5,
            at + 1.1,
            plain(name)
        ));
    }
    put(format_args!(
        "<text x=\"{:.2}\" y=\"{:.2}\" text-anchor=\"middle\">{}</text>",
        0.5 * (LEFT + WIDTH - RIGHT),
        HEIGHT - 3.0,
        plain(axes.along)
    ));
    put(format_args!(
        "<text transform=\"translate(5 {:.2}) rotate(-90)\" text-anchor=\"middle\">{}</text>",
        0.5 * (TOP + HEIGHT - BOTTOM),
        plain(axes.up)
    ));
    svg.push_str("</svg>\n");
    svg
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

fn path(points: impl Iterator<Item = (f64, f64)>) -> String {
    let mut d = String::new();
    for (k, (x, y)) in points.enumerate() {
        let _ = write!(d, "{}{x:.2} {y:.2}", if k == 0 { "M" } else { "L" });
    }
    d
}

fn plain(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}
