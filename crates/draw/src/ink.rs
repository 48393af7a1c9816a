//! SVG text: tags, numbers and paths, and the style sheet that goes with them. No colour is written into a drawing.

use crate::anchor::Anchor;
use kurbo::{BezPath, PathEl, Point, Rect};
use std::fmt::Write;

/// Rules for all drawings. They take their colours from the custom properties of [`PALETTE`], and every width from the
/// size of the drawing's own letters, so that a page may put them in its style sheet once.
pub const STYLE: &str = include_str!("style.css");

/// Colours by day and by night, as custom properties of `.drawing`; a page may set its own instead.
pub const PALETTE: &str = include_str!("palette.css");

/// A drawing, in user units that are millimetres for a movement and hundredths of its width for a loupe.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    pub(crate) class: &'static str,
    pub(crate) frame: Rect,
    pub(crate) letters: f64,
    pub(crate) body: String,
    /// The arrows over it, one for each lift.
    pub(crate) arrows: Vec<String>,
    /// Where things are in it.
    pub(crate) anchors: Vec<Anchor>,
}

impl Drawing {
    /// Width divided by height.
    pub fn aspect(&self) -> f64 {
        self.frame.width() / self.frame.height()
    }

    /// The height of its letters in user units.
    pub fn letters(&self) -> f64 {
        self.letters
    }

    /// Where things are in it. Arrows stand in the order of the lifts; a lift that nothing is drawn for has none.
    pub fn anchors(&self) -> &[Anchor] {
        &self.anchors
    }

    /// Width and height in user units: millimetres, for a movement.
    pub fn size_mm(&self) -> (f64, f64) {
        (self.frame.width(), self.frame.height())
    }

    /// As [`svg`](Drawing::svg), so wide and so high on paper, in millimetres.
    pub fn svg_sized(&self, wide_mm: f64, high_mm: f64) -> String {
        let (wide, high) = (number(wide_mm), number(high_mm));
        let sized = format!("<svg width=\"{wide}mm\" height=\"{high}mm\" ");
        self.svg().replacen("<svg ", &sized, 1)
    }

    /// An `svg` element to stand in a page that carries [`STYLE`] and colours.
    pub fn svg(&self) -> String {
        self.written("", &self.whole())
    }

    /// The same in groups that may be shown again elsewhere on the page: all but the arrows as `ID`, and each arrow as `ID-1`,
    /// `ID-2` and on. Each is a drawing of its own, as rules for what is shown again see nothing around it.
    pub fn svg_in_groups(&self, id: &str) -> String {
        let group = |id: &str, body: &str| format!("<g id=\"{id}\" class=\"drawing\">{body}</g>");
        let arrows =
            (self.arrows.iter().zip(1..)).map(|(arrow, n)| group(&format!("{id}-{n}"), arrow));
        let body: String = std::iter::once(group(id, &self.body))
            .chain(arrows)
            .collect();
        self.written("", &body)
    }

    /// A file of its own whose millimetres are those of a rule laid on the paper.
    pub fn file_to_scale(&self) -> String {
        let size = format!(
            "<svg width=\"{}mm\" height=\"{}mm\" ",
            number(self.frame.width()),
            number(self.frame.height())
        );
        self.file().replacen("<svg ", &size, 1)
    }

    /// A file of its own, with style and colours in it.
    pub fn file(&self) -> String {
        self.written(&format!("<style>{PALETTE}{STYLE}</style>"), &self.whole())
    }

    /// All of it, the arrows last.
    pub(crate) fn whole(&self) -> String {
        let arrows = self.arrows.iter().map(String::as_str);
        std::iter::once(self.body.as_str()).chain(arrows).collect()
    }

    fn written(&self, style: &str, body: &str) -> String {
        let f = self.frame;
        let numbers = [f.x0, f.y0, f.width(), f.height()].map(number).join(" ");
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"drawing {}\" viewBox=\"{numbers}\" font-size=\"{}\">{style}{}</svg>",
            self.class,
            number(self.letters),
            body
        )
    }
}

/// A number to a hundredth, as short as it can be written.
pub(crate) fn number(x: f64) -> String {
    trimmed(format!("{x:.2}"))
}

/// An angle to a thousandth of a degree: at the rim of the largest wheel that is finer than a hundredth of a millimetre.
pub(crate) fn degrees(x: f64) -> String {
    trimmed(format!("{x:.3}"))
}

fn trimmed(text: String) -> String {
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    };
    match text.as_str() {
        "-0" | "" => "0".to_owned(),
        _ => match text.strip_prefix("-0.") {
            Some(rest) => format!("-.{rest}"),
            None => match text.strip_prefix("0.") {
                Some(rest) => format!(".{rest}"),
                None => text,
            },
        },
    }
}

/// The `d` of a path: relative to the last point as it was rounded, so that rounding does not add up.
pub(crate) fn path(path: &BezPath) -> String {
    let round = |p: Point| Point::new((p.x * 100.0).round() / 100.0, (p.y * 100.0).round() / 100.0);
    let mut out = String::new();
    let mut here = Point::ZERO;
    let mut start = Point::ZERO;
    for el in path.elements() {
        let (letter, points): (char, &[Point]) = match el {
            PathEl::MoveTo(p) => ('M', &[*p]),
            PathEl::LineTo(p) => ('l', &[*p]),
            PathEl::QuadTo(a, p) => ('q', &[*a, *p]),
            PathEl::CurveTo(a, b, p) => ('c', &[*a, *b, *p]),
            PathEl::ClosePath => {
                out.push('z');
                here = start;
                continue;
            }
        };
        out.push(letter);
        let from = if letter == 'M' { Point::ZERO } else { here };
        let mut first = true;
        for p in points {
            let off = round(*p) - from;
            for x in [off.x, off.y] {
                let text = number(x);
                if !first && !text.starts_with('-') {
                    out.push(' ');
                }
                out.push_str(&text);
                first = false;
            }
        }
        here = round(points[points.len() - 1]);
        if letter == 'M' {
            start = here;
        }
    }
    out
}

/// SVG being written.
#[derive(Debug, Default)]
pub(crate) struct Ink {
    pub(crate) out: String,
}

/// One tag with its attributes.
#[derive(Debug)]
pub(crate) struct Tag {
    name: &'static str,
    attributes: String,
}

impl Tag {
    pub(crate) fn new(name: &'static str, class: &str) -> Tag {
        let tag = Tag {
            name,
            attributes: String::new(),
        };
        if class.is_empty() {
            tag
        } else {
            tag.with("class", class)
        }
    }

    pub(crate) fn with(mut self, key: &str, value: &str) -> Tag {
        self.attributes.push(' ');
        self.attributes.push_str(key);
        self.attributes.push_str("=\"");
        for c in value.chars() {
            match c {
                '&' => self.attributes.push_str("&amp;"),
                '<' => self.attributes.push_str("&lt;"),
                '"' => self.attributes.push_str("&quot;"),
                c => self.attributes.push(c),
            }
        }
        self.attributes.push('"');
        self
    }

    pub(crate) fn num(self, key: &str, value: f64) -> Tag {
        self.with(key, &number(value))
    }

    pub(crate) fn point(self, [x, y]: [&str; 2], p: Point) -> Tag {
        self.num(x, p.x).num(y, p.y)
    }

    pub(crate) fn shift(self, p: Point) -> Tag {
        let shift = format!("translate({} {})", number(p.x), number(p.y));
        self.with("transform", &shift)
    }

    /// Rotated about the origin, clockwise on the screen.
    pub(crate) fn turned(self, radians: f64) -> Tag {
        let turned = format!("rotate({})", degrees(radians.to_degrees()));
        self.with("transform", &turned)
    }
}

impl Ink {
    pub(crate) fn open(&mut self, tag: &Tag) {
        let _ = write!(self.out, "<{}{}>", tag.name, tag.attributes);
    }

    pub(crate) fn close(&mut self, name: &str) {
        let _ = write!(self.out, "</{name}>");
    }

    pub(crate) fn empty(&mut self, tag: &Tag) {
        let _ = write!(self.out, "<{}{}/>", tag.name, tag.attributes);
    }

    pub(crate) fn path(&mut self, class: &str, d: &BezPath) {
        self.empty(&Tag::new("path", class).with("d", &path(d)));
    }

    pub(crate) fn circle(&mut self, class: &str, centre: Point, radius: f64) {
        let tag = Tag::new("circle", class);
        self.empty(&tag.point(["cx", "cy"], centre).num("r", radius));
    }

    pub(crate) fn line(&mut self, class: &str, from: Point, to: Point) {
        let tag = Tag::new("line", class);
        self.empty(&tag.point(["x1", "y1"], from).point(["x2", "y2"], to));
    }

    pub(crate) fn text(&mut self, tag: &Tag, text: &str) {
        self.open(tag);
        for c in text.chars() {
            match c {
                '&' => self.out.push_str("&amp;"),
                '<' => self.out.push_str("&lt;"),
                c => self.out.push(c),
            }
        }
        self.close(tag.name);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_to_a_hundredth() {
        for (x, text) in [
            (0.0, "0"),
            (-0.001, "0"),
            (0.5, ".5"),
            (-0.25, "-.25"),
            (12.0, "12"),
            (100.0, "100"),
            (1.005_001, "1.01"),
            (-3.1, "-3.1"),
        ] {
            assert_eq!(number(x), text);
        }
    }

    #[test]
    fn rounding_does_not_add_up_along_a_path() {
        let mut long = BezPath::new();
        long.move_to((0.0, 0.0));
        for i in 1..=1000 {
            long.line_to((f64::from(i) * 0.0149, 0.0));
        }
        let d = path(&long);
        let read = BezPath::from_svg(&d).unwrap();
        let end = read.elements().last().unwrap().end_point().unwrap();
        assert!((end.x - 14.9).abs() < 0.006, "{end:?}");
    }
}
