//! A spring in its barrel, wound up and let down, to scale, and its torque turn by turn beneath.

use crate::Drawing;
use crate::ink::{Ink, Tag, number};
use kurbo::{BezPath, Point, Rect, Vec2};
use quantity::{Known, Length, Torque};
use std::f64::consts::TAU;

/// What is drawn.
#[derive(Debug, Clone)]
pub struct Coiled {
    /// Across the barrel, inside, or the outermost coil of an open spring.
    pub outside: Length,
    /// Across the arbor.
    pub arbor: Length,
    /// The strip's thickness.
    pub thick: Length,
    /// Coils wound up and let down.
    pub coils: [f64; 2],
    /// Whether it lies at a wall when it is let down.
    pub barrel: bool,
    /// Torque at so many turns from let down.
    pub curve: Vec<(f64, Known<Torque>)>,
    /// Words: wound up, let down, turns, torque.
    pub words: [String; 4],
}

/// Draws a spring twice and the curve of its torque, which is banded by one standard deviation on either side.
pub fn coiled(what: &Coiled) -> Drawing {
    let outside = what.outside.as_mm().clamp(1.0, 1e4);
    let unit = outside / 30.0;
    let mut ink = Ink::default();
    let up = Point::new(outside / 2.0, outside / 2.0);
    let down = Point::new(outside * 1.75, outside / 2.0);
    for (middle, wound) in [(up, true), (down, false)] {
        if what.barrel {
            ink.circle("brass", middle, outside / 2.0 + 0.8 * unit);
            ink.circle("paper", middle, outside / 2.0);
        }
        ink.circle("steel", middle, what.arbor.as_mm() / 2.0);
        ink.path("coil", &spiral(what, middle, wound));
    }
    let under = outside + 3.0 * unit;
    for (middle, words) in [(up, &what.words[0]), (down, &what.words[1])] {
        let at = Point::new(middle.x, under);
        ink.text(&Tag::new("text", "hold").point(["x", "y"], at), words);
    }
    let frame = Rect::new(
        3.0 * unit,
        outside + 8.0 * unit,
        outside * 2.25,
        outside * 1.9,
    );
    curve(&mut ink, what, frame, unit);
    Drawing {
        class: "coiled",
        frame: Rect::new(
            -2.0 * unit,
            -2.0 * unit,
            outside * 2.25 + 3.0 * unit,
            frame.y1 + 5.0 * unit,
        ),
        letters: 1.7 * unit,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}

/// From the arbor out when it is wound, from the wall in when it is let down.
fn spiral(what: &Coiled, middle: Point, wound: bool) -> BezPath {
    const PER_TURN: u16 = 48;
    let coils = what.coils[usize::from(!wound)].clamp(0.0, 200.0);
    let (arbor, wall) = (what.arbor.as_mm() / 2.0, what.outside.as_mm() / 2.0);
    let thick = what.thick.as_mm();
    let pitch = if wound || what.barrel {
        thick
    } else {
        (wall - arbor) / coils.max(1.0)
    };
    let first = if wound {
        arbor + thick / 2.0
    } else {
        wall - thick / 2.0
    };
    let outward = if wound { 1.0 } else { -1.0 };
    let mut path = BezPath::new();
    let at = |turns: f64, radius: f64| middle + Vec2::from_angle(turns * TAU) * radius;
    for i in 0_u16.. {
        let turns = (f64::from(i) / f64::from(PER_TURN)).min(coils);
        let to = at(turns, first + outward * pitch * turns);
        if i == 0 {
            path.move_to(to);
        } else {
            path.line_to(to);
        }
        if turns >= coils {
            break;
        }
    }
    // From the end of the coils to where the other end hooks on.
    let last = if wound { wall } else { arbor };
    path.line_to(at(coils + 0.1, last));
    path
}

fn curve(ink: &mut Ink, what: &Coiled, frame: Rect, unit: f64) {
    let turns = what.curve.last().map_or(1.0, |(turns, _)| *turns).max(1e-6);
    let most = what
        .curve
        .iter()
        .map(|(_, t)| t.value.as_n_mm() + t.spread.as_n_mm())
        .fold(1e-9, f64::max);
    let at = |n: f64, torque: f64| {
        Point::new(
            frame.x0 + frame.width() * n / turns,
            frame.y1 - frame.height() * (torque / most).max(0.0),
        )
    };
    let mut band = BezPath::new();
    let mut line = BezPath::new();
    let edge = |sign: f64| {
        what.curve
            .iter()
            .map(move |(n, t)| (*n, t.value.as_n_mm() + sign * t.spread.as_n_mm()))
    };
    for (i, (n, torque)) in edge(1.0)
        .chain(edge(-1.0).collect::<Vec<_>>().into_iter().rev())
        .enumerate()
    {
        let to = at(n, torque);
        if i == 0 {
            band.move_to(to);
        } else {
            band.line_to(to);
        }
    }
    band.close_path();
    for (i, (n, torque)) in what.curve.iter().enumerate() {
        let to = at(*n, torque.value.as_n_mm());
        if i == 0 {
            line.move_to(to);
        } else {
            line.line_to(to);
        }
    }
    ink.path("band", &band);
    ink.path("line", &line);
    ink.line("fine", frame.origin(), Point::new(frame.x0, frame.y1));
    ink.line(
        "fine",
        Point::new(frame.x0, frame.y1),
        Point::new(frame.x1, frame.y1),
    );
    let every = (1..)
        .find(|n| f64::from(*n) * 10.0 > turns)
        .unwrap_or(1_u32);
    for n in (0_u32..).take_while(|n| f64::from(*n) <= turns) {
        let foot = at(f64::from(n), 0.0);
        ink.line("fine", foot, foot + Vec2::new(0.0, 0.5 * unit));
        if n.is_multiple_of(every) {
            ink.text(
                &Tag::new("text", "hold").point(["x", "y"], foot + Vec2::new(0.0, 1.6 * unit)),
                &number(f64::from(n)),
            );
        }
    }
    let below = Point::new(frame.center().x, frame.y1 + 3.6 * unit);
    ink.text(
        &Tag::new("text", "hold").point(["x", "y"], below),
        &what.words[2],
    );
    let above = Point::new(frame.x0, frame.y0 - 1.4 * unit);
    ink.text(
        &Tag::new("text", "legend").point(["x", "y"], above),
        &what.words[3],
    );
}
