//! Names of arbors, each in the clearest place near it.

use crate::arrow::{jaws, toward};
use crate::ink::{Ink, Tag};
use crate::marks::{Hold, Marks, Note};
use crate::view::{EDGE, LETTERS, Sight};
use kurbo::{Line, ParamCurveNearest, Point, Rect, Vec2};
use movement::ArborId;
use std::f64::consts::TAU;

/// Height of the letters and mean width of one, in units of the drawing's measure.
const HEIGHT: f64 = LETTERS;
const WIDTH: f64 = 1.75;

/// Half across the collar of the levers' pivot, in the same units: as it is drawn.
pub(crate) const COLLAR: f64 = 1.7;

/// What it costs that a lever crosses a label: more than to stand over teeth, less than over another label.
const CROSSED: f64 = 24.0;

/// Whether a line comes into a frame: cut to what of it lies within, side by side (Liang and Barsky, ACM Transactions on Graphics 3,
/// 1984; from memory).
fn crosses(line: &Line, frame: Rect) -> bool {
    let way = line.p1 - line.p0;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let sides = [
        (-way.x, line.p0.x - frame.x0),
        (way.x, frame.x1 - line.p0.x),
        (-way.y, line.p0.y - frame.y0),
        (way.y, frame.y1 - line.p0.y),
    ];
    for (along, left) in sides {
        if along.abs() <= 0.0 {
            if left < 0.0 {
                return false;
            }
        } else if along < 0.0 {
            from = from.max(left / along);
        } else {
            to = to.min(left / along);
        }
    }
    from <= to
}

struct Clutter {
    /// Toothed rims: centre, inner and outer radius.
    rims: Vec<(Point, f64, f64)>,
    discs: Vec<(Point, f64)>,
    lines: Vec<Line>,
    points: Vec<Point>,
    labels: Vec<Rect>,
    frame: Rect,
}

/// Writes the name of every arbor, and marks the one that is held.
pub(crate) fn labels(
    ink: &mut Ink,
    sight: &Sight<'_>,
    marks: &Marks<'_>,
    notes: &[Note],
    arrows: &[Point],
) {
    let unit = sight.unit();
    let mut clutter = Clutter::of(sight, arrows);
    for held in marks.holds {
        hold(ink, sight, &mut clutter, held);
    }
    let lifted: Vec<ArborId> = marks
        .lifts
        .iter()
        .filter_map(|l| sight.movement.far_arbor(l.mesh))
        .collect();
    // The crowded small ones first.
    let mut arbors: Vec<ArborId> = sight.movement.arbors().map(|(id, _)| id).collect();
    arbors.sort_by(|&a, &b| sight.layout.outer(a).total_cmp(&sight.layout.outer(b)));
    for arbor in arbors {
        // As it is said: ids have no spaces.
        let id = &sight.movement.arbor(arbor).id;
        let name = &match nth(&lifted, arbor) {
            Some(n) => format!("{n}. {}", id.replace('_', " ")),
            None => id.replace('_', " "),
        };
        let note = notes.iter().find(|note| note.at == arbor);
        let lines = note.map_or(&[][..], |note| &note.lines);
        let letters = lines
            .iter()
            .chain([name])
            .map(|line| line.chars().count())
            .max();
        let letters = f64::from(u16::try_from(letters.unwrap_or(0)).unwrap_or(40));
        let rows = f64::from(u16::try_from(lines.len() + 1).unwrap_or(1));
        let half = Vec2::new(letters * WIDTH + 1.0, rows * HEIGHT) * (unit / 2.0);
        let middle = clutter.place(sight, arbor, half);
        let blue = lifted.contains(&arbor) || note.is_some_and(|note| note.blue);
        let lift = if blue { " lift" } else { "" };
        ink.open(
            &Tag::new("g", &format!("named{lift}"))
                .with("id", &format!("name-{id}"))
                .with("data-arbor", id),
        );
        let centre = sight.centre(arbor);
        let outer = sight.layout.toothed(arbor);
        let nearest = Point::new(
            centre.x.clamp(middle.x - half.x, middle.x + half.x),
            centre.y.clamp(middle.y - half.y, middle.y + half.y),
        );
        if nearest.distance(centre) > outer + 0.8 * unit {
            let to = if outer > 7.0 * unit {
                centre + toward(centre, nearest) * (outer + 0.2 * unit)
            } else {
                centre + toward(centre, nearest) * (1.6 * unit)
            };
            ink.line("leader", nearest, to);
        }
        let class = if lift.is_empty() {
            "name"
        } else {
            "name blue-fill"
        };
        for (row, line) in [name].into_iter().chain(lines).enumerate() {
            let down = f64::from(u16::try_from(row).unwrap_or(0)) - (rows - 1.0) / 2.0;
            let at = middle + Vec2::new(0.0, down * HEIGHT * unit);
            let class = if row == 0 { class } else { "count note" };
            ink.text(&Tag::new("text", class).point(["x", "y"], at), line);
        }
        ink.close("g");
        clutter
            .labels
            .push(Rect::from_points(middle - half, middle + half));
    }
}

/// The number of an arbor among several that are lifted.
fn nth(lifted: &[ArborId], arbor: ArborId) -> Option<usize> {
    let at = lifted.iter().position(|a| *a == arbor)?;
    (lifted.len() > 1).then_some(at + 1)
}

fn hold(ink: &mut Ink, sight: &Sight<'_>, clutter: &mut Clutter, hold: &Hold) {
    let unit = sight.unit();
    let (held, word) = (hold.at, &hold.says);
    let at = sight.centre(held);
    let id = &sight.movement.arbor(held).id;
    let tag = Tag::new("g", "hold")
        .with("id", &format!("hold-{id}"))
        .with("data-arbor", id);
    ink.open(&tag);
    let reach = 3.1 * unit;
    ink.open(&Tag::new("g", "jaws").shift(at));
    ink.path("jaw-halo", &jaws(reach));
    ink.path("jaw", &jaws(reach));
    ink.close("g");
    if !word.is_empty() {
        let letters = f64::from(u16::try_from(word.chars().count()).unwrap_or(40));
        let half = Vec2::new(letters * WIDTH + 1.0, HEIGHT) * (unit / 2.0);
        let middle = clutter.place(sight, held, half);
        let nearest = Point::new(
            at.x.clamp(middle.x - half.x, middle.x + half.x),
            at.y.clamp(middle.y - half.y, middle.y + half.y),
        );
        ink.line("line", nearest, at + toward(at, nearest) * (1.7 * reach));
        ink.text(&Tag::new("text", "hold").point(["x", "y"], middle), word);
        clutter
            .labels
            .push(Rect::from_points(middle - half, middle + half));
    }
    ink.close("g");
}

impl Clutter {
    fn of(sight: &Sight<'_>, arrows: &[Point]) -> Clutter {
        let layout = sight.layout;
        let mut clutter = Clutter {
            rims: Vec::new(),
            discs: Vec::new(),
            lines: Vec::new(),
            points: arrows.to_vec(),
            labels: Vec::new(),
            frame: sight
                .bounds()
                .inflate(EDGE * sight.unit(), EDGE * sight.unit()),
        };
        for part in &layout.pitches.parts {
            let centre = sight.centre(part.id.arbor);
            let [root, tip] = [part.tooth.root, part.tooth.tip].map(|r| r * part.module);
            let rim = layout.fittings.rim(part.id.arbor).unwrap_or(f64::INFINITY);
            let inner = (root.min(tip) * 0.9).min(rim);
            clutter.rims.push((centre, inner, part.outer()));
            if part.outer() < 12.0 {
                clutter.discs.push((centre, part.outer()));
            }
        }
        for fitting in &layout.fittings.all {
            let centre = sight.centre(fitting.on);
            let inner = fitting.radius - 2.2 * fitting.size;
            clutter
                .rims
                .push((centre, inner, fitting.radius + fitting.size));
        }
        for &(on, length) in &layout.fittings.flies {
            clutter.discs.push((sight.centre(on), length));
        }
        if let Some(cam) = layout.fittings.cam {
            clutter.discs.push((sight.centre(cam.on), cam.radius));
        }
        let stations = &layout.stations;
        for station in stations.witnesses.iter().chain(&stations.cam) {
            let [tip, elbow] = [station.tip, station.elbow].map(|p| sight.point(p));
            clutter.lines.push(Line::new(tip, elbow));
            if let Some(pivot) = stations.pivot {
                clutter.lines.push(Line::new(elbow, sight.point(pivot)));
            }
        }
        // The pivot's collar is kept as clear as a word.
        let collar = Vec2::new(COLLAR, COLLAR) * sight.unit();
        let pivot = stations.pivot.map(|pivot| sight.point(pivot));
        let collar = pivot.map(|pivot| Rect::from_points(pivot - collar, pivot + collar));
        clutter.labels.extend(collar);
        clutter
    }

    /// What a label within a circle could meet at all.
    fn near(&self, centre: Point, reach: f64) -> Clutter {
        let meets = |c: Point, radius: f64| c.distance(centre) < reach + radius + 1.0;
        Clutter {
            rims: self
                .rims
                .iter()
                .copied()
                .filter(|r| meets(r.0, r.2))
                .collect(),
            discs: self
                .discs
                .iter()
                .copied()
                .filter(|d| meets(d.0, d.1))
                .collect(),
            lines: self.lines.clone(),
            points: self
                .points
                .iter()
                .copied()
                .filter(|p| meets(*p, 0.0))
                .collect(),
            labels: self.labels.clone(),
            frame: self.frame,
        }
    }

    /// How much a label would run over; nothing where that comes to `enough`, as it mostly does early: each place is looked at only
    /// until it is known to be no better than the best so far.
    fn cost(&self, own: Point, frame: Rect, unit: f64, enough: f64) -> Option<f64> {
        let mut cost = 0.0;
        for label in &self.labels {
            let both = label.inflate(0.8 * unit, 0.6 * unit).intersect(frame);
            if both.width() > 0.0 && both.height() > 0.0 {
                cost += 60.0;
            }
        }
        // A wide label may be crossed by a lever between the places that are looked at below.
        let about = frame.inflate(0.7 * unit, 0.7 * unit);
        let crossed = self.lines.iter().filter(|line| crosses(line, about));
        cost += crossed.map(|_| CROSSED).sum::<f64>();
        let grid = (-2..=2).flat_map(|i| (-1..=1).map(move |j| (f64::from(i), f64::from(j))));
        for (i, j) in grid {
            if cost >= enough {
                return None;
            }
            let p = frame.center() + Vec2::new(i * frame.width() / 4.0, j * frame.height() / 2.0);
            for &(centre, inner, outer) in &self.rims {
                let d = p.distance(centre);
                if d < outer + 0.6 && d > inner {
                    cost += 3.0;
                }
            }
            for &(centre, radius) in &self.discs {
                if p.distance(centre) < radius + 0.6 {
                    cost += if centre.distance(own) < 1e-6 {
                        2.0
                    } else {
                        4.0
                    };
                }
            }
            for line in &self.lines {
                if line.nearest(p, 1e-3).distance_sq.sqrt() < 1.4 * unit {
                    cost += 4.0;
                }
            }
            for q in &self.points {
                if p.distance(*q) < 2.6 * unit {
                    cost += 6.0;
                }
            }
        }
        let inside = frame.intersect(self.frame);
        Some(cost + 200.0 * (1.0 - inside.area().max(0.0) / frame.area().max(1e-9)))
    }

    fn place(&self, sight: &Sight<'_>, arbor: ArborId, half: Vec2) -> Point {
        const AROUND: u32 = 36;
        let unit = sight.unit();
        let centre = sight.centre(arbor);
        let outer = sight.layout.outer(arbor);
        let near = self.near(centre, outer + 16.0 * unit + half.hypot());
        let mut best = (f64::INFINITY, centre);
        for ring in 0..7 {
            let radius = match ring {
                0 => 0.42 * outer,
                1 => 0.55 * outer,
                n => outer + (0.8 + 2.6 * (f64::from(n) - 2.0)) * unit,
            };
            for i in 0..AROUND {
                let out = Vec2::from_angle(TAU * f64::from(i) / f64::from(AROUND));
                // Outside, the label's near side is what stands at the radius.
                let reach = if ring < 2 {
                    0.0
                } else {
                    (half.x / out.x.abs().max(1e-6)).min(half.y / out.y.abs().max(1e-6))
                };
                let middle = centre + out * (radius + reach);
                let frame = Rect::from_points(middle - half, middle + half);
                let nearest = sight
                    .movement
                    .arbors()
                    .filter(|(id, _)| *id != arbor)
                    .map(|(id, _)| middle.distance(sight.centre(id)) - sight.layout.outer(id))
                    .fold(f64::INFINITY, f64::min);
                let own = middle.distance(centre) - outer;
                let taken_for_another = (own - nearest + 1.0).max(0.0);
                let Some(over) = near.cost(centre, frame, unit, best.0) else {
                    continue;
                };
                let cost = over
                    + 0.12 * radius / unit
                    + 0.5 * taken_for_another / unit
                    + if ring >= 2 {
                        1.5 * f64::from(ring - 1)
                    } else {
                        0.0
                    };
                if cost < best.0 {
                    best = (cost, middle);
                }
            }
        }
        best.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_crosses_what_it_runs_through_ends_in_or_lies_in() {
        let frame = Rect::new(0.0, 0.0, 10.0, 4.0);
        let line = |a: (f64, f64), b: (f64, f64)| crosses(&Line::new(a, b), frame);
        assert!(line((5.0, -3.0), (5.2, 9.0)));
        assert!(line((-2.0, 2.0), (1.0, 2.0)));
        assert!(line((2.0, 1.0), (3.0, 2.0)));
        assert!(!line((-2.0, 2.0), (-0.5, 2.0)));
        assert!(!line((11.0, -1.0), (12.0, 9.0)));
        // Past a corner.
        assert!(!line((-3.0, 2.0), (3.0, -3.0)));
        assert!(line((-1.0, 2.0), (3.0, -1.0)));
    }
}
