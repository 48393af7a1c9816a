//! What is measured, small and schematic: the thing, and in blue from where to where.

use crate::Drawing;
use crate::ink::Ink;
use kurbo::{BezPath, Point, Rect, Vec2};
use std::f64::consts::TAU;

/// What is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gauged {
    /// How wide a strip is.
    StripWidth,
    /// How thick it is.
    StripThick,
    /// How long it is.
    StripLong,
    /// An arbor within a coil.
    CoilArbor,
    /// An open spring across.
    CoilOpen,
    /// A barrel across, inside.
    BarrelAcross,
    /// A barrel's height, inside.
    BarrelHigh,
    /// Turns.
    Turns,
    /// A weight.
    Weight,
    /// A drum across.
    Drum,
    /// A cord.
    Cord,
    /// A fall.
    Fall,
    /// A pendulum's length.
    Pendulum,
    /// A swing to one side.
    Swing,
    /// A bob.
    Bob,
    /// The thread of a nut.
    Thread,
    /// A suspension spring from chop to chop.
    SuspensionLong,
    /// How wide its strips are together.
    SuspensionWidth,
    /// How thick they are.
    SuspensionThick,
    /// A pivot.
    Pivot,
    /// A hole.
    Hole,
    /// From middle to middle.
    Centres,
    /// A wheel over its teeth.
    Outside,
    /// How much a mesh shakes.
    Lash,
}

/// Draws it.
pub fn gauged(what: Gauged) -> Drawing {
    let mut ink = Ink::default();
    match what {
        Gauged::StripWidth | Gauged::StripThick | Gauged::StripLong => strip(&mut ink, what),
        Gauged::CoilArbor | Gauged::CoilOpen | Gauged::BarrelAcross => coil(&mut ink, what),
        Gauged::BarrelHigh => {
            wall(&mut ink, Rect::new(10.0, 6.0, 13.0, 28.0));
            wall(&mut ink, Rect::new(47.0, 6.0, 50.0, 28.0));
            wall(&mut ink, Rect::new(10.0, 28.0, 50.0, 31.0));
            wall(&mut ink, Rect::new(10.0, 3.0, 50.0, 6.0));
            gauge(&mut ink, (30.0, 6.0), (30.0, 28.0));
        }
        Gauged::Turns => {
            ink.circle("steel", Point::new(30.0, 18.0), 4.0);
            ink.path("blue", &arc(Point::new(30.0, 18.0), 12.0, [-0.2, 0.65]));
            ink.line("blue", Point::new(23.0, 8.0), Point::new(20.0, 12.0));
        }
        Gauged::Weight | Gauged::Drum | Gauged::Cord | Gauged::Fall => drum(&mut ink, what),
        Gauged::Pendulum | Gauged::Swing | Gauged::Bob => pendulum(&mut ink, what),
        Gauged::Thread => {
            wall(&mut ink, Rect::new(24.0, 2.0, 36.0, 34.0));
            for n in 0..8_i32 {
                let y = 4.0 + 4.0 * f64::from(n);
                ink.line("line", Point::new(24.0, y), Point::new(36.0, y + 2.0));
            }
            gauge(&mut ink, (42.0, 16.0), (42.0, 20.0));
        }
        Gauged::SuspensionLong | Gauged::SuspensionWidth | Gauged::SuspensionThick => {
            suspension(&mut ink, what);
        }
        Gauged::Pivot => {
            wall(&mut ink, Rect::new(4.0, 8.0, 34.0, 28.0));
            wall(&mut ink, Rect::new(34.0, 13.0, 52.0, 23.0));
            gauge(&mut ink, (44.0, 13.0), (44.0, 23.0));
        }
        Gauged::Hole => {
            wall(&mut ink, Rect::new(8.0, 3.0, 52.0, 33.0));
            ink.circle("paper", Point::new(30.0, 18.0), 8.0);
            ink.circle("line", Point::new(30.0, 18.0), 8.0);
            gauge(&mut ink, (22.0, 18.0), (38.0, 18.0));
        }
        Gauged::Centres | Gauged::Lash => {
            let at = [Point::new(21.0, 18.0), Point::new(41.5, 18.0)];
            ink.path("brass", &toothed(at[0], 14.0, 24));
            ink.path("steel", &toothed(at[1], 7.5, 10));
            if what == Gauged::Centres {
                gauge(&mut ink, (21.0, 18.0), (41.5, 18.0));
            } else {
                ink.path("blue", &arc(at[1], 11.0, [-0.06, 0.06]));
            }
        }
        Gauged::Outside => {
            ink.path("brass", &toothed(Point::new(30.0, 18.0), 15.0, 26));
            gauge(&mut ink, (15.0, 18.0), (45.0, 18.0));
        }
    }
    Drawing {
        class: "gauged",
        frame: Rect::new(0.0, 0.0, 60.0, 36.0),
        letters: 6.0,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}

/// From where to where: a line with a stroke across at either end.
fn gauge(ink: &mut Ink, from: (f64, f64), to: (f64, f64)) {
    let (from, to) = (Point::from(from), Point::from(to));
    let along = (to - from).normalize();
    let across = Vec2::new(-along.y, along.x) * 2.6;
    ink.line("blue", from, to);
    for end in [from, to] {
        ink.line("blue", end - across, end + across);
    }
}

fn wall(ink: &mut Ink, rect: Rect) {
    let mut edge = BezPath::new();
    edge.move_to((rect.x0, rect.y0));
    for corner in [(rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)] {
        edge.line_to(corner);
    }
    edge.close_path();
    ink.path("steel", &edge);
}

/// From one part of a turn to another.
fn arc(middle: Point, radius: f64, turns: [f64; 2]) -> BezPath {
    let mut path = BezPath::new();
    for i in 0..=32_i32 {
        let turn = turns[0] + (turns[1] - turns[0]) * f64::from(i) / 32.0;
        let to = middle + Vec2::from_angle(turn * TAU) * radius;
        if i == 0 {
            path.move_to(to);
        } else {
            path.line_to(to);
        }
    }
    path
}

/// A wheel, its teeth no more than told.
fn toothed(middle: Point, radius: f64, teeth: i32) -> BezPath {
    let mut path = BezPath::new();
    for i in 0..4 * teeth {
        let turn = f64::from(i) / f64::from(4 * teeth);
        let out = if i % 4 < 2 { radius } else { radius - 2.0 };
        let to = middle + Vec2::from_angle(turn * TAU) * out;
        if i == 0 {
            path.move_to(to);
        } else {
            path.line_to(to);
        }
    }
    path.close_path();
    path
}

fn strip(ink: &mut Ink, what: Gauged) {
    // A strip as it lies, its face towards you and its edge beneath.
    wall(ink, Rect::new(4.0, 6.0, 50.0, 20.0));
    wall(ink, Rect::new(4.0, 24.0, 50.0, 26.5));
    match what {
        Gauged::StripWidth => gauge(ink, (54.0, 6.0), (54.0, 20.0)),
        Gauged::StripThick => gauge(ink, (54.0, 24.0), (54.0, 26.5)),
        _ => gauge(ink, (4.0, 31.0), (50.0, 31.0)),
    }
}

fn coil(ink: &mut Ink, what: Gauged) {
    let middle = Point::new(30.0, 18.0);
    if what == Gauged::CoilOpen {
        let mut path = BezPath::new();
        for i in 0..=96_i32 {
            let part = f64::from(i) / 96.0;
            let to = middle + Vec2::from_angle(3.0 * part * TAU) * (5.0 + 10.0 * part);
            if i == 0 {
                path.move_to(to);
            } else {
                path.line_to(to);
            }
        }
        ink.path("line", &path);
        ink.circle("steel", middle, 5.0);
        return gauge(ink, (15.0, 18.0), (45.0, 18.0));
    }
    ink.circle("brass", middle, 17.0);
    ink.circle("paper", middle, 15.0);
    ink.circle("steel", middle, 5.0);
    match what {
        Gauged::CoilArbor => gauge(ink, (25.0, 18.0), (35.0, 18.0)),
        _ => gauge(ink, (15.0, 18.0), (45.0, 18.0)),
    }
}

fn drum(ink: &mut Ink, what: Gauged) {
    let middle = Point::new(22.0, 9.0);
    ink.circle("brass", middle, 8.0);
    ink.line("line", Point::new(30.0, 9.0), Point::new(30.0, 25.0));
    wall(ink, Rect::new(26.5, 25.0, 33.5, 34.0));
    match what {
        Gauged::Drum => gauge(ink, (14.0, 9.0), (30.0, 9.0)),
        Gauged::Cord => gauge(ink, (28.8, 17.0), (31.2, 17.0)),
        Gauged::Fall => gauge(ink, (42.0, 12.0), (42.0, 34.0)),
        _ => ink.path("blue", &arc(Point::new(30.0, 29.5), 6.0, [0.0, 1.0])),
    }
}

fn pendulum(ink: &mut Ink, what: Gauged) {
    wall(ink, Rect::new(22.0, 1.0, 38.0, 4.0));
    let (top, low) = (Point::new(30.0, 4.0), Point::new(30.0, 28.0));
    ink.line("line", top, low);
    ink.circle("brass", low, 5.0);
    match what {
        Gauged::Pendulum => gauge(ink, (42.0, 4.0), (42.0, 28.0)),
        Gauged::Swing => {
            let out = top + Vec2::from_angle(TAU / 4.0 - 0.35) * 24.0;
            ink.line("dash", top, out);
            ink.path("blue", &arc(top, 16.0, [0.25 - 0.35 / TAU, 0.25]));
        }
        _ => ink.path("blue", &arc(low, 6.5, [0.0, 1.0])),
    }
}

fn suspension(ink: &mut Ink, what: Gauged) {
    // From the front, its two strips between the chops, and from the edge; a strip goes on within the chops.
    for (left, right) in [(8.0, 32.0), (42.0, 50.0)] {
        wall(ink, Rect::new(left, 1.0, right, 9.0));
        wall(ink, Rect::new(left, 27.0, right, 35.0));
    }
    for (left, right) in [(11.0, 17.0), (23.0, 29.0), (45.2, 46.8)] {
        wall(ink, Rect::new(left, 9.0, right, 27.0));
    }
    match what {
        Gauged::SuspensionLong => gauge(ink, (36.5, 9.0), (36.5, 27.0)),
        Gauged::SuspensionWidth => {
            gauge(ink, (11.0, 18.0), (17.0, 18.0));
            gauge(ink, (23.0, 18.0), (29.0, 18.0));
        }
        _ => gauge(ink, (45.2, 18.0), (46.8, 18.0)),
    }
}
