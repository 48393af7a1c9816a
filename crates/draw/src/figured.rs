//! Where figures and names stand on the drawing of a movement that is counted: each figure on its own part, where nothing else
//! lies, and no two words over one another.

use crate::counting::{CountMarks, CountShown, DrawnAs, LETTERS};
use crate::ink::{Ink, Tag};
use crate::pitch::Sized;
use crate::view::{EDGE, Sight};
use kurbo::{Point, Rect, Vec2};
use movement::ArborId;
use std::f64::consts::{PI, TAU};

/// Height of a figure, of the one that is asked for, and of a name, in heights of the drawing's letters; the style sheet has the same.
const FIGURE: f64 = 1.35;
const ASKED: f64 = 1.9;
const NAME: f64 = 1.0;
/// Mean width of a letter, in heights of letters.
const WIDTH: f64 = 0.5;
/// Angles tried round a middle.
const AROUND: u32 = 36;

/// A toothed part as it takes up room.
struct Body {
    arbor: ArborId,
    at: Point,
    /// Within this radius there are no teeth.
    root: f64,
    outer: f64,
    /// Whether it is a pinion, whose figure stands in its middle.
    small: bool,
    /// Whether it only is a circle, on which words may lie but not across its line.
    dotted: bool,
    /// How near it lies.
    level: i32,
}

/// Words and what they must keep clear of.
pub(crate) struct Figures<'a> {
    sight: &'a Sight<'a>,
    marks: &'a CountMarks<'a>,
    bodies: Vec<Body>,
    taken: Vec<Rect>,
    frame: Rect,
}

/// What is to be placed.
struct Word<'a> {
    text: &'a str,
    class: String,
    half: Vec2,
}

impl<'a> Figures<'a> {
    pub(crate) fn of(sight: &'a Sight<'a>, marks: &'a CountMarks<'a>) -> Figures<'a> {
        let layout = sight.layout;
        let over = if sight.turned_over() { -1 } else { 1 };
        let bodies = (marks.parts.iter())
            .map(|shown| {
                let sized = layout.pitches.part(shown.part);
                let [root, tip] = [sized.tooth.root, sized.tooth.tip].map(|r| r * sized.module);
                Body {
                    arbor: shown.part.arbor,
                    at: sight.centre(shown.part.arbor),
                    root: root.min(tip),
                    outer: sized.outer(),
                    small: is_small(sight, sized),
                    dotted: matches!(shown.drawn, DrawnAs::Dotted | DrawnAs::Hatched),
                    level: over * layout.levels[layout.pitches.index(shown.part)],
                }
            })
            .collect();
        let room = EDGE * sight.unit();
        Figures {
            sight,
            marks,
            bodies,
            taken: Vec::new(),
            frame: sight.bounds().inflate(room, room),
        }
    }

    fn letters(&self) -> f64 {
        LETTERS * self.sight.unit()
    }

    fn half(&self, text: &str, height: f64) -> Vec2 {
        let letters = f64::from(u16::try_from(text.chars().count()).unwrap_or(40));
        Vec2::new(letters * WIDTH + 0.15, 0.86) * (height * self.letters() / 2.0)
    }

    /// Writes the figure of every part and the name of every arbor.
    pub(crate) fn draw(&mut self, ink: &mut Ink) {
        let mut order: Vec<usize> = (0..self.marks.parts.len()).collect();
        let shown = |i: usize| &self.marks.parts[i];
        // The one that is asked for has the first choice; then pinions, which have the least room, in the order of the sheet, so that the
        // one that is driven stands in the middle of its arbor.
        order.sort_by_key(|&i| {
            (
                self.marks.asked != Some(shown(i).part),
                !self.bodies[i].small,
            )
        });
        for i in order {
            let shown = &self.marks.parts[i];
            let asked = self.marks.asked == Some(shown.part);
            if asked || !shown.figure.is_empty() {
                self.figure(ink, i, shown, asked);
            }
        }
        let mut arbors: Vec<ArborId> = (self.sight.movement.arbors())
            .map(|(id, _)| id)
            .filter(|id| self.marks.parts.iter().any(|shown| shown.part.arbor == *id))
            .collect();
        let asked = self.marks.asked.map(|part| part.arbor);
        arbors.sort_by(|&a, &b| {
            let late = |id: ArborId| asked != Some(id);
            let outer = |id: ArborId| self.sight.layout.toothed(id);
            (late(a).cmp(&late(b))).then(outer(a).total_cmp(&outer(b)))
        });
        for arbor in arbors {
            self.name(ink, arbor, asked == Some(arbor));
        }
    }

    fn figure(&mut self, ink: &mut Ink, i: usize, shown: &CountShown, asked: bool) {
        let height = if asked { ASKED } else { FIGURE };
        // Room is kept for what is still to be typed.
        let widest = if asked { "00" } else { &shown.figure };
        let widest = if shown.figure.len() > widest.len() {
            &shown.figure
        } else {
            widest
        };
        let half = self.half(widest, height);
        let body = &self.bodies[i];
        let (middle, led) = if body.small {
            self.beside_or_on(i, half)
        } else {
            (self.on_wheel(i, half), false)
        };
        if led {
            let edge = edge_towards(middle, half, body.at);
            let to = body.at + (edge - body.at).normalize() * (0.5 * body.outer);
            ink.line(if asked { "leader blue-thin" } else { "leader" }, edge, to);
        }
        let movement = self.sight.movement;
        let mut tag = Tag::new("text", if asked { "figure asked" } else { "figure" })
            .with("data-arbor", &movement.arbor(shown.part.arbor).id)
            .with("data-part", &movement.part(shown.part).name)
            .point(["x", "y"], middle);
        if asked {
            tag = tag.with("id", "asked-figure");
        }
        ink.text(&tag, &shown.figure);
        self.taken.push(around(middle, half));
    }

    /// What a place costs for a word that lies on other parts than its own, `beside` already counted; nothing where that comes to
    /// `enough`, as it mostly does early: a place is looked at only until it is known to be no better than the best so far.
    fn over(&self, own: usize, frame: Rect, beside: f64, enough: f64) -> Option<f64> {
        let mut cost = beside + self.clash(frame);
        for p in grid(frame) {
            if cost >= enough {
                return None;
            }
            for (i, body) in self.bodies.iter().enumerate().filter(|(i, _)| *i != own) {
                let far = p.distance(body.at);
                if far > body.outer {
                    continue;
                }
                let before = body.level < self.bodies[own].level;
                cost += match (body.arbor == self.bodies[own].arbor, body.dotted) {
                    (true, _) if body.outer > self.bodies[own].outer => 0.0,
                    (true, _) => 4.0,
                    (false, true) => 0.8,
                    (false, false) if before => 4.0,
                    (false, false) => 1.4,
                };
                let on_line = far > 0.86 * body.root || (body.small && i != own);
                cost += if on_line { 1.2 } else { 0.0 };
            }
        }
        (cost < enough).then_some(cost)
    }

    fn clash(&self, frame: Rect) -> f64 {
        // Two figures side by side must not read as one.
        let (beside, above) = (0.45 * self.letters(), 0.1 * self.letters());
        let met = (self.taken.iter())
            .map(|taken| taken.inflate(beside, above).intersect(frame))
            .filter(|both| both.width() > 0.0 && both.height() > 0.0);
        let inside = frame.intersect(self.frame).area().max(0.0) / frame.area().max(1e-9);
        200.0 * f64::from(u16::try_from(met.count()).unwrap_or(u16::MAX)) + 400.0 * (1.0 - inside)
    }

    /// A place on a wheel within its teeth and beside its middle, where no other part lies if there is one.
    fn on_wheel(&self, i: usize, half: Vec2) -> Point {
        /// Where a figure stands that has the choice: below and to the left.
        const HOME: f64 = 0.72 * PI;
        let body = &self.bodies[i];
        let mut best = (f64::INFINITY, body.at);
        for part in [0.58, 0.46, 0.7, 0.34, 0.82] {
            for n in 0..AROUND {
                let angle = TAU * f64::from(n) / f64::from(AROUND);
                let middle = body.at + Vec2::from_angle(angle) * (part * body.root);
                let frame = around(middle, half);
                let out = (grid(frame).filter(|p| p.distance(body.at) > 0.97 * body.root)).count();
                let beside = 3.0 * f64::from(u16::try_from(out).unwrap_or(u16::MAX))
                    + 2.0 * (1.0 - (angle - HOME).cos())
                    + 3.0 * (part - 0.58_f64).abs();
                if let Some(cost) = self.over(i, frame, beside, best.0) {
                    best = (cost, middle);
                }
            }
        }
        best.1
    }

    /// The middle of a pinion if its figure has room there, else a place beside it, to which a line leads.
    fn beside_or_on(&self, i: usize, half: Vec2) -> (Point, bool) {
        let body = &self.bodies[i];
        let mut best = (f64::INFINITY, body.at, false);
        let fits = half.hypot() < 1.25 * body.outer;
        let middle = self.clash(around(body.at, half));
        if fits && middle < 1.0 {
            return (body.at, false);
        }
        for gap in [0.25, 0.8, 1.5, 2.4, 3.4] {
            for n in 0..AROUND {
                let out = Vec2::from_angle(TAU * f64::from(n) / f64::from(AROUND));
                let reach = (half.x / out.x.abs().max(1e-6)).min(half.y / out.y.abs().max(1e-6));
                let middle = body.at + out * (body.outer + gap * self.letters() + reach);
                let frame = around(middle, half);
                if let Some(cost) = self.over(i, frame, 2.0 * gap, best.0) {
                    best = (cost, middle, true);
                }
            }
        }
        (best.1, best.2)
    }

    fn name(&mut self, ink: &mut Ink, arbor: ArborId, asked: bool) {
        let id = &self.sight.movement.arbor(arbor).id;
        // As it is said: ids have no spaces.
        let text = id.replace('_', " ");
        let word = Word {
            text: &text,
            class: if asked { "name blue-fill" } else { "name" }.to_owned(),
            half: self.half(&text, NAME),
        };
        let centre = self.sight.centre(arbor);
        let own: Vec<&Body> = (self.bodies.iter().filter(|b| b.arbor == arbor)).collect();
        let outer = own.iter().map(|b| b.outer).fold(0.0, f64::max);
        let middle = self.beside(arbor, outer, word.half);
        ink.open(
            &Tag::new("g", if asked { "named lift" } else { "named" })
                .with("id", &format!("name-{id}"))
                .with("data-arbor", id),
        );
        let edge = edge_towards(middle, word.half, centre);
        let far = edge.distance(centre);
        if far > outer + 0.2 * self.letters() {
            let to = centre + (edge - centre) * (outer / far);
            ink.line("leader", edge, to);
        }
        ink.text(
            &Tag::new("text", &word.class).point(["x", "y"], middle),
            word.text,
        );
        ink.close("g");
        self.taken.push(around(middle, word.half));
    }

    /// A place for the name of an arbor: beside all that turns, as near to its own as may be.
    fn beside(&self, arbor: ArborId, outer: f64, half: Vec2) -> Point {
        let centre = self.sight.centre(arbor);
        let mut best = (f64::INFINITY, centre);
        for gap in [0.25, 0.7, 1.4, 2.4, 3.6, 5.0] {
            for n in 0..AROUND {
                let out = Vec2::from_angle(TAU * f64::from(n) / f64::from(AROUND));
                let reach = (half.x / out.x.abs().max(1e-6)).min(half.y / out.y.abs().max(1e-6));
                let middle = centre + out * (outer + gap * self.letters() + reach);
                let frame = around(middle, half);
                let nearest = (self.bodies.iter())
                    .filter(|body| body.arbor != arbor)
                    .map(|body| middle.distance(body.at) - body.outer)
                    .fold(f64::INFINITY, f64::min);
                let own = middle.distance(centre) - outer;
                let mut cost =
                    self.clash(frame) + 2.2 * gap + 1.5 * (own - nearest).max(0.0) / self.letters();
                for p in grid(frame) {
                    if cost >= best.0 {
                        break;
                    }
                    for body in &self.bodies {
                        let far = p.distance(body.at);
                        if far < body.outer + 0.15 * self.letters() {
                            cost += if far > 0.86 * body.root { 3.0 } else { 1.5 };
                        }
                    }
                }
                if cost < best.0 {
                    best = (cost, middle);
                }
            }
        }
        best.1
    }
}

/// Whether a part is a pinion beside something larger on its arbor, or small in itself.
fn is_small(sight: &Sight<'_>, sized: &Sized) -> bool {
    let widest = sight.layout.pitches.outer(sized.id.arbor);
    sized.outer() < 0.5 * widest || sized.outer() < 9.0 * sight.unit()
}

fn around(middle: Point, half: Vec2) -> Rect {
    Rect::from_points(middle - half, middle + half)
}

/// Places of a frame at which it is looked what lies there.
fn grid(frame: Rect) -> impl Iterator<Item = Point> {
    let steps = (-2..=2).flat_map(|i| (-1..=1).map(move |j| (f64::from(i), f64::from(j))));
    steps.map(move |(i, j)| {
        frame.center() + Vec2::new(i * frame.width() / 4.0, j * frame.height() / 2.0)
    })
}

/// The place on the edge of a word, or within it, that is nearest to something else.
fn edge_towards(middle: Point, half: Vec2, other: Point) -> Point {
    Point::new(
        other.x.clamp(middle.x - half.x, middle.x + half.x),
        other.y.clamp(middle.y - half.y, middle.y + half.y),
    )
}
