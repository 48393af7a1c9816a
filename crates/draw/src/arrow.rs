//! The arrow: curved round the rim of the arbor to lift, over exactly the teeth it goes, each counted.

use crate::anchor::{Anchor, Anchored, CloseUp};
use crate::body::wrapped;
use crate::ink::{Ink, Tag};
use crate::marks::{Lift, LiftWay, Marks, PartTurned};
use crate::tooth::polar;
use crate::view::{LETTERS, Sight};
use kurbo::{BezPath, Point, Vec2};
use std::f64::consts::{PI, TAU};

/// From the teeth to the arrow, in units of the drawing's measure.
const OFF: f64 = 1.9;
/// From the arrow to the numbers.
const NUMBER: f64 = 2.9;
/// Length of the arrow's head, and half its width.
const HEAD: (f64, f64) = (3.0, 1.55);
/// So many teeth are numbered each; of more, the first, every fifth and the last.
const MOST_NUMBERED: u16 = 6;
/// Two numbers on one circle stand at least so far apart, or the next goes further out.
const APART: f64 = 3.0;
/// Where an arrow goes round more than once it winds outward by this much a turn.
const WINDING: f64 = 4.5;

/// The teeth of a count that carry a number.
pub(crate) fn numbered(teeth: u16) -> Vec<u16> {
    if teeth <= MOST_NUMBERED {
        return (1..=teeth).collect();
    }
    (1..=teeth)
        .filter(|&i| i == 1 || i == teeth || (i % 5 == 0 && teeth - i > 1))
        .collect()
}

/// Where a turned part's arrow may begin: so many places round it.
const STARTS: u8 = 48;

/// The arrows of all lifts and turned parts.
#[derive(Debug, Default)]
pub(crate) struct Arrows {
    /// What is drawn of each.
    pub(crate) drawn: Vec<String>,
    /// Where each is.
    pub(crate) anchors: Vec<Anchor>,
    /// The points they take up.
    pub(crate) taken: Vec<Point>,
}

/// The arrows of all lifts, then of all turned parts.
pub(crate) fn arrows(sight: &Sight<'_>, marks: &Marks<'_>) -> Arrows {
    let mut arrows = Arrows::default();
    for lift in marks.lifts {
        if let Some(arrow) = Arrow::of(sight, lift, &arrows.taken) {
            let mut ink = Ink::default();
            if let Some(tag) = arrow.lift_tag(sight, lift) {
                arrow.draw(&mut ink, &tag, lift.way, None);
            }
            arrows.add(&arrow, ink.out, Anchored::Arrow(lift.mesh));
        }
    }
    for turn in marks.turns {
        let arrow = Arrow::of_turn(sight, turn, &arrows.taken);
        let mut ink = Ink::default();
        let tag = arrow.turn_tag(sight, turn);
        arrow.draw(&mut ink, &tag, turn.way, Some(&turn.says));
        arrows.add(&arrow, ink.out, Anchored::Turn(turn.at));
    }
    arrows
}

impl Arrows {
    fn add(&mut self, arrow: &Arrow, drawn: String, of: Anchored) {
        self.drawn.push(drawn);
        self.anchors.push(Anchor {
            of,
            at: arrow.close_up(),
        });
        self.taken.extend(arrow.points());
    }
}

struct Arrow {
    centre: Point,
    /// Where the arrow runs at its start.
    radius: f64,
    /// Where the teeth of the lifted part end.
    rim: f64,
    /// Middle of the space before the first tooth, radians clockwise.
    start: f64,
    /// One tooth, and the way: more than 0 is clockwise.
    step: f64,
    teeth: u16,
    unit: f64,
}

impl Arrow {
    fn of(sight: &Sight<'_>, lift: &Lift, taken: &[Point]) -> Option<Arrow> {
        let movement = sight.movement;
        let side = movement.far_side(lift.mesh)?;
        let part_id = movement.mesh(lift.mesh).part(side);
        let part = sight.layout.pitches.part(part_id);
        let ahead = sight.ahead(part_id.arbor);
        let way = match lift.way {
            LiftWay::Ahead | LiftWay::Either => ahead,
            LiftWay::Back => -ahead,
        };
        let pitch = TAU / f64::from(part.teeth);
        let unit = sight.unit();
        let phase = sight.layout.phases[sight.layout.pitches.index(part_id)];
        let mut arrow = Arrow {
            centre: sight.centre(part_id.arbor),
            radius: sight.layout.toothed(part_id.arbor) + OFF * unit,
            rim: part.outer(),
            start: 0.0,
            step: way * pitch,
            teeth: lift.teeth.max(1),
            unit,
        };
        // Every space is tried for the start; the one in the clearest place is taken.
        let first_space = sight.angle(phase) + pitch / 2.0;
        let mut best = (f64::INFINITY, first_space);
        for space in 0..part.teeth {
            arrow.start = wrapped(first_space + pitch * f64::from(space));
            let cost = arrow.cost(sight, taken);
            if cost < best.0 {
                best = (cost, arrow.start);
            }
        }
        arrow.start = best.1;
        Some(arrow)
    }

    /// Of a part that is turned on its arbor: beyond all that is on that, so far round as it goes.
    fn of_turn(sight: &Sight<'_>, turn: &PartTurned, taken: &[Point]) -> Arrow {
        let ahead = sight.ahead(turn.at);
        let way = match turn.way {
            LiftWay::Ahead | LiftWay::Either => ahead,
            LiftWay::Back => -ahead,
        };
        let (unit, outer) = (sight.unit(), sight.layout.outer(turn.at));
        let mut arrow = Arrow {
            centre: sight.centre(turn.at),
            radius: outer + OFF * unit,
            rim: outer,
            start: 0.0,
            step: way * turn.by.to_f64().to_radians(),
            teeth: 1,
            unit,
        };
        let starts = (0..STARTS).map(|n| wrapped(TAU * f64::from(n) / f64::from(STARTS)));
        let costs = starts.map(|start| {
            arrow.start = start;
            (arrow.cost(sight, taken), start)
        });
        let best = costs.min_by(|a, b| a.0.total_cmp(&b.0));
        arrow.start = best.map_or(0.0, |(_, start)| start);
        arrow
    }

    fn sweep(&self) -> f64 {
        self.step * f64::from(self.teeth)
    }

    fn at(&self, angle: f64, out: f64) -> Point {
        let wound = (angle - self.start).abs() / TAU;
        let winding = if self.sweep().abs() > 0.95 * TAU {
            WINDING * self.unit * wound
        } else {
            0.0
        };
        self.centre + polar(self.radius + winding + out, angle).to_vec2()
    }

    /// Where each numbered tooth has its number.
    fn numbers(&self) -> Vec<(u16, Point)> {
        let mut placed: Vec<(u16, Point)> = Vec::new();
        for i in numbered(self.teeth) {
            let angle = self.start + self.step * (f64::from(i) - 0.5);
            let clear = |p: Point| {
                placed
                    .iter()
                    .all(|(_, q)| q.distance(p) >= APART * self.unit)
            };
            let rows = [0.0, 1.0, 2.0].map(|row| self.at(angle, (NUMBER + 2.9 * row) * self.unit));
            let p = rows.into_iter().find(|&p| clear(p)).unwrap_or(rows[2]);
            placed.push((i, p));
        }
        placed
    }

    fn points(&self) -> Vec<Point> {
        let mut points: Vec<Point> = (0..=12)
            .map(|i| self.at(self.start + self.sweep() * f64::from(i) / 12.0, 0.0))
            .collect();
        points.extend(self.numbers().into_iter().map(|n| n.1));
        points
    }

    /// Enough of the rim to see its teeth and which way the arrow goes.
    fn close_up(&self) -> CloseUp {
        let letters = LETTERS * self.unit;
        let (from, to) = (
            self.at(self.start, 0.0),
            self.at(self.start + self.sweep(), 0.0),
        );
        let (middle, radius) = if self.sweep().abs() > PI / 3.0 {
            (self.centre, from.distance(self.centre) + 2.0 * letters)
        } else {
            // A little outward of the arrow, where its numbers stand.
            let middle = from.midpoint(to);
            let out = middle - self.centre;
            let out = out * (0.6 * letters / out.hypot().max(letters));
            (middle + out, 0.5 * from.distance(to) + 1.8 * letters)
        };
        CloseUp {
            x: middle.x,
            y: middle.y,
            radius,
        }
    }

    /// How much an arrow here would run over: other wheels' teeth most, then their middles, then the rest of them.
    fn cost(&self, sight: &Sight<'_>, taken: &[Point]) -> f64 {
        let layout = sight.layout;
        let frame = sight.bounds().inflate(4.0 * self.unit, 4.0 * self.unit);
        let levers: Vec<Point> = layout.stations.points().map(|p| sight.point(p)).collect();
        let points = self.points();
        let mut cost = 0.0;
        for p in &points {
            for (arbor, _) in sight.movement.arbors() {
                let outer = layout.toothed(arbor);
                let distance = p.distance(sight.centre(arbor));
                cost += (outer + self.unit - distance).clamp(0.0, 6.0);
                cost += 4.0 * (4.0 * self.unit - distance).max(0.0);
            }
            for q in levers.iter().chain(taken) {
                cost += 3.0 * (4.0 * self.unit - p.distance(*q)).max(0.0);
            }
            if !frame.contains(*p) {
                cost += 8.0;
            }
        }
        cost / self.unit + 0.3 * wrapped(self.start + self.sweep() / 2.0).abs()
    }

    fn lift_tag(&self, sight: &Sight<'_>, lift: &Lift) -> Option<Tag> {
        let movement = sight.movement;
        let arbor = &movement.arbor(movement.far_arbor(lift.mesh)?).id;
        let tag = Tag::new("g", "arrow")
            .with("id", &format!("arrow-{arbor}"))
            .with("data-arbor", arbor)
            .with("data-mesh", &movement.mesh_name(lift.mesh))
            .with("data-way", self.way(lift.way))
            .with("data-teeth", &self.teeth.to_string());
        Some(self.placed(tag))
    }

    fn turn_tag(&self, sight: &Sight<'_>, turn: &PartTurned) -> Tag {
        let arbor = &sight.movement.arbor(turn.at).id;
        let tag = Tag::new("g", "arrow turn")
            .with("id", &format!("turn-{arbor}"))
            .with("data-arbor", arbor)
            .with("data-way", self.way(turn.way));
        self.placed(tag)
    }

    /// The way it goes on the paper.
    fn way(&self, way: LiftWay) -> &'static str {
        match (way, self.step > 0.0) {
            (LiftWay::Either, _) => "either",
            (_, true) => "clockwise",
            (_, false) => "counterclockwise",
        }
    }

    /// Where it goes.
    fn placed(&self, tag: Tag) -> Tag {
        let end = self.start + self.sweep();
        let (from, to) = (self.at(self.start, 0.0), self.at(end, 0.0));
        tag.point(["data-cx", "data-cy"], self.centre)
            .point(["data-x0", "data-y0"], from)
            .point(["data-x1", "data-y1"], to)
            .with(
                "data-degrees",
                &crate::ink::degrees(self.sweep().to_degrees()),
            )
    }

    /// The arrow, with the teeth that it goes counted, or with a word in their place.
    fn draw(&self, ink: &mut Ink, tag: &Tag, way: LiftWay, says: Option<&str>) {
        let end = self.start + self.sweep();
        ink.open(tag);
        for angle in [self.start, end] {
            let rim = self.centre + polar(self.rim, angle).to_vec2();
            ink.line("blue-thin", rim, self.at(angle, 0.7 * self.unit));
        }
        // The head's length along the arc, but never more than most of a short arrow.
        let arc = self.sweep().abs() * self.radius;
        let heads = if way == LiftWay::Either { 2.0 } else { 1.0 };
        let head = (HEAD.0 * self.unit).min(0.55 * arc / heads);
        let back = self.step.signum() * head / self.radius;
        let tail = if way == LiftWay::Either {
            self.start + back
        } else {
            self.start
        };
        ink.path("blue", &self.arc(tail, end - back * 0.8));
        ink.path("blue-fill", &self.head(end - back, end));
        if way == LiftWay::Either {
            ink.path("blue-fill", &self.head(tail, self.start));
        }
        if self.teeth > 1 && self.teeth <= 60 {
            for i in 1..self.teeth {
                let angle = self.start + self.step * f64::from(i);
                ink.line(
                    "blue-thin",
                    self.at(angle, 0.55 * self.unit),
                    self.at(angle, -0.55 * self.unit),
                );
            }
        }
        for (i, at) in self.numbers() {
            let tag = Tag::new("text", "count").point(["x", "y"], at);
            match says {
                None => ink.text(&tag.with("data-tooth", &i.to_string()), &i.to_string()),
                Some(word) => ink.text(&tag, word),
            }
        }
        ink.close("g");
    }

    fn arc(&self, from: f64, to: f64) -> BezPath {
        let mut path = BezPath::new();
        let steps = ((to - from).abs() / 0.2).ceil().clamp(1.0, 400.0);
        let mut i = 0.0;
        path.move_to(self.at(from, 0.0));
        while i < steps {
            let (a, b) = (
                from + (to - from) * i / steps,
                from + (to - from) * (i + 1.0) / steps,
            );
            let middle = self.at((a + b) / 2.0, 0.0).to_vec2();
            let ends = (self.at(a, 0.0).to_vec2() + self.at(b, 0.0).to_vec2()) / 2.0;
            path.quad_to((middle * 2.0 - ends).to_point(), self.at(b, 0.0));
            i += 1.0;
        }
        path
    }

    fn head(&self, base: f64, point: f64) -> BezPath {
        let half = HEAD.1 * self.unit;
        let mut path = BezPath::new();
        path.move_to(self.at(base, half));
        path.line_to(self.at(point, 0.0));
        path.line_to(self.at(base, -half));
        path.close_path();
        path
    }
}

/// The two jaws that mark an arbor as held, about the origin.
pub(crate) fn jaws(radius: f64) -> BezPath {
    let mut path = BezPath::new();
    for side in [0.0, PI] {
        let arc = kurbo::Arc::new(Point::ZERO, (radius, radius), side - 1.0, 2.0, 0.0);
        path.move_to(polar(radius, side - 1.0));
        path.extend(arc.append_iter(0.01));
        path.move_to((polar(radius, side).to_vec2()).to_point());
        path.line_to((polar(radius, side).to_vec2() * 1.7).to_point());
    }
    path
}

/// The direction from one point to another, or to the right where they are one.
pub(crate) fn toward(from: Point, to: Point) -> Vec2 {
    let off = to - from;
    if off.hypot() < 1e-9 {
        Vec2::new(1.0, 0.0)
    } else {
        off / off.hypot()
    }
}
